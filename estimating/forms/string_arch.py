"""What people type about an arch of single balloons on a line."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django import forms

from estimating.forms.fields import FOOT, LengthField
from estimating.forms.mixing import ColoursInTurn, OneSize, length_words
from estimating.forms.pieces import Start
from estimating.kinds import string_arch
from stock.models import Colour
from studio.units import System

GASES = (("True", "Helium, on a line"), ("False", "Air, on a bent pole"))
FEET: dict[System, Any] = {"imperial": "ft", "metric": "m"}


class StringArchForm(OneSize, ColoursInTurn):
    """Single balloons on a line that helium lifts into an arch."""

    kind = string_arch.NAME
    has_line = True
    together = 1
    starts = (
        Start("", "Arch on a line", "Single balloons on a line; helium lifts it into an arch.",
              {"span": "8 ft", "rise": "6 ft"}),
    )  # fmt: skip
    fields_of_spec = {
        "colours": "colours",
        "colours_by": "colours_by",
        "size": "size",
        "diameter_mm": "blown_to",
        "span_mm": "span",
        "rise_mm": "rise",
        "length_mm": "length",
        "spacing_mm": "spacing",
        "helium": "helium",
        "sealed": "sealed",
        "doubled": "inside",
    }

    span = LengthField(label="Span", low=2 * FOOT, high=200 * FOOT, plain=FEET, required=False)
    rise = LengthField(label="Height in the middle", low=2 * FOOT, high=200 * FOOT, plain=FEET, required=False)
    length = LengthField(label="Length of the line", low=2 * FOOT, high=200 * FOOT, plain=FEET, required=False)
    spacing = LengthField(
        label="From balloon to balloon",
        low=string_arch.CLOSEST,
        high=string_arch.WIDEST,
        plain={"imperial": "in", "metric": "cm"},
        error_messages={"required": "From balloon to balloon is missing: say how far, such as 12 in or 30 cm."},
    )
    helium = forms.TypedChoiceField(
        label="Filled with", choices=GASES, coerce=lambda value: value == "True", widget=forms.RadioSelect
    )
    sealed = forms.BooleanField(label="Sealed inside, to float longer", required=False)

    field_order = (
        "name", "span", "rise", "length", "size", "spacing", "colours", "colours_by", "inside", "helium", "sealed",
        "blown_to", "extras", "outdoors", "seed",
    )  # fmt: skip

    @classmethod
    def first_data(cls, colours: Sequence[Colour], measures: System, start: str = "") -> dict[str, Any]:
        """An arch that a few people stand under."""
        return super().first_data(colours, measures, start) | {
            "span": length_words("16 ft", "5 m", measures),
            "rise": length_words("9 ft", "2.7 m", measures),
            "length": "",
            "size": "11",
            "spacing": length_words("12 in", "30 cm", measures),
            "colours_by": "count",
            "helium": "True",
            **{f"colours-{colour.key}": "1" for colour in colours},
        }
