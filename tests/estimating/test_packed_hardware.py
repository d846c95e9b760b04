"""What a packed piece takes besides balloons: helium, weights, ties, and the work of sealing."""

from dataclasses import replace
from decimal import Decimal
from math import pi

import pytest

from estimating.kinds.packed import PackedSpec, Topper, advice, hardware, lay_out, structure, tasks
from estimating.lines import Site, Task

INCH = Decimal("25.4")
FOOT = 12 * INCH
TWO = (("navy", 50), ("white", 50))

GARLAND = PackedSpec("garland", TWO, size=11, length_mm=16 * FOOT, shape="straight")
SWAG = PackedSpec("garland", TWO, size=11, span_mm=12 * FOOT, rise_mm=3 * FOOT)
ARCH = PackedSpec("arch", TWO, size=11, span_mm=10 * FOOT, rise_mm=8 * FOOT)
COLUMN = PackedSpec("column", TWO, size=11, height_mm=6 * FOOT)


def test_helium_goes_into_every_balloon_of_an_arch_that_floats():
    assert {b.gas for b in lay_out(replace(ARCH, helium=True)).balloons} == {"helium"}
    assert {b.gas for b in lay_out(ARCH).balloons} == {"air"}


def test_what_floats_is_filled_fuller_than_with_air():
    assert {b.diameter for b in lay_out(replace(ARCH, helium=True)).balloons} == {10.75}
    assert {b.diameter for b in lay_out(replace(ARCH, helium=True, diameter_mm=9 * INCH)).balloons} == {9.0}


@pytest.mark.parametrize(
    ("spec", "weights"),
    [
        pytest.param(COLUMN, 0, id="a column on its own foot"),
        pytest.param(replace(COLUMN, base="weighted"), 1, id="a weighted column"),
        pytest.param(replace(ARCH, base="weighted"), 2, id="a weighted arch"),
        pytest.param(GARLAND, 0, id="a garland"),
    ],
)
def test_each_weighted_foot_takes_a_weight_and_air_takes_no_helium(spec, weights):
    lines = hardware(spec, lay_out(spec), Site())
    assert {line.sort: line.needed for line in lines} == ({"weight": weights} if weights else {})


def test_a_floating_arch_takes_its_helium_and_weights_that_hold_its_lift():
    spec = replace(ARCH, helium=True)
    layout = lay_out(spec)
    taken = {line.sort: line.needed for line in hardware(spec, layout, Site())}
    litres = len(layout.balloons) * pi / 6 * 10.75**3 * 0.016387064
    assert taken["gas"] == pytest.approx(litres, rel=0.01)
    assert taken["weight"] * 170 > 1.5 * len(layout.balloons) * (litres / len(layout.balloons) * 1.0 - 3)


@pytest.mark.parametrize(
    ("per_layer", "pairs", "clusters", "left"),
    [
        pytest.param(4, 18, 4, 1, id="9 quads of two pairs"),
        pytest.param(5, 18, 4, 1, id="9 fives of a pair and a trio"),
        pytest.param(6, 27, 4, 1, id="9 sixes of three pairs"),
    ],
)
def test_layers_are_tied_from_pairs_and_joined_in_twos(per_layer, pairs, clusters, left):
    tied = structure(lay_out(replace(COLUMN, per_layer=per_layer, topper=Topper(24, "coral"))))
    assert (tied.pairs, tied.quads, tied.clusters, tied.quads_left) == (pairs, 9, clusters, left)
    assert tied.toppers == 1


def test_a_floating_arch_that_will_not_last_is_said_and_one_of_air_is_not():
    floating = replace(ARCH, helium=True)
    said = advice(floating, lay_out(floating), Site(hours_afloat=24))
    assert len(said) == 1
    assert said[0].startswith("A 11-inch floats") or said[0].startswith("An 11-inch floats")
    assert advice(floating, lay_out(floating), Site(hours_afloat=4)) == ()
    assert advice(ARCH, lay_out(ARCH), Site(hours_afloat=240)) == ()


def test_what_floats_is_sealed_where_it_is_asked_for_and_then_floats_for_days():
    sealed = replace(ARCH, helium=True, sealed=True)
    layout = lay_out(sealed)

    assert tasks(sealed, layout) == (Task("sealed", len(layout.balloons)),)
    assert tasks(replace(sealed, sealed=False), layout) == ()
    assert advice(sealed, layout, Site(hours_afloat=48)) == ()
    assert len(advice(replace(sealed, sealed=False), layout, Site(hours_afloat=48))) == 1


def test_air_is_never_sealed():
    sealed = replace(ARCH, sealed=True)
    assert tasks(sealed, lay_out(sealed)) == ()


def test_a_foil_colour_takes_its_own_helium_and_is_not_sealed():
    """Ten rounds of 18 inches hold half a cubic foot each, by the chart, whatever they look like."""
    spec = replace(ARCH, helium=True, sealed=True, size=18)
    layout = lay_out(spec).in_foil({"navy": "round", "white": "round"})
    (gas, _) = hardware(spec, layout, Site())

    assert gas.needed == pytest.approx(len(layout.balloons) * 0.5 * 28.317, rel=0.01)
    assert tasks(spec, layout) == ()


def test_a_spec_kept_before_sealing_was_asked_is_kept_alike():
    assert "sealed" not in ARCH.to_json()
    assert PackedSpec.from_json(replace(ARCH, sealed=True).to_json()).sealed
