"""A ceiling of floating balloons as asked for."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from math import ceil

from estimating.afloat import SMALLEST_AFLOAT
from estimating.specs import (
    MOST_BALLOONS,
    OwnFigures,
    Spec,
    SpecError,
    SpecErrors,
    check_colour,
    check_doubled,
    check_extras,
    check_millimetres,
    check_shares,
    check_size,
    check_true_or_false,
    check_whole,
)

INCH = Decimal("25.4")
LEAST_SIDE, MOST_SIDE = 12 * INCH, 2400 * INCH
LOWEST, HIGHEST = 72 * INCH, 480 * INCH
LONGEST_TAIL = 120 * INCH


@dataclass(frozen=True, slots=True)
class FloatsSpec(Spec):
    """A ceiling of floating balloons as asked for. Raises SpecErrors with everything that is wrong.

    `width_mm` and `depth_mm` are the part of the ceiling that is covered, `ceiling_mm` its height; `per_hundred_ft2`
    is how many balloons float under a hundred square feet (a hundred is usual). `mix` is nominal size and percent of
    the balloons, `colours` a colour's key and percent. `tail_mm` is the ribbon below each balloon, 0 for none.
    """

    width_mm: Decimal
    depth_mm: Decimal
    colours: tuple[tuple[str, int], ...]
    mix: tuple[tuple[int, int], ...] = ((11, 100),)
    per_hundred_ft2: int = 100
    ceiling_mm: Decimal = 96 * INCH
    tail_mm: Decimal = 36 * INCH
    sealed: bool = False
    outdoors: bool = False
    doubled: tuple[tuple[str, str], ...] = ()
    extras: tuple[tuple[str, int], ...] = ()
    seed: int = 1

    def __post_init__(self) -> None:
        errors = [
            *check_millimetres("width_mm", self.width_mm, LEAST_SIDE, MOST_SIDE, "from 1 ft to 200 ft"),
            *check_millimetres("depth_mm", self.depth_mm, LEAST_SIDE, MOST_SIDE, "from 1 ft to 200 ft"),
            *check_millimetres("ceiling_mm", self.ceiling_mm, LOWEST, HIGHEST, "from 6 ft to 40 ft"),
            *check_millimetres("tail_mm", self.tail_mm, Decimal(0), LONGEST_TAIL, "from 0 to 10 ft"),
            *check_shares("colours", self.colours, check_colour, 8),
            *check_shares("mix", self.mix, check_size, 6),
            *check_whole("per_hundred_ft2", self.per_hundred_ft2, 1, 500),
            *check_true_or_false("sealed", self.sealed),
            *check_true_or_false("outdoors", self.outdoors),
            *check_doubled("doubled", self.doubled, [colour for colour, _ in self.colours]),
            *check_extras("extras", self.extras),
            *check_whole("seed", self.seed, 0, 2**31 - 1),
        ]
        if not errors:
            errors = self._together_errors()
        if errors:
            raise SpecErrors(errors)

    def _together_errors(self) -> list[SpecError]:
        errors = []
        if self.outdoors:
            errors.append(SpecError("outdoors", "must be off: floats need the ceiling of ceiling_mm above", "outdoors"))
        if small := [size for size, _ in self.mix if size < SMALLEST_AFLOAT]:
            rule = f"must be {SMALLEST_AFLOAT}-inch or larger to float"
            errors.append(SpecError("mix", rule, f"{small[0]}-inch"))
        if (number := self.number()) > MOST_BALLOONS:
            most = int(MOST_BALLOONS * 100 / self.square_feet())
            rule = f"must be at most {most} for that width_mm and depth_mm, which is {MOST_BALLOONS} balloons"
            errors.append(SpecError("per_hundred_ft2", rule, f"{self.per_hundred_ft2}, {number} balloons"))
        return errors

    def sides(self) -> tuple[float, float]:
        """How wide and how deep the part of the ceiling is, in inches."""
        return float(self.width_mm / INCH), float(self.depth_mm / INCH)

    def square_feet(self) -> float:
        """The part of the ceiling that is covered."""
        return float(self.width_mm * self.depth_mm / INCH / INCH) / 144

    def number(self) -> int:
        """How many balloons float."""
        return max(1, ceil(round(self.square_feet() * self.per_hundred_ft2 / 100, 6)))

    def own_figures(self) -> OwnFigures:
        """Nothing hangs, so there is neither line nor a point."""
        return OwnFigures(line_ft=0, attachments=0)
