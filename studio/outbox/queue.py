"""The letters that wait: written down in the caller's transaction, claimed by one sender, sent at most once.

A sender first takes a letter for its own (one conditional UPDATE, committed) and then talks to the server. If it dies
in between, or the server hangs up without saying whether it took the letter, nobody knows whether it went. Such a
letter is not tried again by itself: it is shown as not sent, with those words, and the owner decides. A letter is thus
sent once or, rarely, not at all, never twice unseen. Its Message-ID stays the same whenever it is tried again.
"""

import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.conf import settings
from django.db import transaction
from django.db.models import F
from django.template.loader import render_to_string
from django.utils.crypto import salted_hmac

from studio.mail_server import MailServer
from studio.models import OutgoingMail, Studio, User
from studio.outbox.addresses import MOST_IN_ADDRESS, AddressRefused, check_address, one_line
from studio.outbox.background import nudge
from studio.outbox.delivery import NotNow, Refused, Trouble, Unsure, deliver
from studio.outbox.links import NoSuchLink, full_link
from studio.outbox.message import (
    LINK,
    MOST_IN_NAME,
    MOST_IN_SUBJECT,
    Envelope,
    Paragraph,
    compose,
    paragraphs,
)

WAITS = (1, 5, 20, 60, 240)
"""Minutes until the next try, after the first, the second… After one more the letter is given up."""

HELD = timedelta(minutes=15)
"""How long a sender may be at one letter: beyond it the sender is taken to have died."""

State = OutgoingMail.State
PLUM = "#5b2a63"
"""The colour of a studio that has not chosen one."""

HEADED = ("digest",)
"""The purposes of letters that are in parts, each under a line that says of what it is."""

_COLOUR = re.compile("#[0-9a-f]{6}")


class MailRefused(Exception):
    """What was asked of a letter cannot be done as it stands; the message is a sentence for the page."""


@dataclass(slots=True)
class Passed:
    """What one pass over the queue did."""

    sent: int = 0
    later: int = 0
    failed: int = 0


@dataclass(frozen=True, slots=True)
class Letter:
    """What is to be written to whom. `link_name` is what {link} in the text leads to, `button` what that is called."""

    purpose: str
    to_address: str
    to_name: str
    subject: str
    text: str
    link_name: str = ""
    button: str = ""


@transaction.atomic
def post(
    letter: Letter, *, key: str, about: int | None, base: str, at: datetime, by: User | None = None
) -> OutgoingMail:
    """Write a letter down, to be sent once the caller's transaction is committed; the same key writes it once.

    An address that no letter can be sent to makes it one that failed, so that it is seen and nothing else stops.
    """
    studio = Studio.objects.current()
    state, error, to = State.WAITING, "", letter.to_address
    try:
        to = check_address(to)
    except AddressRefused as refusal:
        state, error, to = State.FAILED, str(refusal), one_line(to, MOST_IN_ADDRESS)
    else:
        if settings.MAIL_SERVER is None and not settings.DEMO:
            state = State.KEPT
    mail, _ = OutgoingMail.objects.get_or_create(
        key=key,
        defaults={
            "purpose": letter.purpose,
            "about": about,
            "to_address": to,
            "to_name": one_line(letter.to_name, MOST_IN_NAME),
            "from_name": one_line(studio.name, MOST_IN_NAME),
            "reply_to": _reply_address(studio),
            "subject": one_line(letter.subject, MOST_IN_SUBJECT) or "A letter",
            "text": letter.text,
            "button": letter.button,
            "link_name": letter.link_name,
            "base": base,
            "made_at": at,
            "made_by": by,
            "due_at": at,
            "state": state,
            "error": error,
        },
    )
    transaction.on_commit(nudge)
    return mail


def _reply_address(studio: Studio) -> str:
    try:
        return check_address(studio.email) if studio.email else ""
    except AddressRefused:
        return ""


def text_of(mail: OutgoingMail) -> str:
    """The words with their link in place, as they are sent. Raises NoSuchLink."""
    return mail.text.replace(LINK, full_link(mail.link_name, base=mail.base))


def html_of(mail: OutgoingMail) -> str:
    """The same words as a page in the studio's name. Raises NoSuchLink."""
    link = full_link(mail.link_name, base=mail.base)
    parts: list[Paragraph] = paragraphs(text_of(mail), link, headed=mail.purpose in HEADED)
    context: dict[str, object] = {"parts": parts, "link": link, "has_button": any(part.is_link for part in parts)}
    own = Studio.objects.current().accent
    words = {"subject": mail.subject, "from_name": mail.from_name, "button": mail.button or "Open it"}
    context["accent"] = own if _COLOUR.fullmatch(own) else PLUM
    return render_to_string("mail/letter.html", context | words)


def send_waiting(*, now: Callable[[], datetime], limit: int = 50) -> Passed:
    """Send what is due, one letter after another; stop for now where the server itself is in trouble.

    `now` is asked before every letter, for a pass may take long. Never called inside a transaction.
    """
    passed = Passed()
    passed.failed += _give_up_on_the_dead(now())
    server = settings.MAIL_SERVER
    if server is None and not settings.DEMO:
        OutgoingMail.objects.filter(state=State.WAITING).update(state=State.KEPT)
        return passed
    for _ in range(limit):
        mail = _claim(now())
        if mail is None or not _send(mail, server, passed, now):
            break
    return passed


def _claim(at: datetime) -> OutgoingMail | None:
    """The next letter that is due, from now on this sender's own; None where there is none."""
    due = OutgoingMail.objects.filter(state=State.WAITING, due_at__lte=at)
    for key in due.order_by("due_at", "pk").values_list("pk", flat=True)[:20]:
        with transaction.atomic(durable=True):
            taken = due.filter(pk=key).update(state=State.SENDING, claimed_at=at, tries=F("tries") + 1)
        if taken:
            return OutgoingMail.objects.get(pk=key)
    return None


def _send(mail: OutgoingMail, server: MailServer | None, passed: Passed, now: Callable[[], datetime]) -> bool:
    """Send one claimed letter and write down how it went; False where the server is in trouble."""
    at = now()
    try:
        _hand_over(mail, server, at)
    except (Refused, Unsure, NoSuchLink) as error:
        _settle(mail, state=State.FAILED, error=str(error)[:400])
        passed.failed += 1
        return not isinstance(error, Unsure)
    except (Trouble, NotNow) as error:
        gives_up = mail.tries > len(WAITS)
        if gives_up:
            _settle(mail, state=State.FAILED, error=f"Given up after {mail.tries} tries. {error}"[:400])
            passed.failed += 1
        else:
            due = at + timedelta(minutes=WAITS[mail.tries - 1])
            _settle(mail, state=State.WAITING, error=str(error)[:400], due_at=due)
            passed.later += 1
        return isinstance(error, NotNow)
    _settle(mail, state=State.SENT, error="", sent_at=now())
    passed.sent += 1
    return True


def _hand_over(mail: OutgoingMail, server: MailServer | None, at: datetime) -> None:
    text, html = text_of(mail), html_of(mail)
    if server is None:
        print(f"\n— The demo sends no mail. To {mail.to_address}: {mail.subject}\n{text}\n—", flush=True)
        return
    if not mail.message_id:
        mail.message_id = (
            f"<{salted_hmac('studio.outbox', f'{mail.key} {at}').hexdigest()}@{server.sender.partition('@')[2]}>"
        )
        OutgoingMail.objects.filter(pk=mail.pk).update(message_id=mail.message_id)
    envelope = Envelope(
        from_name=mail.from_name,
        sender=server.sender,
        to_name=mail.to_name,
        to_address=mail.to_address,
        reply_to=mail.reply_to,
        subject=mail.subject,
        message_id=mail.message_id,
        at=at,
    )
    deliver(compose(envelope, text=text, html=html), server=server, to=mail.to_address)


def _settle(mail: OutgoingMail, **changes: object) -> None:
    """Write down how it went, unless the letter was given up on in the meantime."""
    OutgoingMail.objects.filter(pk=mail.pk, state=State.SENDING, claimed_at=mail.claimed_at).update(**changes)


def _give_up_on_the_dead(at: datetime) -> int:
    """Letters whose sender has died: whether they went is not known, so they are for the owner to decide."""
    return OutgoingMail.objects.filter(state=State.SENDING, claimed_at__lte=at - HELD).update(
        state=State.FAILED,
        error="Sending was broken off: it may or may not have gone. Ask before you send it again.",
    )


@transaction.atomic
def try_again(*, mail: OutgoingMail, to: str, at: datetime) -> OutgoingMail:
    """Send a letter that did not go, to `to`, which may have been put right. Raises AddressRefused, MailRefused."""
    address = check_address(to)
    if settings.MAIL_SERVER is None and not settings.DEMO:
        raise MailRefused("No mail server is set, so nothing can be sent. Copy the words and send them yourself.")
    changes: dict[str, object] = {"to_address": address, "state": State.WAITING, "due_at": at, "tries": 0, "error": ""}
    if mail.state == State.RETURNED or address != mail.to_address:
        # Another letter than the one that came back: a mailbox that has seen the old name might hide it.
        changes["message_id"] = ""
    _move(mail, (State.FAILED, State.RETURNED, State.KEPT, State.DROPPED), **changes)
    transaction.on_commit(nudge)
    return mail


@transaction.atomic
def came_back(*, mail: OutgoingMail) -> OutgoingMail:
    """The owner found it returned in their own mailbox. Raises MailRefused for one that was never sent."""
    return _move(mail, (State.SENT,), state=State.RETURNED, error="It came back: the address may be wrong.")


@transaction.atomic
def let_be(*, mail: OutgoingMail) -> OutgoingMail:
    """Leave it unsent. Raises MailRefused for one that is on its way or gone."""
    return _move(mail, (State.WAITING, State.FAILED, State.RETURNED, State.KEPT), state=State.DROPPED)


def _move(mail: OutgoingMail, from_states: tuple[State, ...], **changes: object) -> OutgoingMail:
    """Change a letter that is in one of the states; a sender that has just taken it is not disturbed."""
    if not OutgoingMail.objects.filter(pk=mail.pk, state__in=from_states).update(**changes):
        mail.refresh_from_db()
        raise MailRefused(f"This letter is {mail.get_state_display()}: that cannot be done with it any more.")
    mail.refresh_from_db()
    return mail
