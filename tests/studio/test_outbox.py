"""Letters on their way out, handed to a real mail server on this machine."""

import datetime as dt
import socket
import threading
from collections.abc import Callable, Iterator
from email.utils import parsedate_to_datetime

import pytest
from django.db import transaction

from studio.models import OutgoingMail, Studio
from studio.outbox import links
from studio.outbox.addresses import AddressRefused
from studio.outbox.queue import (
    HELD,
    WAITS,
    Letter,
    MailRefused,
    Passed,
    came_back,
    let_be,
    post,
    send_waiting,
    text_of,
    try_again,
)
from tests.factories import NOON, UserFactory
from tests.live import free_port
from tests.mailbox import Mailbox, mail_server

pytestmark = pytest.mark.django_db
State = OutgoingMail.State


@pytest.fixture
def box(settings, monkeypatch) -> Iterator[Mailbox]:
    """A mail server that is ours, and links that lead somewhere."""
    monkeypatch.setitem(links._makers, "page", lambda of: f"/pages/{of}/")
    Studio.objects.create(pk=1, name="Tern & Tide Balloons", email="hello@ternandtide.example")
    with mail_server() as box:
        settings.MAIL_SERVER = box.server
        yield box


@pytest.fixture
def write(settings) -> Callable[..., OutgoingMail]:
    """Writes a letter down at noon."""

    def write(key: str = "a", **changes: str) -> OutgoingMail:
        words = {
            "purpose": "quote",
            "to_address": "ines@example.org",
            "to_name": "Ines Vale",
            "subject": "Your quote",
            "text": "Hello Ines,\n\nhere it is.\n\n{link}\n\nWarm regards",
            "link_name": "page:7",
            "button": "See your quote",
        }
        return post(Letter(**words | changes), key=key, about=3, base="https://garlandry.example", at=NOON)

    return write


def go(minutes: float = 0) -> Passed:
    return send_waiting(now=lambda: NOON + dt.timedelta(minutes=minutes))


def now(mail: OutgoingMail) -> OutgoingMail:
    return OutgoingMail.objects.get(pk=mail.pk)


def test_a_letter_arrives_with_its_headers_its_words_and_its_page(box, write):
    mail = write()
    assert go() == Passed(sent=1)

    (found,) = box.received
    headers = found.message
    assert (found.sender, found.recipients) == ("studio@ternandtide.example", ["ines@example.org"])
    assert headers["From"].addresses[0].display_name == "Tern & Tide Balloons"
    assert headers["From"].addresses[0].addr_spec == "studio@ternandtide.example"
    assert str(headers["To"]) == "Ines Vale <ines@example.org>"
    assert headers["Reply-To"].addresses[0].addr_spec == "hello@ternandtide.example"
    assert headers["Subject"] == "Your quote"
    assert parsedate_to_datetime(headers["Date"]) == NOON
    assert headers["Message-ID"].endswith("@ternandtide.example>")
    assert found.text.replace("\r\n", "\n").strip() == (
        "Hello Ines,\n\nhere it is.\n\nhttps://garlandry.example/pages/7/\n\nWarm regards"
    )
    assert 'href="https://garlandry.example/pages/7/"' in found.html
    assert ">See your quote</a>" in found.html
    assert (now(mail).state, now(mail).sent_at) == (State.SENT, NOON)


def test_the_page_of_a_letter_escapes_what_people_typed(box, write):
    write(text='<b>big</b> & "small"\nsecond line', to_name="<i>Ines</i>", link_name="")
    go()
    page = box.received[0].html
    assert "&lt;b&gt;big&lt;/b&gt; &amp; &quot;small&quot;<br>second line" in page
    assert "<b>" not in page


@pytest.mark.parametrize(("own", "seen"), [("#0b5563", "#0b5563"), ("", "#5b2a63"), ("red;x", "#5b2a63")])
def test_the_page_of_a_letter_is_in_the_studios_own_colour(box, write, own, seen):
    Studio.objects.update(accent=own)
    write()
    go()
    assert f"background-color:{seen};" in box.received[0].html


def test_the_link_is_not_kept_but_made_when_it_is_sent(box, write):
    mail = write()
    row = OutgoingMail.objects.values().get(pk=mail.pk)
    assert "/pages/7/" not in repr(row)
    assert "https://garlandry.example/pages/7/" in text_of(mail)


def test_one_key_is_one_letter(box, write):
    assert write("same").pk == write("same", subject="Another").pk
    go()
    go(1)
    assert [found.message["Subject"] for found in box.received] == ["Your quote"]


def test_nothing_is_sent_where_the_transaction_is_undone(box, write):
    with pytest.raises(ZeroDivisionError), transaction.atomic():
        write()
        raise ZeroDivisionError
    assert go() == Passed()
    assert box.received == []


def test_a_letter_wakes_the_sender_after_the_commit(box, write, monkeypatch, django_capture_on_commit_callbacks):
    woken = []
    monkeypatch.setattr("studio.outbox.queue.nudge", lambda: woken.append(True))
    with django_capture_on_commit_callbacks(execute=True):
        write()
        assert woken == []
    assert woken == [True]


@pytest.mark.parametrize("answer", ["450 Mailbox busy", "421 Too many"])
@pytest.mark.parametrize("asked", ["to_recipient", "to_words"])
def test_what_is_not_taken_now_is_tried_later_with_the_same_name(box, write, asked, answer):
    mail = write()
    setattr(box, asked, answer)
    assert go() == Passed(later=1)
    first = now(mail)
    assert (first.state, first.due_at) == (State.WAITING, NOON + dt.timedelta(minutes=WAITS[0]))
    assert "would not take it now" in first.error
    setattr(box, asked, "")
    assert go(0.5) == Passed()
    assert go(1) == Passed(sent=1)
    assert box.received[0].message["Message-ID"] == first.message_id
    assert now(mail).error == ""


@pytest.mark.parametrize("asked", ["to_recipient", "to_words"])
def test_what_is_refused_for_good_is_not_tried_again(box, write, asked):
    mail = write()
    setattr(box, asked, "550 No such mailbox here")
    assert go() == Passed(failed=1)
    assert (now(mail).state, now(mail).error) == (
        State.FAILED,
        "The mail server refused it: 550 No such mailbox here",
    )
    setattr(box, asked, "")
    assert go(600) == Passed()


def test_a_letter_is_given_up_after_six_tries(box, write):
    mail = write()
    box.to_recipient = "450 Not now"
    minutes = 0
    for wait in WAITS:
        assert go(minutes) == Passed(later=1)
        minutes += wait
    assert go(minutes) == Passed(failed=1)
    assert now(mail).error.startswith("Given up after 6 tries. The mail server would not take it now")


def test_a_server_that_is_not_there_is_tried_later_and_others_wait(box, write, settings):
    first, second = write("a"), write("b")
    settings.MAIL_SERVER = type(box.server)("127.0.0.1", free_port(), "none", "studio@ternandtide.example")
    assert go() == Passed(later=1)
    assert "could not be reached" in now(first).error
    assert (now(second).tries, now(second).state) == (0, State.WAITING)


def test_a_server_that_says_nothing_is_tried_later(box, write, settings, monkeypatch):
    monkeypatch.setattr("studio.outbox.delivery.SECONDS", 0.2)
    mail = write()
    with socket.socket() as silent:
        silent.bind(("127.0.0.1", 0))
        silent.listen()
        settings.MAIL_SERVER = type(box.server)("127.0.0.1", silent.getsockname()[1], "none", "a@ternandtide.example")
        assert go() == Passed(later=1)
    assert "no answer within" in now(mail).error


def test_a_server_that_hangs_up_after_the_words_leaves_it_to_the_owner(box, write):
    mail = write()
    box.hangs_up = True
    assert go() == Passed(failed=1)
    assert "did not say whether it took the letter" in now(mail).error
    assert go(600) == Passed()
    assert len(box.received) == 1


def test_a_letter_whose_sender_died_is_left_to_the_owner(box, write):
    mail = write()
    OutgoingMail.objects.update(state=State.SENDING, claimed_at=NOON)
    assert go(HELD.total_seconds() / 60 - 1) == Passed()
    assert go(HELD.total_seconds() / 60) == Passed(failed=1)
    assert "may or may not have gone" in now(mail).error
    assert box.received == []


def test_a_letter_that_failed_can_be_sent_to_an_address_put_right(box, write):
    mail = write()
    box.to_recipient = "550 No such mailbox"
    go()
    box.to_recipient = ""
    try_again(mail=mail, to="ines.vale@example.org", at=NOON)
    assert go() == Passed(sent=1)
    assert box.received[0].recipients == ["ines.vale@example.org"]


def test_a_letter_that_was_sent_is_not_sent_again(box, write):
    mail = write()
    go()
    with pytest.raises(MailRefused, match="This letter is sent"):
        try_again(mail=mail, to="ines@example.org", at=NOON)


def test_a_letter_that_came_back_can_be_sent_again_under_another_name(box, write):
    mail = write()
    go()
    came_back(mail=mail)
    assert now(mail).needs_a_look
    try_again(mail=mail, to="ines@example.org", at=NOON + dt.timedelta(hours=1))
    go(60)
    names = [found.message["Message-ID"] for found in box.received]
    assert len(set(names)) == 2


def test_a_letter_left_unsent_is_not_sent(box, write):
    mail = write()
    let_be(mail=mail)
    assert go() == Passed()
    with pytest.raises(MailRefused, match="left unsent"):
        came_back(mail=mail)


def test_an_address_that_is_none_is_seen_and_stops_nothing(box, write):
    mail = write(to_address="nobody")
    assert (mail.state, mail.error) == (
        State.FAILED,
        "E-mail must be one address, such as ines@example.org (got “nobody”).",
    )
    with pytest.raises(AddressRefused):
        try_again(mail=mail, to="still nobody", at=NOON)


def test_without_a_mail_server_a_letter_is_kept_and_says_so(write, settings):
    settings.MAIL_SERVER = None
    mail = write()
    assert mail.get_state_display() == "not sent: no mail server is set"
    with pytest.raises(MailRefused, match="No mail server is set"):
        try_again(mail=mail, to="ines@example.org", at=NOON)


def test_letters_kept_without_a_server_do_not_all_go_once_there_is_one(write, settings, request):
    settings.MAIL_SERVER = None
    write()
    request.getfixturevalue("box")
    assert go() == Passed()


def test_the_demo_prints_a_letter_and_sends_none(box, write, settings, capsys):
    settings.MAIL_SERVER, settings.DEMO = None, True
    mail = write()
    assert go() == Passed(sent=1)
    assert "https://garlandry.example/pages/7/" in capsys.readouterr().out
    assert (now(mail).state, box.received) == (State.SENT, [])


def test_no_record_holds_an_address_or_a_link(box, write, caplog):
    write()
    box.to_recipient = "550 No"
    go()
    assert caplog.records == []


def test_the_sender_is_kept_with_who_wrote_it(box):
    person = UserFactory()
    letter = Letter("quote", "ines@example.org", "", "Your quote", "Hello")
    assert post(letter, key="k", about=None, base="", at=NOON, by=person).made_by == person


def test_a_thread_goes_on_after_a_pass_that_failed(monkeypatch, caplog):
    from studio.outbox import background

    done = threading.Event()
    passes = []

    def work() -> None:
        passes.append(True)
        if len(passes) == 1:
            background.nudge()
            raise RuntimeError("the disk is full")
        done.set()

    monkeypatch.setattr(background.connections, "close_all", lambda: None)
    background.start(work)
    background.start(work)
    assert done.wait(timeout=60)
    background.stop()
    assert "Letters could not be sent." in caplog.text
    assert len(passes) == 2
