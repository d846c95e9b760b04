"""What people type about numerals and letters."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django import forms

from estimating.forms.fields import LengthField
from estimating.forms.mixing import ColourMix, SizeMix, colour_shares, length_words
from estimating.forms.pieces import Start
from estimating.kinds import glyphs
from estimating.typefaces import FONTS
from stock.models import Colour
from studio.units import System

PATTERNS = (("mixed", "Mixed"), ("fade", "Fading from above to below"))


class GlyphsForm(SizeMix, ColourMix):
    """Numerals and letters filled with small balloons."""

    kind = glyphs.NAME
    most_sizes = 4
    usual_sizes = (5, 11)
    starts = (
        Start("", "Numerals and letters", "Filled with small balloons inside their real outline.",
              {"text": "5", "height": "4 ft"}),
    )  # fmt: skip
    fields_of_spec = {
        "text": "text",
        "height_mm": "height",
        "mix": "sizes",
        "colours": "colours",
        "font": "font",
        "pattern": "pattern",
        "doubled": "inside",
    }

    text = forms.CharField(
        label="Numerals or letters",
        strip=True,
        widget=forms.TextInput(attrs={"autocomplete": "off", "autocapitalize": "characters", "spellcheck": "false"}),
        error_messages={"required": "Numerals or letters are missing: say what it reads, such as 50 or LOVE."},
    )
    height = LengthField(
        label="Height",
        low=glyphs.LOWEST,
        high=glyphs.HIGHEST,
        plain={"imperial": "ft", "metric": "m"},
        help_text="Of a capital.",
        error_messages={"required": "Height is missing: say how tall a capital is, such as 5 ft or 1.5 m."},
    )
    font = forms.ChoiceField(
        label="Face", choices=[(key, title) for key, (title, _) in FONTS.items()], widget=forms.RadioSelect
    )
    pattern = forms.ChoiceField(label="Pattern", choices=PATTERNS, widget=forms.RadioSelect)

    field_order = (
        "name", "text", "height", "font", "sizes", "pattern", "colours", "inside", "extras", "outdoors", "seed",
    )  # fmt: skip

    @classmethod
    def first_data(cls, colours: Sequence[Colour], measures: System, start: str = "") -> dict[str, Any]:
        """The number of a round birthday."""
        return super().first_data(colours, measures, start) | {
            "name": "Numerals",
            "text": "50",
            "height": length_words("5 ft", "1.5 m", measures),
            "font": "round",
            "pattern": "mixed",
            "sizes-5": "100",
            **colour_shares(colours),
        }
