"""What every kind of piece is asked."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal
from typing import Any, NamedTuple

from django import forms
from django.core.exceptions import ValidationError
from django.http import QueryDict

from estimating.forms.fields import LengthField
from estimating.kinds import SpecErrors
from stock.models import Colour
from studio.units import System, show_length

LONGEST_NAME = 80
INCH = Decimal("25.4")
SEEDS = 2**31
PLACES = (("False", "Indoors"), ("True", "Outdoors"))
_INCHES = re.compile(r"\b(\d+(?:\.\d+)?) in\b")


class Pressed(NamedTuple):
    """What a form holds after one of its own buttons, and the field that changed by it."""

    data: QueryDict
    field: str


class PieceForm(forms.Form):
    """What every kind of piece is asked. `colours` may be chosen; `sizes` are the nominal sizes on the shelf."""

    kind: str
    fields_of_spec: Mapping[str, str]

    name = forms.CharField(
        label="Name",
        widget=forms.TextInput(attrs={"autocomplete": "off", "autocapitalize": "sentences", "enterkeyhint": "done"}),
        error_messages={"required": "Give the piece a name: it is what the client reads."},
    )
    outdoors = forms.TypedChoiceField(
        label="Where", choices=PLACES, coerce=lambda value: value == "True", widget=forms.RadioSelect
    )
    seed = forms.IntegerField(label="Arrangement", min_value=0, max_value=SEEDS - 1, widget=forms.HiddenInput)

    def __init__(
        self, data: Mapping[str, Any], *, colours: Sequence[Colour], sizes: Iterable[int] = (), measures: System
    ) -> None:
        super().__init__(data)
        self.palette = {colour.key: colour for colour in colours}
        self.sizes_on_shelf = sizes
        self.measures = measures
        for name, field in self.fields.items():
            if isinstance(field, LengthField):
                field.measures = measures
            # Errors come and go while one types, in a place that is always there to be read out.
            described = f"id_{name}_errors"
            field.widget.attrs["aria-describedby"] = f"id_{name}_helptext {described}" if field.help_text else described

    def clean_name(self) -> str:
        """A name that fits the quote."""
        name: str = self.cleaned_data["name"]
        if len(name) > LONGEST_NAME:
            raise ValidationError(f"Name must be at most {LONGEST_NAME} characters; this one has {len(name):,}.")
        return name

    @property
    def spec(self) -> Any:
        """The spec of a valid form. Raises SpecErrors for what only the piece as a whole can tell."""
        raise NotImplementedError

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
        """Say what cannot be made as errors of the fields people see, in their own measures."""
        for error in errors:
            field = self.fields_of_spec.get(error.field)
            said = f"{self.fields[field].label if field else error.field} {error.rule} (got {error.value})."
            self.add_error(field, _INCHES.sub(self._measured, said))

    def _measured(self, inches: re.Match[str]) -> str:
        return inches[0] if self.measures == "imperial" else show_length(Decimal(inches[1]) * INCH, "metric")

    @classmethod
    def data_of(cls, name: str, spec: Mapping[str, Any], measures: System) -> dict[str, Any]:
        """A kept spec (its JSON) as the form would have sent it."""
        return {"name": name, "outdoors": str(spec["outdoors"]), "seed": spec["seed"]}

    @classmethod
    def pressed(cls, data: QueryDict) -> Pressed | None:
        """What the form holds after one of its own buttons, or None where it was none of them."""
        if "another" not in data:
            return None
        changed, seed = data.copy(), str(data.get("seed", ""))
        changed["seed"] = str((int(seed) + 1) % SEEDS if seed.isdecimal() and len(seed) < 12 else 1)
        return Pressed(changed, "seed")
