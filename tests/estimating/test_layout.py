import json

import pytest

from estimating.layout import Balloon, Layout
from estimating.setting import Room, Setting, Words


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


def a_full_layout():
    """A layout that uses everything a layout can hold."""
    return Layout(
        balloons=(
            Balloon(0, 0, 0, 9.5, 11, "a", "bouquet", inner="b", gas="helium"),
            Balloon(5, 0, 0, 13.7, 18, "c", "topper", form="star"),
            Balloon(9, 0, 0, 9.5, 11, "a", "packed"),
        ),
        spine=(),
        length=10,
        width=9,
        strings=(((0, 0), (1 / 3, 20)),),
        notes=("The last foot is repeated.",),
        points=((0, 0), (10, 0.12345)),
        setting=Setting(
            weights=((0, 20),),
            sprigs=(((0, 0), (3, 4)),),
            words=(Words("Ida", 0, 1 / 3, 9, 4),),
            table=30,
            room=Room(40, 96),
        ),
    )


def test_everything_a_layout_holds_is_the_same_after_a_trip_through_json():
    layout = a_full_layout()
    assert Layout.from_json(json.loads(json.dumps(layout.to_json()))) == layout


def test_a_layout_kept_before_there_were_inner_balloons_can_be_read():
    kept = {
        "colours": ["navy"],
        "balloons": [[0, 0, 0, 9500, 11, 0, 0], [9500, 0, 0, 4750, 5, 0, 1]],
        "spine": [[0, 0], [33333, 0]],
        "length": 33333,
        "width": 20000,
    }
    layout = Layout.from_json(kept)
    assert [(b.part, b.inner, b.form, b.gas) for b in layout.balloons] == [
        ("base", None, "round", "air"),
        ("filler", None, "round", "air"),
    ]
    assert (layout.strings, layout.notes, layout.points, layout.setting) == ((), (), None, Setting())


def test_what_is_as_usual_is_not_written_down():
    assert a_layout("base", "filler").to_json().keys() == {"colours", "balloons", "spine", "length", "width"}
    assert [len(row) for row in a_full_layout().to_json()["balloons"]] == [10, 9, 7]


def test_a_double_stuffed_balloon_counts_as_two():
    assert a_full_layout().counts() == {("a", 11): 2, ("b", 11): 1, ("c", 18): 1}


def test_every_balloon_of_a_doubled_colour_gets_its_inner_one():
    layout = a_layout("base", "base").double_stuffed((("navy", "sand"), ("rose", "sand")))
    assert layout.counts() == {("navy", 11): 2, ("sand", 11): 2}
    assert layout.double_stuffed(()) == layout


def test_the_bounds_hold_strings_and_weights():
    bounds = a_full_layout().bounds()
    assert bounds.bottom == 23
    assert bounds.left == -4.75


def test_packed_balloons_are_tied_in_quads_and_other_parts_are_counted():
    structure = a_layout(*["packed"] * 8, "topper", "float", "bouquet", "panel", "panel", "glyph").structure()
    assert (structure.quads, structure.clusters) == (2, 1)
    assert (structure.toppers, structure.floats, structure.bouquets) == (1, 1, 1)
    assert (structure.panels, structure.glyphs) == (2, 1)
