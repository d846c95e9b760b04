"""What is typed while a job is loaded, and when it is over."""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django import forms
from django.forms import BoundField

from bookings.actions import Counted, KitBack, Told
from bookings.actions.wrapup import MOST_MINUTES
from bookings.models import WrapUp, WrapUpLine
from bookings.queries.wrapup import WrapUpRow
from estimating.hours import PART_NAMES
from stock.actions.ledger import MOST
from stock.models import KitPromise
from studio.form_fields import WholeNumberField, refusal

_LARGEST_KEY = 2**63 - 1
MOST_BARE_HOURS = 12
"""A number with nothing beside it is hours up to here: nearly always less is worked in one part of a job."""


class TickForm(forms.Form):
    """A line of a pull list, and how many were taken where it is not what was asked. Lot 0 is what is of no lot."""

    item = forms.IntegerField(min_value=1, max_value=_LARGEST_KEY)
    lot = forms.IntegerField(min_value=0, max_value=_LARGEST_KEY)
    taken = WholeNumberField(label="Taken", least=0, most=MOST, required=False)

    @property
    def lot_key(self) -> int | None:
        """The lot's key; None for what is of no lot."""
        return self.cleaned_data["lot"] or None


def clock_words(minutes: int) -> str:
    """Minutes as hours are written: “2:45”."""
    return f"{minutes // 60}:{minutes % 60:02d}"


class HoursField(forms.Field):
    """A time worked, as hours and minutes (2:45, 2 h 45, 45 min) or hours (2.75), from 0 to 200 hours; kept in minutes.

    Left empty it is what was filled in. Who types a bare 45 may mean either, and is asked.
    """

    _CLOCK = re.compile(r"(?:(\d{1,4})\s*(?:h|hours?|:)\s*)?(?:(\d{1,4})\s*(?:m|min|minutes?)?)?", re.IGNORECASE)
    _HOURS = re.compile(r"(\d{1,4}(?:[.,]\d{1,3})?)\s*(?:h|hours?)?", re.IGNORECASE)

    def __init__(self, *, usual: int, **kwargs: Any) -> None:
        self.usual = usual
        attrs = {"autocomplete": "off", "data-hours": "", "enterkeyhint": "next"}
        super().__init__(required=False, initial=usual, widget=forms.TextInput(attrs), **kwargs)

    def prepare_value(self, value: Any) -> Any:
        """Minutes as they are typed; what was typed as it was typed."""
        return clock_words(value) if isinstance(value, int) else value

    def to_python(self, value: Any) -> int:
        """The minutes."""
        typed = str(value).strip() if value is not None else ""
        if not typed:
            return self.usual
        minutes = self._minutes(typed)
        if re.fullmatch(r"\d+", typed) and int(typed) > MOST_BARE_HOURS:
            raise refusal(self.label, f"a time such as 2:45: write {typed[:4]} min or {typed[:4]} h", typed)
        if minutes is None or not 0 <= minutes <= MOST_MINUTES:
            raise refusal(self.label, f"a time from 0:00 to {MOST_MINUTES // 60} hours, such as 2:45", typed)
        return minutes

    def _minutes(self, typed: str) -> int | None:
        if hours := self._HOURS.fullmatch(typed):
            return round(float(hours[1].replace(",", ".")) * 60)
        clock = self._CLOCK.fullmatch(typed)
        if clock is None or not any(clock.groups()):
            return None
        return int(clock[1] or 0) * 60 + int(clock[2] or 0)


@dataclass(frozen=True, slots=True)
class KitFields:
    """One promise of kit that is out, with the fields for what became of it."""

    promise: KitPromise
    back: BoundField
    broken: BoundField
    lost: BoundField
    damage: BoundField

    @property
    def errors(self) -> list[str]:
        """What is wrong with any of them."""
        return [str(error) for field in (self.back, self.broken, self.lost, self.damage) for error in field.errors]


@dataclass(frozen=True, slots=True)
class WrapUpFields:
    """One item of the wrap-up, with its three fields."""

    row: WrapUpRow
    used: BoundField
    popped: BoundField
    home: BoundField

    @property
    def errors(self) -> list[str]:
        """What is wrong with any of them."""
        return [str(error) for field in (self.used, self.popped, self.home) for error in field.errors]


class WrapUpForm(forms.Form):
    """What became of every item a job took: used, popped and brought home, each filled in with what is likely."""

    went = forms.ChoiceField(
        label="How it went",
        choices=WrapUp.Went.choices,
        initial=WrapUp.Went.WELL,
        required=False,
        widget=forms.RadioSelect,
    )
    note = forms.CharField(
        label="In a few words",
        max_length=400,
        required=False,
        widget=forms.TextInput({"autocomplete": "off", "placeholder": "what to remember next time"}),
    )
    stage = forms.CharField(max_length=20, required=False, widget=forms.HiddenInput)
    untimed = forms.BooleanField(
        label="Nobody kept the time: these hours should teach the estimates nothing", required=False
    )
    found_us = forms.CharField(
        label="How they found you",
        max_length=120,
        required=False,
        widget=forms.TextInput({"autocomplete": "off", "placeholder": "a friend, a fair, our page"}),
    )

    def __init__(
        self,
        *args: Any,
        rows: Sequence[WrapUpRow],
        hours: Mapping[str, int] | None = None,
        kit: Sequence[KitPromise] = (),
        asks_how_found: bool = False,
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        self.rows, self.kit, self.parts = rows, kit, dict(hours or {})
        if not asks_how_found:
            del self.fields["found_us"]
        for row in rows:
            self._add_row(row)
        for part, minutes in self.parts.items():
            self.fields[f"hours_{part}"] = HoursField(label=PART_NAMES[part], usual=minutes)
        for promise in kit:
            self._add_kit(promise)

    def _add_row(self, row: WrapUpRow) -> None:
        for word, name, initial in (
            ("used", "used", row.used),
            (row.item.lost_word, "popped", 0),
            ("brought home", "home", row.home),
        ):
            label = f"{row.item.label}: {word}"
            field = WholeNumberField(label=label, least=0, most=row.taken, initial=initial)
            field.error_messages["required"] = f"{label} is needed; nothing was typed. Type 0 where there are none."
            field.widget.attrs |= {"data-part": name, "enterkeyhint": "next"}
            self.fields[f"{name}_{row.item.pk}"] = field

    def _add_kit(self, promise: KitPromise) -> None:
        name, most = promise.kit.name, promise.quantity
        key = promise.pk
        self.fields[f"back_{key}"] = forms.BooleanField(label=f"{most:,} {name} back", required=False, initial=True)
        for word in ("broken", "lost"):
            field = WholeNumberField(label=f"{name}: {word}", least=0, most=most, required=False, initial=0)
            self.fields[f"{word}_{key}"] = field
        self.fields[f"damage_{key}"] = forms.CharField(
            label=f"{name}: what happened",
            max_length=160,
            required=False,
            widget=forms.TextInput({"autocomplete": "off"}),
        )

    def hours_fields(self) -> list[BoundField]:
        """The parts of the work, each with its field."""
        return [self[f"hours_{part}"] for part in self.parts]

    def kit_fields(self) -> list[KitFields]:
        """The kit that is out, each with its fields."""
        return [
            KitFields(promise, *(self[f"{name}_{promise.pk}"] for name in ("back", "broken", "lost", "damage")))
            for promise in self.kit
        ]

    def lines(self) -> Iterator[WrapUpFields]:
        """The items, each with its fields."""
        for row in self.rows:
            yield WrapUpFields(row, *(self[f"{name}_{row.item.pk}"] for name in ("used", "popped", "home")))

    def clean(self) -> dict[str, Any]:
        """No more of an item than was taken."""
        cleaned = self.cleaned_data
        for row in self.rows:
            figures = [cleaned.get(f"{name}_{row.item.pk}") for name in ("used", "popped", "home")]
            known = [figure for figure in figures if figure is not None]
            if sum(known) > row.taken:
                self.add_error(
                    f"home_{row.item.pk}",
                    f"{row.item.label}: used, {row.item.lost_word} and brought home must be at most {row.taken:,} "
                    f"together, what was taken (got {sum(known):,}).",
                )
        hours = [cleaned.get(f"hours_{part}") for part in self.parts]
        if hours and not any(self.errors.get(f"hours_{part}") for part in self.parts) and not sum(filter(None, hours)):
            self.add_error(f"hours_{next(iter(self.parts))}", "The hours must be above 0 in all (got 0:00).")
        return cleaned

    @property
    def told(self) -> Told:
        """How it went, as it was told."""
        given = self.cleaned_data
        return Told(
            hours={part: given[f"hours_{part}"] for part in self.parts} or None,
            timed=not given["untimed"],
            went=given["went"] or WrapUp.Went.WELL,
            note=given["note"],
            kit={
                promise.pk: KitBack(
                    given[f"broken_{promise.pk}"] or 0,
                    given[f"lost_{promise.pk}"] or 0,
                    given[f"damage_{promise.pk}"],
                )
                for promise in self.kit
                if given[f"back_{promise.pk}"]
            },
            found_us=given.get("found_us", ""),
        )

    @property
    def counted(self) -> dict[int, Counted]:
        """Item key to its figures."""
        return {
            row.item.pk: Counted(*(self.cleaned_data[f"{name}_{row.item.pk}"] for name in ("used", "popped", "home")))
            for row in self.rows
        }


class CorrectionForm(forms.Form):
    """So many of an item came home after all, or are not there after all."""

    item = forms.TypedChoiceField(label="What", coerce=int)
    way = forms.ChoiceField(
        label="What is so",
        choices=[("home", "came home after all"), ("gone", "is not here after all")],
        widget=forms.RadioSelect,
        initial="home",
    )
    quantity = WholeNumberField(label="How many", least=1, most=MOST)
    why = forms.CharField(label="Why", max_length=160, required=False, widget=forms.TextInput({"autocomplete": "off"}))

    def __init__(self, *args: Any, lines: Sequence[WrapUpLine], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        item = self.fields["item"]
        assert isinstance(item, forms.ChoiceField)
        item.choices = [(line.item_id, line.item.label) for line in lines]
        for name in ("item", "way", "quantity"):
            field = self.fields[name]
            field.error_messages["required"] = f"{field.label} is needed; nothing was chosen."
