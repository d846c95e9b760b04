"""The story of one item: what there is, who it is promised to, and everything that happened to it."""

import datetime as dt
from collections.abc import Callable, Mapping
from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from stock import actions, queries
from stock.forms import ItemForm, LotForm, MoveForm, NewItemForm
from stock.lots import in_sentences
from stock.models import Item, Lot, Movement
from stock.queries import ItemStory
from stock.views import act_on_form, asked
from stock.views.editing import edit_row, kept
from studio.access import StudioRequest, owner_and_crew, owner_only
from studio.chart import ChartShape, step_chart

CHART_DAYS = 56
_EDIT_SHOWS = frozenset(ItemForm.Meta.fields)
Step = tuple[dt.date, int, str]


@require_safe
@owner_and_crew
def story(request: StudioRequest, item_id: int) -> HttpResponse:
    """One item on one page, with the forms that write to its ledger."""
    item = get_object_or_404(Item.objects.with_colour(), pk=item_id)
    return _story_page(request, item)


@require_POST
@owner_and_crew
def move(request: StudioRequest, item_id: int) -> HttpResponse:
    """Write one movement: counted, received, used or written off."""
    item = get_object_or_404(Item.objects.with_colour(), pk=item_id)
    sent = request.POST.get("kind", "")
    kind = sent if sent in Movement.Kind.values else Movement.Kind.COUNTED.value
    lots = queries.lots_on_hand([item.pk]).get(item.pk, [])
    form = MoveForm(request.POST, kind=kind, today=timezone.localdate(), lots=lots)

    def act() -> str:
        _write(form, item, request)
        messages.success(request, _said(kind, form.cleaned_data["quantity"], item))
        return reverse("stock:item", args=[item.pk])

    return act_on_form(
        request,
        form,
        act,
        lambda: _story_page(request, item, moved=(kind, form)),
        refusals=(actions.StockRefusal,),
        field="quantity",
    )


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def new(request: StudioRequest) -> HttpResponse:
    """List a balloon or another thing on the shelf; an empty cell of the grid leads here with it filled in."""
    form = NewItemForm(request.POST or None, initial=asked(request, "colour", "size", "sort"))

    def show() -> HttpResponse:
        return render(request, "stock/item_new.html", {"form": form})

    def act() -> str:
        item = form.unlisted()
        item.keep_back, item.place = form.cleaned_data["keep_back"] or 0, form.cleaned_data["place"]
        item.save()
        counted = form.cleaned_data["count"]
        if counted is not None:
            actions.count(item=item, counted=counted, by=request.user, at=timezone.now())
        messages.success(request, f"{item.label} is on the shelf list.")
        return reverse("stock:item", args=[item.pk])

    return act_on_form(request, form, act, show) if request.method == "POST" else show()


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def edit(request: StudioRequest, item_id: int) -> HttpResponse:
    """Change how many are kept back and where the item lies."""
    item = get_object_or_404(Item.objects.with_colour(), pk=item_id)

    def show(form: ItemForm, seen: str) -> HttpResponse:
        return render(request, "stock/item_edit.html", {"form": form, "item": item, "seen": seen})

    def act(form: ItemForm) -> str:
        messages.success(request, f"{kept(form, _EDIT_SHOWS).label} is saved.")
        return reverse("stock:item", args=[item.pk])

    return edit_row(
        request,
        item,
        what="How this is kept",
        columns=_EDIT_SHOWS,
        form_of=lambda sent, row: ItemForm(sent, instance=row),
        act=act,
        show=show,
    )


@require_http_methods(["GET", "HEAD", "POST"])
@owner_and_crew
def lot(request: StudioRequest, item_id: int, lot_id: int) -> HttpResponse:
    """Say until when a lot is good and where it lies."""
    found = get_object_or_404(Lot.objects.select_related("item__colour"), pk=lot_id, item=item_id)

    def form_of(sent: Any, row: Lot) -> LotForm:
        return LotForm(sent, instance=row, today=timezone.localdate())

    def show(form: LotForm, seen: str) -> HttpResponse:
        context = {"form": form, "lot": found, "item": found.item, "seen": seen}
        return render(request, "stock/lot.html", context)

    def act(form: LotForm) -> str:
        actions.change_lot(lot=found, **form.cleaned_data, by=request.user, at=timezone.now())
        messages.success(request, f"The lot of {found.item.label} is saved.")
        return reverse("stock:item", args=[found.item_id])

    columns = frozenset(LotForm.Meta.fields)
    return edit_row(request, found, what="This lot", columns=columns, form_of=form_of, act=act, show=show)


def _write(form: MoveForm, item: Item, request: StudioRequest) -> None:
    """The ledger line the form asks for."""
    quantity, why = form.cleaned_data["quantity"], form.cleaned_data["why"]
    by, at, lot = request.user, timezone.now(), form.cleaned_data.get("lot")
    writers: Mapping[str, Callable[[], object]] = {
        Movement.Kind.COUNTED: lambda: actions.count(item=item, counted=quantity, by=by, at=at, why=why),
        Movement.Kind.RECEIVED: lambda: actions.receive(
            item=item, quantity=quantity, by=by, at=at, why=why, best_before=form.cleaned_data["best_before"]
        ),
        Movement.Kind.USED: lambda: actions.use(item=item, quantity=quantity, by=by, at=at, why=why, lot=lot),
        Movement.Kind.WRITTEN_OFF: lambda: actions.write_off(
            item=item, quantity=quantity, by=by, at=at, why=why, lot=lot
        ),
    }
    writers[form.cleaned_data["kind"]]()


def _said(kind: str, quantity: int, item: Item) -> str:
    words = {
        Movement.Kind.COUNTED.value: f"{item.label} counted: {quantity:,} on the shelf.",
        Movement.Kind.RECEIVED.value: f"{quantity:,} of {item.label} received.",
        Movement.Kind.USED.value: f"{quantity:,} of {item.label} used.",
        Movement.Kind.WRITTEN_OFF.value: f"{quantity:,} of {item.label} written off.",
    }
    return words[kind]


def balance_steps(story: ItemStory, today: dt.date) -> list[Step]:
    """The balance from today on: on hand, with what arrives and less what is firmly promised, day by day.

    What is overdue, arrival or promise, is taken to happen today.
    """
    changes = [
        (max(coming.day, today), coming.quantity, f"{coming.label} +{coming.quantity:,}") for coming in story.arrivals
    ]
    changes += [
        (max(held.needed_on, today), -held.quantity, f"{held.booking_name[:24]} −{held.quantity:,}")
        for held in story.reservations
        if held.firm
    ]
    balance = story.cell.on_hand
    steps: list[Step] = [(today, balance, "")]
    for day, change, words in sorted(changes):
        balance += change
        steps.append((day, balance, words))
    return steps


def chart_of(story: ItemStory, today: dt.date, *, width: int, height: int) -> ChartShape | None:
    """The balance as a stair, eight weeks or as far as anything is known; None where nothing will change it."""
    steps = balance_steps(story, today)
    if len(steps) == 1:
        return None
    until = max(today + dt.timedelta(days=CHART_DAYS), steps[-1][0] + dt.timedelta(days=7))
    return step_chart(steps, today=today, until=until, width=width, height=height, keep_back=story.cell.keep_back)


def _story_page(request: StudioRequest, item: Item, *, moved: tuple[str, MoveForm] | None = None) -> HttpResponse:
    today = timezone.localdate()
    found = queries.item_story(item, today=today, page=request.GET.get("page", 1))
    kinds = [Movement.Kind.COUNTED, Movement.Kind.RECEIVED, Movement.Kind.USED, Movement.Kind.WRITTEN_OFF]
    forms = {kind.value: MoveForm(kind=kind, today=today, lots=found.lots) for kind in kinds} | dict(
        [moved] if moved else []
    )
    context = {
        "item": item,
        "story": found,
        "cell": found.cell,
        "page": found.movements,
        "firm": [held for held in found.reservations if held.firm],
        "tentative": [held for held in found.reservations if not held.firm],
        "forms": forms,
        "moved": moved[1] if moved else None,
        "open_kind": moved[0] if moved else Movement.Kind.COUNTED.value,
        "promised": found.cell.on_hand - found.cell.free,
        "today": today,
        "short": _short(item, today) if found.cell.short_by else None,
        # What is of no lot is told apart only beside lots.
        "lots": [(lot, not lot.is_good_on(today)) for lot in found.lots if any(one.key for one in found.lots)],
        "ageing": in_sentences(found.ageing(today), today=today),
        "chart": chart_of(found, today, width=960, height=220),
        "narrow": chart_of(found, today, width=340, height=220),
        "offers": found.offers if request.user.is_owner else (),
    }
    return render(request, "stock/item.html", context)


def _short(item: Item, today: dt.date) -> tuple[queries.BoardRow, tuple[queries.StandIn, ...]] | None:
    """The item as the weekly check sees it, with what could stand in for it; None where it does not run short."""
    board = queries.cover_board(today)
    row = next(row for row in board.rows if row.item.pk == item.pk)
    if row.cover.first_empty is None:
        return None
    return row, queries.stand_ins(row, board.rows, row.cover.first_empty, doubles=queries.recipes())
