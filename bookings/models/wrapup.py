"""What became of what a job took along."""

from django.conf import settings
from django.db import models
from django.db.models import F, Q

from bookings.models.jobs import Booking
from stock.models import Item


class WrapUp(models.Model):
    """A job counted when it was over, once. A mistake is mended by another movement, never by changing the count.

    A cancelled job that had been taken off the shelf is counted too; nothing is learned from it.
    """

    class Went(models.TextChoices):
        WELL = "well", "It went well"
        SO_SO = "so-so", "It had its troubles"
        BADLY = "badly", "It went wrong"

    booking = models.OneToOneField(Booking, on_delete=models.PROTECT, related_name="wrap_up")
    at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    outdoors = models.BooleanField(help_text="Whether a piece of it stood outdoors: more of them pop there.")
    went = models.CharField("how it went", max_length=6, choices=Went.choices, default=Went.WELL)
    note = models.CharField("in a few words", max_length=400, blank=True)
    timed = models.BooleanField(default=False, help_text="Whether its hours are those it took, and teach.")

    def __str__(self) -> str:
        return f"Wrap-up of booking {self.booking_id}"


class WrapUpLine(models.Model):
    """Of one item: how many the quote needed before spares, were taken, used and popped, and came home.

    What is missing between them is lost: `taken` is no less than the other three together.
    """

    wrap_up = models.ForeignKey(WrapUp, on_delete=models.PROTECT, related_name="lines")
    item = models.ForeignKey(Item, on_delete=models.PROTECT, related_name="+")
    needed = models.PositiveIntegerField()
    taken = models.PositiveIntegerField()
    used = models.PositiveIntegerField()
    popped = models.PositiveIntegerField()
    home = models.PositiveIntegerField()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["wrap_up", "item"], name="a_wrap_up_lists_an_item_once"),
            models.CheckConstraint(
                condition=Q(taken__gte=F("used") + F("popped") + F("home")),
                name="no_more_is_accounted_for_than_was_taken",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.used} used, {self.popped} popped, {self.home} home of {self.taken}"

    @property
    def lost(self) -> int:
        """How many nobody can account for."""
        return self.taken - self.used - self.popped - self.home
