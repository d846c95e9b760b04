"""Letters about a job: written on its page, sent after the commit, received by a real mail server."""

import datetime as dt
import uuid
from collections.abc import Callable, Iterator

import pytest
from django.conf import settings as our_settings
from django.core.management import call_command
from django.test import Client as Browser
from django.urls import reverse
from django.utils import timezone

from bookings.actions.letters import (
    keep_rules,
    keep_words,
    mail_acceptance,
    post_due_reminders,
)
from bookings.models import AmountDue, Booking, HistoryEntry, MailTemplate, MoneyTerms, Quote
from bookings.queries.letters import letter_about
from studio.models import OutgoingMail, Studio
from studio.outbox.queue import Passed, post, send_waiting
from tests.factories import TODAY, BookingFactory, ClientFactory, QuoteFactory, QuotePieceFactory, token_of
from tests.mailbox import Mailbox, Received, mail_server
from tests.opened import send_opened

pytestmark = pytest.mark.django_db
State = OutgoingMail.State
HERE = "http://testserver"


@pytest.fixture
def studio(db) -> Studio:
    return Studio.objects.create(pk=1, name="Tern & Tide Balloons", email="hello@ternandtide.example")


@pytest.fixture
def box(settings, studio) -> Iterator[Mailbox]:
    with mail_server() as box:
        settings.MAIL_SERVER = box.server
        yield box


@pytest.fixture
def quote(studio, owner) -> Quote:
    """An open quote for Ines."""
    client = ClientFactory(name="Ines Vale", email="ines@example.org")
    day = timezone.localdate() + dt.timedelta(days=40)
    booking = BookingFactory(client=client, title="Winter gala", event_on=day, stage=Booking.Stage.QUOTED)
    made = QuoteFactory(booking=booking, issued_by=owner, valid_until=timezone.localdate() + dt.timedelta(days=9))
    QuotePieceFactory(quote=made, position=0)
    return made


def go() -> Passed:
    return send_waiting(now=lambda: timezone.now() + dt.timedelta(seconds=1))


def link_to(quote: Quote) -> str:
    return f"{HERE}{reverse('bookings:client', args=[token_of(quote)])}"


def write_path(quote: Quote, purpose: str) -> str:
    return reverse("bookings:letter-write", args=[quote.booking_id, purpose])


def sent_from(browser: Browser, path: str, **changes: str):
    """Send the letter as the page offers it, with these fields changed."""
    page = browser.get(path)
    assert page.status_code == 200, page.headers
    form = page.context["form"]
    typed = {name: form.initial[name] for name in ("to", "subject", "text")} | {"form_key": str(uuid.uuid4())}
    return browser.post(path, typed | changes)


def only(box: Mailbox) -> Received:
    (found,) = box.received
    return found


def accept(quote: Quote) -> None:
    """The client's yes, on their own page."""
    answer = Browser().post(
        reverse("bookings:client-accept", args=[token_of(quote)]),
        {"name": "Ines Vale", "agreed": "on", "form_key": str(uuid.uuid4())},
    )
    assert answer.status_code == 302, answer.content.decode()


def test_the_quote_is_mailed_with_its_link(owner_client, quote, box):
    answer = sent_from(owner_client, write_path(quote, "quote"))
    assert answer.headers["Location"] == f"{reverse('bookings:detail', args=[quote.booking_id])}#post"
    assert go() == Passed(sent=1)
    found = only(box)
    assert found.recipients == ["ines@example.org"]
    assert found.message["Subject"] == "Your quote from Tern & Tide Balloons: Winter gala"
    assert "Hello Ines Vale," in found.text
    assert link_to(quote) in found.text
    assert f'href="{link_to(quote)}"' in found.html
    assert "See your quote</a>" in found.html


def test_the_letter_can_be_changed_before_it_goes(owner_client, quote, box):
    sent_from(
        owner_client, write_path(quote, "quote"), to="bo@example.org", subject="Here it is", text="As we said: {link}"
    )
    go()
    found = only(box)
    assert (found.recipients, found.message["Subject"]) == (["bo@example.org"], "Here it is")
    assert found.text.strip() == f"As we said: {link_to(quote)}"


def test_no_link_is_in_the_database(owner_client, quote, box):
    sent_from(owner_client, write_path(quote, "quote"))
    go()
    assert token_of(quote) not in repr(list(OutgoingMail.objects.values()))


def test_a_form_sent_twice_is_one_letter(owner_client, quote, box):
    key = str(uuid.uuid4())
    for _ in range(2):
        answer = sent_from(owner_client, write_path(quote, "quote"), form_key=key)
        assert answer.status_code == 302
    go()
    assert len(box.received) == 1


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        pytest.param({"to": "a@example.org, b@example.org"}, "E-mail must be one address", id="two-addresses"),
        pytest.param({"to": "a@example.org\r\nBcc: b@example.org"}, "E-mail must be", id="a-line-break"),
        pytest.param({"to": ""}, "E-mail is needed.", id="nobody"),
        pytest.param({"text": "Hello"}, "Letter must hold {link}", id="no-link"),
        pytest.param({"subject": "x" * 161}, "at most 160 characters", id="a-long-subject"),
    ],
)
def test_a_letter_that_cannot_go_is_refused_and_nothing_typed_is_lost(owner_client, quote, box, changes, said):
    answer = sent_from(owner_client, write_path(quote, "quote"), **{"text": "Mine. {link}"} | changes)
    assert answer.status_code == 422
    page = answer.content.decode()
    assert said in page
    assert changes.get("text", "Mine. {link}") in page
    assert not OutgoingMail.objects.exists()


def test_a_mailed_quote_is_in_the_jobs_story_and_on_its_page(owner_client, quote, box):
    sent_from(owner_client, write_path(quote, "quote"))
    go()
    assert HistoryEntry.objects.filter(what="Letter to Ines Vale: the quote.").exists()
    page = owner_client.get(reverse("bookings:detail", args=[quote.booking_id])).content.decode()
    assert "Your quote from Tern &amp; Tide Balloons: Winter gala" in page


def test_a_quote_that_was_taken_back_cannot_be_mailed(owner_client, quote, box):
    Quote.objects.filter(pk=quote.pk).update(withdrawn_at=timezone.now())
    answer = owner_client.get(write_path(quote, "quote"), follow=True)
    assert "There is no quote to be seen" in answer.content.decode()


def test_a_link_made_new_is_the_one_that_is_sent(owner_client, quote, box):
    from bookings.actions import renew_link

    sent_from(owner_client, write_path(quote, "quote"))
    old = token_of(quote)
    renew_link(quote=quote, by=quote.issued_by, at=timezone.now())
    go()
    text = only(box).text
    assert old not in text
    assert token_of(Quote.objects.get(pk=quote.pk)) in text


def test_a_yes_sends_a_receipt_and_word_to_the_studio(quote, box):
    MoneyTerms.objects.create(pk=1, pay_to="Harbour Bank, account 0142")
    accept(quote)
    assert go() == Passed(sent=2)
    receipt, note = sorted(box.received, key=lambda one: one.recipients != ["ines@example.org"])
    assert receipt.message["Subject"] == "Your date is booked: Winter gala"
    assert "The total is $1,342.30; $620.00 of it is due by today." in receipt.text.replace("\r\n", " ")
    assert "Harbour Bank, account 0142" in receipt.text
    assert link_to(quote) in receipt.text
    assert note.recipients == ["hello@ternandtide.example"]
    assert note.message["Subject"] == "Ines Vale said yes: Winter gala"
    assert f"{HERE}{reverse('bookings:detail', args=[quote.booking_id])}" in note.text
    assert token_of(quote) not in note.text


def test_a_yes_is_told_once(quote, box):
    accept(quote)
    for _ in range(2):
        mail_acceptance(quote=quote, base=HERE, today=TODAY, at=timezone.now())
    go()
    assert len(box.received) == 2


def test_a_yes_stands_whatever_becomes_of_the_letters(quote, box):
    box.to_recipient = "550 No"
    accept(quote)
    go()
    assert Booking.objects.get(pk=quote.booking_id).stage == Booking.Stage.BOOKED
    assert OutgoingMail.objects.filter(state=State.FAILED).count() == 2


def test_a_client_without_an_address_is_booked_and_nothing_goes_to_them(quote, box):
    quote.booking.client.email = ""
    quote.booking.client.save()
    accept(quote)
    go()
    assert [found.recipients for found in box.received] == [["hello@ternandtide.example"]]


def test_letters_that_go_by_themselves_can_be_switched_off(quote, box):
    keep_rules(remind_days=None, sends_receipts=False, tells_us=False)
    accept(quote)
    assert go() == Passed()


@pytest.mark.parametrize("kind", ["deposit", "balance"])
def test_an_amount_that_is_due_is_asked_for(owner_client, quote, box, kind):
    keep_rules(remind_days=None, sends_receipts=False, tells_us=False)
    accept(quote)
    due = AmountDue.objects.get(booking=quote.booking_id, kind=kind)
    sent_from(owner_client, write_path(quote, kind))
    go()
    amount = {"deposit": "$620.00", "balance": "$722.30"}[kind]
    day = f"{due.due_on:%A} {due.due_on.day} {due.due_on:%B}" if due.due_on != timezone.localdate() else "today"
    assert only(box).message["Subject"] == f"{kind.title()} for Winter gala: {amount}, due by {day}"


def test_a_done_job_is_thanked_for(owner_client, quote, box):
    Booking.objects.filter(pk=quote.booking_id).update(stage=Booking.Stage.DONE)
    page = owner_client.get(reverse("bookings:detail", args=[quote.booking_id])).content.decode()
    assert "Mail: thank you" in page
    sent_from(owner_client, write_path(quote, "thanks"))
    go()
    found = only(box)
    assert found.message["Subject"] == "Thank you, from Tern & Tide Balloons"
    assert "href" not in found.html


def test_the_studios_own_words_are_used(quote, box, studio):
    keep_words(purpose="quote", subject="For {client}", text="{total} for {title}.\n\n{link}")
    letter = letter_about(quote.booking, "quote", studio=studio, today=TODAY)
    assert (letter.subject, letter.text) == ("For Ines Vale", "$1,342.30 for Winter gala.\n\n{link}")


@pytest.mark.parametrize(
    "name",
    ["Ines\r\nBcc: all@evil.example", "Ines\u2028To: x", "Žofie Nováková", "I" * 10_000, "{link}", "<b>Ines</b>"],
)
def test_any_name_makes_a_letter_to_one_person(owner_client, quote, box, name):
    quote.booking.client.name = name[:120]
    quote.booking.client.save()
    sent_from(owner_client, write_path(quote, "quote"))
    assert go() == Passed(sent=1)
    found = only(box)
    assert found.recipients == ["ines@example.org"]
    assert [one.addr_spec for one in found.message["To"].addresses] == ["ines@example.org"]
    assert found.message["Bcc"] is None
    assert "<b>Ines" not in found.html


def mailed(quote: Quote, studio: Studio, at: dt.datetime) -> None:
    letter = letter_about(quote.booking, "quote", studio=studio, today=at.date())
    mail = post(letter, key=f"by hand {quote.pk}", about=quote.booking_id, base="https://garlandry.example", at=at)
    OutgoingMail.objects.filter(pk=mail.pk).update(state=State.SENT, sent_at=at)


@pytest.fixture
def nine(quote) -> Callable[[int], dt.datetime]:
    """Nine in the morning, so many days before the quote runs out."""
    return lambda days: dt.datetime.combine(quote.valid_until - dt.timedelta(days=days), dt.time(9, 30), tzinfo=dt.UTC)


def test_a_quote_is_reminded_of_once_some_days_before_it_runs_out(quote, box, studio, nine):
    mailed(quote, studio, nine(8))
    keep_rules(remind_days=3, sends_receipts=True, tells_us=True)
    assert [post_due_reminders(at=nine(days)) for days in (4, 3, 3, 2)] == [0, 1, 0, 0]
    send_waiting(now=lambda: nine(2))
    found = only(box)
    assert found.message["Subject"].startswith("Your quote is open until ")
    assert f"https://garlandry.example{reverse('bookings:client', args=[token_of(quote)])}" in found.text


@pytest.mark.parametrize("hour", [0, 8, 18, 23])
def test_nobody_is_reminded_at_night(quote, box, studio, nine, hour):
    mailed(quote, studio, nine(8))
    keep_rules(remind_days=3, sends_receipts=True, tells_us=True)
    assert post_due_reminders(at=nine(3).replace(hour=hour)) == 0


def not_mailed(quote: Quote) -> None:
    OutgoingMail.objects.all().delete()


def reminded_by_hand(quote: Quote) -> None:
    OutgoingMail.objects.create(
        key="r", purpose="reminder", about=quote.booking_id, made_at=timezone.now(), due_at=timezone.now(),
        state="sent", sent_at=timezone.now(),
    )  # fmt: skip


def switched_off(quote: Quote) -> None:
    keep_rules(remind_days=None, sends_receipts=True, tells_us=True)


def taken_back(quote: Quote) -> None:
    Quote.objects.filter(pk=quote.pk).update(withdrawn_at=timezone.now())


@pytest.mark.parametrize("why", [not_mailed, reminded_by_hand, switched_off, taken_back, accept])
def test_nobody_is_reminded_without_need(quote, box, studio, nine, why):
    mailed(quote, studio, quote.issued_at)
    keep_rules(remind_days=3, sends_receipts=True, tells_us=True)
    why(quote)
    assert post_due_reminders(at=nine(3)) == 0


def test_a_letter_that_failed_is_on_the_job_the_week_and_its_own_page(owner_client, quote, box):
    box.to_recipient = "550 No such mailbox"
    sent_from(owner_client, write_path(quote, "quote"))
    go()
    mail = OutgoingMail.objects.get()
    for path in (
        reverse("bookings:detail", args=[quote.booking_id]),
        reverse("week"),
        reverse("bookings:mail") + "?only=trouble",
        reverse("bookings:letter", args=[mail.pk]),
    ):
        assert "The mail server refused it: 550 No such mailbox" in owner_client.get(path).content.decode(), path


def test_a_failed_letter_is_sent_again_to_an_address_put_right(owner_client, quote, box):
    box.to_recipient = "550 No such mailbox"
    sent_from(owner_client, write_path(quote, "quote"))
    go()
    box.to_recipient = ""
    again = reverse("bookings:letter-again", args=[OutgoingMail.objects.get().pk])
    wrong = owner_client.post(again, {"to": "nobody", "form_key": str(uuid.uuid4())})
    assert (wrong.status_code, "E-mail must be one address" in wrong.content.decode()) == (422, True)
    assert 'value="nobody"' in wrong.content.decode()
    owner_client.post(again, {"to": "ines.vale@example.org", "form_key": str(uuid.uuid4())})
    go()
    assert only(box).recipients == ["ines.vale@example.org"]


def test_a_letter_that_came_back_is_on_the_week_until_it_is_let_be(owner_client, quote, box):
    sent_from(owner_client, write_path(quote, "quote"))
    go()
    mail = OutgoingMail.objects.get()
    for name, shown in (("letter-came-back", True), ("letter-let-be", False)):
        owner_client.post(reverse(f"bookings:{name}", args=[mail.pk]), {"form_key": str(uuid.uuid4())})
        assert ("did not get there" in owner_client.get(reverse("week")).content.decode()) == shown


def test_without_a_server_the_page_says_so_and_gives_the_words(owner_client, quote, settings):
    settings.MAIL_SERVER = None
    answer = sent_from(owner_client, write_path(quote, "quote"))
    page = owner_client.get(answer.headers["Location"]).content.decode()
    assert "not sent: no mail server is set" in page
    assert link_to(quote) in page
    assert "Copy the words" in page


def test_the_words_of_a_letter_are_changed_and_set_back(owner_client, studio):
    path = reverse("bookings:mail-words", args=["quote"])
    typed = {"subject": "For {client}", "text": "Look: {link}", "form_key": str(uuid.uuid4())}
    assert send_opened(owner_client, path, typed).status_code == 302
    assert MailTemplate.objects.get().text == "Look: {link}"
    assert "your words" in owner_client.get(reverse("bookings:mail-settings")).content.decode()
    owner_client.post(reverse("bookings:mail-reset", args=["quote"]), {"form_key": str(uuid.uuid4())})
    assert not MailTemplate.objects.exists()


def test_a_refused_field_leaves_what_was_typed(owner_client, studio):
    typed = {"subject": "S", "text": "{nonsense} {link}", "form_key": str(uuid.uuid4())}
    answer = send_opened(owner_client, reverse("bookings:mail-words", args=["quote"]), typed)
    assert answer.status_code == 422
    assert "(got {nonsense})" in answer.content.decode()
    assert "{nonsense} {link}</textarea>" in answer.content.decode()


def test_the_preview_shows_what_is_being_typed_and_runs_none_of_it(owner_client, studio):
    typed = {"subject": "For {client}", "text": "<script>x</script> {day}\n\n{link}"}
    shown = owner_client.post(reverse("bookings:mail-preview", args=["quote"]), typed).content.decode()
    assert "For Ines Vale" in shown
    assert "&lt;script&gt;x&lt;/script&gt; Saturday 12 December 2026" in shown
    assert "See your quote" in shown


def test_what_goes_by_itself_is_kept(owner_client, studio):
    path = reverse("bookings:mail-settings")
    send_opened(owner_client, path, {"tells_us": "on", "remind_days": "3", "form_key": str(uuid.uuid4())})
    form = owner_client.get(path).context["form"]
    assert form.initial == {"sends_receipts": False, "tells_us": True, "remind_days": 3}
    refused = send_opened(owner_client, path, {"remind_days": "31", "form_key": str(uuid.uuid4())})
    assert "whole number from 1 to 30 (got “31”)" in refused.content.decode()


def test_crew_see_neither_letters_nor_questions_of_a_job(crew_client, quote, box):
    letter = letter_about(quote.booking, "quote", studio=Studio.objects.current(), today=TODAY)
    post(letter, key="k", about=quote.booking_id, base=HERE, at=timezone.now())
    for path in (reverse("bookings:detail", args=[quote.booking_id]), reverse("week"), reverse("bookings:list")):
        page = crew_client.get(path).content.decode()
        assert "Questions and letters" not in page
        assert letter.subject.replace("&", "&amp;") not in page


def test_the_list_of_letters_asks_as_little_however_long_it_is(owner_client, studio, django_assert_max_num_queries):
    for n in range(60):
        OutgoingMail.objects.create(
            key=f"k{n}", purpose="quote", to_address="a@b.example", from_name="T", subject=f"Letter {n}", text="x",
            made_at=timezone.now(), due_at=timezone.now(), state="kept",
        )  # fmt: skip
    # Session, person, studio; how many letters, one page of them.
    with django_assert_max_num_queries(5):
        page = owner_client.get(reverse("bookings:mail"))
    assert page.content.decode().count("kept to copy") == 50


def test_the_command_sends_what_waits_and_says_so(quote, box, capsys):
    accept(quote)
    OutgoingMail.objects.update(due_at=timezone.now() - dt.timedelta(minutes=1))
    call_command("send_mail")
    assert capsys.readouterr().out.strip() == "2 letters were sent."
    call_command("send_mail", "--json")
    assert capsys.readouterr().out.strip() == '{"sent": 0, "later": 0, "failed": 0, "server": true}'
    assert len(box.received) == 2


def test_the_command_says_that_there_is_no_server(studio, settings, capsys):
    settings.MAIL_SERVER = None
    call_command("send_mail")
    assert capsys.readouterr().out.strip() == (
        "No mail server is set, so nothing is sent: name one in GARLANDRY_SMTP_HOST."
    )


def test_links_begin_with_the_sites_address_where_it_is_set(owner_client, quote, box, settings):
    settings.SITE_ADDRESS = "https://garlandry.example"
    sent_from(owner_client, write_path(quote, "quote"))
    go()
    assert f"https://garlandry.example/q/{token_of(quote)}/" in only(box).text
    assert our_settings.SITE_ADDRESS == "https://garlandry.example"
