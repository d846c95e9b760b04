"""The site check as plain rules: met, not met or not known, each in a sentence with its source."""

import datetime as dt
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bookings.site_check import (
    LEAST_OXYGEN,
    OXYGEN,
    Check,
    Figures,
    Helium,
    HungPiece,
    StandingPiece,
    check_site,
    oxygen_left,
)
from estimating.afloat import CYLINDERS
from estimating.specs import SpecErrors

FOOT = 12.0
GARLAND = HungPiece(7, "Garland", grams=(50.0, 100.0, 50.0), ratings=(900.0, 900.0, 900.0), one_fewer=150.0, hook=453.6)
QUIET = Figures(height=9 * FOOT, ladders=(6.0,), hung=(GARLAND,), sprinklers="none", exits="clear", latex="none")
"""A job of which everything is known and fine."""
TANK = next(one for one in CYLINDERS if one.name == "KH")


def checked(figures: Figures, key: str) -> Check:
    """One check of a place."""
    return next(one for one in check_site(figures, measures="imperial") if one.key == key)


def test_a_quiet_job_meets_every_rule():
    assert {one.state for one in check_site(QUIET, measures="imperial")} == {"met"}


def test_every_rule_says_a_sentence_and_its_source():
    for one in check_site(QUIET, measures="metric"):
        assert one.sentence.endswith(".")
        assert one.source


def test_what_is_not_met_comes_first_and_what_is_not_known_next():
    figures = replace(QUIET, height=13 * FOOT, exits="")
    states = [one.state for one in check_site(figures, measures="imperial")]
    assert states == sorted(states, key=["unmet", "not known", "met"].index)
    assert states[:2] == ["unmet", "not known"]


@pytest.mark.parametrize(
    ("changes", "key", "state", "said"),
    [
        pytest.param({"height": None}, "ladder", "not known", "How high it hangs is not written down", id="no height"),
        pytest.param({"height": 0.0}, "ladder", "not known", "must be above 0; 0 in is not", id="a height of nothing"),
        pytest.param({"ladders": ()}, "ladder", "unmet", "No ladder with a height is among your kit", id="no ladder"),
        pytest.param(
            {"ladders": (0.0,)}, "ladder", "unmet", "One ladder of yours is not counted", id="a ladder of 0 ft"
        ),
        pytest.param(
            {"ladders": (4.0, 28.0), "height": 16 * FOOT}, "ladder", "unmet", "Your longest, 4 ft", id="28 ft"
        ),
        pytest.param({"height": 40 * FOOT}, "ladder", "unmet", "it takes a lift", id="beyond ladders"),
        pytest.param({"exits": ""}, "exits", "not known", "Nobody has looked", id="exits not looked at"),
        pytest.param({"exits": "crossed"}, "exits", "unmet", "stands in a way out", id="exits crossed"),
        pytest.param({"latex": ""}, "latex", "not known", "Nobody has asked", id="latex not asked"),
        pytest.param({"latex": "some"}, "latex", "unmet", "allergic to latex", id="somebody is allergic"),
        pytest.param({"sprinklers": ""}, "sprinklers", "not known", "Nobody has looked for", id="not looked"),
        pytest.param({"sprinklers": "some"}, "sprinklers", "not known", "is not measured", id="not measured"),
        pytest.param(
            {"sprinklers": "some", "sprinkler_gap": 17.9}, "sprinklers", "unmet", "It comes within", id="too near"
        ),
        pytest.param({"sprinklers": "some", "sprinkler_gap": 18.0}, "sprinklers", "met", "It stays", id="18 in"),
        pytest.param({"outdoors": True}, "wind", "not known", "are not looked up", id="gusts not known"),
        pytest.param({"outdoors": True, "gusts": 200.0}, "wind", "unmet", "Do not install", id="200 mph"),
        pytest.param({"outdoors": True, "gusts": 900.0}, "wind", "not known", "cannot be", id="900 mph"),
        pytest.param({"outdoors": True, "gusts": 9.0}, "wind", "met", "Gusts of 9 mph", id="a breeze"),
        pytest.param(
            {"outdoors": True, "helium_outdoors": True}, "helium-outdoors", "unmet", "most decorators", id="helium out"
        ),
    ],
)
def test_a_rule_is_met_or_not(changes, key, state, said):
    one = checked(replace(QUIET, **changes), key)
    assert one.state == state
    assert said in one.sentence


@pytest.mark.parametrize(
    ("changes", "state", "said"),
    [
        pytest.param({}, "met", "A point bears at most 4 oz; a hook holds 1 lb.", id="holds"),
        pytest.param(
            {"ratings": (900.0, 900.0, 400.0)},
            "met",
            "A point bears at most 4 oz; the weakest is rated for 14 oz.",
            id="a place that holds less than a hook",
        ),
        pytest.param(
            {"ratings": (None, None, None)},
            "not known",
            "what each point is rated for is not written down",
            id="unrated",
        ),
        pytest.param({"ratings": (900.0, None, 900.0)}, "not known", "what 1 of 3 points are rated", id="one unrated"),
        pytest.param({"ratings": (900.0, 90.0, 900.0)}, "unmet", "Point 2 bears 4 oz, more than the 3 oz", id="weak"),
        pytest.param(
            {"ratings": (900.0, 150.0, 900.0)},
            "unmet",
            "Point 2 bears 4 oz, more than half of the 5 oz the place",
            id="half",
        ),
        pytest.param(
            {"hook": 90.0}, "unmet", "the 3 oz its hook is rated for. 2 more of its 3 points", id="weak hooks"
        ),
        pytest.param({"one_fewer": 800.0}, "unmet", "Should a point let go, the next bears", id="one lets go"),
        pytest.param({"unknown": ("Eucalyptus",)}, "not known", "What Eucalyptus weigh is not known", id="not weighed"),
        pytest.param(
            {"grams": (9.0,), "ratings": (900.0,), "one_fewer": None},
            "met",
            "Nothing else holds if it lets go",
            id="one",
        ),
    ],
)
def test_the_weight_on_each_point_against_what_it_is_rated_for(changes, state, said):
    one = checked(replace(QUIET, hung=(replace(GARLAND, **changes),)), "points-7")
    assert (one.state, said in one.sentence) == (state, True), one.sentence


@pytest.mark.parametrize(
    ("gets", "state", "said"),
    [
        pytest.param(None, "not known", "what you put on it is not written down", id="not known"),
        pytest.param(8_000.0, "unmet", "needs 22 lb and gets 17.6 lb", id="too little"),
        pytest.param(10_000.0, "met", "gets 22 lb of the 22 lb it needs", id="enough"),
    ],
)
def test_the_ballast_on_a_base(gets, state, said):
    one = checked(replace(QUIET, standing=(StandingPiece(3, "Column", 9_999.0, gets),)), "ballast-3")
    assert (one.state, said in one.sentence) == (state, True), one.sentence


@pytest.mark.parametrize(
    ("room", "state", "said"),
    [
        pytest.param(None, "not known", "How large the room is is not written down", id="not measured"),
        pytest.param(0.0, "not known", "must hold some air", id="a room of nothing"),
        pytest.param(50_000.0, "unmet", "17.8 % of its air would be oxygen, less than the 19.5 %", id="small"),
        pytest.param(400_000.0, "met", "Helium gathers under the ceiling first", id="a hall"),
    ],
)
def test_helium_in_a_room(room, state, said):
    helium = Helium((TANK,), litres=7_400.0, van_litres=7_000.0, room_litres=room)
    one = checked(replace(QUIET, helium=helium), "helium-room")
    assert (one.state, said in one.sentence) == (state, True), one.sentence


def test_a_cylinder_in_a_closed_van_leaves_no_air_to_breathe():
    helium = Helium((TANK,), litres=7_400.0, van_litres=7_000.0, room_litres=400_000.0)
    one = checked(replace(QUIET, helium=helium), "helium-van")
    assert one.state == "unmet"
    assert "0 % of its air would be oxygen" in one.sentence and "secured upright" in one.sentence


def test_more_cylinders_than_the_law_lets_travel():
    helium = Helium((TANK,) * 4, litres=29_600.0, van_litres=7_000.0, room_litres=9e6)
    one = checked(replace(QUIET, helium=helium), "helium-law")
    assert one.state == "unmet"
    assert "4 cylinders weigh 560 lb" in one.sentence


@pytest.mark.parametrize(
    ("arrives", "opens", "closes", "state"),
    [
        pytest.param(dt.time(9), dt.time(8), dt.time(12), "met", id="inside"),
        pytest.param(dt.time(8), dt.time(8), None, "met", id="on the dot"),
        pytest.param(dt.time(7, 59), dt.time(8), None, "unmet", id="a minute early"),
        pytest.param(dt.time(12), dt.time(8), dt.time(12), "unmet", id="when it shuts"),
        pytest.param(dt.time(1), dt.time(22), dt.time(6), "met", id="in the night"),
        pytest.param(dt.time(12), dt.time(22), dt.time(6), "unmet", id="by day where the night is given"),
    ],
)
def test_the_install_begins_while_one_may_get_in(arrives, opens, closes, state):
    assert checked(replace(QUIET, arrives=arrives, access=(opens, closes)), "access").state == state


def test_a_changed_figure_changes_the_stamp_and_its_wording_does_not():
    before = checked(replace(QUIET, height=13 * FOOT), "ladder")
    assert checked(replace(QUIET, height=13 * FOOT), "ladder").stamp == before.stamp
    assert checked(replace(QUIET, height=13 * FOOT + 1), "ladder").stamp != before.stamp
    heavy = replace(GARLAND, ratings=(90.0,) * 3)
    stamps = {
        one.stamp
        for measures in ("imperial", "metric")
        for one in check_site(replace(QUIET, hung=(heavy,)), measures=measures)
        if one.key == "points-7"
    }
    assert len(stamps) == 1


@given(released=st.floats(0, 1e7), room=st.floats(1e-3, 1e8))
def test_the_oxygen_left_is_a_part_of_what_air_has(released, room):
    left = oxygen_left(released, room)
    assert 0 <= left <= OXYGEN
    assert (left == 0) == (released >= room)


@given(room=st.floats(1, 1e7), less=st.floats(0, 1), more=st.floats(0, 1))
def test_more_helium_never_leaves_more_oxygen(room, less, more):
    low, high = sorted((less, more))
    assert oxygen_left(high * room, room) <= oxygen_left(low * room, room)


@given(litres=st.floats(1, 1e6), room=st.floats(1, 1e7))
def test_a_sentence_about_air_says_what_its_state_says(litres, room):
    one = checked(replace(QUIET, helium=Helium((TANK,), litres, 7_000.0, room)), "helium-room")
    assert (one.state == "met") == (oxygen_left(litres, room) >= LEAST_OXYGEN)


@pytest.mark.parametrize(
    ("released", "room", "named"),
    [
        pytest.param(-1.0, 10.0, "released", id="less than nothing"),
        pytest.param(1.0, 0.0, "room", id="a room of nothing"),
        pytest.param(1.0, float("nan"), "room", id="no number"),
        pytest.param(float("inf"), 1.0, "released", id="without end"),
    ],
)
def test_figures_that_cannot_be_are_refused_by_name(released, room, named):
    with pytest.raises(SpecErrors) as refused:
        oxygen_left(released, room)
    assert [error.field for error in refused.value] == [named]
