"""Wind: how hard it pushes, what holds, when not to put it up."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimating.layout import Balloon, Layout
from estimating.specs import SpecErrors
from estimating.spines import straight
from estimating.wind import SPHERE, ballast, drag, push_in_words, silhouette, wind_answer, wind_pressure


@pytest.mark.parametrize(
    ("mph", "limit", "state", "part"),
    [
        pytest.param(0, 24, "fine", "Gusts of 0 mph (0 km/h) are 0 % of your limit of 24 mph (39 km/h).", id="calm"),
        pytest.param(14, 24, "fine", "58 % of your limit", id="under the first mark"),
        pytest.param(14.4, 24, "care", "Watch the wind", id="at 60 %"),
        pytest.param(19, 24, "care", "79 % of your limit", id="under the second mark"),
        pytest.param(19.2, 24, "stop", "Do not start, and take down what stands", id="at 80 %"),
        pytest.param(24, 24, "stop", "Do not install: gusts of 24 mph (39 km/h) are at or above", id="at the limit"),
        pytest.param(200, 24, "stop", "Do not install: gusts of 200 mph (322 km/h)", id="a hurricane"),
        pytest.param(15, 20, "care", "75 % of your limit of 20 mph", id="a limit of the studio's own"),
    ],
)
def test_may_it_go_up(mph, limit, state, part):
    answer = wind_answer(mph, limit)
    assert answer.state == state
    assert part in answer.sentence
    assert "EN 14960" in answer.source


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        pytest.param(lambda: wind_answer(-3), "wind must be from 0 to 250 mph (got -3 mph)", id="below nothing"),
        pytest.param(lambda: wind_answer(300), "wind must be from 0 to 250 mph (got 300 mph)", id="no such wind"),
        pytest.param(lambda: wind_answer(float("nan")), "wind must be from 0 to 250 mph (got nan mph)", id="no number"),
        pytest.param(lambda: wind_answer(5, 0), "wind limit must be above 0", id="no limit"),
        pytest.param(lambda: wind_pressure(5, -1), "factor must be 0 or more", id="a factor below nothing"),
        pytest.param(lambda: drag(5, -1), "area must be 0 or more", id="an area below nothing"),
        pytest.param(lambda: ballast(-1, height=1, base=1), "push must be 0 or more", id="a push below nothing"),
        pytest.param(lambda: ballast(1, height=1, base=0), "base must be above 0", id="no base"),
        pytest.param(lambda: ballast(1, height=1, base=1, weight=-2), "weight must be 0 or more", id="no weight"),
        pytest.param(lambda: ballast(1, height=1, base=1, friction=0), "friction must be above 0", id="ice"),
    ],
)  # fmt: skip
def test_figures_that_make_no_sense_are_refused(wrong, said):
    with pytest.raises(SpecErrors) as refused:
        wrong()
    assert said in str(refused.value)


@settings(max_examples=100, deadline=None)
@given(mph=st.floats(0.1, 125), area=st.floats(0.1, 500))
def test_twice_the_wind_pushes_four_times_as_hard(mph, area):
    assert drag(2 * mph, area) == pytest.approx(4 * drag(mph, area))


@settings(max_examples=100, deadline=None)
@given(
    push=st.floats(0, 200),
    height=st.floats(0.5, 20),
    base=st.floats(0.5, 8),
    weight=st.floats(0, 50),
)
def test_the_ballast_holds_against_both_with_its_margin(push, height, base, weight):
    held = ballast(push, height=height, base=base, weight=weight).pounds + weight

    assert held * base / 2 >= 1.5 * push * height - 1e-6
    assert 0.4 * held >= 1.5 * push - 1e-6


def test_a_piece_heavy_enough_needs_no_ballast():
    assert ballast(1, height=2, base=4, weight=50).pounds == 0


def test_what_the_wind_meets_of_a_garland_is_its_length_by_its_width():
    garland = Layout((Balloon(0, 0, 0, 9.5, 11, "a", "base"),), straight(240), 240, 18)
    assert silhouette(garland) == pytest.approx(20 * 1.5)


def test_what_the_wind_meets_of_single_balloons_is_their_discs():
    pair = Layout(tuple(Balloon(n * 40, 0, 0, 34, 36, "a", "counted") for n in range(2)), (), 34, 74)
    assert silhouette(pair) == pytest.approx(2 * 3.14159265 / 4 * 34**2 / 144)
    assert drag(10, silhouette(pair), SPHERE) == pytest.approx(0.256 * 0.5 * silhouette(pair))


def test_the_push_says_what_it_is_made_of():
    garland = Layout((Balloon(0, 0, 0, 9.5, 11, "a", "base"),), straight(240), 240, 18)
    assert push_in_words(garland, 20) == (
        "30 ft² of it meet the wind at 1.02 lb a square foot, with a drag coefficient of 1.2."
    )


def test_the_drag_crisis_of_large_balloons_is_not_counted_on():
    large = Layout((Balloon(0, 0, 0, 34, 36, "a", "counted"),), (), 34, 34)
    assert push_in_words(large, 20).endswith("may be past the drag crisis and pushed less, which is not counted on.")
    assert "crisis" not in push_in_words(large, 10)
