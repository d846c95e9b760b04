"""Options and extras of a job: where each piece goes on the quote, and what can be ticked besides."""

from collections.abc import Sequence

from django.contrib import messages
from django.db.models import prefetch_related_objects
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from bookings.actions import PiecesAreFixed
from bookings.actions import options as actions
from bookings.actions.options import OfferRefused
from bookings.forms.options import ArrangeForm, ChargeForm
from bookings.lifecycle import may_be_quoted
from bookings.models import Booking, Charge, Piece
from bookings.queries import pieces_of
from bookings.queries.goes_in import option_names, why_not_offer
from bookings.queries.offering import offering_of
from stock.views import act_on_form
from studio.access import StudioRequest, owner_only
from studio.once import answer_once


@require_safe
@owner_only
def options(request: StudioRequest, booking_id: int) -> HttpResponse:
    """Everything that can be chosen, with its price and what is left of it."""
    return _page(request, _booking(booking_id))


@require_POST
@owner_only
def arrange(request: StudioRequest, booking_id: int) -> HttpResponse:
    """Put the pieces where they go, and name the options."""
    booking = _booking(booking_id)
    form = _arrange_form(booking, request.POST)

    def act() -> str:
        at, by = timezone.now(), request.user
        actions.arrange_offer(booking=booking, goes_in=form.goes_in, names=form.names, by=by, at=at)
        messages.success(request, "Arranged. These are the prices now.")
        return _back(booking)

    return act_on_form(
        request, form, act, lambda: _page(request, booking, arranging=form), refusals=(OfferRefused, PiecesAreFixed)
    )


@require_POST
@owner_only
def charge(request: StudioRequest, booking_id: int, charge_id: int = 0) -> HttpResponse:
    """Write down an extra that is no piece, or change one."""
    booking = _booking(booking_id)
    kept = get_object_or_404(Charge, pk=charge_id, booking=booking) if charge_id else None
    form = ChargeForm(request.POST, currency=request.studio.currency, charge=kept)

    def act() -> str:
        said = form.cleaned_data
        actions.keep_charge(
            booking=booking,
            charge=kept,
            name=said["name"],
            note=said["note"],
            minutes=said["minutes"] or 0,
            amount_minor=said["amount"],
            by=request.user,
            at=timezone.now(),
        )
        return _back(booking)

    return act_on_form(
        request,
        form,
        act,
        lambda: _page(request, booking, charging=form, charge=kept),
        refusals=(OfferRefused, PiecesAreFixed),
    )


@require_POST
@owner_only
def remove(request: StudioRequest, booking_id: int, charge_id: int) -> HttpResponse:
    """No longer offer it."""

    def act() -> str:
        gone = get_object_or_404(Charge.objects.select_related("booking"), pk=charge_id, booking=booking_id)
        try:
            actions.remove_charge(charge=gone, by=request.user, at=timezone.now())
        except PiecesAreFixed as fixed:
            messages.error(request, str(fixed))
        else:
            messages.success(request, f"{gone} is no longer offered.")
        return reverse("bookings:options", args=[booking_id])

    return answer_once(request, act)


def _booking(booking_id: int) -> Booking:
    return get_object_or_404(Booking.objects.select_related("client"), pk=booking_id)


def _back(booking: Booking) -> str:
    return reverse("bookings:options", args=[booking.pk])


def _arrange_form(booking: Booking, data: object = None, pieces: Sequence[Piece] | None = None) -> ArrangeForm:
    names = dict(booking.option_names.values_list("number", "name"))
    pieces = list(booking.pieces.order_by("position")) if pieces is None else pieces
    return ArrangeForm(data, pieces=pieces, names=names)


def _page(
    request: StudioRequest,
    booking: Booking,
    *,
    arranging: ArrangeForm | None = None,
    charging: ChargeForm | None = None,
    charge: Charge | None = None,
) -> HttpResponse:
    # As they are kept, whatever was typed: a form that is shown again has pieces of its own.
    prefetch_related_objects([booking], "charges")
    pieces, charges = pieces_of(booking), sorted(booking.charges.all(), key=lambda one: one.pk)
    arranging = arranging or _arrange_form(booking, pieces=pieces)
    asked = request.GET.get("charge", "")
    if charging is None and asked.isascii() and asked.isdigit() and len(asked) < 19:
        charge = next((one for one in charges if one.pk == int(asked)), None)
    refused = why_not_offer(pieces, option_names(booking, pieces), len(charges))
    context = {
        "booking": booking,
        "arranging": arranging,
        "charging": charging or ChargeForm(currency=request.studio.currency, charge=charge),
        "charge": charge,
        "charges": charges,
        "refused": refused,
        "offering": None if refused else offering_of(booking, request.studio, kept=pieces),
        "may_change": may_be_quoted(booking.stage),
    }
    return render(request, "bookings/options.html", context)
