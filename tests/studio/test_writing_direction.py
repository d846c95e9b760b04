"""Which way the words of a paper run, and that paper without such letters is left alone."""

from xml.etree.ElementTree import Element, fromstring, tostring

import pytest

from studio.writing_direction import runs_from_the_right, turn


@pytest.mark.parametrize(
    ("text", "from_the_right"),
    [
        pytest.param("Winter gala", False, id="Latin"),
        pytest.param("חתונה של אינס", True, id="Hebrew"),
        pytest.param("قوس فوق الباب", True, id="Arabic"),
        pytest.param("24 × קשת", True, id="figures have no direction of their own"),
        pytest.param("“קשת”", True, id="neither have quotation marks"),
        pytest.param("Gala קשת", False, id="the first letter counts"),
        pytest.param("Ζωή", False, id="Greek"),
        pytest.param("2026-06-01", False, id="nothing but figures"),
        pytest.param("", False, id="nothing"),
    ],
)
def test_a_line_begins_where_its_first_letter_does(text, from_the_right):
    assert runs_from_the_right(text) is from_the_right


def turned(html: str) -> str:
    page: Element = fromstring(html)
    turn(page)
    return tostring(page, encoding="unicode")


@pytest.mark.parametrize(
    ("html", "as_set"),
    [
        pytest.param('<h1 dir="auto">קשת</h1>', '<h1 dir="rtl">קשת</h1>', id="a heading from the right"),
        pytest.param('<h1 dir="auto">Gala</h1>', "<h1>Gala</h1>", id="a heading from the left"),
        pytest.param(
            '<p dir="auto"><b>קשת</b>: big</p>', '<p dir="rtl"><b>קשת</b>: big</p>', id="what is inside counts"
        ),
        pytest.param("<p>For <bdi>אינס</bdi>, 5</p>", '<p>For <bdi dir="rtl">אינס</bdi>, 5</p>', id="a name in a line"),
        pytest.param(
            "<p><bdi><b>אינס</b> ok</bdi></p>", '<p><bdi dir="rtl"><b>אינס</b> ok</bdi></p>', id="a name in bold"
        ),
        pytest.param("<p>For <bdi>Ines</bdi>, 5</p>", "<p>For <bdi>Ines</bdi>, 5</p>", id="a Latin name"),
        pytest.param('<p dir="ltr">קשת</p>', '<p dir="ltr">קשת</p>', id="what says its own direction"),
        pytest.param('<bdi dir="ltr">קשת</bdi>', '<bdi dir="ltr">קשת</bdi>', id="a name that says its own"),
    ],
)
def test_a_page_is_turned_where_it_has_letters_from_the_right(html, as_set):
    assert turned(html) == as_set
