"""What was found in a message, and the parts of speech that every reader shares."""

import re
from collections.abc import Iterable
from dataclasses import dataclass

HIDDEN = "\x00"
"""Stands where something was that must not be read again: it is neither a space nor part of a word."""


@dataclass(frozen=True)
class Suggestion:
    """One thing that the message may say.

    `field` is what it is of: name, phone, email, event_on, date_text, ready_by, place, budget, length or colour.
    `value` is what a form takes, `shown` how it is read aloud. The words it came from are `message[start:end]`, and
    `said` without what is around them. `note` says what had to be assumed. Two suggestions of the same words are a
    choice.
    """

    field: str
    value: str
    shown: str
    start: int
    end: int
    said: str
    note: str = ""

    def overlaps(self, others: "Iterable[Suggestion]") -> bool:
        """Whether it shares words with any of the others."""
        return any(self.start < other.end and other.start < self.end for other in others)


SMALL_NUMBERS = {
    word: number
    for number, words in enumerate(
        [
            "zero",
            "one,a,an",
            "two",
            "three",
            "four",
            "five",
            "six",
            "seven",
            "eight",
            "nine",
            "ten",
            "eleven",
            "twelve",
            "thirteen",
            "fourteen",
            "fifteen",
            "sixteen",
            "seventeen",
            "eighteen",
            "nineteen",
            "twenty",
        ]
    )
    for word in words.split(",")
} | {"thirty": 30, "forty": 40, "fifty": 50, "a couple of": 2, "couple of": 2}

NUMBER_WORDS = "|".join(sorted((re.escape(word) for word in SMALL_NUMBERS if word != "zero"), key=len, reverse=True))

COUNTED = (
    r"(?:people|persons?|guests?|kids?|children|adults?|ppl|pax|heads?|seats?|tables?|balloons?|columns?|bunch(?:es)?|"
    r"bouquets?|garlands?|arch(?:es)?|pieces?|centrepieces?|centerpieces?|staff|students?|of\s+us|friends|folks?|"
    r"hours?|"
    r"hrs?|mins?|minutes?|days?|weeks?|months?|years?|yrs?|yo|miles?|km|%|percent|per\s+cent|degrees)\b"
)
"""What a number counts: after it, the number is no day, no time and no budget."""

LENGTH_UNITS = (
    r"(?:ft|foot|feet|inch(?:es)?|ins?|metres?|meters?|millimetres?|centimetres?|centimeters?|mm|cm|m|yards?|yds?)"
)

MONTH_NAMES = (
    "january february march april may june july august september october november december".split()  # noqa: SIM905
)
MONTHS = {name: number for number, name in enumerate(MONTH_NAMES, 1)}
MONTHS |= {name[:3]: number for name, number in MONTHS.items()} | {"sept": 9}

WEEKDAY_NAMES = "monday tuesday wednesday thursday friday saturday sunday".split()  # noqa: SIM905
WEEKDAYS = {name: number for number, name in enumerate(WEEKDAY_NAMES)}
WEEKDAYS |= {name[:3]: number for name, number in WEEKDAYS.items()}
WEEKDAYS |= {"tues": 1, "weds": 2, "thur": 3, "thurs": 3}


MOST_READ = 40
"""So many of one field are enough: a message with more is none, and would only be slow."""


def one_of(words: Iterable[str]) -> str:
    """A pattern for any of the words, the longest first."""
    return "(?:" + "|".join(sorted((re.escape(word) for word in words), key=len, reverse=True)) + ")"


MONTH, WEEKDAY = one_of(MONTHS), one_of(WEEKDAYS)


def number_of(text: str) -> int:
    """ "3", "three" or "a" as a number. It has been matched, so it is one."""
    bare = " ".join(text.lower().split())
    return int(bare) if bare.isdigit() else SMALL_NUMBERS[bare]


def tidy(words: str) -> str:
    """Words on one line, without the punctuation around them."""
    return " ".join(words.split()).strip(" ,.;:!?-–—")


def distinct(found: Iterable[Suggestion], most: int = 4) -> tuple[Suggestion, ...]:
    """In the order of the message, each value once, at most so many."""
    first: dict[str, Suggestion] = {}
    for one in sorted(found, key=lambda one: one.start):
        first.setdefault(one.value.casefold(), one)
    return tuple(first.values())[:most]
