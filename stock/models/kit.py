"""Reusable things: what there is of each, who was promised it for which days, and what got lost or broken."""

from datetime import date, datetime

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import F, OuterRef, Q, Subquery, Sum
from django.db.models.functions import Coalesce, Lower
from django.utils import timezone

from stock.kit import Period
from stock.models.ledger import WrittenOnce, WrittenOnceQuerySet

MOST_CLEANING_DAYS = 60
MOST_KIT = 10_000
"""How many of a kind may be owned: beyond it a slipped finger is likelier."""
TALLEST_MM = 30_000
MOST_KIT_GRAMS = 1_000_000
MOST_CARRIED_GRAMS = 500_000


class KitQuerySet(models.QuerySet["Kit"]):
    """Kit asked for by whether it is in use, with how many are owned."""

    def in_use(self) -> "KitQuerySet":
        """Not retired."""
        return self.filter(retired_at__isnull=True)

    def with_owned(self) -> "KitQuerySet":
        """With `owned`: the sum of its movements."""
        moved = KitMovement.objects.filter(kit=OuterRef("pk")).order_by().values("kit")
        return self.annotate(owned=Coalesce(Subquery(moved.annotate(sum=Sum("quantity")).values("sum")), 0))


class Kit(models.Model):
    """A reusable thing, all of one kind alike. How many are owned is the sum of its movements (`with_owned`)."""

    owned: int

    class Sort(models.TextChoices):
        FRAME = "frame", "Frame"
        STAND = "stand", "Stand"
        LADDER = "ladder", "Ladder"
        PUMP = "pump", "Pump"
        LEAD = "lead", "Extension lead"
        OTHER = "other", "Other"

    name = models.CharField(max_length=60)
    sort = models.CharField(max_length=6, choices=Sort.choices, default=Sort.FRAME)
    cleaning_days = models.PositiveSmallIntegerField(
        default=1,
        validators=[MaxValueValidator(MOST_CLEANING_DAYS)],
        help_text="After it came back. 0: it can go out again the day it comes back.",
    )
    wear_minor = models.PositiveBigIntegerField(
        "wear per use", default=0, help_text="What one loses by one job, in the currency's smallest unit."
    )
    weight_grams = models.PositiveIntegerField("weight of one, in grams", null=True, blank=True)
    room_millilitres = models.PositiveIntegerField(
        "room of one, in millilitres", null=True, blank=True, help_text="As it travels."
    )
    place = models.CharField("place on the shelf", max_length=40, blank=True)
    notes = models.TextField(max_length=1000, blank=True)
    height_mm = models.DecimalField(
        "height", max_digits=9, decimal_places=4, null=True, blank=True, validators=[MinValueValidator(1)]
    )
    carries_grams = models.PositiveIntegerField(
        "duty rating, in grams", null=True, blank=True, help_text="Person, clothes, tools and all."
    )
    retired_at = models.DateTimeField(null=True, blank=True, help_text="Since when it is promised to nobody.")

    objects = KitQuerySet.as_manager()

    class Meta:
        verbose_name_plural = "kit"
        constraints = [
            models.CheckConstraint(condition=~Q(name=""), name="kit_has_a_name"),
            models.UniqueConstraint(
                Lower("name"),
                name="kit_is_named_once",
                violation_error_message="There is kit of this name already.",
            ),
            models.CheckConstraint(
                condition=Q(sort="ladder") | Q(height_mm__isnull=True, carries_grams__isnull=True),
                name="only_a_ladder_has_a_height_and_a_duty_rating",
            ),
            models.CheckConstraint(condition=Q(cleaning_days__lte=MOST_CLEANING_DAYS), name="kit_is_clean_in_the_end"),
            models.CheckConstraint(
                condition=Q(weight_grams__isnull=True) | Q(weight_grams__gte=1), name="kit_weighs_something"
            ),
            models.CheckConstraint(
                condition=Q(room_millilitres__isnull=True) | Q(room_millilitres__gte=1), name="kit_takes_some_room"
            ),
        ]

    def __str__(self) -> str:
        return self.name


class KitPromiseQuerySet(models.QuerySet["KitPromise"]):
    """Promises of kit asked for by what they still keep away."""

    def standing(self) -> "KitPromiseQuerySet":
        """Neither let go nor back."""
        return self.filter(closed_at__isnull=True, came_back_at__isnull=True)

    def not_let_go(self) -> "KitPromiseQuerySet":
        """Standing, or over because it came back."""
        return self.filter(closed_at__isnull=True)

    def out(self) -> "KitPromiseQuerySet":
        """Taken out, and not back."""
        return self.standing().filter(taken_out_at__isnull=False)

    def firm(self) -> "KitPromiseQuerySet":
        """For a booking that was accepted."""
        return self.filter(firm=True)


class KitPromise(models.Model):
    """So many of a kit for a booking, from the day they go out to the day they come back.

    Firm once the booking is accepted. More may be promised than is owned; who was promised later, by the order of the
    keys, then goes without.
    """

    kit = models.ForeignKey(Kit, on_delete=models.PROTECT, related_name="promises")
    quantity = models.PositiveIntegerField(validators=[MinValueValidator(1)])
    out_on = models.DateField()
    back_on = models.DateField()
    booking = models.PositiveIntegerField(help_text="The booking's number.")
    booking_name = models.CharField(max_length=120)
    firm = models.BooleanField(default=False)
    made_at = models.DateTimeField()
    made_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    closed_at = models.DateTimeField(null=True, blank=True, help_text="When it was let go, before it went out.")
    taken_out_at = models.DateTimeField(null=True, blank=True)
    taken_out_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    came_back_at = models.DateTimeField(null=True, blank=True)
    came_back_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    damage = models.CharField(max_length=160, blank=True, help_text="What was found when it came back.")

    objects = KitPromiseQuerySet.as_manager()

    class Meta:
        constraints = [
            models.CheckConstraint(condition=Q(quantity__gte=1), name="a_promise_is_of_some_kit"),
            models.CheckConstraint(condition=Q(back_on__gte=F("out_on")), name="kit_comes_back_after_it_goes_out"),
            models.CheckConstraint(
                condition=Q(taken_out_at__isnull=True, taken_out_by__isnull=True)
                | Q(taken_out_at__isnull=False, taken_out_by__isnull=False, closed_at__isnull=True),
                name="kit_that_went_out_was_taken_by_somebody",
            ),
            models.CheckConstraint(
                condition=Q(came_back_at__isnull=True, came_back_by__isnull=True, damage="")
                | Q(taken_out_at__isnull=False, came_back_at__gte=F("taken_out_at"), came_back_by__isnull=False),
                name="only_kit_that_went_out_comes_back",
            ),
            models.UniqueConstraint(
                fields=["booking", "kit"],
                condition=Q(closed_at__isnull=True, came_back_at__isnull=True),
                name="a_booking_is_promised_a_kit_once_at_a_time",
            ),
        ]
        indexes = [
            models.Index(
                fields=["kit", "out_on"],
                condition=Q(closed_at__isnull=True, came_back_at__isnull=True),
                name="standing_by_kit_and_day",
            ),
            models.Index(fields=["booking"], name="kit_by_booking"),
        ]

    def __str__(self) -> str:
        return f"{self.quantity} for {self.booking_name}"

    @property
    def state(self) -> str:
        """Where it stands: promised, out, back or let go."""
        if self.closed_at is not None:
            return "let go"
        if self.came_back_at is not None:
            return "back"
        return "promised" if self.taken_out_at is None else "out"

    def is_late(self, today: date) -> bool:
        """Whether it should have been back by now."""
        return self.state == "out" and self.back_on < today

    def period(self, today: date, *, gone: int = 0) -> Period | None:
        """The days it is away: as promised, or as it was. What is late is still out today.

        `gone` are those of it that are owned no more since they came back; None where all are.
        """
        if gone >= self.quantity:
            return None
        out, back = self.out_on, self.back_on
        if self.taken_out_at is not None:
            out = min(out, _day(self.taken_out_at))
        if self.came_back_at is not None:
            back = max(_day(self.came_back_at), out)
        elif self.is_late(today):
            back = today
        return Period(self.pk, out, back, self.quantity - gone, self.booking, self.booking_name)


class KitMovementQuerySet(WrittenOnceQuerySet["KitMovement"]):
    """Movements of kit."""


class KitMovement(WrittenOnce):
    """One line of how many are owned: got, broken, lost or counted. Going out and coming back is no movement."""

    class Kind(models.TextChoices):
        GOT = "got", "got"
        BROKEN = "broken", "broken"
        LOST = "lost", "lost"
        COUNTED = "counted", "counted"

    kit = models.ForeignKey(Kit, on_delete=models.PROTECT, related_name="movements")
    kind = models.CharField(max_length=7, choices=Kind.choices)
    quantity = models.IntegerField(help_text="What it adds to what is owned; less than nothing takes away.")
    at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    why = models.CharField(max_length=200, blank=True)
    promise = models.ForeignKey(KitPromise, on_delete=models.PROTECT, null=True, blank=True, related_name="movements")

    objects = KitMovementQuerySet.as_manager()

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(kind="got", quantity__gt=0)
                | Q(kind__in=["broken", "lost"], quantity__lt=0)
                | Q(kind="counted"),
                name="a_movement_of_kit_goes_the_way_its_kind_says",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.kind} {self.quantity:+}"


def _day(moment: datetime) -> date:
    """The studio's day of a moment."""
    return timezone.localdate(moment)
