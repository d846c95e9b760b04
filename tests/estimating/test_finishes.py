"""How finishes, hearts, stars and double-stuffed balloons are drawn."""

import re
from collections import Counter
from decimal import Decimal
from xml.etree import ElementTree

import pytest

from estimating.drawing import Swatch, discs, svg, svg_for_paper
from estimating.kinds import KINDS, GarlandSpec
from estimating.layout import Balloon, Layout
from estimating.setting import Room, Setting, Words
from estimating.shading import PAPER_FINISHES, ink_on, paint
from stock.models import Colour

SVG = "{http://www.w3.org/2000/svg}"
FINISHES = tuple(PAPER_FINISHES)
SIZES = {9.5: 11, 4.75: 5}


def grey(colour):
    red, green, blue = (int(colour[n : n + 2], 16) for n in (1, 3, 5))
    return 0.299 * red + 0.587 * green + 0.114 * blue


def one(**changed):
    return Layout((Balloon(0, 0, 0, 9.5, 11, "a", "counted", **changed),), (), 9.5, 9.5)


def doubled_garland():
    spec = GarlandSpec(Decimal(3048), Decimal(500), ((5, 30), (11, 70)), (("a", 60), ("b", 40)))
    return KINDS["garland"].lay_out(spec).double_stuffed((("a", "c"),))


def test_every_finish_the_shelf_knows_has_its_own_way_of_being_drawn():
    assert set(FINISHES) == set(Colour.Finish.values)


@pytest.mark.parametrize("tint", ["#c4694a", "#22314f", "#f1ead8"])
def test_no_two_finishes_are_drawn_alike_in_greyscale(tint):
    def greys(drawn):
        return tuple(round(grey(colour) / 8) for colour in re.findall(r"#[0-9a-f]{6}", drawn))

    screen = {
        finish: (greys(drawn), drawn.count("stop-opacity"), drawn.count("<path"))
        for finish in FINISHES
        for drawn in [paint("x", tint, 2, finish=finish)]
    }
    paper = {
        finish: (greys(drawn), drawn.count("stroke-opacity"))
        for finish in FINISHES
        for drawn in [svg_for_paper(one(), {"a": Swatch(tint, "A", finish)}, title="It")]
    }
    assert len(set(screen.values())) == len(set(paper.values())) == len(FINISHES)


@pytest.mark.parametrize(
    ("finish", "least", "most"),
    [
        pytest.param("standard", 45, 200, id="a bright spot"),
        pytest.param("matte", 5, 30, id="none"),
        pytest.param("pearl", 30, 120, id="a sheen"),
        pytest.param("metallic", 30, 200, id="a bright band"),
        pytest.param("foil", 45, 200, id="a crisp shard"),
    ],
)
def test_how_much_brighter_than_its_colour_a_finish_gets(finish, least, most):
    tint = "#7c6c5c"
    drawn = paint("x", tint, 2, finish=finish)
    brightest = max(grey(colour) for colour in re.findall(r'(?:stop-color|fill)="(#[0-9a-f]{6})', drawn))
    assert least < brightest - grey(tint) < most


@pytest.mark.parametrize("finish", ["clear", "confetti"])
def test_what_is_behind_a_clear_balloon_shows_through(finish):
    palette = {"a": Swatch("#c4694a", "A", finish)}
    assert 'stop-opacity="0.18"' in svg(one(), palette, title="It")
    assert "stroke-opacity" in svg_for_paper(one(), palette, title="It")


def test_an_unknown_finish_is_drawn_glossy():
    assert paint("x", "#c4694a", 2, finish="glitter") == paint("x", "#c4694a", 2)


@pytest.mark.parametrize("finish", FINISHES)
def test_a_round_balloon_of_any_finish_is_one_circle_with_a_fill_that_is_defined(finish):
    root = ElementTree.fromstring(svg(one(), {"a": Swatch("#c4694a", "A", finish)}, title="It"))
    (circle,) = root.iter(f"{SVG}circle")
    names = {element.get("id") for element in root.iter()}
    used = {found for element in root.iter() for found in re.findall(r"url\(#(.+?)\)", element.get("fill", ""))}
    assert circle.attrib["fill"] == "url(#p-c0-2)"
    assert used <= names


@pytest.mark.parametrize("draw", [svg, svg_for_paper])
@pytest.mark.parametrize("form", ["heart", "star"])
def test_hearts_and_stars_have_their_own_outline_and_are_marked_once(draw, form):
    by_balloon = draw(one(form=form), {"a": Swatch("#c4694a", "A", "foil")}, title="It")
    by_colour = draw(one(), {"a": Swatch("#c4694a", "A", "foil", form)}, title="It")
    assert by_balloon == by_colour
    assert by_balloon.count(f'data-form="{form}"') == 1
    assert "<circle" not in by_balloon


@pytest.mark.parametrize("finish", [finish for finish in FINISHES if finish != "foil"])
def test_the_inner_colour_of_a_double_stuffed_balloon_shows_on_its_rim(finish):
    """A blue one inside a pale one: with it the rim is bluer than without."""
    rims = [paint("x", "#eec3bd", 2, finish=finish, inner=inner) for inner in (None, "#2030c0")]
    stops = [re.findall(r'stop-color="(#[0-9a-f]{6})', rim)[-2:] for rim in rims]
    blue = [min(int(colour[5:7], 16) - int(colour[1:3], 16) for colour in found) for found in stops]
    assert blue[1] > blue[0]


def test_a_double_stuffed_disc_is_two_balloons():
    layout = doubled_garland()
    drawn = Counter((disc.colour, disc.size) for disc in discs(layout))
    drawn.update((disc.inner, disc.size) for disc in discs(layout) if disc.inner)
    palette = {key: Swatch(tint, key) for key, tint in (("a", "#aa2020"), ("b", "#20aa20"), ("c", "#2020aa"))}
    screen: Counter[tuple[str, int]] = Counter()
    root = ElementTree.fromstring(svg(layout, palette, title="It"))
    for circle in root.iter(f"{SVG}circle"):
        keys = re.findall(r"c(\d)", circle.attrib["fill"])
        screen.update(("abc"[int(n)], SIZES[float(circle.attrib["r"]) * 2]) for n in keys)
    paper: Counter[tuple[str, int]] = Counter()
    for path in ElementTree.fromstring(svg_for_paper(layout, palette, title="It")).iter(f"{SVG}path"):
        for mark in ("data-colour", "data-inner"):
            if key := path.get(mark):
                paper["abc"[int(key[1:])], int(path.attrib["data-size"])] += path.attrib["d"].count("M")
    assert drawn == screen == paper == layout.counts()


def test_a_picture_says_in_words_what_it_shows():
    palette = {key: Swatch("#aa2020", name) for key, name in (("a", "Red"), ("b", "Green"), ("c", "Blue"))}
    picture = svg(doubled_garland(), palette, title="It", what="Garland, 10 ft × 20 in")
    (said,) = re.findall(r"<desc[^>]*>(.*)</desc>", picture)
    assert said.startswith("Garland, 10 ft × 20 in. ")
    assert re.search(r"\d+ balloons, \d+ of them inside others: \d+ \u2068\w+\u2069 \(\d+ 5-inch, \d+ 11-inch\)", said)


def test_notes_of_a_layout_are_said_with_its_picture():
    layout = Layout(one().balloons, (), 9.5, 9.5, notes=("One foot is shown and repeated.",))
    assert "One foot is shown and repeated.</desc>" in svg(layout, {"a": Swatch("#aa2020", "Red")}, title="It")


def test_strings_are_drawn_behind_the_balloons_but_tails_under_a_ceiling_before_them():
    string = ((0.0, 4.0), (0.0, 20.0))
    hung = Layout(one().balloons, (), 9.5, 9.5, strings=(string,))
    under = Layout(one().balloons, (), 9.5, 9.5, strings=(string,), setting=Setting(room=Room(30, 96)))
    behind, before = (svg(layout, {"a": Swatch("#aa2020", "Red")}, title="It") for layout in (hung, under))
    assert behind.index("M0 4l0 16") < behind.index("<circle")
    assert before.index("M0 4l0 16") > before.index("<circle")


@pytest.mark.parametrize(
    ("text", "lines"),
    [
        pytest.param("Ida", ["Ida"], id="one word"),
        pytest.param("Happy Birthday", ["Happy", "Birthday"], id="two are larger one above the other"),
        pytest.param("a b c d", ["a b", "c d"], id="lines about as long as one another"),
    ],
)
def test_lettering_is_set_in_as_many_lines_as_let_it_be_largest(text, lines):
    layout = Layout(one().balloons, (), 9.5, 9.5, setting=Setting(words=(Words(text, 0, 0, 5, 3),)))
    root = ElementTree.fromstring(svg(layout, {"a": Swatch("#aa2020", "Red")}, title="It"))
    assert [element.text for element in root.iter(f"{SVG}text")] == lines


@pytest.mark.parametrize(("tint", "dark"), [("#ffffff", True), ("#eec3bd", True), ("#22314f", False)])
def test_lettering_is_dark_on_light_and_light_on_dark(tint, dark):
    assert (grey(ink_on(tint)) < 128) is dark


@pytest.mark.parametrize("finish", FINISHES)
def test_fifteen_hundred_balloons_stay_under_150_kb(finish):
    balloons = tuple(
        Balloon(n % 50 * 9.37, n // 50 * 9.53, n % 7, 9.5, 11, f"c{n % 8}", "packed", inner="c0") for n in range(1500)
    )
    palette = {f"c{n}": Swatch(f"#{n}0{n}a{n}0", f"Colour {n}", finish) for n in range(8)}
    assert len(svg(Layout(balloons, (), 470, 290), palette, title="It").encode()) < 150_000


def test_fifteen_hundred_floats_with_tails_stay_under_150_kb():
    spec = KINDS["floats"].spec(Decimal("304.8") * 50, Decimal("304.8") * 30, (("a", 60), ("b", 40)), seed=3)
    palette = {"a": Swatch("#22314f", "Ink"), "b": Swatch("#c79a3e", "Gold", "metallic")}
    assert len(svg(KINDS["floats"].lay_out(spec), palette, title="It").encode()) < 150_000


@pytest.mark.parametrize("finish", ["standard", "matte", "pearl", "metallic", "foil"])
def test_a_large_balloon_is_dotted_more_finely_on_paper_and_still_counted_once(finish):
    large = Layout((Balloon(0, 0, 0, 34, 36, "a", "counted"),), (), 34, 34)
    drawn = {
        size: svg_for_paper(layout, {"a": Swatch("#c4694a", "A", finish)}, title="It")
        for size, layout in ((11, one()), (36, large))
    }
    assert drawn[36].count("h0") > 4 * drawn[11].count("h0")
    assert drawn[36].count("data-colour") == drawn[11].count("data-colour") == 1


def many(finish):
    """The paper picture of five hundred balloons of two sizes in three tints."""
    balloons = tuple(
        Balloon(n % 25 * 7.0, n // 25 * 7.0, n % 5, *((9.5, 11) if n % 3 else (4.75, 5)), f"c{n % 3}", "packed")
        for n in range(500)
    )
    palette = {f"c{n}": Swatch(tint, tint, finish) for n, tint in enumerate(("#c4694a", "#22314f", "#f1ead8"))}
    return svg_for_paper(Layout(balloons, (), 175, 140), palette, title="It")


@pytest.mark.parametrize("finish", FINISHES)
def test_hundreds_of_balloons_on_paper_are_drawn_more_simply_and_still_counted_once(finish):
    root = ElementTree.fromstring(many(finish))
    paths = [path.attrib["d"].count("M") for path in root.iter(f"{SVG}path") if path.get("data-colour")]
    assert sum(paths) == 500
    assert many(finish).count("M") <= 3.2 * 500


def test_no_two_finishes_are_alike_in_greyscale_where_there_are_hundreds():
    drawn = {}
    for finish in FINISHES:
        greys = tuple(round(grey(colour) / 8) for colour in re.findall(r'stroke="(#[0-9a-f]{6})', many(finish)))
        drawn[finish] = (greys, "stroke-opacity" in many(finish), "stroke-dasharray" in many(finish))
    assert len(set(drawn.values())) == len(FINISHES)
