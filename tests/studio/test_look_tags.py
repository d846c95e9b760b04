"""What the tags and templates of the look write."""

import datetime as dt
import re
from decimal import Decimal
from types import SimpleNamespace

import pytest
from django import forms
from django.template import Context, RequestContext, Template
from django.template.loader import render_to_string
from django.test import RequestFactory

from studio import marks
from studio.templatetags import look


def written(source: str, **context: object) -> str:
    return Template("{% load look %}" + source).render(Context(context))


def width_of(drawn: str) -> int:
    found = re.search(r'width="(\d+)"', drawn)
    assert found is not None
    return int(found[1])


class EnquiryForm(forms.Form):
    name = forms.CharField(label="Who is asking", help_text="The name they go by.")
    where = forms.ChoiceField(choices=[("in", "Indoors"), ("out", "Outdoors")], widget=forms.RadioSelect)
    remind = forms.BooleanField(label="Remind me", required=False)


@pytest.mark.parametrize(
    ("size", "width"),
    [
        pytest.param(5, 24, id="5"),
        pytest.param(3, 24, id="smaller than drawn"),
        pytest.param(8, 29, id="between 5 and 11"),
        pytest.param(11, 34, id="11"),
        pytest.param(16, 38, id="16"),
        pytest.param(24, 44, id="24"),
        pytest.param(36, 46, id="36"),
        pytest.param(60, 46, id="larger than drawn"),
        pytest.param(None, 34, id="not known"),
    ],
)
def test_a_disc_is_as_wide_as_its_nominal_size_says(size, width):
    assert marks.disc_width(size) == width


def test_a_disc_is_drawn_in_its_items_colour_with_its_size_in_it():
    item = SimpleNamespace(swatch="#1b1b1f", ink="#fffdf9", size=11)
    drawn = written("{% disc item %}", item=item)
    assert 'color="#1b1b1f"' in drawn
    assert 'fill="#fffdf9">11</text>' in drawn
    assert 'aria-hidden="true"' in drawn


def test_a_labelled_disc_is_named_to_a_screen_reader():
    drawn = written("{% disc swatch='#1b1b1f' size=11 label='Black 11-inch' %}")
    assert 'role="img" aria-label="Black 11-inch"' in drawn
    assert "aria-hidden" not in drawn


def test_a_modelling_balloon_is_a_tall_bar():
    drawn = written("{% disc swatch='#1b1b1f' size=260 %}")
    assert 'class="disc bar"' in drawn
    assert width_of(drawn) == 18
    assert "rotate(-90" in drawn


def test_a_big_disc_is_half_as_large_again():
    assert width_of(written("{% disc size=11 big=True %}")) == 51


def test_a_disc_given_empty_words_stays_blank():
    assert "<text" not in written("{% disc size=11 text='' %}")


def test_a_flat_disc_carries_its_colour_as_a_shape():
    assert '<rect x=".5"' in written("{% disc swatch='#c9715a' size=11 flat=True %}")


def test_a_colours_name_cannot_write_markup_into_a_disc():
    drawn = written("{% disc size=11 label=name text=name %}", name='"><script>')
    assert "<script>" not in drawn


@pytest.mark.parametrize(
    ("minutes", "words"),
    [
        pytest.param(None, "", id="none given"),
        pytest.param(0, "0 min", id="nothing"),
        pytest.param(45, "45 min", id="under an hour"),
        pytest.param(60, "1 h", id="a whole hour"),
        pytest.param(310, "5 h 10", id="hours and minutes"),
        pytest.param(305, "5 h 05", id="a single minute figure"),
        pytest.param(Decimal("59.5"), "1 h", id="rounded up to the hour"),
        pytest.param(-75, "−1 h 15", id="too little time"),
    ],
)
def test_a_while_is_shown_in_hours_and_minutes(minutes, words):
    assert look.clock(minutes) == words


def test_a_day_is_shown_short_and_long():
    day = dt.date(2026, 12, 12)
    assert written("{{ d|day }}, {{ d|long_day }}", d=day) == "Sat 12 Dec, Saturday 12 December"


def test_no_day_is_shown_as_nothing():
    assert written("{{ d|day }}{{ d|long_day }}{{ d|full_day }}{{ d|when }}", d=None) == ""


def test_money_is_shown_in_its_currency():
    assert written("{{ m|money:'USD' }}", m=134230) == "$1,342.30"


def test_no_amount_is_shown_as_nothing():
    assert written("{{ m|money:'USD' }}", m=None) == ""


@pytest.mark.parametrize(
    ("measures", "words"),
    [pytest.param("imperial", "30 ft", id="feet"), pytest.param("metric", "9.14 m", id="metres")],
)
def test_a_length_is_shown_as_the_studio_measures(measures, words):
    assert written("{{ mm|measured:s }}", mm=Decimal(9144), s=measures) == words


def test_the_look_leaves_djangos_own_length_filter_alone():
    assert written("{{ items|length }}", items=[1, 2, 3]) == "3"


def test_a_figure_below_zero_has_a_real_minus_sign():
    assert look.signed(-1056) == "−1,056"


def test_the_date_block_says_its_day_and_its_whole_date():
    drawn = written("{{ d|when }}", d=dt.date(2026, 12, 5))
    assert 'datetime="2026-12-05"' in drawn
    assert ">Sat</span>" in drawn
    assert ">5</span>" in drawn


@pytest.mark.parametrize(
    ("namespace", "name", "section", "page", "part"),
    [
        pytest.param("", "week", "week", "week", "", id="this week"),
        pytest.param("bookings", "list", "bookings", "list", "list", id="bookings"),
        pytest.param("clients", "list", "bookings", "list", "list", id="clients"),
        pytest.param("bookings", "detail", "bookings", "detail", "", id="one job"),
        pytest.param("bookings", "calendar-subscribe", "bookings", "calendar-subscribe", "calendar", id="a calendar"),
        pytest.param("bookings", "client-page", "bookings", "client-page", "clients", id="one client"),
        pytest.param("bookings", "client-money", "bookings", "client-money", "money", id="what a client owes"),
        pytest.param("bookings", "invoice", "bookings", "invoice", "money", id="an invoice"),
        pytest.param("stock", "cover", "stock", "cover", "", id="cover"),
        pytest.param("stock", "shelf", "stock", "shelf", "", id="shelf"),
        pytest.param("stock", "item", "stock", "shelf", "", id="an item stands under the shelf"),
        pytest.param("stock", "order-receive", "stock", "orders", "", id="an order"),
        pytest.param("stock", "supplier", "stock", "orders", "", id="a supplier stands under the orders"),
        pytest.param("", "settings", "studio", "settings", "", id="settings"),
        pytest.param("", "settings-people", "studio", "settings-people", "", id="a page of settings"),
    ],
)
def test_the_navigation_knows_where_a_page_stands(namespace, name, section, page, part):
    match = SimpleNamespace(namespace=namespace, url_name=name)
    context = Context({"request": SimpleNamespace(resolver_match=match)})
    assert look.current_section(context) == {"section": section, "page": page, "part": part}


def test_a_page_can_say_for_itself_where_it_stands():
    assert look.current_section(Context({"section": "studio"}))["section"] == "studio"


def test_a_field_is_tied_to_its_help_and_its_error():
    drawn = str(EnquiryForm({"name": ""})["name"].as_field_group())
    assert '<label for="id_name">Who is asking</label>' in drawn
    assert 'aria-describedby="id_name_helptext id_name_error"' in drawn
    assert 'id="id_name_helptext"' in drawn
    assert 'id="id_name_error"' in drawn
    assert 'aria-invalid="true"' in drawn


def test_choices_are_a_group_with_its_own_name():
    drawn = str(EnquiryForm()["where"].as_field_group())
    assert "<fieldset" in drawn
    assert '<legend class="label">Where</legend>' in drawn


def test_a_tick_box_stands_beside_its_words():
    drawn = str(EnquiryForm()["remind"].as_field_group())
    assert '<label class="check" for="id_remind">' in drawn


def test_a_form_that_was_refused_says_so_on_top_with_links_to_the_fields():
    drawn = str(EnquiryForm({"name": "", "where": "in"}))
    assert 'class="error-summary" role="alert"' in drawn
    assert '<a href="#id_name">Who is asking: This field is required.</a>' in drawn


def test_a_fresh_form_says_nothing_on_top():
    assert "error-summary" not in str(EnquiryForm())


def test_what_was_typed_cannot_write_markup_into_the_form():
    assert "<script>" not in str(EnquiryForm({"name": "", "where": "<script>"}))


@pytest.mark.parametrize("page", ["400.html", "500.html"])
def test_a_page_for_broken_requests_needs_nothing_to_be_drawn(page):
    assert "<h1>" in render_to_string(page)


@pytest.mark.parametrize("page", ["403.html", "404.html", "csrf_failure.html"])
def test_a_refusal_is_a_whole_page_with_a_way_back(page):
    drawn = render_to_string(page, {"exception": ""})
    assert 'href="/"' in drawn


def test_a_signed_out_page_shows_no_navigation(db):
    request = RequestFactory().get("/")
    drawn = Template("{% extends 'base.html' %}").render(RequestContext(request, {"user": None}))
    assert "<nav" not in drawn
    assert "signed-out" in drawn
