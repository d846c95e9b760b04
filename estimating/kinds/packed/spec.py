"""A packed piece as asked for: a garland, an arch or a column of equal balloons in layers."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import ClassVar

from estimating.bags import check_blown
from estimating.gas import FOILS
from estimating.layout import FORMS, Form
from estimating.specs import (
    Spec,
    SpecError,
    SpecErrors,
    check_colour,
    check_colours_in_turn,
    check_doubled,
    check_extras,
    check_millimetres,
    check_one_of,
    check_shares,
    check_size,
    check_true_or_false,
    check_whole,
)
from estimating.spines import Arc, ArcError, catenary_arc, ellipse_arc
from estimating.stacking import (
    LEAST_PER_LAYER,
    MOST_PER_LAYER,
    PATTERNS,
)

INCH = Decimal("25.4")
SHORTEST, LONGEST = 12 * INCH, 2400 * INCH

SHAPES = ("straight", "swag", "doorway")
"""The lines a garland may follow; arches and columns have their own."""

MEASURES: Mapping[str, tuple[str, ...]] = {
    "garland": ("length_mm", "span_mm", "rise_mm"),
    "arch": ("length_mm", "span_mm", "rise_mm"),
    "column": ("height_mm",),
}
"""The measures each form is asked for by."""


def in_inches(mm: Decimal) -> str:
    """A length as errors say it."""
    return f"{mm / INCH:.4g} in"


PLURAL = {"garland": "garlands", "arch": "arches", "column": "columns"}

BASES = ("none", "weighted")

MOST_COMPRESSED = 30
"""Percent that layers are pushed together at most: beyond it balloons burst rather than nest (common practice)."""


@dataclass(frozen=True, slots=True)
class Topper:
    """What crowns a column: a nominal size, the key of its colour and its outline. A heart or star is foil."""

    size: int
    colour: str
    form: Form = "round"
    foil: bool = False

    @property
    def is_foil(self) -> bool:
        """Is it foil, which is narrower full than flat?"""
        return self.foil or self.form != "round"


@dataclass(frozen=True, slots=True)
class PackedSpec(Spec):
    """A packed piece as asked for. Raises SpecErrors with everything that is wrong.

    `form` is garland, arch or column. `colours` are a colour's key and, by `colours_by`, its percent of the balloons or
    how many of it come together: places in each layer of a spiral, layers of a stripe or block. Balloons are told by
    nominal `size`, by the inflated `diameter_mm`, or by both. An arch takes any two of `span_mm`, `rise_mm` and
    `length_mm`, measured along the middle of the balloons; so does a single swag, where the length alone hangs as
    deep as is usual. A column's `height_mm` is without its topper. `compression_percent` is how much closer the
    studio pushes layers than touching spheres lie. `sealed` balloons are treated inside to float longer, where they are
    filled with helium.
    """

    LEFT_OUT: ClassVar[frozenset[str]] = frozenset({"sealed"})

    form: str
    colours: tuple[tuple[str, int], ...]
    size: int | None = None
    diameter_mm: Decimal | None = None
    length_mm: Decimal | None = None
    span_mm: Decimal | None = None
    rise_mm: Decimal | None = None
    height_mm: Decimal | None = None
    per_layer: int = 4
    pattern: str = "spiral"
    colours_by: str = "percent"
    shape: str = "swag"
    compression_percent: int = 0
    topper: Topper | None = None
    base: str = "none"
    helium: bool = False
    sealed: bool = False
    outdoors: bool = False
    seed: int = 1
    doubled: tuple[tuple[str, str], ...] = ()
    extras: tuple[tuple[str, int], ...] = ()

    def __post_init__(self) -> None:
        if isinstance(self.topper, Mapping):
            object.__setattr__(self, "topper", Topper(**self.topper))
        errors = [
            *check_one_of("form", self.form, tuple(MEASURES)),
            *check_one_of("pattern", self.pattern, PATTERNS),
            *check_one_of("colours_by", self.colours_by, ("percent", "count")),
            *check_one_of("shape", self.shape, SHAPES),
            *check_one_of("base", self.base, BASES),
            *check_whole("per_layer", self.per_layer, LEAST_PER_LAYER, MOST_PER_LAYER),
            *check_whole("compression_percent", self.compression_percent, 0, MOST_COMPRESSED),
            *check_true_or_false("helium", self.helium),
            *check_true_or_false("sealed", self.sealed),
            *check_true_or_false("outdoors", self.outdoors),
            *check_whole("seed", self.seed, 0, 2**31 - 1),
            *check_doubled("doubled", self.doubled, [key for key, _ in self.colours]),
            *check_extras("extras", self.extras),
            *check_blown(self.size, self.diameter_mm),
        ]
        errors += [] if errors else [*self._colour_errors(), *self._measure_errors(), *self._standing_errors()]
        if errors:
            raise SpecErrors(errors)

    def _colour_errors(self) -> list[SpecError]:
        if self.colours_by == "percent":
            return check_shares("colours", self.colours, check_colour, 8)
        errors = check_colours_in_turn("colours", self.colours)
        together = sum(count for _, count in self.colours)
        if not errors and self.pattern == "spiral" and together != self.per_layer:
            rule = f"must add up to the {self.per_layer} balloons of a layer in a spiral (per_layer)"
            errors.append(SpecError("colours", rule, together))
        return errors

    def _measure_errors(self) -> list[SpecError]:
        """Those the form needs, within their limits, and no others."""
        errors = []
        for field in ("length_mm", "span_mm", "rise_mm", "height_mm"):
            if (value := getattr(self, field)) is None:
                continue
            if field not in MEASURES[self.form] or (field in ("span_mm", "rise_mm") and self._runs_on()):
                line = f"garlands whose shape is {self.shape}" if self.form == "garland" else PLURAL[self.form]
                errors.append(SpecError(field, f"must be left out for {line}", in_inches(value)))
            else:
                errors += check_millimetres(field, value, SHORTEST, LONGEST, "from 1 ft to 200 ft")
        given = [field for field in MEASURES[self.form] if getattr(self, field) is not None]
        if self.form == "column" or self._runs_on() or (self.form == "garland" and given == ["length_mm"]):
            first = MEASURES[self.form][0]
            return errors if errors or first in given else [SpecError(first, "must be given", "nothing")]
        if not errors:
            try:
                self.arc()
            except ArcError as error:
                value = getattr(self, f"{error.field}_mm")
                said = "nothing" if value is None else in_inches(value)
                errors.append(SpecError(f"{error.field}_mm", error.rule, said))
        return errors

    def _standing_errors(self) -> list[SpecError]:
        errors = []
        if self.base != "none" and self.form == "garland":
            errors.append(SpecError("base", "must be none for a garland, which hangs (form)", self.base))
        if self.topper is not None:
            if self.form != "column":
                errors.append(
                    SpecError(
                        "topper", f"must be left out for {PLURAL[self.form]}: only columns have one (form)", "one"
                    )
                )
            errors += check_size("topper", self.topper.size) + check_colour("topper", self.topper.colour)
            errors += check_one_of("topper", self.topper.form, FORMS) + check_true_or_false("topper", self.topper.foil)
            sizes = sorted(size for form, size in FOILS if form == self.topper.form)
            if not errors and self.topper.is_foil and self.topper.size not in sizes:
                rule = f"must be one of {', '.join(map(str, sizes))} for a foil {self.topper.form}"
                errors.append(SpecError("topper", rule, self.topper.size))
        if self.helium and self.form == "column":
            errors.append(SpecError("helium", "must be false for a column, which stands (form)", True))
        return errors

    def _runs_on(self) -> bool:
        """Is it a garland that is told by its length alone?"""
        return self.form == "garland" and self.shape != "swag"

    def arc(self) -> Arc:
        """Its span, rise (or sag) and length in inches; raises ArcError where there is no such curve."""
        span, rise, length = (
            None if value is None else float(value / INCH) for value in (self.span_mm, self.rise_mm, self.length_mm)
        )
        return (ellipse_arc if self.form == "arch" else catenary_arc)(span=span, rise=rise, length=length)
