"""What people type about a packed garland, arch or column."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from estimating.forms.fields import FOOT, LengthField, is_size
from estimating.forms.mixing import ColoursInTurn, OneSize, colour_shares, length_words
from estimating.forms.pieces import Start
from estimating.kinds import packed
from estimating.kinds.packed.spec import MEASURES, MOST_COMPRESSED, Topper
from estimating.specs import SIZES
from estimating.stacking import LEAST_PER_LAYER, MOST_PER_LAYER
from stock.models import Colour
from studio.form_fields import WholeNumberField
from studio.units import System

PATTERNS = (("spiral", "Spiral"), ("stripes", "Stripes"), ("blocks", "Blocks"))
SHAPES = (("straight", "Straight"), ("swag", "In a swag"), ("doorway", "Over and down a doorway"))
FORMS_OF_IT = (("garland", "Garland"), ("arch", "Arch"), ("column", "Column"))
BASES = (("weighted", "On weighted bases"), ("none", "On stands of yours"))
GASES = (("False", "Air"), ("True", "Helium"))
FEET: dict[System, Any] = {"imperial": "ft", "metric": "m"}


class PackedForm(OneSize, ColoursInTurn):
    """A packed garland, arch or column: equal balloons in layers, in a pattern."""

    kind = packed.NAME
    has_line = True
    starts = (
        Start("garland", "Packed garland", "Layers of four along a line, in spirals, stripes or blocks.",
              {"length": "5 ft"}),
        Start("arch", "Packed arch", "From floor to floor: give two of span, height and length.",
              {"span": "4 ft", "rise": "4 ft"}),
        Start("column", "Column", "A stack on a base, with a topper if you like.", {"height": "4 ft"}),
    )  # fmt: skip
    fields_of_spec = {
        "form": "form",
        "colours": "colours",
        "colours_by": "colours_by",
        "size": "size",
        "diameter_mm": "blown_to",
        "length_mm": "length",
        "span_mm": "span",
        "rise_mm": "rise",
        "height_mm": "height",
        "per_layer": "per_layer",
        "pattern": "pattern",
        "shape": "shape",
        "compression_percent": "compression",
        "topper": "topper",
        "base": "base",
        "helium": "helium",
        "sealed": "sealed",
        "doubled": "inside",
    }

    form = forms.ChoiceField(label="Form", choices=FORMS_OF_IT, widget=forms.HiddenInput)
    length = LengthField(label="Length", low=FOOT, high=200 * FOOT, plain=FEET, required=False)
    span = LengthField(label="Span", low=FOOT, high=200 * FOOT, plain=FEET, required=False)
    rise = LengthField(label="Height in the middle", low=FOOT, high=200 * FOOT, plain=FEET, required=False)
    height = LengthField(
        label="Height",
        low=FOOT,
        high=200 * FOOT,
        plain=FEET,
        help_text="Without its topper.",
        error_messages={"required": "Height is missing: say how tall the column is, such as 6 ft or 1.8 m."},
    )
    per_layer = WholeNumberField(label="Balloons in a layer", least=LEAST_PER_LAYER, most=MOST_PER_LAYER)
    pattern = forms.ChoiceField(label="Pattern", choices=PATTERNS, widget=forms.RadioSelect)
    shape = forms.ChoiceField(label="Shape", choices=SHAPES, widget=forms.RadioSelect)
    compression = WholeNumberField(
        label="Pushed closer, percent",
        least=0,
        most=MOST_COMPRESSED,
        required=False,
        help_text="How much closer you push the layers than they would lie by themselves.",
    )
    topper_size = forms.ChoiceField(
        label="Topper", choices=[("", "No topper"), *((str(n), f"{n}-inch") for n in SIZES if n >= 9)], required=False
    )
    topper_colour = forms.ChoiceField(label="Its colour", required=False)
    base = forms.ChoiceField(label="Stands", choices=BASES, widget=forms.RadioSelect)
    helium = forms.TypedChoiceField(
        label="Filled with", choices=GASES, coerce=lambda value: value == "True", widget=forms.RadioSelect
    )
    sealed = forms.BooleanField(label="Sealed inside, to float longer", required=False)

    field_order = (
        "name", "form", "length", "span", "rise", "height", "size", "blown_to", "per_layer", "pattern", "colours",
        "colours_by", "inside", "shape", "topper_size", "topper_colour", "base", "helium", "sealed", "compression",
        "extras", "outdoors", "seed",
    )  # fmt: skip

    def __init__(self, data: Mapping[str, Any], **kwargs: Any) -> None:
        super().__init__(data, **kwargs)
        self.made_as = str(data.get("form", "garland"))
        asked = [key.removesuffix("_mm") for key in MEASURES.get(self.made_as, ())]
        self.leave_out(*({"length", "span", "rise", "height"} - set(asked)))
        choices = [("", "as the others"), *((key, str(colour)) for key, colour in self.palette.items())]
        self.fields["topper_colour"].choices = choices  # type: ignore[attr-defined]
        if self.made_as != "column":
            self.leave_out("topper_size", "topper_colour")
        if self.made_as != "garland":
            self.leave_out("shape")
        else:
            self.leave_out("base")
            self.fields["rise"].label = "Sag"
        if self.made_as == "column":
            self.leave_out("helium", "sealed")

    def clean(self) -> dict[str, Any]:
        """With the topper as one thing."""
        given = super().clean() or self.cleaned_data
        size = given.get("topper_size")
        if size and is_size(size):
            key = given.get("topper_colour") or next(iter(self.outer_keys()), "")
            if key not in self.palette:
                raise ValidationError({"topper_colour": "The topper has no colour: choose one."})
            colour = self.palette[key]
            foil = colour.finish == Colour.Finish.FOIL
            given["topper"] = Topper(int(size), key, colour.form, foil)  # type: ignore[arg-type]
        return given

    def spec_values(self) -> dict[str, Any]:
        """Only the measures this form has; no compression is none."""
        values = super().spec_values()
        return values | {"compression_percent": values.get("compression_percent") or 0}

    @property
    def is_fine(self) -> bool:
        """Whether anything is asked that most packed pieces leave as it is."""
        typed = self.data.get
        return bool(typed("blown_to") or typed("compression") not in (None, "", "0") or typed("per_layer") != "4")

    @classmethod
    def data_of(cls, name: str, spec: Mapping[str, Any], measures: System) -> dict[str, Any]:
        """With its topper."""
        topper = spec.get("topper") or {}
        return super().data_of(name, spec, measures) | {
            "topper_size": str(topper.get("size", "")),
            "topper_colour": topper.get("colour", ""),
        }

    @classmethod
    def without_lost_colours(cls, data: Mapping[str, Any], known: Iterable[str]) -> tuple[dict[str, Any], int]:
        """A topper in a colour that is gone takes one of the others."""
        known = set(known)
        kept, lost = super().without_lost_colours(data, known)
        gone = bool(kept.get("topper_colour")) and kept["topper_colour"] not in known
        return (kept | {"topper_colour": ""} if gone else kept), lost + gone

    @classmethod
    def first_data(cls, colours: Sequence[Colour], measures: System, start: str = "") -> dict[str, Any]:
        """A garland of 12 feet, an arch over two people, or a column as tall as one."""
        made_as = cls.start_named(start).key
        data = super().first_data(colours, measures, start) | {
            "form": made_as,
            "size": "11",
            "per_layer": "4",
            "pattern": "spiral",
            "colours_by": "percent",
            "helium": "False",
            "base": "weighted" if made_as != "garland" else "none",
            **colour_shares(colours),
        }
        if made_as == "garland":
            return data | {"length": length_words("12 ft", "3.6 m", measures), "shape": "swag"}
        if made_as == "arch":
            return data | {
                "span": length_words("10 ft", "3 m", measures),
                "rise": length_words("8 ft", "2.4 m", measures),
            }
        return data | {
            "height": length_words("6 ft", "1.8 m", measures),
            "pattern": "stripes",
            "topper_size": "17",
            "topper_colour": "",
        }
