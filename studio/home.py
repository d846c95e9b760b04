"""This week: what runs short, what is coming up, who is being waited on."""

from dataclasses import fields
from datetime import timedelta

from django.http import HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_GET

from bookings.queries.dates import held_dates, unseen
from bookings.queries.people import what_clashes
from bookings.queries.questions import waiting_questions
from studio.access import StudioRequest, owner_and_crew
from studio.outbox.queries import troubled_letters
from studio.this_week import DAYS_AHEAD, DAYS_FULL, this_week

MOST_SHORT = 5
MOST_TO_ANSWER = 8


@owner_and_crew
@require_GET
def week(request: StudioRequest) -> HttpResponse:
    """The one glance in the car park."""
    today = timezone.localdate()
    clashing = what_clashes(today, today + timedelta(days=DAYS_FULL), today=today, zone=request.studio.zone)
    found = this_week(today, with_money=request.user.is_owner)
    context = {field.name: getattr(found, field.name) for field in fields(found)} | {
        "cards": found.board.cards(MOST_SHORT),
        "more_short": max(len(found.board.short_rows) - MOST_SHORT, 0),
        "days_ahead": DAYS_AHEAD,
        "full_days": unseen(clashing.full, today=today),
        "cannot_go": clashing.cannot_go,
        "held": held_dates(today=today),
    }
    if request.user.is_owner:
        context |= {"questions": waiting_questions()[:MOST_TO_ANSWER], "troubled": troubled_letters()[:MOST_TO_ANSWER]}
    return render(request, "studio/week.html", context)
