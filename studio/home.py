"""This week: what runs short, what is coming up, who is being waited on."""

from collections import Counter

from django.http import HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_GET

from bookings.queries import coming_up, to_wrap_up, waiting_on
from bookings.queries.money import late_by_booking
from stock.queries import cover_board
from stock.queries.kit import kit_clashes
from studio.access import StudioRequest, owner_and_crew

DAYS_AHEAD = 21
MOST_SHORT = 5


@owner_and_crew
@require_GET
def week(request: StudioRequest) -> HttpResponse:
    """The one glance in the car park."""
    today = timezone.localdate()
    board = cover_board(today)
    lacking: Counter[int] = Counter()
    for row in board.short_rows:
        for hit in row.cover.hit:
            lacking[hit.booking] += hit.short
    context = {
        "today": today,
        "board": board,
        "cards": board.cards(MOST_SHORT),
        "clashes": kit_clashes(today, until=board.until),
        "more_short": max(len(board.short_rows) - MOST_SHORT, 0),
        "coming": coming_up(today=today, days=DAYS_AHEAD, short=dict(lacking)),
        "days_ahead": DAYS_AHEAD,
        "over": to_wrap_up(today=today),
        "waiting": waiting_on(today=today),
        "late": late_by_booking(today=today) if request.user.is_owner else [],
    }
    return render(request, "studio/week.html", context)
