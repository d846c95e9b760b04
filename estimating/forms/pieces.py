"""What every kind of piece is asked."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal
from functools import cached_property
from typing import Any, NamedTuple

from django import forms
from django.core.exceptions import ValidationError
from django.http import QueryDict

from estimating.forms.fields import LengthField
from estimating.forms.rows import THINGS_WIDGET, ThingsField, with_more_rows
from estimating.kinds import KINDS, SpecErrors
from stock.models import Colour, Item
from studio.form_fields import refusal
from studio.units import System, show_length

LONGEST_NAME = 80
INCH = Decimal("25.4")
SEEDS = 2**31
PLACES = (("False", "Indoors"), ("True", "Outdoors"))
_INCHES = re.compile(r"\b(\d+(?:\.\d+)?) in\b")


class Start(NamedTuple):
    """One way to begin a piece: its key in the address, what it is called, and one sentence on it.

    `small` is what to type for a picture of it that fits on a card.
    """

    key: str
    title: str
    sentence: str
    small: Mapping[str, str] = {}


class Pressed(NamedTuple):
    """What a form holds after one of its own buttons, and the field that changed by it."""

    data: QueryDict
    field: str


class ThingRow(NamedTuple):
    """A thing off the shelf that goes with the piece, as typed."""

    number: int
    item_key: str
    how_many: str


class PieceForm(forms.Form):
    """What every kind of piece is asked.

    `colours` may be chosen; `sizes` are the nominal sizes on the shelf, `things` what else is there. `fields_of_spec`
    leads from the spec's fields to those people see.
    """

    kind: str
    starts: tuple[Start, ...]
    has_chance = True
    """Whether anything is left to the seed, so that another arrangement can be asked for."""
    has_line = False
    """Whether it runs along a line, so that its picture can be measured."""
    fields_of_spec: Mapping[str, str]

    name = forms.CharField(
        label="Name",
        widget=forms.TextInput(attrs={"autocomplete": "off", "autocapitalize": "sentences", "enterkeyhint": "done"}),
        error_messages={"required": "Give the piece a name: it is what the client reads."},
    )
    extras = ThingsField(label="Greenery, ribbon, frames and stands", required=False)
    outdoors = forms.TypedChoiceField(
        label="Where", choices=PLACES, coerce=lambda value: value == "True", widget=forms.RadioSelect
    )
    seed = forms.IntegerField(label="Arrangement", min_value=0, max_value=SEEDS - 1, widget=forms.HiddenInput)

    def __init__(
        self,
        data: Mapping[str, Any],
        *,
        colours: Sequence[Colour],
        sizes: Iterable[int] = (),
        things: Iterable[Item] = (),
        measures: System,
    ) -> None:
        super().__init__(data)
        self.palette = {colour.key: colour for colour in colours}
        self.sizes_on_shelf = sizes
        self._things = things
        self.measures = measures
        for name, field in self.fields.items():
            if isinstance(field, LengthField):
                field.measures = measures
            # Errors come and go while one types, in a place that is always there to be read out.
            described = f"id_{name}_errors"
            field.widget.attrs["aria-describedby"] = f"id_{name}_helptext {described}" if field.help_text else described

    def leave_out(self, *names: str) -> None:
        """Ask fewer things: those that do not matter for what is being made."""
        for name in names:
            self.fields.pop(name, None)

    def clean_name(self) -> str:
        """A name that fits the quote."""
        name: str = self.cleaned_data["name"]
        if len(name) > LONGEST_NAME:
            raise ValidationError(f"Name must be at most {LONGEST_NAME} characters; this one has {len(name):,}.")
        return name

    def clean_extras(self) -> tuple[tuple[str, int], ...]:
        """Keys of things on the shelf, and how many of each."""
        things: tuple[tuple[str, int], ...] = self.cleaned_data["extras"]
        known = {str(item.pk) for item in self.things} if things else set()
        for key, _ in things:
            if key not in known:
                raise refusal("a thing that goes with it", "on the studio’s shelf", key)
        return things

    @cached_property
    def things(self) -> list[Item]:
        """What may go with the piece, read once and only where it is asked for."""
        return list(self._things)

    @property
    def extras_rows(self) -> list[ThingRow]:
        """The things as typed, with an empty row to fill."""
        rows = THINGS_WIDGET.value_from_datadict(self.data, {}, "extras")
        rows += [{"item": "", "count": ""}] * max(0, 1 - len(rows))
        return [ThingRow(n, row["item"], row["count"]) for n, row in enumerate(rows)]

    @property
    def can_add_extras(self) -> bool:
        """Whether there is room for more rows."""
        return len(self.extras_rows) < THINGS_WIDGET.most

    def spec_values(self) -> dict[str, Any]:
        """The fields of the spec, from those of a valid form that were asked."""
        fields = {"outdoors": "outdoors", "seed": "seed", "extras": "extras", **self.fields_of_spec}
        return {key: self.cleaned_data[field] for key, field in fields.items() if field in self.cleaned_data}

    @property
    def spec(self) -> Any:
        """The spec of a valid form. Raises SpecErrors for what only the piece as a whole can tell."""
        return KINDS[self.kind].spec(**self.spec_values())

    @property
    def uneven(self) -> set[str]:
        """The fields whose shares do not add up to 100, for the button that makes them."""
        found = self.errors.as_data().items()
        return {field for field, errors in found if any(error.code == "uneven" for error in errors)}

    @property
    def typed(self) -> dict[str, str]:
        """The lengths in the words they were typed in, to be kept beside the spec."""
        lengths = (name for name, field in self.fields.items() if isinstance(field, LengthField))
        return {name: self.data[name].strip() for name in lengths if self.data.get(name)}

    def refuse(self, errors: SpecErrors) -> None:
        """Say what cannot be made as errors of the fields people see, in their own words and measures."""
        for error in errors:
            field = self.fields_of_spec.get(error.field, error.field)
            named = self.fields[field].label if field in self.fields else error.field.replace("_", " ").capitalize()
            said = f"{named} {self._in_words(error.rule)} (got {error.value})."
            self.add_error(field if field in self.fields else None, _INCHES.sub(self._measured, said))

    def _in_words(self, rule: str) -> str:
        """A rule of the spec with its fields by the names people see."""
        for key, field in self.fields_of_spec.items():
            label = str(self.fields[field].label).lower() if field in self.fields else key.removesuffix("_mm")
            rule = re.sub(rf" \({key}\)", "", rule)
            rule = re.sub(rf"\b{key}\b", f"the {label}", rule) if "_" in key else rule
        return rule

    def _measured(self, inches: re.Match[str]) -> str:
        if self.measures == "imperial":
            return f"{Decimal(inches[1]).normalize():f} in"
        return show_length(Decimal(inches[1]) * INCH, "metric")

    @classmethod
    def data_of(cls, name: str, spec: Mapping[str, Any], measures: System) -> dict[str, Any]:
        """A kept spec (its JSON) as the form would have sent it, the lengths as they were typed."""
        data = {"name": name, "outdoors": str(spec.get("outdoors", False)), "seed": str(spec.get("seed", 1))}
        typed = spec.get("typed", {})
        for key, field in cls.fields_of_spec.items():
            asked, value = cls.base_fields.get(field), spec.get(key)
            if isinstance(asked, LengthField):
                length = Decimal(value) if value is not None else None
                data[field] = typed.get(field) or (show_length(length, measures) if length else "")
            elif isinstance(asked, forms.CharField | forms.ChoiceField | forms.IntegerField | forms.BooleanField):
                data[field] = "" if value is None else str(value)
        for n, (item, count) in enumerate(spec.get("extras", ())):
            data |= {f"extras-{n}-item": str(item), f"extras-{n}-count": str(count)}
        return data

    @classmethod
    def first_data(cls, colours: Sequence[Colour], measures: System, start: str = "") -> dict[str, Any]:
        """A piece to start from, in these colours, begun in one of the ways of `starts`: a picture at once."""
        return {"name": cls.start_named(start).title, "outdoors": "False", "seed": "1"}

    @classmethod
    def start_named(cls, key: str) -> Start:
        """The start of this key, or the first."""
        return next((start for start in cls.starts if start.key == key), cls.starts[0])

    @classmethod
    def without_lost_colours(cls, data: Mapping[str, Any], known: Iterable[str]) -> tuple[dict[str, Any], int]:
        """The data without colours the studio no longer has, and how many those were."""
        return dict(data), 0

    @classmethod
    def pressed(cls, data: QueryDict) -> Pressed | None:
        """What the form holds after one of its own buttons, or None where it was none of them."""
        if data.get("more") == "extras":
            return Pressed(with_more_rows(data, "extras", THINGS_WIDGET, {}), "extras")
        if "another" not in data:
            return None
        changed, seed = data.copy(), str(data.get("seed", ""))
        changed["seed"] = str((int(seed) + 1) % SEEDS if seed.isdecimal() and len(seed) < 12 else 1)
        return Pressed(changed, "seed")
