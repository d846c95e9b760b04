"""The plan of the weeks ahead: what does not fit first, then the days."""

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils import timezone
from django.views.decorators.http import require_safe

from bookings.models import Booking
from bookings.queries.plan import WEEKS, job_plan
from bookings.queries.plan import plan as plan_of
from studio.access import StudioRequest, owner_and_crew


@owner_and_crew
@require_safe
def plan(request: StudioRequest) -> HttpResponse:
    """Everybody's prep, day by day: never a price."""
    today = timezone.localdate()
    found = plan_of(today=today, studio=request.studio, zone=request.studio.zone)
    context = {"plan": found, "today": today, "weeks": WEEKS, "section": "bookings"}
    return render(request, "bookings/plan.html", context)


@owner_and_crew
@require_safe
def of_job(request: StudioRequest, booking_id: int) -> HttpResponse:
    """One job planned backwards from when it must be ready: never a price."""
    booking = get_object_or_404(Booking.objects.select_related("client"), pk=booking_id)
    found = job_plan(booking, studio=request.studio, zone=request.studio.zone)
    return render(request, "bookings/job_plan.html", {"booking": booking, **found._asdict()})
