"""The place of a job as it is written down, and the check of it."""

from http import HTTPStatus

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from bookings.actions.site import AcknowledgeRefused, acknowledge, edition_on_site, keep_place
from bookings.forms.site import AcknowledgeForm, PlaceForm
from bookings.models import Booking, DayLimits, Place
from bookings.queries.allergies import allergies_of
from bookings.queries.known import read_known
from bookings.queries.run_sheet import for_its_sheet
from bookings.queries.site import CheckRow, made_job, points_of, site_rows
from estimating.site import DEFERS
from studio.access import StudioRequest, owner_and_crew
from studio.editions import StaleForm, opened_with, seen_by
from studio.once import answer_once

MENDABLE = HTTPStatus.UNPROCESSABLE_ENTITY


@owner_and_crew
@require_http_methods(["GET", "POST"])
def place(request: StudioRequest, booking_id: int) -> HttpResponse:
    """Write down the place, from where one stands in it."""
    booking = _booking(booking_id)
    kept, known = Place.objects.of(booking), read_known(priced=False)
    made = made_job(booking, currency=request.studio.currency, known=known)
    points = [] if made is None else points_of(booking, made, kept, rates=known.rates)
    form = PlaceForm(request.POST or None, place=kept, points=points, measures=request.studio.system)
    if request.method == "POST" and form.is_valid():

        def act() -> str:
            opened = opened_with(request)
            keep_place(booking=booking, place=form.kept, by=request.user, at=timezone.now(), seen=opened)
            return reverse("bookings:site-check", args=[booking.pk])

        try:
            return answer_once(request, act)
        except StaleForm as stale:
            form.add_error(None, str(stale))
    context = {"booking": booking, "form": form, "seen": seen_by(request, form, edition_on_site(kept))}
    return render(request, "bookings/place.html", context, status=MENDABLE if form.errors else 200)


@owner_and_crew
@require_GET
def site_check(request: StudioRequest, booking_id: int) -> HttpResponse:
    """Every rule the job and its place touch, and who goes ahead with which."""
    booking = _booking(booking_id)
    return _page(request, booking, _rows(request, booking))


@owner_and_crew
@require_POST
def go_ahead(request: StudioRequest, booking_id: int) -> HttpResponse:
    """Acknowledge one check by name, as it was shown."""
    booking = _booking(booking_id)
    rows, form = _rows(request, booking), AcknowledgeForm(request.POST)
    row = next((row for row in rows if row.check.key == request.POST.get("key")), None)

    def act() -> str:
        if row is None or row.check.stamp != form.cleaned_data["stamp"]:
            raise AcknowledgeRefused("A figure of this check has changed since you opened it. Read it again.")
        acknowledge(
            booking=booking,
            check=row.check,
            name=form.cleaned_data["name"],
            reason=form.cleaned_data["reason"],
            by=request.user,
            at=timezone.now(),
        )
        messages.success(request, f"{row.check.about}: {form.cleaned_data['name']} goes ahead.")
        return f"{reverse('bookings:site-check', args=[booking.pk])}#check-{row.check.key}"

    if form.is_valid():
        try:
            return answer_once(request, act)
        except AcknowledgeRefused as refusal:
            form.add_error(None, str(refusal))
    return _page(request, booking, rows, form, status=MENDABLE)


def _booking(booking_id: int) -> Booking:
    found: Booking = get_object_or_404(for_its_sheet(Booking.objects.all()), pk=booking_id)
    return found


def _rows(request: StudioRequest, booking: Booking) -> list[CheckRow]:
    known = read_known(priced=False)
    return site_rows(
        booking,
        made_job(booking, currency=request.studio.currency, known=known),
        Place.objects.of(booking),
        rates=known.rates,
        usual=DayLimits.objects.current().usual,
        measures=request.studio.system,
        zone=timezone.get_current_timezone(),
    )


def _page(
    request: StudioRequest,
    booking: Booking,
    rows: list[CheckRow],
    form: AcknowledgeForm | None = None,
    status: int = 200,
) -> HttpResponse:
    """The checks, each that is not clear with a form; the one that was sent keeps what was typed."""
    sent = "" if form is None else str(form["key"].value() or "")
    shown = [_shown(row, form if row.check.key == sent else None) for row in rows]
    lost = form if form is not None and all(row.check.key != sent for row in rows) else None
    left = sum(1 for row in rows if not row.is_clear)
    context = {"booking": booking, "shown": shown, "left": left, "lost": lost, "defers": DEFERS}
    context |= {"allergies": allergies_of(booking)}
    return render(request, "bookings/site_check.html", context, status=status)


def _shown(row: CheckRow, sent: AcknowledgeForm | None) -> tuple[CheckRow, AcknowledgeForm, bool]:
    """A check with its form, whose fields have ids of their own; whether it is the one that was sent."""
    form = sent or AcknowledgeForm()
    form.auto_id = f"id_{row.check.key}_%s"
    return row, form, sent is not None
