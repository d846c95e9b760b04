from dataclasses import replace
from decimal import Decimal
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimating.layout import Balloon, Layout, Part
from estimating.learning import Beta
from estimating.lines import Line
from estimating.materials import (
    MaterialRules,
    attachment_points,
    count_with_spares,
    item_lines,
    line_feet,
    materials,
    together,
)
from estimating.specs import OwnFigures, SpecErrors
from estimating.spines import doorway, straight

RULES = MaterialRules()


def a_layout(base=16, fillers=4, accents=3, spine=None, length=120.0):
    counts: dict[Part, int] = {"base": base, "filler": fillers, "accent": accents}
    parts = [part for part, count in counts.items() for _ in range(count)]
    size: dict[Part, int] = {"base": 11, "filler": 5, "accent": 16}
    balloons = tuple(Balloon(n, 0, 0, 9, size[part], "navy", part) for n, part in enumerate(parts))
    return Layout(balloons, spine or straight(120), length, 20.0)


def needed(listed):
    return {line.sort: line.needed for line in listed.lines if line.sort != "latex"}


def test_ties_join_clusters_and_hold_accents_and_points():
    """Two clusters, three accents and five points over 10 ft: 2 + 3 + 5."""
    listed = materials(a_layout(), rules=RULES, outdoors=False)
    assert listed.attachments == 5
    assert needed(listed)["tie"] == 10


def test_a_quad_left_over_takes_a_tie_of_its_own():
    even, odd = (materials(a_layout(base), rules=RULES, outdoors=False) for base in (16, 20))
    assert needed(odd)["tie"] - needed(even)["tie"] == 1


@pytest.mark.parametrize(
    ("outdoors", "points"), [pytest.param(False, 5, id="indoors"), pytest.param(True, 11, id="outdoors")]
)
def test_points_are_closer_together_outdoors(outdoors, points):
    assert needed(materials(a_layout(), rules=RULES, outdoors=outdoors))["hook"] == points


def test_points_are_at_both_ends_at_bends_and_never_further_apart_than_the_rule():
    layout = a_layout(spine=doorway(240), length=240)
    points = attachment_points(layout, Decimal("2.5"))
    assert (points[0], points[-1]) == (0, 240)
    assert max(b - a for a, b in pairwise(points)) <= 30.0001
    corner = 240 - 102 - 14 * 3.14159 / 4
    assert min(abs(point - corner) for point in points) < 4


@pytest.mark.parametrize(
    ("length", "feet"),
    [
        pytest.param(120.0, 16, id="whole feet"),
        pytest.param(120.1, 17, id="a hair more takes another foot"),
        pytest.param(365.76, 37, id="30.48 ft"),
    ],
)
def test_line_is_whole_feet_with_three_over_at_each_end(length, feet):
    assert line_feet(a_layout(length=length), RULES) == feet


def test_figures_given_by_hand_come_first():
    listed = materials(a_layout(), rules=RULES, outdoors=False, own=OwnFigures(line_ft=4, attachments=2))
    assert needed(listed) == {"tie": 2 + 3 + 2, "line": 4, "hook": 2}


def test_a_piece_without_a_spine_needs_no_line_and_no_points():
    layout = Layout((Balloon(0, 0, 0, 9, 11, "navy", "counted"),), (), 9, 9)
    assert [line.sort for line in materials(layout, rules=RULES, outdoors=False).lines] == ["latex"]


def test_more_spares_are_taken_outdoors():
    indoors, outdoors = (materials(a_layout(150), rules=RULES, outdoors=place) for place in (False, True))
    assert indoors.balloons() == outdoors.balloons()
    assert indoors.total_of("latex") < outdoors.total_of("latex")


def test_lists_of_several_pieces_add_up_line_by_line():
    one = materials(a_layout(), rules=RULES, outdoors=False)
    both = {(line.sort, line.size): line for line in together([one, one])}
    for line in one.lines:
        assert both[line.sort, line.size].needed == 2 * line.needed
        assert both[line.sort, line.size].total == 2 * line.total


@given(st.integers(0, 400), st.floats(0, 0.4), st.floats(0.5, 0.99))
def test_spares_never_fall_as_the_need_the_pops_or_the_confidence_rise(number, pop_rate, confidence):
    here = count_with_spares(number, pop_rate, confidence)
    assert here >= number
    assert count_with_spares(number + 1, pop_rate, confidence) > here
    assert count_with_spares(number, pop_rate + 0.05, confidence) >= here
    assert count_with_spares(number, pop_rate, confidence + 0.009) >= here


@pytest.mark.parametrize(("pop_rate", "confidence"), [(1.0, 0.95), (-0.1, 0.95), (0.1, 0.0), (0.1, 1.0)])
def test_a_pop_rate_or_confidence_that_no_count_meets_is_refused(pop_rate, confidence):
    with pytest.raises(ValueError, match="a pop rate is from 0 up to 1"):
        count_with_spares(10, pop_rate, confidence)


def test_rules_that_make_no_sense_are_refused_all_at_once():
    with pytest.raises(SpecErrors) as refused:
        MaterialRules(pop_indoors_percent=Decimal(51), point_every_ft_outdoors=Decimal(0))
    assert [error.field for error in refused.value] == ["pop_indoors_percent", "point_every_ft_outdoors"]


def test_points_a_kind_gives_come_before_those_of_its_spine():
    hung = replace(a_layout(), points=((0.0, 0.0), (120.0, 0.0)))
    standing = replace(a_layout(), points=())
    assert materials(hung, rules=RULES, outdoors=False).attachments == 2
    assert "hook" not in needed(materials(standing, rules=RULES, outdoors=False))


def test_a_double_stuffed_colour_is_needed_twice():
    listed = materials(a_layout().double_stuffed((("navy", "sand"),)), rules=RULES, outdoors=False)
    latex = {(line.colour, line.size): line.needed for line in listed.lines if line.sort == "latex"}
    assert latex["sand", 11] == latex["navy", 11] == 16
    assert listed.balloons() == 46


def test_a_topper_is_tied_in_with_a_260():
    topped = replace(a_layout(), balloons=(*a_layout().balloons, Balloon(0, 0, 0, 16, 18, "navy", "topper")))
    with_it, without = (needed(materials(one, rules=RULES, outdoors=False))["tie"] for one in (topped, a_layout()))
    assert with_it - without == 1


def test_what_a_kind_and_a_decorator_add_comes_after_the_rest_and_is_added_up_over_pieces():
    added = (Line("ribbon", None, None, 12, 1), *item_lines((("7", 2), ("9", 1))))
    one = materials(a_layout(), rules=RULES, outdoors=False, extras=added)
    assert one.lines[-3:] == added
    both = {(line.sort, line.item): (line.needed, line.spares) for line in together([one, one])}
    assert both["ribbon", None] == (24, 2)
    assert (both["item", "7"], both["item", "9"]) == ((4, 0), (2, 0))


def test_a_kinds_own_way_of_tying_comes_before_the_layouts():
    tied = replace(a_layout().structure(), clusters=7)
    listed = materials(a_layout(), rules=RULES, outdoors=False, structure=tied)
    assert (listed.structure, needed(listed)["tie"]) == (tied, 15)


def test_a_size_with_pops_seen_takes_the_spares_they_ask_for():
    seen = {11: Beta(40, 360)}
    plain, learned = (materials(a_layout(), rules=RULES, outdoors=False, pops=pops) for pops in (None, seen))
    spares = [{line.size: line.spares for line in made.lines if line.sort == "latex"} for made in (plain, learned)]

    assert spares[1][11] == seen[11].to_inflate(16, 0.95) - 16 > spares[0][11]
    assert (spares[1][5], spares[1][16]) == (spares[0][5], spares[0][16])


def test_foil_does_not_pop_but_one_in_a_hundred_leaks():
    latex = a_layout(base=400, fillers=0, accents=0)
    rules = replace(RULES, pop_outdoors_percent=Decimal(8))
    popping, leaking = (
        materials(one, rules=rules, outdoors=True).lines[0] for one in (latex, latex.in_foil({"navy": "round"}))
    )

    assert popping.total == count_with_spares(400, 0.08, 0.95)
    assert leaking.total == count_with_spares(400, 0.01, 0.95)


def test_foil_learns_nothing_from_the_latex_that_popped():
    foil = a_layout(fillers=0, accents=0).in_foil({"navy": "round"})
    learned, plain = (materials(foil, rules=RULES, outdoors=False, pops=pops) for pops in ({11: Beta(90, 10)}, None))
    assert learned == plain
