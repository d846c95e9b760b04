"""A wall panel as asked for."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from estimating.specs import (
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
NARROWEST, WIDEST = 12 * INCH, 720 * INCH
LOWEST, HIGHEST = 12 * INCH, 192 * INCH

STYLES = ("grid", "organic")
PATTERNS = ("plain", "mixed", "checks", "stripes", "fade")
ORGANIC_PATTERNS = ("plain", "mixed", "fade")


@dataclass(frozen=True, slots=True)
class WallSpec(Spec):
    """A wall panel as asked for. Raises SpecErrors with everything that is wrong.

    `mix` is nominal size and percent of the balloons by count: one size for a grid, up to six for an organic panel.
    `colours` are a colour's key and percent. `pattern` is one of PATTERNS; checks and stripes deal whole quads and
    columns in turn. In a grid `spacing_percent` is how far apart its columns stand, 100 for quads side by side that do
    not interlock; with `alternate` sizes large and small ones take turns and lock square, the small ones `gap_mm`
    smaller (None for the usual). `depth_mm` is how deep an organic panel is (None for the usual).
    """

    width_mm: Decimal
    height_mm: Decimal
    mix: tuple[tuple[int, int], ...]
    colours: tuple[tuple[str, int], ...]
    style: str = "organic"
    pattern: str = "mixed"
    spacing_percent: int = 86
    alternate: bool = False
    gap_mm: Decimal | None = None
    depth_mm: Decimal | None = None
    outdoors: bool = False
    seed: int = 1
    doubled: tuple[tuple[str, str], ...] = ()
    extras: tuple[tuple[str, int], ...] = ()

    def __post_init__(self) -> None:
        errors = [
            *check_millimetres("width_mm", self.width_mm, NARROWEST, WIDEST, "from 1 ft to 60 ft"),
            *check_millimetres("height_mm", self.height_mm, LOWEST, HIGHEST, "from 1 ft to 16 ft"),
            *check_shares("mix", self.mix, check_size, 6),
            *check_shares("colours", self.colours, check_colour, 8),
            *check_whole("spacing_percent", self.spacing_percent, 80, 130),
            *check_true_or_false("alternate", self.alternate),
            *check_true_or_false("outdoors", self.outdoors),
            *check_whole("seed", self.seed, 0, 2**31 - 1),
            *check_doubled("doubled", self.doubled, [colour for colour, _ in self.colours]),
            *check_extras("extras", self.extras),
            *self._style_errors(),
        ]
        if errors:
            raise SpecErrors(errors)

    def _style_errors(self) -> list[SpecError]:
        """What disagrees with the style or the pattern."""
        if self.style not in STYLES:
            return [SpecError("style", f"must be one of {', '.join(STYLES)}", self.style)]
        grid, errors = self.style == "grid", []
        allowed = PATTERNS if grid else ORGANIC_PATTERNS
        if self.pattern not in allowed:
            said = f"must be one of {', '.join(allowed)} for a panel whose style is {self.style}"
            errors.append(SpecError("pattern", said, self.pattern))
        if self.pattern == "plain" and len(self.colours) > 1:
            errors.append(
                SpecError("pattern", "can be plain only where colours names one", f"{len(self.colours)} colours")
            )
        if self.pattern in ("checks", "stripes", "fade") and len(self.colours) == 1:
            errors.append(SpecError("colours", f"must name at least 2 where the pattern is {self.pattern}", 1))
        if grid and len(self.mix) > 1:
            errors.append(SpecError("mix", "must name one size where the style is grid", len(self.mix)))
        if not grid and self.alternate:
            errors.append(SpecError("alternate", "must be false where the style is organic", self.alternate))
        if self.gap_mm is not None:
            errors += check_millimetres("gap_mm", self.gap_mm, INCH / 4, 4 * INCH, "from 1/4 in to 4 in")
            if not self.alternate:
                errors.append(SpecError("gap_mm", "must be left out where alternate is false", f"{self.gap_mm} mm"))
        if self.depth_mm is not None:
            errors += check_millimetres("depth_mm", self.depth_mm, 3 * INCH, 48 * INCH, "from 3 in to 4 ft")
            if grid:
                errors.append(SpecError("depth_mm", "must be left out where the style is grid", f"{self.depth_mm} mm"))
        return errors


def in_inches(length: Decimal) -> float:
    """A length in inches."""
    return float(length / INCH)
