"""Which bag a wanted diameter comes from: how far each nominal size is blown, and how far it may be.

A size is what the balloon is designed to reach. Beyond it goes pear-shaped and pops; blown to less than half of it,
it stays limp at the neck: an 11 or 12-inch is used down to 6 inches (common practice).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from math import ceil

from estimating.layout import Form
from estimating.specs import INFLATED, SIZES, SpecError, SpecErrors, check_size

HELIUM_INFLATED: dict[int, float] = {
    9: 8.75,
    10: 9.75,
    11: 10.75,  # Decorators fill an 11-inch to 10.5 to 11 with helium.
    12: 11.75,
    14: 13.75,
    16: 16.0,  # A chart gives it a fifth more than a ball of its size.
    17: 17.0,
    18: 18.0,
    24: 23.0,
    30: 29.0,
    36: 35.0,
}
"""Inflated diameter in inches of latex that is to float: fuller than with air, or it lifts too little. A smaller one
cannot carry itself. Common practice."""

FOIL_SHRINKS = 0.7628
"""A flat foil disc measures this part of its width when it is full: 1 / integral of dx / sqrt(1 - x^4) from 0 to 1."""

LEAST_FILLED = 0.5
"""Blown to less than this part of its size, in whole inches, a balloon stays limp."""


class Diameters(Mapping[int, float]):
    """Inches each nominal size is blown to: the studio's own figures, and the usual ones where it says nothing.

    Read as a mapping it is latex with air; `helium` has the sizes that float, filled with helium. `foils` are the keys
    of the colours that are foil, each with its outline: foil is blown full or it is slack, whatever the gas.
    """

    __slots__ = ("_air", "foils", "helium")

    def __init__(
        self,
        air: Mapping[int, float] | None = None,
        helium: Mapping[int, float] | None = None,
        foils: Mapping[str, Form] | None = None,
    ) -> None:
        self._air = {**INFLATED, **(air or {})}
        self.helium: Mapping[int, float] = {**HELIUM_INFLATED, **(helium or {})}
        self.foils: Mapping[str, Form] = dict(foils or {})

    @classmethod
    def of(cls, inflated: Mapping[int, float]) -> Diameters:
        """The whole table for one that may lack sizes, or helium."""
        return inflated if isinstance(inflated, Diameters) else cls(inflated)

    def __getitem__(self, size: int) -> float:
        return self._air[size]

    def __iter__(self) -> Iterator[int]:
        return iter(self._air)

    def __len__(self) -> int:
        return len(self._air)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Diameters) and self._tables() == other._tables()

    def __hash__(self) -> int:
        return hash(tuple(frozenset(table.items()) for table in self._tables()))

    def _tables(self) -> tuple[Mapping[int, float], Mapping[int, float], Mapping[str, Form]]:
        return self._air, self.helium, self.foils

    def has_foil(self, colours: Iterable[str]) -> bool:
        """Is any of these colours foil?"""
        return any(colour in self.foils for colour in colours)

    def across(self, size: int, colour: str, latex: float | None = None) -> float:
        """Inches across of a nominal size in a colour; `latex` is how far latex is blown here, where not as usual."""
        if colour in self.foils:
            return foil_diameter(size)
        return self[size] if latex is None else latex

    def on_average(
        self, colours: Sequence[tuple[str, int]], latex: Mapping[int, float] | None = None
    ) -> Mapping[int, float]:
        """Inches across of each size, by volume, where colours share its balloons by percent and some may be foil.

        `latex` is how far latex is blown here, where not as usual.
        """
        latex = self if latex is None else latex
        foil = sum(percent for colour, percent in colours if colour in self.foils) / 100
        if not foil:
            return latex
        return {
            size: float(((1 - foil) * blown**3 + foil * foil_diameter(size) ** 3) ** (1 / 3))
            for size, blown in latex.items()
        }


def foil_diameter(size: int) -> float:
    """Inches across of a round foil balloon when it is full."""
    return size * FOIL_SHRINKS


def inflated_range(size: int) -> tuple[float, float]:
    """The least and the greatest diameter in inches a nominal size is blown to."""
    return float(ceil(LEAST_FILLED * size)), float(size)


@dataclass(frozen=True, slots=True)
class Bag:
    """A nominal size that can be blown to a wanted diameter: how far the studio blows it, and how far it may be."""

    size: int
    usually: float
    least: float
    most: float


def bags_for(
    diameter: float,
    inflated: Mapping[int, float] = INFLATED,
    ranges: Mapping[int, tuple[float, float]] | None = None,
) -> tuple[Bag, ...]:
    """The bags that can be blown to a diameter in inches, best first: those the studio blows nearest to it.

    Of two as near the smaller comes first. `ranges` say how far each may be blown, as with air where they are not
    given. Nothing where no bag can be blown to it.
    """
    ranges = {size: inflated_range(size) for size in inflated} if ranges is None else ranges
    bags = [Bag(size, inflated[size], *ranges[size]) for size in ranges]
    fit = [bag for bag in bags if bag.least <= diameter <= bag.most]
    return tuple(sorted(fit, key=lambda bag: (round(abs(bag.usually - diameter), 6), bag.size)))


def size_for(
    diameter: float,
    inflated: Mapping[int, float] = INFLATED,
    sizes: Sequence[int] = SIZES,
    field: str = "diameter_mm",
) -> int:
    """The nominal size, one of these, that a diameter in inches best comes from.

    Raises SpecErrors where the next larger one would be limp, or none is large enough.
    """
    ranges = {size: inflated_range(size) for size in sorted(sizes)}
    if bags := bags_for(diameter, inflated, ranges):
        return bags[0].size
    larger = [size for size in ranges if diameter <= ranges[size][1]]
    if not larger:
        said = f"must be at most {max(sizes)} in, which the largest balloon reaches"
        raise SpecErrors([SpecError(field, said, f"{diameter:.4g} in")])
    said = f"must be at least {ranges[larger[0]][0]:g} in, or {larger[0]}-inch balloons stay limp"
    smaller = [size for size in sizes if size < larger[0]]
    said += f"; or at most {max(smaller)} in" if smaller else ""
    raise SpecErrors([SpecError(field, said, f"{diameter:.4g} in")])


def check_blown(size: int | None, diameter_mm: object) -> list[SpecError]:
    """Is a balloon told by a nominal size, by an inflated diameter, or by both where the size is blown to that?"""
    if size is None and diameter_mm is None:
        return [SpecError("size", "must be given, or diameter_mm: what the bag says or how far it is blown", "neither")]
    errors = [] if size is None else check_size("size", size)
    if diameter_mm is None or errors:
        return errors
    if not isinstance(diameter_mm, Decimal) or not diameter_mm.is_finite():
        return [SpecError("diameter_mm", "must be a number of millimetres", diameter_mm)]
    diameter = float(diameter_mm / Decimal("25.4"))
    if size is None:
        try:
            size_for(diameter)
        except SpecErrors as found:
            return list(found)
        return []
    least, most = inflated_range(size)
    if least <= diameter <= most:
        return []
    said = f"must be from {least:g} in to {most:g} in for {size}-inch balloons"
    if others := bags_for(diameter):
        said += f"; {others[0].size}-inch ones reach it"
    return [SpecError("diameter_mm", said, f"{diameter:.4g} in")]


def blown(size: int | None, diameter_mm: Decimal | None, inflated: Mapping[int, float]) -> tuple[int, float]:
    """The nominal size to take and the diameter in inches to blow it to; one of the two, checked, may be None."""
    if diameter_mm is None:
        if size is None:
            raise ValueError("a balloon has a size or a diameter")
        return size, inflated[size]
    diameter = float(diameter_mm / Decimal("25.4"))
    return (size_for(diameter, inflated) if size is None else size), diameter
