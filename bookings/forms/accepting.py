"""The client's yes, checked: what they chose, their name, and that they have read the terms."""

from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from bookings.choosing import Asked, Choice, NoSuchChoice, Offer, agreed, numbers
from studio.money import show


class AcceptForm(forms.Form):
    """The client's name, typed, that they have read the terms, and their choice of what the quote offers.

    Option and extras stand further up the page and come with the form. `total_seen` is the total the page showed: a
    yes to another one is asked again, because without the script the page cannot follow what is ticked.
    """

    name = forms.CharField(
        label="Your name",
        max_length=120,
        widget=forms.TextInput(attrs={"autocomplete": "name", "autocapitalize": "words"}),
        error_messages={"required": "Type your name to accept."},
    )
    agreed = forms.BooleanField(
        label="I have read the terms and the cautions",
        error_messages={"required": "Tick that you have read the terms."},
    )

    def __init__(self, data: Any = None, *, offer: Offer, currency: str, name: str = "") -> None:
        super().__init__(data, initial={"name": name})
        self.offer, self.currency = offer, currency

    def _sent(self, data: Any) -> Choice:
        """The choice as it was sent. Raises NoSuchChoice."""
        first = self.offer.first_choice
        if not self.offer.is_a_choice:
            return first
        (option,) = numbers([data.get("option", str(first.option))])
        choice = Choice(option, numbers(data.getlist("extra")))
        agreed(self.offer, choice)
        return choice

    def chosen(self, data: Any = None) -> Choice:
        """What the page shows as chosen: what was sent, else (also where that is not offered) the first choice."""
        data = self.data if data is None else data
        if not data:
            return self.offer.first_choice
        try:
            return self._sent(data)
        except NoSuchChoice:
            return self.offer.first_choice

    def asked(self, data: Any = None) -> Asked:
        """What the choice that is shown comes to."""
        return agreed(self.offer, self.chosen(data))

    def clean(self) -> dict[str, Any]:
        """Refuse a choice that is not offered, and a total the client has not seen."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        if not self.offer.is_a_choice:
            return cleaned
        try:
            total = agreed(self.offer, self._sent(self.data)).total
        except NoSuchChoice as refusal:
            raise ValidationError(f"{refusal} Choose again, then accept.") from refusal
        if self.data.get("total_seen") != str(total):
            said = show(total, self.currency)
            raise ValidationError(f"What you chose comes to {said} in all. If that is what you want, accept once more.")
        return cleaned
