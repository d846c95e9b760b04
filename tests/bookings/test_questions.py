"""What a client asks on their page, and what the studio answers."""

import datetime as dt
import re
import uuid
from collections.abc import Callable, Iterator

import pytest
from django.db import IntegrityError, transaction
from django.test import Client as Browser
from django.urls import reverse
from django.utils import timezone

from bookings.actions.questions import MOST_A_DAY, MOST_WAITING, AlreadyAnswered, TooManyQuestions, answer, ask
from bookings.models import Booking, HistoryEntry, Question, Quote
from bookings.views.client_link import PRIVATE
from studio.models import Studio
from studio.outbox.queue import Passed, send_waiting
from tests.factories import NOON, TODAY, BookingFactory, ClientFactory, QuoteFactory, QuotePieceFactory, token_of
from tests.mailbox import Mailbox, mail_server

pytestmark = pytest.mark.django_db
HERE = "http://testserver"


@pytest.fixture
def box(settings) -> Iterator[Mailbox]:
    Studio.objects.create(pk=1, name="Tern & Tide Balloons", email="hello@ternandtide.example")
    with mail_server() as box:
        settings.MAIL_SERVER = box.server
        yield box


@pytest.fixture
def quote(owner) -> Quote:
    client = ClientFactory(name="Ines Vale", email="ines@example.org")
    booking = BookingFactory(client=client, title="Winter gala", stage=Booking.Stage.QUOTED)
    made = QuoteFactory(booking=booking, issued_by=owner, valid_until=timezone.localdate() + dt.timedelta(days=9))
    QuotePieceFactory(quote=made, position=0)
    return made


@pytest.fixture
def asked(quote) -> Question:
    return ask(quote=quote, text="Does it fit over the bar?", base=HERE, today=TODAY, at=NOON)


def ask_path(quote: Quote) -> str:
    return reverse("bookings:client-ask", args=[token_of(quote)])


def send(quote: Quote, text: str, *, key: str = "", browser: Browser | None = None):
    return (browser or Browser()).post(ask_path(quote), {"text": text, "form_key": key or str(uuid.uuid4())})


def page_of(quote: Quote) -> str:
    return Browser().get(reverse("bookings:client", args=[token_of(quote)])).content.decode()


def go() -> Passed:
    return send_waiting(now=lambda: timezone.now() + dt.timedelta(seconds=1))


def test_a_question_lands_on_the_booking_the_week_and_the_clients_page(quote, owner_client, box):
    answered = send(quote, "Does it fit over the bar?")
    assert (answered.status_code, answered.headers["Location"]) == (302, "../#questions")
    assert "Does it fit over the bar?" in page_of(quote)
    assert "It has reached us." in page_of(quote)
    detail = owner_client.get(reverse("bookings:detail", args=[quote.booking_id])).content.decode()
    week = owner_client.get(reverse("week")).content.decode()
    assert "Does it fit over the bar?" in detail
    assert "1 question waits" in week
    assert "Does it fit over the bar?" in week


def test_the_studio_is_written_to_without_the_clients_link(quote, box):
    send(quote, "Does it fit over the bar?")
    assert go() == Passed(sent=1)
    found = box.received[0]
    assert found.recipients == ["hello@ternandtide.example"]
    assert found.message["Subject"] == "Ines Vale asks about Winter gala"
    assert "Does it fit over the bar?" in found.text
    assert f"{HERE}{reverse('bookings:detail', args=[quote.booking_id])}" in found.html
    assert token_of(quote) not in found.raw.decode()


def test_an_answer_is_on_the_clients_page_and_in_their_mailbox(asked, quote, owner_client, box):
    path = reverse("bookings:question", args=[asked.pk])
    assert "Does it fit over the bar?" in owner_client.get(path).content.decode()
    done = owner_client.post(path, {"text": "Yes, with 2 ft to spare.", "form_key": str(uuid.uuid4())}, follow=True)
    assert "Answered on the client’s page and mailed." in done.content.decode()
    assert "Yes, with 2 ft to spare." in page_of(quote)
    go()
    found = next(one for one in box.received if one.recipients == ["ines@example.org"])
    assert found.message["Subject"] == "Our answer about Winter gala"
    assert "Does it fit over the bar?" in found.text
    assert "Yes, with 2 ft to spare." in found.text
    assert f"/q/{token_of(quote)}/" in found.text
    assert "question waits" not in owner_client.get(reverse("week")).content.decode()


def test_an_answer_without_an_address_says_that_nothing_was_mailed(asked, owner_client, box):
    client = asked.booking.client
    client.email = ""
    client.save()
    path = reverse("bookings:question", args=[asked.pk])
    page = owner_client.post(path, {"text": "Yes", "form_key": str(uuid.uuid4())}, follow=True).content.decode()
    assert "no e-mail address is known, so nothing was mailed" in page


def test_a_second_answer_is_told_of_the_first_and_kept_on_the_page(asked, owner, owner_client, box):
    answer(question=asked, text="Yes", base=HERE, today=TODAY, by=owner, at=NOON)
    with pytest.raises(AlreadyAnswered, match="Ana has answered this already"):
        answer(question=asked, text="No", base=HERE, today=TODAY, by=owner, at=NOON)
    path = reverse("bookings:question", args=[asked.pk])
    page = owner_client.post(path, {"text": "No, it is too wide", "form_key": str(uuid.uuid4())})
    assert page.status_code == 422
    assert "No, it is too wide" in page.content.decode()
    assert Question.objects.get().answer == "Yes"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        pytest.param("", "Type what you would like to know.", id="nothing"),
        pytest.param("   ", "Type what you would like to know.", id="blanks"),
        pytest.param("x" * 1001, "at most 1000 characters (got 1001)", id="too-long"),
    ],
)
def test_what_asks_nothing_or_too_much_is_refused_and_kept(quote, text, said):
    refused = send(quote, text)
    assert refused.status_code == 422
    assert said in refused.content.decode()
    assert text.strip() in refused.content.decode()
    assert not Question.objects.exists()


def test_a_form_sent_twice_asks_once(quote, box):
    key, browser = str(uuid.uuid4()), Browser()
    assert [send(quote, "Once?", key=key, browser=browser).status_code for _ in range(2)] == [302, 302]
    assert Question.objects.count() == 1


def test_after_five_that_wait_the_client_is_asked_to_call(quote, box):
    for n in range(MOST_WAITING):
        assert send(quote, f"And {n}?").status_code == 302
    refused = send(quote, "And one more?")
    assert refused.status_code == 422
    assert "You have asked 5 things we have not answered yet." in refused.content.decode()
    assert "And one more?" in refused.content.decode()
    assert Question.objects.count() == MOST_WAITING


def test_twenty_in_a_day_are_enough_even_answered(quote, owner, box):
    for n in range(MOST_A_DAY):
        one = ask(quote=quote, text=f"And {n}?", base=HERE, today=TODAY, at=NOON)
        answer(question=one, text="Yes", base=HERE, today=TODAY, by=owner, at=NOON)
    with pytest.raises(TooManyQuestions, match="call us"):
        ask(quote=quote, text="And?", base=HERE, today=TODAY, at=NOON + dt.timedelta(hours=23))
    ask(quote=quote, text="And?", base=HERE, today=TODAY, at=NOON + dt.timedelta(hours=24))


def test_a_client_who_said_yes_can_still_ask(quote, say_yes, box):
    say_yes(quote)
    assert send(quote, "When do you come?").status_code == 302
    assert "When do you come?" in page_of(quote)


def test_a_newer_version_shows_what_was_asked_before(asked, quote, box):
    Quote.objects.filter(pk=quote.pk).update(replaced_at=NOON)
    newer = QuoteFactory(booking=quote.booking, number=quote.number, version=2, valid_until=quote.valid_until)
    assert "Does it fit over the bar?" in page_of(newer)


@pytest.mark.parametrize("change", [{"withdrawn_at": NOON}, {"replaced_at": NOON}])
def test_a_quote_that_is_gone_asks_nothing(quote, change):
    Quote.objects.filter(pk=quote.pk).update(**change)
    assert send(quote, "Hello?").headers["Location"] == "../"
    assert not Question.objects.exists()


def test_a_link_that_leads_nowhere_asks_nothing(db):
    assert Browser().get(reverse("bookings:client-ask", args=["nowhere"])).status_code == 404


def test_every_answer_of_the_asking_page_stays_private(quote, box):
    for found in (Browser().get(ask_path(quote)), send(quote, ""), send(quote, "Really?")):
        assert {name: found.headers[name] for name in PRIVATE} == PRIVATE


def test_a_question_from_another_site_is_refused(quote):
    browser = Browser(enforce_csrf_checks=True)
    refused = browser.post(ask_path(quote), {"text": "Hi", "form_key": str(uuid.uuid4())})
    assert refused.status_code == 403
    assert not Question.objects.exists()


def test_the_answer_kept_with_the_form_holds_no_token(quote, box):
    from studio.models import Submission

    send(quote, "Once?")
    assert token_of(quote) not in repr(list(Submission.objects.values()))


def test_markup_in_a_question_stays_words(quote, owner_client, box):
    send(quote, "<img src=x onerror=alert(1)>")
    for page in (page_of(quote), owner_client.get(reverse("week")).content.decode()):
        assert "<img src=x" not in page
        assert "&lt;img src=x" in page
    go()
    assert "<img" not in box.received[0].html


def test_what_crew_read_of_it_holds_none_of_its_words(quote, crew_client, box):
    send(quote, "Is $7,919.37 with delivery?")
    for path in (reverse("bookings:detail", args=[quote.booking_id]), reverse("week")):
        assert "7,919.37" not in crew_client.get(path).content.decode()
    assert HistoryEntry.objects.filter(what="Ines Vale asked a question.").exists()


@pytest.mark.parametrize(
    "fields", [{"text": ""}, {"answer": "Yes"}, {"answered_at": NOON}, {"answer": "Yes", "answered_at": NOON}]
)
def test_the_database_refuses_half_a_question(quote, fields):
    with pytest.raises(IntegrityError), transaction.atomic():
        Question.objects.create(**{"booking": quote.booking, "quote": quote, "text": "?", "asked_at": NOON} | fields)


def test_the_page_asks_the_database_as_little_for_ten_questions(quote, django_assert_max_num_queries, box):
    count: Callable[[], int] = lambda: len(re.findall("You asked on", page_of(quote)))  # noqa: E731
    with django_assert_max_num_queries(20) as few:
        assert count() == 0
    Question.objects.bulk_create(
        Question(booking=quote.booking, quote=quote, text=f"And {n}?", asked_at=NOON) for n in range(10)
    )
    with django_assert_max_num_queries(len(few)):
        assert count() == 10
