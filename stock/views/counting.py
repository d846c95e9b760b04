"""Counting the shelf with a thumb: place by place, blind, and kept while it is half finished."""

from collections.abc import Callable
from typing import Any
from urllib.parse import urlencode

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from stock import actions, queries
from stock.actions import CountRefusal, StockRefusal
from stock.forms import CountForm, KnownRoomForm, KnownWeightForm, ReasonForm, RulesForm
from stock.models import CountSheet, Item, ShelfRules
from stock.queries import CountRow, ShelfCount
from stock.views import act_on_form
from stock.views.editing import edit_row
from studio.access import StudioRequest, owner_and_crew, owner_only
from studio.editions import hold_settings
from studio.once import answer_once

ROWS_A_PAGE = 50
# The page that reads barcodes may use the camera; no other page may.
CAMERA = "camera=(self), geolocation=(), microphone=()"
Forms = dict[str, Any]


@require_safe
@owner_and_crew
def count(request: StudioRequest) -> HttpResponse:
    """The places, or what lies at one of them, or what was looked for."""
    found = queries.shelf_count()
    asked = request.GET.get("find", "").strip()[:100]
    place = _place_asked(request, found)
    context: dict[str, Any] = {"count": found, "asked": asked, "place": place}
    if asked:
        rows: tuple[CountRow, ...] = found.found(asked)
        context["query"] = urlencode({"find": asked}) + "&"
    elif place is not None:
        rows = found.at(place)
        context["query"] = urlencode({"place": place}) + "&"
    else:
        rows = ()
    page = Paginator(rows, ROWS_A_PAGE).get_page(_page_asked(request, rows))
    context |= {
        "page": page,
        "rows": [_forms_of(request, row) for row in page],
        "shows_rows": bool(asked) or place is not None,
    }
    response = render(request, "stock/count.html", context)
    response.headers["Permissions-Policy"] = CAMERA
    return response


@require_POST
@owner_and_crew
def write(request: StudioRequest, item_id: int) -> HttpResponse:
    """Keep what was counted, or weighed, of one item."""
    item = get_object_or_404(Item.objects.with_colour(), pk=item_id)
    form = CountForm(request.POST, piece_milligrams=item.piece_milligrams, auto_id=f"id_{item.pk}_%s")

    def act() -> str:
        actions.write_count(
            item=item,
            counted=form.pieces,
            weighed_milligrams=form.milligrams,
            by=request.user,
            at=timezone.now(),
        )
        return _row_address(item)

    return _row_answer(request, item, form, act, {"count_form": form}, field="counted")


@require_POST
@owner_and_crew
def explain(request: StudioRequest, item_id: int) -> HttpResponse:
    """Say why an item's count differs."""
    item = get_object_or_404(Item.objects.with_colour(), pk=item_id)
    form = ReasonForm(request.POST, auto_id=f"id_{item.pk}_%s")

    def act() -> str:
        actions.explain_count(item=item, why=form.cleaned_data["why"], by=request.user, at=timezone.now())
        return reverse("stock:count-review") if request.POST.get("next") == "review" else _row_address(item)

    return _row_answer(request, item, form, act, {"reason_form": form}, field="why")


@require_POST
@owner_and_crew
def take_off(request: StudioRequest, item_id: int) -> HttpResponse:
    """Take an item off the count again."""
    item = get_object_or_404(Item.objects.with_colour(), pk=item_id)

    def act() -> str:
        actions.take_off_count(item=item, by=request.user, at=timezone.now())
        return _row_address(item)

    return _swapped(request, item, answer_once(request, act))


@require_POST
@owner_and_crew
def weigh(request: StudioRequest, item_id: int) -> HttpResponse:
    """Learn what one weighs from a known number on the scale."""
    item = get_object_or_404(Item.objects.with_colour(), pk=item_id)
    form = KnownWeightForm(request.POST, auto_id=f"id_{item.pk}_known_%s")

    def act() -> str:
        actions.learn_weight(
            item=item,
            pieces=form.cleaned_data["pieces"],
            milligrams=form.milligrams,
            by=request.user,
            at=timezone.now(),
        )
        return _row_address(item)

    return _row_answer(request, item, form, act, {"known_form": form}, field="weight")


@require_POST
@owner_and_crew
def pack(request: StudioRequest, item_id: int) -> HttpResponse:
    """Learn how much room one takes from a known number packed as they travel."""
    item = get_object_or_404(Item.objects.with_colour(), pk=item_id)
    form = _room_form(request, item, request.POST)

    def act() -> str:
        actions.learn_room(
            item=item,
            pieces=form.cleaned_data["pieces"],
            millilitres=form.millilitres,
            by=request.user,
            at=timezone.now(),
        )
        return _row_address(item)

    return _row_answer(request, item, form, act, {"room_form": form}, field="room")


@require_safe
@owner_and_crew
def review(request: StudioRequest) -> HttpResponse:
    """What differs, before it is written to the ledger."""
    return _review_page(request)


@require_POST
@owner_and_crew
def finish(request: StudioRequest, sheet_id: int) -> HttpResponse:
    """Write the whole count to the ledger, once."""
    sheet = get_object_or_404(CountSheet, pk=sheet_id)

    def act() -> str:
        written = actions.finish_count(sheet=sheet, by=request.user, at=timezone.now())
        messages.success(request, f"The count is in the ledger: {written:,} item{'' if written == 1 else 's'}.")
        return reverse("stock:count")

    return _acted(request, act)


@require_POST
@owner_and_crew
def drop(request: StudioRequest, sheet_id: int) -> HttpResponse:
    """Throw the unfinished count away."""
    sheet = get_object_or_404(CountSheet, pk=sheet_id)

    def act() -> str:
        actions.drop_count(sheet=sheet, by=request.user, at=timezone.now())
        messages.success(request, "The count is thrown away; the ledger is as it was.")
        return reverse("stock:count")

    return _acted(request, act)


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def rules(request: StudioRequest) -> HttpResponse:
    """How long latex is good, and how far a count may differ."""

    def act(form: RulesForm) -> str:
        actions.change_rules(**form.cleaned_data, by=request.user, at=timezone.now())
        messages.success(request, "The rules of the shelf are saved. What is on the shelf already keeps its dates.")
        return reverse("stock:rules")

    return edit_row(
        request,
        ShelfRules.objects.current(),
        what="The rules of the shelf",
        columns=frozenset(RulesForm.Meta.fields),
        form_of=lambda sent, row: RulesForm(sent, instance=row),
        act=act,
        show=lambda form, seen: render(request, "stock/rules.html", {"form": form, "seen": seen}),
        hold=_held_rules,
    )


def _held_rules() -> ShelfRules:
    """The rules as they are, one change of settings at a time: nobody has changed them yet, there is no row to hold."""
    hold_settings()
    return ShelfRules.objects.current()


def _place_asked(request: StudioRequest, found: ShelfCount) -> str | None:
    """The place to count; None where none is chosen yet and there is more than one."""
    if "place" in request.GET:
        return request.GET["place"][:40]
    at = _item_asked(request)
    for row in found.rows if at else ():
        if row.item.pk == at:
            return row.item.place
    return found.places[0].name if len(found.places) == 1 else None


def _item_asked(request: StudioRequest) -> int | None:
    sent = request.GET.get("at", "")
    return int(sent) if sent.isascii() and sent.isdigit() and len(sent) < 19 else None


def _page_asked(request: StudioRequest, rows: tuple[CountRow, ...]) -> int | str:
    """The page with the item just counted on it, else the page asked for."""
    at = _item_asked(request)
    index = next((n for n, row in enumerate(rows) if row.item.pk == at), None)
    return request.GET.get("page", "1") if index is None else index // ROWS_A_PAGE + 1


def _row_address(item: Item) -> str:
    return f"{reverse('stock:count')}?at={item.pk}#item-{item.pk}"


def _room_form(request: StudioRequest, item: Item, data: Any = None) -> KnownRoomForm:
    return KnownRoomForm(
        data,
        room_millilitres=item.room_millilitres,
        measures=request.studio.system,
        auto_id=f"id_{item.pk}_room_%s",
    )


def _forms_of(request: StudioRequest, row: CountRow, **refused: Any) -> Forms:
    """A row with its forms, those that were refused as they were typed."""
    item = row.item
    return {
        "row": row,
        "count_form": CountForm(piece_milligrams=item.piece_milligrams, auto_id=f"id_{item.pk}_%s"),
        "reason_form": ReasonForm(auto_id=f"id_{item.pk}_%s"),
        "known_form": KnownWeightForm(auto_id=f"id_{item.pk}_known_%s"),
        # Balloons take the room their pictures say.
        "room_form": None if item.sort == Item.Sort.LATEX else _room_form(request, item),
    } | refused


def _row_answer(
    request: StudioRequest, item: Item, form: Any, act: Callable[[], str], forms: Forms, *, field: str
) -> HttpResponse:
    """Do `act` and show the row as it is now, or the row with what to mend."""

    def show_again() -> HttpResponse:
        shown = _forms_of(request, queries.count_row(item), **forms)
        template = "stock/_count_row.html" if request.htmx else "stock/count_one.html"
        return render(request, template, shown | {"refused": form})

    answer = act_on_form(request, form, act, show_again, refusals=(CountRefusal, StockRefusal), field=field)
    return _swapped(request, item, answer)


def _swapped(request: StudioRequest, item: Item, answer: HttpResponse) -> HttpResponse:
    """For htmx the row itself instead of the way to it."""
    if not request.htmx or answer.status_code != 302 or "review" in answer.headers["Location"]:
        return answer
    item.refresh_from_db()
    return render(request, "stock/_count_row.html", _forms_of(request, queries.count_row(item)))


def _review_page(request: StudioRequest, refusal: str = "") -> HttpResponse:
    found = queries.shelf_count()
    page = Paginator(found.differing, ROWS_A_PAGE).get_page(request.GET.get("page"))
    context = {"count": found, "page": page, "rows": [_forms_of(request, row) for row in page], "refusal": refusal}
    return render(request, "stock/count_review.html", context)


def _acted(request: StudioRequest, act: Callable[[], str]) -> HttpResponse:
    try:
        return answer_once(request, act)
    except CountRefusal as refusal:
        response = _review_page(request, str(refusal))
        response.status_code = 422
        return response
