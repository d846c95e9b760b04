"""What a job was expected to take on the day before it is wrapped up, and what it came to, figure by figure."""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

from bookings.models import Booking, JobEarnings, Quote, WrapUp, WrapUpFigure, WrapUpLine
from bookings.queries.agreed import agreed_of, agreed_pieces, choice_of
from bookings.queries.billing import accepted_quote
from bookings.queries.estimates import estimate_of, pieces_to_make
from bookings.queries.known import NO_SHELF, read_known
from bookings.queries.seen import Seen
from estimating.hours import minutes_by_part
from estimating.kinds import KINDS
from estimating.layout import Layout
from estimating.learning import LEAST_EXPECTED, LEAST_STRENGTH, Beta, pops_by_size
from estimating.lessons import LEARNED_PARTS
from estimating.lines import Line
from estimating.models import Rates
from estimating.pricing import LABOUR
from estimating.queries import JobEstimate, PieceToMake, material_rules, pace_stamp, usual_unit_minor
from estimating.ranges import Range
from stock.models import Colour, Item
from stock.queries import pack_costs
from stock.queries.kit import kit_wear
from studio.money import shares

What = WrapUpFigure.What


@dataclass(frozen=True, slots=True)
class Expected:
    """A job as it was agreed, estimated once more by today's rates and by what jobs have taught so far.

    `minutes` are everybody's in each part of the work, as they are expected, and `reckoned` by the rates alone.
    """

    quote: Quote | None
    pieces: tuple[PieceToMake, ...]
    estimate: JobEstimate
    rates: Rates
    seen: Seen
    minutes: dict[str, int]
    reckoned: dict[str, int]

    @property
    def counts(self) -> dict[tuple[str, int], int]:
        """How many balloons the layouts have of each size, by kind of piece."""
        found: Counter[tuple[str, int]] = Counter()
        for piece in self.pieces:
            for (_, size), count in piece.layout.counts().items():
                found[piece.kind, size] += count
        return dict(sorted(found.items()))


def expected_of(booking: Booking, *, currency: str) -> Expected | None:
    """What the job is expected to take: its pieces as they were agreed; None where it has none."""
    quote, pieces = _as_agreed(booking)
    if not pieces:
        return None
    known = read_known()
    estimate = estimate_of(pieces, booking, currency, known)
    return Expected(
        quote=quote,
        pieces=pieces,
        estimate=estimate,
        rates=known.rates,
        seen=known.shown,
        minutes=minutes_by_part(estimate.hours),
        reckoned=minutes_by_part(estimate.reckoned),
    )


def expected_minutes(booking: Booking, *, currency: str) -> dict[str, int] | None:
    """Everybody's minutes in each part of the work alone, as they are expected; None where the job has no pieces."""
    _, pieces = _as_agreed(booking)
    if not pieces:
        return None
    known = read_known(shelf=NO_SHELF, priced=False)
    return minutes_by_part(estimate_of(pieces, booking, currency, known, []).hours)


def _as_agreed(booking: Booking) -> tuple[Quote | None, tuple[PieceToMake, ...]]:
    """The newest accepted version, and the pieces as they were laid out for it; else as they stand."""
    quote = accepted_quote(booking)
    return quote, tuple(pieces_to_make(booking) if quote is None else _agreed(quote))


def figures_of(
    made: WrapUp, expected: Expected, lines: Iterable[WrapUpLine], minutes: Mapping[str, int] | None
) -> list[WrapUpFigure]:
    """What was expected of the job beside what it came to, not yet written; of hours where they are given."""
    lines = list(lines)
    found = [*_balloons(expected, lines), *_pops(expected, lines, outdoors=made.outdoors)]
    if minutes is not None:
        found += _minutes(expected, minutes)
    for figure in found:
        figure.wrap_up = made
    return found


def earnings_of(
    made: WrapUp, booking: Booking, expected: Expected, lines: Iterable[WrapUpLine], minutes: Mapping[str, int]
) -> JobEarnings | None:
    """What the job really earned, not yet written: what was agreed, less what it took; None without an accepted quote.

    Overhead is reckoned on the real costs, as it is on the reckoned ones in a price.
    """
    quote, rates = expected.quote, expected.rates
    if quote is None:
        return None
    lines, total = list(lines), sum(minutes.values())
    units = pack_costs([line.item_id for line in lines])
    spent = sum(
        (
            (line.taken - line.home)
            * (cost.unit_minor if (cost := units.get(line.item_id)) else _usual(line.item, rates))
            for line in lines
        ),
        Decimal(0),
    )
    work = Decimal(rates.hourly_minor) * total / 60
    direct = Decimal(2 * booking.distance * rates.per_distance_minor)
    direct += sum(wear.minor for wear in kit_wear(booking.pk))
    overhead = (spent + work + direct) * Decimal(rates.overhead_percent) / 100
    return JobEarnings(
        wrap_up=made,
        currency=quote.currency,
        kind=_main_kind(quote),
        price_minor=agreed_of(quote).price,
        materials_minor=_whole(spent),
        other_minor=_whole(direct + overhead),
        work_minor=_whole(work),
        minutes=total,
        hoped_minor=_hoped(quote, expected),
    )


def _agreed(quote: Quote) -> list[PieceToMake]:
    """The pieces that were chosen, as they were laid out for the quote."""
    return [
        PieceToMake(
            piece.name, piece.kind, KINDS[piece.kind].spec.from_json(piece.spec), Layout.from_json(piece.layout)
        )
        for piece in agreed_pieces(quote, with_layout=True)
    ]


def _figure(what: str, expected: Range, *, reckoned: int, came: int, kind: str = "", size: int = 0) -> WrapUpFigure:
    return WrapUpFigure(
        what=what,
        kind=kind,
        size=size,
        reckoned=reckoned,
        expected=round(expected.estimate),
        low=expected.low,
        high=expected.high,
        came=came,
    )


def _balloons(expected: Expected, lines: list[WrapUpLine]) -> list[WrapUpFigure]:
    """What was used of each size, shared among the kinds of piece as their layouts share it."""
    latex = [line for line in lines if line.item.sort == Item.Sort.LATEX]
    if not latex:
        return []
    used: Counter[int] = Counter()
    for line in latex:
        used[line.item.size or 0] += line.used
    found = []
    counts, strength = expected.counts, expected.rates.evidence_balloons
    for size in sorted({size for _, size in counts}):
        of_size = {kind: count for (kind, at), count in counts.items() if at == size}
        for (kind, count), came in zip(of_size.items(), shares(used[size], list(of_size.values())), strict=True):
            likely = expected.seen.lessons.balloons_to_come(kind, size, count, strength)
            found.append(_figure(What.BALLOONS, likely, reckoned=count, came=came, kind=kind, size=size))
    all_used = sum(line.used + line.popped for line in latex)
    whole = _figure(What.JOB_BALLOONS, expected.estimate.count_range, reckoned=sum(counts.values()), came=all_used)
    return [*found, whole]


def _pops(expected: Expected, lines: list[WrapUpLine], *, outdoors: bool) -> list[WrapUpFigure]:
    inflated: Counter[int] = Counter()
    popped: Counter[int] = Counter()
    for line in lines:
        colour = line.item.colour
        if line.item.sort == Item.Sort.LATEX and not (colour and colour.finish == Colour.Finish.FOIL):
            inflated[line.item.size or 0] += line.used + line.popped
            popped[line.item.size or 0] += line.popped
    usual, strength = material_rules(expected.rates).pop_rate(outdoors), expected.rates.evidence_balloons
    known = pops_by_size(expected.seen.pops, outdoors=outdoors, expected=usual, strength=strength)
    prior = Beta.prior(max(usual, LEAST_EXPECTED), max(strength, LEAST_STRENGTH))
    return [
        _figure(
            What.POPS,
            known.get(size, prior).predicted(number),
            reckoned=round(usual * number),
            came=popped[size],
            size=size,
        )
        for size, number in sorted(inflated.items())
        if number
    ]


def _minutes(expected: Expected, minutes: Mapping[str, int]) -> list[WrapUpFigure]:
    strength, stamp = 60 * expected.rates.evidence_hours, pace_stamp(expected.rates)
    found = []
    for part, took in minutes.items():
        reckoned = expected.reckoned.get(part, 0)
        likely = expected.seen.lessons.minutes_to_come(part, reckoned, strength)
        figure = _figure(What.MINUTES, likely, reckoned=reckoned, came=took)
        # The way was typed for the job and follows no pace; what was reckoned by hand teaches nothing.
        figure.part, figure.pace = part, stamp if part in LEARNED_PARTS and part != "travel" else ""
        figure.expected = expected.minutes.get(part, 0)
        found.append(figure)
    whole = _figure(
        What.JOB_MINUTES,
        expected.estimate.minutes_range,
        reckoned=expected.estimate.reckoned.person_minutes,
        came=sum(minutes.values()),
    )
    whole.expected, whole.pace = expected.estimate.hours.person_minutes, stamp
    return [*found, whole]


def _main_kind(quote: Quote) -> str:
    """The kind of piece that makes most of what was agreed; the first of two that make as much."""
    option = choice_of(quote).option
    made: Counter[str] = Counter()
    for piece in agreed_pieces(quote):
        made[piece.kind] += piece.price_in(option)
    return max(made, key=lambda kind: made[kind]) if made else ""


def _hoped(quote: Quote, expected: Expected) -> int | None:
    """What an hour was to earn by what was agreed and what was expected."""
    minutes = expected.estimate.hours.person_minutes
    if not minutes:
        return None
    work = sum(minor for label, minor, _ in expected.estimate.reasons if label in LABOUR)
    left = agreed_of(quote).price - (expected.estimate.cost_minor - work)
    return round(Fraction(left * 60, minutes))


def _usual(item: Item, rates: Rates) -> Decimal:
    return usual_unit_minor(Line(item.sort, None, item.size, 0, 0), rates)  # type: ignore[arg-type]


def _whole(amount: Decimal) -> int:
    return int(amount.to_integral_value(ROUND_HALF_UP))
