"""Several senders at one queue: each letter goes once."""

import datetime as dt
from collections import Counter
from collections.abc import Iterator

import pytest
from django.db.models import F
from django.utils import timezone

from studio.models import OutgoingMail, Studio
from studio.outbox import queue
from studio.outbox.queue import Letter, Passed, post, send_waiting
from tests.factories import NOON
from tests.mailbox import Mailbox, mail_server
from tests.races.conftest import OFTEN

LETTERS = 24


@pytest.fixture
def box(shared, settings) -> Iterator[Mailbox]:
    """A mail server of a test's own, and a queue with nothing in it."""
    OutgoingMail.objects.all().delete()
    Studio.objects.get_or_create(pk=1, defaults={"name": "Tern & Tide Balloons"})
    with mail_server() as box:
        settings.MAIL_SERVER = box.server
        yield box


def write(key: str) -> OutgoingMail:
    letter = Letter("quote", "ines@example.org", "Ines", f"Letter {key}", "Hello")
    return post(letter, key=key, about=None, base="", at=NOON)


def send() -> Passed:
    return send_waiting(now=timezone.now)


def check_each_goes_once(box, together):
    for n in range(LETTERS):
        write(str(n))
    passes = together([send] * 6)

    assert [found for found in passes if isinstance(found, Exception)] == []
    went = Counter(str(found.message["Subject"]) for found in box.received)
    assert went == {f"Letter {n}": 1 for n in range(LETTERS)}
    assert sum(found.sent for found in passes) == LETTERS
    assert set(OutgoingMail.objects.values_list("state", "tries")) == {("sent", 1)}


def test_six_senders_at_once_send_each_letter_once(box, together):
    check_each_goes_once(box, together)


def test_one_key_written_many_times_at_once_is_one_letter(box, together):
    written = together([lambda: write("the same")] * 12)
    assert {mail.pk for mail in written} == {OutgoingMail.objects.get().pk}
    send()
    assert len(box.received) == 1


# Without the condition in the claim the check finds the fault it is there for.


def take_what_was_seen(at: dt.datetime) -> OutgoingMail | None:
    """Looks for a letter that waits, and then takes it whatever has become of it."""
    mail = OutgoingMail.objects.filter(state="waiting", due_at__lte=at).order_by("due_at", "pk").first()
    if mail is not None:
        OutgoingMail.objects.filter(pk=mail.pk).update(state="sending", claimed_at=at, tries=F("tries") + 1)
        mail.refresh_from_db()
    return mail


def test_a_sender_that_takes_whatever_it_saw_is_caught(box, together, monkeypatch):
    monkeypatch.setattr(queue, "_claim", take_what_was_seen)
    with pytest.raises(AssertionError):
        for _ in range(OFTEN):
            OutgoingMail.objects.all().delete()
            box.received.clear()
            check_each_goes_once(box, together)
