"""What a message says, for the studio that reads it: its country, its colours, its measures."""

from collections.abc import Mapping
from datetime import date

from bookings.reading import Suggestion, country_of, read_message
from stock.models import Colour
from studio.models import Studio


def said_in(message: str, *, studio: Studio, today: date) -> tuple[Suggestion, ...]:
    """Suggestions from a pasted message. Raises `bookings.reading.MessageTooLong`."""
    return read_message(
        message,
        today=today,
        measures=studio.system,
        country=country_of(studio.time_zone, studio.currency),
        palette=tuple(Colour.objects.filter(in_use=True).values_list("name", "swatch")),
        own_mails=(studio.email,),
        own_phones=(studio.phone,),
    )


def beside_fields(found: tuple[Suggestion, ...], typed: Mapping[str, str]) -> dict[str, list[Suggestion]]:
    """The suggestions by the field they stand beside, without those that are `typed` there already.

    A length and a colour have no field of their own: they stand beside the wants, which keep the message.
    """
    beside: dict[str, list[Suggestion]] = {}
    for one in found:
        field = "wants" if one.field in ("length", "colour") else one.field
        if field == "wants" or typed.get(field, "").strip().casefold() != one.value.casefold():
            beside.setdefault(field, []).append(one)
    return beside
