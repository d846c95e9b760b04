"""The client's yes, sent from their page."""

import datetime as dt
import uuid

import pytest
from django.conf import settings
from django.test import Client as Browser
from django.urls import reverse
from django.utils import timezone

from bookings.actions import acceptance
from bookings.forms import AcceptForm
from bookings.models import Acceptance, AmountDue, Booking, HistoryEntry
from stock import actions as stock
from stock.models import Reservation
from studio.models import Studio, Submission
from tests.factories import BookingFactory, QuoteFactory, QuoteMaterialFactory, QuotePieceFactory, token_of

SPOKEN_FOR = {"name": "Ines Vale", "agreed": "on"}


@pytest.fixture
def quote(db):
    today = timezone.localdate()
    made = QuoteFactory(
        number=7,
        version=2,
        valid_until=today + dt.timedelta(days=14),
        needed_on=today + dt.timedelta(days=30),
        booking=BookingFactory(stage=Booking.Stage.QUOTED, event_on=today + dt.timedelta(days=31), title="Winter gala"),
    )
    QuotePieceFactory(quote=made, position=0)
    QuoteMaterialFactory(quote=made, needed=100, spares=6)
    QuoteMaterialFactory(quote=made, needed=40, spares=3)
    return made


def page_path(quote):
    return reverse("bookings:client", args=[token_of(quote)])


def send(browser, quote, fields=None, *, key=None, **more):
    sent = {"form_key": str(key or uuid.uuid4())} | (SPOKEN_FOR if fields is None else fields)
    return browser.post(reverse("bookings:client-accept", args=[token_of(quote)]), sent, **more)


def receipt(browser, quote):
    return browser.get(page_path(quote)).content.decode()


def nothing_happened(quote):
    quote.booking.refresh_from_db()
    return not (
        Acceptance.objects.exists()
        or AmountDue.objects.exists()
        or HistoryEntry.objects.exists()
        or Reservation.objects.exists()
        or Submission.objects.exists()
        or quote.booking.stage == Booking.Stage.BOOKED
    )


def test_the_form_on_the_page_is_the_one_that_is_taken(client, quote):
    html = receipt(client, quote)
    assert f'action="{reverse("bookings:client-accept", args=[token_of(quote)])}#accept"' in html
    for field in ('name="name"', 'name="agreed"', 'name="form_key"', 'name="csrfmiddlewaretoken"'):
        assert field in html


def test_a_yes_books_the_job(client, quote):
    assert send(client, quote).status_code == 302
    quote.booking.refresh_from_db()
    assert quote.booking.stage == Booking.Stage.BOOKED
    assert quote.booking.needed_on == quote.needed_on


def test_a_yes_holds_needed_and_spares_firmly_for_the_prep_day(client, quote):
    send(client, quote)
    held = Reservation.objects.filter(closed_at=None).values_list("item_id", "quantity", "needed_on", "firm", "booking")
    assert sorted(held) == sorted(
        (line.item_id, line.needed + line.spares, quote.needed_on, True, quote.booking_id)
        for line in quote.materials.all()
    )


def test_a_yes_makes_the_deposit_due_today(client, quote):
    send(client, quote)
    due = AmountDue.objects.get(kind="deposit")
    assert (due.kind, due.amount_minor, due.due_on, due.booking_id, due.quote_id) == (
        "deposit",
        62_000,
        timezone.localdate(),
        quote.booking_id,
        quote.pk,
    )


def test_a_yes_is_kept_with_its_name_moment_address_and_browser(client, quote):
    before = timezone.now()
    send(client, quote, REMOTE_ADDR="203.0.113.7", HTTP_USER_AGENT="A phone " * 60)
    kept = Acceptance.objects.get()
    assert (kept.quote_id, kept.name, kept.address) == (quote.pk, "Ines Vale", "203.0.113.7")
    assert kept.browser == ("A phone " * 60)[:300]
    assert before <= kept.at <= timezone.now()


def test_a_yes_by_way_of_a_socket_has_no_address(client, quote):
    send(client, quote, REMOTE_ADDR="unix:")
    assert Acceptance.objects.get().address is None


def test_a_yes_is_in_the_bookings_story_without_an_amount(client, quote):
    send(client, quote)
    entry = HistoryEntry.objects.get()
    assert entry.what == "Quote 7, version 2 accepted by Ines Vale."
    assert entry.by is None


def test_after_the_yes_the_page_is_a_receipt(client, quote):
    answer = send(client, quote)
    assert answer.headers["Location"] == "../"
    html = receipt(client, quote)
    assert "You said yes" in html
    assert "<bdi>Ines Vale</bdi>" in html
    assert "Deposit of $620.00, due" in html
    assert "What happens next" in html
    assert "/accept/" not in html
    assert "Download the PDF" in html


def test_the_receipt_says_when_in_the_studios_own_zone(client, quote):
    Studio.objects.create(pk=1, time_zone="Asia/Kathmandu")
    moment = dt.datetime(2026, 3, 1, 20, 30, tzinfo=dt.UTC)
    Acceptance.objects.create(quote=quote, name="Ines", at=moment)
    assert "on Monday 2 March 2026 at 02:15" in receipt(client, quote)


def test_a_receipt_says_when_the_booking_was_cancelled_since(client, quote):
    send(client, quote)
    Booking.objects.update(stage=Booking.Stage.CANCELLED)
    AmountDue.objects.update(void_at=timezone.now())
    html = receipt(client, quote)
    assert "has been cancelled since" in html
    assert "Deposit of" not in html


def test_a_receipt_leads_on_to_a_newer_version(client, quote):
    send(client, quote)
    type(quote).objects.filter(pk=quote.pk).update(replaced_at=timezone.now())
    newer = QuoteFactory(booking=quote.booking, number=7, version=3, valid_until=quote.valid_until)
    html = receipt(client, quote)
    assert "You said yes" in html
    assert page_path(newer) in html


def counts():
    return [model.objects.count() for model in (Acceptance, AmountDue, HistoryEntry, Reservation)]


def test_the_same_form_twice_is_one_yes(client, quote):
    key = uuid.uuid4()
    answers = [send(client, quote, key=key) for _ in range(2)]
    assert [answer.status_code for answer in answers] == [302, 302]
    assert answers[0].headers["Location"] == answers[1].headers["Location"]
    assert counts() == [1, 2, 1, 2]


def test_two_devices_are_one_yes_and_the_first_name_stands(quote):
    first, second = Browser(), Browser()
    send(first, quote)
    answer = send(second, quote, {"name": "Somebody else", "agreed": "on"})
    assert answer.headers["Location"] == "../"
    assert receipt(second, quote).count("<bdi>Ines Vale</bdi>") == 1
    assert "Somebody else" not in receipt(second, quote)
    assert counts() == [1, 2, 1, 2]


def test_going_back_and_sending_the_form_with_another_name_shows_the_receipt(client, quote):
    key = uuid.uuid4()
    send(client, quote, key=key)
    answer = send(client, quote, {"name": "Ines V.", "agreed": "on"}, key=key)
    assert answer.headers["Location"] == "../"
    assert Acceptance.objects.get().name == "Ines Vale"


def test_opening_the_address_the_form_is_sent_to_leads_back_to_the_quote(client, quote):
    answer = client.get(reverse("bookings:client-accept", args=[token_of(quote)]))
    assert (answer.status_code, answer.headers["Location"]) == (302, "../")
    assert nothing_happened(quote)


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        pytest.param({"name": "", "agreed": "on"}, "Type your name to accept.", id="no name"),
        pytest.param({"name": "   ", "agreed": "on"}, "Type your name to accept.", id="only spaces"),
        pytest.param({"name": "Ines Vale"}, "Tick that you have read the terms.", id="not ticked"),
        pytest.param({"name": "x" * 5_000, "agreed": "on"}, "at most 120 characters (it has 5000)", id="5,000 letters"),
        pytest.param({"name": "Ines\x00", "agreed": "on"}, "Null characters are not allowed", id="a null"),
    ],
)
def test_a_form_with_a_mistake_is_shown_again_with_what_is_wrong(client, quote, fields, said):
    answer = send(client, quote, fields)
    assert answer.status_code == 422
    assert said in answer.content.decode()
    assert nothing_happened(quote)


def test_what_was_typed_and_the_forms_key_are_kept_when_it_is_shown_again(client, quote):
    key = uuid.uuid4()
    html = send(client, quote, {"name": "Ines Vale"}, key=key).content.decode()
    assert 'value="Ines Vale"' in html
    assert f'value="{key}"' in html


@pytest.mark.parametrize(
    "name",
    [
        pytest.param("🎈 Ines 🎉", id="emoji"),
        pytest.param("אינס ואלה", id="right to left"),
        pytest.param("\u202eselaV senI", id="turned round"),
        pytest.param("<script>alert(1)</script>", id="markup"),
        pytest.param("O'Vale & “Sons”", id="marks"),
        pytest.param("x" * 120, id="as long as may be"),
    ],
)
def test_any_name_is_kept_as_it_was_typed_and_shown_as_words(client, quote, name):
    send(client, quote, {"name": name, "agreed": "on"})
    assert Acceptance.objects.get().name == name
    html = receipt(client, quote)
    escaped = name.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;").replace("'", "&#x27;")
    assert f"<bdi>{escaped}</bdi>" in html
    assert "<script>alert" not in html


@pytest.mark.parametrize(
    ("change", "status", "said"),
    [
        pytest.param({"withdrawn_at": timezone.now()}, 410, "taken this quote back", id="withdrawn"),
        pytest.param({"replaced_at": timezone.now()}, 410, "newer version", id="replaced"),
        pytest.param({"booking__stage": Booking.Stage.LOST}, 410, "closed", id="ended"),
        pytest.param({"valid_until": dt.date(2020, 1, 1)}, 422, "This quote has run out", id="expired"),
    ],
)
def test_a_quote_that_is_not_open_is_not_accepted(client, db, change, status, said):
    quote = QuoteFactory(**{"valid_until": timezone.localdate() + dt.timedelta(days=3)} | change)
    QuoteMaterialFactory(quote=quote)
    answer = send(client, quote)
    assert answer.status_code == status
    assert said in answer.content.decode()
    assert nothing_happened(quote)


def test_a_quote_taken_back_while_the_form_was_on_its_way_is_not_accepted(client, quote, monkeypatch):
    checked = AcceptForm.is_valid

    def taken_back_meanwhile(form):
        type(quote).objects.filter(pk=quote.pk).update(withdrawn_at=timezone.now())
        return checked(form)

    monkeypatch.setattr(AcceptForm, "is_valid", taken_back_meanwhile)
    answer = send(client, quote)
    assert answer.status_code == 410
    assert "taken this quote back" in answer.content.decode()
    assert nothing_happened(quote)


def test_the_last_day_is_still_open(client, db):
    quote = QuoteFactory(valid_until=timezone.localdate())
    assert send(client, quote).status_code == 302
    assert Acceptance.objects.exists()


def test_if_the_shelf_cannot_hold_it_nothing_is_stored(quote, monkeypatch):
    def fails(**_):
        raise RuntimeError("the shelf fell over")

    monkeypatch.setattr(stock, "reserve", fails)
    browser = Browser(raise_request_exception=False)
    assert send(browser, quote).status_code == 500
    assert nothing_happened(quote)


def test_if_the_story_cannot_be_written_nothing_is_stored(quote, monkeypatch):
    def fails(*_, **__):
        raise RuntimeError("out of ink")

    monkeypatch.setattr(acceptance, "write_history", fails)
    assert send(Browser(raise_request_exception=False), quote).status_code == 500
    assert nothing_happened(quote)


def strict_form(quote):
    """A browser that is held to its form's token, and the token."""
    browser = Browser(enforce_csrf_checks=True)
    browser.get(page_path(quote))
    return browser, {**SPOKEN_FOR, "csrfmiddlewaretoken": browser.cookies[settings.CSRF_COOKIE_NAME].value}


@pytest.mark.parametrize(
    "headers",
    [
        pytest.param({"HTTP_ORIGIN": "null"}, id="as a browser says it on a page without referrer"),
        pytest.param({"HTTP_ORIGIN": "http://testserver"}, id="our own origin"),
        pytest.param({}, id="no origin"),
        pytest.param(
            {"HTTP_ORIGIN": "null", "secure": True}, id="as a browser says it over https, where a referrer is missed"
        ),
    ],
)
def test_our_own_form_is_taken(quote, headers):
    browser, fields = strict_form(quote)
    assert send(browser, quote, fields, **headers).status_code == 302
    assert Acceptance.objects.exists()


@pytest.mark.parametrize(
    ("with_token", "headers"),
    [
        pytest.param(False, {}, id="no token"),
        pytest.param(False, {"HTTP_ORIGIN": "null"}, id="hidden origin, no token"),
        pytest.param(True, {"HTTP_ORIGIN": "https://elsewhere.example"}, id="another site"),
    ],
)
def test_a_form_of_another_site_is_refused_kindly(quote, with_token, headers):
    browser, fields = strict_form(quote)
    answer = send(browser, quote, fields if with_token else SPOKEN_FOR, **headers)
    assert answer.status_code == 403
    assert "Your yes has not reached us" in answer.content.decode()
    assert nothing_happened(quote)
