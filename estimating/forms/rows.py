"""Rows of a form: balloons by colour, size and count; things off the shelf by number.

A row that nothing was typed into is left out, so a form may show empty ones to fill.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.http import QueryDict

from estimating.specs import MOST_BALLOONS
from studio.form_fields import refusal

MOST_LINES = 60
MOST_ROWS = 20
ROWS_MORE = 3


class RowsWidget(forms.Widget):
    """Reads rows of columns: `extras-0-item`, `extras-0-count`, and so on."""

    def __init__(self, *columns: str, start: str = "", most: int = MOST_ROWS) -> None:
        super().__init__()
        self.columns, self.start, self.most = columns, start, most

    def value_from_datadict(self, data: Mapping[str, Any], files: Any, name: str) -> list[dict[str, str]]:
        """The rows in their order, empty ones too, each column as it was typed."""
        start = self.start or name
        named = ({column: f"{start}-{n}-{column}" for column in self.columns} for n in range(self.most))
        return [
            {column: str(data.get(key, "")).strip() for column, key in row.items()}
            for row in named
            if any(key in data for key in row.values())
        ]


def with_more_rows(data: QueryDict, name: str, widget: RowsWidget, usual: Mapping[str, str]) -> QueryDict:
    """What was sent, with a few more rows that hold only what is usual."""
    changed, start = data.copy(), widget.start or name
    rows = len(widget.value_from_datadict(data, {}, name))
    for n in range(rows, min(widget.most, rows + ROWS_MORE)):
        for column in widget.columns:
            changed[f"{start}-{n}-{column}"] = usual.get(column, "")
    return changed


def how_many(what: str, typed: str, most: int) -> int:
    """A count somebody typed; raises ValidationError with a sentence that says what it may be."""
    count = int(typed) if typed.isdecimal() and len(typed) < 9 else 0
    if not 1 <= count <= most:
        raise refusal(what, f"a whole number from 1 to {most}", typed)
    return count


LINES_WIDGET = RowsWidget("colour", "size", "count", start="line", most=MOST_LINES)


class LinesField(forms.Field):
    """Rows of colour, size and count; rows with neither colour nor count are left out."""

    widget = LINES_WIDGET

    def clean(self, value: list[dict[str, str]]) -> list[tuple[int, str, str, int]]:
        """Row number, colour's key, size as sent, and count."""
        lines = []
        for number, row in enumerate(value, start=1):
            if not row["colour"] and not row["count"]:
                continue
            if not row["colour"]:
                raise ValidationError(f"Line {number} has no colour: choose one, or empty its count.")
            count = how_many(f"how many in line {number}", row["count"], MOST_BALLOONS)
            lines.append((number, row["colour"], row["size"], count))
        if not lines:
            raise ValidationError("Balloons are missing: choose a colour and say how many.")
        return lines


THINGS_WIDGET = RowsWidget("item", "count")


class ThingsField(forms.Field):
    """Rows of a thing off the shelf and how many of it; rows with neither are left out."""

    widget = THINGS_WIDGET
    most = 1000

    def clean(self, value: list[dict[str, str]]) -> tuple[tuple[str, int], ...]:
        """Each item's key and how many of it, an item in several rows once."""
        found: dict[str, int] = {}
        for number, row in enumerate(value, start=1):
            if not row["item"] and not row["count"]:
                continue
            if not row["item"]:
                raise ValidationError(f"Row {number} names no thing: choose one, or empty its number.")
            found[row["item"]] = found.get(row["item"], 0) + how_many(
                f"how many in row {number}", row["count"] or "1", self.most
            )
        over = next((count for count in found.values() if count > self.most), None)
        if over is not None:
            raise refusal("how many of one thing", f"at most {self.most}", over)
        return tuple(found.items())
