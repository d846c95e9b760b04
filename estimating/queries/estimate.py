"""What an estimate says of a job: its pieces, what it takes, its hours and its price."""

from dataclasses import dataclass, field
from decimal import ROUND_HALF_UP, Decimal
from typing import Any

from estimating.hours import Hours, Step
from estimating.layout import Layout
from estimating.lessons import Lessons
from estimating.materials import Materials
from estimating.pricing import Price
from estimating.queries.costs import CostedLine
from estimating.ranges import Range
from stock.kit import Wear
from studio.money import minor_units, to_minor


@dataclass(frozen=True, slots=True)
class PieceToMake:
    """A piece as it is estimated: its spec, and the layout that was made from it."""

    name: str
    kind: str
    spec: Any
    layout: Layout


@dataclass(frozen=True, slots=True)
class PieceEstimate:
    """One piece: what it takes, the work in it, and its part of the price."""

    piece: PieceToMake
    materials: Materials
    steps: tuple[Step, ...]
    price_minor: int


@dataclass(frozen=True, slots=True)
class JobEstimate:
    """A whole job, amounts in the currency's smallest unit.

    `hourly_minor` is what each person's hour earns when everything but work is paid, None where no time was reckoned.
    `count_range` is how many balloons and `minutes_range` how many person-minutes it most likely takes. `kit` is what
    the kit promised to it loses, which together is the price's kit wear. `reckoned` is what the rates alone make of the
    hours, before what jobs have taught; `taught` is what they taught, and `worth` how many balloons and minutes the
    studio's own figures are worth beside it.
    """

    currency: str
    pieces: tuple[PieceEstimate, ...]
    lines: tuple[CostedLine, ...]
    hours: Hours
    price: Price
    tax_percent: Decimal
    tax_on_each_piece: bool
    count_range: Range
    minutes_range: Range
    reckoned: Hours
    kit: tuple[Wear, ...] = ()
    taught: Lessons = field(default_factory=Lessons)
    worth: tuple[int, int] = (1, 1)

    def _minor(self, amount: Decimal) -> int:
        return to_minor(amount, self.currency)

    @property
    def learned(self) -> tuple[str, ...]:
        """What it owes to earlier jobs, in sentences."""
        sizes: dict[str, set[int]] = {}
        for one in self.pieces:
            sizes.setdefault(one.piece.kind, set()).update(sizes_of(one.piece))
        balloons, minutes = self.worth
        return tuple(self.taught.sentences(sizes, balloons=balloons, minutes=minutes))

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
    def takes_gas(self) -> bool:
        """Whether anything in it is filled with helium."""
        return any(piece.materials.total_of("gas") for piece in self.pieces)

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


def _coins(amount: Decimal, currency: str) -> Decimal:
    return amount.quantize(Decimal(1).scaleb(-minor_units(currency)), ROUND_HALF_UP)


def sizes_of(piece: PieceToMake) -> set[int]:
    """The nominal sizes of its balloons."""
    return {size for _, size in piece.layout.counts()}
