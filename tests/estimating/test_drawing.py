import re
from collections import Counter
from decimal import Decimal
from itertools import product
from xml.etree import ElementTree

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from estimating.drawing import Swatch, UnknownColourError, discs, svg, svg_for_paper
from estimating.kinds import KINDS, CountedSpec, GarlandSpec, SpecErrors
from estimating.layout import Balloon, Layout
from estimating.materials import MaterialRules, materials
from estimating.specs import INFLATED, SIZES

SVG = "{http://www.w3.org/2000/svg}"
PALETTE = {
    f"c{n}": Swatch(tint, name)
    for n, (tint, name) in enumerate(
        [("#1f2a4d", "Navy"), ("#e3d6bd", "Sand"), ("#c7694b", "Coral"), ("#ffffff", "White")]
    )
}
GARLAND = GarlandSpec(
    Decimal(3048), Decimal(500), ((5, 30), (11, 62), (16, 8)), (("c0", 40), ("c1", 30), ("c2", 20), ("c3", 10))
)


def a_layout():
    return KINDS["garland"].lay_out(GARLAND)


def said_in(root, name):
    """The text of the one element of that name."""
    (element,) = root.findall(f"{SVG}{name}")
    return element.text


def circles(picture):
    return list(ElementTree.fromstring(picture).iter(f"{SVG}circle"))


def drawn_for_screen(picture, layout):
    """Circles grouped by colour and size: the colour from the name of the gradient, the size from the radius."""
    keys = sorted({b.colour for b in layout.balloons})
    size_of = {f"{diameter / 2:.3f}": size for size, diameter in INFLATED.items()}
    counts: Counter[tuple[str, int]] = Counter()
    for circle in circles(picture):
        (n,) = re.findall(r"^url\(#p-c(\d+)-\d\)$", circle.attrib["fill"])
        counts[keys[int(n)], size_of[f"{float(circle.attrib['r']):.3f}"]] += 1
    return counts


def drawn_for_paper(picture, layout):
    """Dots of balloon bodies grouped by the colour and size their path is marked with."""
    keys = sorted({b.colour for b in layout.balloons})
    counts: Counter[tuple[str, int]] = Counter()
    for path in ElementTree.fromstring(picture).iter(f"{SVG}path"):
        if path.get("data-colour"):
            assert path.attrib["d"].count("M") == path.attrib["d"].count("h0")
            counts[keys[int(path.attrib["data-colour"][1:])], int(path.attrib["data-size"])] += path.attrib["d"].count(
                "M"
            )
    return counts


counted_specs = st.dictionaries(
    st.tuples(st.sampled_from(sorted(PALETTE)), st.sampled_from(SIZES)), st.integers(1, 30), min_size=1, max_size=6
).map(lambda lines: ("counted", CountedSpec(tuple((c, size, count) for (c, size), count in lines.items()))))

garland_specs = st.builds(
    lambda feet, inches, mix, colours, shape, seed: (
        "garland",
        GarlandSpec(feet * Decimal("304.8"), inches * Decimal("25.4"), mix, colours, shape=shape, seed=seed),
    ),
    st.integers(3, 25),
    st.integers(10, 36),
    st.sampled_from([((5, 30), (11, 62), (16, 8)), ((11, 100),), ((5, 50), (9, 50)), ((9, 60), (12, 30), (36, 10))]),
    st.sampled_from([(("c0", 100),), (("c0", 34), ("c1", 33), ("c3", 33)), (("c3", 5), ("c2", 95))]),
    st.sampled_from(["straight", "swag", "doorway"]),
    st.integers(0, 99),
)


@settings(max_examples=30, deadline=None)
@given(garland_specs | counted_specs)
def test_the_discs_drawn_are_the_balloons_counted_and_the_balloons_needed(asked):
    kind, spec = asked
    try:
        layout = KINDS[kind].lay_out(spec)
    except SpecErrors:
        assume(False)
    counts = layout.counts()
    listed = materials(layout, rules=MaterialRules(), outdoors=spec.outdoors, own=spec.own_figures())
    assert Counter((disc.colour, disc.size) for disc in discs(layout)) == counts
    assert {(line.colour, line.size): line.needed for line in listed.lines if line.sort == "latex"} == counts
    assert drawn_for_screen(svg(layout, PALETTE, title="It"), layout) == counts
    assert drawn_for_paper(svg_for_paper(layout, PALETTE, title="It"), layout) == counts


def test_discs_come_from_back_to_front():
    depths = [disc.depth for disc in discs(a_layout())]
    assert depths == sorted(depths)


def test_what_is_seen_on_paper_is_the_balloon_in_front():
    """At any place of the picture the last body drawn is that of the disc furthest forward."""
    layout = a_layout()
    placed = {}
    root = ElementTree.fromstring(svg_for_paper(layout, PALETTE, title="It"))
    bodies = [path for path in root.iter(f"{SVG}path") if path.get("data-colour")]
    for order, path in enumerate(bodies):
        for x, y in re.findall(r"M(\S+) (\S+?)h0", path.attrib["d"]):
            placed[float(x), float(y)] = order
    shown = discs(layout)

    def order_of(disc):
        return placed[float(f"{disc.x - 0.02 * disc.r:.1f}"), float(f"{disc.y - 0.02 * disc.r:.1f}")]

    crowded = 0
    left, top, right, bottom = layout.bounds()
    for x, y in product(range(int(left), int(right)), range(int(top), int(bottom))):
        # A square is a small part of an inch, so what lies within a twentieth of a rim is not asked.
        here = [disc for disc in shown if (disc.x - x) ** 2 + (disc.y - y) ** 2 < (0.95 * disc.r) ** 2]
        if len(here) > 1:
            crowded += 1
            assert max(map(order_of, here)) == order_of(here[-1])
            assert [order_of(disc) for disc in here].count(order_of(here[-1])) == 1
    assert crowded > 100


@pytest.mark.parametrize("draw", [svg, svg_for_paper])
def test_a_colour_without_a_swatch_is_refused_by_name(draw):
    with pytest.raises(UnknownColourError) as refused:
        draw(a_layout(), {"c0": PALETTE["c0"]}, title="It")
    assert refused.value.colours == ("c1", "c2", "c3")


@pytest.mark.parametrize("draw", [svg, svg_for_paper])
@pytest.mark.parametrize("tint", ["red", "#12345", "#1234567", '#000000"/><script>'])
def test_a_swatch_that_is_no_hex_colour_is_refused(draw, tint):
    with pytest.raises(ValueError, match="must be written #rrggbb"):
        draw(a_layout(), {**PALETTE, "c2": Swatch(tint, "Odd")}, title="It")


@pytest.mark.parametrize("draw", [svg, svg_for_paper])
@pytest.mark.parametrize(
    "said",
    [
        pytest.param('</title><script>alert("1")</script>', id="a script"),
        pytest.param("& <b> 'quotes' \"too\"", id="markup"),
        pytest.param("\u202eright to left \u05e9\u05dc\u05d5\u05dd", id="right to left"),
        pytest.param("party \U0001f388\U0001f469\u200d\U0001f9b0", id="emoji"),
    ],
)
def test_names_are_text_and_nothing_else(draw, said):
    palette = {**PALETTE, "c0": Swatch("#112233", said)}
    root = ElementTree.fromstring(draw(a_layout(), palette, title=said, scale_note=said))
    assert said_in(root, "title") == said
    assert f"\u2068{said}\u2069" in said_in(root, "desc")
    assert said_in(root, "text") == said
    assert not list(root.iter(f"{SVG}script"))


@pytest.mark.parametrize("draw", [svg, svg_for_paper])
def test_characters_that_xml_cannot_hold_are_replaced(draw):
    root = ElementTree.fromstring(draw(a_layout(), PALETTE, title="a\x00b\x1b\ud800c"))
    assert said_in(root, "title") == "a\ufffdb\ufffd\ufffdc"


def test_ids_begin_with_the_prefix_so_that_two_pictures_share_a_page():
    root = ElementTree.fromstring(svg(a_layout(), PALETTE, title="It", prefix="second"))
    ids = [element.attrib["id"] for element in root.iter() if "id" in element.attrib]
    assert all(name.startswith("second-") for name in ids)
    assert len(ids) > 2


@pytest.mark.parametrize("draw", [svg, svg_for_paper])
def test_a_picture_carries_no_styles_no_scripts_and_names_itself(draw):
    picture = draw(a_layout(), PALETTE, title="It")
    root = ElementTree.fromstring(picture)
    assert not re.search(r"<style|\bstyle=|\bon\w+=|href", picture)
    assert root.get("role") == "img"
    assert root.attrib["aria-labelledby"].split() == ["p-title", "p-desc"]


def test_every_gradient_used_is_defined():
    picture = svg(a_layout(), PALETTE, title="It")
    defined = {e.get("id") for e in ElementTree.fromstring(picture).iter(f"{SVG}radialGradient")}
    assert {circle.attrib["fill"][5:-1] for circle in circles(picture)} == defined


def test_every_balloon_lies_within_the_view():
    for layout in (a_layout(), Layout((Balloon(0, 0, 0, 34, 36, "c0", "counted"),), (), 34, 34)):
        root = ElementTree.fromstring(svg(layout, PALETTE, title="It"))
        left, top, width, height = map(float, root.attrib["viewBox"].split())
        for disc in discs(layout):
            assert left <= disc.x - disc.r
            assert disc.x + disc.r <= left + width
            assert top <= disc.y - disc.r
            assert disc.y + disc.r <= top + height


def test_the_paper_picture_of_three_hundred_balloons_stays_small():
    layout = KINDS["garland"].lay_out(GarlandSpec(Decimal(10000), Decimal(560), GARLAND.mix, GARLAND.colours))
    assert len(svg_for_paper(layout, PALETTE, title="It")) < 70_000


@pytest.mark.parametrize("draw", [svg, svg_for_paper])
@pytest.mark.parametrize(
    ("across", "down"),
    [pytest.param(1, 14, id="tall"), pytest.param(14, 1, id="wide"), pytest.param(6, 6, id="square")],
)
def test_the_note_about_scale_can_be_read_and_stays_on_the_floor_of_the_picture(draw, across, down):
    balloons = tuple(
        Balloon(11.0 * x, 11.0 * y, 0.0, 11.0, 11, "c0", "counted") for x in range(across) for y in range(down)
    )
    note = "8 ft column"
    root = ElementTree.fromstring(draw(Layout(balloons, (), 11, 90), PALETTE, title="It", scale_note=note))
    left, top, width, height = (float(value) for value in root.attrib["viewBox"].split())
    (text,) = root.findall(f"{SVG}text")
    size, x, y = (float(text.attrib[name]) for name in ("font-size", "x", "y"))
    # At 300 pixels of height, or 390 of width, the letters are 12 pixels high or more.
    assert size >= 12 * max(width / 390, height / 300) - 0.1
    assert x > left
    assert x + 0.52 * size * len(note) < left + width
    floor = float(list(root.iter(f"{SVG}rect"))[1].attrib["y"])
    assert floor < y - 0.75 * size
    assert y < top + height


def test_a_long_note_about_scale_is_set_smaller_to_fit():
    note = "a column of eight feet and a little more than that, with a topper"
    layout = Layout(tuple(Balloon(0.0, 11.0 * y, 0.0, 11.0, 11, "c0", "counted") for y in range(14)), (), 11, 90)
    root = ElementTree.fromstring(svg(layout, PALETTE, title="It", scale_note=note))
    (text,) = root.findall(f"{SVG}text")
    size = float(text.attrib["font-size"])
    assert 0.52 * size * len(note) < float(root.attrib["viewBox"].split()[2])
