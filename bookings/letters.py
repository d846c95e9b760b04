"""What letters are about, and the words a studio begins with: text with a few named fields, nothing else.

A field is a name in braces. It is exchanged for what it stands for, once: what it stands for is never looked through
for fields again, and no name reaches anything but the short list it is looked up in.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass

FIELDS: Mapping[str, tuple[str, str]] = {
    "client": ("the client’s name", "Ines Vale"),
    "studio": ("your studio’s name", "your studio"),
    "title": ("what the job is called", "Winter gala"),
    "day": ("the event’s day", "Saturday 12 December 2026"),
    "place": ("where it is", "Corn Hall"),
    "link": ("the button to their page", "the button to their page"),
    "total": ("the total", "$1,342.30"),
    "deposit": ("the deposit the quote asks", "$671.15"),
    "open_until": ("the quote’s last day", "Monday 15 June"),
    "due": ("the amount that is due", "$671.15"),
    "due_day": ("the day it is due", "Friday 5 June"),
    "pay_to": ("how to pay you, from the money terms", "Harbour Bank, account 0142"),
    "accepted_by": ("the name typed on accepting", "Ines Vale"),
    "question": ("what was asked", "Can the garland go over the bar as well?"),
    "answer": ("your answer", "Yes: it is 6 ft longer then. We send you a new quote."),
}
"""Every field: what it stands for, and an example."""

_FIELD = re.compile(r"\{([^{}\n]*)\}")
_JOB = ("client", "studio", "title", "day", "place")


@dataclass(frozen=True, slots=True)
class Purpose:
    """A kind of letter: when it goes, which fields it may have and which it must, its button, its first words."""

    name: str
    label: str
    when: str
    fields: tuple[str, ...]
    button: str
    subject: str
    text: str
    needs: tuple[str, ...] = ()
    is_to_us: bool = False


_ALL = [
    Purpose(
        "quote", "The quote", "You send it from the quote’s page.",
        (*_JOB, "link", "total", "deposit", "open_until"), "See your quote",
        "Your quote from {studio}: {title}",
        "Hello {client},\n\nthank you for asking us. Here is your quote for {title}, with a picture of what we would "
        "make.\n\n{link}\n\nIt is open until {open_until}. You can accept it or ask us something right there.\n\n"
        "Warm regards\n{studio}",
        needs=("link",),
    ),
    Purpose(
        "reminder", "A reminder", "You send it, or it goes by itself some days before the quote runs out.",
        (*_JOB, "link", "total", "deposit", "open_until"), "See your quote",
        "Your quote is open until {open_until}",
        "Hello {client},\n\nour quote for {title} is open until {open_until}. After that we cannot promise the date or "
        "the balloons.\n\n{link}\n\nIf something is not right yet, tell us: we are glad to change it.\n\n"
        "Warm regards\n{studio}",
        needs=("link",),
    ),
    Purpose(
        "receipt", "You said yes", "It goes to the client when they accept.",
        (*_JOB, "link", "total", "due", "due_day", "pay_to", "accepted_by"), "See what you agreed to",
        "Your date is booked: {title}",
        "Hello {client},\n\nthank you! {title} is booked, and your balloons are set aside. The total is {total}; "
        "{due} of it is due by {due_day}.\n\n{pay_to}\n\n{link}\n\nKeep this letter: the page always shows what you "
        "agreed to.\n\nWarm regards\n{studio}",
        needs=("link",),
    ),
    Purpose(
        "accepted", "A client said yes", "It goes to you when a client accepts.",
        (*_JOB, "link", "total", "accepted_by"), "Open the booking",
        "{client} said yes: {title}",
        "{accepted_by} accepted the quote for {title}, {day}. The total is {total}. The balloons are held.\n\n{link}",
        is_to_us=True,
    ),
    Purpose(
        "deposit", "The deposit", "You send it while the deposit is not paid.",
        (*_JOB, "link", "total", "due", "due_day", "pay_to"), "See what you agreed to",
        "Deposit for {title}: {due}, due by {due_day}",
        "Hello {client},\n\nthe deposit of {due} for {title} is due by {due_day}. It holds your date.\n\n{pay_to}\n\n"
        "{link}\n\nIf it is on its way already, thank you: please take no notice of this.\n\nWarm regards\n{studio}",
    ),
    Purpose(
        "balance", "The balance", "You send it while the balance is not paid.",
        (*_JOB, "link", "total", "due", "due_day", "pay_to"), "See what you agreed to",
        "Balance for {title}: {due}, due by {due_day}",
        "Hello {client},\n\nwe are looking forward to {day}. The balance of {due} for {title} is due by {due_day}."
        "\n\n{pay_to}\n\n{link}\n\nIf it is on its way already, thank you: please take no notice of this.\n\n"
        "Warm regards\n{studio}",
    ),
    Purpose(
        "question", "A client’s question", "It goes to you when a client asks something on their page.",
        (*_JOB, "link", "question"), "Answer it",
        "{client} asks about {title}",
        "{client} asks:\n\n{question}\n\n{link}",
        needs=("question",), is_to_us=True,
    ),
    Purpose(
        "answer", "Your answer", "It goes to the client when you answer.",
        (*_JOB, "link", "question", "answer"), "See it beside your quote",
        "Our answer about {title}",
        "Hello {client},\n\nyou asked:\n\n{question}\n\nOur answer:\n\n{answer}\n\n{link}\n\nWarm regards\n{studio}",
        needs=("answer",),
    ),
    Purpose(
        "thanks", "Thank you", "You send it when the job is done.",
        _JOB, "",
        "Thank you, from {studio}",
        "Hello {client},\n\nthank you for having us at {title}. We hope the balloons made you smile.\n\nIf you took "
        "pictures, we would love to see them.\n\nWarm regards\n{studio}",
    ),
]  # fmt: skip

PURPOSES: Mapping[str, Purpose] = {purpose.name: purpose for purpose in _ALL}
"""Every kind of letter by its name."""

BY_HAND = ("quote", "reminder", "deposit", "balance", "thanks")
"""What the owner writes from a booking's page."""


def refused_fields(text: str, purpose: Purpose) -> list[str]:
    """What stands in braces and is no field of this letter, as it was typed, each once."""
    return [name for name in dict.fromkeys(_FIELD.findall(text)) if name not in purpose.fields]


def missing_fields(text: str, purpose: Purpose) -> list[str]:
    """What the letter would be of no use without, and does not say."""
    there = set(_FIELD.findall(text))
    return [name for name in purpose.needs if name not in there]


def in_braces(names: tuple[str, ...] | list[str]) -> str:
    """“{client}, {day} and {link}”."""
    said = [f"{{{name}}}" for name in names]
    return said[0] if len(said) == 1 else f"{', '.join(said[:-1])} and {said[-1]}"


def fill(text: str, values: Mapping[str, str]) -> str:
    """The text with each field that has a value exchanged for it, and no gap where one is empty. Others stay."""
    filled = _FIELD.sub(lambda found: _value(values, found[1], found[0]), text)
    return re.sub(r"\n{3,}", "\n\n", filled).strip()


def _value(values: Mapping[str, str], name: str, as_typed: str) -> str:
    # What somebody else wrote names no link of ours.
    return values[name].replace("{link}", "link") if name in values else as_typed


def example(text: str, studio: str) -> str:
    """The text as a client would read it, with an invented job."""
    return fill(text, {name: said for name, (_, said) in FIELDS.items() if name != "link"} | {"studio": studio})
