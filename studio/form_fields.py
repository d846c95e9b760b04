"""What people type: an amount, a number, a share, a wind, a currency, a time zone. Each refusal says the rule.

A refusal names the field, the rule and what was typed, so that it can be read without the form beside it.
"""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from difflib import get_close_matches
from functools import cache
from typing import Any
from zoneinfo import available_timezones

from django import forms
from django.core.exceptions import ValidationError

from studio.money import AmountError, minor_units, parse, show
from studio.units import System

_LONGEST_QUOTED = 40


def refusal(label: object, rule: str, value: object) -> ValidationError:
    """The sentence for a value that breaks a rule: "Margin must be from 0 to 95 (got “120”)."."""
    given = str(value).strip()
    given = given if len(given) <= _LONGEST_QUOTED else given[:_LONGEST_QUOTED] + "…"
    return ValidationError(f"{str(label)[:1].upper()}{str(label)[1:]} must be {rule} (got “{given}”).")


def name_what_is_missing(fields: dict[str, forms.Field]) -> None:
    """Have every required field say by name that it is empty: "Your name is needed."."""
    for field in fields.values():
        field.error_messages["required"] = f"{field.label} is needed."


class MoneyField(forms.Field):
    """An amount typed in the studio's currency, kept in minor units. `currency` is set by the form."""

    currency = "USD"

    def __init__(self, *, least: int = 0, **kwargs: Any) -> None:
        kwargs.setdefault("widget", forms.TextInput(attrs={"inputmode": "decimal", "autocomplete": "off"}))
        self.least = least
        super().__init__(**kwargs)

    def prepare_value(self, value: Any) -> Any:
        """Minor units as an amount; what was typed as it was typed."""
        return show(value, self.currency) if isinstance(value, int) else value

    def to_python(self, value: Any) -> int | None:
        """The amount in minor units, or None where nothing was typed."""
        if value in self.empty_values:
            return None
        try:
            minor = parse(str(value), self.currency)
        except AmountError as error:
            raise refusal(self.label, f"an amount. {error.rule.rstrip('.')}", value) from error
        if minor < self.least:
            raise refusal(self.label, f"{show(self.least, self.currency)} or more", value)
        return minor


class WholeNumberField(forms.IntegerField):
    """A whole number from `least` to `most`."""

    def __init__(self, *, least: int, most: int, **kwargs: Any) -> None:
        kwargs.setdefault("widget", forms.TextInput(attrs={"inputmode": "numeric", "autocomplete": "off"}))
        super().__init__(min_value=least, max_value=most, **kwargs)

    def clean(self, value: Any) -> int | None:
        """The number, or one sentence that says what it may be."""
        if value in self.empty_values:
            return super().clean(value)
        try:
            return super().clean(value)
        except ValidationError as error:
            raise refusal(self.label, f"a whole number from {self.min_value} to {self.max_value}", value) from error


class DecimalNumberField(forms.DecimalField):
    """A number from 0 to `most` with up to three decimals."""

    def __init__(self, *, most: int, **kwargs: Any) -> None:
        kwargs.setdefault("widget", forms.TextInput(attrs={"inputmode": "decimal", "autocomplete": "off"}))
        super().__init__(min_value=Decimal(0), max_value=Decimal(most), max_digits=7, decimal_places=3, **kwargs)

    def prepare_value(self, value: Any) -> Any:
        """A decimal without the zeros it does not need: 30.000 is shown as 30."""
        return f"{value.normalize():f}" if isinstance(value, Decimal) else value

    def clean(self, value: Any) -> Decimal | None:
        """The number, or one sentence that says what it may be; a sign for per cent may stand behind it."""
        if value in self.empty_values:
            return super().clean(value)
        try:
            return super().clean(str(value).strip().removesuffix("%").strip())
        except ValidationError as error:
            rule = f"a number from 0 to {self.max_value}, with at most 3 decimals"
            raise refusal(self.label, rule, value) from error


@dataclass(frozen=True, slots=True)
class Reading:
    """A unit a reading is typed in: how its words are spelt, how to turn one into the unit that is kept, and back."""

    spellings: tuple[str, ...]
    kept: Callable[[Decimal], Decimal]
    shown: Callable[[Decimal], Decimal]


def times(factor: str, *spellings: str) -> Reading:
    """A unit that is so many of the unit that is kept."""
    return Reading(spellings, lambda typed: typed * Decimal(factor), lambda kept: kept / Decimal(factor))


WIND_UNITS: Mapping[str, Reading] = {
    "mph": times("1", "mph", "mi/h"),
    "km/h": times("0.6213711922", "km/h", "kmh", "kph"),
    "m/s": times("2.2369362921", "m/s", "ms"),
    "knots": times("1.1507794480", "knots", "knot", "kn", "kt"),
}
"""Kept in miles an hour."""

TEMPERATURE_UNITS: Mapping[str, Reading] = {
    "°C": times("1", "°c", "c"),
    "°F": Reading(("°f", "f"), lambda f: (f - 32) * 5 / 9, lambda c: c * 9 / 5 + 32),
}
"""Kept in degrees Celsius."""

WEIGHT_UNITS: Mapping[str, Reading] = {
    "g": times("1", "g", "gram", "grams"),
    "kg": times("1000", "kg"),
    "lb": times("453.59237", "lb", "lbs", "pound", "pounds"),
    "oz": times("28.349523125", "oz", "ounce", "ounces"),
}
"""Kept in grams."""

ROOM_UNITS: Mapping[str, Reading] = {
    "ft³": times("1", "ft³", "ft3", "cuft", "cubicfeet"),
    "m³": times("35.314666721", "m³", "m3", "cubicmetres", "cubicmeters"),
}
"""Kept in cubic feet."""

ROOM_TAKEN_UNITS: Mapping[str, Reading] = {
    "l": times("1", "l", "litre", "litres", "liter", "liters"),
    "ft³": times("28.316846592", "ft³", "ft3", "cuft", "cubicfeet"),
    "m³": times("1000", "m³", "m3", "cubicmetres", "cubicmeters"),
}
"""What things take up. Kept in litres."""

_READING = re.compile(r"([-−]?[0-9]{1,6}(?:[.,][0-9]{1,4})?)\s*([^0-9\s].*)?")
_COMMA_OF_THOUSANDS = re.compile(r"[-−]?[1-9][0-9]*,[0-9]{3}")


class ReadingField(forms.CharField):
    """A reading with its unit, as people type it: 20 mph, 32 km/h, 72 °F. One without is in the studio's own.

    It is kept to a tenth, from `low` to `high` in the unit that is kept, and shown to so many `places`. A comma
    before three figures is refused: it is a thousand to one reader and a decimal to another.
    """

    measures: System = "imperial"

    def __init__(
        self,
        *,
        units: Mapping[str, Reading],
        plain: Mapping[System, str],
        low: int,
        high: int,
        places: int = 0,
        **kwargs: Any,
    ) -> None:
        widget = forms.TextInput(attrs={"autocomplete": "off", "autocapitalize": "off", "spellcheck": "false"})
        super().__init__(widget=widget, max_length=40, **kwargs)
        self.units, self.plain, self.low, self.high, self.places = units, plain, low, high, places

    def prepare_value(self, value: Any) -> Any:
        """What is kept in the studio's own unit; what was typed as it was typed."""
        return self.in_words(value) if isinstance(value, Decimal) else value

    def in_words(self, kept: Decimal, unit: str = "") -> str:
        """What is kept, in the studio's own unit."""
        unit = unit or self.plain[self.measures]
        shown = self.units[unit].shown(kept).quantize(Decimal(1).scaleb(-self.places), ROUND_HALF_UP)
        return f"{shown.normalize():f} {unit}"

    def clean(self, value: Any) -> Decimal | None:
        """What is kept, or one sentence with the field, the rule and what was typed."""
        typed: str = super().clean(value)
        if typed in self.empty_values:
            return None
        found = _READING.fullmatch(typed.strip())
        name = found and self._unit((found[2] or "").casefold().replace(" ", ""))
        if not found or not name or _COMMA_OF_THOUSANDS.fullmatch(found[1]):
            raise refusal(self.label, f"a number, with {' or '.join(self.units)} behind it", typed)
        number = Decimal(found[1].replace(",", ".").replace("−", "-"))
        kept = self.units[name].kept(number).quantize(Decimal("0.1"), ROUND_HALF_UP)
        if not self.low <= kept <= self.high:
            low, high = self.in_words(Decimal(self.low), name), self.in_words(Decimal(self.high), name)
            raise refusal(self.label, f"from {low} to {high}", typed)
        return kept

    def _unit(self, word: str) -> str | None:
        if not word:
            return self.plain[self.measures]
        return next((name for name, unit in self.units.items() if word in unit.spellings), None)


class CurrencyField(forms.CharField):
    """The three letters of a currency in use."""

    def __init__(self, **kwargs: Any) -> None:
        attrs = {"autocomplete": "off", "autocapitalize": "characters", "spellcheck": "false", "list": "currencies"}
        super().__init__(widget=forms.TextInput(attrs=attrs), **kwargs)

    def clean(self, value: Any) -> str:
        """The code in capitals."""
        code: str = super().clean(value).strip().upper()
        try:
            minor_units(code)
        except AmountError as error:
            raise refusal(self.label, "a three-letter code in use, such as USD or EUR", value) from error
        return code


# Zones named after a place; the rest of the table (Etc/GMT+3, EST5EDT) is for machines.
_PLACES = ("Africa/", "America/", "Antarctica/", "Asia/", "Atlantic/", "Australia/", "Europe/", "Indian/", "Pacific/")


@cache
def zone_names() -> tuple[str, ...]:
    """The time zones named after places, and UTC, in order."""
    return (*sorted(name for name in available_timezones() if name.startswith(_PLACES)), "UTC")


class TimeZoneField(forms.CharField):
    """A time zone by its name, or by its town alone: “Lisbon” is Europe/Lisbon."""

    def __init__(self, **kwargs: Any) -> None:
        attrs = {"autocomplete": "off", "spellcheck": "false", "list": "time-zones", "data-time-zone": ""}
        super().__init__(widget=forms.TextInput(attrs=attrs), max_length=60, **kwargs)

    def clean(self, value: Any) -> str:
        """The zone's full name."""
        typed: str = super().clean(value).strip()
        if typed in available_timezones():
            return typed
        wanted = typed.casefold().replace(" ", "_")
        named = [name for name in zone_names() if wanted in (name.casefold(), name.casefold().rpartition("/")[2])]
        if len(named) == 1:
            return named[0]
        by_town = {name.rpartition("/")[2].casefold(): name for name in zone_names()}
        near = named or [by_town[town] for town in get_close_matches(wanted.rpartition("/")[2], by_town, 2)]
        raise refusal(self.label, f"a name such as {' or '.join(near[:2]) or 'Europe/Lisbon'}", typed)
