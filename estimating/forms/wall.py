"""What people type about a wall panel."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from django import forms

from estimating.forms.fields import LengthField
from estimating.forms.mixing import ColourMix, SizeMix, colour_shares, length_words
from estimating.forms.pieces import INCH, Start
from estimating.kinds import wall
from estimating.specs import SIZES
from stock.models import Colour
from studio.form_fields import WholeNumberField
from studio.units import System

PATTERNS = (
    ("mixed", "Mixed"),
    ("fade", "Fading from above to below"),
    ("checks", "Checks"),
    ("stripes", "Stripes"),
    ("plain", "One colour"),
)
STYLES = (("organic", "Organic"), ("grid", "Grid"))
SIZES_OF_IT = (("False", "All of a size"), ("True", "Large and small in turn"))
FEET: dict[System, Any] = {"imperial": "ft", "metric": "m"}
INCHES: dict[System, Any] = {"imperial": "in", "metric": "cm"}


class WallForm(SizeMix, ColourMix):
    """A panel of balloons: a regular grid of quads, or mixed sizes."""

    kind = wall.NAME
    starts = (
        Start("organic", "Organic wall", "A panel filled with mixed sizes, like a garland laid flat.",
              {"width": "4 ft", "height": "4 ft"}),
        Start("grid", "Grid wall", "Quads side by side in checks, stripes or a fade.",
              {"width": "4 ft", "height": "4 ft"}),
    )  # fmt: skip
    fields_of_spec = {
        "width_mm": "width",
        "height_mm": "height",
        "mix": "sizes",
        "colours": "colours",
        "style": "style",
        "pattern": "pattern",
        "spacing_percent": "spacing",
        "alternate": "alternate",
        "gap_mm": "gap",
        "depth_mm": "depth",
        "doubled": "inside",
    }

    style = forms.ChoiceField(label="Style", choices=STYLES, widget=forms.HiddenInput)
    width = LengthField(
        label="Width",
        low=wall.NARROWEST,
        high=wall.WIDEST,
        plain=FEET,
        error_messages={"required": "Width is missing: say how wide the panel is, such as 8 ft or 2.4 m."},
    )
    height = LengthField(
        label="Height",
        low=wall.LOWEST,
        high=wall.HIGHEST,
        plain=FEET,
        error_messages={"required": "Height is missing: say how high the panel is, such as 8 ft or 2.4 m."},
    )
    size = forms.TypedChoiceField(label="Balloons", choices=[(str(n), f"{n}-inch") for n in SIZES], coerce=int)
    pattern = forms.ChoiceField(label="Pattern", choices=PATTERNS, widget=forms.RadioSelect)
    alternate = forms.TypedChoiceField(
        label="Sizes", choices=SIZES_OF_IT, coerce=lambda value: value == "True", widget=forms.RadioSelect
    )
    gap = LengthField(
        label="Small ones smaller by",
        low=INCH / 4,
        high=4 * INCH,
        plain=INCHES,
        required=False,
        help_text="For large and small in turn. Empty is as usual for the size.",
    )
    spacing = WholeNumberField(
        label="Columns apart, percent",
        least=80,
        most=130,
        required=False,
        help_text="100 is side by side; less lets quads interlock. Empty is 86.",
    )
    depth = LengthField(
        label="Depth", low=3 * INCH, high=48 * INCH, plain=INCHES, required=False, help_text="Empty is as usual."
    )

    field_order = (
        "name", "style", "width", "height", "size", "sizes", "pattern", "colours", "inside", "alternate", "gap",
        "spacing", "depth", "extras", "outdoors", "seed",
    )  # fmt: skip

    def __init__(self, data: Mapping[str, Any], **kwargs: Any) -> None:
        super().__init__(data, **kwargs)
        self.is_grid = data.get("style") == "grid"
        self.leave_out(*(("sizes", "depth") if self.is_grid else ("size", "alternate", "gap", "spacing")))
        allowed = wall.PATTERNS if self.is_grid else wall.ORGANIC_PATTERNS
        self.fields["pattern"].choices = [(key, said) for key, said in PATTERNS if key in allowed]  # type: ignore[attr-defined]

    def spec_values(self) -> dict[str, Any]:
        """A grid is of one size; no spacing is the usual one."""
        values = super().spec_values()
        if self.is_grid:
            values["mix"] = ((self.cleaned_data["size"], 100),)
        if values.get("spacing_percent") is None:
            values.pop("spacing_percent", None)
        return values

    @property
    def is_fine(self) -> bool:
        """Whether anything is asked that most panels leave as it is."""
        typed = self.data.get
        return bool(typed("gap") or typed("depth") or typed("spacing", "") not in ("", "86"))

    @classmethod
    def data_of(cls, name: str, spec: Mapping[str, Any], measures: System) -> dict[str, Any]:
        """With the one size of a grid."""
        return super().data_of(name, spec, measures) | {"size": str(spec["mix"][0][0])}

    @classmethod
    def first_data(cls, colours: Sequence[Colour], measures: System, start: str = "") -> dict[str, Any]:
        """A panel to stand before."""
        style = cls.start_named(start).key
        data = super().first_data(colours, measures, start) | {
            "style": style,
            "width": length_words("6 ft", "1.8 m", measures),
            "height": length_words("6 ft", "1.8 m", measures),
            **colour_shares(colours),
        }
        if style == "organic":
            return data | {"pattern": "mixed", "sizes-5": "35", "sizes-11": "55", "sizes-16": "10"}
        pattern = "checks" if len(colours) > 1 else "plain"
        return data | {"pattern": pattern, "size": "11", "alternate": "False", "spacing": "86", "gap": ""}
