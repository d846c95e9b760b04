"""What is typed about people: the hours of their week, their days off, who is on a job."""

from collections.abc import Iterable
from datetime import date, timedelta
from decimal import Decimal
from typing import Any

from django import forms

from bookings.forms.dates import day_input, said_day
from bookings.models import OnTheJob
from bookings.staffing import Person
from studio.form_fields import DecimalNumberField
from studio.models import User

WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
MOST_DAYS_OFF = 366


class WeekForm(forms.Form):
    """How many hours a person works on each day of the week; an empty day is not worked."""

    def __init__(self, data: Any = None, *, person: Person) -> None:
        super().__init__(data)
        for number, name in enumerate(WEEKDAYS):
            hours = Decimal(person.week[number]) / 60
            self.fields[f"day{number}"] = DecimalNumberField(label=name, most=24, required=False)
            if hours:
                self.initial[f"day{number}"] = round(hours, 2)

    @property
    def week(self) -> list[int]:
        """What was typed, in minutes from Monday on."""
        typed = [self.cleaned_data.get(f"day{number}") or Decimal(0) for number in range(len(WEEKDAYS))]
        return [round(hours * 60) for hours in typed]


class DaysOffForm(forms.Form):
    """From which day to which a person is off."""

    first = forms.DateField(
        label="Off from",
        widget=day_input(),
        error_messages={
            "required": "Say from which day.",
            "invalid": "That is no day: choose one, such as 2026-12-05.",
        },
    )
    last = forms.DateField(
        label="Until",
        widget=day_input(),
        required=False,
        help_text="The last day off. Left empty, it is one day.",
        error_messages={"invalid": "That is no day: choose one, such as 2026-12-05."},
    )

    def clean(self) -> dict[str, Any]:
        """One day where no other was said; no end before the beginning, and no longer than a year."""
        given = super().clean() or self.cleaned_data
        first: date | None = given.get("first")
        if first is None or "last" in self.errors:
            return given
        last = given.get("last") or first
        if last < first:
            self.add_error(
                "last", f"The last day off must be no earlier than the first; {said_day(last)} is before it."
            )
        elif last - first > timedelta(days=MOST_DAYS_OFF):
            self.add_error("last", f"Days off must be at most {MOST_DAYS_OFF} in a row (got until {said_day(last)}).")
        return given | {"last": last}


class OnTheJobForm(forms.Form):
    """Who is on a job: a tick for each person, and what they do there."""

    def __init__(self, data: Any = None, *, people: Iterable[User], on: Iterable[OnTheJob]) -> None:
        super().__init__(data)
        self.people = list(people)
        known = {row.person_id: row.does for row in on}
        for person in self.people:
            self.fields[f"on{person.pk}"] = forms.BooleanField(
                label=person.shown_name, required=False, initial=person.pk in known
            )
            self.fields[f"does{person.pk}"] = forms.CharField(
                label=f"What {person.shown_name} does",
                max_length=60,
                required=False,
                initial=known.get(person.pk, ""),
                widget=forms.TextInput(attrs={"autocomplete": "off", "placeholder": "drives, hangs, …"}),
            )

    @property
    def rows(self) -> list[tuple[User, forms.BoundField, forms.BoundField]]:
        """Each person with their two fields."""
        return [(person, self[f"on{person.pk}"], self[f"does{person.pk}"]) for person in self.people]

    @property
    def does(self) -> dict[User, str]:
        """Who was ticked, and what they do."""
        return {
            person: self.cleaned_data[f"does{person.pk}"]
            for person in self.people
            if self.cleaned_data[f"on{person.pk}"]
        }
