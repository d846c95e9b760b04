"""Where the pieces of a job go on its quote, what the options are called, and an extra that is no piece."""

from collections.abc import Mapping, Sequence
from typing import Any

from django import forms

from bookings.choosing import MOST_OPTIONS
from bookings.models import Charge, Piece
from studio.form_fields import MoneyField, WholeNumberField, name_what_is_missing

LONGEST_MINUTES = 6000


class ArrangeForm(forms.Form):
    """A field for each piece, and a name for each option."""

    def __init__(self, data: Any = None, *, pieces: Sequence[Piece], names: Mapping[int, str]) -> None:
        super().__init__(data)
        self.pieces = pieces
        for piece in pieces:
            self.fields[f"piece-{piece.pk}"] = forms.ChoiceField(
                label=piece.name, choices=Piece.GoesIn.choices, initial=piece.goes_in
            )
        for number in range(1, MOST_OPTIONS + 1):
            self.fields[f"option-{number}"] = forms.CharField(
                label=f"Option {number} is called",
                max_length=60,
                required=False,
                initial=names.get(number, ""),
                widget=forms.TextInput(attrs={"autocomplete": "off", "placeholder": f"Option {number}"}),
            )
        name_what_is_missing(self.fields)

    @property
    def placing(self) -> list[forms.BoundField]:
        """The fields of the pieces."""
        return [self[f"piece-{piece.pk}"] for piece in self.pieces]

    @property
    def naming(self) -> list[forms.BoundField]:
        """The fields of the names."""
        return [self[f"option-{number}"] for number in range(1, MOST_OPTIONS + 1)]

    @property
    def goes_in(self) -> dict[int, str]:
        """Where each piece goes, by its key."""
        return {piece.pk: self.cleaned_data[f"piece-{piece.pk}"] for piece in self.pieces}

    @property
    def names(self) -> dict[int, str]:
        """What each option is called; empty where it has no name of its own."""
        return {number: self.cleaned_data[f"option-{number}"].strip() for number in range(1, MOST_OPTIONS + 1)}


class ChargeForm(forms.Form):
    """An extra that is no piece: its name, and the time it takes, what is asked for it, or both."""

    name = forms.CharField(
        label="Name",
        max_length=80,
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
        help_text="As clients read it.",
    )
    note = forms.CharField(
        label="What it is", max_length=200, required=False, widget=forms.TextInput(attrs={"autocomplete": "off"})
    )
    minutes = WholeNumberField(
        label="Minutes of work",
        least=0,
        most=LONGEST_MINUTES,
        required=False,
        help_text="Of one person, or of several together. Priced at your rates unless you ask an amount.",
    )
    amount = MoneyField(label="Amount you ask", required=False, help_text="Before tax.")

    def __init__(self, data: Any = None, *, currency: str, charge: Charge | None = None) -> None:
        initial: dict[str, Any] = {}
        if charge is not None:
            initial = {
                "name": charge.name,
                "note": charge.note,
                "minutes": charge.minutes or None,
                "amount": charge.amount_minor,
            }
        super().__init__(data, initial=initial)
        amount = self.fields["amount"]
        if isinstance(amount, MoneyField):
            amount.currency = currency
        name_what_is_missing(self.fields)

    def clean(self) -> dict[str, Any]:
        """Something has to say what it costs."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        unsaid = not cleaned.get("minutes") and cleaned.get("amount") is None
        if unsaid and not {"minutes", "amount"} & set(self.errors):
            self.add_error("amount", "Amount you ask is needed where no minutes of work are given.")
        return cleaned
