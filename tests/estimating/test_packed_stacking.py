from collections import Counter
from itertools import combinations
from math import dist

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimating.spines import straight
from estimating.stacking import (
    layers_along,
    layers_nearest,
    outer_width,
    patterned,
    per_layer_of,
    pitch,
    stack_length,
    stacked,
)

TWO = (("navy", 50), ("white", 50))


def stack(per_layer, layers, diameter=9.0, apart=None, colours=None):
    """That many layers along a level line, and where their centres are."""
    apart = apart or pitch(per_layer, diameter)
    stations = [n * apart for n in range(layers)]
    given = colours or [["navy"] * per_layer] * layers
    return stacked(
        straight(layers * apart), stations, per_layer, given, {c: diameter for layer in given for c in layer}
    )


@pytest.mark.parametrize("per_layer", [2, 3, 4, 5, 6])
def test_every_balloon_touches_its_neighbours_in_its_layer_and_the_next_and_overlaps_none(per_layer):
    spots = stack(per_layer, 5)
    gaps = [dist(a[:3], b[:3]) for a, b in combinations(spots, 2)]
    assert min(gaps) == pytest.approx(9.0, abs=1e-6)
    touching = sum(gap < 9.0 + 1e-6 for gap in gaps)
    in_layer = 1 if per_layer == 2 else per_layer
    assert touching >= 5 * in_layer + 4 * 2 * per_layer


@pytest.mark.parametrize("per_layer", [2, 3, 4, 5, 6])
def test_each_layer_is_turned_by_half_a_place_so_two_layers_on_the_places_fall_in_line(per_layer):
    spots = stack(per_layer, 3)
    first, second, third = (
        {(round(y, 6), round(z, 6)) for _, y, z, *_ in spots[n * per_layer : (n + 1) * per_layer]} for n in range(3)
    )
    assert first == third
    assert not first & second


def test_compression_shortens_the_pitch_and_leaves_the_width():
    assert pitch(4, 10.0, 15) == pytest.approx(0.85 * pitch(4, 10.0))
    spots = stack(4, 6, 10.0, pitch(4, 10.0, 15))
    assert max(y for _, y, *_ in spots) - min(y for _, y, *_ in spots) + 10 == pytest.approx(outer_width(4, 10.0))


@settings(max_examples=80, deadline=None)
@given(length=st.floats(12, 2400), diameter=st.floats(2, 36))
def test_layers_reach_a_length_with_none_to_spare(length, diameter):
    apart = pitch(4, diameter)
    layers = layers_along(length, apart)
    assert (layers - 1) * apart - 1e-4 <= length <= layers * apart + 1e-4


@settings(max_examples=80, deadline=None)
@given(height=st.floats(40, 240), diameter=st.floats(3, 16), per_layer=st.integers(2, 6))
def test_a_column_is_at_most_half_a_layer_from_its_height(height, diameter, per_layer):
    apart = pitch(per_layer, diameter)
    made = stack_length(layers_nearest(height, diameter, apart), diameter, apart)
    assert abs(made - height) <= apart / 2 + 1e-6


def test_a_spiral_keeps_each_colour_in_its_places_in_every_layer():
    layers = patterned("spiral", (("navy", 50), ("white", 25), ("coral", 25)), True, 6, 4)
    assert layers == [["navy", "navy", "white", "coral"]] * 6


def test_a_counted_spiral_may_come_back_to_a_colour():
    layers = patterned("spiral", (("navy", 1), ("white", 1), ("navy", 1), ("white", 1)), False, 2, 4)
    assert layers == [["navy", "white", "navy", "white"]] * 2


def test_a_colour_of_a_spiral_turns_one_way_by_half_a_place_a_layer():
    colours = [["navy", "white", "white", "white"]] * 3
    navy = [spot for spot in stack(4, 3, colours=colours) if spot.colour == "navy"]
    # From across the picture, by way of the viewer's side, to the other side.
    assert [round(y, 3) for _, y, *_ in navy] == [6.364, 4.5, 0.0]
    assert [round(z, 3) for _, _, z, *_ in navy] == [0.0, 4.5, 6.364]


def test_stripes_by_count_repeat_along_the_piece():
    layers = patterned("stripes", (("navy", 2), ("white", 1)), False, 7, 4)
    assert [layer[0] for layer in layers] == ["navy", "navy", "white", "navy", "navy", "white", "navy"]


def test_stripes_by_percent_are_mixed_evenly():
    layers = patterned("stripes", (("navy", 67), ("white", 33)), True, 9, 4)
    assert [layer[0] for layer in layers] == ["navy", "white", "navy"] * 3


def test_blocks_run_from_one_end_to_the_other():
    layers = patterned("blocks", (("navy", 1), ("white", 2), ("navy", 1)), False, 8, 4)
    assert [layer[0] for layer in layers] == ["navy"] * 2 + ["white"] * 4 + ["navy"] * 2


@settings(max_examples=80, deadline=None)
@given(
    pattern=st.sampled_from(["stripes", "blocks"]),
    layers=st.integers(2, 200),
    split=st.integers(1, 99),
)
def test_whole_layers_come_within_one_of_their_share(pattern, layers, split):
    made = patterned(pattern, (("navy", split), ("white", 100 - split)), True, layers, 5)
    assert all(len(layer) == 5 and len(set(layer)) == 1 for layer in made)
    assert abs(Counter(layer[0] for layer in made)["navy"] - layers * split / 100) < 1


@settings(max_examples=60, deadline=None)
@given(layers=st.integers(2, 120), split=st.integers(10, 90))
def test_stripes_never_run_ahead_of_their_share_by_more_than_a_layer(layers, split):
    made = [layer[0] for layer in patterned("stripes", (("navy", split), ("white", 100 - split)), True, layers, 4)]
    navy = made.count("navy")
    for n in range(1, layers + 1):
        assert abs(made[:n].count("navy") - navy * n / layers) <= 1


@pytest.mark.parametrize("per_layer", [2, 3, 4, 5, 6])
@pytest.mark.parametrize("diameter", [2.75, 9.5, 34.0])
def test_the_width_of_a_stack_tells_how_many_are_in_a_layer(per_layer, diameter):
    assert per_layer_of(outer_width(per_layer, diameter), diameter) == per_layer
