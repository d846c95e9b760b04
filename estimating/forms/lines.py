"""Pieces told balloon by balloon: so many of each colour and size."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from typing import Any, NamedTuple

from django.core.exceptions import ValidationError
from django.http import QueryDict

from estimating.forms.fields import is_size
from estimating.forms.mixing import Inside
from estimating.forms.pieces import Pressed
from estimating.forms.rows import LINES_WIDGET, MOST_LINES, LinesField, with_more_rows
from estimating.specs import SIZES
from stock.models import Colour
from studio.form_fields import refusal

LINES_AT_FIRST = 3


class LineRow(NamedTuple):
    """One line of balloons, as typed."""

    number: int
    colour: Colour | None
    colour_key: str
    size: int
    how_many: str


class Counted(Inside):
    """Lines of a colour, a size and how many."""

    lines = LinesField(label="Balloons")

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

    def outer_keys(self) -> list[str]:
        """The colours of the lines that have a count."""
        rows = LINES_WIDGET.value_from_datadict(self.data, {}, "lines")
        return [row["colour"] for row in rows if row["colour"] and row["count"]]

    @property
    def line_rows(self) -> list[LineRow]:
        """The rows as typed, with empty ones to fill."""
        rows = LINES_WIDGET.value_from_datadict(self.data, {}, "lines")
        wanted = min(MOST_LINES, max(LINES_AT_FIRST, len(rows)))
        rows += [{"colour": "", "size": "11", "count": ""}] * (wanted - len(rows))
        return [
            LineRow(
                n,
                self.palette.get(row["colour"]),
                row["colour"],
                int(row["size"]) if is_size(row["size"]) else 11,
                row["count"],
            )
            for n, row in enumerate(rows)
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
    def without_lost_colours(cls, data: Mapping[str, Any], known: Iterable[str]) -> tuple[dict[str, Any], int]:
        """Lines in a colour that is gone keep their count and ask for another colour."""
        known = set(known)
        kept, lost = super().without_lost_colours(data, known)
        rows = [key for key in kept if key.startswith("line-") and key.endswith("-colour")]
        gone = [key for key in rows if kept[key] and kept[key] not in known]
        return kept | dict.fromkeys(gone, ""), lost + len(gone)

    @classmethod
    def pressed(cls, data: QueryDict) -> Pressed | None:
        """More rows."""
        if data.get("more") != "lines":
            return super().pressed(data)
        return Pressed(with_more_rows(data, "lines", LINES_WIDGET, {"size": "11"}), "lines")


def lines_typed(lines: Sequence[Sequence[Any]]) -> dict[str, str]:
    """Kept lines of colour, size and count as a form sends them."""
    return {
        f"line-{n}-{column}": str(value)
        for n, line in enumerate(lines)
        for column, value in zip(("colour", "size", "count"), line, strict=True)
    }
