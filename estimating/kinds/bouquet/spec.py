"""A bouquet or centrepiece as asked for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from estimating.afloat import SMALLEST_AFLOAT
from estimating.gas import FOILS
from estimating.layout import FORMS, Form
from estimating.specs import (
    MOST_BALLOONS,
    OwnFigures,
    Spec,
    SpecError,
    SpecErrors,
    check_colour,
    check_doubled,
    check_each_once,
    check_extras,
    check_millimetres,
    check_size,
    check_true_or_false,
    check_whole,
)

INCH = Decimal("25.4")
LOWEST, HIGHEST = 6 * INCH, 240 * INCH
MOST_IN_ONE, MOST_ALIKE = 30, 60


@dataclass(frozen=True, slots=True)
class BouquetSpec(Spec):
    """Bouquets or centrepieces as asked for. Raises SpecErrors with everything that is wrong.

    `latex` is a colour's key, a nominal size and how many in one bouquet; `foils` the same with the foil's form after
    its size. `alike` bouquets are made, each `height_mm` from the floor or table to the top. With air instead of
    helium the balloons are a bunch that stands by itself. `sealed` balloons are treated inside to float longer.
    """

    latex: tuple[tuple[str, int, int], ...] = ()
    foils: tuple[tuple[str, int, str, int], ...] = ()
    alike: int = 1
    height_mm: Decimal = 72 * INCH
    helium: bool = True
    sealed: bool = False
    outdoors: bool = False
    doubled: tuple[tuple[str, str], ...] = ()
    extras: tuple[tuple[str, int], ...] = ()
    seed: int = 1

    def __post_init__(self) -> None:
        errors = [
            *self._latex_errors(),
            *self._foil_errors(),
            *check_whole("alike", self.alike, 1, MOST_ALIKE),
            *check_millimetres("height_mm", self.height_mm, LOWEST, HIGHEST, "from 6 in to 20 ft"),
            *check_true_or_false("helium", self.helium),
            *check_true_or_false("sealed", self.sealed),
            *check_true_or_false("outdoors", self.outdoors),
            *check_doubled("doubled", self.doubled, [colour for colour, *_ in self.latex]),
            *check_extras("extras", self.extras),
            *check_whole("seed", self.seed, 0, 2**31 - 1),
        ]
        if not errors:
            errors = self._together_errors()
        if errors:
            raise SpecErrors(errors)

    def _latex_errors(self) -> list[SpecError]:
        errors: list[SpecError] = []
        for colour, size, count in self.latex:
            errors += check_colour("latex", colour) + check_size("latex", size)
            errors += check_whole("latex", count, 1, MOST_IN_ONE)
        return errors + check_each_once("latex", [(colour, size) for colour, size, _ in self.latex])

    def _foil_errors(self) -> list[SpecError]:
        errors: list[SpecError] = []
        known = ", ".join(f"{size}-inch {form}" for form, size in FOILS)
        for colour, size, form, count in self.foils:
            errors += check_colour("foils", colour) + check_whole("foils", count, 1, MOST_IN_ONE)
            if (form, size) not in FOILS:
                errors.append(SpecError("foils", f"must be one of {known}", f"{size}-inch {form}"))
        return errors + check_each_once("foils", [(colour, size) for colour, size, *_ in self.foils])

    def _together_errors(self) -> list[SpecError]:
        errors = []
        in_one = sum(count for *_, count in self.latex) + sum(count for *_, count in self.foils)
        if not 1 <= in_one <= MOST_IN_ONE:
            errors.append(SpecError("latex", f"and foils must be from 1 to {MOST_IN_ONE} together", in_one))
        elif in_one * self.alike > MOST_BALLOONS:
            most = MOST_BALLOONS // in_one
            errors.append(SpecError("alike", f"must be at most {most} for {in_one} balloons each", self.alike))
        shared = {colour for colour, *_ in self.latex} & {colour for colour, *_ in self.foils}
        if shared:
            errors.append(SpecError("foils", "must not be in a colour of latex", ", ".join(sorted(shared))))
        small = sorted({size for _, size, _ in self.latex if size < SMALLEST_AFLOAT})
        if self.helium and small:
            rule = f"must be {SMALLEST_AFLOAT}-inch or larger with helium; smaller ones take helium off"
            errors.append(SpecError("latex", rule, f"{small[0]}-inch"))
        return errors

    def own_figures(self) -> OwnFigures:
        """Nothing hangs, so there is neither line nor a point."""
        return OwnFigures(line_ft=0, attachments=0)

    def foil_colours(self) -> dict[str, Form]:
        """The colours that are foil, each with its outline."""
        forms: Mapping[str, Form] = {form: form for form in FORMS}
        return {colour: forms[form] for colour, _, form, _ in self.foils}
