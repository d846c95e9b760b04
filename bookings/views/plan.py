"""The plan of the weeks ahead: what does not fit first, then the days; and one job of it."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe
from django.views.decorators.vary import vary_on_headers

from bookings.actions.prep_day import PrepDayRefused, move_prep_day
from bookings.diary import short_day
from bookings.forms.dates import PrepDayForm
from bookings.models import Booking
from bookings.queries.allergies import allergies_of, with_latex_of_place
from bookings.queries.job_plan import job_plan
from bookings.queries.plan import WEEKS
from bookings.queries.plan import plan as plan_of
from studio.access import StudioRequest, owner_and_crew, owner_only
from studio.once import answer_once


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
@vary_on_headers("HX-Request")
def of_job(request: StudioRequest, booking_id: int) -> HttpResponse:
    """One job planned backwards from when it must be ready: never a price. The job's own page asks for its steps."""
    booking: Booking = get_object_or_404(with_latex_of_place(Booking.objects.select_related("client")), pk=booking_id)
    found = job_plan(booking, today=timezone.localdate(), studio=request.studio, zone=request.studio.zone)
    page = "bookings/_job_steps.html" if request.headers.get("HX-Request") else "bookings/job_plan.html"
    return render(request, page, {"booking": booking, "plan": found, "allergies": allergies_of(booking)})


@owner_only
@require_POST
def prep_day(request: StudioRequest, booking_id: int) -> HttpResponse:
    """The prep day moves to where the plan begins, and with it what the job holds."""
    booking = get_object_or_404(Booking.objects.select_related("client"), pk=booking_id)
    page = reverse("bookings:job-plan", args=[booking.pk])
    form = PrepDayForm(request.POST)
    if not form.is_valid():
        messages.error(request, "That is no prep day: it is one the plan offers. Nothing was moved.")
        return redirect(page)
    said = form.cleaned_data

    def act() -> str:
        move_prep_day(booking=booking, **said, today=timezone.localdate(), by=request.user, at=timezone.now())
        name, day = booking.shown_title, short_day(said["to"])
        messages.success(request, f"The prep day of {name} is {day}: the shelf holds its balloons for it.")
        return page

    try:
        return answer_once(request, act)
    except PrepDayRefused as refusal:
        messages.error(request, str(refusal))
        return redirect(page)
