"""The stock ledger: one line for everything that comes onto the shelf and leaves it."""

from typing import Any, TypeVar

from django.conf import settings
from django.db import models
from django.db.models import Q

from stock.models.buying import OrderLine
from stock.models.shelf import Item


class LedgerRefusal(Exception):
    """Somebody tried to change or delete a movement. A mistake is mended by another movement."""


_Row = TypeVar("_Row", bound=models.Model)


class WrittenOnceQuerySet(models.QuerySet[_Row]):
    """Movements are written once. The database refuses more than that too; this says it in words first."""

    def update(self, **kwargs: object) -> int:
        """Always refused."""
        raise LedgerRefusal("A movement is never edited: write a new one that corrects it.")

    def delete(self) -> tuple[int, dict[str, int]]:
        """Always refused."""
        raise LedgerRefusal("A movement is never deleted: write a new one that corrects it.")


class WrittenOnce(models.Model):
    """A movement of whatever there is a ledger of: refused, one by one, what `WrittenOnceQuerySet` refuses of many."""

    class Meta:
        abstract = True

    def save(self, *args: Any, **kwargs: Any) -> None:
        """Write it, once."""
        if self.pk is not None:
            raise LedgerRefusal("A movement is never edited: write a new one that corrects it.")
        super().save(*args, **kwargs)

    def delete(self, *args: Any, **kwargs: Any) -> tuple[int, dict[str, int]]:
        """Always refused."""
        raise LedgerRefusal("A movement is never deleted: write a new one that corrects it.")


class MovementQuerySet(WrittenOnceQuerySet["Movement"]):
    """Movements of items."""


class Lot(models.Model):
    """What came of an item on one day, and until when it is good. How many are left is the sum of its movements."""

    item = models.ForeignKey(Item, on_delete=models.PROTECT, related_name="lots")
    received_on = models.DateField()
    best_before = models.DateField(null=True, blank=True, help_text="The last day it is good; empty where it keeps.")
    place = models.CharField("place on the shelf", max_length=40, blank=True, help_text="Where not with the others.")

    def __str__(self) -> str:
        return f"Lot {self.pk}"


class Movement(WrittenOnce):
    """One line in the stock ledger. On hand is the sum of an item's movements, always."""

    class Kind(models.TextChoices):
        RECEIVED = "received", "received"
        USED = "used", "used"
        COUNTED = "counted", "counted"
        WRITTEN_OFF = "written_off", "written off"

    item = models.ForeignKey(Item, on_delete=models.PROTECT, related_name="movements")
    kind = models.CharField(max_length=11, choices=Kind.choices)
    quantity = models.IntegerField(help_text="What it adds to the shelf; less than nothing takes away.")
    at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    why = models.CharField(max_length=200, blank=True)
    lot = models.ForeignKey(Lot, on_delete=models.PROTECT, null=True, blank=True, related_name="movements")
    order_line = models.ForeignKey(OrderLine, on_delete=models.PROTECT, null=True, blank=True, related_name="movements")
    booking = models.PositiveIntegerField(null=True, blank=True, help_text="The booking it was for, by number.")

    objects = MovementQuerySet.as_manager()

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(kind="received", quantity__gt=0)
                | Q(kind__in=["used", "written_off"], quantity__lt=0)
                | Q(kind="counted"),
                name="a_movement_goes_the_way_its_kind_says",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.kind} {self.quantity:+}"
