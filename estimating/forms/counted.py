"""What people type about a hand-counted piece."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from decimal import Decimal
from math import ceil
from typing import Any, NamedTuple

from django.core.exceptions import ValidationError
from django.http import QueryDict

from estimating.forms.fields import FOOT, MOST_LINES, LengthField, LinesField, LinesWidget, is_size
from estimating.forms.pieces import PieceForm, Pressed
from estimating.kinds import CountedSpec, counted
from estimating.specs import SIZES
from stock.models import Colour
from studio.form_fields import WholeNumberField, refusal
from studio.units import System, show_length

LINES_AT_FIRST, LINES_MORE = 3, 3


class LineRow(NamedTuple):
    """One line of a hand-counted piece, as typed."""

    number: int
    colour: Colour | None
    colour_key: str
    size: int
    how_many: str


class CountedForm(PieceForm):
    """A hand-counted piece: how many of each balloon, and the work as the decorator knows it."""

    kind = counted.NAME
    fields_of_spec = {"lines": "lines", "minutes": "minutes", "line_ft": "line", "attachments": "attachments"}

    lines = LinesField(label="Balloons")
    minutes = WholeNumberField(
        label="Minutes of work",
        least=0,
        most=60_000,
        required=False,
        help_text="One person’s, to make and hang it. Empty works it out from your rates.",
    )
    line = LengthField(
        label="Line",
        low=Decimal(0),
        high=2000 * FOOT,
        plain={"imperial": "ft", "metric": "m"},
        required=False,
        help_text="Fishing line or rope, if any.",
    )
    attachments = WholeNumberField(
        label="Attachment points", least=0, most=1000, required=False, help_text="Where it is tied or hung."
    )

    field_order = ("name", "lines", "minutes", "line", "attachments", "outdoors", "seed")

    def clean_lines(self) -> tuple[tuple[str, int, int], ...]:
        """Lines of colour key, nominal size and count, each colour and size once."""
        found: dict[tuple[str, int], int] = {}
        for number, colour, size, count in self.cleaned_data["lines"]:
            if colour not in self.palette:
                raise refusal(f"the colour of line {number}", "one of the studio’s", colour)
            if not is_size(size):
                raise refusal(f"the size of line {number}", f"one of {', '.join(map(str, SIZES))} inches", size)
            if (colour, int(size)) in found:
                said = f"{self.palette[colour]} {size}-inch"
                raise ValidationError(f"{said} is there twice: put all of them in one line.")
            found[(colour, int(size))] = count
        return tuple((colour, size, count) for (colour, size), count in found.items())

    @property
    def spec(self) -> CountedSpec:
        """The piece as counted; line is rounded up to whole feet."""
        given = self.cleaned_data
        return CountedSpec(
            lines=given["lines"],
            outdoors=given["outdoors"],
            minutes=given["minutes"] or 0,
            line_ft=ceil((given["line"] or Decimal(0)) / FOOT),
            attachments=given["attachments"] or 0,
            seed=given["seed"],
        )

    @property
    def line_rows(self) -> list[LineRow]:
        """The rows as typed, with empty ones to fill."""
        rows = self.fields["lines"].widget.value_from_datadict(self.data, {}, "lines")
        wanted = min(MOST_LINES, max(LINES_AT_FIRST, len(rows)))
        rows += [("", "11", "")] * (wanted - len(rows))
        return [
            LineRow(n, self.palette.get(key), key, int(size) if is_size(size) else 11, count)
            for n, (key, size, count) in enumerate(rows)
        ]

    @property
    def can_add_lines(self) -> bool:
        """Whether there is room for more rows."""
        return len(self.line_rows) < MOST_LINES

    @property
    def size_choices(self) -> Collection[int]:
        """Every nominal size."""
        return SIZES

    @classmethod
    def data_of(cls, name: str, spec: Mapping[str, Any], measures: System) -> dict[str, Any]:
        """A kept counted piece as the form would have sent it."""
        data = super().data_of(name, spec, measures)
        for n, (colour, size, count) in enumerate(spec["lines"]):
            data |= {f"line-{n}-colour": colour, f"line-{n}-size": str(size), f"line-{n}-count": str(count)}
        length = spec["line_ft"] * FOOT
        line = spec.get("typed", {}).get("line") or (show_length(length, measures) if length else "")
        return data | {
            "minutes": str(spec["minutes"] or ""),
            "line": line,
            "attachments": str(spec["attachments"] or ""),
        }

    @classmethod
    def first_data(cls, colours: Sequence[Colour], measures: System) -> dict[str, Any]:
        """A piece to start from: one line to change."""
        lines = {"line-0-colour": colours[0].key, "line-0-size": "11", "line-0-count": "12"} if colours else {}
        return {"name": "Bouquet", "outdoors": "False", "seed": "1", **lines}

    @classmethod
    def pressed(cls, data: QueryDict) -> Pressed | None:
        """More rows."""
        if "more" not in data:
            return super().pressed(data)
        changed = data.copy()
        rows = len(LinesWidget().value_from_datadict(data, {}, "lines"))
        for n in range(rows, min(MOST_LINES, rows + LINES_MORE)):
            changed.update({f"line-{n}-colour": "", f"line-{n}-size": "11", f"line-{n}-count": ""})
        return Pressed(changed, "lines")
