import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimating.spines import (
    Arc,
    ArcError,
    arch,
    catenary_arc,
    ellipse_arc,
    length_of,
    lifted,
)

BOTH = pytest.mark.parametrize("arc_of", [ellipse_arc, catenary_arc])
spans = st.floats(24, 600)
flatness = st.floats(0.02, 3.0)


@BOTH
@settings(max_examples=60, deadline=None)
@given(span=spans, flat=flatness)
def test_any_two_of_span_rise_and_length_give_the_third_to_a_millionth(arc_of, span, flat):
    arc = arc_of(span=span, rise=flat * span)
    for left_out in ("span", "rise", "length"):
        given_two = {name: value for name, value in arc._asdict().items() if name != left_out}
        found = arc_of(**given_two)
        assert found == pytest.approx(arc, abs=1e-6 * arc.length)


@BOTH
def test_all_three_are_taken_where_they_agree(arc_of):
    arc = arc_of(span=120, rise=96)
    assert arc_of(span=120, rise=96, length=arc.length * 1.009) == arc


@BOTH
@pytest.mark.parametrize(
    ("given_these", "field", "said"),
    [
        pytest.param({"span": 120}, "rise", "must be given: two of span, rise and length", id="one alone"),
        pytest.param({"span": 0, "rise": 10}, "span", "must be more than 0", id="no span"),
        pytest.param({"span": 120, "rise": -1}, "rise", "must be more than 0", id="it rises downwards"),
        pytest.param(
            {"span": 120, "length": 120}, "length", "must be more than the span of 120 in", id="shorter than the span"
        ),
        pytest.param(
            {"rise": 96, "length": 180},
            "length",
            "must be more than 192 in to go up 96 in and down again",
            id="too short to rise so far",
        ),
        pytest.param(
            {"span": 120, "rise": 96, "length": 300},
            "length",
            "for a span of 120 in and a rise or sag of 96 in",
            id="all three, at odds",
        ),
    ],
)
def test_what_no_arc_has_is_refused_with_field_and_rule(arc_of, given_these, field, said):
    with pytest.raises(ArcError) as refused:
        arc_of(**given_these)
    assert refused.value.field == field
    assert said in refused.value.rule


def test_given_all_three_at_odds_the_error_says_the_length_that_would_work():
    with pytest.raises(ArcError, match=r"must be 248\.3 in for a span of 120 in and a rise"):
        ellipse_arc(span=120, rise=96, length=216)


@pytest.mark.parametrize("curve", [arch, lifted])
@pytest.mark.parametrize("rise", [30.0, 96.0, 150.0])
def test_an_arch_stands_on_two_feet_a_span_apart_and_is_exactly_as_long_as_its_arc(curve, rise):
    arc = (ellipse_arc if curve is arch else catenary_arc)(span=120, rise=rise)
    spine = curve(arc)
    assert spine[0] == (0, 0)
    assert spine[-1] == pytest.approx((120, 0), abs=0.05)
    assert min(y for _, y in spine) == pytest.approx(-rise, abs=0.05)
    assert length_of(spine) == pytest.approx(arc.length, abs=1e-6)


def test_an_arch_leaves_the_floor_upright_and_a_lifted_line_does_not():
    arc = Arc(120, 60, ellipse_arc(span=120, rise=60).length)
    (x, y), below = arch(arc)[1], lifted(catenary_arc(span=120, rise=60))[1]
    assert -y > 20 * x
    assert -below[1] < 5 * below[0]
