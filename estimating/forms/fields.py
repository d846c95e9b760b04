"""Fields for what people type about a piece: a length, shares of a hundred.

A refusal names the field, the rule and what was typed, so that it can be read without the form beside it.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from estimating.specs import SIZES
from studio.form_fields import refusal
from studio.money import shares
from studio.units import LengthError, PlainUnit, System, parse_length, show_length

FOOT = Decimal("304.8")
_LONGEST_QUOTED = 40
_FAR = re.compile(r"0*[1-9][0-9.,]*\s*(?:km|kilomet(?:re|er)s?|mi|miles?)", re.IGNORECASE)
"""Lengths in units nobody hangs balloons by: understood, and refused for what they are."""


def is_size(key: str) -> bool:
    """Whether a posted key is a nominal size that balloons come in."""
    return key.isdecimal() and len(key) < 4 and int(key) in SIZES


def _short(typed: str) -> str:
    return typed if len(typed) <= _LONGEST_QUOTED else typed[:_LONGEST_QUOTED] + "…"


class LengthField(forms.CharField):
    """A length as people type it, from `low` to `high` (millimetres); cleaned to millimetres, exactly."""

    measures: System = "imperial"

    def __init__(self, *, low: Decimal, high: Decimal, plain: Mapping[System, PlainUnit], **kwargs: Any) -> None:
        widget = forms.TextInput(attrs={"autocomplete": "off", "autocapitalize": "off", "spellcheck": "false"})
        super().__init__(widget=widget, **kwargs)
        self.low, self.high, self.plain = low, high, plain

    def prepare_value(self, value: Any) -> Any:
        """Millimetres as a length in the studio's measures; what was typed as it was typed."""
        return show_length(value, self.measures) if isinstance(value, Decimal) else value

    def clean(self, value: Any) -> Decimal | None:
        """The millimetres, or one sentence with the field, the rule and what was typed."""
        typed: str = super().clean(value)
        if typed in self.empty_values:
            return None
        if typed == "0" and not self.low:
            return Decimal(0)
        if _FAR.fullmatch(typed):
            raise self._outside(typed, "more")
        try:
            mm = parse_length(typed, plain_number_is=self.plain[self.measures]).mm
        except LengthError as error:
            if "must be" in error.rule:
                raise self._outside(typed, "more" if "at most" in error.rule else "less") from error
            said = error.rule.replace("A length", "It", 1)
            raise ValidationError(f"{self.label} “{_short(typed)}” is not understood. {said}") from error
        if not self.low <= mm <= self.high:
            raise self._outside(typed, "more" if mm > self.high else "less")
        return mm

    def _outside(self, typed: str, is_what: str) -> ValidationError:
        limits = f"from {self._limit(self.low)} to {self._limit(self.high)}"
        return ValidationError(f"{self.label} must be {limits}; {_short(typed)} is {is_what}.")

    def _limit(self, mm: Decimal) -> str:
        if self.measures == "imperial" and mm % FOOT == 0:
            return f"{mm / FOOT:.0f} ft"
        return show_length(mm, self.measures)


class SharesWidget(forms.Widget):
    """Reads one share for each thing: `sizes-5`, `sizes-11`, and so on."""

    def value_from_datadict(self, data: Mapping[str, Any], files: Any, name: str) -> dict[str, str]:
        """What was typed for each thing, in the order it was sent."""
        start = f"{name}-"
        return {key.removeprefix(start): str(said).strip() for key, said in data.items() if key.startswith(start)}


class SharesField(forms.Field):
    """Whole percents of several things that add up to 100; what has none is left out. `one` names one of the things.

    With `in_turn` they are how many of each come one after the other, and add up to whatever they do.
    """

    widget = SharesWidget
    in_turn = False

    def __init__(self, *, one: str, most: int, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self.one, self.most = one, most

    def clean(self, value: dict[str, str]) -> list[tuple[str, int]]:
        """Each thing with its percent, or its number in turn."""
        given: list[tuple[str, int]] = []
        for key, typed in value.items():
            percent = whole_percent(typed)
            if percent is None:
                raise refusal(f"each share of {self.label}", "a whole number from 0 to 100", typed)
            if percent:
                given.append((key, percent))
        if not given:
            raise ValidationError(f"{self.label} are missing: give at least one {self.one} a share.")
        if len(given) > self.most:
            raise ValidationError(f"{self.label} can be {self.most} at most; {len(given)} have a share.")
        total = sum(percent for _, percent in given)
        if total != 100 and not self.in_turn:
            gap = f"{100 - total} % is missing" if total < 100 else f"{total - 100} % is too much"
            raise ValidationError(f"{self.label} add up to {total} %: {gap}.", code="uneven")
        return given


def whole_percent(typed: str) -> int | None:
    """The percent somebody typed, 0 for nothing, or None where it is no whole number from 0 to 100."""
    plain = typed.removesuffix("%").strip()
    if not plain:
        return 0
    return int(plain) if plain.isdecimal() and len(plain) < 4 and int(plain) <= 100 else None


def evened(typed: Mapping[str, str], total: int = 100) -> dict[str, str]:
    """The shares scaled to `total` by largest remainder; what is none or no number stays as it was typed."""
    percents = {key: percent for key, said in typed.items() if (percent := whole_percent(said))}
    if not percents:
        return dict(typed)
    scaled = shares(total, list(percents.values()))
    return dict(typed) | {key: str(percent) for key, percent in zip(percents, scaled, strict=True)}


def with_one_more(typed: Mapping[str, str], key: str, most: int) -> dict[str, str]:
    """The shares with a fair one for `key`, the others making room; as they were where there are `most` already."""
    others = {other: said for other, said in typed.items() if other != key}
    if len(others) >= most or whole_percent(typed.get(key, "")):
        return dict(typed)
    sharing = sum(1 for said in others.values() if whole_percent(said))
    fair = round(100 / (sharing + 1))
    return evened(others, 100 - fair) | {key: str(fair)}


def with_one_fewer(typed: Mapping[str, str], key: str) -> dict[str, str]:
    """The shares without `key`, the others taking its part."""
    return evened({other: said for other, said in typed.items() if other != key})
