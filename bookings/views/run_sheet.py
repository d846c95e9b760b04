"""The run sheet and the strike of a job: on a phone and on paper, without an amount."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods

from bookings.actions.site import edition_on_site, keep_strike
from bookings.forms.site import StrikeForm
from bookings.models import Booking
from bookings.paperwork.run_sheet import run_sheet_pdf
from bookings.queries.allergies import allergies_of
from bookings.queries.run_sheet import RunSheet, for_its_sheet, strike_page
from bookings.queries.run_sheet import run_sheet as sheet_of
from studio.access import StudioRequest, owner_and_crew
from studio.editions import StaleForm, opened_with, seen_by
from studio.once import answer_once

MENDABLE = 422


@owner_and_crew
@require_GET
def run_sheet(request: StudioRequest, booking_id: int) -> HttpResponse:
    """Times, place, people, pictures, points and cautions of one job."""
    booking = _booking(booking_id)
    return render(request, "bookings/run_sheet.html", {"booking": booking, "sheet": _sheet(request, booking)})


@owner_and_crew
@require_GET
def paper(request: StudioRequest, booking_id: int) -> HttpResponse:
    """The same on paper."""
    booking = _booking(booking_id)
    pdf = run_sheet_pdf(_sheet(request, booking), request.studio, made_at=timezone.now())
    response = HttpResponse(pdf, content_type="application/pdf")
    response.headers["Content-Disposition"] = f'inline; filename="run-sheet-{booking.pk}.pdf"'
    return response


@owner_and_crew
@require_http_methods(["GET", "POST"])
def strike(request: StudioRequest, booking_id: int) -> HttpResponse:
    """When it comes down, by whom, and what comes home."""
    booking = _booking(booking_id)
    zone = timezone.get_current_timezone()
    sheet = strike_page(booking, studio=request.studio, today=timezone.localdate(), zone=zone)
    form = StrikeForm(request.POST or None, strike=sheet.strike.strike)
    if request.method == "POST" and form.is_valid():

        def act() -> str:
            opened = opened_with(request)
            keep_strike(booking=booking, strike=form.cleaned_data, by=request.user, at=timezone.now(), seen=opened)
            messages.success(request, "The strike is written down.")
            return reverse("bookings:strike", args=[booking.pk])

        try:
            return answer_once(request, act)
        except StaleForm as stale:
            form.add_error(None, str(stale))
    seen = seen_by(request, form, edition_on_site(sheet.strike.strike))
    context = {"booking": booking, "sheet": sheet, "form": form, "seen": seen, "allergies": allergies_of(booking)}
    return render(request, "bookings/strike.html", context, status=MENDABLE if form.errors else 200)


def _booking(booking_id: int) -> Booking:
    found: Booking = get_object_or_404(for_its_sheet(Booking.objects.all()), pk=booking_id)
    return found


def _sheet(request: StudioRequest, booking: Booking) -> RunSheet:
    return sheet_of(booking, studio=request.studio, today=timezone.localdate(), zone=timezone.get_current_timezone())
