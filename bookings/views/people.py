"""People: their hours and days off, who is on a job, and what each of them has to do."""

from http import HTTPStatus

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from bookings.actions.people import DaysOffRefused, keep_week, put_on_the_job, take_days_off, work_after_all
from bookings.forms.people import DaysOffForm, OnTheJobForm, WeekForm
from bookings.models import Booking
from bookings.queries.my_days import my_days as days_of
from bookings.queries.people import days_off, everybody, people_on, staff
from studio.access import StudioRequest, owner_and_crew, owner_only
from studio.models import User
from studio.once import answer_once

MENDABLE = HTTPStatus.UNPROCESSABLE_ENTITY


@owner_and_crew
@require_safe
def my_days(request: StudioRequest) -> HttpResponse:
    """What whoever is signed in has to do, as the plan has it: never a price."""
    today = timezone.localdate()
    mine = days_of(request.user, today=today, studio=request.studio, zone=request.studio.zone)
    return render(request, "bookings/my_days.html", {"mine": mine, "today": today, "section": "mine"})


@owner_and_crew
@require_safe
def hours(request: StudioRequest) -> HttpResponse:
    """Everybody's week and the days off to come."""
    context = {"staff": staff(), "days_off": days_off(today=timezone.localdate()), "section": "studio"}
    return render(request, "bookings/hours.html", context)


@owner_only
@require_http_methods(["GET", "HEAD", "POST"])
def week(request: StudioRequest, person_id: int) -> HttpResponse:
    """The week of one person."""
    person = _person(person_id)
    (worker,) = staff([person])
    form = WeekForm(request.POST or None, person=worker)
    if request.method == "POST" and form.is_valid():

        def act() -> str:
            keep_week(person=person, week=form.week, by=request.user, at=timezone.now())
            messages.success(
                request, f"The hours of {person.shown_name} are saved. The plan reckons with them from now on."
            )
            return reverse("bookings:person-hours", args=[person.pk])

        return answer_once(request, act)
    return _person_page(request, person, form, DaysOffForm())


@owner_only
@require_POST
def take_off(request: StudioRequest, person_id: int) -> HttpResponse:
    """Days off for one person."""
    person = _person(person_id)
    form = DaysOffForm(request.POST)

    def act() -> str:
        said = form.cleaned_data
        take_days_off(person=person, first=said["first"], last=said["last"], by=request.user, at=timezone.now())
        messages.success(request, f"The days off of {person.shown_name} are written down.")
        return reverse("bookings:person-hours", args=[person.pk])

    if form.is_valid():
        try:
            return answer_once(request, act)
        except DaysOffRefused as refusal:
            form.add_error("first", str(refusal))
    (worker,) = staff([person])
    return _person_page(request, person, WeekForm(person=worker), form)


@owner_only
@require_POST
def take_on(request: StudioRequest, person_id: int, day_off_id: int) -> HttpResponse:
    """They work after all."""
    person = _person(person_id)

    def act() -> str:
        if work_after_all(day_off=day_off_id, person=person):
            messages.success(request, f"{person.shown_name} works on those days after all.")
        return reverse("bookings:person-hours", args=[person.pk])

    return answer_once(request, act)


@owner_only
@require_http_methods(["GET", "HEAD", "POST"])
def on_the_job(request: StudioRequest, booking_id: int) -> HttpResponse:
    """Choose who is on a job; crew read it on the job's own page."""
    booking = get_object_or_404(Booking.objects.select_related("client"), pk=booking_id)
    card = people_on(booking, today=timezone.localdate(), zone=request.studio.zone)
    form = OnTheJobForm(request.POST or None, people=everybody(), on=card.on)
    if request.method == "POST" and form.is_valid():

        def act() -> str:
            put_on_the_job(booking=booking, does=form.does, by=request.user, at=timezone.now())
            messages.success(request, "Who is on the job is saved.")
            return reverse("bookings:on-the-job", args=[booking.pk])

        return answer_once(request, act)
    context = {"booking": booking, "people": card, "form": form}
    return render(request, "bookings/on_the_job.html", context, status=MENDABLE if form.errors else HTTPStatus.OK)


def _person(person_id: int) -> User:
    return get_object_or_404(User, pk=person_id, is_active=True)


def _person_page(request: StudioRequest, person: User, form: WeekForm, off: DaysOffForm) -> HttpResponse:
    gone = days_off(person=person, today=timezone.localdate())
    context = {"person": person, "form": form, "off": off, "days_off": gone, "section": "studio"}
    status = MENDABLE if form.errors or off.errors else HTTPStatus.OK
    return render(request, "bookings/person_hours.html", context, status=status)
