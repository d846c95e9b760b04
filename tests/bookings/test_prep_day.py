"""A plan that begins before the prep day says so, and moves it in one tap with everything that is held for it."""

import datetime as dt
import re
import uuid

import pytest
from django.utils import timezone

from bookings.actions.people import keep_week
from bookings.actions.prep_day import PrepDayRefused, move_prep_day
from bookings.models import Booking, HistoryEntry
from stock.models import KitPromise, Reservation
from stock.queries import cover_board
from tests.bookings.conftest import EVENT
from tests.factories import (
    NOON,
    TODAY,
    BookingFactory,
    ItemFactory,
    KitPromiseFactory,
    MovementFactory,
    OfferFactory,
    ReservationFactory,
)

PREP = EVENT - dt.timedelta(days=1)
BEFORE = EVENT - dt.timedelta(days=2)


@pytest.fixture(autouse=True)
def at_noon(monkeypatch, db):
    monkeypatch.setattr(timezone, "now", lambda: NOON)


@pytest.fixture
def gala(owner, add_garland) -> Booking:
    """A booked garland of more hours than its prep day has; the day before it has room."""
    booking = BookingFactory(
        title="Winter gala", event_on=EVENT, needed_on=PREP, ready_by=dt.time(14), created_by=owner
    )
    add_garland(booking, feet=60)
    Booking.objects.filter(pk=booking.pk).update(stage="booked")
    booking.refresh_from_db()
    keep_week(person=owner, week=[180] * 7, by=owner, at=NOON)
    return booking


def words(browser, page: str = "/plan/") -> str:
    return " ".join(re.sub(r"<[^>]+>", " ", browser.get(page).content.decode()).split())


def sent(**given: dt.date) -> dict[str, str]:
    return {"form_key": str(uuid.uuid4())} | {name: day.isoformat() for name, day in given.items()}


def test_beginning_before_the_prep_day_is_said_and_offered(owner_client, gala):
    for page in ("/plan/", f"/bookings/{gala.pk}/plan/"):
        shown = words(owner_client, page)
        assert "Prep of Winter gala begins on Fri 19 Jun, and the shelf holds its balloons for Sat 20 Jun." in shown
        assert "Move the prep day to Fri 19 Jun" in shown


def test_crew_reads_it_and_cannot_move_it(crew_client, gala):
    shown = words(crew_client)
    assert "begins on Fri 19 Jun" in shown
    assert "Move the prep day" not in shown
    assert crew_client.post(f"/bookings/{gala.pk}/prep-day/", sent(to=BEFORE, seen=PREP)).status_code == 403


def test_moving_it_takes_everything_that_is_held_with_it(owner_client, gala):
    item = ItemFactory()
    MovementFactory(item=item, quantity=10)
    OfferFactory(item=item, lead_days=4)
    held = ReservationFactory(item=item, quantity=30, needed_on=PREP, booking=gala.pk, booking_name="Winter gala")
    kit = KitPromiseFactory(out_on=PREP, back_on=EVENT + dt.timedelta(days=1), booking=gala.pk)
    owner_client.post(f"/bookings/{gala.pk}/prep-day/", sent(to=BEFORE, seen=PREP))
    gala.refresh_from_db()
    assert gala.needed_on == BEFORE
    assert Reservation.objects.get(pk=held.pk).needed_on == BEFORE
    assert KitPromise.objects.get(pk=kit.pk).out_on == BEFORE
    (row,) = cover_board(TODAY).short_rows
    assert (row.cover.first_empty, row.cover.order_by) == (BEFORE, BEFORE - dt.timedelta(days=4))
    assert HistoryEntry.objects.filter(booking=gala, what="Prep day moved from Sat 20 Jun to Fri 19 Jun.").exists()


def test_once_moved_the_plan_keeps_to_it_and_offers_nothing_more(owner_client, gala):
    owner_client.post(f"/bookings/{gala.pk}/prep-day/", sent(to=BEFORE, seen=PREP))
    shown = words(owner_client)
    assert "All prep of the next 8 weeks fits." in shown
    assert "Move the prep day" not in shown


def test_sending_it_twice_moves_it_once(owner_client, gala):
    form = sent(to=BEFORE, seen=PREP)
    for _ in range(2):
        owner_client.post(f"/bookings/{gala.pk}/prep-day/", form)
    assert HistoryEntry.objects.filter(booking=gala, what__startswith="Prep day moved").count() == 1


@pytest.mark.parametrize(
    ("stage", "to", "seen", "said"),
    [
        pytest.param("booked", BEFORE, BEFORE, "was changed meanwhile, to Sat 20 Jun", id="moved by somebody else"),
        pytest.param("cancelled", BEFORE, PREP, "This job is cancelled", id="cancelled"),
        pytest.param("booked", TODAY - dt.timedelta(days=1), PREP, "today or later (got Sun 31 May)", id="gone by"),
        pytest.param("booked", EVENT + dt.timedelta(days=1), PREP, "no later than Sun 21 Jun", id="after the event"),
    ],
)
def test_a_day_it_cannot_be_moved_to_is_refused(owner, gala, stage, to, seen, said):
    Booking.objects.filter(pk=gala.pk).update(stage=stage)
    with pytest.raises(PrepDayRefused, match=re.escape(said)):
        move_prep_day(booking=gala, to=to, seen=seen, today=TODAY, by=owner, at=NOON)
    gala.refresh_from_db()
    assert gala.needed_on == PREP


def test_what_is_no_day_moves_nothing_and_says_so(owner_client, gala):
    answer = owner_client.post(f"/bookings/{gala.pk}/prep-day/", {"to": "soon", "seen": ""}, follow=True)
    assert "That is no prep day" in answer.content.decode()
    gala.refresh_from_db()
    assert gala.needed_on == PREP
