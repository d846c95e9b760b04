"""When the people of the studio work, when they are off, and who is on which job."""

from datetime import date

from django.conf import settings
from django.core.validators import MaxValueValidator
from django.db import models
from django.db.models import F, Q

from bookings.models.jobs import Booking

DAY_MINUTES = 24 * 60


class WorkDay(models.Model):
    """How long a person works on a day of the week, counted from Monday, 0. A day without a row is not worked."""

    person = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="+")
    weekday = models.PositiveSmallIntegerField(validators=[MaxValueValidator(6)])
    minutes = models.PositiveSmallIntegerField(validators=[MaxValueValidator(DAY_MINUTES)])

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["person", "weekday"], name="a_person_has_each_weekday_once"),
            models.CheckConstraint(condition=Q(weekday__lte=6), name="a_week_has_seven_days"),
            models.CheckConstraint(
                condition=Q(minutes__gte=1, minutes__lte=DAY_MINUTES), name="a_working_day_is_within_a_day"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.minutes} minutes on weekday {self.weekday}"


class DayOffQuerySet(models.QuerySet["DayOff"]):
    """Days off asked for by when they are."""

    def touching(self, first: date, last: date) -> "DayOffQuerySet":
        """Those that take something of the days from `first` to `last`."""
        return self.filter(first__lte=last, last__gte=first)


class DayOff(models.Model):
    """A person is off from the first day to the last, both counted."""

    person = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="+")
    first = models.DateField("first day off")
    last = models.DateField("last day off")

    objects = DayOffQuerySet.as_manager()

    class Meta:
        constraints = [
            models.CheckConstraint(condition=Q(last__gte=F("first")), name="days_off_end_no_earlier_than_they_begin"),
            models.UniqueConstraint(fields=["person", "first", "last"], name="the_same_days_off_are_said_once"),
        ]

    def __str__(self) -> str:
        return f"off from {self.first} to {self.last}"


class OnTheJob(models.Model):
    """A person is on a job: they go to its install and to its strike."""

    booking = models.ForeignKey(Booking, on_delete=models.CASCADE, related_name="people")
    person = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    does = models.CharField("what they do", max_length=60, blank=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["booking", "person"], name="a_person_is_on_a_job_once"),
        ]

    def __str__(self) -> str:
        return f"person {self.person_id} on booking {self.booking_id}"
