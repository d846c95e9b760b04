"""Fields the shelf's forms share. Every refusal names the field, the rule and what was typed."""

import datetime as dt
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from stock.actions.ledger import MOST
from stock.models import MOST_PRICE_MINOR
from studio.form_fields import MoneyField, WholeNumberField, refusal
from studio.money import show

_SHOWN = 24
_FURTHEST = dt.timedelta(days=365 * 20)


def shown(value: object) -> str:
    """What was typed, short enough to repeat inside a sentence."""
    text = " ".join(str(value).split())
    return f"“{text[:_SHOWN]}…”" if len(text) > _SHOWN else f"“{text}”" if text else "nothing"


class Words(forms.CharField):
    """A name or another short text."""

    def __init__(self, *, label: str, most: int, **kwargs: Any) -> None:
        super().__init__(label=label, max_length=most, **kwargs)
        self.error_messages["required"] = f"{label} is needed; nothing was typed."

    def run_validators(self, value: Any) -> None:
        """The rule and the value in one sentence; the other rules (such as no null characters) stay Django's."""
        if self.max_length is not None and len(str(value)) > self.max_length:
            rule = f"at most {self.max_length} characters long, not {len(value):,}"
            raise refusal(self.label, rule, shown(value).strip("“”"))
        super().run_validators(value)


class WholeNumber(WholeNumberField):
    """A count, typed in plain figures."""

    def __init__(self, *, label: str, least: int = 0, most: int = MOST, **kwargs: Any) -> None:
        super().__init__(label=label, least=least, most=most, **kwargs)
        self.error_messages["required"] = f"{label} is needed; nothing was typed."


class Price(MoneyField):
    """An amount in the studio's currency, kept in minor units. Set `currency` before it is cleaned."""

    def __init__(self, *, label: str, **kwargs: Any) -> None:
        super().__init__(label=label, **kwargs)
        self.error_messages["required"] = f"{label} is needed; nothing was typed."

    def to_python(self, value: Any) -> int | None:
        """The amount in minor units, no larger than orders of it can still be added up."""
        minor = super().to_python(value)
        if minor is not None and minor > MOST_PRICE_MINOR:
            raise refusal(self.label, f"at most {show(MOST_PRICE_MINOR, self.currency)}", value)
        return minor


class Day(forms.DateField):
    """A day, chosen or typed as 2026-06-01."""

    def __init__(self, *, label: str, **kwargs: Any) -> None:
        widget = forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")
        super().__init__(label=label, widget=widget, input_formats=["%Y-%m-%d"], **kwargs)
        self.error_messages["required"] = f"{label} is needed; nothing was typed."

    def to_python(self, value: Any) -> dt.date | None:
        """The day, or None where nothing was typed."""
        try:
            return super().to_python(value)
        except ValidationError as error:
            raise refusal(self.label, "a day such as 2026-06-01", value) from error


class BestBefore(Day):
    """The last day a lot is good; nothing typed means the usual one. Set `today` before it is cleaned."""

    today: dt.date | None = None

    def to_python(self, value: Any) -> dt.date | None:
        """The day, within twenty years of today."""
        day = super().to_python(value)
        if day is not None and self.today is not None and abs(day - self.today) > _FURTHEST:
            raise ValidationError(f"{self.label} must be within 20 years of today; {shown(day)} is not.")
        return day
