"""What is typed about days and times: a job's, a hold's, the studio's limits."""

from collections.abc import Iterator, Mapping
from datetime import date, timedelta, tzinfo
from typing import Any

from django import forms

from bookings.models import DayLimits
from bookings.timetable import Said, left_out
from studio.form_fields import WholeNumberField, name_what_is_missing

YEARS = range(1990, 2200)
"""The years there is a calendar of."""
MOST_DAYS_UP = 60
"""How long after the event a strike can be."""

TIME_FIELDS = ("install_at", "starts_at", "ends_at", "strike_on", "strike_at")
TIME_LABELS = {
    "install_at": "Install from",
    "starts_at": "The event starts",
    "ends_at": "The event ends",
    "strike_on": "Strike day",
    "strike_at": "Strike from",
}
TIME_HELPS = {
    "install_at": "Later than “ready by” means the evening before.",
    "ends_at": "No later than the start means after midnight.",
    "strike_on": "Left empty, it is the day the event ends on.",
    "strike_at": "Left empty, it follows the event.",
}


def _clock() -> forms.TimeInput:
    return forms.TimeInput(attrs={"type": "time"}, format="%H:%M")


def day_input() -> forms.DateInput:
    """A date as a phone offers it."""
    return forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")


TIME_WIDGETS: dict[str, Any] = {
    "install_at": _clock(),
    "starts_at": _clock(),
    "ends_at": _clock(),
    "strike_on": day_input(),
    "strike_at": _clock(),
}


def said_day(day: date) -> str:
    """A day as it is said in an error: 3 May 2026."""
    return f"{day.day} {day:%B %Y}"


def wrong_times(given: Mapping[str, Any], *, zone: tzinfo) -> Iterator[tuple[str, str]]:
    """What is wrong with the days and times of a job, each as its field and a sentence. `given` is as cleaned."""
    event, ready, start = given.get("event_on"), given.get("ready_by"), given.get("starts_at")
    ends, strike_on, strike_at = given.get("ends_at"), given.get("strike_on"), given.get("strike_at")
    if ready and start and ready > start:
        yield "ready_by", f"It must be ready no later than the event starts; {ready:%H:%M} is after {start:%H:%M}."
    if ends and not (start or ready):
        yield "ends_at", f"Say when the event starts too: it ends at {ends:%H:%M}."
    if strike_on and event and strike_on < event:
        early = f"{said_day(strike_on)} is before {said_day(event)}"
        yield "strike_on", f"The strike must be no earlier than the event; {early}."
    elif strike_on and event and strike_on > event + timedelta(days=MOST_DAYS_UP):
        late = f"{said_day(strike_on)} is later than that"
        yield "strike_on", f"The strike must be within {MOST_DAYS_UP} days of the event; {late}."
    elif strike_at and strike_on and strike_on == event and (start or ready) and strike_at < (start or ready):
        yield (
            "strike_at",
            f"The strike must be no earlier than the event starts; {strike_at:%H:%M} is before "
            f"{(start or ready):%H:%M} on {said_day(strike_on)}. Past midnight it is on the day after.",
        )
    names = ("event_on", "install_at", "ready_by", "starts_at", "ends_at", "strike_on", "strike_at")
    for name, day, at in left_out(Said(**{name: given.get(name) for name in names}), zone=zone):
        yield (
            name,
            f"There is no {at:%H:%M} on {said_day(day)}: the clocks are put forward over it. Say another time.",
        )


class HoldForm(forms.Form):
    """The last day a date is held."""

    until = forms.DateField(
        label="Hold the date until",
        widget=day_input(),
        error_messages={
            "required": "Say until which day.",
            "invalid": "That is no day: choose one, such as 2026-12-05.",
        },
    )

    def __init__(self, data: Any = None, *, first: date, last: date) -> None:
        super().__init__(data, initial={"until": last})
        self.first, self.last = first, last
        self.fields["until"].widget.attrs |= {"min": first.isoformat(), "max": last.isoformat()}

    def clean_until(self) -> date:
        """No day gone by, and none after the last there may be."""
        until: date = self.cleaned_data["until"]
        if not self.first <= until <= self.last:
            allowed = f"from {said_day(self.first)} to {said_day(self.last)}"
            raise forms.ValidationError(f"It can be held until a day {allowed}; {said_day(until)} is not one.")
        return until


class PrepDayForm(forms.Form):
    """The prep day the plan offers, and the one there was when it did."""

    to = forms.DateField()
    seen = forms.DateField()


class DayLimitsForm(forms.ModelForm):
    """How much the studio takes in a day."""

    jobs = WholeNumberField(label="Jobs a day", least=1, most=20)
    people = WholeNumberField(label="People", least=1, most=20, help_text="Who can be out at the same moment.")
    hours = WholeNumberField(label="Hours each works in a day", least=1, most=24)
    vans = WholeNumberField(label="Vans", least=1, most=20)
    job_hours = WholeNumberField(
        label="Hours a job takes",
        least=1,
        most=400,
        help_text="Everybody’s together, from prep to strike, until a quote says it better.",
    )
    install_minutes = WholeNumberField(
        label="Minutes to install", least=5, most=1440, help_text="Where no time to begin is set."
    )
    strike_minutes = WholeNumberField(label="Minutes to strike", least=5, most=1440)
    hold_days = WholeNumberField(
        label="Days a client may hold a date",
        least=0,
        most=90,
        help_text="From their quote’s page, once for each version. 0 for none.",
    )

    class Meta:
        model = DayLimits
        fields = (
            "jobs",
            "people",
            "hours",
            "vans",
            "job_hours",
            "install_minutes",
            "strike_minutes",
            "hold_days",
            "week_start",
        )
        labels = {"week_start": "Weeks begin on"}
        widgets = {"week_start": forms.RadioSelect}

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        name_what_is_missing(self.fields)


def month_of(text: str, *, today: date) -> date:
    """The first of the month in an address (2026-12), or of today's where there is none to be read."""
    try:
        return _within(date.fromisoformat(f"{text}-01"))
    except ValueError:
        return today.replace(day=1)


def day_of(text: str, *, otherwise: date) -> date:
    """The day in an address (2026-12-12), or `otherwise`."""
    try:
        return _within(date.fromisoformat(text))
    except ValueError:
        return otherwise


def _within(day: date) -> date:
    """The day, where it is of a year a calendar is looked at in; else ValueError."""
    if day.year not in YEARS:
        raise ValueError(f"The year must be from {YEARS.start} to {YEARS.stop - 1} (got {day.year}).")
    return day
