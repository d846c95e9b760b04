"""The Monday mail: what it says, and that it says what the pages do."""

import datetime as dt
import io
import json
import re

import pytest
from django.core.management import CommandError, call_command
from django.urls import reverse

from bookings import actions
from bookings.models import AmountDue, Booking, OnTheJob, Question
from bookings.queries import booking_estimate
from studio import digest as mail
from studio.management.commands import digest as command
from studio.models import OutgoingMail, Studio
from studio.outbox.queue import html_of
from tests.bookings.conftest import garland_spec
from tests.factories import (
    NOON,
    TODAY,
    BookingFactory,
    ClientFactory,
    ColourFactory,
    ItemFactory,
    KitFactory,
    KitPromiseFactory,
    MovementFactory,
    OfferFactory,
    OrderFactory,
    OrderLineFactory,
    QuoteFactory,
    ReservationFactory,
    SupplierFactory,
)

pytestmark = pytest.mark.django_db
DAY = dt.timedelta(days=1)


@pytest.fixture(autouse=True)
def fixed_clock(monkeypatch):
    """It is noon in UTC on the first of June, a Monday."""
    monkeypatch.setattr("django.utils.timezone.now", lambda: NOON)


def run(*words: str) -> str:
    """What is printed."""
    out = io.StringIO()
    call_command("digest", *words, stdout=out)
    return out.getvalue()


def as_json() -> dict:
    """The same, read back."""
    return json.loads(run("--json"))


def lines() -> list[str]:
    """What is printed, line by line."""
    return run().splitlines()


@pytest.fixture
def short_item():
    """128 black 11-inch, 184 promised for the twelfth."""
    item = MovementFactory(item=ItemFactory(colour=ColourFactory(name="Black")), quantity=128).item
    ReservationFactory(item=item, booking=2, booking_name="Film gala", needed_on=TODAY + 11 * DAY, quantity=184)
    return item


def booked(**given) -> Booking:
    """A booked job of this week."""
    usual = {"title": "Ferry office", "needed_on": TODAY + 3 * DAY, "event_on": TODAY + 4 * DAY}
    return BookingFactory(stage=Booking.Stage.BOOKED, **usual | given)


def owes(booking: Booking, kind: str, amount: int, on: dt.date) -> AmountDue:
    """An amount a booking is to pay by a day."""
    return AmountDue.objects.create(
        booking=booking, quote=QuoteFactory(booking=booking), kind=kind, amount_minor=amount, due_on=on
    )


def test_an_empty_studio_has_a_quiet_week():
    assert run() == (
        "The week from Monday 1 June at My studio.\n\n"
        "Nothing runs short: nothing is listed on the shelf yet.\n"
        "Nothing is due, nobody waits for an answer, and no booked job comes in the next 21 days.\n"
    )


def test_json_of_an_empty_studio_has_every_list_and_nothing_in_them():
    found = as_json()
    assert {key: found[key] for key in ("today", "until", "currency")} == {
        "today": "2026-06-01",
        "until": "2026-06-07",
        "currency": "USD",
    }
    assert [value for value in found.values() if isinstance(value, list)] == [[]] * 12


def test_a_covered_shelf_is_said_to_be():
    MovementFactory()
    assert "Nothing runs short: the shelf covers every booked job of the next 8 weeks." in lines()


def test_what_runs_short_is_told_with_whom_it_hits_and_what_to_buy(short_item):
    OfferFactory(item=short_item, supplier=SupplierFactory(name="Pier Paper"), lead_days=3)
    assert lines()[2:5] == [
        "Black 11-inch runs short by 56 on Fri 12 Jun; order by Tue 9 Jun.",
        "  Film gala goes without 56 on Fri 12 Jun.",
        "  Buy 1 bag of 100 by Tue 9 Jun, from Pier Paper.",
    ]


def test_kit_promised_twice_is_told():
    kit = KitFactory(name="Arch frame")
    for booking, name in ((1, "Ferry office"), (2, "Film gala")):
        KitPromiseFactory(kit=kit, booking=booking, booking_name=name)
    assert "Arch frame is promised twice from Thu 11 to Sat 13 Jun: Ferry office and Film gala." in lines()


@pytest.mark.parametrize(
    ("days", "told"),
    [
        pytest.param(-2, "was due on Sat 30 May and is not here: 160 to come.", id="late"),
        pytest.param(0, "is due on Mon 1 Jun: 160 to come.", id="today"),
        pytest.param(6, "is due on Sun 7 Jun: 160 to come.", id="the last day"),
        pytest.param(7, None, id="next week"),
    ],
)
def test_a_placed_order_is_told_until_the_week_ends(days, told):
    order = OrderFactory(
        supplier=SupplierFactory(name="Pier Paper"), state="placed", placed_on=TODAY, expected_on=TODAY + days * DAY
    )
    OrderLineFactory(order=order, packs=2, pack_size=100, received=40)
    found = [line for line in lines() if line.startswith(f"Order {order.pk} from Pier Paper")]
    assert found == ([f"Order {order.pk} from Pier Paper {told}"] if told else [])


def test_an_order_only_planned_is_told_if_it_buys_anything():
    line = OrderLineFactory(order=OrderFactory(supplier=SupplierFactory(name="Pier Paper")))
    OrderFactory(supplier=SupplierFactory(name="Loft Ribbons"))
    assert [told for told in lines() if "planned" in told] == [
        "The order planned with Pier Paper (1 line) is not placed yet."
    ]
    assert as_json()["to_place"] == [{"order": line.order.pk, "supplier": "Pier Paper", "lines": 1}]


def test_an_order_that_is_here_is_not_told():
    OrderLineFactory(order=OrderFactory(state="received", placed_on=TODAY, expected_on=TODAY))
    assert as_json()["orders"] == []


def test_the_prep_of_a_day_is_what_its_jobs_pages_say_together(owner):
    jobs = [booked(created_by=owner), booked(title="Film gala", crew=2, created_by=owner)]
    for job, feet in zip(jobs, (6, 20), strict=True):
        spec = garland_spec(ColourFactory(), feet=feet)
        actions.keep_piece(
            booking=job, piece=None, edition=0, name="Garland", kind="garland", spec=spec, typed={}, by=owner, at=NOON
        )
    estimates = {job.pk: booking_estimate(job, currency="USD") for job in jobs}
    expected = {key: estimate.person_minutes for key, estimate in estimates.items() if estimate is not None}
    (prep,) = as_json()["prep"]
    assert prep["day"] == "2026-06-04"
    assert prep["minutes"] == sum(expected.values()) > 0
    assert {job["booking"]: job["minutes"] for job in prep["jobs"]} == expected


def test_a_booked_job_without_pieces_is_named_among_the_prep():
    booked()
    assert "Thu 4 Jun: 0 min of work. Ferry office, nothing to make yet, 1 person." in lines()


def test_prep_after_the_week_is_not_this_weeks():
    booked(needed_on=TODAY + 7 * DAY, event_on=TODAY + 8 * DAY)
    assert as_json()["prep"] == []


def test_money_past_its_day_and_money_due_this_week_are_told_and_later_money_is_not():
    job = booked(client=ClientFactory(name="Ines Vale"), title="Film gala")
    owes(job, "deposit", 62_000, TODAY - 3 * DAY)
    owes(job, "balance", 72_230, TODAY + 6 * DAY)
    owes(booked(title="Later"), "balance", 10_000, TODAY + 7 * DAY)
    assert [line for line in lines() if "owes" in line] == [
        "Ines Vale owes $1,342.30 for Film gala, since Fri 29 May, $620.00 of it past its day."
    ]


@pytest.mark.parametrize(
    ("days", "when"),
    [
        pytest.param(0, "by Mon 1 Jun", id="due today is not late"),
        pytest.param(-1, "since Sun 31 May", id="due yesterday is"),
    ],
)
def test_what_is_due_today_is_not_late_yet(days, when):
    owes(booked(client=ClientFactory(name="Ines Vale"), title="Film gala"), "deposit", 62_000, TODAY + days * DAY)
    assert f"Ines Vale owes $620.00 for Film gala, {when}." in lines()


def test_a_quote_nobody_answered_and_an_enquiry_nobody_priced_are_told():
    quote = QuoteFactory(booking__client__name="Tobias Renn", booking__stage="quoted", valid_until=TODAY + 2 * DAY)
    BookingFactory(client=ClientFactory(name="Harbour School"), wants="something bright")
    assert f"Quote {quote.number} to Tobias Renn: not opened yet; open 2 more days." in lines()
    assert "Enquiry · Harbour School: something bright; reply." in lines()


def test_a_question_nobody_answered_is_told():
    quote = QuoteFactory(booking__client__name="Tobias Renn", booking__title="Gala")
    Question.objects.create(booking=quote.booking, quote=quote, text="Does it\nlast?", asked_at=NOON)
    assert "Tobias Renn asks about Gala: “Does it last?”" in lines()
    assert as_json()["questions"][0]["booking"] == quote.booking_id


def test_a_day_with_more_on_it_than_it_can_take_is_told():
    for _ in range(9):
        booked()
    found = as_json()["full"]
    assert "2026-06-05" in [clash["day"] for clash in found]
    assert found[0]["sentence"] in lines()


class TestTwoSitesAtOnce:
    @pytest.fixture
    def at_once(self, owner) -> list[Booking]:
        """Two jobs of one person and the one van, ready by the same hour of the same day."""
        jobs = [booked(title=title, ready_by=dt.time(14), created_by=owner) for title in ("Ferry office", "Film gala")]
        for job in jobs:
            OnTheJob.objects.create(booking=job, person=owner)
        return jobs

    def test_a_person_who_is_on_two_sites_is_told_as_the_week_tells_it(self, owner_client, at_once):
        (told,) = [line for line in lines() if "is on two jobs at once" in line]
        assert "Ferry office (out 12:00 to 14:00) and Film gala (out 12:00 to 14:00)" in told
        assert told in [one.sentence for one in owner_client.get(reverse("week")).context["cannot_go"]]
        assert told in [one["sentence"] for one in as_json()["cannot_go"]]

    def test_the_van_on_two_sites_is_told_as_the_week_tells_it(self, owner_client, at_once):
        (told,) = [line for line in lines() if "2 vans needed at once" in line]
        assert told in [one.sentence for one in owner_client.get(reverse("week")).context["full_days"]]
        assert told in [one["sentence"] for one in as_json()["full"]]

    def test_one_after_the_other_is_nobodys_trouble(self, at_once):
        Booking.objects.filter(pk=at_once[1].pk).update(ready_by=dt.time(18))
        assert as_json()["cannot_go"] == []
        assert "Who cannot go" not in lines()


def heads(html: str) -> list[str]:
    return re.findall(r"<h2[^>]*>([^<]*)</h2>", html)


def test_what_each_part_is_of_is_a_heading_in_the_page_and_a_line_in_the_text(owner, short_item):
    type(owner).objects.filter(pk=owner.pk).update(email="ana@port-alder.example")
    booked()
    QuoteFactory()
    call_command("digest", "--mail", stdout=io.StringIO(), stderr=io.StringIO())
    letter = OutgoingMail.objects.get()
    assert heads(html_of(letter)) == ["Prep", "Coming up", "Waiting on someone"]
    assert letter.text == run().rstrip("\n")
    assert "Film gala goes without 56 on Fri 12 Jun." in html_of(letter)


def test_a_letter_to_a_client_has_no_heading():
    mail = OutgoingMail(purpose="quote", subject="Yours", text="Dear Ines\nhere it is.\n\nGoodbye\nMo")
    assert heads(html_of(mail)) == []
    mail.purpose = "digest"
    assert heads(html_of(mail)) == ["Dear Ines", "Goodbye"]


def test_it_is_mailed_to_every_owner_with_an_address_once_a_day(owner, crew):
    type(owner).objects.filter(pk=owner.pk).update(email="ana@port-alder.example")
    type(crew).objects.filter(pk=crew.pk).update(email="bo@port-alder.example")
    for _ in range(2):
        call_command("digest", "--mail", stdout=io.StringIO(), stderr=io.StringIO())
    letter = OutgoingMail.objects.get()
    assert (letter.to_address, letter.purpose) == ("ana@port-alder.example", "digest")
    assert letter.subject == "The week from Monday 1 June at My studio"
    assert "Nothing runs short" in letter.text


def test_where_no_owner_has_an_address_it_goes_to_the_studio(owner):
    Studio.objects.create(pk=1, email="hello@port-alder.example")
    call_command("digest", "--mail", stdout=io.StringIO(), stderr=io.StringIO())
    assert OutgoingMail.objects.get().to_address == "hello@port-alder.example"


def test_where_nobody_has_an_address_it_is_said(owner):
    with pytest.raises(CommandError, match="It was mailed to nobody"):
        call_command("digest", "--mail", stdout=io.StringIO(), stderr=io.StringIO())


def test_json_with_mail_is_json_alone(owner):
    Studio.objects.create(pk=1, email="hello@port-alder.example")
    out = io.StringIO()
    call_command("digest", "--mail", "--json", stdout=out, stderr=io.StringIO())
    assert json.loads(out.getvalue())["today"] == "2026-06-01"


def test_a_long_mail_ends_at_a_line_and_says_that_there_is_more(owner, monkeypatch):
    Studio.objects.create(pk=1, email="hello@port-alder.example")
    monkeypatch.setattr(mail, "MOST_MAILED", 100)
    call_command("digest", "--mail", stdout=io.StringIO(), stderr=io.StringIO())
    assert OutgoingMail.objects.get().text.endswith("\n\nThere is more: This week has all of it.")


def test_the_page_and_the_mail_say_the_same(short_item, owner_client):
    """What the page of the week was given is what the mail was made of."""
    owes(booked(client=ClientFactory(name="Ines Vale"), title="Film gala"), "deposit", 62_000, TODAY - 3 * DAY)
    QuoteFactory(booking__client__name="Tobias Renn")
    page, found = owner_client.get(reverse("week")), as_json()
    given = page.context
    assert [row["item"] for row in found["short"]] == [row.item.pk for row in given["board"].short_rows]
    assert [row["short_by"] for row in found["short"]] == [row.cover.short_by for row in given["board"].short_rows]
    assert [one["title"] for one in found["waiting"]] == [one.title for one in given["waiting"]]
    assert [up["booking"] for up in found["coming"]] == [up.booking.pk for up in given["coming"]]
    assert [one["late"] for one in found["money"] if one["late"]] == [one.late for one in given["late"]] == [62_000]
    assert "$620.00" in page.content.decode()


def test_the_week_begins_on_the_studios_own_day(monkeypatch):
    Studio.objects.create(pk=1, time_zone="Pacific/Auckland")
    monkeypatch.setattr("django.utils.timezone.now", lambda: NOON + dt.timedelta(hours=6))
    assert as_json()["today"] == "2026-06-02"


def test_the_help_names_every_key_of_the_json():
    for key in as_json():
        assert key in command.Command.help


def test_as_many_statements_for_many_jobs_as_for_few_but_for_their_estimates(django_assert_max_num_queries):
    for _ in range(12):
        owes(booked(needed_on=TODAY + 9 * DAY, event_on=TODAY + 10 * DAY), "deposit", 100, TODAY)
        QuoteFactory()
    with django_assert_max_num_queries(32):
        mail.sentences(mail.digest(TODAY, studio=Studio.objects.current()))
