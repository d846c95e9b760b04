"""The stair of a balance, as shapes."""

import datetime as dt
import re
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from studio.chart import step_chart

MON = dt.date(2026, 11, 30)
END = MON + dt.timedelta(weeks=8)


def after(days: int) -> dt.date:
    return MON + dt.timedelta(days=days)


def drawn(points, **settings):
    return step_chart(points, **({"today": MON, "until": END} | settings))


#   100 ────┐
#           └──── 60 ──┐
#   0 ─────────────────┼───────────
#                      └──── −80
FALLING = [(MON, 100, ""), (after(10), 60, "Ferry office −40"), (after(30), -80, "Film gala −140")]


def corners(path: str) -> list[tuple[float, float]]:
    """Every corner of a path made of M, H, V and Z."""
    found, x, y = [], 0.0, 0.0
    for command, numbers in re.findall(r"([MHV])([^MHVZ]*)", path):
        values = [float(number) for number in numbers.split()]
        x = values[0] if command in "MH" else x
        y = values[-1] if command in "MV" else y
        found.append((x, y))
    return found


def test_a_balance_that_falls_is_drawn_in_two_parts():
    shape = drawn(FALLING)
    assert shape.line and shape.line_short and shape.area_short


def test_the_part_above_zero_never_goes_below_the_zero_line():
    assert max(y for _, y in corners(drawn(FALLING).line)) == drawn(FALLING).zero_y


def test_the_part_below_zero_never_goes_above_the_zero_line():
    shape = drawn(FALLING)
    assert min(y for _, y in corners(shape.line_short)) == shape.zero_y


def test_the_two_parts_meet_where_the_balance_crosses_zero():
    shape = drawn(FALLING)
    assert corners(shape.line)[-1] == corners(shape.line_short)[0]


def test_a_balance_that_stays_above_zero_has_nothing_short_to_draw():
    shape = drawn([(MON, 100, ""), (after(5), 20, "one")])
    assert (shape.line_short, shape.area_short) == ("", "")


def test_a_balance_that_comes_back_is_drawn_above_zero_again():
    shape = drawn([(MON, -10, ""), (after(5), 90, "100 arrive")])
    assert corners(shape.line_short)[-1] == corners(shape.line)[0]
    assert shape.line.count("M") == 1


def test_the_balance_today_is_that_of_the_last_change_before_it():
    shape = drawn([(after(-20), 300, ""), (after(-3), 50, "past")])
    assert shape.levels[1].text == "50"
    assert shape.labels == ()


def test_the_last_balance_is_held_to_the_right_edge():
    shape = drawn(FALLING)
    assert max(x for x, _ in corners(shape.line_short)) == shape.right


def test_two_changes_on_one_day_are_one_step_with_both_names():
    shape = drawn([(MON, 100, ""), (after(9), 80, "a −20"), (after(9), 50, "b −30")])
    assert [label.text for label in shape.labels] == ["a −20, b −30"]


def test_a_change_that_runs_short_is_marked_so():
    assert [label.is_short for label in drawn(FALLING).labels] == [False, True]


def test_a_keep_back_level_is_a_line_above_zero_and_says_what_it_is():
    shape = drawn(FALLING, keep_back=20)
    assert shape.keep_back_y is not None
    assert shape.keep_back_y < shape.zero_y
    assert "keep back 20" in [level.text for level in shape.levels]


def test_no_keep_back_level_is_no_line():
    assert drawn(FALLING).keep_back_y is None


def test_dates_along_the_foot_begin_today_and_go_by_weeks():
    assert [tick.text for tick in drawn(FALLING).ticks[:3]] == ["30 Nov", "7 Dec", "14 Dec"]


def test_a_narrow_drawing_has_fewer_dates():
    assert len(drawn(FALLING, width=326, height=150).ticks) < len(drawn(FALLING).ticks)


@pytest.mark.parametrize(
    ("points", "until", "rule"),
    [
        pytest.param([], END, "at least one point", id="no points"),
        pytest.param(FALLING, MON, "end after it begins", id="no days"),
    ],
)
def test_what_cannot_be_drawn_is_refused_with_the_rule(points, until, rule):
    with pytest.raises(ValueError, match=rule):
        step_chart(points, today=MON, until=until)


steps = st.lists(
    st.tuples(
        st.integers(-10, 60).map(after), st.integers(-500, 500), st.sampled_from(["", "gala −9", "a long name −140"])
    ),
    min_size=1,
    max_size=25,
)


@given(steps, st.sampled_from([(326, 130), (960, 220)]), st.integers(0, 40))
def test_no_words_lie_on_other_words(points, size, keep_back):
    shape = drawn(points, width=size[0], height=size[1], keep_back=keep_back)
    boxes = [label.box for label in shape.labels]
    boxes += [label.box for label in shape.ticks]
    for one, other in combinations(boxes, 2):
        apart = one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]
        assert apart, (one, other)


@given(steps)
def test_every_change_in_the_days_shown_is_named_or_counted_as_left_out(points):
    shape = drawn(points)
    named_days = {day for day, _, words in points if words and MON < day < END}
    assert len(shape.labels) + shape.left_out == len(named_days)


@given(steps)
def test_every_corner_is_inside_the_drawing(points):
    shape = drawn(points)
    for x, y in corners(shape.line + shape.line_short + shape.area_short):
        assert shape.left <= x <= shape.right
        assert 0 <= y <= shape.height
