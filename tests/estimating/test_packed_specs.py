"""A packed piece as asked for: what is refused, and what would work."""

import json
from dataclasses import replace
from decimal import Decimal

import pytest

from estimating.kinds.packed import PackedSpec, Topper, lay_out
from estimating.specs import OwnFigures, SpecErrors

INCH = Decimal("25.4")
FOOT = 12 * INCH
TWO = (("navy", 50), ("white", 50))

GARLAND = PackedSpec("garland", TWO, size=11, length_mm=16 * FOOT, shape="straight")
SWAG = PackedSpec("garland", TWO, size=11, span_mm=12 * FOOT, rise_mm=3 * FOOT)
ARCH = PackedSpec("arch", TWO, size=11, span_mm=10 * FOOT, rise_mm=8 * FOOT)
COLUMN = PackedSpec("column", TWO, size=11, height_mm=6 * FOOT)


def refused(spec, **changed):
    """What is said of a spec changed so."""
    with pytest.raises(SpecErrors) as errors:
        replace(spec, **changed)
    return str(errors.value)


@pytest.mark.parametrize(
    ("spec", "changed", "said"),
    [
        pytest.param(GARLAND, {"form": "wreath"}, "form must be one of garland, arch, column (got wreath)", id="form"),
        pytest.param(GARLAND, {"pattern": "plaid"}, "pattern must be one of spiral, stripes, blocks", id="pattern"),
        pytest.param(GARLAND, {"per_layer": 7}, "per_layer must be a whole number from 2 to 6 (got 7)", id="sevens"),
        pytest.param(
            GARLAND,
            {"compression_percent": 31},
            "compression_percent must be a whole number from 0 to 30",
            id="crushed",
        ),
        pytest.param(GARLAND, {"colours": (("navy", 60),)}, "colours must add up to 100 percent", id="not all"),
        pytest.param(GARLAND, {"size": None}, "size must be given, or diameter_mm", id="no balloon"),
        pytest.param(GARLAND, {"length_mm": None}, "length_mm must be given (got nothing)", id="no length"),
        pytest.param(
            GARLAND,
            {"span_mm": 8 * FOOT},
            "span_mm must be left out for garlands whose shape is straight",
            id="a span",
        ),
        pytest.param(GARLAND, {"length_mm": 300 * FOOT}, "length_mm must be from 1 ft to 200 ft", id="too long"),
        pytest.param(GARLAND, {"base": "weighted"}, "base must be none for a garland, which hangs (form)", id="base"),
        pytest.param(
            GARLAND, {"topper": Topper(24, "navy")}, "topper must be left out for garlands: only columns", id="topper"
        ),
        pytest.param(
            ARCH,
            {"length_mm": 18 * FOOT},
            "length_mm must be 248.3 in for a span of 120 in and a rise or sag of 96 in (got 216 in)",
            id="three",
        ),
        pytest.param(ARCH, {"rise_mm": None}, "rise_mm must be given: two of span, rise and length", id="one of three"),
        pytest.param(
            ARCH,
            {"rise_mm": None, "length_mm": 9 * FOOT},
            "length_mm must be more than the span of 120 in (got 108 in)",
            id="too short to span",
        ),
        pytest.param(ARCH, {"height_mm": FOOT}, "height_mm must be left out for arches", id="an arch's height"),
        pytest.param(COLUMN, {"height_mm": None}, "height_mm must be given", id="no height"),
        pytest.param(COLUMN, {"length_mm": FOOT}, "length_mm must be left out for columns", id="a column's length"),
        pytest.param(COLUMN, {"helium": True}, "helium must be false for a column, which stands", id="helium"),
        pytest.param(COLUMN, {"topper": Topper(13, "navy")}, "topper must be one of 3, 5, 6", id="topper's size"),
        pytest.param(
            COLUMN,
            {"topper": Topper(24, "navy", "star")},
            "topper must be one of 18, 36 for a foil star (got 24)",
            id="foil",
        ),
        pytest.param(COLUMN, {"topper": Topper(24, "")}, "topper must be the key of a colour", id="topper's colour"),
        pytest.param(
            COLUMN, {"doubled": (("sand", "white"),)}, "doubled must double colours of the piece", id="double"
        ),
        pytest.param(
            COLUMN,
            {"colours_by": "count", "colours": (("navy", 2), ("white", 1))},
            "colours must add up to the 4 balloons of a layer in a spiral (per_layer) (got 3)",
            id="three places of four",
        ),
    ],
)
def test_what_cannot_be_is_refused_with_field_rule_and_value(spec, changed, said):
    assert said in refused(spec, **changed)


@pytest.mark.parametrize(
    ("spec", "said"),
    [
        pytest.param(
            replace(ARCH, rise_mm=2 * FOOT),
            "rise_mm must be from 27 in to 313 in for a span of 120 in and layers 23 in wide (got 24 in)",
            id="a low arch turns too sharply at its feet",
        ),
        pytest.param(
            replace(ARCH, span_mm=FOOT),
            "span_mm must make a span of at least 23 in for layers 23 in wide (got 12 in)",
            id="legs inside each other",
        ),
        pytest.param(
            replace(SWAG, span_mm=2 * FOOT, rise_mm=10 * FOOT),
            "rise_mm must be at most 6 in for a span of 24 in and layers 23 in wide (got 120 in)",
            id="a swag as narrow as itself",
        ),
        pytest.param(
            replace(ARCH, rise_mm=None, length_mm=Decimal("10.1") * FOOT),
            "length_mm must make a rise from 27 in to 313 in for a span of 120 in",
            id="a low arch told by its length",
        ),
        pytest.param(
            replace(COLUMN, size=36, height_mm=FOOT),
            "height_mm must be at least 63 in for two layers of balloons 34 in across (got 12 in)",
            id="one layer",
        ),
        pytest.param(
            replace(ARCH, helium=True, size=5),
            "size must take 9-inch balloons or larger to float (got 5-inch)",
            id="too small to float",
        ),
        pytest.param(
            replace(ARCH, helium=True, diameter_mm=7 * INCH, doubled=(("white", "navy"),)),
            "diameter_mm must be more than 8.8 in across for 11-inch balloons of 6 g to float on helium (got 7 in)",
            id="too heavy to float",
        ),
        pytest.param(
            replace(COLUMN, topper=Topper(9, "navy")),
            "topper must be a size that is at least as wide as the column's balloons, 9.5 in (got 9-inch, 7.12 in)",
            id="it would drop in",
        ),
        pytest.param(
            replace(COLUMN, colours=(("navy", 90), ("white", 10))),
            "colours must each come to at least one of the 4 places of a layer (pattern spiral) (got 10 percent)",
            id="a tenth of four places",
        ),
        pytest.param(
            replace(COLUMN, pattern="blocks", colours=(("navy", 98), ("white", 2))),
            "colours must each come to at least one of 9 whole layers (pattern blocks) (got 2 percent)",
            id="a fiftieth of nine layers",
        ),
    ],
)
def test_balloons_that_do_not_fit_are_refused_with_what_would_work(spec, said):
    with pytest.raises(SpecErrors) as errors:
        lay_out(spec)
    assert said in str(errors.value)


@pytest.mark.parametrize(
    "spec",
    [
        GARLAND,
        SWAG,
        replace(ARCH, base="weighted", outdoors=True, extras=(("12", 3),), doubled=(("navy", "sand"),)),
        replace(COLUMN, topper=Topper(36, "coral", "star"), diameter_mm=Decimal("254.5"), colours_by="percent"),
    ],
    ids=["garland", "swag", "arch", "column"],
)
def test_a_packed_spec_is_the_same_after_a_trip_through_json(spec):
    assert PackedSpec.from_json(json.loads(json.dumps(spec.to_json()))) == spec


def test_a_spec_kept_with_what_was_typed_or_before_a_field_was_new_can_be_read():
    data = COLUMN.to_json() | {"typed": {"height": "6 ft"}}
    del data["extras"]
    assert PackedSpec.from_json(data) == COLUMN


def test_everything_about_a_packed_piece_is_worked_out():
    assert GARLAND.own_figures() == OwnFigures()
