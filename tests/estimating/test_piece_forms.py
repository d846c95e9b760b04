"""What people type about a piece: read exactly, refused in words, and never lost."""

from decimal import Decimal

import pytest
from django.http import QueryDict
from hypothesis import given, settings
from hypothesis import strategies as st

from estimating.forms import FORMS, CountedForm, GarlandForm
from estimating.forms.fields import evened, whole_percent, with_one_fewer, with_one_more
from estimating.kinds import KINDS, CountedSpec, GarlandSpec, SpecErrors
from stock.models import Colour

INK, SAND = Colour(pk=1, name="Ink", swatch="#1f2a44"), Colour(pk=2, name="Sand", swatch="#e2d6c2")
CLEAR = Colour(pk=3, name="Glass", swatch="#ddeeff", finish="clear")
COLOURS = [INK, SAND, CLEAR]

GARLAND = {
    "name": "Garland over the doorway",
    "length": "20 ft",
    "width": "22 in",
    "shape": "doorway",
    "outdoors": "False",
    "seed": "7",
    "sizes-5": "30",
    "sizes-11": "62",
    "sizes-16": "8",
    "colours-1": "60",
    "colours-2": "40",
}
COUNTED = {
    "name": "Bouquet",
    "outdoors": "True",
    "seed": "1",
    "minutes": "25",
    "line": "12 ft",
    "attachments": "2",
    "line-0-colour": "1",
    "line-0-size": "11",
    "line-0-count": "12",
    "line-1-colour": "",
    "line-1-size": "11",
    "line-1-count": "",
}


def garland(measures="imperial", sizes=(), **changes) -> GarlandForm:
    data = {key: said for key, said in (GARLAND | changes).items() if said is not None}
    return GarlandForm(data, colours=COLOURS, sizes=sizes, measures=measures)


def counted(measures="imperial", **changes) -> CountedForm:
    data = {key: said for key, said in (COUNTED | changes).items() if said is not None}
    return CountedForm(data, colours=COLOURS, measures=measures)


def posted(data, **pressed) -> QueryDict:
    sent = QueryDict(mutable=True)
    sent.update(data | pressed)
    return sent


def one_error(form, field: str) -> str:
    assert list(form.errors) == [field], form.errors
    (sentence,) = form.errors[field]
    return sentence


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


def test_shares_that_do_not_add_up_offer_the_button_that_makes_them():
    assert garland(**{"sizes-11": "52"}).uneven == {"sizes"}
    assert garland().uneven == set()


def test_the_sizes_in_front_are_the_usual_ones_those_on_the_shelf_and_those_in_the_mix():
    form = garland(sizes=(9, 11), **{"sizes-16": "4", "sizes-24": "4"})
    assert [row.size for row in form.size_rows] == [5, 9, 11, 16, 24]
    assert [row.percent for row in form.size_rows] == [30, 0, 62, 4, 4]
    assert {row.size for row in form.more_size_rows} == {3, 6, 10, 12, 14, 17, 18, 30, 36}


def test_at_most_eight_sizes_stand_in_front():
    assert len(garland(sizes=range(1, 40)).size_rows) == 8


def test_colours_keep_the_order_they_were_chosen_in():
    form = garland(**{"colours-1": None, "colours-2": "40", "colours-3": "60"})
    assert [str(row.colour) for row in form.colour_rows] == ["Sand", "Glass clear"]
    assert form.other_colours == [INK]


def test_even_scales_the_sizes_to_a_hundred():
    pressed = GarlandForm.pressed(posted(GARLAND | {"sizes-11": "52"}, even="sizes"))
    assert pressed is not None
    assert [pressed.data[f"sizes-{size}"] for size in (5, 11, 16)] == ["33", "58", "9"]
    assert pressed.field == "sizes"


def test_adding_a_colour_gives_it_a_fair_share_of_a_hundred():
    pressed = GarlandForm.pressed(posted(GARLAND, add="3"))
    assert pressed is not None
    assert [pressed.data[f"colours-{key}"] for key in "123"] == ["40", "27", "33"]


def test_taking_a_colour_out_gives_its_share_to_the_others():
    pressed = GarlandForm.pressed(posted(GARLAND, drop="1"))
    assert pressed is not None
    assert "colours-1" not in pressed.data
    assert pressed.data["colours-2"] == "100"


def test_another_arrangement_changes_the_seed_and_nothing_else():
    pressed = GarlandForm.pressed(posted(GARLAND, another="1"))
    assert pressed is not None
    assert {key: pressed.data[key] for key in GARLAND} == GARLAND | {"seed": "8"}


def test_keep_is_none_of_the_forms_own_buttons():
    assert GarlandForm.pressed(posted(GARLAND)) is None
    assert CountedForm.pressed(posted(COUNTED)) is None


def test_a_first_garland_can_be_made_as_it_is():
    form = GarlandForm(GarlandForm.first_data(COLOURS, "metric"), colours=COLOURS, measures="metric")
    assert form.is_valid(), form.errors
    assert KINDS["garland"].lay_out(form.spec).balloons


@given(st.dictionaries(st.sampled_from("abcdefgh"), st.integers(0, 100).map(str), min_size=1))
@settings(deadline=None, max_examples=60)
def test_evened_shares_add_up_to_a_hundred_unless_there_are_none(typed):
    total = sum(int(said) for said in evened(typed).values())
    assert total == (100 if any(said != "0" for said in typed.values()) else 0)


@given(st.dictionaries(st.sampled_from("abcdefgh"), st.integers(1, 100).map(str), min_size=1, max_size=7))
@settings(deadline=None, max_examples=60)
def test_a_colour_more_or_less_leaves_a_hundred(typed):
    more = with_one_more(typed, "z", 8)
    assert sum(map(int, more.values())) == 100
    assert sum(map(int, with_one_fewer(more, "z").values())) == 100


@given(st.text(max_size=12))
@settings(deadline=None, max_examples=80)
def test_any_text_is_a_percent_or_is_not(typed):
    percent = whole_percent(typed)
    assert percent is None or 0 <= percent <= 100


def test_a_counted_piece_as_typed_becomes_its_spec():
    form = counted(**{"line-1-colour": "2", "line-1-size": "16", "line-1-count": "3"})
    assert form.is_valid(), form.errors
    assert form.spec == CountedSpec(
        lines=(("1", 11, 12), ("2", 16, 3)), outdoors=True, minutes=25, line_ft=12, attachments=2, seed=1
    )


@pytest.mark.parametrize(
    ("typed", "feet"),
    [
        pytest.param("", 0, id="none"),
        pytest.param("0", 0, id="nought"),
        pytest.param("12", 12, id="bare feet"),
        pytest.param("4 m", 14, id="metres, rounded up"),
        pytest.param("12 ft 1 in", 13, id="an inch over"),
    ],
)
def test_line_is_reckoned_in_whole_feet(typed, feet):
    form = counted(line=typed)
    assert form.is_valid(), form.errors
    assert form.spec.line_ft == feet


def test_a_kept_counted_piece_comes_back_as_it_was_typed():
    form = counted(line="4 m")
    assert form.is_valid()
    kept = form.spec.to_json() | {"typed": form.typed}
    again = CountedForm(CountedForm.data_of("Bouquet", kept, "imperial"), colours=COLOURS, measures="imperial")
    assert again.is_valid()
    assert again.spec == form.spec
    assert again["line"].value() == "4 m"


@pytest.mark.parametrize(
    ("changes", "field", "sentence"),
    [
        pytest.param(
            {"line-0-count": ""},
            "lines",
            "How many in line 1 must be a whole number from 1 to 3000 (got “”).",
            id="no count",
        ),
        pytest.param(
            {"line-0-count": "-3"},
            "lines",
            "How many in line 1 must be a whole number from 1 to 3000 (got “-3”).",
            id="negative",
        ),
        pytest.param(
            {"line-0-colour": ""}, "lines", "Line 1 has no colour: choose one, or empty its count.", id="no colour"
        ),
        pytest.param(
            {"line-0-colour": "77"},
            "lines",
            "The colour of line 1 must be one of the studio’s (got “77”).",
            id="unknown colour",
        ),
        pytest.param(
            {"line-0-size": "7"},
            "lines",
            "The size of line 1 must be one of 3, 5, 6, 9, 10, 11, 12, 14, 16, 17, 18, 24, 30, 36 inches (got “7”).",
            id="no such size",
        ),
        pytest.param(
            {"line-1-colour": "1", "line-1-count": "4"},
            "lines",
            "Ink 11-inch is there twice: put all of them in one line.",
            id="twice",
        ),
        pytest.param(
            {"line-0-colour": "", "line-0-count": ""},
            "lines",
            "Balloons are missing: choose a colour and say how many.",
            id="nothing",
        ),
        pytest.param(
            {"minutes": "an hour"},
            "minutes",
            "Minutes of work must be a whole number from 0 to 60000 (got “an hour”).",
            id="minutes",
        ),
        pytest.param({"line": "10 km"}, "line", "Line must be from 0 ft to 2000 ft; 10 km is more.", id="line"),
    ],
)
def test_a_counted_piece_that_cannot_be_is_refused_in_words(changes, field, sentence):
    assert one_error(counted(**changes), field) == sentence


def test_too_many_balloons_in_all_is_an_error_of_the_lines():
    form = counted(**{"line-0-count": "3000", "line-1-colour": "2", "line-1-count": "1"})
    assert form.is_valid()
    with pytest.raises(SpecErrors) as refused:
        _ = form.spec
    form.refuse(refused.value)
    assert one_error(form, "lines") == "Balloons must hold from 1 to 3000 balloons (got 3001)."


def test_more_lines_adds_empty_rows_and_keeps_the_others():
    pressed = CountedForm.pressed(posted(COUNTED, more="lines"))
    assert pressed is not None
    form = CountedForm(pressed.data, colours=COLOURS, measures="imperial")
    assert [(row.colour_key, row.how_many) for row in form.line_rows] == [("1", "12"), *[("", "")] * 4]
