from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimating import gas
from estimating.gas import (
    diameter_after,
    fullest_before,
    helium_lines,
    net_lift,
    ribbon_lines,
    weight_lines,
    weights_for,
)
from estimating.layout import Balloon
from estimating.lines import Line, Site
from estimating.specs import SpecErrors

ROOM = Site(celsius=20)


def a_balloon(size=11, **changed):
    return Balloon(
        0,
        0,
        0,
        changed.pop("diameter", gas.HELIUM_INFLATED.get(size, 4.75)),
        size,
        "a",
        "bouquet",
        gas="helium",
        **changed,
    )


def test_a_double_stuffed_balloon_lifts_less_by_its_inner_one():
    assert net_lift(a_balloon(), ROOM) - net_lift(a_balloon(inner="b"), ROOM) == gas.LATEX_GRAMS[11]


def test_foil_is_told_by_its_shape_or_its_colour():
    heart = a_balloon(18, diameter=13.7, form="heart")
    assert gas.litres_of(heart) == pytest.approx(0.4 * gas.LITRES_PER_FT3)
    disc = a_balloon(18, diameter=13.7)
    assert gas.litres_of(replace(disc, in_foil=True)) == pytest.approx(0.5 * gas.LITRES_PER_FT3)
    assert gas.litres_of(disc) == pytest.approx(gas.sphere_litres(13.7))


def test_a_foil_the_chart_leaves_out_is_reckoned_from_the_nearest_of_its_form():
    known, twice, half = (a_balloon(size, form="star") for size in (18, 36, 9))
    assert gas.litres_of(half) == pytest.approx(gas.litres_of(known) / 8)
    assert gas.grams_of(half) == pytest.approx(gas.grams_of(known) / 4)
    # The chart itself has the large ones: they hold a little less than the rule would give them.
    assert gas.litres_of(twice) == pytest.approx(2.5 * gas.LITRES_PER_FT3)


def test_a_small_foil_cannot_carry_itself():
    assert net_lift(a_balloon(9, diameter=7, form="heart"), ROOM) < 0 < net_lift(a_balloon(18, form="heart"), ROOM)


def test_air_lifts_nothing_and_takes_no_helium():
    air = Balloon(0, 0, 0, 10.75, 11, "a", "bouquet")
    assert gas.lift_of([air], ROOM) == 0
    assert helium_lines([air], ROOM) == ()


def test_helium_is_counted_in_whole_litres_with_what_is_lost():
    (line,) = helium_lines([a_balloon()] * 10, Site(celsius=21))
    assert (line.sort, line.needed, line.spares) == ("gas", 107, 14)


def test_less_helium_fills_a_balloon_in_the_mountains():
    assert helium_lines([a_balloon()] * 10, Site(altitude_m=2000))[0].needed < 0.8 * 110


def test_what_sinks_in_the_mountains_is_said():
    heart = a_balloon(18, diameter=13.7, form="heart")
    assert gas.too_heavy_to_float([heart], ROOM) == []
    assert gas.too_heavy_to_float([heart], Site(altitude_m=4000)) == [heart]


@given(st.floats(0, 50_000))
def test_weights_hold_half_as_much_again_as_what_pulls(lift):
    number = weights_for(lift)
    assert number * gas.WEIGHT_GRAMS >= lift * gas.HOLD_DOWN - 1e-3
    assert (number - 1) * gas.WEIGHT_GRAMS < lift * gas.HOLD_DOWN


def test_no_weights_and_no_ribbon_are_no_lines():
    assert weight_lines(weights_for(0)) == ()
    assert ribbon_lines(0, 0) == ()
    assert ribbon_lines(40.2, 9) == (Line("ribbon", None, None, 41, 3),)


@given(st.floats(3, 40), st.floats(-10, 45), st.floats(-10, 45))
def test_a_balloon_held_back_is_never_larger_than_full_after_its_move(full, before, after):
    filled = fullest_before(full, before, after)
    assert filled <= full
    assert diameter_after(filled, before, after) <= full * (1 + 1e-12)


@pytest.mark.parametrize(
    ("work", "said"),
    [
        pytest.param(lambda: gas.helium_z(1e5, 80), "celsius must be from -15 to 55 (got 80)", id="too hot"),
        pytest.param(lambda: gas.helium_z(3e7, 20), "pascal must be from 0 to 2.2e+07", id="too dense"),
        pytest.param(lambda: gas.air_density(1e5, -40), "celsius must be from -15 to 55", id="too cold for air"),
        pytest.param(lambda: gas.pressure_at(9000), "altitude_m must be from -500 to 6000 (got 9000)", id="too high"),
    ],
)
def test_what_the_fits_do_not_cover_is_refused(work, said):
    with pytest.raises(SpecErrors) as refused:
        work()
    assert said in str(refused.value)
