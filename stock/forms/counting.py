"""What is typed while the shelf is counted."""

import datetime as dt
from decimal import Decimal
from typing import Any

from django import forms

from stock.forms.fields import BestBefore, WholeNumber, Words
from stock.lots import MOST_MONTHS
from stock.models import Lot, ShelfRules
from stock.weighing import MOST_LITRES, MOST_MILLIGRAMS, pieces_in
from studio.form_fields import ROOM_TAKEN_UNITS, WEIGHT_UNITS, ReadingField
from studio.units import System


class Weight(ReadingField):
    """A weight as a scale shows it, to a tenth of a gram: 32 g, 1.1 kg, 4 oz. A bare number is grams."""

    def __init__(self, *, label: str, **kwargs: Any) -> None:
        super().__init__(
            label=label,
            units=WEIGHT_UNITS,
            plain={"imperial": "g", "metric": "g"},
            low=0,
            high=MOST_MILLIGRAMS // 1000,
            places=1,
            **kwargs,
        )
        self.widget.attrs["inputmode"] = "text"
        self.error_messages["required"] = f"{label} is needed; nothing was typed."


class RoomTaken(ReadingField):
    """The room something takes as it travels: 2 ft³, 55 l. A bare number is in the studio's own."""

    def __init__(self, *, label: str, low: int = 0, **kwargs: Any) -> None:
        super().__init__(
            label=label,
            units=ROOM_TAKEN_UNITS,
            plain={"imperial": "ft³", "metric": "l"},
            low=low,
            high=MOST_LITRES,
            places=2,
            **kwargs,
        )
        self.widget.attrs["inputmode"] = "text"
        self.error_messages["required"] = f"{label} is needed; nothing was typed."


class CountForm(forms.Form):
    """How many there are of one item: counted, or weighed where it is known what one weighs."""

    counted = WholeNumber(label="Counted", required=False)
    weight = Weight(label="Or the weight of all", required=False)

    def __init__(self, *args: Any, piece_milligrams: int | None, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.piece_milligrams = piece_milligrams
        if piece_milligrams is None:
            del self.fields["weight"]

    def clean(self) -> dict[str, Any]:
        """Exactly one of the two."""
        cleaned = self.cleaned_data
        if self.errors:
            return cleaned
        counted, weight = cleaned.get("counted"), cleaned.get("weight")
        if counted is None and weight is None:
            self.add_error("counted", "Counted is needed; nothing was typed. Type 0 where there are none.")
        elif counted is not None and weight is not None:
            self.add_error("weight", f"Count or weigh, not both (got {counted:,} and a weight).")
        return cleaned

    @property
    def milligrams(self) -> int | None:
        """What was weighed; None where it was counted."""
        weight = self.cleaned_data.get("weight")
        return None if weight is None else int(weight * 1000)

    @property
    def pieces(self) -> int:
        """How many there are."""
        milligrams = self.milligrams
        if milligrams is None or self.piece_milligrams is None:
            counted: int = self.cleaned_data["counted"]
            return counted
        return pieces_in(milligrams, self.piece_milligrams)


class ReasonForm(forms.Form):
    """Why a count differs."""

    why = Words(label="Why", most=160)


class KnownWeightForm(forms.Form):
    """A known number on the scale, to learn what one weighs."""

    pieces = WholeNumber(label="So many of them", least=1, most=10_000)
    weight = Weight(label="Weigh together", help_text="Such as 32 g or 4 oz.")

    @property
    def milligrams(self) -> int:
        """What they weigh together."""
        return int(self.cleaned_data["weight"] * 1000)


def room_words(millilitres: int | None, measures: System) -> str:
    """The room of one as it is shown beside its form: “2 ft³”, “55 l”; nothing where none is known."""
    if millilitres is None:
        return ""
    field = RoomTaken(label="Room")
    field.measures = measures
    return field.in_words(Decimal(millilitres) / 1000)


class KnownRoomForm(forms.Form):
    """A known number packed as they travel, to learn how much room one takes."""

    pieces = WholeNumber(label="So many of them", least=1, most=10_000)
    room = RoomTaken(label="Take up together", help_text="Such as 2 ft³ or 55 l.")

    def __init__(self, *args: Any, room_millilitres: int | None, measures: System, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["room"].measures = measures  # type: ignore[attr-defined]
        self.now = room_words(room_millilitres, measures)

    @property
    def millilitres(self) -> int:
        """What they take up together."""
        return int(self.cleaned_data["room"] * 1000)


class RulesForm(forms.ModelForm):
    """How the shelf is kept."""

    latex_months = WholeNumber(
        label="Latex is good for so many months",
        most=MOST_MONTHS,
        help_text="From the day it came, unless an item says otherwise. 24 is common practice; 0: not watched.",
    )
    most_unexplained = WholeNumber(
        label="A count may differ by", most=100_000, help_text="A difference of more than this many needs a reason."
    )

    class Meta:
        model = ShelfRules
        fields = ("latex_months", "most_unexplained")

    def validate_constraints(self) -> None:
        """There is one row, and this is it."""


class LotForm(forms.ModelForm):
    """Until when a lot is good, and where it lies."""

    best_before = BestBefore(label="Best before", required=False, help_text="The last day it is good. Empty: it keeps.")
    place = Words(label="Place on the shelf", most=40, required=False, help_text="Where it is not with the others.")

    class Meta:
        model = Lot
        fields = ("best_before", "place")

    def __init__(self, *args: Any, today: dt.date, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["best_before"].today = today  # type: ignore[attr-defined]
