"""The demo's letters, as if they had gone, and what a client asked."""

from datetime import date, datetime, timedelta

from django.utils import timezone

from bookings.actions.letters import mail_acceptance, mail_client
from bookings.actions.questions import answer, ask
from bookings.models import Booking, Question, Quote
from bookings.queries.letters import letter_about, newest_quote
from studio.models import OutgoingMail, Studio, User


def write_and_ask(first: Booking, second: Booking, *, base: str, by: User, at: datetime) -> None:
    """Receipts to both clients, a letter about the late deposit, one question answered and one that waits.

    `base` is the address the demo is served at, which the letters lead to.
    """
    today = timezone.localdate(at)
    for booking in (first, second):
        mail_acceptance(quote=_quote_of(booking), base=base, today=today, at=at)
    told = _ask(second, base, "Does the garland leave room for the coat rail beside the door?", today=today, at=at)
    answer(
        question=told,
        text="Yes: it hangs 8 in clear of it. We can move the rail for the evening as well.",
        base=base,
        today=today,
        by=by,
        at=at + timedelta(minutes=5),
    )
    _ask(second, base, "Could you take it down on Sunday morning instead of at night?", today=today, at=at)
    second = Booking.objects.select_related("client").get(pk=second.pk)
    letter = letter_about(second, "deposit", studio=Studio.objects.current(), today=today)
    mail_client(booking=second, letter=letter, key=f"deposit:{second.pk}", base=base, by=by, at=at)
    OutgoingMail.objects.filter(state=OutgoingMail.State.WAITING).update(state=OutgoingMail.State.SENT, sent_at=at)


def _ask(booking: Booking, base: str, text: str, *, today: date, at: datetime) -> Question:
    return ask(quote=_quote_of(booking), text=text, base=base, today=today, at=at)


def _quote_of(booking: Booking) -> Quote:
    quote = newest_quote(booking)
    if quote is None:
        raise AssertionError("the demo's jobs have quotes")
    return quote
