"""The shelf in and out of spreadsheets. Prices are in it, so it is the owner's."""

from django.contrib import messages
from django.core.paginator import Paginator
from django.db import IntegrityError
from django.http import Http404, HttpResponse, StreamingHttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from stock import actions, queries
from stock.actions import SpreadsheetRefusal
from stock.forms import SpreadsheetForm
from stock.models import Spreadsheet
from stock.spreadsheet import as_csv, as_workbook
from stock.views import act_on_form
from studio.access import StudioRequest, owner_only
from studio.once import answer_once

FAULTS_A_PAGE = 100
WORKBOOK = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"


@require_safe
@owner_only
def both_ways(request: StudioRequest) -> HttpResponse:
    """Take everything out, or send items in."""
    return _both_ways_page(request, SpreadsheetForm())


@require_safe
@owner_only
def one_table(request: StudioRequest, table: str) -> StreamingHttpResponse:
    """One table as comma-separated text, sent as it is read."""
    if table not in queries.TABLES:
        raise Http404
    rows = queries.TABLES[table](request.studio.currency)
    return StreamingHttpResponse(
        as_csv(rows),
        content_type="text/csv; charset=utf-8",
        headers={"Content-Disposition": f'attachment; filename="{table}.csv"'},
    )


@require_safe
@owner_only
def workbook(request: StudioRequest) -> HttpResponse:
    """Every table as a sheet of one workbook."""
    sheets = ((name, rows(request.studio.currency)) for name, rows in queries.TABLES.items())
    return HttpResponse(
        as_workbook(sheets),
        content_type=WORKBOOK,
        headers={"Content-Disposition": 'attachment; filename="shelf.xlsx"'},
    )


@require_POST
@owner_only
def send(request: StudioRequest) -> HttpResponse:
    """Keep a spreadsheet and show what taking it over would do."""
    form = SpreadsheetForm(request.POST, request.FILES)

    def act() -> str:
        name = form.cleaned_data["file"].name
        sheet = actions.send_in(name=name, rows=form.rows, by=request.user, at=timezone.now())
        return reverse("stock:spreadsheet", args=[sheet.pk])

    return act_on_form(request, form, act, lambda: _both_ways_page(request, form))


@require_safe
@owner_only
def spreadsheet(request: StudioRequest, spreadsheet_id: int) -> HttpResponse:
    """Every cell that is wrong, or what taking the spreadsheet over would do."""
    return _spreadsheet_page(request, get_object_or_404(Spreadsheet, pk=spreadsheet_id))


@require_POST
@owner_only
def take_over(request: StudioRequest, spreadsheet_id: int) -> HttpResponse:
    """Do all of it, once."""
    sheet = Spreadsheet.objects.filter(pk=spreadsheet_id).first()
    if sheet is None:
        messages.error(request, "That spreadsheet is not kept any more: send it in again.")
        return redirect("stock:spreadsheets")

    def act() -> str:
        said = actions.take_over(spreadsheet=sheet, by=request.user, at=timezone.now())
        messages.success(request, f"Taken over: {said}")
        return reverse("stock:spreadsheet", args=[sheet.pk])

    try:
        return answer_once(request, act)
    except (SpreadsheetRefusal, IntegrityError):
        # Where somebody has just saved the same, it is as if it had been there when this was looked over.
        response = _spreadsheet_page(request, sheet)
        response.status_code = 422
        return response


def _both_ways_page(request: StudioRequest, form: SpreadsheetForm) -> HttpResponse:
    tables = [(table, table.replace("_", " ")) for table in queries.TABLES]
    context = {"form": form, "tables": tables, "columns": list(queries.COLUMNS.items())}
    return render(request, "stock/spreadsheets.html", context)


def _spreadsheet_page(request: StudioRequest, sheet: Spreadsheet) -> HttpResponse:
    found = queries.dry_run(sheet.rows) if sheet.taken_over_at is None else None
    faults = found.faults if found else []
    context = {
        "sheet": sheet,
        "found": found,
        "row_count": len({fault.row for fault in faults}),
        "page": Paginator(faults, FAULTS_A_PAGE).get_page(request.GET.get("page")),
    }
    return render(request, "stock/spreadsheet.html", context)
