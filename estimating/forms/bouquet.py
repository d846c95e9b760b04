"""What people type about bouquets and centrepieces."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from django import forms

from estimating.forms.fields import LengthField
from estimating.forms.lines import Counted, lines_typed
from estimating.forms.mixing import length_words
from estimating.forms.pieces import Start
from estimating.kinds import bouquet
from estimating.kinds.bouquet.spec import HIGHEST, LOWEST, MOST_ALIKE
from stock.models import Colour
from studio.form_fields import WholeNumberField
from studio.units import System

GASES = (("True", "Helium, on ribbons"), ("False", "Air, in a bunch"))


class BouquetForm(Counted):
    """Bouquets of latex and foil on ribbons over a weight, or low bunches on tables."""

    kind = bouquet.NAME
    starts = (
        Start("bouquet", "Bouquet", "Latex and foil on ribbons of staggered length, over a weight."),
        Start("centrepiece", "Centrepiece", "A low bunch for a table, as many alike as there are tables."),
    )
    fields_of_spec = {
        "latex": "lines",
        "foils": "lines",
        "alike": "alike",
        "height_mm": "height",
        "helium": "helium",
        "sealed": "sealed",
        "doubled": "inside",
    }

    alike = WholeNumberField(
        label="How many alike",
        least=1,
        most=MOST_ALIKE,
        error_messages={"required": "How many alike is missing: say how many of these are made."},
    )
    height = LengthField(
        label="Height",
        low=LOWEST,
        high=HIGHEST,
        plain={"imperial": "ft", "metric": "m"},
        help_text="From the floor or the table to the top.",
        error_messages={"required": "Height is missing: say how tall one is, such as 6 ft or 1.8 m."},
    )
    helium = forms.TypedChoiceField(
        label="Filled with", choices=GASES, coerce=lambda value: value == "True", widget=forms.RadioSelect
    )
    sealed = forms.BooleanField(label="Sealed inside, to float longer", required=False)

    field_order = (
        "name", "lines", "inside", "alike", "height", "helium", "sealed", "extras", "outdoors", "seed",
    )  # fmt: skip

    def spec_values(self) -> dict[str, Any]:
        """Latex and foil apart: a line is foil where its colour is."""
        values = super().spec_values()
        lines: tuple[tuple[str, int, int], ...] = values["latex"]
        foil = {key for key, colour in self.palette.items() if colour.finish == Colour.Finish.FOIL}
        return values | {
            "latex": tuple(line for line in lines if line[0] not in foil),
            "foils": tuple((key, size, self.palette[key].form, n) for key, size, n in lines if key in foil),
            "doubled": tuple(pair for pair in values["doubled"] if pair[0] not in foil),
        }

    @classmethod
    def data_of(cls, name: str, spec: Mapping[str, Any], measures: System) -> dict[str, Any]:
        """A kept bouquet, its foil among its lines."""
        foils = [(colour, size, count) for colour, size, _, count in spec.get("foils", ())]
        sealed = {"sealed": "on"} if spec.get("sealed") else {}
        data = super().data_of(name, spec, measures) | lines_typed([*spec.get("latex", ()), *foils])
        return {key: said for key, said in data.items() if key != "sealed"} | sealed

    @classmethod
    def first_data(cls, colours: Sequence[Colour], measures: System, start: str = "") -> dict[str, Any]:
        """A bouquet of seven, or centrepieces of three."""
        data = super().first_data(colours, measures, start) | {"helium": "True", "alike": "1"}
        latex = [colour for colour in colours if colour.finish != Colour.Finish.FOIL]
        if start == "centrepiece":
            lines = lines_typed([(colour.key, 11, 1) for colour in latex[:3]])
            return data | lines | {"height": length_words("3 ft", "90 cm", measures)}
        counts = {1: (7,), 2: (4, 3), 3: (3, 2, 2)}.get(min(3, len(latex)), ())
        lines = lines_typed([(colour.key, 11, n) for colour, n in zip(latex, counts, strict=False)])
        return data | lines | {"height": length_words("6 ft", "1.8 m", measures)}
