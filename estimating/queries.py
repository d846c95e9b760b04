"""What a job takes and costs, asked of the rates in force and of what packs cost. Nothing here changes anything."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import ROUND_HALF_UP, Decimal
from typing import Any

from django.db.models import Q

from estimating.drawing import Swatch
from estimating.hours import HourRates, Hours, Step, job_hours, work
from estimating.kinds import KINDS
from estimating.layout import Layout
from estimating.learning import Range, count_range, minutes_range
from estimating.lines import Line, Site
from estimating.materials import MaterialRules, Materials, item_lines, materials, together
from estimating.models import Rates
from estimating.pricing import PieceCost, Price, PriceRates, price
from stock.models import Colour, Item
from stock.queries import pack_costs
from studio.money import from_minor, minor_units, to_minor

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
class PieceToMake:
    """A piece as it is estimated: its spec, and the layout that was made from it."""

    name: str
    kind: str
    spec: Any
    layout: Layout


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
class PieceEstimate:
    """One piece: what it takes, the work in it, its part of the price, and what the decorator should know of it."""

    piece: PieceToMake
    materials: Materials
    steps: tuple[Step, ...]
    price_minor: int
    advice: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class JobEstimate:
    """A whole job, amounts in the currency's smallest unit.

    `hourly_minor` is what each person's hour earns when everything but work is paid, None where no time was reckoned.
    `count_range` is how many balloons and `minutes_range` how many person-minutes it most likely takes.
    """

    currency: str
    pieces: tuple[PieceEstimate, ...]
    lines: tuple[CostedLine, ...]
    hours: Hours
    price: Price
    tax_percent: Decimal
    count_range: Range
    minutes_range: Range

    def _minor(self, amount: Decimal) -> int:
        return to_minor(amount, self.currency)

    @property
    def price_minor(self) -> int:
        """What is asked before tax."""
        return self._minor(self.price.before_tax)

    @property
    def tax_minor(self) -> int:
        """The tax on it."""
        return self._minor(self.price.tax)

    @property
    def total_minor(self) -> int:
        """Price and tax."""
        return self._minor(self.price.total)

    @property
    def deposit_minor(self) -> int:
        """What holds the date."""
        return self._minor(self.price.deposit)

    @property
    def cost_minor(self) -> int:
        """What the job costs the studio, its own hours included."""
        return self._minor(self.price.cost)

    @property
    def margin_minor(self) -> int:
        """What is left of the price when every cost is paid."""
        return self._minor(self.price.margin)

    @property
    def person_minutes(self) -> int:
        """Everybody's minutes, travel included."""
        return self.hours.person_minutes

    @property
    def hourly_minor(self) -> int | None:
        """What an hour earns."""
        return None if self.price.earnings_per_hour is None else self._minor(self.price.earnings_per_hour)

    @property
    def hourly_range(self) -> tuple[int, int] | None:
        """From what to what an hour earns, as the job takes longer or goes faster; None where no time was reckoned."""
        slow, fast = self.minutes_range.high, self.minutes_range.low
        if self.price.earnings_per_hour is None or not fast:
            return None
        earned = self.price.earnings_per_hour * self.person_minutes
        lowest, highest = (self._minor(_coins(earned / n, self.currency)) for n in (slow, fast))
        return lowest, highest

    @property
    def reasons(self) -> list[tuple[str, int, str]]:
        """Every figure of the price: what, how much, why. They add up to it."""
        return [(line.label, self._minor(line.amount), line.why) for line in self.price.lines]


def material_rules(rates: Rates) -> MaterialRules:
    """The studio's own figures for waste."""
    return MaterialRules(
        pop_indoors_percent=Decimal(rates.pop_indoors_percent),
        pop_outdoors_percent=Decimal(rates.pop_outdoors_percent),
        confidence_percent=Decimal(rates.confidence_percent),
    )


def hour_rates(rates: Rates) -> HourRates:
    """The studio's own pace."""
    same_name = (
        "seconds_small",
        "seconds_medium",
        "seconds_large",
        "seconds_giant",
        "seconds_per_foot",
        "seconds_per_attachment",
        "seconds_per_ribbon",
        "seconds_per_letter",
        "seconds_per_sealed",
        "setup_minutes",
        "strike_minutes",
    )
    return HourRates(**{name: getattr(rates, name) for name in same_name}, crew_exponent=Decimal(rates.crew_exponent))


def price_rates(rates: Rates, currency: str) -> PriceRates:
    """The studio's own prices, in the currency's main unit."""
    return PriceRates(
        hourly=from_minor(rates.hourly_minor, currency),
        per_distance=from_minor(rates.per_distance_minor, currency),
        overhead_percent=without_zeros(rates.overhead_percent),
        margin_percent=without_zeros(rates.margin_percent),
        minimum=from_minor(rates.minimum_minor, currency),
        step=from_minor(rates.rounding_minor, currency),
        tax_percent=without_zeros(rates.tax_percent),
        deposit_percent=without_zeros(rates.deposit_percent),
    )


def estimate_job(
    pieces: Sequence[PieceToMake],
    *,
    rates: Rates,
    currency: str,
    distance: int = 0,
    travel_minutes: int = 0,
    crew: int = 1,
    site: Site | None = None,
    balloons_seen: Sequence[tuple[int, int]] = (),
    minutes_seen: Sequence[tuple[int, int]] = (),
    colours: Iterable[Colour] | None = None,
) -> JobEstimate:
    """What these pieces take and cost as one job; `distance` and `travel_minutes` are one way, and reckoned both ways.

    `site` is the place they are made for, by the sea on a mild day where it is not known. What was reckoned and what
    was used or taken in jobs wrapped up are `balloons_seen` and `minutes_seen`: they narrow the ranges. `colours` are
    all of the studio's, where the caller has read them. Raises SpecErrors for no pieces at all.
    """
    rules, pace = material_rules(rates), hour_rates(rates)
    lists = [materials_of(piece, rules=rules, site=site or Site()) for piece in pieces]
    steps = [
        work(
            made,
            piece.layout,
            rates=pace,
            own=piece.spec.own_figures(),
            tasks=KINDS[piece.kind].tasks(piece.spec, piece.layout),
        )
        for piece, made in zip(pieces, lists, strict=True)
    ]
    lines = cost_lines(together(lists), rates=rates, colours=colours)
    unit = {line.key: line.unit_minor for line in lines}
    places = minor_units(currency)
    hours = job_hours(steps, rates=pace, travel_minutes=2 * travel_minutes, crew=crew)
    made_price = price(
        pieces=[
            PieceCost(
                key=str(n),
                title=piece.name,
                materials=sum((unit[key_of(line)] * line.total for line in made.lines), Decimal(0)).scaleb(-places),
                minutes=sum(step.minutes for step in work_steps),
            )
            for n, (piece, made, work_steps) in enumerate(zip(pieces, lists, steps, strict=True))
        ],
        hours=hours,
        rates=price_rates(rates, currency),
        distance=Decimal(2 * distance),
        currency_places=places,
    )
    prices = dict(made_price.pieces)
    return JobEstimate(
        currency=currency,
        pieces=tuple(
            PieceEstimate(
                piece, made, work_steps, to_minor(prices[str(n)], currency), advice_on(piece, site=site or Site())
            )
            for n, (piece, made, work_steps) in enumerate(zip(pieces, lists, steps, strict=True))
        ),
        lines=lines,
        hours=hours,
        price=made_price,
        tax_percent=without_zeros(rates.tax_percent),
        count_range=count_range(
            sum(made.balloons() for made in lists), strength=rates.evidence_balloons, seen=balloons_seen
        ),
        minutes_range=minutes_range(hours.person_minutes, strength=60 * rates.evidence_hours, seen=minutes_seen),
    )


def _coins(amount: Decimal, currency: str) -> Decimal:
    return amount.quantize(Decimal(1).scaleb(-minor_units(currency)), ROUND_HALF_UP)


def advice_on(piece: PieceToMake, *, site: Site) -> tuple[str, ...]:
    """What the decorator should know of a piece made for that place: how long it floats, how its lettering goes on."""
    outdoors = bool(getattr(piece.spec, "outdoors", False))
    return KINDS[piece.kind].advice(piece.spec, piece.layout, replace(site, outdoors=outdoors))


def materials_of(piece: PieceToMake, *, rules: MaterialRules, site: Site) -> Materials:
    """Everything a piece takes there: what its layout says, its kind's own lines, and what was added by hand."""
    kind, outdoors = KINDS[piece.kind], bool(getattr(piece.spec, "outdoors", False))
    own_lines = kind.extras(piece.spec, piece.layout, replace(site, outdoors=outdoors))
    return materials(
        piece.layout,
        rules=rules,
        outdoors=outdoors,
        own=piece.spec.own_figures(),
        structure=kind.structure(piece.layout),
        extras=(*own_lines, *item_lines(getattr(piece.spec, "extras", ()))),
    )


def without_zeros(percent: Decimal | str) -> Decimal:
    """The same figure as it is written: 8.25 for 8.250, 30 for 30.000."""
    return Decimal(f"{Decimal(percent).normalize():f}")


def key_of(line: Line) -> Key:
    """How the shelf is asked for a line of a materials list."""
    if line.item is not None:
        return (line.sort, int(line.item), None)
    return (line.sort, int(line.colour) if line.colour else None, line.size)


def cost_lines(
    lines: Iterable[Line], *, rates: Rates, colours: Iterable[Colour] | None = None
) -> tuple[CostedLine, ...]:
    """Each line with the item it takes off the shelf and what one costs: the cheapest pack, else the usual cost.

    `colours` are all of the studio's, where the caller has read them.
    """
    lines = list(lines)
    items = items_by_key(lines)
    costs = pack_costs([item.pk for line in lines if (item := items.get(key_of(line)))])
    named = {colour.pk: colour for colour in (Colour.objects.all() if colours is None else colours)}
    return tuple(_costed(line, items.get(key_of(line)), costs, named, rates) for line in lines)


def items_by_key(lines: Iterable[Line]) -> dict[Key, Item]:
    """The shelf's items by how a materials list asks for them; of several ties, lines or hooks the first.

    Things that are asked for by their key are found by it.
    """
    found: dict[Key, Item] = {}
    named = {int(line.item) for line in lines if line.item is not None}
    listed = Item.objects.with_colour().filter(Q(sort="latex") | Q(sort__in=NAMES) | Q(pk__in=named)).order_by("-pk")
    for item in listed:
        latex = item.sort == Item.Sort.LATEX
        found[(item.sort, item.colour_id if latex else None, item.size if latex else None)] = item
        if item.pk in named:
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


def palette(colours: Iterable[Colour] | None = None) -> dict[str, Swatch]:
    """Every colour of the studio as a drawing asks for it: by the text of its key.

    `colours` are all of them, where the caller has read them.
    """
    listed = Colour.objects.all() if colours is None else colours
    return {colour.key: Swatch(colour.swatch, str(colour), colour.finish, colour.form) for colour in listed}
