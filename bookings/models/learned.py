"""What a wrapped-up job came to, beside what had been expected of it; and what it earned."""

from django.db import models
from django.db.models import Q

from bookings.models.wrapup import WrapUp


class WrapUpFigure(models.Model):
    """One figure of a job: what was reckoned, what was expected after earlier jobs, and what it came to. Written once.

    `low` to `high` is where it was expected four times in five on the day before. What a figure is of: balloons of a
    `size` in pieces of a `kind`; pops of a size; minutes of a `part` of the work; minutes or balloons of the whole job.
    """

    class What(models.TextChoices):
        BALLOONS = "balloons", "Balloons of a kind and size"
        POPS = "pops", "Pops of a size"
        MINUTES = "minutes", "Minutes of a part of the work"
        JOB_BALLOONS = "job-balloons", "Balloons of the whole job"
        JOB_MINUTES = "job-minutes", "Minutes of the whole job"

    wrap_up = models.ForeignKey(WrapUp, on_delete=models.PROTECT, related_name="figures")
    what = models.CharField(max_length=12, choices=What.choices)
    kind = models.CharField(max_length=20, blank=True)
    size = models.PositiveSmallIntegerField(default=0, help_text="Nominal, in inches; 0 where it is of none.")
    part = models.CharField(max_length=8, blank=True)
    pace = models.CharField(max_length=16, blank=True, help_text="The pace the minutes were reckoned by.")
    reckoned = models.PositiveIntegerField(help_text="By layout and rates alone.")
    expected = models.PositiveIntegerField(help_text="After what earlier jobs had taught.")
    low = models.PositiveIntegerField()
    high = models.PositiveIntegerField()
    came = models.PositiveIntegerField()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["wrap_up", "what", "kind", "size", "part"], name="a_figure_is_given_once"),
            models.CheckConstraint(condition=Q(low__lte=models.F("high")), name="a_range_goes_from_low_to_high"),
        ]
        indexes = [models.Index(fields=["what", "kind", "size"], name="figures_by_what")]

    def __str__(self) -> str:
        return f"{self.what} {self.kind}{self.part} {self.size}: {self.came} of {self.expected}"

    @property
    def is_within(self) -> bool:
        """Whether it came out within the range that was said."""
        return self.low <= self.came <= self.high


class JobEarnings(models.Model):
    """What a job really earned, in minor units. Written once, when it is wrapped up; only owners see it.

    `price_minor` is what was agreed before tax, `materials_minor` what did not come home at pack cost, `other_minor`
    driving, kit wear and overhead, and `work_minor` everybody's `minutes` at the rate of that day.
    """

    wrap_up = models.OneToOneField(WrapUp, on_delete=models.PROTECT, related_name="earnings")
    currency = models.CharField(max_length=3)
    kind = models.CharField(max_length=20, blank=True, help_text="The kind of piece that made most of its price.")
    price_minor = models.PositiveBigIntegerField()
    materials_minor = models.PositiveBigIntegerField()
    other_minor = models.PositiveBigIntegerField()
    work_minor = models.PositiveBigIntegerField()
    minutes = models.PositiveIntegerField()
    hoped_minor = models.BigIntegerField(null=True, help_text="What an hour was to earn by the estimate.")

    class Meta:
        verbose_name_plural = "job earnings"

    def __str__(self) -> str:
        return f"Earnings of {self.wrap_up_id}"

    @property
    def earned_minor(self) -> int:
        """What is left for the hours when everything but work is paid; below zero where it did not pay."""
        return self.price_minor - self.materials_minor - self.other_minor

    @property
    def left_minor(self) -> int:
        """What is left when the hours are paid too."""
        return self.earned_minor - self.work_minor

    @property
    def hourly_minor(self) -> int | None:
        """What an hour earned; None where no time was given."""
        return round(self.earned_minor * 60 / self.minutes) if self.minutes else None
