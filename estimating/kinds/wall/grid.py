"""A grid panel: quads on a regular lattice."""

from __future__ import annotations

from collections.abc import Mapping
from random import Random

from estimating.bags import Diameters
from estimating.colouring import coloured, dealt, faded
from estimating.kinds.wall.fitting import check_count
from estimating.kinds.wall.spec import WallSpec, in_inches
from estimating.lattices import Grid, alternate_numbers, alternate_sizes, turned_numbers, turned_quads
from estimating.layout import Balloon
from estimating.specs import SpecError, SpecErrors

ALTERNATE_GAPS: tuple[tuple[float, float, float], ...] = ((2.0, 4.5, 0.5), (4.5, 7.5, 1.0), (7.5, 11.0, 2.0))
"""How much smaller the small ones of alternate sizes are: from and to which inflated diameter, and the inches (common
practice, two texts agree)."""


def diameters(spec: WallSpec, inflated: Mapping[int, float]) -> tuple[float, float]:
    """A grid's large and small inflated diameters, the same where sizes do not alternate.

    The large is that of the widest of its colours. Raises SpecErrors where no smaller one can be.
    """
    blown = Diameters.of(inflated)
    large = max(blown.across(spec.mix[0][0], colour) for colour, _ in spec.colours)
    if not spec.alternate:
        return large, large
    if blown.has_foil(colour for colour, _ in spec.colours):
        foils = ", ".join(f"{percent} percent" for colour, percent in spec.colours if colour in blown.foils)
        said = "must be false where one of colours is foil, which cannot be blown smaller"
        raise SpecErrors([SpecError("alternate", said, f"{foils} foil")])
    if spec.gap_mm is not None:
        return large, large - in_inches(spec.gap_mm)
    for least, most, gap in ALTERNATE_GAPS:
        if least < large <= most:
            return large, large - gap
    said = f"must be false for balloons inflated to {large:g} in, or gap_mm say how much smaller the small ones are"
    raise SpecErrors([SpecError("alternate", said, True)])


def gridded(spec: WallSpec, inflated: Mapping[int, float]) -> list[Balloon]:
    """Quads in rows and columns, each of one colour. A closed form, so however many there are it need not repeat.

    Every quad has the room of the widest; what is narrower, as foil among latex, is drawn in about its middle.
    """
    large, small = diameters(spec, inflated)
    check_count(spec, _grid_count(spec, inflated), lambda other: _grid_count(other, inflated))
    grid = _lattice(spec, large, small)
    colour_of = _quad_colours(spec, grid, Random(spec.seed))
    size, blown = spec.mix[0][0], Diameters.of(inflated)
    balloons = []
    for at in grid.places:
        colour = colour_of[at.column, at.row]
        across = small if at.is_small else blown.across(size, colour)
        drawn_in = 1.0 if at.is_small else across / large
        x, z = at.middle + (at.x - at.middle) * drawn_in, at.z * drawn_in
        balloons.append(Balloon(x, at.y, z, across, size, colour, "packed"))
    return balloons


def _lattice(spec: WallSpec, large: float, small: float) -> Grid:
    width, height = in_inches(spec.width_mm), in_inches(spec.height_mm)
    if spec.alternate:
        return alternate_sizes(width, height, large, small)
    return turned_quads(width, height, large, spec.spacing_percent / 100)


def _grid_count(spec: WallSpec, inflated: Mapping[int, float]) -> int:
    """How many balloons a grid takes, without laying it out."""
    width, height = in_inches(spec.width_mm), in_inches(spec.height_mm)
    large, small = diameters(spec, inflated)
    if spec.alternate:
        columns, rows = alternate_numbers(width, height, large, small)
    else:
        columns, rows = turned_numbers(width, height, large, spec.spacing_percent / 100)
    return 4 * columns * rows


def _quad_colours(spec: WallSpec, grid: Grid, rng: Random) -> dict[tuple[int, int], str]:
    """The colour of each quad, by its column and row."""
    quads = [(column, row) for row in range(grid.rows) for column in range(grid.columns)]
    if spec.pattern in ("checks", "stripes"):
        turns = dealt(spec.colours, grid.columns + grid.rows)
        return {(c, r): turns[c + r if spec.pattern == "checks" else c] for c, r in quads}
    if spec.pattern == "fade":
        given = faded([1] * len(quads), [float(row) for _, row in quads], spec.colours, rng)
    else:
        place = {quad: n for n, quad in enumerate(quads)}
        steps = ((1, 0), (0, 1), (1, 1), (-1, 1))
        couples = [(n, place[c + x, r + y]) for (c, r), n in place.items() for x, y in steps if (c + x, r + y) in place]
        given = coloured([1] * len(quads), spec.colours, couples, rng)
    return dict(zip(quads, given, strict=True))
