"""Dates: what an enquiry's day holds already, holding a date, and the client's own part in both."""

from datetime import timedelta

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST, require_safe

from bookings import queries
from bookings.actions.dates import HoldRefused, hold_date, hold_date_for_client, let_date_go, see_clash
from bookings.feed import as_calendar
from bookings.forms.dates import DayLimitsForm, HoldForm, day_of
from bookings.models import Booking, DayLimits, Quote
from bookings.queries.calendar import client_event, with_changes
from bookings.queries.dates import client_dates, dates_of, full_days, on_the_day
from bookings.views.calendar import calendar_file
from bookings.views.client_link import GONE, found_by_token, from_our_page, kept_private, unknown
from studio.access import StudioRequest, anyone, owner_and_crew, owner_only
from studio.editions import StaleForm, edition_of, keep_to_edition, seen_by, tell_stale
from studio.models import Studio
from studio.once import answer_once

MOST_SEEN = 30
"""Clashes that are put aside at once: no page shows as many."""
_BACK = "../"
"""From hold/ back to the quote. Relative, so that the answer kept with the form holds no token."""


@owner_and_crew
@require_GET
def day_said(request: StudioRequest) -> HttpResponse:
    """For the enquiry: what the day that was just chosen has on it already, in a sentence or two."""
    today = timezone.localdate()
    day = day_of(request.GET.get("event_on", ""), otherwise=today.min)
    named = request.GET.get("booking", "")
    but = int(named) if named.isdecimal() and len(named) < 18 else 0
    context = {"on": on_the_day(day, today=today, zone=request.studio.zone, but=but) if day >= today else None}
    return render(request, "bookings/_day_said.html", context)


@owner_only
@require_http_methods(["GET", "HEAD", "POST"])
def hold(request: StudioRequest, booking_id: int) -> HttpResponse:
    """Hold the date of a job for its client until a day."""
    booking = get_object_or_404(Booking.objects.select_related("client"), pk=booking_id)
    today = timezone.localdate()
    card = dates_of(booking, today=today, zone=request.studio.zone)
    if not card.can_be_held or booking.event_on is None:
        messages.error(request, "Its date cannot be held: it takes an event day to come, and no yes so far.")
        return redirect("bookings:detail", booking.pk)
    form = HoldForm(request.POST or None, first=today, last=booking.event_on)
    if request.method != "POST":
        usual = today + timedelta(days=DayLimits.objects.current().hold_days or 7)
        form.initial["until"] = card.hold.until if card.hold else min(usual, booking.event_on)
    elif form.is_valid():
        until = form.cleaned_data["until"]

        def act() -> str:
            hold_date(booking=booking, until=until, today=today, by=request.user, at=timezone.now())
            return reverse("bookings:detail", args=[booking.pk])

        try:
            return answer_once(request, act)
        except HoldRefused as refusal:
            form.add_error("until", str(refusal))
    context = {"booking": booking, "form": form, "dates": card}
    return render(request, "bookings/hold.html", context, status=422 if form.errors else 200)


@owner_only
@require_POST
def let_go(request: StudioRequest, booking_id: int) -> HttpResponse:
    """The date is free again."""
    booking = get_object_or_404(Booking, pk=booking_id)

    def act() -> str:
        let_date_go(booking=booking, by=request.user, at=timezone.now())
        messages.success(request, "The date is no longer held.")
        return reverse("bookings:detail", args=[booking.pk])

    return answer_once(request, act)


@owner_only
@require_POST
def clash_seen(request: StudioRequest) -> HttpResponse:
    """The owner has seen what days cannot take; it stays in the calendar and on the jobs, and is told no more."""
    today, zone = timezone.localdate(), request.studio.zone
    sent = [one.partition(" ") for one in request.POST.getlist("clash")[:MOST_SEEN]]
    days, stamps = {day_of(day, otherwise=today) for day, _, _ in sent}, {stamp for _, _, stamp in sent}
    named = request.POST.get("booking", "")

    def act() -> str:
        there = [clash for day in days for clash in full_days(day, day, today=today, zone=zone)]
        seen = [clash for clash in there if clash.stamp in stamps]
        for clash in seen:
            see_clash(clash=clash, by=request.user, at=timezone.now())
        if not seen or len(seen) < len(stamps):
            messages.info(request, "What is on that day has changed since. Look at it again.")
        else:
            messages.success(request, "You have seen it: it stays in the calendar, and is not told any more.")
        known = named.isdecimal() and len(named) < 18 and Booking.objects.filter(pk=named).exists()
        return reverse("bookings:detail", args=[named]) if known else reverse("week")

    return answer_once(request, act)


@owner_only
@require_http_methods(["GET", "HEAD", "POST"])
def limits(request: StudioRequest) -> HttpResponse:
    """How many jobs, people, hours and vans a day has."""
    form = DayLimitsForm(request.POST or None, instance=DayLimits.objects.current())
    if request.method == "POST" and form.is_valid():

        def act() -> str:
            keep_to_edition(request, "What a day takes", _limits_edition)
            form.save()
            messages.success(request, "What a day takes is saved. The calendar reckons with it from now on.")
            return reverse("bookings:day-limits")

        try:
            return answer_once(request, act)
        except StaleForm as stale:
            tell_stale(form, stale, DayLimitsForm(instance=DayLimits.objects.current()))
    context = {"form": form, "section": "studio", "seen": seen_by(request, form, _limits_edition())}
    return render(request, "bookings/day_limits.html", context, status=422 if form.errors else 200)


def _limits_edition() -> str:
    return edition_of(DayLimits.objects.current())


@anyone
@kept_private
@from_our_page
@require_http_methods(["GET", "HEAD", "POST"])
@found_by_token
def client_hold(request: HttpRequest, quote: Quote, token: str) -> HttpResponse:
    """The client holds their date. Held already, or merely opened, this leads back to the quote."""
    today = timezone.localdate()
    dates = client_dates(quote, today=today)
    if request.method != "POST" or dates.held_until is not None:
        return redirect(_BACK)
    form = HoldForm(request.POST, first=today, last=dates.last or today)
    if dates.last is not None and not form.is_valid():
        return _held_page(request, quote, token, form, status=422)

    def act() -> str:
        until = form.cleaned_data["until"] if dates.last is not None else today
        hold_date_for_client(quote=quote, until=until, today=today, at=timezone.now())
        return _BACK

    try:
        return answer_once(request, act)
    except HoldRefused as refusal:
        return _held_page(request, quote, token, form, status=422, refused=str(refusal))


def _held_page(
    request: HttpRequest, quote: Quote, token: str, form: HoldForm, *, status: int, refused: str = ""
) -> HttpResponse:
    """The form by itself, with what is wrong."""
    context = {"quote": quote, "token": token, "form": form, "refused": refused}
    return render(request, "client/hold.html", context, status=status)


@anyone
@kept_private
@require_safe
@found_by_token
def client_calendar(request: HttpRequest, quote: Quote, token: str) -> HttpResponse:
    """The event for the client's own calendar: the day, the place and the studio's name, and nothing else."""
    today = timezone.localdate()
    state = queries.state_of(quote, today=today)
    if state in GONE:
        return redirect(reverse("bookings:client", args=[token]))
    booking = with_changes(Booking.objects.filter(pk=quote.booking_id)).get()
    studio = Studio.objects.current()
    event = client_event(booking, zone=studio.zone, studio=studio.name, is_booked=state == "accepted")
    if event is None:
        return unknown(request)
    body = as_calendar(studio.name, [event], zone=studio.zone)
    return calendar_file(request, body, name="date.ics", inline=False)
