import json

import pytest

from estimating.layout import Balloon, Layout


def a_layout(*parts, diameter=9.5):
    balloons = tuple(Balloon(n * 1.2345678, -n, n / 3, diameter, 11, "navy", part) for n, part in enumerate(parts))
    return Layout(balloons=balloons, spine=((0, 0), (100 / 3, 0)), length=100 / 3, width=20.00049)


def test_a_layout_is_the_same_after_a_trip_through_json():
    layout = a_layout("base", "filler", "accent", "counted")
    assert Layout.from_json(json.loads(json.dumps(layout.to_json()))) == layout


def test_coordinates_are_kept_to_a_thousandth_of_an_inch():
    balloon = a_layout("base", "base").balloons[1]
    assert (balloon.x, balloon.z) == (1.235, 0.333)


def test_counts_are_by_colour_and_size():
    two = Layout(
        balloons=(Balloon(0, 0, 0, 9.5, 11, "a", "base"), Balloon(0, 0, 0, 4.75, 5, "a", "filler")),
        spine=(),
        length=0,
        width=0,
    )
    assert two.counts() == {("a", 11): 1, ("a", 5): 1}


def test_the_bounds_hold_every_balloon_whole():
    layout = Layout((Balloon(10, 5, 0, 4, 5, "a", "counted"),), (), 0, 0)
    assert layout.bounds() == (8, 3, 12, 7)


@pytest.mark.parametrize(
    ("base", "quads", "clusters", "left"),
    [
        pytest.param(8, 2, 1, 0, id="two quads make a cluster"),
        pytest.param(12, 3, 1, 1, id="the third quad is left over"),
        pytest.param(0, 0, 0, 0, id="nothing"),
    ],
)
def test_base_balloons_make_quads_and_quads_clusters(base, quads, clusters, left):
    structure = a_layout(*["base"] * base, "filler", "filler", "accent").structure()
    assert (structure.quads, structure.clusters, structure.quads_left) == (quads, clusters, left)
    assert (structure.pairs, structure.filler_pairs, structure.accents) == (base // 2, 1, 1)
