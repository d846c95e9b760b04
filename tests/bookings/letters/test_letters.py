"""Letters about a job: written on its page, sent after the commit, received by a real mail server."""

import uuid

import pytest
from django.conf import settings as our_settings
from django.urls import reverse
from django.utils import timezone

from bookings.actions.letters import (
    keep_rules,
    keep_words,
    mail_acceptance,
)
from bookings.models import AmountDue, Booking, HistoryEntry, MoneyTerms, Quote
from bookings.queries.letters import letter_about
from studio.models import OutgoingMail
from studio.outbox.queue import Passed
from tests.factories import TODAY, token_of
from tests.sending import HERE, accept, go, link_to, only, sent_from, write_path

pytestmark = pytest.mark.django_db
State = OutgoingMail.State


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


def test_links_begin_with_the_sites_address_where_it_is_set(owner_client, quote, box, settings):
    settings.SITE_ADDRESS = "https://garlandry.example"
    sent_from(owner_client, write_path(quote, "quote"))
    go()
    assert f"https://garlandry.example/q/{token_of(quote)}/" in only(box).text
    assert our_settings.SITE_ADDRESS == "https://garlandry.example"
