"""The small things of a page that Python draws and keeps."""

import datetime as dt

import pytest
from django.utils import timezone
from django.utils.safestring import SafeString

from studio import marks
from studio.templatetags import look


@pytest.mark.parametrize(
    ("word", "state", "drawn"),
    [
        pytest.param("covered", "covered", '<span class="badge covered">covered</span>', id="a state of its own"),
        pytest.param("late", "", '<span class="badge plain">late</span>', id="no state"),
        pytest.param("<b>", "short", '<span class="badge short">&lt;b&gt;</span>', id="markup in a word"),
    ],
)
def test_a_badge_says_its_word_in_the_tint_of_its_state(word, state, drawn):
    assert look.badge(word, state) == drawn


def test_words_that_were_marked_safe_do_not_let_the_same_words_of_somebody_else_in():
    assert marks.badge(SafeString("<b>late</b>"), "short") == '<span class="badge short"><b>late</b></span>'
    assert marks.badge("<b>late</b>", "short") == '<span class="badge short">&lt;b&gt;late&lt;/b&gt;</span>'


def test_two_moments_that_are_equal_are_each_dated_in_the_zone_they_are_told_in():
    late = dt.datetime(2026, 11, 25, 23, 30, tzinfo=timezone.get_fixed_timezone(0))
    assert look.full_day(late) == "25 Nov 2026"
    assert look.full_day(late.astimezone(timezone.get_fixed_timezone(60))) == "26 Nov 2026"


def test_a_disc_that_was_drawn_before_is_the_same_again():
    first = marks.disc("#1b1b1f", "#fffdf9", 11, None, "Black 11-inch", big=False, flat=False)
    assert marks.disc("#1b1b1f", "#fffdf9", 11, None, "Black 11-inch", big=False, flat=False) is first


def test_discs_that_differ_in_one_thing_are_drawn_apart():
    same = {
        "swatch": "#1b1b1f",
        "ink": "#fffdf9",
        "size": 11,
        "text": None,
        "label": "Black",
        "big": False,
        "flat": False,
    }
    other = {"swatch": "#c9715a", "ink": "#000000", "size": 5, "text": "x", "label": "Clay", "big": True, "flat": True}
    drawn = {marks.disc(**{**same, name: value}) for name, value in other.items()}
    assert len(drawn | {marks.disc(**same)}) == len(other) + 1
