import json
import re
from collections import Counter
from decimal import Decimal
from hashlib import sha256

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from estimating.drawing import discs
from estimating.kinds import GarlandSpec, SpecErrors
from estimating.kinds.garland import TAPERS, Cluster, lay_out, parts_of, volume_count
from estimating.kinds.garland.taper import Taper
from estimating.materials import MaterialRules, materials
from estimating.packing import Tethered
from estimating.specs import INFLATED
from estimating.spines import SHAPES, along, straight

FOOT, INCH = Decimal("304.8"), Decimal("25.4")
MIX = ((5, 30), (11, 62), (16, 8))
COLOURS = (("navy", 40), ("sand", 30), ("coral", 20), ("white", 10))


def a_spec(feet=20, inches=22, **changed):
    return GarlandSpec(feet * FOOT, inches * INCH, **{"mix": MIX, "colours": COLOURS, **changed})


def bulk(layout, low, high):
    """Balloon volume per inch of a straight garland between two parts of its length."""
    inside = [b for b in layout.balloons if low * layout.length <= b.x < high * layout.length]
    return sum(b.diameter**3 for b in inside) / ((high - low) * layout.length)


# What garlands were before they could be asymmetric: each balloon's place, size, colour and part, as one digest.
KEPT = [
    (20, 22, MIX, "doorway", 1, "7cdba76ddfe15eab50384d2cfe91bbdfe6d6b2378460f26cc39e8b3ef53e1a06"),
    (12, 14, ((5, 40), (9, 60)), "swag", 7, "d9468bfcba9661a8ed3bc797a3d659142d13cba3aaee7378bacb83699c994902"),
    (
        25,
        30,
        ((5, 20), (11, 55), (18, 20), (36, 5)),
        "straight",
        3,
        "a769a4571e84df04ed069df193785cd8087bd66e2726a1ae0fb7d2fd8596cc7d",
    ),
]


@pytest.mark.parametrize(("feet", "inches", "mix", "shape", "seed", "digest"), KEPT)
def test_an_even_garland_is_laid_out_as_it_always_was(feet, inches, mix, shape, seed, digest):
    layout = lay_out(a_spec(feet, inches, mix=mix, shape=shape, seed=seed))
    rows = [[b.x, b.y, b.z, b.diameter, b.size, b.colour, b.part] for b in layout.balloons]
    assert sha256(json.dumps([rows, layout.spine, layout.width]).encode()).hexdigest() == digest


def test_the_spec_of_an_even_garland_is_kept_as_it_always_was():
    assert set(a_spec().to_json()) == {"length_mm", "width_mm", "mix", "colours", "outdoors", "shape", "seed"}


def test_a_spec_kept_before_garlands_could_be_asymmetric_is_read_as_even():
    kept = {"length_mm": "6096", "width_mm": "558.8", "mix": [[11, 100]], "colours": [["a", 100]]}
    spec = GarlandSpec.from_json({**kept, "outdoors": False, "shape": "swag", "seed": 1})
    assert (spec.taper, spec.trail_mm, spec.clusters, spec.doubled, spec.extras) == ("even", 0, (), (), ())


def test_an_asymmetric_spec_is_the_same_after_a_trip_through_json():
    spec = a_spec(
        taper="thick to thin",
        trail_mm=Decimal("914.4"),
        clusters=((25, 24, 3), Cluster(80, 36, 1, "coral")),
        doubled=(("navy", "white"),),
        extras=(("7", 2),),
    )
    assert GarlandSpec.from_json(json.loads(json.dumps(spec.to_json()))) == spec


@pytest.mark.parametrize(
    ("changed", "field", "said"),
    [
        pytest.param({"taper": "fat"}, "taper", "must be one of even, thick to thin, thick in the middle", id="taper"),
        pytest.param({"trail_mm": Decimal(-1)}, "trail_mm", "must be from 0 to 200 ft", id="a trail below zero"),
        pytest.param(
            {"trail_mm": 14 * FOOT}, "trail_mm", "must be at most two thirds of length_mm, 160 in here", id="all trail"
        ),
        pytest.param({"clusters": ((101, 24, 1),)}, "clusters", "must be a whole number from 0 to 100", id="beyond it"),
        pytest.param({"clusters": ((50, 23, 1),)}, "clusters", "must be one of 3, 5, 6", id="no such size"),
        pytest.param({"clusters": ((50, 24, 0),)}, "clusters", "must be a whole number from 1 to 24", id="no number"),
        pytest.param({"clusters": ((50, 24, 1, ""),)}, "clusters", "must be the key of a colour", id="empty key"),
        pytest.param({"clusters": ((50, 24, 1),) * 13}, "clusters", "must be at most 12", id="too many"),
        pytest.param({"doubled": (("lime", "sand"),)}, "doubled", "must double colours of the piece", id="not its own"),
        pytest.param({"extras": (("7", 0),)}, "extras", "must be a whole number from 1 to 1000", id="none of an item"),
    ],
)
def test_an_asymmetry_that_cannot_be_is_refused_with_field_and_rule(changed, field, said):
    with pytest.raises(SpecErrors) as refused:
        a_spec(**changed)
    assert {error.field for error in refused.value} == {field}
    assert said in str(refused.value)


@pytest.mark.parametrize("taper", TAPERS)
@pytest.mark.parametrize("trail", [0.0, 0.2, 0.6])
@pytest.mark.parametrize("floor", [0.0, 0.5, 0.9])
def test_a_taper_is_as_wide_on_average_as_asked_and_nowhere_below_its_floor(taper, trail, floor):
    widths = Taper.of(taper, trail, floor).widths
    assert sum(widths) / len(widths) == pytest.approx(1)
    assert min(widths) >= floor


@given(st.sampled_from(TAPERS), st.floats(0, 0.6), st.lists(st.floats(0, 1), min_size=2, max_size=20))
def test_places_along_a_taper_keep_their_order_and_stay_on_it(taper, trail, parts):
    places = Taper.of(taper, trail).places(sorted(parts))
    assert places == sorted(places)
    assert -1e-9 <= places[0] <= places[-1] <= 1 + 1e-9


@pytest.mark.parametrize(
    ("changed", "thicker", "thinner"),
    [
        pytest.param({"taper": "thick to thin"}, (0.0, 0.4), (0.6, 1.0), id="thick to thin"),
        pytest.param({"taper": "thick in the middle"}, (0.3, 0.7), (0.0, 0.3), id="thick in the middle, left"),
        pytest.param({"taper": "thick in the middle"}, (0.3, 0.7), (0.7, 1.0), id="thick in the middle, right"),
        pytest.param({"trail_mm": 6 * FOOT}, (0.0, 0.7), (0.8, 1.0), id="a trailing end"),
    ],
)
def test_an_asymmetric_garland_holds_most_where_it_is_thick(changed, thicker, thinner):
    layout = lay_out(a_spec(shape="straight", **changed))
    assert bulk(layout, *thicker) > 2 * bulk(layout, *thinner)


@pytest.mark.parametrize("taper", TAPERS)
@pytest.mark.parametrize("trail", [0, 4])
@pytest.mark.parametrize("shape", SHAPES)
def test_the_mean_width_of_a_taper_is_what_was_asked_within_five_percent(taper, trail, shape):
    layout = lay_out(a_spec(taper=taper, trail_mm=trail * FOOT, shape=shape))
    assert layout.width == pytest.approx(22, rel=0.05)


def test_a_trailing_end_leaves_no_stretch_of_its_line_bare():
    layout = lay_out(a_spec(shape="straight", taper="thick to thin", trail_mm=5 * FOOT))
    edges = sorted((b.x - b.diameter / 2, b.x + b.diameter / 2) for b in layout.balloons)
    reached, gaps = edges[0][1], []
    for left, right in edges:
        gaps.append(left - reached)
        reached = max(reached, right)
    assert max(gaps) < 2.0
    assert reached > layout.length - 6


def test_the_large_balloons_of_a_taper_keep_to_its_thick_half():
    layout = lay_out(a_spec(30, taper="thick to thin", shape="straight"))
    large = [b.x / layout.length for b in layout.balloons if b.size == 16]
    assert sum(place < 0.5 for place in large) > 0.8 * len(large)


def test_clusters_come_on_top_of_the_garlands_own_balloons():
    plain, more = lay_out(a_spec()), lay_out(a_spec(clusters=((30, 24, 3), (80, 36, 2, "gold"))))
    sizes = Counter(b.size for b in more.balloons) - Counter(b.size for b in plain.balloons)
    assert sizes == {24: 3, 36: 2}
    assert more.counts()["gold", 36] == 2
    assert more.structure().accents == plain.structure().accents + 5


def test_a_cluster_stands_where_it_was_put():
    layout = lay_out(a_spec(shape="doorway", clusters=((75, 24, 4, "gold"),)))
    (at, _) = along(layout.spine, [0.75 * layout.length])[0]
    gold = [b for b in layout.balloons if b.colour == "gold"]
    assert all(((b.x - at[0]) ** 2 + (b.y - at[1]) ** 2) ** 0.5 < 36 for b in gold)


@pytest.mark.parametrize("clusters", [((50, 24, 3),), ((10, 36, 1), (90, 18, 6)), ((0, 24, 2), (100, 24, 2))])
def test_clusters_leave_the_garland_as_wide_as_asked(clusters):
    assert lay_out(a_spec(clusters=clusters)).width == pytest.approx(22, rel=0.05)


def test_clusters_without_a_colour_share_in_the_garlands():
    layout = lay_out(a_spec(clusters=((50, 24, 10),)))
    assert [layout.counts()[colour, 24] for colour, _ in COLOURS] == [4, 3, 2, 1]


def test_a_double_stuffed_colour_takes_two_balloons_each():
    plain, doubled = lay_out(a_spec()), lay_out(a_spec(doubled=(("navy", "white"),)))
    assert len(doubled.balloons) == len(plain.balloons)
    navy = {size: n for (colour, size), n in plain.counts().items() if colour == "navy"}
    for size, number in navy.items():
        assert doubled.counts()["white", size] == plain.counts()["white", size] + number
        assert doubled.counts()["navy", size] == number


@st.composite
def asymmetric(draw):
    return a_spec(
        draw(st.integers(6, 30)),
        draw(st.integers(14, 34)),
        shape=draw(st.sampled_from(SHAPES)),
        taper=draw(st.sampled_from(TAPERS)),
        trail_mm=draw(st.integers(0, 3)) * FOOT,
        seed=draw(st.integers(0, 1000)),
        clusters=draw(
            st.lists(
                st.tuples(
                    st.integers(0, 100),
                    st.sampled_from([16, 18, 24, 36]),
                    st.integers(1, 6),
                    st.sampled_from([None, "navy", "gold"]),
                ),
                max_size=3,
            )
        ),
        doubled=draw(st.sampled_from([(), (("navy", "sand"),)])),
    )


@settings(max_examples=20, deadline=None)
@given(asymmetric())
def test_what_is_drawn_is_what_is_counted_and_needed(spec):
    try:
        layout = lay_out(spec)
    except SpecErrors:
        assume(False)
    drawn = Counter((disc.colour, disc.size) for disc in discs(layout))
    drawn.update((b.inner, b.size) for b in layout.balloons if b.inner)
    needed = materials(layout, rules=MaterialRules(), outdoors=False).lines
    assert sum(b.part == "base" for b in layout.balloons) % 4 == 0
    assert drawn == layout.counts()
    assert {(line.colour, line.size): line.needed for line in needed if line.sort == "latex"} == dict(drawn)


SWAGS = a_spec(120, 40, shape="swag")
LONG = [
    pytest.param(a_spec(200, 96, mix=((5, 50), (24, 50)), shape="straight"), id="200 ft by 8 ft"),
    pytest.param(SWAGS, id="120 ft of swags"),
    pytest.param(a_spec(200, 31, shape="doorway", clusters=((50, 36, 5),)), id="with a cluster"),
]


@pytest.mark.parametrize("spec", LONG)
def test_a_very_long_garland_says_that_a_stretch_is_repeated_and_is_as_wide_as_asked(spec):
    layout = lay_out(spec)
    assert len(layout.balloons) > 3000
    (note,) = layout.notes
    assert note.startswith("Laid out as a typical stretch of ")
    assert sum(b.part == "base" for b in layout.balloons) % 4 == 0
    assert layout.width == pytest.approx(float(spec.width_mm / INCH), rel=0.05)


def test_every_colour_of_a_very_long_garland_comes_out_by_its_share():
    layout = lay_out(SWAGS)
    for size in (5, 11, 16):
        number = sum(b.size == size for b in layout.balloons)
        assert [layout.counts()[colour, size] for colour, _ in COLOURS] == pytest.approx(
            [number * percent / 100 for _, percent in COLOURS], abs=1
        )


def test_no_seam_shows_where_the_stretches_meet():
    """Balloon volume in slices of 6 inches over each seam lies within what slices elsewhere hold."""
    layout = lay_out(a_spec(160, 40, shape="straight"))
    times = int(layout.notes[0].split()[-2])
    held: dict[int, float] = {}
    for b in layout.balloons:
        held[int(b.x // 6)] = held.get(int(b.x // 6), 0.0) + b.diameter**3
    middle = {n: held[n] for n in range(6, int(layout.length // 6) - 6)}
    seams = {int(layout.length * k / times // 6) for k in range(1, times)}
    elsewhere = sorted(volume for n, volume in middle.items() if not seams & {n - 1, n, n + 1})
    mean = sum(elsewhere) / len(elsewhere)
    at_seams = [middle[n] for n in seams]
    assert 0.8 * mean < sum(at_seams) / len(at_seams) < 1.2 * mean
    assert min(at_seams) > 0.8 * elsewhere[0]


def test_balloons_overlap_no_more_at_a_seam_than_elsewhere():
    layout = lay_out(a_spec(160, 40, shape="straight"))
    times = int(layout.notes[0].split()[-2])
    worst = {True: 0.0, False: 0.0}
    some = sorted(layout.balloons, key=lambda b: b.x)
    for n, a in enumerate(some):
        for b in some[n + 1 :]:
            if b.x - a.x > 14:
                break
            gap = ((a.x - b.x) ** 2 + (a.y - b.y) ** 2 + (a.z - b.z) ** 2) ** 0.5
            over = 1 - gap / ((a.diameter + b.diameter) / 2)
            near = min((a.x * times / layout.length) % 1, 1 - (a.x * times / layout.length) % 1) < 0.05
            worst[near] = max(worst[near], over)
    assert worst[True] < worst[False] + 0.15


def test_a_taper_past_the_count_that_can_be_settled_is_refused_with_what_would_work():
    with pytest.raises(SpecErrors, match="taper must be even, and trail_mm 0, where a garland takes more than 3000"):
        lay_out(a_spec(200, 29, taper="thick to thin"))


def test_a_garland_of_more_balloons_than_can_be_drawn_names_both_fields_and_either_works():
    asked = a_spec(200, 47, mix=((5, 95), (11, 5)))
    with pytest.raises(SpecErrors) as refused:
        lay_out(asked)
    length, width = refused.value
    assert (length.field, width.field) == ("length_mm", "width_mm")
    most, widest = (int(re.findall(r"at most (\d+) in", error.rule)[0]) for error in (length, width))
    assert str(length).endswith("no more than 20000 balloons at a width of 47 in (got 2400 in, 57373 balloons)")

    mix, parts = asked.mix, parts_of(asked.mix)
    assert 0.99 * 20_000 < volume_count(most, 47, mix, parts, INFLATED) <= 20_000
    assert 0.9 * 20_000 < volume_count(2400, widest, mix, parts, INFLATED) <= 20_000


def test_a_stretch_repeated_once_along_its_own_line_stays_where_it_is():

    one = Tethered(
        straight(100.0), *(np.array(v) for v in ([20.0, 60.0], [3.0, 3.0], [1e-3, 1e-3], [1.0, -1.0], [0, 0]))
    )
    again = one.repeated(1, straight(100.0))
    assert np.allclose((again.x, again.y, again.z), (one.x, one.y, one.z), atol=0.01)
