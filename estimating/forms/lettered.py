"""What people type about a single large balloon with lettering."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal
from typing import Any

from django import forms

from estimating.forms.fields import LengthField
from estimating.forms.mixing import length_words
from estimating.forms.pieces import INCH, PieceForm, Start
from estimating.kinds import lettered
from estimating.lettering import MOST_SURPLUS, USUAL_SURPLUS
from stock.models import Colour
from studio.form_fields import DecimalNumberField
from studio.units import System

TRIMS = (("tassel", "Tassel"), ("greenery", "Greenery"), ("none", "Nothing"))
GASES = (("True", "Helium, over a weight"), ("False", "Air, on a stand"))
INCHES: dict[System, Any] = {"imperial": "in", "metric": "cm"}


class LetteredForm(PieceForm):
    """A large balloon with words on it, a tassel or greenery below it."""

    kind = lettered.NAME
    has_chance = False
    starts = (Start("", "Large balloon", "One big balloon with lettering, a tassel or greenery."),)
    fields_of_spec = {
        "colour": "colour",
        "text": "text",
        "size": "size",
        "decal_width_mm": "decal_width",
        "decal_height_mm": "decal_height",
        "surplus_percent": "surplus",
        "script": "script",
        "trim": "trim",
        "helium": "helium",
        "height_mm": "height",
        "inner": "inner",
        "sealed": "sealed",
    }

    text = forms.CharField(
        label="Lettering",
        required=False,
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
        help_text="What it says. Empty for a plain balloon.",
    )
    colour = forms.ChoiceField(
        label="Colour", error_messages={"required": "Colour is missing: choose the balloon’s colour."}
    )
    size = forms.TypedChoiceField(label="Balloon", choices=[(str(n), f"{n}-inch") for n in lettered.LARGE], coerce=int)
    decal_width = LengthField(label="Lettering, wide", low=INCH, high=200 * INCH, plain=INCHES)
    decal_height = LengthField(label="Lettering, high", low=INCH / 4, high=40 * INCH, plain=INCHES)
    script = forms.BooleanField(label="Fine strokes, as in handwriting", required=False)
    trim = forms.ChoiceField(label="Below it", choices=TRIMS, widget=forms.RadioSelect)
    helium = forms.TypedChoiceField(
        label="Filled with", choices=GASES, coerce=lambda value: value == "True", widget=forms.RadioSelect
    )
    height = LengthField(
        label="Height",
        low=24 * INCH,
        high=240 * INCH,
        plain={"imperial": "ft", "metric": "m"},
        help_text="From the floor to the top.",
        error_messages={"required": "Height is missing: say how high its top is, such as 7 ft or 2.1 m."},
    )
    inner = forms.ChoiceField(label="Colour inside", required=False)
    surplus = DecimalNumberField(
        label="Pucker allowed, percent",
        most=int(MOST_SURPLUS),
        required=False,
        help_text=f"How much too long the rim of a decal may be on the ball. Empty is {USUAL_SURPLUS}.",
    )
    sealed = forms.BooleanField(label="Sealed inside, to float longer", required=False)

    field_order = (
        "name", "text", "colour", "size", "decal_width", "decal_height", "script", "trim", "helium", "height",
        "inner", "surplus", "sealed", "extras", "outdoors", "seed",
    )  # fmt: skip

    def __init__(self, data: Mapping[str, Any], **kwargs: Any) -> None:
        super().__init__(data, **kwargs)
        named = [(key, str(colour)) for key, colour in self.palette.items()]
        self.fields["colour"].choices = [("", "choose"), *named]  # type: ignore[attr-defined]
        self.fields["inner"].choices = [("", "nothing inside"), *named]  # type: ignore[attr-defined]
        if not str(data.get("text", "")).strip():
            # Nothing is cut for a plain balloon: its decal may be left out.
            for name in ("decal_width", "decal_height"):
                self.fields[name].required = False

    def spec_values(self) -> dict[str, Any]:
        """What was left empty is as usual."""
        usual = {"decal_width_mm": None, "decal_height_mm": None, "surplus_percent": None}
        values = super().spec_values()
        values = {key: said for key, said in values.items() if key not in usual or said is not None}
        return values | {"inner": values["inner"] or None}

    @property
    def is_fine(self) -> bool:
        """Whether anything is asked that most leave as it is."""
        typed = self.data.get
        return bool(typed("inner") or typed("surplus", "") not in ("", str(USUAL_SURPLUS)) or typed("sealed"))

    @classmethod
    def data_of(cls, name: str, spec: Mapping[str, Any], measures: System) -> dict[str, Any]:
        """A kept one as the form would have sent it."""
        data = super().data_of(name, spec, measures)
        ticks = {key: "on" for key in ("script", "sealed") if spec.get(key)}
        surplus = f"{Decimal(str(spec.get('surplus_percent', USUAL_SURPLUS))).normalize():f}"
        return (
            {key: said for key, said in data.items() if key not in ("script", "sealed")} | ticks | {"surplus": surplus}
        )

    @classmethod
    def without_lost_colours(cls, data: Mapping[str, Any], known: Iterable[str]) -> tuple[dict[str, Any], int]:
        """A colour that is gone has to be chosen again."""
        known = set(known)
        kept, lost = super().without_lost_colours(data, known)
        gone = [key for key in ("colour", "inner") if kept.get(key) and kept[key] not in known]
        return kept | dict.fromkeys(gone, ""), lost + len(gone)

    @classmethod
    def first_data(cls, colours: Sequence[Colour], measures: System, start: str = "") -> dict[str, Any]:
        """A balloon with a word on it."""
        latex = [colour for colour in colours if colour.finish != Colour.Finish.FOIL]
        return super().first_data(colours, measures, start) | {
            "text": "Hello",
            "colour": latex[0].key if latex else "",
            "size": "36",
            "decal_width": length_words("10 in", "25 cm", measures),
            "decal_height": length_words("4 in", "10 cm", measures),
            "trim": "tassel",
            "helium": "True",
            "height": length_words("7 ft", "2.1 m", measures),
            "inner": "",
            "surplus": "",
        }
