"""The form of every kind: a picture at once, the same piece when it is opened again, and refusals in plain words."""

from collections import Counter
from decimal import Decimal

import pytest
from django.http import QueryDict

from estimating.forms import FORMS, GarlandForm, PackedForm, PieceForm, StringArchForm
from estimating.kinds import KINDS, SpecErrors
from estimating.kinds.garland.spec import Cluster
from estimating.lines import Site
from stock.models import Colour, Item

COLOURS = [
    Colour(pk=1, name="Ink", swatch="#1f2a44"),
    Colour(pk=2, name="Sand", swatch="#e2d6c2"),
    Colour(pk=3, name="Clay", swatch="#b5533c"),
    Colour(pk=4, name="Gilt", swatch="#d9b44a", finish="foil", form="star"),
]
THINGS = [Item(pk=7, sort="other", name="Eucalyptus", unit="stem"), Item(pk=8, sort="other", name="Hoop stand")]
SITE = Site()
STARTS = [
    pytest.param(kind, start.key, id=f"{kind} {start.key}".strip())
    for kind, form in FORMS.items()
    for start in form.starts
]


def form_of(kind: str, data, measures="imperial") -> PieceForm:
    return FORMS[kind](data, colours=COLOURS, things=THINGS, measures=measures)


def begun(kind: str, start: str = "", measures="imperial", **changes: str) -> PieceForm:
    """What a new piece of the kind holds, with these fields changed."""
    return form_of(kind, FORMS[kind].first_data(COLOURS[:3], measures, start) | changes, measures)


def sound(form: PieceForm) -> PieceForm:
    assert form.is_valid(), form.errors
    return form


def posted(form: PieceForm, **pressed: str) -> QueryDict:
    sent = QueryDict(mutable=True)
    sent.update({**form.data, **pressed})
    return sent


def refused(form: PieceForm) -> dict[str, list[str]]:
    """What the form says where its piece cannot be made."""
    if form.is_valid():
        with pytest.raises(SpecErrors) as errors:
            KINDS[form.kind].lay_out(form.spec)
        form.refuse(errors.value)
    return {field: [str(one) for one in said] for field, said in form.errors.items()}


@pytest.mark.parametrize("measures", ["imperial", "metric"])
@pytest.mark.parametrize(("kind", "start"), STARTS)
def test_a_new_piece_has_a_picture_at_once(kind, start, measures):
    form = sound(begun(kind, start, measures))
    layout = KINDS[kind].lay_out(form.spec)
    assert sum(layout.counts().values()) >= len(layout.balloons) >= 1


@pytest.mark.parametrize(("kind", "start"), STARTS)
def test_a_new_piece_can_be_made_of_one_colour(kind, start):
    form = sound(form_of(kind, FORMS[kind].first_data(COLOURS[:1], "imperial", start)))
    assert KINDS[kind].lay_out(form.spec).balloons


@pytest.mark.parametrize(("kind", "start"), STARTS)
def test_without_colours_the_form_says_that_they_are_missing(kind, start):
    form = FORMS[kind](FORMS[kind].first_data([], "imperial", start), colours=[], measures="imperial")
    assert not form.is_valid()
    assert set(form.errors) <= {"colours", "lines", "colour", "topper_colour"}


@pytest.mark.parametrize("measures", ["imperial", "metric"])
@pytest.mark.parametrize(("kind", "start"), STARTS)
def test_a_kept_piece_opens_as_the_same_piece(kind, start, measures):
    form = sound(begun(kind, start, measures, **{"extras-0-item": "7", "extras-0-count": "3"}))
    kept = form.spec.to_json() | {"typed": form.typed}
    again = sound(form_of(kind, FORMS[kind].data_of("Again", kept, measures), measures))
    assert again.spec == form.spec
    assert again.typed == form.typed


@pytest.mark.parametrize(("kind", "start"), STARTS)
def test_things_off_the_shelf_go_into_every_kind(kind, start):
    form = sound(begun(kind, start, **{"extras-0-item": "7", "extras-0-count": "3", "extras-1-item": "8"}))
    assert form.spec.extras == (("7", 3), ("8", 1))


def test_a_thing_that_is_not_on_the_shelf_is_refused():
    form = begun("garland", **{"extras-0-item": "99", "extras-0-count": "3"})
    assert refused(form) == {"extras": ["A thing that goes with it must be on the studio’s shelf (got “99”)."]}


@pytest.mark.parametrize(
    ("row", "sentence"),
    [
        pytest.param({"extras-0-count": "3"}, "Row 1 names no thing: choose one, or empty its number.", id="no thing"),
        pytest.param(
            {"extras-0-item": "7", "extras-0-count": "many"},
            "How many in row 1 must be a whole number from 1 to 1000 (got “many”).",
            id="a word",
        ),
        pytest.param(
            {"extras-0-item": "7", "extras-0-count": "700", "extras-1-item": "7", "extras-1-count": "700"},
            "How many of one thing must be at most 1000 (got “1400”).",
            id="too many in two rows",
        ),
    ],
)
def test_a_row_of_things_that_cannot_be_read_is_refused(row, sentence):
    assert refused(begun("counted", **row)) == {"extras": [sentence]}


def test_a_double_stuffed_colour_takes_two_balloons_each():
    plain, doubled = sound(begun("garland")), sound(begun("garland", **{"inside-1": "3"}))
    assert doubled.spec.doubled == (("1", "3"),)
    before, after = (KINDS["garland"].lay_out(form.spec).counts() for form in (plain, doubled))
    ink = Counter({("3", size): n for (colour, size), n in before.items() if colour == "1"})
    assert after == before + ink


def test_what_is_inside_a_colour_that_was_taken_out_is_forgotten():
    assert sound(begun("garland", **{"inside-4": "3"})).spec.doubled == ()


def test_an_inner_colour_that_is_not_the_studios_is_refused():
    said = refused(begun("garland", **{"inside-1": "99"}))
    assert said == {"inside": ["The colour inside Ink must be one of the studio’s (got “99”)."]}


def test_clusters_stand_where_they_are_put():
    rows = {"clusters-0-count": "3", "clusters-0-size": "24", "clusters-0-along": "75", "clusters-0-colour": "3"}
    form = sound(begun("garland", **rows))
    assert form.spec.clusters == (Cluster(75, 24, 3, "3"),)
    assert KINDS["garland"].lay_out(form.spec).counts()["3", 24] == 3


def test_a_trailing_garland_is_thick_at_one_end():
    spec = sound(begun("garland", "trailing")).spec
    assert (spec.taper, spec.trail_mm) == ("thick to thin", Decimal("914.4"))


@pytest.mark.parametrize(
    ("form", "changes", "said"),
    [
        pytest.param(
            ("garland", ""),
            {"trail": "15 ft"},
            {"trail": ["Trailing end must be at most two thirds of the length, 160 in here (got 180 in)."]},
            id="a trail longer than its garland",
        ),
        pytest.param(
            ("packed", "arch"),
            {"span": "", "length": ""},
            {"span": ["Span must be given: two of span, rise and length make the third (got nothing)."]},
            id="an arch of one measure",
        ),
        pytest.param(
            ("string_arch", ""),
            {"rise": "", "length": "10 ft"},
            {"length": ["Length of the line must be more than the span of 192 in (got 120 in)."]},
            id="a line shorter than its span",
        ),
        pytest.param(
            ("wall", "organic"),
            {"pattern": "plain"},
            {"pattern": ["Pattern can be plain only where colours names one (got 3 colours)."]},
            id="one colour of three",
        ),
        pytest.param(
            ("floats", ""),
            {"sizes-11": "0", "sizes-5": "100"},
            {"sizes": ["Sizes must be 9-inch or larger to float (got 5-inch)."]},
            id="floats too small to float",
        ),
        pytest.param(
            ("packed", "garland"),
            {"blown_to": "4 in"},
            {
                "blown_to": [
                    "Blown to must be from 6 in to 11 in for 11-inch balloons; 5-inch ones reach it (got 4 in)."
                ]
            },
            id="limp balloons",
        ),
    ],
)  # fmt: skip
def test_what_disagrees_is_said_at_the_fields_people_see(form, changes, said):
    assert refused(begun(*form, **changes)) == said


def test_a_text_too_thin_for_its_balloons_says_what_would_work_at_both_fields():
    said = refused(begun("glyphs", height="2 ft", **{"sizes-5": "0", "sizes-11": "100"}))
    assert set(said) == {"height", "sizes"}
    assert "must be at least" in said["height"][0]
    assert "larger than" in said["sizes"][0] or "small enough" in said["sizes"][0]


def test_refusals_are_in_metres_for_a_studio_of_metres():
    said = refused(begun("string_arch", measures="metric", rise="", length="3 m"))
    assert said == {"length": ["Length of the line must be more than the span of 5 m (got 3 m)."]}


@pytest.mark.parametrize(
    ("made_as", "asked", "unasked"),
    [
        pytest.param("column", {"height", "topper_size"}, {"span", "rise", "length", "shape", "helium"}, id="column"),
        pytest.param("arch", {"span", "rise", "length", "base"}, {"height", "topper_size", "shape"}, id="arch"),
        pytest.param("garland", {"length", "shape", "helium"}, {"height", "topper_size", "base"}, id="garland"),
    ],
)
def test_only_what_matters_for_a_packed_piece_is_asked(made_as, asked, unasked):
    fields = set(begun("packed", made_as).fields)
    assert asked <= fields
    assert not unasked & fields


def test_a_grid_is_asked_for_one_size_and_an_organic_panel_for_several():
    assert {"size", "spacing"} <= set(begun("wall", "grid").fields)
    assert "sizes" not in begun("wall", "grid").fields
    assert {"sizes", "depth"} <= set(begun("wall", "organic").fields)
    assert "size" not in begun("wall", "organic").fields


def test_a_topper_in_a_foil_colour_has_its_outline():
    topper = sound(begun("packed", "column", topper_size="18", topper_colour="4")).spec.topper
    assert (topper.size, topper.colour, topper.form, topper.is_foil) == (18, "4", "star", True)


def test_a_column_can_go_without_a_topper():
    assert sound(begun("packed", "column", topper_size="")).spec.topper is None


def test_a_line_in_a_foil_colour_is_foil():
    spec = sound(begun("bouquet", **{"line-3-colour": "4", "line-3-size": "18", "line-3-count": "2"})).spec
    assert spec.foils == (("4", 18, "star", 2),)
    assert all(colour != "4" for colour, _, _ in spec.latex)


def test_lettering_without_words_needs_no_measures():
    form = sound(begun("lettered", text="", decal_width="", decal_height=""))
    assert not [line for line in KINDS["lettered"].extras(form.spec, KINDS["lettered"].lay_out(form.spec), SITE)
                if line.sort == "decal"]  # fmt: skip


def test_shares_become_numbers_in_turn_and_shares_again():
    form = begun("packed", "arch")
    turned = PackedForm.pressed(posted(form, by="count"))
    assert turned is not None
    assert [turned.data[f"colours-{key}"] for key in "123"] == ["2", "1", "1"]
    spiral = sound(form_of("packed", turned.data.dict()))
    assert (spiral.spec.colours_by, spiral.spec.colours) == ("count", (("1", 2), ("2", 1), ("3", 1)))
    back = PackedForm.pressed(posted(spiral, by="percent"))
    assert back is not None
    assert [back.data[f"colours-{key}"] for key in "123"] == ["50", "25", "25"]


def test_a_colour_added_to_a_turn_comes_once():
    pressed = StringArchForm.pressed(posted(begun("string_arch"), add="4"))
    assert pressed is not None
    assert pressed.data["colours-4"] == "1"
    assert pressed.data["colours-1"] == "1"


def test_colours_in_turn_need_not_add_up_to_a_hundred():
    form = sound(begun("string_arch", **{"colours-1": "2"}))
    assert form.spec.colours == (("1", 2), ("2", 1), ("3", 1))
    assert form.uneven == set()


@pytest.mark.parametrize(("kind", "start"), STARTS)
def test_a_favourite_outlives_its_colours(kind, start):
    """Two of its three colours are gone: what is left stands in, or the form asks for another."""
    kept = sound(begun(kind, start)).spec.to_json()
    data = FORMS[kind].data_of("Ours", kept, "imperial")
    data, lost = FORMS[kind].without_lost_colours(data, ["3"])
    form = FORMS[kind](data, colours=[COLOURS[2]], measures="imperial")
    assert lost >= 1
    try:
        counts = KINDS[kind].lay_out(form.spec).counts() if form.is_valid() else {}
        assert {colour for colour, _ in counts} <= {"3"}
    except SpecErrors as errors:
        form.refuse(errors)
    assert set(form.errors) <= {"lines", "colour", "colours"}


def test_more_rows_are_added_for_things_and_clusters():
    for name in ("extras", "clusters"):
        pressed = GarlandForm.pressed(posted(begun("garland"), more=name))
        assert pressed is not None
        assert pressed.field == name
        assert f"{name}-2-count" in pressed.data


PATH = "[[0, 0], [60, 20], [120, 0]]"


def test_a_sketched_garland_is_as_long_as_its_path():
    form = sound(begun("garland", shape="sketched", path=PATH, length="10 ft 6 in"))
    assert form.spec.path == ((0.0, 0.0), (60.0, 20.0), (120.0, 0.0))
    assert form.spec.length_mm == Decimal("3212.8741")


def test_a_sketched_garland_is_made_longer_on_the_photo():
    said = refused(begun("garland", shape="sketched", path=PATH, length="20 ft"))
    assert list(said) == ["length"]
    assert "as it was drawn: draw it anew on the photo, or choose another shape." in said["length"][0]


def test_another_shape_lets_go_of_the_path():
    assert sound(begun("garland", shape="swag", path=PATH)).spec.path == ()


@pytest.mark.parametrize("path", ["{}", "[[1]]", "[[1, 2], [NaN, 3]]", "x", "[]", '[["a", "b"]]'])
def test_a_path_that_is_none_is_refused(path):
    assert refused(begun("garland", shape="sketched", path=path))["path"] == [
        "The sketch cannot be read: draw it again."
    ]


@pytest.mark.parametrize(("kind", "start"), [("packed", "arch"), ("string_arch", "")])
def test_sealing_is_asked_of_what_floats_and_kept(kind, start):
    form = sound(begun(kind, start, helium="True", sealed="on"))
    assert form.spec.sealed
    again = sound(form_of(kind, FORMS[kind].data_of("Again", form.spec.to_json(), "imperial")))
    assert again.spec == form.spec
    assert not sound(begun(kind, start, helium="True")).spec.sealed
