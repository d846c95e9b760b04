"""Logging an enquiry, the list, and one job on one page."""

import datetime as dt

import pytest
from django.urls import reverse
from django.utils import timezone

from bookings.models import Booking, Client
from tests.factories import BookingFactory, ClientFactory, ColourFactory, ItemFactory, UserFactory
from tests.opened import send_opened

ENQUIRY = reverse("bookings:enquiry")
KEY = "5b0c7c70-9f0a-4a0e-8f50-0d1c3c1f3a10"


def typed(**fields: str) -> dict[str, str]:
    """The enquiry form as it is sent."""
    blank = dict.fromkeys(("name", "phone", "email", "event_on", "date_text", "place", "wants", "budget"), "")
    return blank | {"form_key": KEY} | fields


def soon(days: int = 30) -> dt.date:
    return timezone.localdate() + dt.timedelta(days=days)


@pytest.mark.parametrize(
    "fields",
    [
        pytest.param({"name": "Ines"}, id="only a name"),
        pytest.param({"phone": "555-0142"}, id="only a phone"),
        pytest.param({"email": "ines@filmsociety.example"}, id="only an e-mail"),
        pytest.param({"name": "🎈 Ines"}, id="emoji"),
        pytest.param({"name": "שרה לוי"}, id="right to left"),
        pytest.param({"name": "Ines", "date_text": "mid June"}, id="fuzzy date"),
        pytest.param({"name": "<script>alert(1)</script>"}, id="script tag"),
    ],
)
def test_an_enquiry_needs_a_name_or_a_contact_and_nothing_more(owner_client, fields):
    answer = owner_client.post(ENQUIRY, typed(**fields))
    booking = Booking.objects.get()
    assert answer.headers["Location"] == reverse("bookings:detail", args=[booking.pk])


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        pytest.param({}, "Give a name, a phone number or an e-mail address", id="nothing"),
        pytest.param({"email": "not an address"}, "Enter a valid email address", id="e-mail"),
        pytest.param({"name": "x" * 5000}, "at most 120 characters (it has 5000)", id="5,000 characters"),
        pytest.param({"name": "Ines", "event_on": "2020-05-03"}, "3 May 2020 has gone by", id="past date"),
        pytest.param({"name": "Ines", "event_on": "soon"}, "Enter a valid date", id="no date"),
        pytest.param({"name": "Ines\x00"}, "Null characters are not allowed", id="null"),
        pytest.param({"name": "Ines", "wants": "x" * 5000}, "at most 4000 characters", id="long wish"),
    ],
)
def test_what_is_wrong_is_said_and_nothing_is_kept(owner_client, fields, said):
    answer = owner_client.post(ENQUIRY, typed(**fields))
    assert (answer.status_code, Booking.objects.count()) == (422, 0)
    assert said in answer.content.decode()


def test_what_was_typed_is_still_there_after_an_error(owner_client):
    answer = owner_client.post(ENQUIRY, typed(email="ines at home", wants="A curtain of ink and sand"))
    page = answer.content.decode()
    assert "ines at home" in page
    assert "A curtain of ink and sand" in page


def test_a_second_tap_logs_nothing_a_second_time(owner_client):
    first = owner_client.post(ENQUIRY, typed(name="Ines"))
    second = owner_client.post(ENQUIRY, typed(name="Ines"))
    assert first.headers["Location"] == second.headers["Location"]
    assert (Booking.objects.count(), Client.objects.count()) == (1, 1)


@pytest.mark.parametrize(
    ("field", "attributes"),
    [
        ("phone", ['type="tel"', 'autocomplete="tel"']),
        ("email", ['type="email"', 'autocomplete="email"']),
        ("event_on", ['type="date"']),
        ("name", ['autocomplete="name"']),
        ("budget", ['inputmode="decimal"']),
    ],
)
def test_each_field_asks_for_its_own_keyboard(owner_client, field, attributes):
    page = owner_client.get(ENQUIRY).content.decode()
    tag = next(part for part in page.split("<input") if f'name="{field}"' in part).split(">")[0]
    assert all(attribute in tag for attribute in attributes)


def test_script_in_a_name_is_shown_as_text(owner_client):
    booking = BookingFactory(client=ClientFactory(name="<script>alert(1)</script>"))
    page = owner_client.get(reverse("bookings:detail", args=[booking.pk])).content.decode()
    assert "&lt;script&gt;alert(1)&lt;/script&gt;" in page
    assert "<script>alert(1)" not in page


def test_a_budget_is_not_for_crew(crew_client):
    booking = BookingFactory(budget="79,193.70")
    assert "79,193" not in crew_client.get(reverse("bookings:detail", args=[booking.pk])).content.decode()


def test_an_unknown_booking_is_not_found(owner_client):
    assert owner_client.get(reverse("bookings:detail", args=[404])).status_code == 404


def test_editing_says_that_prep_comes_first(owner_client):
    booking = BookingFactory(event_on=soon())
    fields = typed(
        name="Ines", event_on=str(soon()), needed_on=str(soon(40)), distance="0", travel_minutes="0", crew="1"
    )
    answer = send_opened(owner_client, reverse("bookings:edit", args=[booking.pk]), fields)
    assert answer.status_code == 422
    assert "The prep day must be no later than the event" in answer.content.decode()


@pytest.mark.parametrize(("field", "value"), [("crew", "0"), ("crew", "-3"), ("distance", "999999"), ("crew", "1e309")])
def test_figures_beyond_reason_are_refused(owner_client, field, value):
    booking = BookingFactory()
    fields = typed(name="Ines", distance="0", travel_minutes="0", crew="1") | {field: value}
    answer = send_opened(owner_client, reverse("bookings:edit", args=[booking.pk]), fields)
    assert answer.status_code == 422


@pytest.mark.parametrize(
    ("search", "finds"),
    [("ines", True), ("corn", True), ("gala ines", True), ("harlow", False), ("%", False), ("9" * 40, False)],
)
def test_the_list_finds_by_title_client_and_place(owner_client, search, finds):
    BookingFactory(title="Winter gala", place="Corn Hall", client=ClientFactory(name="Ines Aldana"))
    page = owner_client.get(reverse("bookings:list"), {"q": search}).content.decode()
    assert ("Winter gala" in page) is finds


def test_the_list_answers_htmx_with_its_rows_alone(owner_client):
    BookingFactory(title="Winter gala")
    page = owner_client.get(reverse("bookings:list"), headers={"HX-Request": "true"}).content.decode()
    assert "Winter gala" in page
    assert "<html" not in page


@pytest.mark.parametrize("number", [3, 120])
def test_the_list_asks_the_same_few_queries_however_long_it_is(owner_client, django_assert_max_num_queries, number):
    user = UserFactory()
    for n in range(number):
        BookingFactory(title=f"Job {n}", event_on=soon(n), created_by=user)
    # Session, user, studio, count, one page of bookings with their clients.
    with django_assert_max_num_queries(5):
        owner_client.get(reverse("bookings:list"))


@pytest.mark.parametrize("colours", [1, 30])
def test_a_job_asks_the_same_few_queries_however_much_is_on_the_shelf(
    owner_client, priced, issue, django_assert_max_num_queries, colours
):
    issue(priced)
    for _ in range(colours):
        ColourFactory()
    with django_assert_max_num_queries(20):
        owner_client.get(reverse("bookings:detail", args=[priced.pk]))


def test_a_booked_job_is_cancelled_from_its_page(owner_client, priced, issue, say_yes):
    say_yes(issue(priced))
    page = owner_client.post(
        reverse("bookings:cancel", args=[priced.pk]), {"form_key": KEY, "why": "rain"}, follow=True
    )
    priced.refresh_from_db()
    assert priced.stage == "cancelled"
    assert "What it held is free again" in page.content.decode()


def test_cancelling_a_second_time_says_why_not(owner_client, priced):
    page = owner_client.post(reverse("bookings:cancel", args=[priced.pk]), {"form_key": KEY, "why": ""}, follow=True)
    assert "Not done: This is enquiry" in page.content.decode()


def test_a_thing_off_the_shelf_is_no_colour(owner_client, owner, priced):
    """An item's number may be a colour's number, or no colour's at all."""
    piece = priced.pieces.get()
    stand = ItemFactory(pk=90_210, sort="other", name="Stand", colour=None, size=None)
    piece.spec["extras"] = [[str(stand.pk), 2]]
    piece.save(update_fields=["spec"])
    page = owner_client.get(reverse("bookings:detail", args=[priced.pk]))
    assert (page.status_code, "Stand" in page.content.decode()) == (200, True)
