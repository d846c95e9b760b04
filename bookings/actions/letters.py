"""Writing to a client, and to the studio about one. Letters are written down here; `studio.outbox` sends them."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta

from django.conf import settings
from django.db import transaction

from bookings.actions.jobs import write_history
from bookings.diary import Clash
from bookings.letters import PURPOSES
from bookings.models import Booking, MailRules, MailTemplate, Question, Quote
from bookings.queries.dates import clashes_of
from bookings.queries.letters import letter_about, newest_quote
from studio.models import OutgoingMail, Studio, User
from studio.outbox.queue import Letter, post

FIRST_HOUR, LAST_HOUR = 9, 18
"""Hours of the studio's day between which a letter that nobody asked for goes out."""


@transaction.atomic
def mail_client(*, booking: Booking, letter: Letter, key: str, base: str, by: User, at: datetime) -> OutgoingMail:
    """Send a letter the owner has looked over. The same key sends it once."""
    mail = post(letter, key=key, about=booking.pk, base=base, at=at, by=by)
    label = PURPOSES[letter.purpose].label.lower()
    write_history(booking, f"Letter to {booking.client.shown_name}: {label}.", at=at, by=by)
    return mail


@transaction.atomic
def mail_acceptance(*, quote: Quote, base: str, today: date, at: datetime) -> None:
    """After a yes: the receipt to the client, and word to the studio. Each goes once a quote."""
    rules, studio = MailRules.objects.current(), Studio.objects.current()
    quote = Quote.objects.select_related("booking__client", "acceptance").defer("pdf").get(pk=quote.pk)
    booking = quote.booking
    if rules.sends_receipts and booking.client.email:
        letter = letter_about(booking, "receipt", studio=studio, today=today, quote=quote)
        post(letter, key=f"receipt:{quote.pk}", about=booking.pk, base=base, at=at)
    if rules.tells_us and studio.email:
        letter = letter_about(booking, "accepted", studio=studio, today=today, quote=quote)
        letter = _with_clashes(letter, clashes_of(booking, today=today, zone=studio.zone))
        post(letter, key=f"accepted:{quote.pk}", about=booking.pk, base=base, at=at)


def _with_clashes(letter: Letter, found: Sequence[Clash]) -> Letter:
    """The letter with what the day cannot take before anything else it says, whatever words the studio gave it."""
    sure = [clash.sentence for clash in found if not clash.might]
    # What a job is called is no place for a link.
    said = "\n\n".join(["Look at the day first: it cannot take all its jobs.", *sure]).replace("{link}", "{ link }")
    return replace(letter, text=f"{said}\n\n{letter.text}") if sure else letter


@transaction.atomic
def mail_question(*, question: Question, base: str, today: date, at: datetime) -> None:
    """Word to the studio that a client asked something."""
    studio = Studio.objects.current()
    if MailRules.objects.current().tells_us and studio.email:
        letter = letter_about(question.booking, "question", studio=studio, today=today, question=question)
        post(letter, key=f"question:{question.pk}", about=question.booking_id, base=base, at=at)


@transaction.atomic
def mail_answer(*, question: Question, base: str, today: date, by: User, at: datetime) -> OutgoingMail | None:
    """The answer to the client; None where no address of theirs is known."""
    booking = question.booking
    if not booking.client.email:
        return None
    # The link they asked by shows the answer, unless a newer version has taken its place.
    quote = newest_quote(booking) or question.quote
    studio = Studio.objects.current()
    letter = letter_about(booking, "answer", studio=studio, today=today, quote=quote, question=question)
    return post(letter, key=f"answer:{question.pk}", about=booking.pk, base=base, at=at, by=by)


def post_due_reminders(*, at: datetime) -> int:
    """Remind the clients of open quotes that run out soon, where the studio wants that; how many letters were written.

    Once a quote, by day, and only where its link went out by mail: who was handed it otherwise is not written to.
    """
    days, studio = MailRules.objects.current().remind_days, Studio.objects.current()
    local = at.astimezone(studio.zone)
    if days is None or not FIRST_HOUR <= local.hour < LAST_HOUR:
        return 0
    today = local.date()
    written = 0
    due = (
        Quote.objects.open(today)
        .filter(valid_until__lte=today + timedelta(days=days), booking__stage=Booking.Stage.QUOTED)
        .exclude(booking__client__email="")
        .select_related("booking__client")
        .defer("pdf", "reasons", "told")
    )
    for quote in due.order_by("valid_until", "pk"):
        base = _address_it_went_under(quote)
        if base is not None and _remind(quote, base=base, studio=studio, today=today, at=at):
            written += 1
    return written


def _address_it_went_under(quote: Quote) -> str | None:
    """The address links to this quote begin with; None where it was not mailed, or the client was reminded already."""
    letters = OutgoingMail.objects.filter(about=quote.booking_id, made_at__gte=quote.issued_at)
    if letters.filter(purpose="reminder").exists():
        return None
    sent = letters.filter(purpose="quote", state=OutgoingMail.State.SENT).order_by("-made_at").first()
    return (settings.SITE_ADDRESS or sent.base) if sent else None


@transaction.atomic
def _remind(quote: Quote, *, base: str, studio: Studio, today: date, at: datetime) -> bool:
    key = f"reminder:{quote.pk}"
    if OutgoingMail.objects.filter(key=key).exists():
        return False
    letter = letter_about(quote.booking, "reminder", studio=studio, today=today, quote=quote)
    post(letter, key=key, about=quote.booking_id, base=base, at=at)
    write_history(quote.booking, f"{quote.booking.client.shown_name} was reminded of {quote}.", at=at)
    return True


@transaction.atomic
def keep_words(*, purpose: str, subject: str, text: str) -> MailTemplate:
    """Have letters of a kind say this from now on; the form has checked their fields."""
    return MailTemplate.objects.update_or_create(purpose=purpose, defaults={"subject": subject, "text": text})[0]


@transaction.atomic
def first_words_again(*, purpose: str) -> None:
    """Have letters of a kind say again what they began with."""
    MailTemplate.objects.filter(purpose=purpose).delete()


@transaction.atomic
def keep_rules(*, remind_days: int | None, sends_receipts: bool, tells_us: bool) -> MailRules:
    """Which letters go by themselves."""
    given = {"remind_days": remind_days, "sends_receipts": sends_receipts, "tells_us": tells_us}
    return MailRules.objects.update_or_create(pk=1, defaults=given)[0]
