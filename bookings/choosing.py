"""What a client may choose of a quote, and what each choice comes to.

The page, its script, the acceptance, the invoice and the PDF all take their figures from `agreed`: a choice is one
option and any of the extras, and comes to the sum of what each of them asks. Price, tax and deposit were worked out
for each when the quote was issued, so nothing is rounded here and whoever adds the same integers finds the same total.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass

MOST_OPTIONS = 3
MOST_EXTRAS = 6
ONLY_OPTION = 1
"""The number of the one option of a quote that offers no choice of them."""


class NoSuchChoice(ValueError):
    """The quote does not offer what was chosen; the message is a sentence for the page."""


@dataclass(frozen=True, slots=True)
class Asked:
    """What something asks, in the currency's smallest unit: its price, the tax on it, what of both is the deposit."""

    price: int
    tax: int
    deposit: int

    @property
    def total(self) -> int:
        """Price and tax."""
        return self.price + self.tax

    def __add__(self, other: Asked) -> Asked:
        return Asked(self.price + other.price, self.tax + other.tax, self.deposit + other.deposit)


@dataclass(frozen=True, slots=True)
class Option:
    """One of the ways the job can be done."""

    number: int
    name: str
    asked: Asked


@dataclass(frozen=True, slots=True)
class Extra:
    """What can be had on top of any option; `is_ticked` where the client had it already."""

    number: int
    name: str
    description: str
    asked: Asked
    is_ticked: bool = False


@dataclass(frozen=True, slots=True)
class Choice:
    """One option and the extras on top of it, each by its number."""

    option: int = ONLY_OPTION
    extras: frozenset[int] = frozenset()


@dataclass(frozen=True, slots=True)
class Offer:
    """Everything a quote offers."""

    options: tuple[Option, ...]
    extras: tuple[Extra, ...] = ()

    @property
    def first_choice(self) -> Choice:
        """What is chosen before anybody chooses: the first option, and the extras the client had already."""
        return Choice(self.options[0].number, frozenset(extra.number for extra in self.extras if extra.is_ticked))

    @property
    def is_a_choice(self) -> bool:
        """Whether there is anything to choose."""
        return len(self.options) > 1 or bool(self.extras)


def agreed(offer: Offer, choice: Choice) -> Asked:
    """What a choice comes to. Raises NoSuchChoice for an option or an extra that is not offered."""
    option = next((option for option in offer.options if option.number == choice.option), None)
    if option is None:
        raise NoSuchChoice(f"Option must be one that this quote offers (got {choice.option}).")
    unknown = choice.extras - {extra.number for extra in offer.extras}
    if unknown:
        raise NoSuchChoice(f"Extras must be ones that this quote offers (got {min(unknown)}).")
    asked = option.asked
    for extra in offer.extras:
        if extra.number in choice.extras:
            asked += extra.asked
    return asked


def is_part_of(choice: Choice, *, option: int, extra: int) -> bool:
    """Whether a row of a quote belongs to the choice.

    `option` is the option it is of, 0 for every one; `extra` the extra it is of, 0 for none.
    """
    return extra in choice.extras if extra else option in (0, choice.option)


def most_needed(rows: Iterable[tuple[int, int, int, int]]) -> dict[int, int]:
    """The most of each item that any choice takes, from rows of (option, extra, item, quantity).

    Of an item the dearest option counts, and every extra on top of it: whatever is accepted is then held already.
    """
    by_option: dict[int, dict[int, int]] = {}
    on_top: dict[int, int] = {}
    for option, extra, item, quantity in rows:
        of = on_top if extra else by_option.setdefault(item, {})
        key = item if extra else option
        of[key] = of.get(key, 0) + quantity
    most = {item: max(options.values()) for item, options in by_option.items()}
    return {item: most.get(item, 0) + on_top.get(item, 0) for item in [*most, *(i for i in on_top if i not in most)]}


def needed_of(choice: Choice, rows: Iterable[tuple[int, int, int, int]]) -> dict[int, int]:
    """What the choice takes of each item, from rows of (option, extra, item, quantity)."""
    needed: dict[int, int] = {}
    for option, extra, item, quantity in rows:
        if is_part_of(choice, option=option, extra=extra):
            needed[item] = needed.get(item, 0) + quantity
    return needed


def price_in(option: int, prices: Mapping[str, int], price: int) -> int:
    """A piece's part of the price of an option: `prices` by the option's number where it differs, else `price`."""
    return prices.get(str(option), price)


def numbers(typed: Collection[str]) -> frozenset[int]:
    """Extras as a form sends them. Raises NoSuchChoice for what is not a small whole number."""
    for value in typed:
        if not (value.isascii() and value.isdecimal() and len(value) < 4):
            raise NoSuchChoice(f"Extras must be ones that this quote offers (got “{value[:20]}”).")
    return frozenset(map(int, typed))
