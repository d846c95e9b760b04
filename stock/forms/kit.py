"""What is typed about kit: what it is, how many there are, and for which days a booking gets it."""

import datetime as dt
from collections.abc import Mapping
from decimal import ROUND_HALF_UP, Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from stock.actions.kit import LONGEST_DAYS
from stock.forms.counting import RoomTaken
from stock.forms.fields import Day, Price, WholeNumber, Words, shown
from stock.models import Kit, KitMovement, KitPromise
from stock.models.kit import MOST_CARRIED_GRAMS, MOST_CLEANING_DAYS, MOST_KIT, MOST_KIT_GRAMS, TALLEST_MM
from studio.form_fields import WEIGHT_UNITS, ReadingField, refusal
from studio.units import LengthError, PlainUnit, System, parse_length, show_length

_PLAIN_LENGTH: Mapping[System, PlainUnit] = {"imperial": "ft", "metric": "m"}
_TALLEST_MM = Decimal(TALLEST_MM)


class KitWeight(ReadingField):
    """A weight as people say it of something carried: 14 lb, 6.5 kg. A bare number is in the studio's own."""

    def __init__(self, *, label: str, most_kg: int, **kwargs: Any) -> None:
        plain: Mapping[System, str] = {"imperial": "lb", "metric": "kg"}
        super().__init__(
            label=label, units=WEIGHT_UNITS, plain=plain, low=1, high=most_kg * 1000, places=1, required=False, **kwargs
        )


class LadderHeight(forms.CharField):
    """The height of a ladder as it is sold: 6 ft, 1.8 m. Cleaned to millimetres."""

    measures: System = "imperial"

    def __init__(self, *, label: str, **kwargs: Any) -> None:
        widget = forms.TextInput(attrs={"autocomplete": "off", "autocapitalize": "off", "spellcheck": "false"})
        super().__init__(label=label, max_length=30, required=False, widget=widget, **kwargs)

    def prepare_value(self, value: Any) -> Any:
        """Millimetres as a length; what was typed as it was typed."""
        return show_length(value, self.measures) if isinstance(value, Decimal) else value

    def clean(self, value: Any) -> Decimal | None:
        """The millimetres, or one sentence with the field, the rule and what was typed."""
        typed: str = super().clean(value)
        if typed in self.empty_values:
            return None
        try:
            mm = parse_length(typed, plain_number_is=_PLAIN_LENGTH[self.measures]).mm
        except LengthError as error:
            raise refusal(self.label, f"a length such as 6 ft or 1.8 m. {error.rule.rstrip('.')}", typed) from error
        if mm > _TALLEST_MM:
            raise refusal(self.label, f"at most {show_length(_TALLEST_MM, self.measures)}", typed)
        return mm


class KitForm(forms.ModelForm):
    """What kit it is and how it is looked after; `owned` only where it is new."""

    name = Words(label="Name", most=60)
    owned = WholeNumber(label="How many are owned", most=MOST_KIT)
    cleaning_days = WholeNumber(
        label="Cleaning, in days",
        most=MOST_CLEANING_DAYS,
        help_text="After it came back. 1: it can go out again the day after. 0: the same day.",
    )
    wear_minor = Price(
        label="Wear per use",
        required=False,
        help_text="What one loses by one job; it goes into the price of the job.",
    )
    weight = KitWeight(label="Weight of one", most_kg=MOST_KIT_GRAMS // 1000)
    room = RoomTaken(label="Room of one in the van", low=1, required=False, help_text="As it travels: 2 ft³ or 55 l.")
    place = Words(label="Place on the shelf", most=40, required=False)
    height = LadderHeight(label="Height", help_text="Of a ladder, as it is sold.")
    carries = KitWeight(
        label="Duty rating",
        most_kg=MOST_CARRIED_GRAMS // 1000,
        help_text="Of a ladder, as its label says: the person, clothes, tools and all they carry.",
    )
    notes = Words(label="Notes", most=1000, required=False, widget=forms.Textarea(attrs={"rows": 3}))

    class Meta:
        model = Kit
        fields = ("name", "sort", "cleaning_days", "wear_minor", "place", "notes")
        field_classes = {"wear_minor": Price}
        labels = {"sort": "Sort"}

    field_order = (
        "name", "sort", "owned", "cleaning_days", "wear_minor", "weight", "room", "place", "height", "carries",
        "notes",
    )  # fmt: skip

    def __init__(self, *args: Any, currency: str, measures: System, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["wear_minor"].currency = currency  # type: ignore[attr-defined]
        for name in ("weight", "room", "height", "carries"):
            self.fields[name].measures = measures  # type: ignore[attr-defined]
        kit = self.instance
        if kit.pk is None:
            self.initial.update(owned=1, cleaning_days=kit.cleaning_days)
        else:
            del self.fields["owned"]
        self.initial.update(
            height=kit.height_mm,
            weight=None if kit.weight_grams is None else Decimal(kit.weight_grams),
            room=None if kit.room_millilitres is None else Decimal(kit.room_millilitres) / 1000,
            carries=None if kit.carries_grams is None else Decimal(kit.carries_grams),
        )

    def clean_name(self) -> str:
        """A name no other kit has, however it is capitalised."""
        name: str = self.cleaned_data["name"]
        if Kit.objects.exclude(pk=self.instance.pk).filter(name__iexact=name).exists():
            raise ValidationError(f"Name must be new; there is kit {shown(name)} already.")
        return name

    def clean_wear_minor(self) -> int:
        """What it loses; nothing where nothing was typed."""
        return self.cleaned_data["wear_minor"] or 0

    def clean(self) -> dict[str, Any]:
        """Only a ladder has a height and a duty rating. What was read of them is put into the kit."""
        cleaned = super().clean() or self.cleaned_data
        if cleaned.get("sort") != Kit.Sort.LADDER:
            for name in ("height", "carries"):
                if cleaned.get(name) is not None:
                    label = self.fields[name].label
                    self.add_error(name, f"{label} is of a ladder: choose the sort Ladder, or leave it empty.")
        self.instance.height_mm = cleaned.get("height")
        self.instance.weight_grams = _whole(cleaned.get("weight"))
        self.instance.carries_grams = _whole(cleaned.get("carries"))
        room = cleaned.get("room")
        self.instance.room_millilitres = None if room is None else int(room * 1000)
        return cleaned


class KitMoveForm(forms.Form):
    """One line of how many are owned: what happened, how many, and why."""

    kind = forms.ChoiceField(choices=KitMovement.Kind.choices, widget=forms.HiddenInput())
    quantity = WholeNumber(label="How many", least=1, most=MOST_KIT)
    why = Words(label="Why", most=200, required=False)

    def __init__(self, *args: Any, kind: str, **kwargs: Any) -> None:
        kwargs.setdefault("auto_id", f"id_{kind}_%s")
        super().__init__(*args, **kwargs)
        self.initial["kind"] = kind
        self.fields["kind"].error_messages["invalid_choice"] = (
            "What happened must be one of: got, broken, lost, counted."
        )
        label = KitMovement.Kind(kind).label.capitalize()
        self.fields["quantity"].label = label
        if kind == KitMovement.Kind.COUNTED:
            told = "All there are, those that are out with the others."
            self.fields["quantity"] = WholeNumber(label=label, most=MOST_KIT, help_text=told)
        if kind in (KitMovement.Kind.BROKEN, KitMovement.Kind.LOST):
            self.fields["why"].required = True


class KitBackForm(forms.Form):
    """What came back: all of it and sound, unless something is said."""

    broken = WholeNumber(
        label="Broken for good", most=MOST_KIT, required=False, help_text="How many are owned no more."
    )
    lost = WholeNumber(label="Not come back", most=MOST_KIT, required=False, help_text="How many got lost.")
    damage = Words(label="What was found", most=160, required=False, help_text="Bent, dirty, to be mended …")

    def __init__(self, *args: Any, promise: KitPromise, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.promise = promise

    def clean(self) -> dict[str, Any]:
        """No more than went out."""
        cleaned = super().clean() or self.cleaned_data
        gone = (cleaned.get("broken") or 0) + (cleaned.get("lost") or 0)
        if gone > self.promise.quantity:
            most = f"{self.promise.quantity:,}"
            self.add_error(
                "broken", f"Broken and not come back must be at most the {most} that went out (got {gone:,})."
            )
        return cleaned


class KitChoice(forms.ModelChoiceField):
    """Any kit; what is retired says so."""

    def label_from_instance(self, kit: Kit) -> str:
        """Its name."""
        return f"{kit} (retired)" if kit.retired_at is not None else str(kit)


class PromiseKitForm(forms.Form):
    """Which kit a booking gets, how many, and from when to when."""

    kit = KitChoice(queryset=Kit.objects.none(), label="Kit", empty_label="Choose")
    quantity = WholeNumber(label="How many", least=1, most=MOST_KIT)
    out_on = Day(label="Out on")
    back_on = Day(label="Back on")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["kit"].queryset = Kit.objects.order_by("sort", "name", "pk")  # type: ignore[attr-defined]
        self.fields["kit"].error_messages |= {
            "required": "Kit is needed; nothing was chosen.",
            "invalid_choice": "Kit must be one that is listed; what was sent is not.",
        }
        self.initial.setdefault("quantity", 1)

    def clean(self) -> dict[str, Any]:
        """Back on or after the day it goes out, and within a year."""
        cleaned = super().clean() or self.cleaned_data
        out, back = cleaned.get("out_on"), cleaned.get("back_on")
        if out is not None and back is not None:
            if back < out:
                self.add_error(
                    "back_on", f"Back on must be on or after {out:%Y-%m-%d}, when it goes out (got {back:%Y-%m-%d})."
                )
            elif back - out >= dt.timedelta(days=LONGEST_DAYS):
                self.add_error(
                    "back_on", f"Back on must be within a year of the day it goes out (got {back:%Y-%m-%d})."
                )
        return cleaned


def weight_words(grams: int | None, measures: System) -> str:
    """A weight as it is shown beside its form: “14 lb”, “6.4 kg”; nothing where none is known."""
    if grams is None:
        return ""
    field = KitWeight(label="Weight", most_kg=1)
    field.measures = measures
    return field.in_words(Decimal(grams))


def _whole(grams: Decimal | None) -> int | None:
    """Whole grams, at least one."""
    return None if grams is None else max(int(grams.to_integral_value(ROUND_HALF_UP)), 1)
