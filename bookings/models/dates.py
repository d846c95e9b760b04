"""What a day can take, which dates are held for whom, and who reads the calendar elsewhere."""

from datetime import date

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import Q

from bookings.diary import Limits
from bookings.models.jobs import Booking
from bookings.timetable import Usual


class DayLimitsQuerySet(models.QuerySet["DayLimits"]):
    """The one set of limits this studio has."""

    def current(self) -> "DayLimits":
        """The limits, or an unsaved set with the defaults before the owner has set any."""
        return self.filter(pk=1).first() or DayLimits(pk=1)


class DayLimits(models.Model):
    """How much the studio takes in a day. There is exactly one row."""

    class WeekStart(models.IntegerChoices):
        MONDAY = 0, "Monday"
        SUNDAY = 6, "Sunday"

    jobs = models.PositiveSmallIntegerField(default=2, validators=[MinValueValidator(1), MaxValueValidator(20)])
    people = models.PositiveSmallIntegerField(default=3, validators=[MinValueValidator(1), MaxValueValidator(20)])
    hours = models.PositiveSmallIntegerField(
        default=10, help_text="How long each works in a day.", validators=[MinValueValidator(1), MaxValueValidator(24)]
    )
    vans = models.PositiveSmallIntegerField(default=1, validators=[MaxValueValidator(20)])
    job_hours = models.PositiveSmallIntegerField(
        default=8,
        help_text="Of everybody together, for a job nobody has priced yet.",
        validators=[MinValueValidator(1), MaxValueValidator(400)],
    )
    install_minutes = models.PositiveSmallIntegerField(
        default=120, validators=[MinValueValidator(5), MaxValueValidator(1440)]
    )
    strike_minutes = models.PositiveSmallIntegerField(
        default=60, validators=[MinValueValidator(5), MaxValueValidator(1440)]
    )
    hold_days = models.PositiveSmallIntegerField(
        default=7, help_text="The most days a client may hold a date; 0 for none.", validators=[MaxValueValidator(90)]
    )
    week_start = models.PositiveSmallIntegerField(choices=WeekStart.choices, default=WeekStart.MONDAY)

    objects = DayLimitsQuerySet.as_manager()

    class Meta:
        verbose_name_plural = "day limits"
        constraints = [
            models.CheckConstraint(condition=Q(pk=1), name="there_is_one_set_of_day_limits"),
            models.CheckConstraint(
                condition=Q(jobs__gte=1, people__gte=1, hours__gte=1, hours__lte=24), name="a_day_takes_something"
            ),
            models.CheckConstraint(condition=Q(hold_days__lte=90), name="a_client_holds_at_most_90_days"),
            models.CheckConstraint(condition=Q(week_start=0) | Q(week_start=6), name="weeks_begin_on_monday_or_sunday"),
        ]

    def __str__(self) -> str:
        return "Day limits"

    @property
    def limits(self) -> Limits:
        """As the diary reckons with them."""
        return Limits(jobs=self.jobs, people=self.people, hours=self.hours, vans=self.vans)

    @property
    def usual(self) -> Usual:
        """How long a part takes where nobody has said."""
        return Usual(install=self.install_minutes, strike=self.strike_minutes)


WAITING = (Booking.Stage.ENQUIRY, Booking.Stage.QUOTED)
"""The stages of a job whose date can be held."""


class DateHoldQuerySet(models.QuerySet["DateHold"]):
    """Holds asked for by whether they still hold."""

    def holding(self, today: date) -> "DateHoldQuerySet":
        """Not let go, not past their last day, and of a job that is neither booked nor over."""
        return self.lasting(today).filter(booking__stage__in=WAITING)

    def lasting(self, today: date) -> "DateHoldQuerySet":
        """Not let go and not past their last day, whatever has become of the job."""
        return self.filter(let_go_at__isnull=True, until__gte=today)


class DateHold(models.Model):
    """The date of a job, kept free for its client until a day. It lapses by itself: nothing has to run for it.

    It is the date the job has, so it moves with it. `quote` is the offer a client held it from.
    """

    booking = models.ForeignKey(Booking, on_delete=models.CASCADE, related_name="holds")
    until = models.DateField(help_text="The last day it holds.")
    quote = models.ForeignKey("bookings.Quote", on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    made_at = models.DateTimeField()
    made_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    let_go_at = models.DateTimeField(null=True, blank=True)

    objects = DateHoldQuerySet.as_manager()

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["booking"], condition=Q(let_go_at__isnull=True), name="a_job_has_one_hold_not_let_go"
            ),
            models.UniqueConstraint(
                fields=["quote"], condition=Q(quote__isnull=False), name="a_client_holds_once_a_version"
            ),
        ]

    def __str__(self) -> str:
        return f"held until {self.until}"


class SeenClash(models.Model):
    """Somebody has seen that a day cannot take its jobs, and it need not be told any more.

    `stamp` is of the day, what is lacking and whose jobs they are: once another job joins them it stands for nothing.
    No job is named here, so nobody's data is in it.
    """

    day = models.DateField()
    stamp = models.CharField(max_length=16, unique=True)
    at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    def __str__(self) -> str:
        return f"{self.day}: seen by {self.by_id}"


class CalendarLink(models.Model):
    """The private address a person's own calendar reads ours at: its salt, and the hash of its token."""

    person = models.OneToOneField(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="+")
    salt = models.CharField(max_length=43)
    hash = models.CharField(max_length=64, unique=True)
    made_at = models.DateTimeField()

    def __str__(self) -> str:
        return f"calendar link of person {self.person_id}"
