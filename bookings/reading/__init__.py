"""What a pasted message says of a job: suggestions with the words they came from, and nothing decided.

Every reader is a handful of patterns whose repeats are bounded, so that no message can keep one busy.
"""

from collections.abc import Collection, Sequence
from datetime import date

from bookings.reading.country import country_of
from bookings.reading.found import Suggestion
from studio.units import System

__all__ = ["LONGEST", "MessageTooLong", "Suggestion", "country_of", "read_message"]

LONGEST = 20_000
"""Characters of a message that is read. People ask for balloons in a few hundred."""

MONTH_FIRST = {"US", "PH", "PW", "FM", "MH"}
"""Countries that write the month before the day in figures (common practice, no source)."""


class MessageTooLong(ValueError):
    """More than anybody writes to a studio: it is refused before it is read."""

    def __init__(self, characters: int) -> None:
        super().__init__(
            f"A message is read up to {LONGEST:,} characters; this one has {characters:,}. "
            "Paste the part that is about the job."
        )


def read_message(
    text: str,
    *,
    today: date,
    measures: System,
    country: str,
    palette: Sequence[tuple[str, str]] = (),
    own_mails: Collection[str] = (),
    own_phones: Collection[str] = (),
) -> tuple[Suggestion, ...]:
    """What the message may say, field by field, in the order of a form.

    `country` (ISO 3166, two letters) decides how phone numbers and days in figures are written, `palette` are the
    studio's colours by name and swatch. Raises `MessageTooLong`.
    """
    if len(text) > LONGEST:
        raise MessageTooLong(len(text))
    # Making all their patterns takes a tenth of a second, which nobody waits for but who reads a first message.
    from bookings.reading.colours import colours_in, names_of
    from bookings.reading.dates import Order, dates_in
    from bookings.reading.envelope import hide, opened
    from bookings.reading.measures import budgets_in, lengths_in
    from bookings.reading.people import mails_in, names_in, phones_in
    from bookings.reading.places import places_in
    from bookings.reading.times import times_in

    body, sender = opened(text)
    mails = mails_in(body, own=own_mails)
    for one in mails:
        body = hide(body, one.start, one.end)
    order: Order = "month first" if country in MONTH_FIRST else "day first"
    dates = dates_in(body, today=today, order=order)
    phones = phones_in(body, country=country, own=own_phones, taken=dates)
    for one in phones:
        body = hide(body, one.start, one.end)
    lengths = lengths_in(body, measures=measures)
    rest = body
    for one in (*dates, *lengths):
        rest = hide(rest, one.start, one.end)
    times = times_in(rest)
    colours = colours_in(body, palette=palette)
    names = names_in(body, sender, colours=tuple(names_of(colours)))
    colours = tuple(one for one in colours if not one.overlaps(names))
    for one in times:
        rest = hide(rest, one.start, one.end)
    return (*names, *phones, *mails, *dates, *times, *places_in(rest), *budgets_in(rest), *lengths, *colours)
