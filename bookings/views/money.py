"""The studio's money: what is owed, invoices and receipts, a client's account, the journal, the terms."""

from datetime import date

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpResponse, StreamingHttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from bookings import actions
from bookings.forms.money import JournalForm, MoneyTermsForm, MovedForm, VoidForm
from bookings.models import Client, CreditNote, Invoice, MoneyTerms, Payment
from bookings.owing import AGES, ladder_words
from bookings.paperwork.billing import BillPaper, prepare_credit_note
from bookings.paperwork.slips import receipt_paper, statement_paper
from bookings.queries import books
from bookings.queries.billing import billable, why_not_void
from bookings.queries.money import clients_with, credit_of, credits_of, owed_by_client
from bookings.views.payments import issue_paper, write_down
from stock.spreadsheet import as_csv
from studio.access import StudioRequest, owner_only
from studio.editions import StaleForm, edition_of, keep_to_edition, seen_by, tell_stale
from studio.money import show
from studio.once import answer_once

ROWS_A_PAGE = 50


def _pdf(content: bytes, name: str) -> HttpResponse:
    return HttpResponse(
        content, content_type="application/pdf", headers={"Content-Disposition": f'inline; filename="{name}.pdf"'}
    )


@owner_only
@require_safe
def overview(request: StudioRequest) -> HttpResponse:
    """What is owed, by whom, since when; what each month and the year came to."""
    today = timezone.localdate()
    credit = credits_of()
    owing = owed_by_client(today=today, held=credit)
    asked = request.GET.get("year", "")
    years = books.years_of_books(today)
    year = int(asked) if asked in map(str, years) else today.year
    months, whole = books.totals_of(year)
    ages = [sum(client.ages[n] for client in owing) for n in range(len(AGES))]
    context = {
        "page": Paginator(owing, ROWS_A_PAGE).get_page(request.GET.get("page")),
        "owed": sum(client.owed for client in owing),
        "late": sum(client.late for client in owing),
        "ages": list(zip(AGES, ages, strict=True)),
        "held": clients_with(credit),
        "year": year,
        "years": years,
        "months": [month for month in months if month.sales or month.tax or month.fees or month.received],
        "whole": whole,
        "journal": JournalForm(initial={"first": date(year, 1, 1), "last": date(year, 12, 31)}),
    }
    return render(request, "money/overview.html", context)


@owner_only
@require_safe
def invoices(request: StudioRequest) -> HttpResponse:
    """Every invoice, the newest first."""
    rows = Invoice.objects.select_related("client", "booking", "credit_note").defer(
        "pdf", "told", "credit_note__pdf", "credit_note__told"
    )
    page = Paginator(rows.order_by("-number"), ROWS_A_PAGE).get_page(request.GET.get("page"))
    return render(request, "money/invoices.html", {"page": page})


@owner_only
@require_safe
def invoice(request: StudioRequest, invoice_id: int) -> HttpResponse:
    """An issued invoice as it was, and taking it back."""
    found = get_object_or_404(
        Invoice.objects.select_related("client", "booking__client", "issued_by", "credit_note")
        .prefetch_related("lines")
        .defer("pdf", "credit_note__pdf"),
        pk=invoice_id,
    )
    note = getattr(found, "credit_note", None)
    why_not = why_not_void(found, billable(found.booking).live)
    context = {"invoice": found, "note": note, "why_not": why_not, "form": VoidForm()}
    return render(request, "money/invoice.html", context)


@owner_only
@require_safe
def invoice_pdf(request: StudioRequest, invoice_id: int) -> HttpResponse:
    """The stored paper, as it was issued."""
    found = get_object_or_404(Invoice, pk=invoice_id)
    return _pdf(bytes(found.pdf), f"invoice-{found.number}")


@owner_only
@require_safe
def credit_note_pdf(request: StudioRequest, note_id: int) -> HttpResponse:
    """The stored paper of a credit note."""
    found = get_object_or_404(CreditNote, pk=note_id)
    return _pdf(bytes(found.pdf), f"credit-note-{found.number}")


@owner_only
@require_POST
def void(request: StudioRequest, invoice_id: int) -> HttpResponse:
    """Take an invoice back by a credit note."""
    found = get_object_or_404(Invoice.objects.select_related("booking__client", "quote").defer("pdf"), pk=invoice_id)
    back = reverse("bookings:invoice", args=[found.pk])
    form = VoidForm(request.POST)
    if not form.is_valid():
        messages.error(request, f"Not done. Why: {form.errors['why'][0]}")
        return redirect(back)

    def prepare() -> BillPaper:
        if why_not := why_not_void(found, billable(found.booking).live):
            raise actions.MoneyRefused(why_not)
        return prepare_credit_note(
            found, why=form.cleaned_data["why"], studio=request.studio, today=timezone.localdate(), at=timezone.now()
        )

    def act(paper: BillPaper) -> str:
        note = actions.void_invoice(paper=paper, by=request.user, at=timezone.now())
        messages.success(request, f"{found} is taken back by {str(note).lower()}.")
        return back

    return issue_paper(request, prepare, act, back)


@owner_only
@require_safe
def receipt_pdf(request: StudioRequest, payment_id: int) -> HttpResponse:
    """The receipt of a payment."""
    found = get_object_or_404(Payment.objects.select_related("client", "booking__client"), pk=payment_id)
    return _pdf(receipt_paper(found, studio=request.studio), f"receipt-{found.number}")


@owner_only
@require_http_methods(["GET", "HEAD", "POST"])
def client(request: StudioRequest, client_id: int) -> HttpResponse:
    """What one client was asked and has paid; giving them their credit back."""
    found, today, currency = get_object_or_404(Client, pk=client_id), timezone.localdate(), request.studio.currency
    credit = credit_of(found.pk)
    posted = request.POST if request.method == "POST" else None
    form = MovedForm(posted, amount=credit, seen=credit, currency=currency, today=today)

    def act() -> str:
        given = form.cleaned_data
        made = actions.refund_credit(
            client=found,
            amount_minor=given["amount"],
            method=given["method"],
            refunded_on=given["day"],
            note=given["note"],
            could_seen=given["seen"],
            currency=currency,
            today=today,
            by=request.user,
            at=timezone.now(),
        )
        messages.success(request, f"{show(made.amount_minor, currency)} given back is written down.")
        return reverse("bookings:client-money", args=[found.pk])

    def page() -> HttpResponse:
        context = {
            "client": found,
            "form": form,
            "credit": credit,
            "owing": next(iter(owed_by_client(today=today, client=found.pk, held={found.pk: credit})), None),
            "lines": books.statement_lines(found),
        }
        return render(request, "money/client.html", context)

    return write_down(request, form, act, page) if posted is not None else page()


@owner_only
@require_safe
def statement_pdf(request: StudioRequest, client_id: int) -> HttpResponse:
    """A client's statement as of today."""
    found = get_object_or_404(Client, pk=client_id)
    made = statement_paper(found, studio=request.studio, today=timezone.localdate(), at=timezone.now())
    return _pdf(made, f"statement-{found.pk}-{timezone.localdate():%Y-%m-%d}")


@owner_only
@require_safe
def journal_csv(request: StudioRequest) -> HttpResponse | StreamingHttpResponse:
    """The journal between two days, for an accountant: every debit and credit, sent as it is read."""
    form = JournalForm(request.GET)
    if not form.is_valid():
        return render(request, "money/journal.html", {"form": form}, status=422 if request.GET else 200)
    first, last = form.cleaned_data["first"], form.cleaned_data["last"]
    return StreamingHttpResponse(
        as_csv(books.journal(first, last)),
        content_type="text/csv; charset=utf-8",
        headers={"Content-Disposition": f'attachment; filename="journal-{first}-to-{last}.csv"'},
    )


@owner_only
@require_http_methods(["GET", "HEAD", "POST"])
def terms(request: StudioRequest) -> HttpResponse:
    """When a balance is due, what is kept when a job is called off, how to pay."""
    kept = MoneyTerms.objects.current()
    form = MoneyTermsForm(request.POST if request.method == "POST" else None, terms=kept)
    if request.method == "POST" and form.is_valid():

        def act() -> str:
            keep_to_edition(request, "The money terms", _terms_edition)
            kept.balance_days = form.cleaned_data["balance_days"]
            kept.pay_to, kept.notice = form.cleaned_data["pay_to"], form.notice
            kept.taxes_cancellation = form.cleaned_data["taxes_cancellation"]
            kept.save()
            messages.success(request, "The money terms are saved. Quotes already sent keep what they said.")
            return reverse("bookings:money-terms")

        try:
            return answer_once(request, act)
        except StaleForm as stale:
            tell_stale(form, stale, MoneyTermsForm(None, terms=MoneyTerms.objects.current()))
    context = {
        "form": form,
        "section": "studio",
        "words": ladder_words(kept.ladder),
        "seen": seen_by(request, form, _terms_edition()),
    }
    return render(request, "money/terms.html", context, status=422 if form.errors else 200)


def _terms_edition() -> str:
    return edition_of(MoneyTerms.objects.current())
