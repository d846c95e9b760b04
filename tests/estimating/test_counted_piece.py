import json
from itertools import combinations

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from estimating.kinds import CountedSpec, OwnFigures, SpecErrors
from estimating.kinds.counted import lay_out
from estimating.specs import SIZES

LINES = (("navy", 11, 12), ("sand", 11, 7), ("coral", 5, 20), ("navy", 36, 2))


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        pytest.param({"lines": ()}, "lines must hold from 1 to 3000 balloons (got 0)", id="nothing"),
        pytest.param(
            {"lines": (("a", 11, 0),)}, "lines must be a whole number from 1 to 3000 (got 0)", id="none of one"
        ),
        pytest.param({"lines": (("a", 7, 1),)}, "lines must be one of 3, 5, 6", id="no such size"),
        pytest.param({"lines": (("", 11, 1),)}, "lines must be the key of a colour", id="no colour"),
        pytest.param(
            {"lines": (("a", 11, 1), ("a", 11, 2))},
            "lines must name each colour and size only once (got a 11-inch)",
            id="the same twice",
        ),
        pytest.param(
            {"lines": (("a", 11, 2000), ("b", 11, 1001))},
            "lines must hold from 1 to 3000 balloons (got 3001)",
            id="too many together",
        ),
        pytest.param({"minutes": -1}, "minutes must be a whole number from 0 to 60000 (got -1)", id="negative time"),
        pytest.param({"line_ft": 2001}, "line_ft must be a whole number from 0 to 2000", id="miles of line"),
        pytest.param({"attachments": 1.5}, "attachments must be a whole number", id="half a point"),
    ],
)
def test_a_count_that_cannot_be_is_refused_with_field_rule_and_value(changed, said):
    with pytest.raises(SpecErrors) as refused:
        CountedSpec(**{"lines": LINES, **changed})
    assert said in str(refused.value)


def test_a_counted_spec_is_the_same_after_a_trip_through_json():
    spec = CountedSpec(LINES, outdoors=True, minutes=90, line_ft=12, attachments=3, seed=4)
    assert CountedSpec.from_json(json.loads(json.dumps(spec.to_json()))) == spec


def test_own_figures_are_those_given_and_no_minutes_means_the_rates():
    assert CountedSpec(LINES, line_ft=12, attachments=3).own_figures() == OwnFigures(12, 3, None)
    assert CountedSpec(LINES, minutes=90).own_figures().minutes == 90


@settings(max_examples=40, deadline=None)
@given(
    st.dictionaries(
        st.tuples(st.sampled_from("abc"), st.sampled_from(SIZES)), st.integers(1, 40), min_size=1, max_size=8
    )
)
@example(lines={("a", 36): 2, ("b", 36): 1})
def test_every_balloon_is_laid_out_and_none_hides_another(lines):
    spec = CountedSpec(tuple((colour, size, count) for (colour, size), count in lines.items()))
    layout = lay_out(spec)
    assert layout.counts() == lines
    for a, b in combinations(layout.balloons, 2):
        apart = ((a.x - b.x) ** 2 + (a.y - b.y) ** 2) ** 0.5
        assert apart >= (a.diameter + b.diameter) / 2 - 0.003


def test_rows_of_one_size_nest():
    layout = lay_out(CountedSpec((("navy", 11, 60),)))
    rows = sorted({b.y for b in layout.balloons})
    assert rows[1] - rows[0] == pytest.approx(9.5 * 0.8660, abs=0.01)


def test_the_heap_is_wider_than_high_but_not_a_single_row():
    left, top, right, bottom = lay_out(CountedSpec((("navy", 11, 200),))).bounds()
    assert 1 < (right - left) / (bottom - top) < 3
