"""What is typed about a job and its client."""

from datetime import date
from decimal import Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.db.models import Field
from django.utils.timezone import get_current_timezone

from bookings.forms.dates import TIME_FIELDS, TIME_HELPS, TIME_LABELS, TIME_WIDGETS, wrong_times
from bookings.models import Booking
from estimating.forms.fields import LengthField
from studio.form_fields import TEMPERATURE_UNITS, WIND_UNITS, ReadingField
from studio.units import System

CLIENT_FIELDS = ("name", "phone", "email")
MOST_YEARS_AHEAD = 20


def shown(day: date) -> str:
    """A day as it is said in an error: 3 May 2026."""
    return f"{day.day} {day:%B %Y}"


class OfSomebody(forms.ModelForm):
    """A form that says who somebody is, in the fields of CLIENT_FIELDS."""

    def clean(self) -> dict[str, Any]:
        """At least one of the name, the phone and the e-mail is known."""
        given = super().clean() or self.cleaned_data
        if not any(given.get(field) for field in CLIENT_FIELDS) and not any(f in self.errors for f in CLIENT_FIELDS):
            self.add_error("name", "Give a name, a phone number or an e-mail address: one of them is enough.")
        return given


class JobForm(OfSomebody):
    """Who asks, for when, where and what. Only a name or a way to reach them is required.

    `today` is the studio's day: an event before it is refused.
    """

    name = forms.CharField(
        max_length=120,
        required=False,
        widget=forms.TextInput(attrs={"autocomplete": "name", "autocapitalize": "words"}),
    )
    phone = forms.CharField(
        max_length=40,
        required=False,
        widget=forms.TextInput(attrs={"type": "tel", "inputmode": "tel", "autocomplete": "tel"}),
    )
    email = forms.EmailField(
        label="E-mail", required=False, widget=forms.EmailInput(attrs={"autocomplete": "email", "inputmode": "email"})
    )

    class Meta:
        model = Booking
        fields = ("event_on", "date_text", "place", "wants", "budget")
        labels = {"date_text": "Or the date in words", "place": "Where", "wants": "What they want"}
        help_texts = {"date_text": "“mid June”, “the 12th or 19th”, not known yet."}
        widgets = {
            "event_on": forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
            "date_text": forms.TextInput(attrs={"autocomplete": "off", "enterkeyhint": "next"}),
            "place": forms.TextInput(attrs={"autocomplete": "street-address"}),
            "wants": forms.Textarea(attrs={"rows": 3, "autocapitalize": "sentences"}),
            "budget": forms.TextInput(attrs={"inputmode": "decimal", "autocomplete": "off"}),
        }

    def __init__(self, *args: Any, today: date, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.today = today
        for field in self.Meta.fields:
            # The model's own limits, checked here since the instance is the action's to change; a field that the form
            # declares has its own.
            limits = Booking._meta.get_field(field)
            if isinstance(limits, Field) and field not in self.declared_fields:
                self.fields[field].validators += limits.validators
        if self.instance.pk:
            for field in CLIENT_FIELDS:
                self.initial.setdefault(field, getattr(self.instance.client, field))

    def clean_event_on(self) -> date | None:
        """A day gone by is refused, unless it is the one the booking has already."""
        day: date | None = self.cleaned_data["event_on"]
        if day is not None and day < self.today and day != self.instance.event_on:
            raise ValidationError(f"The event day must be today or later; {shown(day)} has gone by.")
        if day is not None and day.year > self.today.year + MOST_YEARS_AHEAD:
            raise ValidationError(f"The event day must be within {MOST_YEARS_AHEAD} years; {shown(day)} is not.")
        return day

    @property
    def client(self) -> dict[str, str]:
        """The fields of the client."""
        return {field: self.cleaned_data[field] for field in CLIENT_FIELDS}

    @property
    def job(self) -> dict[str, Any]:
        """The fields of the booking."""
        return {field: self.cleaned_data[field] for field in self.Meta.fields}

    def _post_clean(self) -> None:
        # Constraints that reach beyond this form's own fields are the actions' to keep.
        return


class EnquiryForm(JobForm):
    """The form for a phone in a car park: in the order it is told, the rest can wait."""

    # The page says that one of them is enough, once, so that no field has to.
    says_what_is_optional = True

    class Meta(JobForm.Meta):
        fields = (*JobForm.Meta.fields, "ready_by")  # type: ignore[assignment]
        labels = JobForm.Meta.labels | {"wants": "What they want, or their message pasted"}
        widgets = JobForm.Meta.widgets | {"ready_by": forms.TimeInput(attrs={"type": "time"}, format="%H:%M")}

    field_order = ("wants", "name", "phone", "email", "event_on", "date_text", "ready_by", "place", "budget")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        # A browser would cut a pasted message off without a word; too long a one is refused in a sentence instead.
        self.fields["wants"].widget.attrs.pop("maxlength", None)


FOOT = Decimal("304.8")


class BookingForm(JobForm):
    """Everything known about a job. `measures` are the studio's, for a number typed without a unit."""

    hang_height_mm = LengthField(
        label="Hanging height",
        required=False,
        low=FOOT,
        high=100 * FOOT,
        plain={"imperial": "ft", "metric": "m"},
        help_text="The highest point you hang from, above the floor.",
    )
    altitude_mm = LengthField(
        label="Height above the sea",
        required=False,
        low=Decimal(0),
        high=15_000 * FOOT,
        plain={"imperial": "ft", "metric": "m"},
        help_text="Helium lifts less where the air is thin. Empty means by the sea.",
    )
    celsius = ReadingField(
        label="Temperature there",
        required=False,
        units=TEMPERATURE_UNITS,
        plain={"imperial": "°F", "metric": "°C"},
        low=-40,
        high=60,
        places=1,
        help_text="72 °F or 22 °C.",
    )
    gusts_mph = ReadingField(
        label="Gusts expected",
        required=False,
        units=WIND_UNITS,
        plain={"imperial": "mph", "metric": "km/h"},
        low=0,
        high=250,
        places=1,
        help_text="Outdoors, from the forecast: 15 mph or 24 km/h.",
    )

    class Meta(JobForm.Meta):
        fields = (  # type: ignore[assignment]
            "title",
            "event_on",
            "date_text",
            "needed_on",
            "ready_by",
            *TIME_FIELDS,
            "place",
            "wants",
            "budget",
            "distance",
            "travel_minutes",
            "crew",
            "hang_height_mm",
            "altitude_mm",
            "celsius",
            "gusts_mph",
            "hours_afloat",
        )
        labels = (
            JobForm.Meta.labels
            | TIME_LABELS
            | {
                "title": "What the job is called",
                "needed_on": "Prep day",
                "travel_minutes": "Minutes to get there",
                "crew": "People on the job",
                "hours_afloat": "Hours it must last",
            }
        )
        help_texts = (
            JobForm.Meta.help_texts
            | TIME_HELPS
            | {
                "needed_on": "When the balloons must be on the shelf. Left empty, it is the day before the event.",
                "distance": "One way.",
                "hours_afloat": "From when it is up to when the last guest goes.",
            }
        )
        widgets = (
            JobForm.Meta.widgets
            | TIME_WIDGETS
            | {
                "needed_on": forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
                "ready_by": forms.TimeInput(attrs={"type": "time"}, format="%H:%M"),
            }
        )

    def __init__(self, *args: Any, measures: System = "imperial", **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for field in self.fields.values():
            if isinstance(field, LengthField | ReadingField):
                field.measures = measures

    def clean(self) -> dict[str, Any]:
        """Prep comes no later than the event, and a booked job keeps a day to prepare on."""
        given = super().clean()
        prep, event = given.get("needed_on"), given.get("event_on")
        if prep and event and prep > event:
            self.add_error(
                "needed_on", f"The prep day must be no later than the event; {shown(prep)} is after {shown(event)}."
            )
        if self.instance.stage == Booking.Stage.BOOKED and "needed_on" not in self.errors and not (prep or event):
            self.add_error("needed_on", "A booked job needs a prep day: the shelf holds its balloons for it.")
        for field, sentence in wrong_times(given, zone=get_current_timezone()):
            if field not in self.errors:
                self.add_error(field, sentence)
        return given

    @property
    def has_times(self) -> bool:
        """Whether one of the times beside “ready by” is set or refused: they are shown opened then."""
        return any(self[field].value() or self[field].errors for field in TIME_FIELDS)

    @property
    def job(self) -> dict[str, Any]:
        """The fields of the booking; a booked job keeps the prep day that follows from its event."""
        fields = super().job
        if self.instance.stage == Booking.Stage.BOOKED and fields["needed_on"] is None:
            fields["needed_on"] = Booking(event_on=fields["event_on"]).prep_day
        return fields


class ReasonForm(forms.Form):
    """Why a booking ends, in a few words or none."""

    why = forms.CharField(label="Why, if you like", max_length=200, required=False)
