"""Ladders that reach, points that hold, and what stays clear."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimating.site import (
    CLEARANCES,
    FROM_THE_FLOOR,
    LADDERS,
    clearance_answers,
    feet_and_inches,
    ladder_answer,
    ladder_plus_four,
    ladder_reach,
    least_ladder,
    points_answer,
)
from estimating.specs import SpecErrors

WORDS = ("5 oz", "8 oz", "1.0 lb")


def test_between_two_ladders_the_reach_lies_on_the_line_that_joins_them():
    assert ladder_reach(5) == pytest.approx((102 + 124) / 2)
    assert ladder_reach(14) == pytest.approx((193 + 239) / 2)


@settings(max_examples=200, deadline=None)
@given(st.floats(FROM_THE_FLOOR + 0.1, LADDERS[-1][2]))
def test_the_least_ladder_reaches_and_no_shorter_one_of_the_table_does(height):
    ladder = least_ladder(height)

    assert ladder is not None
    assert ladder_reach(ladder) >= height - 1e-6
    assert ladder == LADDERS[0][0] or ladder_reach(max(ladder - 0.01, LADDERS[0][0])) < height


@settings(max_examples=100, deadline=None)
@given(st.floats(14.01, 20))
def test_ladder_and_four_feet_promises_more_than_long_ladders_reach(ladder):
    assert ladder_plus_four(ladder) > ladder_reach(ladder)


@pytest.mark.parametrize(
    ("height", "owned", "state", "said"),
    [
        pytest.param(70, [], "fine", "5 ft 10 in (1.78 m) is within reach from the floor.", id="no ladder needed"),
        pytest.param(
            120, [4, 6, 10], "fine",
            "To hang at 10 ft (3.05 m) take the ladder of 6 ft (1.83 m): it reaches 10 ft 4 in (3.15 m).",
            id="the shortest that reaches",
        ),
        pytest.param(
            130, [4, 6], "stop",
            "To hang at 10 ft 10 in (3.30 m) takes a ladder of at least 7 ft (2.13 m). "
            "Your longest, 6 ft (1.83 m), reaches 10 ft 4 in (3.15 m).",
            id="none long enough",
        ),
        pytest.param(
            240, [16], "stop",
            "To hang at 20 ft (6.10 m) takes a ladder of at least 16 ft 6 in (5.03 m). "
            "Your longest, 16 ft (4.88 m), reaches 19 ft 11 in (6.07 m). "
            "The rule of ladder and four feet would call it enough; the table does not.",
            id="the rule of thumb says yes",
        ),
        pytest.param(
            96, [], "care", "To hang at 8 ft (2.44 m) takes a ladder of at least 4 ft (1.22 m).", id="none written down"
        ),
        pytest.param(
            96, [3], "care", "To hang at 8 ft (2.44 m) takes a ladder of at least 4 ft (1.22 m).", id="only a stool"
        ),
        pytest.param(
            300, [20], "stop",
            "No stepladder of the table reaches 25 ft (7.62 m): it takes a lift and somebody trained for it.",
            id="beyond every stepladder",
        ),
    ],
)  # fmt: skip
def test_does_a_ladder_reach(height, owned, state, said):
    answer = ladder_answer(height, owned)
    assert (answer.state, answer.sentence) == (state, said)
    assert "Kentucky" in answer.source


@pytest.mark.parametrize("height", [0, -12, float("nan"), float("inf")])
def test_a_height_of_nothing_is_refused(height):
    with pytest.raises(SpecErrors, match="hanging height must be above 0"):
        ladder_answer(height, [6])


@pytest.mark.parametrize("ladder", [0, 3.9, 20.5, -6, float("nan")])
def test_a_ladder_the_table_does_not_cover_is_refused(ladder):
    with pytest.raises(SpecErrors, match="ladder must be from 4 ft to 20 ft"):
        ladder_reach(ladder)


@pytest.mark.parametrize(
    ("heaviest", "one_fewer", "state", "part"),
    [
        pytest.param(140, 220, "fine", "bears at most 5 oz (8 oz should the next let go)", id="holds with one gone"),
        pytest.param(240, 300, "care", "more than half of the 1.0 lb", id="more than half"),
        pytest.param(200, 500, "care", "8 oz should the next let go, and a hook holds 1.0 lb", id="not with one gone"),
        pytest.param(140, None, "care", "nothing else holds if it lets go", id="a single point"),
        pytest.param(460, 900, "stop", "use stronger ones, or more of them", id="too heavy"),
    ],
)
def test_do_the_points_hold(heaviest, one_fewer, state, part):
    answer = points_answer(heaviest, one_fewer, 450, said=WORDS)
    assert answer.state == state
    assert part in answer.sentence


@pytest.mark.parametrize(
    ("heaviest", "rating", "said"),
    [
        pytest.param(-1, 450, "weight must be 0 or more (got -1)", id="a weight below nothing"),
        pytest.param(1, 0, "rating must be above 0 (got 0)", id="a hook that holds nothing"),
    ],
)
def test_points_that_make_no_sense_are_refused(heaviest, rating, said):
    with pytest.raises(SpecErrors) as refused:
        points_answer(heaviest, None, rating, said=WORDS)
    assert str(refused.value) == said


def test_every_clearance_is_said_with_its_source():
    answers = clearance_answers()
    assert len(answers) == len(CLEARANCES)
    assert all(answer.source and "{" not in answer.sentence for answer in answers)


@pytest.mark.parametrize(
    ("inches", "words"),
    [
        pytest.param(80, "6 ft 8 in (2.03 m)", id="both"),
        pytest.param(96, "8 ft (2.44 m)", id="feet alone"),
        pytest.param(4, "4 in (0.10 m)", id="inches alone"),
        pytest.param(11.8, "1 ft (0.30 m)", id="rounded up to a foot"),
        pytest.param(0, "0 in (0.00 m)", id="nothing"),
    ],
)
def test_a_height_in_words(inches, words):
    assert feet_and_inches(inches) == words
