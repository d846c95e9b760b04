"""What people type about balloons that float at the ceiling."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Any

from django import forms

from estimating.forms.fields import LengthField
from estimating.forms.mixing import ColourMix, SizeMix, colour_shares, length_words
from estimating.forms.pieces import Start
from estimating.kinds import floats
from estimating.kinds.floats.spec import HIGHEST, LEAST_SIDE, LONGEST_TAIL, LOWEST, MOST_SIDE
from stock.models import Colour
from studio.form_fields import WholeNumberField
from studio.units import System

FEET: dict[System, Any] = {"imperial": "ft", "metric": "m"}


class FloatsForm(SizeMix, ColourMix):
    """Helium balloons at the ceiling, with ribbon hanging down or without."""

    kind = floats.NAME
    usual_sizes = (11, 16)
    starts = (
        Start("", "Ceiling floats", "Helium balloons at the ceiling, with or without ribbon hanging down.",
              {"width": "6 ft", "depth": "5 ft"}),
    )  # fmt: skip
    fields_of_spec = {
        "width_mm": "width",
        "depth_mm": "depth",
        "colours": "colours",
        "mix": "sizes",
        "per_hundred_ft2": "per_hundred",
        "ceiling_mm": "ceiling",
        "tail_mm": "tail",
        "sealed": "sealed",
        "doubled": "inside",
    }

    width = LengthField(
        label="Width covered",
        low=LEAST_SIDE,
        high=MOST_SIDE,
        plain=FEET,
        error_messages={"required": "Width covered is missing: say how wide a part of the ceiling, such as 12 ft."},
    )
    depth = LengthField(
        label="Depth covered",
        low=LEAST_SIDE,
        high=MOST_SIDE,
        plain=FEET,
        error_messages={"required": "Depth covered is missing: say how deep a part of the ceiling, such as 10 ft."},
    )
    ceiling = LengthField(
        label="Ceiling height",
        low=LOWEST,
        high=HIGHEST,
        plain=FEET,
        error_messages={"required": "Ceiling height is missing: say how high it is, such as 9 ft or 2.7 m."},
    )
    per_hundred = WholeNumberField(
        label="In 10 by 10 feet",
        least=1,
        most=500,
        help_text="How many float under a hundred square feet (9 m²); a hundred is usual.",
        error_messages={"required": "In 10 by 10 feet is missing: say how many float there; 100 is usual."},
    )
    tail = LengthField(
        label="Ribbon",
        low=Decimal(0),
        high=LONGEST_TAIL,
        plain=FEET,
        required=False,
        help_text="How far it hangs down. Empty for none.",
    )
    sealed = forms.BooleanField(label="Sealed inside, to float longer", required=False)

    field_order = (
        "name", "width", "depth", "ceiling", "per_hundred", "tail", "sizes", "colours", "inside", "sealed",
        "extras", "outdoors", "seed",
    )  # fmt: skip

    def __init__(self, data: Mapping[str, Any], **kwargs: Any) -> None:
        super().__init__(data, **kwargs)
        # Floats need a ceiling above them.
        self.leave_out("outdoors")

    def clean_tail(self) -> Decimal:
        """None where nothing was typed."""
        return self.cleaned_data["tail"] or Decimal(0)

    @classmethod
    def data_of(cls, name: str, spec: Mapping[str, Any], measures: System) -> dict[str, Any]:
        """Kept floats as the form would have sent them."""
        data = super().data_of(name, spec, measures)
        sealed = {"sealed": "on"} if spec.get("sealed") else {}
        return {key: said for key, said in data.items() if key != "sealed"} | sealed

    @classmethod
    def first_data(cls, colours: Sequence[Colour], measures: System, start: str = "") -> dict[str, Any]:
        """Over a small dance floor."""
        return super().first_data(colours, measures, start) | {
            "width": length_words("10 ft", "3 m", measures),
            "depth": length_words("8 ft", "2.4 m", measures),
            "ceiling": length_words("9 ft", "2.7 m", measures),
            "per_hundred": "100",
            "tail": length_words("3 ft", "90 cm", measures),
            "sizes-11": "100",
            **colour_shares(colours),
        }
