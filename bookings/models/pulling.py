"""What has been taken off the shelf for a job so far, line by line."""

from django.conf import settings
from django.db import models
from django.db.models import Q

from bookings.models.jobs import Booking
from stock.models import Item, Lot


class PullTickQuerySet(models.QuerySet["PullTick"]):
    """Ticks asked for by whether the shelf knows of them."""

    def waiting(self) -> "PullTickQuerySet":
        """Ticked, and not yet written to the ledger."""
        return self.filter(issued_at__isnull=True)


class PullTick(models.Model):
    """Somebody took a line of a pull list: so many of an item out of one lot, where `asked` was wanted.

    It is a word between the people who load. The shelf knows nothing of it before it is issued.
    """

    booking = models.ForeignKey(Booking, on_delete=models.CASCADE, related_name="pull_ticks")
    item = models.ForeignKey(Item, on_delete=models.PROTECT, related_name="+")
    lot = models.ForeignKey(Lot, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    asked = models.PositiveIntegerField()
    taken = models.PositiveIntegerField(help_text="0 where none were found.")
    at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    issued_at = models.DateTimeField(null=True, blank=True, help_text="When it was written to the ledger.")

    objects = PullTickQuerySet.as_manager()

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["booking", "item", "lot"],
                condition=Q(issued_at__isnull=True, lot__isnull=False),
                name="a_lot_is_ticked_once_on_a_pull_list",
            ),
            models.UniqueConstraint(
                fields=["booking", "item"],
                condition=Q(issued_at__isnull=True, lot__isnull=True),
                name="what_is_of_no_lot_is_ticked_once",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.taken} of {self.asked}"
