"""What people type about a hand-counted piece: read exactly, refused in words, and never lost."""

import pytest

from estimating.forms import CountedForm
from estimating.kinds import CountedSpec, SpecErrors
from tests.typed_pieces import COLOURS, COUNTED, counted, one_error, posted


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
