"""What people type about money, checked."""

from datetime import date
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.http import QueryDict

from bookings.models import Method, MoneyTerms
from bookings.owing import MOST_STEPS
from studio.form_fields import MoneyField, WholeNumberField, name_what_is_missing, refusal
from studio.money import show

FIRST_DAY = date(2000, 1, 1)


class DayField(forms.DateField):
    """A day that has come, as an amount is only written down once it has moved."""

    today = FIRST_DAY

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"), **kwargs)

    def clean(self, value: Any) -> date | None:
        """The day, or one sentence with the field, the rule and what was typed."""
        try:
            day: date | None = super().clean(value)
        except ValidationError as error:
            if value in self.empty_values:
                raise
            raise refusal(self.label, "a day such as 2026-06-15", value) from error
        if day is not None and not FIRST_DAY <= day <= self.today:
            raise refusal(self.label, "today or before", value)
        return day


class MovedForm(forms.Form):
    """Money that changed hands: how much, how, when. `seen` is the amount the page said it could be about."""

    amount = MoneyField(label="Amount", least=1)
    method = forms.ChoiceField(label="How", choices=Method.choices, widget=forms.RadioSelect)
    day = DayField(label="Day")
    note = forms.CharField(
        label="Note", max_length=200, required=False, widget=forms.TextInput(attrs={"autocomplete": "off"})
    )
    seen = forms.IntegerField(widget=forms.HiddenInput)

    def __init__(self, data: Any = None, *, amount: int, seen: int, currency: str, today: date) -> None:
        given = show(amount, currency) if amount > 0 else ""
        super().__init__(data, initial={"amount": given, "day": today, "seen": seen})
        money, day = self.fields["amount"], self.fields["day"]
        if isinstance(money, MoneyField) and isinstance(day, DayField):
            money.currency, day.today = currency, today
        name_what_is_missing(self.fields)

    def seen_again(self, now: int) -> None:
        """Have the form, shown again, be about what the amount is now; what was typed stays."""
        typed = QueryDict(mutable=True)
        typed.update(self.data)
        typed["seen"] = str(now)
        self.data = typed


class PaymentForm(MovedForm):
    """Money that came in. More than is owed has to be said to be meant."""

    surplus_is_meant = forms.BooleanField(label="It is meant: keep the rest as the client’s credit", required=False)
    asks_about_surplus = False
    field_order = ["amount", "method", "surplus_is_meant", "day", "note", "seen"]


class CancelForm(forms.Form):
    """Why a job is called off, and whether the charge is waived."""

    why = forms.CharField(label="Why, if you like", max_length=200, required=False)
    is_waived = forms.BooleanField(label="Waive the charge: keep nothing", required=False)


class VoidForm(forms.Form):
    """Why an invoice is taken back: it is printed on the credit note."""

    why = forms.CharField(label="Why, for the credit note", max_length=200, required=False)


class JournalForm(forms.Form):
    """From which day to which the journal is wanted."""

    first = forms.DateField(label="From", widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"))
    last = forms.DateField(label="To", widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"))

    def clean(self) -> dict[str, Any]:
        """The first day is no later than the last."""
        given = super().clean() or {}
        if given.get("first") and given.get("last") and given["first"] > given["last"]:
            self.add_error("last", f"To must be {given['first']} or later (got “{given['last']}”).")
        return given


class MoneyTermsForm(forms.Form):
    """When a balance is due, what is kept when a job is called off, how to pay."""

    balance_days = WholeNumberField(
        label="Days before the event that the balance is due", least=0, most=365, help_text="0 is the day itself."
    )
    pay_to = forms.CharField(
        label="How to pay",
        max_length=600,
        required=False,
        widget=forms.Textarea(attrs={"rows": 3}),
        help_text="Printed on invoices and statements: your bank’s details, or whom to ask.",
    )

    taxes_cancellation = forms.BooleanField(
        label="What is kept of a job that is called off carries sales tax",
        required=False,
        help_text="The tax is then part of what is kept, not on top of it. It depends on where you are: ask your "
        "accountant.",
    )

    def __init__(self, data: Any = None, *, terms: MoneyTerms) -> None:
        steps = {
            f"{name}_{n}": pair[i] for n, pair in enumerate(terms.ladder) for i, name in enumerate(("days", "kept"))
        }
        once = {name: getattr(terms, name) for name in ("balance_days", "pay_to", "taxes_cancellation")}
        super().__init__(data, initial=once | steps)
        for n in range(MOST_STEPS):
            self.fields[f"days_{n}"] = WholeNumberField(
                label=f"Step {n + 1}: days of notice", least=0, most=365, required=False
            )
            self.fields[f"kept_{n}"] = WholeNumberField(
                label=f"Step {n + 1}: % of the total kept", least=0, most=100, required=False
            )
        name_what_is_missing(self.fields)

    def steps(self) -> list[tuple[forms.BoundField, forms.BoundField]]:
        """The two fields of each step, for the page."""
        return [(self[f"days_{n}"], self[f"kept_{n}"]) for n in range(MOST_STEPS)]

    def clean(self) -> dict[str, Any]:
        """A step has both its figures, and no two steps the same days."""
        given = super().clean() or {}
        seen: set[int] = set()
        for n in range(MOST_STEPS):
            days, kept = given.get(f"days_{n}"), given.get(f"kept_{n}")
            if (days is None) != (kept is None) and not {f"days_{n}", f"kept_{n}"} & set(self.errors):
                missing = f"days_{n}" if days is None else f"kept_{n}"
                self.add_error(missing, f"{self.fields[missing].label} is needed: a step is both figures or neither.")
            if days is not None and days in seen:
                self.add_error(
                    f"days_{n}", f"Step {n + 1}: days of notice must differ from step to step (got “{days}”)."
                )
            seen |= set() if days is None else {days}
        return given

    @property
    def notice(self) -> list[list[int]]:
        """The steps as they are kept, the longest notice first."""
        pairs = [(self.cleaned_data[f"days_{n}"], self.cleaned_data[f"kept_{n}"]) for n in range(MOST_STEPS)]
        return [list(pair) for pair in sorted((pair for pair in pairs if pair[0] is not None), reverse=True)]
