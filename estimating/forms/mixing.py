"""What a piece is mixed from: its sizes, its colours, and the colours stuffed inside them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any, NamedTuple

from django import forms
from django.http import QueryDict

from estimating.forms.fields import (
    LengthField,
    SharesField,
    SharesWidget,
    evened,
    is_size,
    whole_percent,
    with_one_fewer,
    with_one_more,
)
from estimating.forms.pieces import INCH, PieceForm, Pressed
from estimating.specs import SIZES
from stock.models import Colour
from studio.form_fields import refusal
from studio.money import shares
from studio.units import System

USUAL_SIZES = (5, 11, 16)
SIZES_IN_FRONT = 8
MOST_COLOURS = 8


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


class InsideRow(NamedTuple):
    """A colour of the piece, and the key of the colour inside it, empty for none."""

    colour: Colour
    field: str
    inside: str


class SizeMix(PieceForm):
    """Sizes by their share of the balloons."""

    most_sizes = 6
    usual_sizes: tuple[int, ...] = USUAL_SIZES

    sizes = SharesField(label="Sizes", one="size", most=6)

    def __init__(self, data: Mapping[str, Any], **kwargs: Any) -> None:
        super().__init__(data, **kwargs)
        asked = self.fields["sizes"]
        assert isinstance(asked, SharesField)
        asked.most = self.most_sizes

    def clean_sizes(self) -> tuple[tuple[int, int], ...]:
        """Nominal sizes with their percents; a size no balloon comes in is refused."""
        given: list[tuple[str, int]] = self.cleaned_data["sizes"]
        for size, _ in given:
            if not is_size(size):
                raise refusal("a size", f"one of {', '.join(map(str, SIZES))} inches", size)
        return tuple(sorted((int(size), percent) for size, percent in given))

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
        typed = shares_typed(self.data, "sizes").items()
        mixed = [int(key) for key, percent in typed if is_size(key) and percent not in ("", "0")]
        wanted = dict.fromkeys([*mixed, *self.usual_sizes, *sorted(set(self.sizes_on_shelf))])
        return set([size for size in wanted if size in SIZES][: max(SIZES_IN_FRONT, len(mixed))])

    def _size_row(self, size: int) -> SizeRow:
        typed = shares_typed(self.data, "sizes").get(str(size), "")
        return SizeRow(size, f"sizes-{size}", whole_percent(typed) or 0)

    @classmethod
    def data_of(cls, name: str, spec: Mapping[str, Any], measures: System) -> dict[str, Any]:
        """With the share of each size."""
        sizes = {f"sizes-{size}": str(percent) for size, percent in spec.get("mix", ())}
        return super().data_of(name, spec, measures) | sizes

    @classmethod
    def pressed(cls, data: QueryDict) -> Pressed | None:
        """Shares scaled to 100."""
        return _evened(data, "sizes") if data.get("even") == "sizes" else super().pressed(data)


class OneSize(PieceForm):
    """Balloons that are all of a size, and what they are blown to where that is not as usual."""

    size = forms.TypedChoiceField(label="Balloons", choices=[(str(n), f"{n}-inch") for n in SIZES], coerce=int)
    blown_to = LengthField(
        label="Blown to",
        low=INCH,
        high=36 * INCH,
        plain={"imperial": "in", "metric": "cm"},
        required=False,
        help_text="Empty blows them as you usually do.",
    )


class Inside(PieceForm):
    """Double-stuffed colours: which colour each of the piece's holds inside."""

    inside = forms.Field(label="Colours inside", required=False, widget=SharesWidget)

    def outer_keys(self) -> list[str]:
        """The keys of the colours on the outside, as they were typed."""
        raise NotImplementedError

    def clean_inside(self) -> tuple[tuple[str, str], ...]:
        """Outer and inner keys, of the colours the piece has."""
        given: dict[str, str] = self.cleaned_data["inside"]
        outers = self.outer_keys()
        for key, inner in given.items():
            if key in outers and inner and inner not in self.palette:
                raise refusal(f"the colour inside {self.palette[key]}", "one of the studio’s", inner)
        return tuple((key, given[key]) for key in dict.fromkeys(outers) if given.get(key))

    @property
    def inside_rows(self) -> list[InsideRow]:
        """Each colour of the piece with what it holds."""
        typed = shares_typed(self.data, "inside")
        known = [key for key in dict.fromkeys(self.outer_keys()) if key in self.palette]
        return [InsideRow(self.palette[key], f"inside-{key}", typed.get(key, "")) for key in known]

    @property
    def is_doubled(self) -> bool:
        """Whether any colour holds another."""
        return any(row.inside for row in self.inside_rows)

    @classmethod
    def data_of(cls, name: str, spec: Mapping[str, Any], measures: System) -> dict[str, Any]:
        """With what each colour holds."""
        inside = {f"inside-{outer}": inner for outer, inner in spec.get("doubled", ())}
        return super().data_of(name, spec, measures) | inside

    @classmethod
    def without_lost_colours(cls, data: Mapping[str, Any], known: Iterable[str]) -> tuple[dict[str, Any], int]:
        """Nothing inside where the inner colour is gone."""
        known = set(known)
        kept, lost = super().without_lost_colours(data, known)
        gone = {key for key, inner in kept.items() if key.startswith("inside-") and inner and inner not in known}
        return {key: said for key, said in kept.items() if key not in gone}, lost + len(gone)


class ColourMix(Inside):
    """Colours by their share of the balloons."""

    colours = SharesField(label="Colours", one="colour", most=MOST_COLOURS)
    in_turn = False

    def clean_colours(self) -> tuple[tuple[str, int], ...]:
        """Keys of the studio's colours with their percents."""
        given: list[tuple[str, int]] = self.cleaned_data["colours"]
        for key, _ in given:
            if key not in self.palette:
                raise refusal("a colour", "one of the studio’s", key)
        return tuple(given)

    def outer_keys(self) -> list[str]:
        """The colours with a share."""
        return [key for key, said in shares_typed(self.data, "colours").items() if whole_percent(said)]

    @property
    def colour_rows(self) -> list[ColourRow]:
        """The colours in the mix, in the order they were chosen."""
        rows = shares_typed(self.data, "colours").items()
        return [ColourRow(self.palette[key], f"colours-{key}", said) for key, said in rows if key in self.palette]

    @property
    def other_colours(self) -> list[Colour]:
        """The colours that can still be added; none once there are as many as a piece may have."""
        chosen = shares_typed(self.data, "colours")
        if len(chosen) >= MOST_COLOURS:
            return []
        return [colour for key, colour in self.palette.items() if key not in chosen and colour.in_use]

    @classmethod
    def data_of(cls, name: str, spec: Mapping[str, Any], measures: System) -> dict[str, Any]:
        """With the share of each colour."""
        colours = {f"colours-{key}": str(percent) for key, percent in spec.get("colours", ())}
        return super().data_of(name, spec, measures) | colours

    @classmethod
    def without_lost_colours(cls, data: Mapping[str, Any], known: Iterable[str]) -> tuple[dict[str, Any], int]:
        """The colours that are left take the part of those that are gone."""
        known = set(known)
        kept, lost = super().without_lost_colours(data, known)
        gone = [key for key in kept if key.startswith("colours-") and key.removeprefix("colours-") not in known]
        if not gone:
            return kept, lost
        kept = {key: said for key, said in kept.items() if key not in gone}
        if kept.get("colours_by") != "count":
            kept |= evened({key: said for key, said in kept.items() if key.startswith("colours-")})
        return kept, lost + len(gone)

    @classmethod
    def pressed(cls, data: QueryDict) -> Pressed | None:
        """A colour more or less, or shares scaled to 100."""
        if data.get("even") == "colours":
            return _evened(data, "colours")
        if "add" not in data and "drop" not in data:
            return super().pressed(data)
        changed, chosen = data.copy(), _sent(data, "colours")
        counted = data.get("colours_by") == "count"
        if "add" in data:
            key = f"colours-{data['add']}"
            added = chosen | {key: "1"} if len(chosen) < MOST_COLOURS and not chosen.get(key) else chosen
            found = added if counted else with_one_more(chosen, key, MOST_COLOURS)
        else:
            key = f"colours-{data['drop']}"
            changed.pop(key, None)
            others = {other: said for other, said in chosen.items() if other != key}
            found = others if counted else with_one_fewer(chosen, key)
        for name, said in found.items():
            changed[name] = said
        return Pressed(changed, "colours")


class ColoursInTurn(ColourMix):
    """Colours by their share, or by how many of each come one after the other."""

    together = 4
    """How many the numbers in turn add up to when they are made from shares."""

    colours_by = forms.ChoiceField(
        label="Colours go by", choices=(("percent", "Share"), ("count", "In turn")), widget=forms.HiddenInput
    )

    def __init__(self, data: Mapping[str, Any], **kwargs: Any) -> None:
        super().__init__(data, **kwargs)
        asked = self.fields["colours"]
        assert isinstance(asked, SharesField)
        self.in_turn = asked.in_turn = data.get("colours_by") == "count"

    @classmethod
    def pressed(cls, data: QueryDict) -> Pressed | None:
        """From shares to numbers in turn, and back."""
        if data.get("by") not in ("percent", "count"):
            return super().pressed(data)
        changed = data.copy()
        changed["colours_by"] = str(data["by"])
        chosen = _sent(data, "colours")
        found = _in_turn(chosen, cls.together) if data["by"] == "count" else evened(chosen)
        for name, said in found.items():
            changed[name] = said
        return Pressed(changed, "colours")


def shares_typed(data: Mapping[str, Any], field: str) -> dict[str, str]:
    """What was typed for each thing of a field of shares."""
    return SharesWidget().value_from_datadict(data, {}, field)


def _sent(data: QueryDict, field: str) -> dict[str, str]:
    return {key: str(said) for key, said in data.items() if key.startswith(f"{field}-")}


def _evened(data: QueryDict, field: str) -> Pressed:
    changed = data.copy()
    for key, percent in evened(_sent(data, field)).items():
        changed[key] = percent
    return Pressed(changed, field)


def _in_turn(typed: Mapping[str, str], together: int) -> dict[str, str]:
    """Shares as small whole numbers, each at least 1."""
    percents = {key: percent for key, said in typed.items() if (percent := whole_percent(said))}
    if not percents:
        return dict(typed)
    spare = max(0, together - len(percents))
    more = shares(spare, list(percents.values()))
    return dict(typed) | {key: str(1 + n) for key, n in zip(percents, more, strict=True)}


def colour_shares(colours: Sequence[Colour]) -> dict[str, str]:
    """These colours in even shares, as a form sends them."""
    return evened({f"colours-{colour.key}": "1" for colour in colours})


def length_words(imperial: str, metric: str, measures: System) -> str:
    """A length to start from, in the studio's own measures."""
    return imperial if measures == "imperial" else metric
