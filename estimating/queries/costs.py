"""What the lines of a materials list cost: the items they take off the shelf, at what packs cost."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from typing import Any

from django.db.models import Q

from estimating.lines import Line
from estimating.models import Rates
from stock.models import Colour, Item
from stock.queries import UnitCost, pack_costs

Key = tuple[str, int | None, int | None]
"""How an item is asked for: its sort, the key of its colour, its nominal size; or "item", its own key and nothing."""

NAMES = {
    "tie": "260 ties",
    "line": "Line",
    "hook": "Hooks",
    "ribbon": "Ribbon",
    "weight": "Weights",
    "gas": "Helium",
    "decal": "Decals",
}


@dataclass(frozen=True, slots=True)
class CostedLine:
    """An item a job takes, and what it costs. `item` is None while the shelf does not list it."""

    key: Key
    item: Item | None
    label: str
    needed: int
    spares: int
    unit_minor: Decimal
    source: str

    @property
    def total(self) -> int:
        """Needed and spares."""
        return self.needed + self.spares

    @property
    def cost_minor(self) -> Decimal:
        """What all of it costs at pack cost, not yet rounded."""
        return self.unit_minor * self.total

    @property
    def cost_whole_minor(self) -> int:
        """The same, rounded half up to show it; the lines are added up unrounded."""
        return int(self.cost_minor.to_integral_value(ROUND_HALF_UP))


@dataclass(frozen=True, slots=True)
class Shelf:
    """Every item by how a materials list asks for it, and what one of each costs; read once for several lists."""

    items: Mapping[Key, Item]
    costs: Mapping[int, UnitCost]


def whole_shelf() -> Shelf:
    """All of the shelf, with what it costs. Two statements."""
    items = _by_key(Item.objects.with_colour().order_by("-pk"))
    return Shelf(items, pack_costs([item.pk for item in items.values()]))


def key_of(line: Line) -> Key:
    """How the shelf is asked for a line of a materials list."""
    if line.item is not None:
        return (line.sort, int(line.item), None)
    return (line.sort, int(line.colour) if line.colour else None, line.size)


def cost_lines(
    lines: Iterable[Line],
    *,
    rates: Rates,
    colours: Iterable[Colour] | None = None,
    shelf: Shelf | None = None,
    priced: bool = True,
) -> tuple[CostedLine, ...]:
    """Each line with the item it takes off the shelf and what one costs: the cheapest pack, else the usual cost.

    `colours` are all of the studio's and `shelf` is the whole shelf, where the caller has read them. What
    packs cost is not read where nothing is `priced`.
    """
    lines = list(lines)
    items = items_by_key(lines) if shelf is None else shelf.items
    costs = shelf.costs if shelf is not None else {}
    if shelf is None and priced:
        costs = pack_costs([item.pk for line in lines if (item := items.get(key_of(line)))])
    named = {colour.pk: colour for colour in (Colour.objects.all() if colours is None else colours)}
    return tuple(_costed(line, items.get(key_of(line)), costs, named, rates) for line in lines)


def items_by_key(lines: Iterable[Line]) -> Mapping[Key, Item]:
    """The shelf's items by how a materials list asks for them; of several ties, lines or hooks the first.

    Things that are asked for by their key are found by it.
    """
    wanted = list(lines)
    named = {int(line.item) for line in wanted if line.item is not None}
    sorts = {line.sort for line in wanted} & set(NAMES)
    colours = {int(line.colour) for line in wanted if line.sort == Item.Sort.LATEX and line.colour}
    latex = Q(sort=Item.Sort.LATEX, colour__in=colours)
    listed = Item.objects.with_colour().filter(latex | Q(sort__in=sorts) | Q(pk__in=named))
    return _by_key(listed.order_by("-pk"))


def _by_key(listed: Iterable[Item]) -> dict[Key, Item]:
    """Items by how they are asked for, and each by its own key; `listed` has the first of several last."""
    found: dict[Key, Item] = {}
    for item in listed:
        latex = item.sort == Item.Sort.LATEX
        found[(item.sort, item.colour_id if latex else None, item.size if latex else None)] = item
        found[("item", item.pk, None)] = item
    return found


def _costed(
    line: Line, item: Item | None, costs: Mapping[int, Any], colours: Mapping[int, Colour], rates: Rates
) -> CostedLine:
    key = key_of(line)
    if item is not None:
        label = item.label
    elif line.sort == "latex" and key[1] is not None:
        label = f"{colours[key[1]]} {line.size}-inch"
    else:
        label = NAMES.get(line.sort, "Something that is no longer on the shelf")
    offered = costs.get(item.pk) if item is not None else None
    if offered is not None:
        unit, source = offered.unit_minor, f"pack of {offered.offer.pack_size} from {offered.offer.supplier}"
    else:
        unit, source = usual_unit_minor(line, rates), "nobody offers it: the usual cost from your rates"
    return CostedLine(key, item, label, line.needed, line.spares, unit, source)


def usual_unit_minor(line: Line, rates: Rates) -> Decimal:
    """What one of a line usually costs, by the studio's rates: a balloon, a foot, a litre, a piece."""
    usual = {
        "ribbon": Decimal(rates.usual_ribbon_minor),
        "weight": Decimal(rates.usual_weight_minor),
        "gas": Decimal(rates.usual_helium_minor) / 100,
        "decal": Decimal(rates.usual_decal_minor),
    }
    return usual[line.sort] if line.sort in usual else Decimal(rates.usual_cost_minor(line.size))
