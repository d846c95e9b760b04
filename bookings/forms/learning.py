"""What is typed to pin a setting that jobs would teach."""

from decimal import Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from studio.form_fields import refusal

LIMITS = {True: (Decimal(0), Decimal(50)), False: (Decimal(-90), Decimal(400))}
"""From where to where: per cent that pop, and per cent more than reckoned."""


class PercentField(forms.DecimalField):
    """A share in per cent, with either sign for less and with or without its own."""

    def to_python(self, value: Any) -> Any:
        """The number."""
        return super().to_python(str(value or "").replace("−", "-").strip().removesuffix("%").strip())


class PinForm(forms.Form):
    """Per cent that pop where `is_chance`; else per cent more than reckoned, below zero for less."""

    percent = PercentField(
        max_digits=6, decimal_places=2, widget=forms.TextInput({"inputmode": "text", "autocomplete": "off"})
    )

    def __init__(self, *args: Any, is_chance: bool, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.is_chance = is_chance
        field = self.fields["percent"]
        field.label = "Per cent that pop" if is_chance else "Per cent more than reckoned"
        field.help_text = "" if is_chance else "With a minus for less: −5 is five in a hundred less."
        self.low, self.high = LIMITS[is_chance]
        typed = str(self.data.get("percent", "")) if self.is_bound else ""
        rule = f"a number from {self.low} to {self.high}, with at most 2 decimals"
        message = refusal(field.label, rule, typed).message
        kinds = ("invalid", "max_digits", "max_decimal_places", "max_whole_digits")
        field.error_messages |= dict.fromkeys(kinds, message)
        field.error_messages["required"] = f"{field.label} is needed."

    def clean_percent(self) -> Decimal:
        """Within what can be true."""
        percent: Decimal = self.cleaned_data["percent"]
        if not self.low <= percent <= self.high:
            raise ValidationError(self.fields["percent"].error_messages["invalid"])
        return percent

    @property
    def value(self) -> Decimal:
        """The chance, or the factor."""
        share = self.cleaned_data["percent"] / 100
        return share if self.is_chance else 1 + share
