"""What pieces weigh, what points bear, and how often the van drives."""

from math import pi

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimating.layout import Balloon, Layout
from estimating.load import (
    GRAMS,
    PACKED_LOOSE,
    PACKED_TIED,
    Thing,
    grams_in_words,
    grams_of,
    shared_along,
    shared_evenly,
    van_load,
    weigh,
)
from estimating.materials import MaterialRules, Materials, item_lines, materials
from estimating.specs import INFLATED, SpecErrors
from estimating.spines import straight


def a_piece(number: int = 40, feet: int = 10, size: int = 11) -> Layout:
    """So many balloons in a row along a straight line."""
    balloons = tuple(Balloon(n, 0, 0, INFLATED[size], size, "a", "base") for n in range(number))
    return Layout(balloons, straight(feet * 12), feet * 12, 20)


def test_a_garland_weighs_its_rubber_its_ties_its_line_and_its_hooks():
    layout = a_piece()
    made = materials(layout, rules=MaterialRules(), outdoors=False)
    weight = weigh(layout, made)

    # 40 balloons; 5 clusters and 5 points tied; 16 ft of line; 5 hooks. Spares stay at home.
    assert weight.balloons == pytest.approx(40 * 4.7)
    assert weight.ties == pytest.approx(10 * 1.688)
    assert weight.line == pytest.approx(16 * 3)
    assert weight.hooks == pytest.approx(5 * 12)
    assert weight.total == pytest.approx(188 + 16.88 + 48 + 60)
    assert weight.hung == pytest.approx(weight.total - 60)


def test_a_weight_says_what_it_is_made_of():
    layout = a_piece()
    made = materials(layout, rules=MaterialRules(), outdoors=False)

    assert weigh(layout, made).why("metric") == "balloons 188 g, ties 17 g, line 48 g, hooks 60 g"


def with_things(*things: tuple[str, int]) -> Materials:
    """The materials of a piece with so many of these."""
    return materials(a_piece(), rules=MaterialRules(), outdoors=False, extras=item_lines(things))


def test_things_weigh_as_many_times_as_there_are_of_them():
    items = {"1": Thing("Frame", 300.0), "2": Thing("Stand", 200.0)}
    weight = weigh(a_piece(), with_things(("1", 2), ("2", 1)), items=items)

    assert weight.other == 800
    assert weight.unknown == ()
    assert weight.why("imperial").endswith(", frames and the like 1.8 lb")


def test_a_thing_nobody_has_weighed_is_named():
    items = {"1": Thing("Frame", None), "2": Thing("Stand", 200.0)}
    weight = weigh(a_piece(), with_things(("1", 2), ("2", 1)), items=items)

    assert (weight.other, weight.unknown) == (200, ("Frame",))


def test_foil_weighs_its_foil():
    layout = a_piece(number=10, size=18)
    foil = layout.in_foil({"a": "round"})
    made = materials(foil, rules=MaterialRules(), outdoors=False)

    assert weigh(layout, made).balloons == pytest.approx(130)
    assert weigh(foil, made).balloons == pytest.approx(105)


def test_a_foil_takes_less_room_than_a_ball_of_its_size():
    layout = a_piece(number=10, size=18)
    ball, foil = (van_load([one], van_cubic_feet=100) for one in (layout, layout.in_foil({"a": "round"})))

    assert ball.inflated == pytest.approx(10 * pi / 6 * INFLATED[18] ** 3 / 1728)
    assert foil.inflated == pytest.approx(10 * 0.5)


def test_a_larger_balloon_weighs_more():
    sizes = sorted(GRAMS)
    assert sorted(GRAMS.values()) == [GRAMS[size] for size in sizes]
    assert set(INFLATED) == set(sizes)


@pytest.mark.parametrize(
    ("size", "grams"),
    [
        pytest.param(11, 4.7, id="in the table"),
        pytest.param(13, 7.5, id="between two"),
        pytest.param(40, 102.0, id="larger than all"),
    ],
)
def test_a_size_between_two_takes_the_heavier(size, grams):
    assert grams_of(size) == grams


def test_ends_bear_half_of_what_the_points_between_bear():
    loads = shared_along(1200, 120, [0, 30, 60, 90, 120])

    assert [point.grams for point in loads.points] == pytest.approx([150, 300, 300, 300, 150])
    assert loads.heaviest == pytest.approx(300)
    # A point between gone, its neighbours bear 45 of the 120 inches; an end gone, the next bears 45 too.
    assert loads.one_fewer == pytest.approx(450)


def test_an_end_bears_what_reaches_past_it():
    loads = shared_along(100, 100, [20, 80])
    assert [point.tributary for point in loads.points] == pytest.approx([50, 50])


def test_a_single_point_bears_everything_and_nothing_else_holds():
    loads = shared_along(640, 80, [40])
    assert loads.heaviest == pytest.approx(640)
    assert loads.one_fewer is None


def test_a_piece_of_no_length_is_shared_evenly():
    loads = shared_along(640, 0, [0, 0])
    assert [point.grams for point in loads.points] == [320, 320]
    assert loads.one_fewer == 640


def test_points_that_are_nowhere_in_particular_share_evenly():
    loads = shared_evenly(600, 3)
    assert (len(loads.points), loads.heaviest, loads.one_fewer) == (3, 200, 300)


@settings(max_examples=100, deadline=None)
@given(
    grams=st.floats(0, 1e5),
    length=st.floats(1, 2400),
    parts=st.lists(st.floats(0, 1), min_size=1, max_size=40),
)
def test_what_the_points_bear_adds_up_to_the_weight(grams, length, parts):
    loads = shared_along(grams, length, [part * length for part in parts])

    assert sum(point.grams for point in loads.points) == pytest.approx(grams, abs=1e-6)
    assert all(point.grams >= 0 for point in loads.points)
    assert loads.one_fewer is None or loads.one_fewer >= loads.heaviest - 1e-6 or len(parts) == 2


def test_a_garland_takes_more_van_than_its_balloons_fill():
    load = van_load([a_piece(300)], van_cubic_feet=250)

    volume = 300 * 3.14159265 / 6 * 9.5**3 / 1728
    assert load.inflated == pytest.approx(volume, rel=1e-6)
    assert load.room == pytest.approx(volume / PACKED_TIED, rel=1e-6)
    assert load.trips == 1


@pytest.mark.parametrize(
    ("number", "van", "trips"),
    [
        pytest.param(1000, 10_000, 1, id="room to spare"),
        pytest.param(1000, 577.4, 1, id="just in"),
        pytest.param(1000, 577.4 / 2, 2, id="half of it twice"),
        pytest.param(1000, 577.2 / 2, 3, id="a little over is one more"),
        pytest.param(0, 250, 0, id="nothing to carry"),
    ],
)
def test_trips_are_rounded_up(number, van, trips):
    # 1,000 eleven-inch balloons fill 259.79 cubic feet, 577.32 of the van's as they are tied.
    assert van_load([a_piece(number)], van_cubic_feet=van).trips == trips


def test_loose_balloons_pack_closer_than_tied_ones():
    tied = van_load([a_piece(100)], van_cubic_feet=250)
    loose = van_load([a_piece(100)], van_cubic_feet=250, tied=False)

    assert loose.room == pytest.approx(tied.room * PACKED_TIED / PACKED_LOOSE)


def test_the_van_says_how_the_trips_follow():
    said = van_load([a_piece(300)], van_cubic_feet=250).why
    assert said == "78 ft³ of balloons take 173 ft³ of van; yours holds 250 ft³"


@pytest.mark.parametrize(
    ("grams", "system", "words"),
    [
        pytest.param(120, "imperial", "4 oz", id="ounces"),
        pytest.param(1_043, "imperial", "2.3 lb", id="pounds"),
        pytest.param(452, "imperial", "1 lb", id="a hair under a pound"),
        pytest.param(0, "imperial", "0 oz", id="nothing"),
        pytest.param(5, "imperial", "under 1 oz", id="a pinch"),
        pytest.param(120, "metric", "120 g", id="grams"),
        pytest.param(999.8, "metric", "1 kg", id="a hair under a kilogram"),
        pytest.param(1_440, "metric", "1.4 kg", id="kilograms"),
    ],
)
def test_a_weight_in_words(grams, system, words):
    assert grams_in_words(grams, system) == words


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        pytest.param(
            lambda: shared_along(-1, 10, [0]), "grams must be 0 or more (got -1)", id="a weight below nothing"
        ),
        pytest.param(lambda: shared_along(1, 10, []), "points must be at least one (got none)", id="no points"),
        pytest.param(lambda: shared_along(1, 10, [12]), "points must lie from 0 to 10 in", id="a point off the spine"),
        pytest.param(lambda: shared_evenly(1, 0), "points must be at least one (got 0)", id="none to share between"),
        pytest.param(lambda: van_load([], van_cubic_feet=0), "van_cubic_feet must be above 0 (got 0)", id="no van"),
        pytest.param(
            lambda: weigh(a_piece(), with_things(("1", 1)), items={"1": Thing("Frame", -5)}),
            "grams must be 0 or more (got -5)",
            id="frames below nothing",
        ),
    ],
)
def test_figures_that_make_no_sense_are_refused(wrong, said):
    with pytest.raises(SpecErrors) as refused:
        wrong()
    assert said in str(refused.value)
