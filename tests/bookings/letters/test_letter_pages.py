"""Letters on pages: what failed, what was kept, the words of each, and what the command says."""

import datetime as dt
import uuid

import pytest
from django.core.management import call_command
from django.urls import reverse
from django.utils import timezone

from bookings.models import MailTemplate
from bookings.queries.letters import letter_about
from studio.models import OutgoingMail, Studio
from studio.outbox.queue import post
from tests.factories import TODAY
from tests.opened import send_opened
from tests.sending import HERE, accept, go, link_to, only, sent_from, write_path

pytestmark = pytest.mark.django_db
State = OutgoingMail.State


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
