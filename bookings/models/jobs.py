"""The life of a job: enquiry, quote, yes, done."""

from datetime import date, timedelta

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import Q

from bookings.models.clients import Client
from bookings.timetable import Said


class BookingQuerySet(models.QuerySet["Booking"]):
    """Bookings asked for by where they stand."""

    def going_ahead(self) -> "BookingQuerySet":
        """Accepted and not yet done."""
        return self.filter(stage=Booking.Stage.BOOKED)

    def between(self, start: date, end: date) -> "BookingQuerySet":
        """With an event from `start` up to, not including, `end`."""
        return self.filter(event_on__gte=start, event_on__lt=end)


class Booking(models.Model):
    """One job for one client. Its number is its key."""

    class Stage(models.TextChoices):
        ENQUIRY = "enquiry", "enquiry"
        QUOTED = "quoted", "quoted"
        BOOKED = "booked", "booked"
        DONE = "done", "done"
        LOST = "lost", "lost"
        CANCELLED = "cancelled", "cancelled"

    client = models.ForeignKey(Client, on_delete=models.PROTECT, related_name="bookings")
    title = models.CharField(max_length=120, blank=True)
    stage = models.CharField(max_length=9, choices=Stage.choices, default=Stage.ENQUIRY)
    event_on = models.DateField("event day", null=True, blank=True)
    date_text = models.CharField("date, as it was said", max_length=80, blank=True)
    needed_on = models.DateField("prep day", null=True, blank=True)
    install_at = models.TimeField("install from", null=True, blank=True)
    ready_by = models.TimeField(null=True, blank=True)
    starts_at = models.TimeField("event starts", null=True, blank=True)
    ends_at = models.TimeField("event ends", null=True, blank=True)
    strike_on = models.DateField("strike day", null=True, blank=True)
    strike_at = models.TimeField("strike from", null=True, blank=True)
    place = models.CharField(max_length=200, blank=True)
    wants = models.TextField("what they want", max_length=4000, blank=True)
    budget = models.CharField(max_length=60, blank=True)
    distance = models.PositiveIntegerField(
        default=0, help_text="One way, in miles or kilometres.", validators=[MaxValueValidator(2000)]
    )
    travel_minutes = models.PositiveIntegerField(default=0, help_text="One way.", validators=[MaxValueValidator(2880)])
    crew = models.PositiveSmallIntegerField(
        default=1, help_text="People on the job.", validators=[MinValueValidator(1), MaxValueValidator(12)]
    )
    hang_height_mm = models.DecimalField(
        "hanging height",
        max_digits=9,
        decimal_places=4,
        null=True,
        blank=True,
        validators=[MinValueValidator(0), MaxValueValidator(30_480)],
        help_text="Of the highest point, above the floor.",
    )
    altitude_mm = models.DecimalField(
        "height above the sea",
        max_digits=11,
        decimal_places=4,
        null=True,
        blank=True,
        validators=[MinValueValidator(0), MaxValueValidator(5_000_000)],
    )
    celsius = models.DecimalField(
        "temperature",
        max_digits=4,
        decimal_places=1,
        null=True,
        blank=True,
        validators=[MinValueValidator(-40), MaxValueValidator(60)],
    )
    gusts_mph = models.DecimalField(
        "gusts expected",
        max_digits=4,
        decimal_places=1,
        null=True,
        blank=True,
        validators=[MinValueValidator(0), MaxValueValidator(250)],
    )
    hours_afloat = models.PositiveSmallIntegerField(
        "hours it must last",
        null=True,
        blank=True,
        validators=[MinValueValidator(1), MaxValueValidator(336)],
    )
    created_at = models.DateTimeField()
    created_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    objects = BookingQuerySet.as_manager()

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=~Q(stage="booked") | Q(needed_on__isnull=False), name="a_booked_job_has_a_prep_day"
            ),
            models.CheckConstraint(
                condition=Q(needed_on__isnull=True) | Q(event_on__isnull=True) | Q(needed_on__lte=models.F("event_on")),
                name="prep_comes_no_later_than_the_event",
            ),
            models.CheckConstraint(
                condition=Q(strike_on__isnull=True) | Q(event_on__isnull=True) | Q(strike_on__gte=models.F("event_on")),
                name="strike_comes_no_earlier_than_the_event",
            ),
            models.CheckConstraint(condition=Q(crew__gte=1), name="somebody_is_on_the_job"),
        ]
        indexes = [models.Index(fields=["stage", "event_on"], name="booking_by_stage_and_day")]

    def __str__(self) -> str:
        return self.shown_title

    @property
    def badge(self) -> str:
        """How the stage's badge looks: agreed, waiting for somebody, or over."""
        if self.stage in (self.Stage.BOOKED, self.Stage.DONE):
            return "covered"
        return "waiting" if self.stage in (self.Stage.ENQUIRY, self.Stage.QUOTED) else "plain"

    @property
    def shown_title(self) -> str:
        """What the job is called, or whose it is."""
        return self.title or self.client.shown_name

    @property
    def said(self) -> Said:
        """Its days and times, as its parts are reckoned from."""
        return Said(
            event_on=self.event_on,
            prep_on=self.prep_day,
            install_at=self.install_at,
            ready_by=self.ready_by,
            starts_at=self.starts_at,
            ends_at=self.ends_at,
            strike_on=self.strike_on,
            strike_at=self.strike_at,
        )

    @property
    def prep_day(self) -> date | None:
        """The prep day: as set, else the day before the event."""
        if self.needed_on is not None or self.event_on is None:
            return self.needed_on
        return self.event_on - timedelta(days=1)


class HistoryEntry(models.Model):
    """One thing that happened to a booking, in a sentence. Nobody's name: the client did it."""

    booking = models.ForeignKey(Booking, on_delete=models.CASCADE, related_name="history")
    at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    what = models.CharField(max_length=400)
    money = models.BooleanField(default=False, help_text="Says an amount, so it is not shown to crew.")

    def __str__(self) -> str:
        return self.what
