"""What is typed about a place, the strike, and going ahead though a check is not met."""

from collections.abc import Iterator, Sequence
from decimal import ROUND_HALF_UP, Decimal
from typing import Any

from django import forms
from django.forms import BoundField

from bookings.models import Place, Strike
from bookings.queries.site import PiecePoints
from estimating.forms.fields import LengthField
from studio.form_fields import WEIGHT_UNITS, ReadingField, WholeNumberField
from studio.units import System

FOOT = Decimal("304.8")
HEAVIEST_KG = 2_000
MOST_POINTS = 60
"""Points of one piece that can be rated one by one."""

PLAIN = ("address", "contact_name", "contact_phone", "access_notes", "parking", "ceiling_notes", "photos_wanted")
CHOSEN = ("sprinklers", "exits", "latex")
TIMES = ("access_from", "access_until", "out_from", "out_by")
LENGTHS = ("sprinkler_gap_mm", "room_length_mm", "room_width_mm", "room_height_mm")
WEIGHTS = ("point_grams", "ballast_grams")


def _words(label: str, most: int, *, rows: int = 0, **attrs: str) -> forms.CharField:
    widget = forms.Textarea(attrs={"rows": rows, **attrs}) if rows else forms.TextInput(attrs=attrs)
    return forms.CharField(label=label, max_length=most, required=False, widget=widget)


def _length(label: str, *, high: int, unit: bool = False, help_text: str = "") -> LengthField:
    return LengthField(
        label=label,
        low=Decimal(0) if unit else FOOT,
        high=FOOT * high,
        plain={"imperial": "in", "metric": "cm"} if unit else {"imperial": "ft", "metric": "m"},
        required=False,
        help_text=help_text,
    )


def _weight(label: str, help_text: str = "") -> ReadingField:
    return ReadingField(
        label=label,
        units=WEIGHT_UNITS,
        plain={"imperial": "lb", "metric": "kg"},
        low=1,
        high=HEAVIEST_KG * 1000,
        places=2,
        required=False,
        help_text=help_text,
    )


def _choice(label: str, choices: Any, help_text: str = "") -> forms.ChoiceField:
    return forms.ChoiceField(label=label, choices=choices, required=False, help_text=help_text)


def _time(label: str, help_text: str = "") -> forms.TimeField:
    widget = forms.TimeInput(attrs={"type": "time"}, format="%H:%M")
    return forms.TimeField(label=label, required=False, widget=widget, help_text=help_text)


class PlaceForm(forms.Form):
    """All that is known of a place. `points` are those of the pieces that hang, each of which may have its rating."""

    address = _words("Address", 400, rows=3, autocomplete="off")
    contact_name = _words("Contact on the day", 120, autocomplete="off", autocapitalize="words")
    contact_phone = _words("Their phone", 40, type="tel", inputmode="tel", autocomplete="off")
    access_from = _time("One may get in from")
    access_until = _time("Until", "No later than the start means after midnight.")
    out_from = _time("May be taken down from", "Left empty, as soon as the event is over.")
    out_by = _time("Everything out by", "Before the event’s start means after midnight.")
    access_notes = _words("How to get in", 1000, rows=3)
    parking = _words("Parking", 300)
    exits = _choice("Ways out, exit signs, alarms", Place.Exits.choices)
    sprinklers = _choice("Sprinklers above it", Place.Sprinklers.choices)
    sprinkler_gap_mm = _length("Clear below the sprinklers", high=100, unit=True, help_text="18 in or 46 cm at least.")
    latex = _choice("Allergic to latex", Place.Latex.choices, "Guests, workers, or the rules of the house.")
    ceiling_notes = _words("Ceiling, sprinklers and exits", 1000, rows=3)
    point_grams = _weight("What a point is rated for", "By the venue or a rigger. Each point may have its own below.")
    ballast_grams = _weight("Ballast on each base", "Outdoors, of what stands.")
    room_length_mm = _length("Length of the room", high=3_000)
    room_width_mm = _length("Width of the room", high=3_000)
    room_height_mm = _length("Height of the room", high=300, help_text="For helium: what its air can take.")
    photos_wanted = _words("Photos wanted", 1000, rows=2)

    def __init__(
        self, *args: Any, place: Place, points: Sequence[PiecePoints] = (), measures: System = "imperial", **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        self.points = [piece for piece in points if len(piece.ratings) <= MOST_POINTS]
        self.place = place
        for name in (*PLAIN, *CHOSEN, *TIMES, *LENGTHS):
            self.initial.setdefault(name, getattr(place, name))
        for name in WEIGHTS:
            grams = getattr(place, name)
            self.initial.setdefault(name, None if grams is None else Decimal(grams))
        for piece in self.points:
            own = _own(place, piece)
            for n in range(1, len(piece.ratings) + 1):
                self.fields[_rating(piece, n)] = _weight(f"Point {n} of {piece.name}")
                self.initial.setdefault(_rating(piece, n), Decimal(own[str(n)]) if str(n) in own else None)
        for field in self.fields.values():
            if isinstance(field, LengthField | ReadingField):
                field.measures = measures

    def clean(self) -> dict[str, Any]:
        """A way in that is open for no time at all is refused, and a gap without sprinklers."""
        given = super().clean() or self.cleaned_data
        opens, closes = given.get("access_from"), given.get("access_until")
        if closes is not None and opens is None and "access_from" not in self.errors:
            self.add_error("access_from", f"Say from when too: one may get in until {closes:%H:%M}.")
        if opens is not None and opens == closes:
            self.add_error("access_until", f"Until must be another time than from (both are {opens:%H:%M}).")
        if given.get("out_from") is not None and given.get("out_from") == given.get("out_by"):
            both = given["out_by"]
            self.add_error("out_by", f"Out by must be another time than from when (both are {both:%H:%M}).")
        if given.get("sprinkler_gap_mm") is not None and given.get("sprinklers") == Place.Sprinklers.NONE:
            self.add_error("sprinkler_gap_mm", "Clear below the sprinklers must be left empty where there are none.")
        return given

    @property
    def rated(self) -> Iterator[tuple[PiecePoints, list[BoundField], bool]]:
        """Each piece that hangs with the fields of its points, and whether any of them is filled or refused."""
        for piece in self.points:
            fields = [self[_rating(piece, n)] for n in range(1, len(piece.ratings) + 1)]
            yield piece, fields, any(field.errors or field.value() for field in fields)

    @property
    def kept(self) -> dict[str, Any]:
        """The fields of the place. What was rated of a piece that is not shown here stays."""
        given = self.cleaned_data
        ratings = dict(self.place.ratings)
        for piece in self.points:
            many = len(piece.ratings)
            grams = {str(n): _whole(given[_rating(piece, n)]) for n in range(1, many + 1) if given[_rating(piece, n)]}
            ratings.pop(str(piece.key), None)
            if grams:
                ratings[str(piece.key)] = {"points": many, "grams": grams}
        return {
            **{name: given[name] for name in (*PLAIN, *CHOSEN, *TIMES, *LENGTHS)},
            **{name: None if given[name] is None else _whole(given[name]) for name in WEIGHTS},
            "ratings": ratings,
        }


class AcknowledgeForm(forms.Form):
    """Whose word it is to go ahead, and why."""

    key = forms.CharField(max_length=40, widget=forms.HiddenInput())
    stamp = forms.CharField(max_length=32, widget=forms.HiddenInput())
    name = forms.CharField(
        label="Your name",
        max_length=120,
        widget=forms.TextInput(attrs={"autocomplete": "name", "autocapitalize": "words"}),
        error_messages={"required": "Your name is needed: somebody answers for going ahead."},
    )
    reason = forms.CharField(
        label="Why you go ahead",
        max_length=400,
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
        error_messages={"required": "Why you go ahead is needed: the next reader will ask."},
    )


class StrikeForm(forms.Form):
    """How a job is taken down."""

    people = WholeNumberField(least=1, most=12, label="People", required=False, help_text="Empty: as many as install.")
    who = _words("Who", 200, autocomplete="off", autocapitalize="words")
    notes = _words("What is particular about it", 1000, rows=3)

    def __init__(self, *args: Any, strike: Strike, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name in self.fields:
            self.initial.setdefault(name, getattr(strike, name))


def _rating(piece: PiecePoints, number: int) -> str:
    return f"rating_{piece.key}_{number}"


def _own(place: Place, piece: PiecePoints) -> dict[str, int]:
    """The ratings of a piece's own points, where it still has as many."""
    kept = place.ratings.get(str(piece.key), {})
    return kept.get("grams", {}) if kept.get("points") == len(piece.ratings) else {}


def _whole(grams: Decimal) -> int:
    return max(int(grams.to_integral_value(ROUND_HALF_UP)), 1)
