"""What pieces take and cost together as one job, asked of the rates in force and of what packs cost."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from decimal import Decimal

from estimating.hours import at_pace, getting_ready, job_hours, work
from estimating.kinds import KINDS
from estimating.learning import Beta, PopsSeen, count_range, minutes_range, pops_by_size
from estimating.lessons import Lessons, pinned_pops, pops_key
from estimating.lines import Site, Sort
from estimating.materials import MaterialRules, Materials, item_lines, materials, together
from estimating.models import Rates
from estimating.pricing import PieceCost, price
from estimating.queries.colours import foils_of
from estimating.queries.costs import Shelf, cost_lines, key_of
from estimating.queries.estimate import JobEstimate, PieceEstimate, PieceToMake, sizes_of
from estimating.queries.rates import hour_rates, material_rules, price_rates, without_zeros
from stock.kit import Wear
from stock.models import Colour
from studio.money import minor_units, to_minor


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
    pops_seen: Sequence[PopsSeen] = (),
    colours: Iterable[Colour] | None = None,
    kit: Sequence[Wear] = (),
    lessons: Lessons | None = None,
    shelf: Shelf | None = None,
    priced: bool = True,
) -> JobEstimate:
    """What these pieces take and cost as one job; `distance` and `travel_minutes` are one way, and reckoned both ways.

    `site` is the place they are made for, by the sea on a mild day where it is not known. What was reckoned and what
    was used or taken in jobs wrapped up are `balloons_seen` and `minutes_seen`: they narrow the ranges. `pops_seen`,
    how many of each size popped in them, decides the spares. `colours` are all of the studio's, where the caller has
    read them. Raises SpecErrors for no pieces at all.

    `shelf` is the whole shelf, where the caller has read it; where it is not `priced`, what things cost is not read,
    and no amount is right. `kit` is what the kit it uses loses. `lessons` are what jobs have taught of counts and
    hours, and what is pinned: they scale spares and hours, never what is drawn.
    """
    taught = lessons or Lessons()
    rules, pace = material_rules(rates), hour_rates(rates)
    listed = list(Colour.objects.all() if colours is None else colours)
    foils = foils_of(listed)
    pieces = [replace(piece, layout=piece.layout.in_foil(foils)) for piece in pieces]
    lists = [
        materials_of(
            piece,
            rules=rules,
            site=site or Site(),
            pops=_pops(piece, rules, rates, pops_seen, taught),
            more=taught.more_in(piece.kind, sizes_of(piece), rates.evidence_balloons),
        )
        for piece in pieces
    ]
    paces = taught.paces(60 * rates.evidence_hours)
    by_the_rates = [
        work(
            made,
            piece.layout,
            rates=pace,
            own=piece.spec.own_figures(),
            tasks=KINDS[piece.kind].tasks(piece.spec, piece.layout),
        )
        for piece, made in zip(pieces, lists, strict=True)
    ]
    steps = [tuple(at_pace(step, paces) for step in piece) for piece in by_the_rates]
    ready = getting_ready(litres=_of_all(lists, "gas"), decals=_of_all(lists, "decal"), rates=pace)
    lines = cost_lines(together(lists), rates=rates, colours=listed, shelf=shelf, priced=priced)
    unit = {line.key: line.unit_minor for line in lines}
    places = minor_units(currency)
    reckoned, hours = (
        job_hours(by_the_rates, rates=pace, travel_minutes=2 * travel_minutes, crew=crew, ready=ready, paces=known)
        for known in ({}, paces)
    )
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
        kit_wear=Decimal(sum(wear.minor for wear in kit)).scaleb(-places),
        currency_places=places,
    )
    prices = dict(made_price.pieces)
    return JobEstimate(
        currency=currency,
        pieces=tuple(
            PieceEstimate(piece, made, work_steps, to_minor(prices[str(n)], currency))
            for n, (piece, made, work_steps) in enumerate(zip(pieces, lists, steps, strict=True))
        ),
        lines=lines,
        hours=hours,
        price=made_price,
        tax_percent=without_zeros(rates.tax_percent),
        tax_on_each_piece=rates.tax_each == Rates.TaxEach.LINE,
        count_range=count_range(
            sum(made.balloons() for made in lists), strength=rates.evidence_balloons, seen=balloons_seen
        ),
        minutes_range=minutes_range(
            reckoned.person_minutes,
            strength=60 * rates.evidence_hours,
            seen=minutes_seen,
            about=hours.person_minutes if paces else None,
        ),
        kit=tuple(kit),
        reckoned=reckoned,
        taught=taught,
        worth=(rates.evidence_balloons, 60 * rates.evidence_hours),
    )


def _of_all(lists: Iterable[Materials], sort: Sort) -> int:
    """How much of one sort they take together, with spares."""
    return sum(made.total_of(sort) for made in lists)


def advice_on(piece: PieceToMake, *, site: Site, inflated: Mapping[int, float]) -> tuple[str, ...]:
    """What the decorator should know of a piece made for that place: how long it floats, how its lettering goes on."""
    outdoors = bool(getattr(piece.spec, "outdoors", False))
    return KINDS[piece.kind].advice(piece.spec, piece.layout, replace(site, outdoors=outdoors), inflated=inflated)


def _pops(
    piece: PieceToMake, rules: MaterialRules, rates: Rates, seen: Sequence[PopsSeen], lessons: Lessons
) -> dict[int, Beta]:
    """What is known of the pops of each size where a piece stands; pinned ones as they are pinned."""
    outdoors = bool(getattr(piece.spec, "outdoors", False))
    expected = rules.pop_rate(outdoors)
    known = pops_by_size(seen, outdoors=outdoors, expected=expected, strength=rates.evidence_balloons)
    pins = {size: lessons.pins.get(pops_key(outdoors, size)) for size in sizes_of(piece)}
    return known | {size: pinned_pops(chance) for size, chance in pins.items() if chance is not None}


def materials_of(
    piece: PieceToMake,
    *,
    rules: MaterialRules,
    site: Site,
    pops: Mapping[int, Beta] | None = None,
    more: Mapping[int, float] | None = None,
) -> Materials:
    """Everything a piece takes there: what its layout says, its kind's own lines, and what was added by hand.

    `pops` are what jobs have shown of latex of some nominal sizes in such a place, and `more` how many times the count
    of a size they used.
    """
    kind, outdoors = KINDS[piece.kind], bool(getattr(piece.spec, "outdoors", False))
    own_lines = kind.extras(piece.spec, piece.layout, replace(site, outdoors=outdoors))
    return materials(
        piece.layout,
        rules=rules,
        outdoors=outdoors,
        own=piece.spec.own_figures(),
        structure=kind.structure(piece.layout),
        extras=(*own_lines, *item_lines(getattr(piece.spec, "extras", ()))),
        pops=pops,
        more=more,
    )
