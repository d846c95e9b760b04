"""A booking's money: take a payment, give some back, use credit, issue an invoice, call the job off."""

from collections.abc import Callable
from typing import Any, TypeVar

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from bookings import actions
from bookings.forms.money import CancelForm, MovedForm, PaymentForm
from bookings.models import Booking
from bookings.paperwork.billing import kept_of, prepare_cancellation, prepare_invoice, tax_in_kept
from bookings.queries.billing import billable, money_card, standing_invoices
from bookings.queries.money import credit_of, standing
from studio.access import StudioRequest, owner_only
from studio.money import show
from studio.once import answer_once, answer_once_prepared
from studio.transitions import MoveRefused

TRIES = 5
"""How often a paper is made again where another took its number meanwhile."""

Prepared = TypeVar("Prepared")


def issue_paper(
    request: StudioRequest, prepare: Callable[[], Prepared], act: Callable[[Prepared], str], back: str
) -> HttpResponse:
    """Prepare papers and issue them, again where others were quicker; or go `back` and say why not."""
    for _ in range(TRIES):
        try:
            return answer_once_prepared(request, prepare, act)
        except actions.PaperOutdated:
            continue
        except (actions.MoneyRefused, MoveRefused) as refusal:
            messages.error(request, f"Not done: {refusal}")
            return redirect(back)
    messages.error(request, "Not done: others were issuing papers at the same moment. Press again.")
    return redirect(back)


def write_down(
    request: StudioRequest, form: MovedForm, act: Callable[[], str], show_again: Callable[[], HttpResponse]
) -> HttpResponse:
    """Do `act` once for a good form, or show it again with what to mend (422)."""
    if form.is_valid():
        try:
            return answer_once(request, act)
        except actions.HasChanged as refusal:
            form.add_error(None, str(refusal))
            form.seen_again(refusal.now)
        except actions.MoreThanOwed as refusal:
            form.asks_about_surplus = True  # type: ignore[attr-defined]
            form.add_error("amount", str(refusal))
        except actions.MoneyRefused as refusal:
            names = {"received_on": "day", "refunded_on": "day"}
            form.add_error(names.get(refusal.field or "", refusal.field), str(refusal))
    response = show_again()
    response.status_code = 422
    return response


def _booking(booking_id: int) -> Booking:
    return get_object_or_404(Booking.objects.select_related("client"), pk=booking_id)


def _said(form: MovedForm) -> dict[str, Any]:
    given = form.cleaned_data
    return {"amount_minor": given["amount"], "method": given["method"], "note": given["note"]}


@owner_only
@require_http_methods(["GET", "HEAD", "POST"])
def take(request: StudioRequest, booking_id: int) -> HttpResponse:
    """Write down money that came in, the amount filled in: what is late, else what is due next."""
    booking, today, currency = _booking(booking_id), timezone.localdate(), request.studio.currency
    card = money_card(booking, today=today)
    expected = card.open_dues[0].left if card.open_dues else 0
    posted = request.POST if request.method == "POST" else None
    form = PaymentForm(posted, amount=expected, seen=card.now.owed, currency=currency, today=today)

    def act() -> str:
        given = form.cleaned_data
        payment = actions.take_payment(
            booking=booking,
            received_on=given["day"],
            owed_seen=given["seen"],
            surplus_is_meant=given["surplus_is_meant"],
            currency=currency,
            today=today,
            by=request.user,
            at=timezone.now(),
            **_said(form),
        )
        messages.success(request, _written(payment.amount_minor, payment.left_minor, payment.surplus_minor, currency))
        return f"{reverse('bookings:detail', args=[booking.pk])}#money"

    def page() -> HttpResponse:
        context = {"booking": booking, "form": form, "card": card}
        return render(request, "bookings/payment.html", context)

    return write_down(request, form, act, page) if posted is not None else page()


def _written(amount: int, left: int, surplus: int, currency: str) -> str:
    said = f"{show(amount, currency)} is written down."
    if surplus:
        return f"{said} {show(surplus, currency)} of it is more than was owed and is kept as credit."
    return f"{said} {show(left, currency)} is still owed." if left else f"{said} Nothing is owed any more."


@owner_only
@require_http_methods(["GET", "HEAD", "POST"])
def refund(request: StudioRequest, booking_id: int) -> HttpResponse:
    """Give money back: the client's credit first, then what this job was paid."""
    booking, today, currency = _booking(booking_id), timezone.localdate(), request.studio.currency
    card = money_card(booking, today=today)
    posted = request.POST if request.method == "POST" else None
    form = MovedForm(posted, amount=card.credit, seen=card.can_give_back, currency=currency, today=today)

    def act() -> str:
        given = form.cleaned_data
        made = actions.refund(
            booking=booking,
            refunded_on=given["day"],
            could_seen=given["seen"],
            currency=currency,
            today=today,
            by=request.user,
            at=timezone.now(),
            **_said(form),
        )
        again = f" {show(made.from_booking_minor, currency)} is owed again." if made.from_booking_minor else ""
        messages.success(request, f"{show(made.amount_minor, currency)} given back is written down.{again}")
        return f"{reverse('bookings:detail', args=[booking.pk])}#money"

    def page() -> HttpResponse:
        context = {"booking": booking, "form": form, "card": card}
        return render(request, "bookings/refund.html", context)

    return write_down(request, form, act, page) if posted is not None else page()


@owner_only
@require_POST
def use_credit(request: StudioRequest, booking_id: int) -> HttpResponse:
    """Set the client's credit against this job, as far as it goes."""
    booking, currency = _booking(booking_id), request.studio.currency
    back = f"{reverse('bookings:detail', args=[booking.pk])}#money"

    def act() -> str:
        made = actions.use_credit(
            booking=booking, currency=currency, today=timezone.localdate(), by=request.user, at=timezone.now()
        )
        messages.success(request, f"{show(made.amount_minor, currency)} of credit is set against this job.")
        return back

    try:
        return answer_once(request, act)
    except actions.MoneyRefused as refusal:
        messages.error(request, f"Not done: {refusal}")
        return redirect(back)


@owner_only
@require_POST
def issue_invoice(request: StudioRequest, booking_id: int, kind: str) -> HttpResponse:
    """Issue the deposit's, the balance's, or one invoice for all of it."""
    booking, today = _booking(booking_id), timezone.localdate()
    back = f"{reverse('bookings:detail', args=[booking.pk])}#money"

    def prepare() -> Any:
        found = billable(booking)
        if kind not in found.kinds:
            raise actions.MoneyRefused(found.why_not or f"A {kind} invoice cannot be issued for this job now.")
        return prepare_invoice(booking, kind=kind, studio=request.studio, today=today, at=timezone.now())

    def act(paper: Any) -> str:
        invoice = actions.issue_invoice(paper=paper, by=request.user, at=timezone.now())
        messages.success(request, f"{invoice} is issued. It does not change any more.")
        return reverse("bookings:invoice", args=[invoice.pk])

    return issue_paper(request, prepare, act, back)


@owner_only
@require_http_methods(["GET", "HEAD", "POST"])
def cancel(request: StudioRequest, booking_id: int) -> HttpResponse:
    """Call a booked job off: what is kept by the terms that were accepted, and what becomes of the rest."""
    booking, today = _booking(booking_id), timezone.localdate()
    back = reverse("bookings:detail", args=[booking.pk])
    form = CancelForm(request.POST if request.method == "POST" else None)
    if request.method == "POST" and form.is_valid():
        given = form.cleaned_data

        def prepare() -> Any:
            fresh = _booking(booking_id)
            return prepare_cancellation(fresh, studio=request.studio, today=today, at=timezone.now(), **given)

        def act(papers: Any) -> str:
            actions.cancel_booking(booking=booking, why=given["why"], papers=papers, by=request.user, at=timezone.now())
            messages.success(request, "Cancelled. What it held is free again.")
            return f"{back}#money"

        return issue_paper(request, prepare, act, back)
    kept, now = kept_of(booking, today=today), standing(booking.pk)
    context = {
        "booking": booking,
        "form": form,
        "kept": kept,
        "tax": tax_in_kept(booking, kept),
        "now": now,
        "credit": credit_of(booking.client_id),
        "invoices": standing_invoices(booking),
        "left_over": max(now.settled - kept.amount, 0),
        "still_owed": max(kept.amount - now.settled, 0),
        "is_booked": booking.stage == Booking.Stage.BOOKED,
    }
    return render(request, "bookings/cancel.html", context, status=422 if form.errors else 200)
