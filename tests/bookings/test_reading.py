"""What is found in a pasted message, and what is left alone."""

import datetime as dt
import importlib.util
import re
import sys
import time
from pathlib import Path
from types import ModuleType

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bookings.reading import (
    LONGEST,
    MessageTooLong,
    colours,
    country_of,
    dates,
    envelope,
    measures,
    people,
    places,
    read_message,
    times,
)

MONDAY = dt.date(2026, 6, 1)


def _rates() -> ModuleType:
    """The measuring beside the messages, which is no package."""
    path = Path(__file__).parent / "messages" / "reading_rates.py"
    spec = importlib.util.spec_from_file_location("reading_rates", path)
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules["reading_rates"] = module
    spec.loader.exec_module(module)
    return module


RATES = _rates()
MESSAGES = RATES.messages() + RATES.messages("unseen.toml")


def values(text: str, field: str, country: str = "GB", today: dt.date = MONDAY) -> list[str]:
    """The values suggested for one field."""
    found = read_message(text, today=today, measures="metric", country=country, palette=RATES.PALETTE)
    return [one.value for one in found if one.field == field]


def test_there_are_messages_enough_to_judge_by():
    assert len(RATES.messages()) >= 40
    assert len({message["id"] for message in MESSAGES}) == len(MESSAGES)


@pytest.mark.parametrize("field", [*RATES.FIELDS, "all"])
def test_nine_in_ten_of_what_is_there_are_found_and_hardly_anything_else(field, record_property):
    rate = RATES.rates()[field]
    record_property("hits", f"{rate.hits:.3f}")
    record_property("mistaken", f"{rate.mistaken:.3f}")
    assert rate.hits >= 0.9, RATES.report()
    assert rate.mistaken <= 0.03, RATES.report()


def test_messages_that_the_patterns_were_not_made_for_are_read_nearly_as_well():
    rate = RATES.rates("unseen.toml")["all"]
    print(RATES.report("unseen.toml"))
    assert rate.hits >= 0.9
    assert rate.mistaken <= 0.03


@pytest.mark.parametrize("message", [pytest.param(message, id=message["id"]) for message in MESSAGES])
def test_every_suggestion_points_at_the_words_it_came_from(message):
    text = message["text"]
    for one in RATES.suggested(text, message["studio"]):
        assert 0 <= one.start < one.end <= len(text)
        assert " ".join(one.said.split()) in " ".join(text[one.start : one.end].split())


@pytest.mark.parametrize(
    ("text", "days"),
    [
        pytest.param("sat 12 dec", ["2026-12-12"], id="short names"),
        pytest.param("on the 1st", ["2026-06-01"], id="the first is today"),
        pytest.param("for 31 May", ["2027-05-31"], id="gone by, so next year's"),
        pytest.param("on 29 February", ["2028-02-29"], id="a leap day is years away"),
        pytest.param("on 30 February", [], id="no such day"),
        pytest.param("the 31st", ["2026-07-31"], id="June has no 31st"),
        pytest.param("Saturday week", ["2026-06-13"], id="Saturday week"),
        pytest.param("this coming Friday", ["2026-06-05"], id="this coming"),
        pytest.param("next Monday", ["2026-06-08", "2026-06-15"], id="next Monday is next week's or the one after"),
        pytest.param("Monday next week", ["2026-06-08"], id="next week's"),
        pytest.param("in two months' time", ["2026-08-01"], id="months"),
        pytest.param("on Christmas Eve", ["2026-12-24"], id="a feast"),
        pytest.param("12 May 2020", [], id="a day of the past is none"),
        pytest.param("we may 24 people", [], id="may is a verb"),
        pytest.param("her 21st birthday, the 2nd floor, the 40th party", [], id="ordinals that are no days"),
        pytest.param("1/2 a garland, open 24/7", [], id="fractions"),
        pytest.param("24 people, 12 ft, 3 pm", [], id="numbers of other things"),
    ],
)
def test_days_as_they_are_said(text, days):
    assert values(text, "event_on") == days


def test_next_friday_says_which_friday_each_choice_is():
    found = read_message("next Friday", today=MONDAY, measures="metric", country="GB")
    assert [one.note for one in found] == ["the Friday of next week", "the Friday of this week"]
    assert {(one.start, one.end) for one in found} == {(0, 11)}


def test_a_weekday_that_does_not_fit_its_day_is_told():
    (found,) = read_message("Friday 13 June", today=MONDAY, measures="metric", country="GB")
    assert found.note == "the message says Friday; that day is a Saturday"


@pytest.mark.parametrize(
    ("text", "hours"),
    [
        pytest.param("2pm", ["14:00"], id="pm"),
        pytest.param("12 am", ["00:00"], id="midnight"),
        pytest.param("half past six", ["18:30"], id="in words"),
        pytest.param("half seven", ["19:30"], id="as in Britain"),
        pytest.param("quarter to one", ["12:45"], id="over the hour"),
        pytest.param("14:00", ["14:00"], id="twenty-four hours"),
        pytest.param("noon", ["12:00"], id="noon"),
        pytest.param("11-2pm", ["11:00"], id="over noon"),
        pytest.param("7 in the morning", ["07:00"], id="morning"),
        pytest.param("at 8 tables", [], id="tables"),
        pytest.param("at 7 Quay Street", [], id="a house number"),
    ],
)
def test_hours_as_they_are_said(text, hours):
    assert values(text, "ready_by") == hours


@pytest.mark.parametrize(
    ("text", "budget"),
    [
        pytest.param("budget 350 or so", ["budget 350 or so"], id="called so"),
        pytest.param("£20 per person", [], id="a head"),
        pytest.param("under 400 people", [], id="people"),
        pytest.param("the deposit of £50", [], id="a deposit"),
        pytest.param("under 12s", [], id="children"),
        pytest.param("in 2025", [], id="a year"),
    ],
)
def test_budgets_as_they_are_said(text, budget):
    found = values(text, "budget")
    assert [one.removeprefix("budget ") for one in found] == [one.removeprefix("budget ") for one in budget]


def test_the_studios_own_address_is_not_the_clients():
    found = read_message(
        "To hello@tern.example from ines@example.org, 020 7946 0321",
        today=MONDAY,
        measures="metric",
        country="GB",
        own_mails=("hello@tern.example",),
        own_phones=("+44 20 7946 0321",),
    )
    assert [(one.field, one.value) for one in found] == [("email", "ines@example.org")]


@pytest.mark.parametrize(
    ("zone", "currency", "country"),
    [
        pytest.param("Europe/London", "GBP", "GB", id="by the zone"),
        pytest.param("America/Chicago", "USD", "US", id="America"),
        pytest.param("Australia/Perth", "AUD", "AU", id="Australia"),
        pytest.param("UTC", "NZD", "NZ", id="by the money where the zone says nothing"),
    ],
)
def test_the_country_is_that_of_the_zone_else_of_the_money(zone, currency, country):
    assert country_of(zone, currency) == country


def test_two_megabytes_are_refused_before_they_are_read():
    began = time.process_time()
    with pytest.raises(MessageTooLong, match=r"read up to 20,000 characters; this one has 2,000,000"):
        values("x" * 2_000_000, "name")
    assert time.process_time() - began < 0.5


PATTERNS = [
    pytest.param(pattern, id=f"{module.__name__.rsplit('.', 1)[1]}{name}")
    for module in (colours, dates, envelope, measures, people, places, times)
    for name, pattern in vars(module).items()
    if isinstance(pattern, re.Pattern)
]
REPEATED = [
    "1", "1 ", "12/", "1-", "(1) ", "+1 ", "0 0", "a ", "A ", "Aa ", "at A", "at Aa, ", "in a ", "7 Aa St, ",
    "the 1st ", "£1 ", "1,000", "thanks ", "sat ", "next ", "monday ", "1ft ", "1'", "\n", "Aa\nAa ", "> ",
    "From: ", "a@a.", "no ", "budget ", "half ", "under ", " ", "\t", "-", "@", "\x00",
]  # fmt: skip


@pytest.mark.parametrize("pattern", PATTERNS)
def test_no_message_keeps_a_pattern_busy(pattern):
    """The most that is read takes no time to speak of, and more than twice as much hardly any."""

    def seconds(text: str) -> float:
        # Of this process alone: others may be at work on the same machine.
        began = time.process_time()
        for _ in pattern.finditer(text):
            pass
        return time.process_time() - began

    for part in REPEATED:
        text = (part * (50_000 // len(part) + 1))[:50_000]
        if seconds(text) > 0.05:
            assert min(seconds(text) for _ in range(3)) < 0.15, repr(part)
            assert min(seconds(text[:LONGEST]) for _ in range(3)) < 0.05, repr(part)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.sampled_from([*REPEATED, "Ines", "12 Dec", "2pm", "£300", "barn", "\n\n", "é", "🎈"]), max_size=60))
def test_whatever_is_pasted_is_read(parts):
    text = "".join(parts)
    for one in read_message(text, today=MONDAY, measures="imperial", country="US", palette=RATES.PALETTE):
        assert one.value and text[one.start : one.end]


@pytest.mark.parametrize("part", REPEATED)
def test_the_longest_message_is_read_while_somebody_waits(part):
    text = (part * (LONGEST // len(part) + 1))[:LONGEST]
    began = time.process_time()
    values(text, "name")
    assert time.process_time() - began < 2
