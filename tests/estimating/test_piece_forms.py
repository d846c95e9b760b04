"""What people type about a piece: read exactly, refused in words, and never lost."""

from decimal import Decimal

import pytest

from estimating.forms import FORMS, GarlandForm
from estimating.kinds import KINDS, GarlandSpec, SpecErrors
from tests.typed_pieces import COLOURS, garland, one_error


def test_there_is_a_form_for_every_kind_of_piece():
    assert set(FORMS) == set(KINDS)


def test_a_garland_as_typed_becomes_its_spec():
    form = garland()
    assert form.is_valid(), form.errors
    assert form.spec == GarlandSpec(
        length_mm=Decimal("6096.0000"),
        width_mm=Decimal("558.8000"),
        mix=((5, 30), (11, 62), (16, 8)),
        colours=(("1", 60), ("2", 40)),
        outdoors=False,
        shape="doorway",
        seed=7,
    )


def test_what_was_typed_is_kept_beside_the_spec():
    form = garland(length=" 6,1 m ", width="22½ in")
    assert form.is_valid()
    assert form.typed == {"length": "6,1 m", "width": "22½ in"}


def test_a_kept_garland_comes_back_as_it_was_typed():
    form = garland(length="8' 6\"", width="55 cm")
    assert form.is_valid()
    kept = form.spec.to_json() | {"typed": form.typed}
    again = GarlandForm(GarlandForm.data_of("Arch", kept, "imperial"), colours=COLOURS, measures="imperial")
    assert again.is_valid()
    assert again.spec == form.spec
    assert again["length"].value() == "8' 6\""
    assert again["width"].value() == "55 cm"


@pytest.mark.parametrize(
    ("measures", "length"),
    [pytest.param("imperial", "20 ft", id="feet"), pytest.param("metric", "6.1 m", id="metres")],
)
def test_without_the_words_a_length_is_shown_in_the_studios_measures(measures, length):
    form = garland()
    assert form.is_valid()
    kept = form.spec.to_json()
    assert GarlandForm.data_of("Arch", kept, measures)["length"] == length


@pytest.mark.parametrize(
    ("measures", "length", "width", "mm"),
    [
        pytest.param("imperial", "20", "22", ("6096", "558.8"), id="bare numbers are feet and inches"),
        pytest.param("metric", "6", "55", ("6000", "550"), id="or metres and centimetres"),
        pytest.param("imperial", "6 m", "55 cm", ("6000", "550"), id="metric said in a studio of feet"),
        pytest.param("metric", "20 ft", "22 in", ("6096", "558.8"), id="feet said in a studio of metres"),
    ],
)
def test_a_length_is_read_in_the_measures_said(measures, length, width, mm):
    form = garland(measures, length=length, width=width)
    assert form.is_valid(), form.errors
    assert (form.spec.length_mm, form.spec.width_mm) == tuple(map(Decimal, mm))


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        pytest.param("10 km", "Length must be from 1 ft to 200 ft; 10 km is more.", id="ten kilometres"),
        pytest.param("20000 m", "Length must be from 1 ft to 200 ft; 20000 m is more.", id="further still"),
        pytest.param("201 ft", "Length must be from 1 ft to 200 ft; 201 ft is more.", id="just over"),
        pytest.param("11 in", "Length must be from 1 ft to 200 ft; 11 in is less.", id="just under"),
        pytest.param("0", "Length must be from 1 ft to 200 ft; 0 is less.", id="nothing"),
        pytest.param("-5 ft", "Length must be from 1 ft to 200 ft; -5 ft is less.", id="negative"),
        pytest.param("", "Length is missing: say how long the garland is, such as 20 ft or 6 m.", id="empty"),
    ],
)
def test_a_length_outside_the_limits_is_refused_in_words(typed, sentence):
    assert one_error(garland(length=typed), "length") == sentence


@pytest.mark.parametrize(
    "typed",
    [
        pytest.param("9**9**9 m", id="a sum that never ends"),
        pytest.param("long", id="a word"),
        pytest.param("nan", id="not a number"),
        pytest.param("20 ft; drop table", id="SQL"),
        pytest.param("<script>alert(1)</script>", id="markup"),
        pytest.param("🎈🎈", id="emoji"),
        pytest.param("٢٠ م", id="another script"),
        pytest.param("9" * 5000, id="five thousand digits"),
    ],
)
def test_nonsense_for_a_length_is_refused_and_repeated_in_short(typed):
    sentence = one_error(garland(length=typed), "length")
    assert sentence.startswith("Length ")
    assert typed[:8] in sentence
    assert len(sentence) < 200


def test_limits_are_said_in_metres_to_a_studio_of_metres():
    assert (
        one_error(garland("metric", length="90 m"), "length") == "Length must be from 30.5 cm to 60.96 m; 90 m is more."
    )


@pytest.mark.parametrize(
    ("changes", "field", "sentence"),
    [
        pytest.param({"sizes-11": "52"}, "sizes", "Sizes add up to 90 %: 10 % is missing.", id="sizes short"),
        pytest.param({"sizes-11": "70"}, "sizes", "Sizes add up to 108 %: 8 % is too much.", id="sizes over"),
        pytest.param({"colours-2": "30"}, "colours", "Colours add up to 90 %: 10 % is missing.", id="colours short"),
        pytest.param(
            {"colours-1": "", "colours-2": "0"},
            "colours",
            "Colours are missing: give at least one colour a share.",
            id="no colour",
        ),
        pytest.param(
            {"colours-1": "sixty"},
            "colours",
            "Each share of Colours must be a whole number from 0 to 100 (got “sixty”).",
            id="a word",
        ),
        pytest.param(
            {"colours-1": "-60"},
            "colours",
            "Each share of Colours must be a whole number from 0 to 100 (got “-60”).",
            id="negative",
        ),
        pytest.param(
            {"colours-2": None, "colours-99": "40"},
            "colours",
            "A colour must be one of the studio’s (got “99”).",
            id="unknown colour",
        ),
        pytest.param(
            {"colours-2": None, "colours-1 or 1=1": "40"},
            "colours",
            "A colour must be one of the studio’s (got “1 or 1=1”).",
            id="a colour that is no key",
        ),
        pytest.param(
            {"sizes-5": None, "sizes-7": "30"},
            "sizes",
            "A size must be one of 3, 5, 6, 9, 10, 11, 12, 14, 16, 17, 18, 24, 30, 36 inches (got “7”).",
            id="no such size",
        ),
        pytest.param(
            {
                "sizes-5": "5",
                "sizes-6": "5",
                "sizes-9": "5",
                "sizes-10": "5",
                "sizes-12": "5",
                "sizes-11": "70",
                "sizes-16": "5",
            },
            "sizes",
            "Sizes can be 6 at most; 7 have a share.",
            id="too many sizes",
        ),
        pytest.param({"name": ""}, "name", "Give the piece a name: it is what the client reads.", id="no name"),
        pytest.param(
            {"name": "x" * 5000}, "name", "Name must be at most 80 characters; this one has 5,000.", id="a long name"
        ),
    ],
)
def test_what_cannot_be_made_is_refused_in_words(changes, field, sentence):
    assert one_error(garland(**changes), field) == sentence


@pytest.mark.parametrize(
    "changes",
    [
        pytest.param({"seed": "-1"}, id="negative seed"),
        pytest.param({"seed": "9" * 40}, id="huge seed"),
        pytest.param({"seed": ""}, id="no seed"),
        pytest.param({"shape": "spiral"}, id="unknown shape"),
        pytest.param({"outdoors": "perhaps"}, id="neither in nor out"),
    ],
)
def test_a_form_that_was_tampered_with_is_refused(changes):
    assert list(garland(**changes).errors) == list(changes)


@pytest.mark.parametrize("name", ["🎈 Garland", "قوس فوق الباب", "<script>alert(1)</script>", "x" * 80, "O'Neil & co"])
def test_any_name_that_fits_is_kept_as_typed(name):
    form = garland(name=name)
    assert form.is_valid()
    assert form.cleaned_data["name"] == name


def test_a_width_these_sizes_cannot_make_is_an_error_of_both_that_says_what_would_work():
    form = garland(width="80 in")
    assert form.is_valid()
    with pytest.raises(SpecErrors) as refused:
        KINDS["garland"].lay_out(form.spec)
    form.refuse(refused.value)
    assert form.errors == {
        "width": ["Finished width must be at most 47 in round a base of 11-inch balloons (got 80 in)."],
        "sizes": ["Sizes must have a base of at least 18-inch balloons for a width of 80 in (got 11-inch)."],
    }


def test_inches_in_such_an_error_are_turned_into_centimetres_for_a_studio_of_metres():
    form = garland("metric", width="2 m")
    assert form.is_valid()
    with pytest.raises(SpecErrors) as refused:
        KINDS["garland"].lay_out(form.spec)
    form.refuse(refused.value)
    assert form.errors == {
        "width": ["Finished width must be at most 1.19 m round a base of 11-inch balloons (got 2 m)."],
        "sizes": ["Sizes must have a base of at least 18-inch balloons for a width of 2 m (got 11-inch)."],
    }


def test_a_first_garland_can_be_made_as_it_is():
    form = GarlandForm(GarlandForm.first_data(COLOURS, "metric"), colours=COLOURS, measures="metric")
    assert form.is_valid(), form.errors
    assert KINDS["garland"].lay_out(form.spec).balloons
