"""The weekly check: does the shelf cover the booked jobs? No price anywhere on it."""

from typing import Any

from django.core.paginator import Paginator
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils import timezone
from django.views.decorators.http import require_safe

from stock import paperwork
from stock.models import Item
from stock.queries import Board, BoardRow, cover_board, cover_rows
from stock.queries.kit import kit_clashes
from stock.spreadsheet import as_csv
from studio.access import StudioRequest, owner_and_crew

ROWS_A_PAGE = 200
MOST_CARDS = 6
"""Short items told one by one; the table has them all."""


@require_safe
@owner_and_crew
def board(request: StudioRequest) -> HttpResponse:
    """Every item for eight weeks: what runs short first, then what is booked, then the rest."""
    found = cover_board(timezone.localdate(), with_open=_with_open(request))
    page = Paginator(found.rows, ROWS_A_PAGE).get_page(request.GET.get("page"))
    shown = page.object_list[0] if page.object_list else None
    context: dict[str, Any] = {
        "board": found,
        "page": page,
        "cards": found.cards(MOST_CARDS) if page.number == 1 else (),
        "clashes": kit_clashes(found.today, until=found.until, with_open=found.with_open) if page.number == 1 else (),
        "busy": [(row, row.cells(found.mondays)) for row in page if row.is_short or row.is_busy],
        "quiet": [(row, row.cells(found.mondays)) for row in page if not (row.is_short or row.is_busy)],
        "query": "with=open&" if found.with_open else "",
    }
    if shown is not None and (shown.is_short or shown.is_busy):
        context |= _day_by_day(found, shown)
    return render(request, _part(request, "stock/cover.html", "board"), context)


@require_safe
@owner_and_crew
def item_chart(request: StudioRequest, item_id: int) -> HttpResponse:
    """One item day by day: its drawing, and every change beside it in a table."""
    item = get_object_or_404(Item, pk=item_id)
    found = cover_board(timezone.localdate(), with_open=_with_open(request), item_ids=[item.pk])
    context = {"board": found, **_day_by_day(found, found.rows[0])}
    return render(request, _part(request, "stock/cover_item.html", "day-by-day"), context)


@require_safe
@owner_and_crew
def table(request: StudioRequest) -> HttpResponse:
    """The whole check as comma-separated text."""
    found = cover_board(timezone.localdate(), with_open=_with_open(request))
    return _file("".join(as_csv(cover_rows(found))).encode(), "text/csv; charset=utf-8", f"{_named(found)}.csv")


@require_safe
@owner_and_crew
def paper(request: StudioRequest) -> HttpResponse:
    """The check on paper, to take along."""
    found = cover_board(timezone.localdate(), with_open=_with_open(request))
    made = paperwork.cover_pdf(found, request.studio, made_at=timezone.now())
    return _file(made, "application/pdf", f"{_named(found)}.pdf")


def _named(board: Board) -> str:
    return f"cover-{board.today.isoformat()}{'-with-open-quotes' if board.with_open else ''}"


def _file(content: bytes, kind: str, name: str) -> HttpResponse:
    headers = {"Content-Disposition": f'attachment; filename="{name}"'}
    return HttpResponse(content, content_type=kind, headers=headers)


def _with_open(request: StudioRequest) -> bool:
    return request.GET.get("with") == "open"


def _part(request: StudioRequest, page: str, part: str) -> str:
    """The whole page, or only the part htmx asked to put in its place."""
    htmx = request.htmx
    wanted = htmx and not htmx.history_restore_request and htmx.target == part
    return f"{page}#{part}" if wanted else page


def _day_by_day(found: Board, row: BoardRow) -> dict[str, Any]:
    return {
        "row": row,
        "chart": row.chart(found.until, width=960, height=230),
        "narrow": row.chart(found.until, width=340, height=230),
        "steps": [step for step in row.cover.steps if step.day <= found.until],
    }
