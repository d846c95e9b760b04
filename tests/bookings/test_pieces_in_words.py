"""A piece in words: on the quote, beside its picture, and in the picture for who cannot see it."""

import re
from decimal import Decimal
from html import unescape
from typing import Any

import pytest

from bookings.queries import describe, piece_drawing
from bookings.queries.pictured import takes_sentences
from estimating.kinds import KINDS, CountedSpec, GarlandSpec, PackedSpec, WallSpec
from estimating.materials import MaterialRules, materials
from estimating.queries import PieceToMake
from studio.units import System
from tests.factories import ColourFactory

pytestmark = pytest.mark.django_db
FOOT = Decimal("304.8")


def made(kind: str, spec: Any) -> PieceToMake:
    return PieceToMake("A piece", kind, spec, KINDS[kind].lay_out(spec))


def spoken(piece: PieceToMake, measures: System) -> str:
    """What a screen reader says of the picture."""
    drawing = str(piece_drawing(piece, prefix="p", measures=measures))
    found = re.search(r"<desc[^>]*>(.*?)</desc>", drawing)
    assert found is not None
    return unescape(found[1])


@pytest.fixture
def arch() -> PieceToMake:
    key = ColourFactory(name="Navy").key
    return made("packed", PackedSpec("arch", ((key, 100),), size=11, span_mm=10 * FOOT, rise_mm=8 * FOOT))


@pytest.mark.parametrize(
    ("measures", "said"),
    [
        pytest.param("imperial", "Packed arch, 8 ft high, 10 ft wide", id="feet"),
        pytest.param("metric", "Packed arch, 2.44 m high, 3.05 m wide", id="metres"),
    ],
)
def test_a_picture_says_kind_size_colours_and_counts(arch, measures, said):
    total = len(arch.layout.balloons)
    assert spoken(arch, measures).startswith(
        f"{said}. {total} balloons: {total} \u2068Navy\u2069 (11-inch). 32 layers fit from foot to foot"
    )


def test_a_quote_says_kind_size_and_count(arch):
    assert describe(arch, "imperial") == f"Packed arch, 8 ft high, 10 ft wide, {len(arch.layout.balloons)} balloons"


def test_a_garland_and_a_hand_counted_piece_are_said_as_shortly_as_ever():
    key = ColourFactory().key
    garland = made("garland", GarlandSpec(10 * FOOT, 2 * FOOT, ((11, 100),), ((key, 100),), shape="straight"))
    heap = made("counted", CountedSpec(lines=((key, 11, 1),)))

    assert describe(garland, "imperial") == f"10 ft × 24 in, {len(garland.layout.balloons)} balloons"
    assert describe(heap, "imperial") == "1 balloon"
    assert spoken(heap, "imperial").startswith("Hand-counted piece. 1 balloon")


def test_what_was_fitted_is_said_in_the_studios_measures():
    key = ColourFactory().key
    column = made("packed", PackedSpec("column", ((key, 100),), size=11, height_mm=6 * FOOT))

    assert "was asked for" in spoken(column, "imperial")
    assert " m " not in spoken(column, "imperial") and " cm" not in spoken(column, "imperial")
    assert " in " not in spoken(column, "metric") and " ft" not in spoken(column, "metric")


def test_a_very_large_panel_says_that_its_picture_repeats():
    key = ColourFactory().key
    panel = made("wall", WallSpec(60 * FOOT, 16 * FOOT, ((11, 50), (5, 50)), ((key, 100),)))
    assert "Laid out as a typical stretch of 20 ft, repeated 3 times" in spoken(panel, "imperial")
    assert "Laid out as a typical stretch of 6.1 m, repeated 3 times" in spoken(panel, "metric")


@pytest.mark.parametrize(
    ("measures", "said"),
    [pytest.param("imperial", "16 feet of line", id="feet"), pytest.param("metric", "4.88 m of line", id="metres")],
)
def test_line_is_told_in_the_studios_measures(measures, said):
    key = ColourFactory().key
    garland = made("garland", GarlandSpec(10 * FOOT, 2 * FOOT, ((11, 100),), ((key, 100),), shape="straight"))
    taken = materials(garland.layout, rules=MaterialRules(), outdoors=False)
    assert said in takes_sentences(taken, measures)[-1]
