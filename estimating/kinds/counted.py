"""A hand-counted piece: the decorator knows how many of each, and the picture shows every one in tidy rows."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar

from estimating.bags import Diameters
from estimating.layout import Balloon, Layout
from estimating.specs import (
    INFLATED,
    MOST_BALLOONS,
    OwnFigures,
    Spec,
    SpecError,
    SpecErrors,
    check_colour,
    check_doubled,
    check_each_once,
    check_extras,
    check_size,
    check_true_or_false,
    check_whole,
)

NAME = "counted"
TITLE = "Hand-counted piece"

PITCH = 3**0.5 / 2
"""Rows of touching discs, each nested in the one below, are this many diameters apart."""

ASPECT = 1.6
"""How much wider than high the heap is."""


@dataclass(frozen=True, slots=True)
class CountedSpec(Spec):
    """A hand-counted piece as asked for. Raises SpecErrors with everything that is wrong.

    `lines` are a colour's key, a nominal size and how many. `minutes` is the decorator's own estimate of one
    person's work (0 works it out from the rates), `line_ft` feet of line, `attachments` the points it hangs
    from.
    """

    LEFT_OUT: ClassVar[frozenset[str]] = frozenset({"doubled", "extras"})

    lines: tuple[tuple[str, int, int], ...]
    outdoors: bool = False
    minutes: int = 0
    line_ft: int = 0
    attachments: int = 0
    seed: int = 1
    doubled: tuple[tuple[str, str], ...] = ()
    extras: tuple[tuple[str, int], ...] = ()

    def __post_init__(self) -> None:
        errors = [
            *self._line_errors(),
            *check_true_or_false("outdoors", self.outdoors),
            *check_whole("minutes", self.minutes, 0, 60_000),
            *check_whole("line_ft", self.line_ft, 0, 2_000),
            *check_whole("attachments", self.attachments, 0, 1_000),
            *check_whole("seed", self.seed, 0, 2**31 - 1),
            *check_doubled("doubled", self.doubled, [colour for colour, *_ in self.lines]),
            *check_extras("extras", self.extras),
        ]
        if errors:
            raise SpecErrors(errors)

    def _line_errors(self) -> list[SpecError]:
        errors: list[SpecError] = []
        for colour, size, count in self.lines:
            errors += check_colour("lines", colour) + check_size("lines", size)
            errors += check_whole("lines", count, 1, MOST_BALLOONS)
        errors += check_each_once("lines", [(colour, size) for colour, size, _ in self.lines])
        if not errors and not 1 <= (total := sum(count for *_, count in self.lines)) <= MOST_BALLOONS:
            errors.append(SpecError("lines", f"must hold from 1 to {MOST_BALLOONS} balloons", total))
        return errors

    def own_figures(self) -> OwnFigures:
        """Line and attachments as given, and minutes where an estimate was given."""
        return OwnFigures(line_ft=self.line_ft, attachments=self.attachments, minutes=self.minutes or None)


def lay_out(spec: CountedSpec, *, inflated: Mapping[int, float] = INFLATED) -> Layout:
    """Every balloon side by side in nested rows, the large ones at the bottom, none hidden behind another."""
    blown = Diameters.of(inflated)
    lines = [(blown.across(size, colour), size, colour, count) for colour, size, count in spec.lines]
    waiting = [
        (across, size, colour)
        for across, size, colour, count in sorted(lines, key=lambda line: (-line[0], line[2]))
        for _ in range(count)
    ]
    across = max(waiting[0][0], (ASPECT * sum(d * d for d, _, _ in waiting)) ** 0.5)
    balloons: list[Balloon] = []
    base, row_number, above = 0.0, 0, 0.0
    while waiting:
        diameter = waiting[0][0]
        same = sum(1 for d, _, _ in waiting if d == diameter)
        nested = diameter == above
        base -= diameter * PITCH if nested else above / 2 + diameter / 2 if above else 0.0
        row_number = row_number + 1 if nested else 0
        fits = max(2, int(across / diameter)) - row_number % 2
        row, waiting = waiting[: min(fits, same)], waiting[min(fits, same) :]
        # A full row is centred, so each row nests in the one below; a short last row stays on the same grid.
        left = -(fits - 1) / 2 * diameter + (fits - len(row)) // 2 * diameter
        balloons += [
            Balloon(left + n * diameter, base, 0.0, diameter, size, colour, "counted")
            for n, (_, size, colour) in enumerate(row)
        ]
        above = diameter
    width = max(b.x + b.diameter / 2 for b in balloons) - min(b.x - b.diameter / 2 for b in balloons)
    height = max(b.y + b.diameter / 2 for b in balloons) - min(b.y - b.diameter / 2 for b in balloons)
    return Layout(balloons=tuple(balloons), spine=(), length=height, width=width).double_stuffed(spec.doubled)
