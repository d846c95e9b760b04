"""The calendar: a month, the same as an agenda, and the private feed that other calendars read."""

import hashlib

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone
from django.utils.cache import get_conditional_response
from django.views.decorators.http import require_http_methods, require_safe

from bookings.actions.dates import calendar_token, end_calendar_link, make_calendar_link
from bookings.feed import CONTENT_TYPE, as_calendar
from bookings.forms.dates import day_of, month_of
from bookings.guessing import count_miss, has_missed_too_often
from bookings.links import hash_of
from bookings.models import CalendarLink
from bookings.queries.calendar import feed_events, month
from bookings.views.client_link import kept_private, unknown
from studio.access import StudioRequest, anyone, owner_and_crew
from studio.address import address_of
from studio.models import Studio
from studio.once import answer_once


@owner_and_crew
@require_safe
def calendar(request: StudioRequest) -> HttpResponse:
    """A month: a grid where there is room, dots and the chosen day where there is not; or its days as a list."""
    today = timezone.localdate()
    first = month_of(request.GET.get("month", ""), today=today)
    usual = today if (today.year, today.month) == (first.year, first.month) else first
    chosen = day_of(request.GET.get("day", ""), otherwise=usual)
    if (chosen.year, chosen.month) != (first.year, first.month):
        chosen = usual
    shown = month(first, chosen=chosen, today=today, zone=request.studio.zone)
    as_list = request.GET.get("view") == "agenda"
    context = {"month": shown, "today": today, "section": "bookings", "as_list": as_list}
    return render(request, "bookings/calendar.html", context)


@owner_and_crew
@require_http_methods(["GET", "HEAD", "POST"])
def subscribe(request: StudioRequest) -> HttpResponse:
    """One's own private address of the calendar: make it, make another, end it."""

    def act() -> str:
        if request.POST.get("do") == "end":
            end_calendar_link(person=request.user)
            messages.success(request, "Your link is ended. A calendar that reads it shows nothing new from now on.")
        else:
            make_calendar_link(person=request.user, at=timezone.now())
            messages.success(request, "Your link is made. One you had before leads nowhere now.")
        return reverse("bookings:calendar-subscribe")

    if request.method == "POST":
        return answer_once(request, act)
    kept = CalendarLink.objects.filter(person=request.user).first()
    link = ""
    if kept is not None:
        path = reverse("bookings:calendar-feed", args=[calendar_token(kept.salt)])
        link = request.build_absolute_uri(path)
    context = {"link": link, "kept": kept, "webcal": link.replace("https://", "webcal://", 1), "section": "bookings"}
    return render(request, "bookings/calendar_subscribe.html", context)


@anyone
@kept_private
@require_safe
def feed(request: HttpRequest, feed_token: str) -> HttpResponse:
    """The feed of whoever has this link, as long as they work here; else the answer of every dead link."""
    now, address = timezone.now(), address_of(request)
    if has_missed_too_often(address, at=now):
        response = render(request, "client/too_many.html", status=429)
        response.headers["Retry-After"] = "60"
        return response
    found = CalendarLink.objects.filter(hash=hash_of(feed_token), person__is_active=True).exists()
    if not found:
        count_miss(address, at=now)
        return unknown(request)
    studio = Studio.objects.current()
    events = feed_events(today=timezone.localdate(), zone=studio.zone, address=request.build_absolute_uri("/"))
    answer = calendar_file(
        request, as_calendar(studio.name, events, zone=studio.zone), name="calendar.ics", inline=True
    )
    if not request.user.is_authenticated:
        # A calendar may keep what it read, as long as it asks each time whether that is still so.
        answer.headers["Cache-Control"] = "private, no-cache"
    return answer


def calendar_file(request: HttpRequest, body: bytes, *, name: str, inline: bool) -> HttpResponse:
    """The calendar as a file, or 304 for who has this one already."""
    etag = f'"{hashlib.sha256(body).hexdigest()[:32]}"'
    response = HttpResponse(
        body,
        content_type=CONTENT_TYPE,
        headers={
            "Content-Disposition": f'{"inline" if inline else "attachment"}; filename="{name}"',
            "X-Content-Type-Options": "nosniff",
            "ETag": etag,
        },
    )
    return get_conditional_response(request, etag=etag, response=response) or response
