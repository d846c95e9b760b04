"""The shelf at a glance: what is free, colour by colour and size by size."""

from collections.abc import Sequence

from django.core.paginator import Paginator
from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from stock import queries
from stock.models import Colour
from stock.queries import Cell, ShelfRow
from studio.access import StudioRequest, owner_and_crew

COLOURS_A_PAGE = 50
USUAL_SIZES = (5, 9, 11, 16, 24)
"""Columns to start from while fewer sizes are listed: a working garland mix (common practice, no source)."""

GridRow = tuple[Colour, list[tuple[int, Cell | None]]]


@require_safe
@owner_and_crew
def shelf(request: StudioRequest) -> HttpResponse:
    """A grid of colours by sizes, with what is free, on hand and arriving; below it everything else."""
    whole = queries.shelf()
    sizes = whole.sizes if len(whole.sizes) >= 3 else tuple(sorted({*whole.sizes, *USUAL_SIZES}))
    rows = Paginator(whole.rows, COLOURS_A_PAGE).get_page(request.GET.get("page"))
    others = Paginator(whole.others, COLOURS_A_PAGE).get_page(request.GET.get("more"))
    cells = [cell for row in whole.rows for cell in row.cells if cell] + list(whole.others)
    short = short_cells(cells)
    context = {
        "sizes": sizes,
        "page": rows,
        "grid": [grid_row(row, whole.sizes, sizes) for row in rows],
        "others": others,
        "cells": cells,
        "short": short,
        "is_out": any(cell.is_out for cell in short),
        "is_empty": not whole.rows and not whole.others,
    }
    return render(request, "stock/shelf.html", context)


def grid_row(row: ShelfRow, listed: Sequence[int], shown: Sequence[int]) -> GridRow:
    """One colour and its cell in every column `shown`; the row's own cells go with the sizes `listed`."""
    by_size = dict(zip(listed, row.cells, strict=True))
    return row.colour, [(size, by_size.get(size)) for size in shown]


def short_cells(cells: Sequence[Cell]) -> list[Cell]:
    """What is promised beyond what is on hand, the worst first."""
    return sorted((cell for cell in cells if cell.state == "short"), key=lambda cell: (cell.free, cell.item.pk))
