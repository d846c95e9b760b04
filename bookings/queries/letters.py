"""Letters about a booking, in the studio's words: what they say now, and which of them can be written."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from bookings.letters import PURPOSES, Purpose, fill
from bookings.models import Booking, MailTemplate, MoneyTerms, Question, Quote
from bookings.owing import Open
from bookings.queries.agreed import agreed_of, offer_of
from bookings.queries.day_words import day_words
from bookings.queries.money import open_dues_of, standing
from bookings.queries.quotes import light, link_of, state_of
from studio.models import Studio
from studio.money import show
from studio.outbox.links import NoSuchLink
from studio.outbox.queue import Letter


@dataclass(frozen=True, slots=True)
class Words:
    """A kind of letter in the words it has now; `is_own` where the studio wrote them."""

    purpose: Purpose
    subject: str
    text: str
    is_own: bool


def words_of(purpose: str) -> Words:
    """The studio's words for a kind of letter, or those it began with. Raises KeyError for an unknown kind."""
    kind = PURPOSES[purpose]
    own = MailTemplate.objects.filter(purpose=purpose).first()
    return Words(kind, own.subject, own.text, True) if own else Words(kind, kind.subject, kind.text, False)


def all_words() -> list[Words]:
    """Every kind of letter in the words it has now."""
    own = {row.purpose: row for row in MailTemplate.objects.all()}
    return [
        Words(kind, own[name].subject, own[name].text, True)
        if name in own
        else Words(kind, kind.subject, kind.text, False)
        for name, kind in PURPOSES.items()
    ]


def letter_about(
    booking: Booking,
    purpose: str,
    *,
    studio: Studio,
    today: date,
    quote: Quote | None = None,
    question: Question | None = None,
) -> Letter:
    """A letter as it would be sent, {link} still in place. `quote` is what it is about, else the newest there is."""
    words = words_of(purpose)
    quote = quote or newest_quote(booking)
    values = {name: _in_one_line(said) for name, said in _values(booking, purpose, quote, studio, today).items()}
    if question is not None:
        values |= {"question": question.text, "answer": question.answer}
    to_us = words.purpose.is_to_us
    leads = f"booking:{booking.pk}" if to_us else f"quote:{quote.pk}" if quote and words.purpose.button else ""
    text = words.text if leads else words.text.replace("{link}", "")
    return Letter(
        purpose=purpose,
        to_address=studio.email if to_us else booking.client.email,
        to_name=studio.name if to_us else booking.client.name,
        subject=fill(words.subject, values),
        text=fill(text, values),
        link_name=leads,
        button=words.purpose.button,
    )


def _in_one_line(said: str) -> str:
    return " ".join(said.split())


def newest_quote(booking: Booking) -> Quote | None:
    """The newest version there is to be seen: neither withdrawn nor replaced."""
    shown = booking.quotes.filter(withdrawn_at__isnull=True, replaced_at__isnull=True)
    return light(shown).select_related("booking", "acceptance").order_by("-version").first()


def _newest_shown(quotes: Sequence[Quote]) -> Quote | None:
    shown = (quote for quote in quotes if quote.withdrawn_at is None and quote.replaced_at is None)
    return max(shown, key=lambda quote: quote.version, default=None)


def _values(booking: Booking, purpose: str, quote: Quote | None, studio: Studio, today: date) -> Mapping[str, str]:
    """What each field stands for, for this booking today."""
    values = {
        "client": booking.client.name or "there",
        "studio": studio.name,
        "title": booking.title or "your event",
        "day": day_words(booking) if booking.event_on or booking.date_text else "your day",
        "place": booking.place,
        "pay_to": MoneyTerms.objects.current().pay_to,
    }
    due = _due_for(booking, purpose)
    values |= {
        "due": show(due.left, studio.currency) if due else "nothing",
        "due_day": _long(due.due.on) if due and due.due.on != today else "today",
    }
    if quote is None:
        return values | {"total": "", "deposit": "", "open_until": "", "accepted_by": ""}
    total, deposit = _asked(quote)
    yes = getattr(quote, "acceptance", None)
    return values | {
        "total": total,
        "deposit": deposit,
        "open_until": _long(quote.valid_until),
        "accepted_by": yes.name if yes else "",
    }


def _asked(quote: Quote) -> tuple[str, str]:
    """The total and the deposit: as agreed, as offered, or from the least that an option asks."""
    if hasattr(quote, "acceptance"):
        agreed = agreed_of(quote)
        return show(agreed.total, quote.currency), show(agreed.deposit, quote.currency)
    options = [option.asked for option in offer_of(quote).options]
    least = min(options, key=lambda asked: asked.total)
    before = "from " if len(options) > 1 else ""
    return before + show(least.total, quote.currency), before + show(least.deposit, quote.currency)


def _due_for(booking: Booking, purpose: str) -> Open | None:
    """What a letter about money asks for: its own kind of due, in others the next one."""
    return _next_due(open_dues_of(booking, standing(booking.pk).settled), purpose)


def _next_due(still: Sequence[Open], purpose: str) -> Open | None:
    if purpose in ("deposit", "balance"):
        still = [one for one in still if one.due.what.lower() == purpose]
    return next((one for one in still if one.left), None)


def _long(day: date) -> str:
    return f"{day:%A} {day.day} {day:%B}"


def can_be_written(
    booking: Booking, *, today: date, quotes: Sequence[Quote] | None = None, open_dues: Sequence[Open] | None = None
) -> list[Purpose]:
    """The letters that make sense now, the first the most likely.

    `quotes` are all versions of its quote and `open_dues` what it owes, where the caller has read them.
    """
    quote = newest_quote(booking) if quotes is None else _newest_shown(quotes)
    found = []
    if quote and state_of(quote, today=today) == "open":
        found += ["quote", "reminder"]
    if booking.stage in (Booking.Stage.BOOKED, Booking.Stage.DONE):
        still = open_dues_of(booking, standing(booking.pk).settled) if open_dues is None else open_dues
        found += [kind for kind in ("deposit", "balance") if _next_due(still, kind)]
    if booking.stage == Booking.Stage.DONE:
        found.append("thanks")
    return [PURPOSES[name] for name in found]


def path_of_quote(of: str) -> str:
    """Where a letter's "quote:12" leads: the client's page, its token made anew. Raises NoSuchLink."""
    quote = Quote.objects.only("link_salt").filter(pk=int(of)).first() if of.isdecimal() else None
    if quote is None:
        raise NoSuchLink("The quote this letter is about is not there any more.")
    return link_of(quote)
