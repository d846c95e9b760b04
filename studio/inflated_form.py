"""What is typed about inflated diameters: how far the studio blows each size, and a diameter that is wanted."""

from collections.abc import Mapping
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.forms import BoundField

from estimating.bags import HELIUM_INFLATED, inflated_range
from estimating.forms.fields import LengthField
from estimating.gas import floating_range
from estimating.models import InflatedDiameter
from estimating.specs import INFLATED, SIZES
from studio.form_fields import name_what_is_missing, refusal
from studio.units import LengthError, PlainUnit, System, from_inches, parse_length, show_length

Gas = InflatedDiameter.Gas
PLAIN: Mapping[System, PlainUnit] = {"imperial": "in", "metric": "cm"}


def usual_of(size: int, gas: str) -> float:
    """Inches a size is blown to where the studio says nothing."""
    return HELIUM_INFLATED[size] if gas == Gas.HELIUM else INFLATED[size]


def range_of(size: int, gas: str) -> tuple[float, float]:
    """The least and the greatest diameter in inches a size is filled to with a gas."""
    return floating_range(size) if gas == Gas.HELIUM else inflated_range(size)


def sizes_of(gas: str) -> tuple[int, ...]:
    """The sizes that are filled with a gas: with helium those that float."""
    return tuple(HELIUM_INFLATED) if gas == Gas.HELIUM else SIZES


def said_range(low: Decimal, high: Decimal, measures: System) -> str:
    """Limits in millimetres in words. Centimetres are rounded inwards, so that what is read may be typed."""
    if measures == "metric":
        low, high = low.quantize(Decimal(1), ROUND_CEILING), high.quantize(Decimal(1), ROUND_FLOOR)
    return f"from {show_length(low, measures)} to {show_length(high, measures)}"


def typed_or_shown(row: InflatedDiameter, measures: System) -> str:
    """A kept diameter as it was typed, with the unit said where it has to be by now."""
    for unit in ("", " in", " cm"):
        try:
            if parse_length(row.typed + unit, plain_number_is=PLAIN[measures]).mm == row.mm:
                return row.typed + unit
        except LengthError:
            continue
    return show_length(row.mm, measures)


class DiameterField(LengthField):
    """A diameter in inches or centimetres from `low` to `high` (millimetres), its limits said as they may be typed."""

    def __init__(self, *, low: Decimal, high: Decimal, measures: System, **kwargs: Any) -> None:
        super().__init__(low=low, high=high, plain=PLAIN, **kwargs)
        self.measures = measures

    def _outside(self, typed: str, is_what: str) -> ValidationError:
        return refusal(self.label, said_range(self.low, self.high, self.measures), typed)


class InflatedForm(forms.Form):
    """The studio's own table: a diameter for each size with air, and for each that floats with helium."""

    def __init__(self, data: Any = None, *, own: Mapping[tuple[int, str], InflatedDiameter], measures: System) -> None:
        initial = {f"{gas}-{size}": typed_or_shown(row, measures) for (size, gas), row in own.items()}
        super().__init__(data, initial=initial)
        for gas in Gas:
            for size in sizes_of(gas):
                low, high = map(from_inches, range_of(size, gas))
                usually = show_length(from_inches(usual_of(size, gas)), measures)
                self.fields[f"{gas}-{size}"] = DiameterField(
                    low=low,
                    high=high,
                    measures=measures,
                    required=False,
                    label=f"{size}-inch {gas.label.lower()}",
                    help_text=f"Usually {usually}; {said_range(low, high, measures)}",
                )

    def with_air(self) -> list[tuple[int, BoundField]]:
        """Each size and the field for how far it is blown with air."""
        return [(size, self[f"{Gas.AIR}-{size}"]) for size in sizes_of(Gas.AIR)]

    def with_helium(self) -> list[tuple[int, BoundField]]:
        """Each size that floats and the field for how far it is filled with helium."""
        return [(size, self[f"{Gas.HELIUM}-{size}"]) for size in sizes_of(Gas.HELIUM)]

    def own(self) -> dict[tuple[int, str], tuple[Decimal, str]]:
        """What was typed, for a size and a gas: its millimetres, and the words."""
        kept = {}
        for gas in Gas:
            for size in sizes_of(gas):
                name = f"{gas}-{size}"
                if self.cleaned_data[name] is not None:
                    kept[size, str(gas)] = (self.cleaned_data[name], self.data[name].strip())
        return kept


class WantedForm(forms.Form):
    """A diameter somebody wants: which bag does it come from?"""

    helium = forms.BooleanField(required=False, label="Filled with helium")

    def __init__(self, data: Any = None, *, measures: System) -> None:
        super().__init__(data)
        gas = Gas.HELIUM if data is not None and data.get("helium") else Gas.AIR
        ranges = [range_of(size, gas) for size in sizes_of(gas)]
        low, high = min(least for least, _ in ranges), max(most for _, most in ranges)
        wanted = DiameterField(low=from_inches(low), high=from_inches(high), measures=measures, label="Wanted diameter")
        self.fields = {"wanted": wanted, **self.fields}
        name_what_is_missing(self.fields)
