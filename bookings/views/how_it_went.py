"""How it went: how good the estimates have been, which jobs paid, and what an hour earned."""

from typing import Any

from django.http import HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_safe

from bookings.queries.how_it_went import Group, biases, coverage, coverage_sentence, money_picture, paid_jobs
from studio.access import StudioRequest, owner_only
from studio.bars import BarShape, bar_chart
from studio.money import show

FEW_JOBS = 5


@owner_only
@require_safe
def how_it_went(request: StudioRequest) -> HttpResponse:
    """Everything wrapped-up jobs say of the estimates and of the money."""
    currency = request.studio.currency
    found, picture, jobs = coverage(), money_picture(currency, today=timezone.localdate()), paid_jobs()
    context: dict[str, Any] = {
        "section": "bookings",
        "coverage": found,
        "said": coverage_sentence(found),
        "biases": biases(),
        "picture": picture,
        "jobs": jobs,
        "paid": sum(job.left_minor >= 0 for job in jobs),
        "few": picture.jobs < FEW_JOBS,
        "charts": [
            (title, note, groups, _chart(groups, currency))
            for title, note, groups in (
                ("By kind of piece", "A job counts under the kind that makes most of its price.", picture.by_kind),
                ("By month", "The month of the event, over the last year.", picture.by_month),
                ("By how clients found you", "As it is written down with the client.", picture.by_source),
            )
            if groups
        ],
    }
    return render(request, "bookings/how_it_went.html", context)


def _chart(groups: tuple[Group, ...], currency: str) -> BarShape:
    rows = [(group.name, float(group.hourly_minor), show(group.hourly_minor, currency)) for group in groups]
    return bar_chart([(name if len(name) <= 30 else f"{name[:29]}…", figure, words) for name, figure, words in rows])
