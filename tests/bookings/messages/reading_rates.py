"""How often the reader is right, field by field, over the messages of the table."""

import datetime as dt
import tomllib
from collections import Counter
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from bookings.reading import Suggestion, read_message
from studio.units import System

MONDAY = dt.date(2026, 6, 1)
PALETTE = (
    ("Black", "#1b1b1f"),
    ("White", "#fbfbfb"),
    ("Ivory", "#f4ecd8"),
    ("Sand", "#d8c29d"),
    ("Navy", "#1f2c4d"),
    ("Sky", "#9fcbea"),
    ("Blush", "#f3c6c8"),
    ("Gold", "#c9a24a"),
    ("Silver", "#c3c7cc"),
    ("Sage", "#a9b79a"),
    ("Coral", "#e8765a"),
)
STUDIOS: dict[str, tuple[str, System]] = {"uk": ("GB", "metric"), "us": ("US", "imperial"), "au": ("AU", "metric")}
FIELDS = ("name", "phone", "email", "event_on", "date_text", "ready_by", "place", "budget", "length", "colour")


def messages(table: str = "messages.toml") -> list[dict[str, Any]]:
    """The messages of a table."""
    found: list[dict[str, Any]] = tomllib.loads((Path(__file__).parent / table).read_text())["message"]
    return found


def suggested(text: str, studio: str) -> tuple[Suggestion, ...]:
    """What one of the three studios is told that a message says."""
    country, measures = STUDIOS[studio]
    return read_message(
        text,
        today=MONDAY,
        measures=measures,
        country=country,
        palette=PALETTE,
        own_mails=("hello@ternandtide.example",),
    )


@dataclass(frozen=True)
class Rate:
    """`there` values are in the messages, `found` of them were suggested, and `wrong` others as well."""

    there: int
    found: int
    wrong: int

    @property
    def hits(self) -> float:
        """The share of what is there that was suggested."""
        return self.found / self.there if self.there else 1.0

    @property
    def mistaken(self) -> float:
        """The share of what was suggested that is wrong."""
        told = self.found + self.wrong
        return self.wrong / told if told else 0.0


def missed_and_wrong(message: dict[str, Any]) -> tuple[set[tuple[str, str]], set[tuple[str, str]]]:
    """What a message says that was not suggested, and what was suggested that it does not say."""
    told = {(one.field, one.value) for one in suggested(message["text"], message["studio"])}
    said = {(field, value) for field, values in message["says"].items() for value in values}
    return said - told, told - said


def rates(table: str = "messages.toml") -> dict[str, Rate]:
    """The rate of each field over a table, and of all under "all"."""
    there, missed, wrong = Counter[str](), Counter[str](), Counter[str]()
    for message in messages(table):
        for field, values in message["says"].items():
            there[field] += len(values)
        not_told, not_said = missed_and_wrong(message)
        missed.update(field for field, _ in not_told)
        wrong.update(field for field, _ in not_said)
    each = {field: Rate(there[field], there[field] - missed[field], wrong[field]) for field in FIELDS}
    every = Rate(there.total(), there.total() - missed.total(), wrong.total())
    return each | {"all": every}


def report(table: str = "messages.toml") -> str:
    """The rates as a table to read."""
    lines = [f"{len(messages(table))} messages"]
    lines.append(f"{'field':<10}{'there':>7}{'found':>7}{'wrong':>7}{'hits':>8}{'mistaken':>10}")
    for field, rate in rates(table).items():
        lines.append(f"{field:<10}{rate.there:>7}{rate.found:>7}{rate.wrong:>7}{rate.hits:>8.1%}{rate.mistaken:>10.1%}")
    return "\n".join(lines)
