"""The kit of one job: promised on its page, moved and let go with it, taken out and brought back."""

import datetime as dt
import re
from uuid import uuid4

import pytest
from django.urls import reverse
from django.utils import timezone

from bookings import actions
from bookings.actions.kit import promise_kit
from bookings.models import Booking
from bookings.queries.kit import kit_days
from stock import actions as stock
from stock.actions import KitRefusal
from stock.models import KitPromise
from tests.factories import NOON, TODAY, BookingFactory, KitFactory, KitPromiseFactory

pytestmark = pytest.mark.django_db
EVENT = TODAY + dt.timedelta(days=20)
PREP, AFTER = EVENT - dt.timedelta(days=1), EVENT + dt.timedelta(days=1)
LATER = EVENT + dt.timedelta(days=3)


@pytest.fixture
def now(monkeypatch, noon):
    """The moment the pages are asked at."""
    monkeypatch.setattr(timezone, "now", lambda: noon)
    return noon


@pytest.fixture
def gala(owner, now) -> Booking:
    """A booked job with a day."""
    return BookingFactory(title="Winter gala", stage="booked", event_on=EVENT, needed_on=PREP, created_by=owner)


def seen(response) -> str:
    """The page as somebody reads it."""
    return " ".join(re.sub(r"<[^>]+>", " ", response.content.decode()).split())


def page_of(booking: Booking) -> str:
    return reverse("bookings:kit", args=[booking.pk])


def send(browser, name: str, *keys: int, **fields: object):
    return browser.post(reverse(f"bookings:{name}", args=keys), {"form_key": str(uuid4())} | fields, follow=True)


def asked(kit, **fields: object) -> dict[str, object]:
    return {"kit": kit.pk, "quantity": "1", "out_on": str(PREP), "back_on": str(AFTER)} | fields


def give(booking, owner, kit, *, out=PREP, back=AFTER, quantity=1) -> KitPromise:
    return promise_kit(booking=booking, kit=kit, quantity=quantity, out_on=out, back_on=back, by=owner, at=NOON)


# --- the usual days -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("fields", "days"),
    [
        pytest.param({"event_on": EVENT}, (PREP, AFTER), id="out on the prep day, back the day after the event"),
        pytest.param({"event_on": EVENT, "needed_on": TODAY}, (TODAY, AFTER), id="a prep day of its own"),
        pytest.param({"needed_on": PREP}, (PREP, EVENT), id="a prep day alone"),
        pytest.param({"event_on": EVENT, "strike_on": EVENT}, (PREP, EVENT), id="struck on the night"),
        pytest.param({"event_on": EVENT, "strike_on": LATER}, (PREP, LATER), id="struck days later"),
        pytest.param({"needed_on": AFTER, "strike_on": PREP}, (AFTER, AFTER), id="never back before it went out"),
        pytest.param({}, None, id="no day yet"),
    ],
)
def test_the_usual_days_of_kit(fields, days):
    assert kit_days(Booking(**fields)) == days


# --- who may --------------------------------------------------------------------------------------------------------


def test_a_stranger_is_sent_to_sign_in(client, gala):
    assert client.get(page_of(gala)).url.startswith(reverse("login"))


def test_crew_see_the_kit_and_promise_none(crew_client, gala, owner):
    frame = KitFactory(name="Arch frame")
    give(gala, owner, frame)
    page = seen(crew_client.get(page_of(gala)))
    assert "Arch frame" in page
    assert "Promise kit" not in page
    assert send(crew_client, "kit-promise", gala.pk, **asked(frame)).status_code == 403
    assert send(crew_client, "kit-let-go", gala.pk, frame.pk).status_code == 403


# --- promising ------------------------------------------------------------------------------------------------------


def test_the_page_offers_the_usual_days(owner_client, gala):
    KitFactory()
    form = owner_client.get(page_of(gala)).content.decode()
    assert f'name="out_on" value="{PREP}"' in form
    assert f'name="back_on" value="{AFTER}"' in form


def test_a_change_begins_with_what_was_promised(owner_client, gala, owner):
    plates = KitFactory(owned=9)
    give(gala, owner, plates, quantity=4, back=EVENT)
    form = owner_client.get(page_of(gala) + f"?kit={plates.pk}").content.decode()
    assert f'name="back_on" value="{EVENT}"' in form
    assert 'name="quantity" value="4"' in form


@pytest.mark.parametrize("asked_for", ["x", "99999999999999999999", "²", ""])
def test_asking_to_change_nonsense_shows_the_usual_days(owner_client, gala, asked_for):
    KitFactory()
    assert f'value="{PREP}"' in owner_client.get(page_of(gala), {"kit": asked_for}).content.decode()


def test_kit_is_promised_to_a_booked_job_firmly_and_told_in_its_story(owner_client, gala):
    frame = KitFactory(name="Arch frame")
    page = seen(send(owner_client, "kit-promise", gala.pk, **asked(frame)))
    assert "1 Arch frame promised to this job." in page
    made = KitPromise.objects.get()
    assert (made.booking, made.booking_name, made.firm, made.out_on) == (gala.pk, "Winter gala", True, PREP)
    assert gala.history.get().what == "Kit promised: 1 Arch frame, 20 Jun to 22 Jun."


def test_a_second_promise_of_one_frame_is_taken_and_told(owner_client, owner, gala):
    frame = KitFactory(name="Arch frame")
    other = BookingFactory(title="Ferry office", stage="booked", event_on=EVENT, needed_on=PREP, created_by=owner)
    give(other, owner, frame)
    page = seen(send(owner_client, "kit-promise", gala.pk, **asked(frame)))
    assert "Arch frame is promised twice from Sat 20 to Mon 22 Jun: Ferry office and Winter gala." in page
    assert "short 1" in page
    assert "Free for as long from Tue 23 Jun." in page
    first = seen(owner_client.get(reverse("bookings:detail", args=[other.pk])))
    assert "promised twice" in first
    assert "short 1" not in first


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        pytest.param({"kit": ""}, "Kit is needed; nothing was chosen.", id="no kit"),
        pytest.param({"kit": "9999"}, "Kit must be one that is listed", id="kit that is not there"),
        pytest.param({"quantity": "0"}, "How many must be a whole number from 1", id="none of it"),
        pytest.param({"out_on": ""}, "Out on is needed; nothing was typed.", id="no day"),
        pytest.param({"back_on": "2026-06-01"}, "Back on must be on or after 2026-06-20", id="back before it goes out"),
        pytest.param({"back_on": "2028-06-01"}, "within a year", id="away for years"),
        pytest.param({"back_on": "soon"}, "Back on must be a day such as", id="no day at all"),
    ],
)
def test_a_promise_that_makes_no_sense_is_said_and_nothing_typed_is_lost(owner_client, gala, fields, words):
    frame = KitFactory()
    response = send(owner_client, "kit-promise", gala.pk, **asked(frame, quantity="3") | fields)
    assert response.status_code == 422
    assert words in seen(response)
    assert fields.get("out_on", str(PREP)) in response.content.decode()
    assert not KitPromise.objects.exists()


def test_retired_kit_is_refused_in_words(owner_client, owner, gala):
    pump = KitFactory(name="Pump")
    stock.retire_kit(kit=pump, today=TODAY, by=owner, at=NOON)
    response = send(owner_client, "kit-promise", gala.pk, **asked(pump))
    assert response.status_code == 422
    assert "Pump is retired" in seen(response)


@pytest.mark.parametrize("stage", ["done", "lost", "cancelled"])
def test_a_job_that_is_over_gets_no_kit(owner, stage):
    job = BookingFactory(stage=stage, event_on=EVENT, created_by=owner)
    with pytest.raises(KitRefusal, match=f"it is {stage}"):
        give(job, owner, KitFactory())


def test_kit_is_let_go_once(owner_client, owner, gala):
    frame = KitFactory(name="Arch frame")
    give(gala, owner, frame)
    assert "Arch frame is let go." in seen(send(owner_client, "kit-let-go", gala.pk, frame.pk))
    assert "none of it waits for this job" in seen(send(owner_client, "kit-let-go", gala.pk, frame.pk))


# --- with the life of the job ---------------------------------------------------------------------------------------


def test_a_cancelled_job_lets_its_kit_go(owner, gala):
    give(gala, owner, KitFactory())
    actions.cancel_booking(booking=gala, why="", by=owner, at=NOON)
    assert not KitPromise.objects.standing().exists()


def test_a_lost_job_lets_its_kit_go(owner, now):
    job = BookingFactory(stage="quoted", event_on=EVENT, created_by=owner)
    give(job, owner, KitFactory())
    actions.lose_booking(booking=job, why="", by=owner, at=NOON)
    assert not KitPromise.objects.standing().exists()


def test_kit_of_an_enquiry_is_firm_once_the_client_says_yes(owner, priced, issue, say_yes):
    assert not give(priced, owner, KitFactory()).firm
    say_yes(issue(priced))
    assert KitPromise.objects.get().firm


def test_kit_moves_with_the_day_of_its_job(owner, gala):
    give(gala, owner, KitFactory())
    week = dt.timedelta(days=7)
    job = {"event_on": EVENT + week, "needed_on": PREP + week, "title": "Spring gala"}
    actions.edit_booking(booking=gala, client={}, job=job, by=owner, at=NOON)
    made = KitPromise.objects.get()
    assert (made.out_on, made.back_on, made.booking_name) == (PREP + week, AFTER + week, "Spring gala")


def test_kit_stays_away_until_the_strike(owner, gala):
    give(gala, owner, KitFactory())
    actions.edit_booking(booking=gala, client={}, job={"strike_on": LATER}, by=owner, at=NOON)
    assert KitPromise.objects.get().back_on == LATER


# --- out and back ---------------------------------------------------------------------------------------------------


def test_all_of_it_goes_into_the_van_and_comes_back(crew_client, owner, gala):
    for name in ("Arch frame", "Ladder"):
        give(gala, owner, KitFactory(name=name))
    assert "All of the kit is out." in seen(send(crew_client, "kit-load", gala.pk))
    assert KitPromise.objects.out().count() == 2
    assert "All of the kit is back." in seen(send(crew_client, "kit-unload", gala.pk))
    assert not KitPromise.objects.standing().exists()
    assert "There was nothing left to write down." in seen(send(crew_client, "kit-unload", gala.pk))


def test_what_is_elsewhere_keeps_the_whole_load_back(crew_client, owner, gala):
    frame = KitFactory(name="Arch frame")
    other = KitPromiseFactory(kit=frame, booking=gala.pk + 1000, booking_name="Ferry office")
    stock.take_kit_out(promises=[other.pk], by=owner, at=NOON)
    give(gala, owner, frame)
    give(gala, owner, KitFactory())
    page = seen(send(crew_client, "kit-load", gala.pk))
    assert "Nothing was written. Arch frame has 0 at home" in page
    assert KitPromise.objects.out().count() == 1


def test_the_page_asks_as_much_for_ten_kits_as_for_one(owner_client, owner, gala, django_assert_max_num_queries):
    asked_for = []
    for number in (1, 9):
        for _ in range(number):
            give(gala, owner, KitFactory())
        with django_assert_max_num_queries(12) as found:
            owner_client.get(page_of(gala))
        asked_for.append(len(found))
    assert asked_for[0] == asked_for[1]


def test_what_is_retired_says_so_where_kit_is_chosen(owner_client, owner, gala):
    stock.retire_kit(kit=KitFactory(name="Pump"), today=TODAY, by=owner, at=NOON)
    assert "Pump (retired)" in seen(owner_client.get(page_of(gala)))
