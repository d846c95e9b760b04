"""What a job is to cost the client: every figure as a line that says where it comes from.

Amounts are decimals of the currency's main unit. Each line is rounded once, half up, to the currency's
places, and the lines add up to the price exactly; so do the prices of the pieces.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from estimating.hours import Hours
from estimating.specs import SpecError, SpecErrors
from studio.money import round_up_to_step, shares, tax

ZERO = Decimal(0)


@dataclass(frozen=True, slots=True)
class PriceRates:
    """What the studio's time and risk cost. Raises SpecErrors where a figure makes no sense.

    `overhead_percent` is of all costs; `margin_percent` is the part of the price left when every cost is
    paid, so 30 turns a cost of 70 into a price of 100. `step` is what prices and deposits are rounded up to. Tax is
    rounded once, on the whole price, or on each piece's part of it where `tax_on_each_piece`.
    """

    hourly: Decimal
    per_distance: Decimal
    overhead_percent: Decimal
    margin_percent: Decimal
    minimum: Decimal
    step: Decimal
    tax_percent: Decimal
    deposit_percent: Decimal
    tax_on_each_piece: bool = False

    def __post_init__(self) -> None:
        errors = [
            SpecError(name, "must be 0 or more", value)
            for name in self.__dataclass_fields__
            if name != "tax_on_each_piece" and not ((value := getattr(self, name)).is_finite() and value >= 0)
        ]
        if errors:
            raise SpecErrors(errors)
        if self.margin_percent >= 100:
            errors.append(SpecError("margin_percent", "must be less than 100", self.margin_percent))
        if self.deposit_percent > 100:
            errors.append(SpecError("deposit_percent", "must be at most 100", self.deposit_percent))
        if self.step == 0:
            errors.append(SpecError("step", "must be more than 0", self.step))
        if errors:
            raise SpecErrors(errors)


@dataclass(frozen=True, slots=True)
class PieceCost:
    """What one piece takes: its materials at pack cost and minutes of one person's work. `key` finds it again."""

    key: str
    title: str
    materials: Decimal
    minutes: int


@dataclass(frozen=True, slots=True)
class PriceLine:
    """One figure of a price and what it came from."""

    label: str
    amount: Decimal
    why: str


@dataclass(frozen=True, slots=True)
class Price:
    """A job's price.

    `lines` add up to `before_tax`; `pieces` are each piece's key and its part of `before_tax`, adding up to
    it too. `margin` is what is left of it when `cost` is paid. `earnings_per_hour` is what is left of it for
    each person's hour when everything but work is paid; None where no time was reckoned, as `margin_percent`
    is where nothing is asked.
    """

    lines: tuple[PriceLine, ...]
    pieces: tuple[tuple[str, Decimal], ...]
    cost: Decimal
    margin: Decimal
    margin_percent: Decimal | None
    before_tax: Decimal
    tax: Decimal
    total: Decimal
    deposit: Decimal
    earnings_per_hour: Decimal | None


def price(
    *,
    pieces: Sequence[PieceCost],
    hours: Hours,
    rates: PriceRates,
    distance: Decimal = ZERO,
    kit_wear: Decimal = ZERO,
    currency_places: int = 2,
) -> Price:
    """The price of a job of these pieces. Raises SpecErrors for no pieces, negative costs or a step finer than
    a coin.

    `hours` are the whole job's, `distance` the miles or kilometres driven, `kit_wear` what the kit used loses.
    """
    _check(pieces, rates, distance, kit_wear, currency_places)
    places = currency_places
    costs = _cost_lines(pieces, hours, rates, distance, kit_wear, places)
    cost = sum((line.amount for line in costs), ZERO)
    lines = [*costs, *_lines_above(cost, rates, places)]
    before_tax = sum((line.amount for line in lines), ZERO)
    priced = _piece_prices(pieces, before_tax, rates, places)
    taxed = [amount for _, amount in priced] if rates.tax_on_each_piece else [before_tax]
    due = sum((tax(amount, rates.tax_percent, places) for amount in taxed), ZERO)
    total = before_tax + due
    deposit = min(total, round_up_to_step(total * rates.deposit_percent / 100, rates.step))
    labour = sum((line.amount for line in costs if line.label in LABOUR), ZERO)
    earned = Fraction(before_tax - cost + labour) * 60
    return Price(
        lines=tuple(line for line in lines if line.amount),
        pieces=priced,
        cost=cost,
        margin=before_tax - cost,
        margin_percent=_rounded(Fraction((before_tax - cost) * 100) / Fraction(before_tax), 1) if before_tax else None,
        before_tax=before_tax,
        tax=due,
        total=total,
        deposit=_rounded(Fraction(deposit), places),
        earnings_per_hour=_rounded(earned / hours.person_minutes, places) if hours.person_minutes else None,
    )


def price_as_asked(amount: Decimal, *, rates: PriceRates, currency_places: int = 2) -> Price:
    """The price of something the studio asks a round amount for: tax and deposit follow as they do for a job.

    It has no lines, pieces or hours, and costs nothing here: whoever knows what goes into it adds that.
    """
    due = tax(amount, rates.tax_percent, currency_places)
    total = amount + due
    deposit = min(total, round_up_to_step(total * rates.deposit_percent / 100, rates.step))
    return Price(
        lines=(),
        pieces=(),
        cost=ZERO,
        margin=amount,
        margin_percent=None,
        before_tax=amount,
        tax=due,
        total=total,
        deposit=_rounded(Fraction(deposit), currency_places),
        earnings_per_hour=None,
    )


WORK, GETTING_READY, ON_THE_WAY = "Work", "Gas and decals", "Time on the way"
LABOUR = (WORK, GETTING_READY, ON_THE_WAY)
"""The lines that pay for people's hours; together they are all of them."""


def _cost_lines(
    pieces: Sequence[PieceCost],
    hours: Hours,
    rates: PriceRates,
    distance: Decimal,
    kit_wear: Decimal,
    places: int,
) -> list[PriceLine]:
    """Everything the job costs the studio, overhead last."""
    on_the_way = hours.crew * hours.travel_minutes
    ready = hours.ready_minutes
    working = hours.person_minutes - on_the_way - ready
    an_hour = Fraction(rates.hourly) / 60
    said = f"person-minutes at {rates.hourly} an hour, crew of {hours.crew}"
    said_alone = f"minutes of one person at {rates.hourly} an hour"
    lines = [
        PriceLine(f"Materials: {piece.title}", _rounded(Fraction(piece.materials), places), "at pack cost")
        for piece in pieces
    ]
    lines += [
        PriceLine(WORK, _rounded(an_hour * working, places), f"{working} {said}"),
        PriceLine(GETTING_READY, _rounded(an_hour * ready, places), f"{ready} {said_alone}"),
        PriceLine(ON_THE_WAY, _rounded(an_hour * on_the_way, places), f"{on_the_way} {said}"),
        PriceLine(
            "Driving",
            _rounded(Fraction(distance) * Fraction(rates.per_distance), places),
            f"{distance} at {rates.per_distance} each",
        ),
        PriceLine("Kit wear", _rounded(Fraction(kit_wear), places), "what the kit used loses"),
    ]
    direct = sum((line.amount for line in lines), ZERO)
    overhead = _rounded(Fraction(direct) * Fraction(rates.overhead_percent) / 100, places)
    return [*lines, PriceLine("Overhead", overhead, f"{rates.overhead_percent} % of {direct}")]


def _lines_above(cost: Decimal, rates: PriceRates, places: int) -> list[PriceLine]:
    """What is added to the cost to make the price: margin, up to the minimum, up to the step."""
    kept = 1 - Fraction(rates.margin_percent) / 100
    margin = _rounded(Fraction(cost) / kept - Fraction(cost), places)
    so_far = cost + margin
    missing = max(ZERO, rates.minimum - so_far)
    rounding = round_up_to_step(so_far + missing, rates.step) - so_far - missing
    return [
        PriceLine("Margin", margin, f"{rates.margin_percent} % of the price {so_far}"),
        PriceLine("Up to the minimum", missing, f"no job is less than {rates.minimum}"),
        PriceLine("Rounding", rounding, f"up to the next {rates.step}"),
    ]


def _piece_prices(
    pieces: Sequence[PieceCost], before_tax: Decimal, rates: PriceRates, places: int
) -> tuple[tuple[str, Decimal], ...]:
    """The price shared among the pieces by what each costs in materials and work."""
    weights = [Fraction(piece.materials) + Fraction(rates.hourly) * piece.minutes / 60 for piece in pieces]
    if not any(weights):
        weights = [Fraction(1)] * len(pieces)
    shared = shares(int(before_tax.scaleb(places)), weights)
    return tuple((piece.key, Decimal(share).scaleb(-places)) for piece, share in zip(pieces, shared, strict=True))


def _check(pieces: Sequence[PieceCost], rates: PriceRates, distance: Decimal, kit_wear: Decimal, places: int) -> None:
    errors = [SpecError("pieces", "must be at least one", "none")] if not pieces else []
    for piece in pieces:
        if piece.materials < 0:
            errors.append(SpecError("materials", "must cost 0 or more", f"{piece.materials} for {piece.title}"))
        if piece.minutes < 0:
            errors.append(SpecError("minutes", "must be 0 or more", f"{piece.minutes} for {piece.title}"))
    if distance < 0:
        errors.append(SpecError("distance", "must be 0 or more", distance))
    if kit_wear < 0:
        errors.append(SpecError("kit_wear", "must be 0 or more", kit_wear))
    for name in ("step", "minimum"):
        amount = getattr(rates, name)
        if Fraction(amount) * 10**places % 1:
            errors.append(SpecError(name, f"must have at most {places} decimals in this currency", amount))
    if errors:
        raise SpecErrors(errors)


def _rounded(amount: Fraction, places: int) -> Decimal:
    """An exact amount, rounded once, half up (away from zero)."""
    scaled = abs(amount) * 10**places
    whole = int(scaled + Fraction(1, 2))
    return Decimal(whole if amount >= 0 else -whole).scaleb(-places)
