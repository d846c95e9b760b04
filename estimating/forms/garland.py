"""What people type about a garland."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Any, NamedTuple

from django import forms
from django.http import QueryDict

from estimating.forms.fields import (
    LengthField,
    SharesField,
    evened,
    is_size,
    whole_percent,
    with_one_fewer,
    with_one_more,
)
from estimating.forms.pieces import PieceForm, Pressed
from estimating.kinds import GarlandSpec, garland
from estimating.specs import SIZES
from stock.models import Colour
from studio.form_fields import refusal
from studio.units import System, show_length

USUAL_SIZES = (5, 11, 16)
SIZES_IN_FRONT = 8
MOST_SIZES, MOST_COLOURS = 6, 8
SHAPES = (("straight", "Straight"), ("swag", "In swags"), ("doorway", "Over and down a doorway"))


class SizeRow(NamedTuple):
    """A nominal size with its slider."""

    size: int
    field: str
    percent: int


class ColourRow(NamedTuple):
    """A colour of the mix with its share, as typed."""

    colour: Colour
    field: str
    percent: str


class GarlandForm(PieceForm):
    """A garland: how long, how wide, along what, and what it is made of."""

    kind = garland.NAME
    fields_of_spec = {
        "length_mm": "length",
        "width_mm": "width",
        "mix": "sizes",
        "colours": "colours",
        "shape": "shape",
    }

    length = LengthField(
        label="Length",
        low=garland.SHORTEST,
        high=garland.LONGEST,
        plain={"imperial": "ft", "metric": "m"},
        error_messages={"required": "Length is missing: say how long the garland is, such as 20 ft or 6 m."},
    )
    width = LengthField(
        label="Finished width",
        low=garland.THINNEST,
        high=garland.WIDEST,
        plain={"imperial": "in", "metric": "cm"},
        error_messages={"required": "Finished width is missing: say how wide it looks, such as 22 in or 55 cm."},
    )
    shape = forms.ChoiceField(label="Shape", choices=SHAPES, widget=forms.RadioSelect)
    sizes = SharesField(label="Sizes", one="size", most=MOST_SIZES)
    colours = SharesField(label="Colours", one="colour", most=MOST_COLOURS)

    field_order = ("name", "length", "width", "shape", "sizes", "colours", "outdoors", "seed")

    def clean_sizes(self) -> tuple[tuple[int, int], ...]:
        """Nominal sizes with their percents; a size no balloon comes in is refused."""
        shares: list[tuple[str, int]] = self.cleaned_data["sizes"]
        for size, _ in shares:
            if not is_size(size):
                raise refusal("a size", f"one of {', '.join(map(str, SIZES))} inches", size)
        return tuple(sorted((int(size), percent) for size, percent in shares))

    def clean_colours(self) -> tuple[tuple[str, int], ...]:
        """Keys of the studio's colours with their percents."""
        shares: list[tuple[str, int]] = self.cleaned_data["colours"]
        for key, _ in shares:
            if key not in self.palette:
                raise refusal("a colour", "one of the studio’s", key)
        return tuple(shares)

    @property
    def spec(self) -> GarlandSpec:
        """The garland as asked for."""
        given = self.cleaned_data
        return GarlandSpec(
            length_mm=given["length"],
            width_mm=given["width"],
            mix=given["sizes"],
            colours=given["colours"],
            outdoors=given["outdoors"],
            shape=given["shape"],
            seed=given["seed"],
        )

    @property
    def size_rows(self) -> list[SizeRow]:
        """The sizes this studio works in and those in the mix, smallest first."""
        front = self._front
        return [self._size_row(size) for size in SIZES if size in front]

    @property
    def more_size_rows(self) -> list[SizeRow]:
        """Every other size that balloons come in."""
        front = self._front
        return [self._size_row(size) for size in SIZES if size not in front]

    @property
    def _front(self) -> set[int]:
        mixed = [
            int(key) for key, percent in self._shares("sizes").items() if is_size(key) and percent not in ("", "0")
        ]
        wanted = dict.fromkeys([*mixed, *USUAL_SIZES, *sorted(set(self.sizes_on_shelf))])
        return set([size for size in wanted if size in SIZES][: max(SIZES_IN_FRONT, len(mixed))])

    def _size_row(self, size: int) -> SizeRow:
        return SizeRow(size, f"sizes-{size}", whole_percent(self._shares("sizes").get(str(size), "")) or 0)

    @property
    def colour_rows(self) -> list[ColourRow]:
        """The colours in the mix, in the order they were chosen."""
        rows = self._shares("colours").items()
        return [ColourRow(self.palette[key], f"colours-{key}", said) for key, said in rows if key in self.palette]

    @property
    def other_colours(self) -> list[Colour]:
        """The colours that can still be added; none once there are as many as a garland may have."""
        chosen = self._shares("colours")
        if len(chosen) >= MOST_COLOURS:
            return []
        return [colour for key, colour in self.palette.items() if key not in chosen and colour.in_use]

    def _shares(self, field: str) -> dict[str, str]:
        shares: dict[str, str] = self.fields[field].widget.value_from_datadict(self.data, {}, field)
        return shares

    @classmethod
    def data_of(cls, name: str, spec: Mapping[str, Any], measures: System) -> dict[str, Any]:
        """A kept garland as the form would have sent it, the lengths as they were typed."""
        typed = spec.get("typed", {})
        return {
            **super().data_of(name, spec, measures),
            "length": typed.get("length") or show_length(Decimal(spec["length_mm"]), measures),
            "width": typed.get("width") or show_length(Decimal(spec["width_mm"]), measures),
            "shape": spec["shape"],
            **{f"sizes-{size}": str(percent) for size, percent in spec["mix"]},
            **{f"colours-{key}": str(percent) for key, percent in spec["colours"]},
        }

    @classmethod
    def first_data(cls, colours: Sequence[Colour], measures: System) -> dict[str, Any]:
        """A garland to start from, in these colours: the size most are asked for."""
        shares = evened({f"colours-{colour.key}": "1" for colour in colours})
        lengths = ("20 ft", "22 in") if measures == "imperial" else ("6 m", "55 cm")
        return {
            "name": "Garland",
            "length": lengths[0],
            "width": lengths[1],
            "shape": "doorway",
            "outdoors": "False",
            "seed": "1",
            "sizes-5": "30",
            "sizes-11": "62",
            "sizes-16": "8",
            **shares,
        }

    @classmethod
    def pressed(cls, data: QueryDict) -> Pressed | None:
        """Another arrangement, a colour more or less, or shares scaled to 100."""
        changed, sent = data.copy(), {key: str(said) for key, said in data.items()}
        chosen = {key: said for key, said in sent.items() if key.startswith("colours-")}
        if "add" in sent:
            shares = with_one_more(chosen, f"colours-{sent['add']}", MOST_COLOURS)
        elif "drop" in sent:
            shares = with_one_fewer(chosen, f"colours-{sent['drop']}")
            changed.pop(f"colours-{sent['drop']}", None)
        elif sent.get("even") in ("sizes", "colours"):
            shares = evened({key: said for key, said in sent.items() if key.startswith(f"{sent['even']}-")})
        else:
            return super().pressed(data)
        for key, percent in shares.items():
            changed[key] = percent
        return Pressed(changed, sent.get("even", "colours"))
