import json
from collections import Counter
from decimal import Decimal
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely.geometry import Point, box
from shapely.ops import unary_union

from estimating.drawing import discs
from estimating.filling import gap_sizes
from estimating.kinds import KINDS, SpecErrors, WallSpec
from estimating.kinds.wall import lay_out, tasks
from estimating.materials import MaterialRules, materials
from estimating.specs import INFLATED
from studio.money import shares

FOOT, INCH = Decimal("304.8"), Decimal("25.4")
MIX = ((5, 30), (11, 62), (16, 8))
COLOURS = (("navy", 40), ("sand", 30), ("coral", 20), ("white", 10))
TWO = (("navy", 50), ("white", 50))


def organic(wide=8, high=8, **changed):
    return WallSpec(wide * FOOT, high * FOOT, **{"mix": MIX, "colours": COLOURS, **changed})


def grid(wide=8, high=8, **changed):
    return organic(wide, high, **{"style": "grid", "mix": ((11, 100),), **changed})


def shown(layout):
    """Everything its balloons cover, seen from the front."""
    return unary_union([Point(b.x, b.y).buffer(b.diameter / 2) for b in layout.balloons])


def quads(layout):
    """The balloons of a grid, four by four."""
    return [layout.balloons[n : n + 4] for n in range(0, len(layout.balloons), 4)]


@pytest.mark.parametrize(
    ("make", "changed", "said"),
    [
        pytest.param(organic, {"wide": 0}, "width_mm must be from 1 ft to 60 ft", id="no width"),
        pytest.param(organic, {"high": 17}, "height_mm must be from 1 ft to 16 ft", id="too high"),
        pytest.param(organic, {"style": "brick"}, "style must be one of grid, organic (got brick)", id="no such style"),
        pytest.param(
            organic,
            {"pattern": "checks", "colours": TWO},
            "pattern must be one of plain, mixed, fade for a panel whose style is organic (got checks)",
            id="checks without quads",
        ),
        pytest.param(
            grid,
            {"pattern": "plain"},
            "pattern can be plain only where colours names one (got 4 colours)",
            id="plain in four colours",
        ),
        pytest.param(
            grid,
            {"pattern": "stripes", "colours": (("navy", 100),)},
            "colours must name at least 2 where the pattern is stripes (got 1)",
            id="stripes of one colour",
        ),
        pytest.param(grid, {"mix": MIX}, "mix must name one size where the style is grid (got 3)", id="a mixed grid"),
        pytest.param(organic, {"alternate": True}, "alternate must be false where the style is organic", id="organic"),
        pytest.param(grid, {"gap_mm": INCH}, "gap_mm must be left out where alternate is false", id="a gap of nothing"),
        pytest.param(
            grid, {"depth_mm": 12 * INCH}, "depth_mm must be left out where the style is grid", id="a deep grid"
        ),
        pytest.param(organic, {"depth_mm": INCH}, "depth_mm must be from 3 in to 4 ft", id="too shallow"),
        pytest.param(grid, {"spacing_percent": 79}, "spacing_percent must be a whole number from 80", id="too close"),
    ],
)
def test_a_panel_that_cannot_be_is_refused_with_field_rule_and_value(make, changed, said):
    with pytest.raises(SpecErrors) as refused:
        make(**changed)
    assert said in str(refused.value)
    assert len(refused.value) == 1


@pytest.mark.parametrize(
    ("spec", "said"),
    [
        pytest.param(
            organic(1, 8, mix=((11, 60), (36, 40))),
            "width_mm must be at least 34 in to hold 36-inch balloons (got 12 in); "
            "mix must be smaller for a width of 12 in (got 36-inch)",
            id="too narrow",
        ),
        pytest.param(
            organic(8, 8, depth_mm=6 * INCH),
            "depth_mm must be at least 14 in to hold 16-inch balloons (got 6 in); "
            "mix must be smaller for a depth of 6 in (got 16-inch)",
            id="too shallow",
        ),
        pytest.param(
            organic(60, 16, mix=((3, 100),), depth_mm=24 * INCH),
            "mix must have balloons of 9-inch or larger for a panel so large (got 3-inch)",
            id="an organic one of more than are drawn",
        ),
        pytest.param(
            grid(60, 16, mix=((3, 100),)),
            "mix must have balloons of 5-inch or larger for a panel so large (got 3-inch)",
            id="a grid of more than are drawn",
        ),
        pytest.param(
            grid(alternate=True, mix=((24, 100),)),
            "alternate must be false for balloons inflated to 22 in, or gap_mm say",
            id="no usual gap",
        ),
    ],
)
def test_sizes_that_do_not_fit_the_panel_are_refused_naming_both(spec, said):
    with pytest.raises(SpecErrors) as refused:
        lay_out(spec)
    assert said in str(refused.value)


@pytest.mark.parametrize(
    "spec",
    [
        organic(depth_mm=Decimal("508.5"), doubled=(("navy", "white"),), extras=(("12", 1),), pattern="fade"),
        grid(alternate=True, gap_mm=INCH, spacing_percent=95, outdoors=True, seed=9),
    ],
)
def test_a_spec_is_the_same_after_a_trip_through_json(spec):
    assert WallSpec.from_json(json.loads(json.dumps(spec.to_json()))) == spec


@pytest.mark.parametrize(
    ("wide", "high", "mix"),
    [
        pytest.param(8, 8, MIX, id="the usual three"),
        pytest.param(4, 7, ((5, 60), (9, 40)), id="small sizes"),
        pytest.param(16, 8, ((5, 35), (9, 25), (11, 35), (18, 5)), id="wide"),
        pytest.param(8, 8, ((11, 100),), id="one size"),
        pytest.param(20, 10, ((5, 30), (11, 50), (18, 15), (36, 5)), id="with giants"),
    ],
)
def test_an_organic_panel_covers_its_rectangle_with_few_holes(wide, high, mix):
    layout = lay_out(organic(wide, high, mix=mix))
    covered, rectangle = shown(layout), box(0, 0, wide * 12, high * 12)
    left, top, right, bottom = covered.bounds
    assert (right - left, bottom - top) == (pytest.approx(wide * 12, rel=0.05), pytest.approx(high * 12, rel=0.05))
    assert covered.intersection(rectangle).area > 0.9 * rectangle.area
    assert covered.difference(rectangle).area < 0.03 * rectangle.area


@pytest.mark.parametrize("spec", [organic(), organic(16, 8), organic(mix=((9, 100),))])
def test_the_mean_silhouette_of_an_organic_panel_is_within_five_percent_of_its_width_and_height(spec):
    layout = lay_out(spec)
    wide, high = float(spec.width_mm / INCH), float(spec.height_mm / INCH)
    for axis, size, across in (("y", high, wide), ("x", wide, high)):
        other = {"x": "y", "y": "x"}[axis]
        found = []
        for station in np.linspace(0.04, 0.96, 60) * size:
            cut = [
                (getattr(b, other), (b.diameter**2 / 4 - (getattr(b, axis) - station) ** 2) ** 0.5)
                for b in layout.balloons
                if abs(getattr(b, axis) - station) < b.diameter / 2
            ]
            found.append(max(c + h for c, h in cut) - min(c - h for c, h in cut))
        assert np.mean(found) == pytest.approx(across, rel=0.05)


def test_small_balloons_lie_in_front_of_large_ones_and_the_largest_stand_out():
    layout = lay_out(organic(12, 8))
    front = {n: np.mean([b.z + b.diameter / 2 for b in layout.balloons if b.size == n]) for n in (5, 11, 16)}
    assert front[5] > front[11]
    assert front[16] > front[11]


def test_small_balloons_cover_more_holes_than_as_many_put_anywhere():
    spec = organic(12, 8, mix=((5, 40), (11, 60)))
    layout = lay_out(spec)
    large = unary_union([Point(b.x, b.y).buffer(b.diameter / 2) for b in layout.balloons if b.size == 11])
    small = [b for b in layout.balloons if b.size == 5]
    holes = box(0, 0, 144, 96).difference(large)
    closed = unary_union([Point(b.x, b.y).buffer(b.diameter / 2) for b in small]).intersection(holes).area
    random = np.random.Generator(np.random.PCG64(1))
    anywhere = [
        unary_union([Point(x * 144, y * 96).buffer(small[0].diameter / 2) for x, y in random.random((len(small), 2))])
        .intersection(holes)
        .area
        for _ in range(10)
    ]
    assert closed > 1.3 * max(anywhere)


def test_a_deeper_organic_panel_takes_more_balloons():
    counts = [len(lay_out(organic(depth_mm=inches * INCH)).balloons) for inches in (15, 20, 30)]
    assert counts == sorted(set(counts))


def test_sizes_much_smaller_than_the_commonest_fill_gaps():
    assert gap_sizes(MIX, INFLATED) == {5}
    assert gap_sizes(((5, 85), (9, 15)), INFLATED) == set()
    assert gap_sizes(((5, 30), (18, 70)), INFLATED) == {5}


@pytest.mark.parametrize("alternate", [False, True])
@pytest.mark.parametrize(("wide", "high"), [(6, 6), (8, 8), (11, 7), (20, 10)])
def test_a_grid_reaches_from_edge_to_edge_of_its_rectangle(wide, high, alternate):
    layout = lay_out(grid(wide, high, alternate=alternate))
    left, top, right, bottom = shown(layout).bounds
    assert (left, top, right, bottom) == pytest.approx((0, 0, wide * 12, high * 12), abs=0.02 * high * 12)


@pytest.mark.parametrize("pattern", ["mixed", "checks", "stripes", "fade"])
@pytest.mark.parametrize("alternate", [False, True])
def test_every_quad_of_a_grid_is_of_one_colour(pattern, alternate):
    layout = lay_out(grid(pattern=pattern, alternate=alternate, colours=TWO))
    assert len(layout.balloons) % 4 == 0
    assert all(len({b.colour for b in quad}) == 1 for quad in quads(layout))
    assert layout.structure().quads == len(layout.balloons) / 4


def rows_of(layout):
    """The colours of a grid's quads by row and column."""
    found: dict[float, dict[float, str]] = {}
    for quad in quads(layout):
        found.setdefault(round(np.mean([b.y for b in quad]), 1), {})[np.mean([b.x for b in quad])] = quad[0].colour
    return [[row[x] for x in sorted(row)] for _, row in sorted(found.items())]


def test_checks_change_colour_along_every_row_and_column():
    rows = rows_of(lay_out(grid(pattern="checks", colours=TWO)))
    for row, below in pairwise(rows):
        assert all(a != b for a, b in pairwise(row))
        assert all(a != b for a, b in zip(row, below, strict=True))


def test_stripes_keep_their_colour_down_a_column_and_change_it_across():
    rows = rows_of(lay_out(grid(pattern="stripes", colours=TWO)))
    assert all(row == rows[0] for row in rows)
    assert all(a != b for a, b in pairwise(rows[0]))


def test_a_fade_goes_from_the_first_colour_above_to_the_last_below():
    for make in (grid, organic):
        layout = lay_out(make(12, 8, pattern="fade"))
        means = [np.mean([b.y for b in layout.balloons if b.colour == colour]) for colour, _ in COLOURS]
        assert means == sorted(means)


@pytest.mark.parametrize("pattern", ["mixed", "fade"])
def test_the_quads_of_a_grid_are_shared_out_by_largest_remainder(pattern):
    layout = lay_out(grid(11, 8, pattern=pattern))
    number = len(layout.balloons) // 4
    expected = [4 * count for count in shares(number, [percent for _, percent in COLOURS])]
    assert [layout.counts()[colour, 11] for colour, _ in COLOURS] == expected


def test_alternate_sizes_are_of_one_nominal_size_and_take_turns():
    layout = lay_out(grid(alternate=True, mix=((9, 100),), pattern="plain", colours=(("navy", 100),)))
    half = len(layout.balloons) // 2
    assert Counter(b.diameter for b in layout.balloons) == {7.125: half, 6.125: half}
    front = sorted((b.y, b.x, b.diameter) for b in layout.balloons if b.z > 0)
    row = [d for y, _, d in front if y == front[0][0]]
    assert all(a != b for a, b in pairwise(row))


def test_the_studios_own_gap_and_inflated_diameter_are_used():
    layout = lay_out(grid(alternate=True, gap_mm=Decimal("38.1")), inflated={11: 10.0})
    assert {b.diameter for b in layout.balloons} == {10.0, 8.5}


def test_a_wider_spacing_takes_fewer_columns():
    counts = [len(lay_out(grid(20, 8, spacing_percent=percent)).balloons) for percent in (86, 100, 120)]
    assert counts == sorted(set(counts), reverse=True)


def test_a_panel_is_framed_and_held_along_its_top():
    layout = lay_out(organic(8, 7))
    assert layout.strings == (((0, 0), (96, 0), (96, 84), (0, 84), (0, 0)),)
    assert layout.points == ((0, 0), (48, 0), (96, 0))


def test_a_grid_is_worked_by_the_foot_of_its_columns():
    spec = grid(8, 8)
    layout = lay_out(spec)
    columns = len(rows_of(layout)[0])
    assert [(task.sort, task.count) for task in tasks(spec, layout)] == [("foot", columns * 8)]


def test_the_same_spec_gives_the_same_layout_and_another_seed_the_same_counts():
    one, other = lay_out(organic()), lay_out(organic(seed=2))
    assert lay_out(organic()) == one
    assert one.balloons != other.balloons
    assert one.counts() == other.counts()


@st.composite
def walls(draw):
    style = draw(st.sampled_from(["grid", "organic"]))
    mix = ((draw(st.sampled_from([5, 9, 11])), 100),) if style == "grid" else draw(st.sampled_from([MIX, ((9, 100),)]))
    patterns = ["mixed", "checks", "stripes", "fade"] if style == "grid" else ["mixed", "fade"]
    return organic(
        draw(st.integers(3, 14)),
        draw(st.integers(3, 9)),
        style=style,
        mix=mix,
        alternate=style == "grid" and draw(st.booleans()),
        pattern=draw(st.sampled_from(patterns)),
        seed=draw(st.integers(0, 1000)),
        doubled=draw(st.sampled_from([(), (("navy", "sand"), ("sand", "white"))])),
    )


@settings(max_examples=25, deadline=None)
@given(walls())
def test_what_is_drawn_is_what_is_counted_and_needed(spec):
    try:
        layout = KINDS["wall"].lay_out(spec)
    except SpecErrors:
        assume(False)
    drawn = Counter((disc.colour, disc.size) for disc in discs(layout))
    drawn.update((b.inner, b.size) for b in layout.balloons if b.inner)
    needed = materials(layout, rules=MaterialRules(), outdoors=False).lines
    assert drawn == layout.counts()
    assert {(line.colour, line.size): line.needed for line in needed if line.sort == "latex"} == dict(drawn)
