"""What is marked and drawn on a photo: points in its pixels, and the lengths that measure the wall."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from estimating.forms.fields import LengthField
from estimating.kinds.garland.spec import THINNEST, WIDEST
from estimating.plane import MOST_POINTS, Plane, PlaneError, Point, plane_of_marks
from studio.units import PlainUnit, System, inches

SHORTEST_KNOWN, LONGEST_KNOWN = Decimal(76), Decimal("60960")
KNOWN = (("rectangle", "A rectangle"), ("length", "One length"))
PLAIN: Mapping[System, PlainUnit] = {"imperial": "in", "metric": "cm"}

_NUMBER = r"[0-9]{1,5}(?:\.[0-9]{1,3})?"
_POINT = re.compile(rf"({_NUMBER})\s*,\s*({_NUMBER})")
_BETWEEN = re.compile(r"[\s;]+")


class PointsField(forms.CharField):
    """Points as they are typed, across and down in pixels of the photo: “120,80 460,75”. One a line will do."""

    def __init__(self, *, most: int, **kwargs: Any) -> None:
        attrs = {"rows": "3", "autocomplete": "off", "autocapitalize": "off", "spellcheck": "false"}
        super().__init__(widget=forms.Textarea(attrs=attrs), max_length=most * 24, **kwargs)
        self.most = most

    def clean(self, value: Any) -> list[Point]:
        """The points, or one sentence with the first that is none."""
        typed: str = super().clean(value)
        points = []
        for said in _BETWEEN.split(re.sub(r"\s*,\s*", ",", typed.strip())):
            if not said:
                continue
            found = _POINT.fullmatch(said)
            if found is None:
                raise ValidationError(
                    f"{self.label} must be points such as 120,80: across and down in pixels; “{said[:20]}” is none."
                )
            points.append((float(found[1]), float(found[2])))
        if len(points) > self.most:
            raise ValidationError(f"{self.label} can have {self.most} points at most; these are {len(points)}.")
        return points


def _known_length(label: str) -> LengthField:
    return LengthField(label=label, low=SHORTEST_KNOWN, high=LONGEST_KNOWN, plain=PLAIN, required=False)


class SketchForm(forms.Form):
    """What measures the wall, the path drawn on it, and how wide the garland is."""

    known = forms.ChoiceField(label="What you know the size of", choices=KNOWN, widget=forms.RadioSelect)
    known_width = _known_length("How wide it is")
    known_height = _known_length("How high it is")
    known_length = _known_length("How long it is")
    width = LengthField(label="Finished width", low=THINNEST, high=WIDEST, plain=PLAIN)
    marks = PointsField(label="Marks", most=4)
    path = PointsField(
        label="Path",
        most=MOST_POINTS,
        error_messages={"required": "Path is missing: draw where the garland runs."},
    )

    def __init__(self, data: Any, *, photo_size: tuple[int, int], measures: System) -> None:
        super().__init__(data)
        self.photo_size = photo_size
        for name, field in self.fields.items():
            if isinstance(field, LengthField):
                field.measures = measures
            field.widget.attrs["aria-describedby"] = f"id_{name}_errors"

    def clean(self) -> dict[str, Any]:
        """The plane of the wall, and the path along it in inches, from the left end."""
        given: dict[str, Any] = self.cleaned_data
        for name in ("marks", "path"):
            self._check_inside(name, given.get(name, ()))
        if plane := self._plane(given):
            given["plane"] = plane
            if "path" in given:
                try:
                    given["along"] = plane.path_of(given["path"])
                except PlaneError as error:
                    self._refuse(error)
        return given

    @property
    def along(self) -> tuple[Point, ...]:
        """The path along the wall, in inches to the thousandth, begun at its left end."""
        path: Sequence[Point] = self.cleaned_data["along"]
        ordered = path if path[0][0] <= path[-1][0] else path[::-1]
        return tuple((round(x * 1000) / 1000, round(y * 1000) / 1000) for x, y in ordered)

    @property
    def known_lengths(self) -> dict[str, Any]:
        """What was known, in millimetres and as it was typed, to be kept with the sketch."""
        kept: dict[str, Any] = {"what": self.cleaned_data["known"]}
        for name in self._needed(self.cleaned_data["known"]):
            kept[name] = str(self.cleaned_data[f"known_{name}"])
            kept[f"{name}_typed"] = self.data[f"known_{name}"].strip()
        return kept

    @staticmethod
    def _needed(known: str) -> tuple[str, ...]:
        return ("length",) if known == "length" else ("width", "height")

    def _plane(self, given: dict[str, Any]) -> Plane | None:
        """The plane that was marked, or None where something is missing and said so."""
        if "known" not in given or "marks" not in given:
            return None
        needed = self._needed(given["known"])
        for name in needed:
            if given.get(f"known_{name}") is None and f"known_{name}" not in self.errors:
                said = f"{self.fields[f'known_{name}'].label} is missing: say it, such as 36 in or 90 cm."
                self.add_error(f"known_{name}", said)
        if any(given.get(f"known_{name}") is None for name in needed):
            return None
        lengths = {name: inches(given[f"known_{name}"]) for name in needed}
        try:
            return plane_of_marks(given["marks"], lengths)
        except PlaneError as error:
            self._refuse(error)
            return None

    def _refuse(self, error: PlaneError) -> None:
        field = error.field if error.field in ("marks", "path") else f"known_{error.field}"
        self.add_error(field, f"{self.fields[field].label} {error.rule} (got {error.value}).")

    def _check_inside(self, name: str, points: Sequence[Point]) -> None:
        """Points are on the photo; a finger that slid off its edge is let be by a twentieth."""
        width, height = self.photo_size
        for number, (x, y) in enumerate(points, start=1):
            if x > width * 1.05 or y > height * 1.05:
                said = f"{self.fields[name].label} must stay on the photo, {width} across and {height} down"
                self.add_error(name, f"{said} (got point {number} at {x:g},{y:g}).")
                return
