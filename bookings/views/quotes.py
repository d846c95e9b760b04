"""The owner's side of a quote: look it over, issue it, send the link, take it back."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from bookings import actions, queries
from bookings.models import Quote, QuotePiece
from bookings.paperwork import QuotePaper, prepare_quote
from bookings.queries.dates import clashes_of
from bookings.queries.goes_in import option_names, why_not_offer
from studio.access import StudioRequest, owner_only
from studio.once import answer_once, answer_once_prepared


@owner_only
@require_http_methods(["GET", "POST"])
def issue(request: StudioRequest, booking_id: int) -> HttpResponse:
    """Look a quote over with its cost beside it, and issue it."""
    found, today = queries.for_looking_over(), timezone.localdate()
    # A paper asks for the charges itself: they are in what tells whether the job has moved on.
    booking = get_object_or_404(found.prefetch_related("charges") if request.method == "GET" else found, pk=booking_id)
    pieces = queries.pieces_of(booking)
    cannot = queries.why_not_send(booking, has_pieces=bool(pieces), today=today)
    cannot = cannot or why_not_offer(pieces, option_names(booking, pieces), booking.charges.count())
    if cannot:
        messages.error(request, cannot)
        return redirect("bookings:detail", booking.pk)
    clashes = clashes_of(booking, today=today, zone=request.studio.zone)
    unseen = bool(clashes) and request.method == "POST" and "clash_seen" not in request.POST
    if request.method == "GET" or unseen:
        page = queries.quote_to_look_over(booking, pieces, today=today, studio=request.studio)
        context = {"booking": booking, "job": page, "clashes": clashes, "unseen": unseen}
        return render(request, "bookings/quote_issue.html", context, status=422 if unseen else 200)

    def prepare() -> QuotePaper:
        return prepare_quote(booking, studio=request.studio, today=today, at=timezone.now())

    def send(paper: QuotePaper) -> str:
        issued = actions.issue_quote(paper=paper, by=request.user, at=timezone.now())
        return reverse("bookings:quote", args=[issued.pk])

    try:
        return answer_once_prepared(request, prepare, send)
    except actions.QuoteRefused as refusal:
        messages.error(request, str(refusal))
        return redirect("bookings:quote-issue", booking.pk)


@owner_only
@require_GET
def quote(request: StudioRequest, quote_id: int) -> HttpResponse:
    """An issued quote: its link to send, who opened it, what it says."""
    found = get_object_or_404(
        Quote.objects.select_related("booking__client", "acceptance", "issued_by")
        .prefetch_related("openings", "pieces", "materials")
        .defer("pdf"),
        pk=quote_id,
    )
    if found.erased_at is not None:
        return render(request, "bookings/quote_erased.html", {"quote": found})
    view = queries.quote_view(found, today=timezone.localdate())
    link = request.build_absolute_uri(queries.link_of(found))
    return render(request, "bookings/quote.html", {"quote": found, "view": view, "link": link})


@owner_only
@require_GET
def pdf(request: StudioRequest, quote_id: int) -> HttpResponse:
    """The stored paper, as it was issued."""
    found = get_object_or_404(Quote, pk=quote_id, erased_at__isnull=True)
    name = f"quote-{found.number}-v{found.version}.pdf"
    return HttpResponse(
        bytes(found.pdf),
        content_type="application/pdf",
        headers={"Content-Disposition": f'inline; filename="{name}"'},
    )


@owner_only
@require_GET
def picture(request: StudioRequest, quote_id: int, position: int) -> HttpResponse:
    """A quoted piece as it was drawn."""
    piece = get_object_or_404(QuotePiece, quote=quote_id, position=position, quote__erased_at__isnull=True)
    return HttpResponse(piece.picture, content_type="image/svg+xml")


@owner_only
@require_POST
def withdraw(request: StudioRequest, quote_id: int) -> HttpResponse:
    """Take the offer back."""
    found = get_object_or_404(Quote, pk=quote_id)
    back = reverse("bookings:quote", args=[found.pk])

    def take_back() -> str:
        try:
            actions.withdraw_quote(quote=found, by=request.user, at=timezone.now())
        except actions.QuoteRefused as refusal:
            messages.error(request, str(refusal))
        return back

    return answer_once(request, take_back)


@owner_only
@require_POST
def renew(request: StudioRequest, quote_id: int) -> HttpResponse:
    """Give the quote another link; the old one is dead from then on."""
    found = get_object_or_404(Quote.objects.select_related("booking"), pk=quote_id)

    def give() -> str:
        actions.renew_link(quote=found, by=request.user, at=timezone.now())
        messages.success(request, "There is a new link. The old one leads nowhere now.")
        return reverse("bookings:quote", args=[found.pk])

    return answer_once(request, give)
