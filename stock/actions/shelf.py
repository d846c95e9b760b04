"""What the shelf can hold: colours and items."""

from collections.abc import Iterable
from datetime import datetime

from django.core.exceptions import ValidationError
from django.db import transaction
from django.db.models import Max, Q

from stock.models import TIE_SIZE, Colour, Item
from studio.models import User

ItemKey = tuple[str, int | None, int | None]
"""What is needed: an item's sort, and for a balloon the key of its colour and its nominal size in inches.

("item", key, None) is the item of that key, whatever its sort.
"""

NAMED = "item"

STARTER_COLOURS: tuple[tuple[str, str, str], ...] = (
    ("Black", "#1b1b1f", Colour.Finish.STANDARD),
    ("White", "#f6f4f0", Colour.Finish.STANDARD),
    ("Ink", "#22314f", Colour.Finish.STANDARD),
    ("Sand", "#e3d3b8", Colour.Finish.STANDARD),
    ("Terracotta", "#c4694a", Colour.Finish.STANDARD),
    ("Sage", "#9caf8f", Colour.Finish.STANDARD),
    ("Blush", "#eec3bd", Colour.Finish.STANDARD),
    ("Gold", "#c79a3e", Colour.Finish.METALLIC),
    ("Silver", "#b9bdc4", Colour.Finish.METALLIC),
    ("Sky", "#8fc1e3", Colour.Finish.STANDARD),
    ("Coral", "#f0775e", Colour.Finish.STANDARD),
    ("Butter", "#f5e08e", Colour.Finish.STANDARD),
)
"""Name, swatch and finish of the colours a new studio starts with: everyday names, swatches of our own."""

_HARDWARE: dict[str, tuple[str, int | None, str]] = {
    Item.Sort.TIE.value: (f"{TIE_SIZE} ties", TIE_SIZE, "each"),
    Item.Sort.LINE.value: ("Line", None, "ft"),
    Item.Sort.HOOK.value: ("Hooks", None, "each"),
    Item.Sort.RIBBON.value: ("Ribbon", None, "ft"),
    Item.Sort.WEIGHT.value: ("Weights", None, "each"),
    Item.Sort.GAS.value: ("Helium", None, "litre"),
    Item.Sort.DECAL.value: ("Decals", None, "each"),
}
"""Name, size in inches and unit of what is no balloon."""


class ShelfRefusal(Exception):
    """Something the shelf's list cannot hold; the message is a sentence for the page."""


def usual_unit(sort: str) -> str:
    """What one of a sort is counted in, where nobody says otherwise."""
    return _HARDWARE.get(sort, ("", None, "each"))[2]


@transaction.atomic
def items_for(needs: Iterable[ItemKey]) -> dict[ItemKey, Item]:
    """The item of each need, put on the list where it was not there yet.

    A balloon ("latex") is found by colour and size. Ties, line, hooks, ribbon, weights, gas and decals are each one
    item, the first of its sort, whatever colour or size is named; "item" is one by its key. Five statements at most,
    however many needs. Raises `ShelfRefusal` for another sort, a balloon without colour or size, and a colour or an
    item that is not there.
    """
    wanted = list(dict.fromkeys(needs))
    for need in wanted:
        _check_need(need)
    found = _listed(wanted)
    missing = {_simple(need) for need in wanted} - found.keys()
    if missing:
        if gone := [key for sort, key, _ in missing if sort == NAMED]:
            raise ShelfRefusal(f"Item must be one of the shelf's (got number {gone[0]}).")
        _check_colours({colour for _, colour, _ in missing if colour is not None})
        # Another request may list the same item at this moment; then theirs is the one.
        Item.objects.bulk_create([_new_item(need) for need in sorted(missing, key=str)], ignore_conflicts=True)
        found = _listed(wanted)
    return {need: found[_simple(need)] for need in wanted}


@transaction.atomic
def add_colour(*, name: str, swatch: str, by: User, at: datetime, finish: str = Colour.Finish.STANDARD) -> Colour:
    """Add a colour after the others; a name and finish that are there already are refused."""
    last = Colour.objects.aggregate(last=Max("position"))["last"]
    colour = Colour(
        name=name.strip(), swatch=swatch.strip().lower(), finish=finish, position=0 if last is None else last + 1
    )
    try:
        colour.full_clean()
    except ValidationError as error:
        raise ShelfRefusal(" ".join(error.messages)) from error
    colour.save()
    return colour


@transaction.atomic
def starter_palette(*, by: User | None = None, at: datetime | None = None) -> list[Colour]:
    """The starter colours, those that are missing added after the others; done twice, it adds nothing."""
    there = {(colour.name.lower(), colour.finish): colour for colour in Colour.objects.all()}
    position = max((colour.position for colour in there.values()), default=-1)
    palette = []
    for name, swatch, finish in STARTER_COLOURS:
        colour = there.get((name.lower(), finish))
        if colour is None:
            position += 1
            colour = Colour.objects.create(name=name, swatch=swatch, finish=finish, position=position)
        palette.append(colour)
    return palette


def _check_need(need: ItemKey) -> None:
    sort, colour, size = need
    if sort == Item.Sort.LATEX:
        if colour is None or size is None:
            raise ShelfRefusal(f"A balloon needs a colour and a size (got colour {colour}, size {size}).")
    elif sort == NAMED:
        if colour is None:
            raise ShelfRefusal("An item that is named needs its key; none was given.")
    elif sort not in _HARDWARE:
        raise ShelfRefusal(f"Sort must be latex, item, {', '.join(_HARDWARE)} (got “{sort}”).")


def _simple(need: ItemKey) -> ItemKey:
    """A need without what does not tell items of its sort apart."""
    if need[0] == NAMED:
        return (NAMED, need[1], None)
    return need if need[0] == Item.Sort.LATEX else (need[0], None, None)


def _listed(needs: Iterable[ItemKey]) -> dict[ItemKey, Item]:
    needs = list(needs)
    balloons = [need for need in needs if need[0] == Item.Sort.LATEX]
    named = {need[1] for need in needs if need[0] == NAMED}
    items = Item.objects.with_colour().filter(
        Q(sort=Item.Sort.LATEX, colour__in={need[1] for need in balloons}, size__in={need[2] for need in balloons})
        | Q(sort__in={need[0] for need in needs} - {Item.Sort.LATEX.value, NAMED})
        | Q(pk__in=named)
    )
    found: dict[ItemKey, Item] = {}
    # The first of a sort is kept, so the last one written here is the first listed.
    for item in items.order_by("-pk"):
        latex = item.sort == Item.Sort.LATEX
        found[(item.sort, item.colour_id if latex else None, item.size if latex else None)] = item
        if item.pk in named:
            found[(NAMED, item.pk, None)] = item
    return found


def _check_colours(keys: set[int]) -> None:
    unknown = keys - set(Colour.objects.filter(pk__in=keys).values_list("pk", flat=True))
    if unknown:
        raise ShelfRefusal(f"Colour must be one of the studio's (got number {min(unknown)}).")


def _new_item(need: ItemKey) -> Item:
    sort, colour, size = need
    if sort == Item.Sort.LATEX:
        return Item(sort=sort, colour_id=colour, size=size)
    name, length, unit = _HARDWARE[sort]
    return Item(sort=sort, name=name, size=length, unit=unit)
