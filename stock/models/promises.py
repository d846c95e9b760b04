"""What is held for whom."""

from collections.abc import Iterable
from datetime import date

from django.core.validators import MinValueValidator
from django.db import models
from django.db.models import Q

from stock.models.shelf import Item


class ReservationQuerySet(models.QuerySet["Reservation"]):
    """Reservations asked for by what they still hold."""

    def open(self) -> "ReservationQuerySet":
        """Still holding something: neither released nor used."""
        return self.filter(closed_at__isnull=True)

    def holding(self, today: date) -> "ReservationQuerySet":
        """Open, and not lapsed by itself."""
        return self.open().filter(Q(lapses_on__isnull=True) | Q(lapses_on__gte=today))

    def firm(self) -> "ReservationQuerySet":
        """Held for a booking that was accepted."""
        return self.filter(firm=True)

    def of_bookings(self, numbers: Iterable[int]) -> "ReservationQuerySet":
        """Those held for these bookings."""
        return self.filter(booking__in=numbers)

    def needed_by(self, day: date) -> "ReservationQuerySet":
        """Needed on or before a day."""
        return self.filter(needed_on__lte=day)


class Reservation(models.Model):
    """An item, a quantity and the prep day it is needed on, held for a booking.

    Firm once the booking is accepted, tentative while a quote is open. Promises rank by the order they were made
    in, which is the order of the keys. A booking that wants more later is promised that then: it holds an item in as
    many rows as there were moments, each with its own place in the queue.
    """

    item = models.ForeignKey(Item, on_delete=models.PROTECT, related_name="reservations")
    quantity = models.PositiveIntegerField(validators=[MinValueValidator(1)])
    needed_on = models.DateField(help_text="The prep day, not the event day.")
    booking = models.PositiveIntegerField(help_text="The booking's number.")
    booking_name = models.CharField(max_length=120)
    firm = models.BooleanField(default=False)
    made_at = models.DateTimeField()
    lapses_on = models.DateField(
        null=True, blank=True, help_text="The last day a tentative one holds: its quote cannot be accepted after it."
    )
    closed_at = models.DateTimeField(null=True, blank=True)

    objects = ReservationQuerySet.as_manager()

    class Meta:
        constraints = [
            models.CheckConstraint(condition=Q(quantity__gte=1), name="a_reservation_holds_something"),
            models.UniqueConstraint(
                fields=["booking", "item", "firm", "made_at"],
                condition=Q(closed_at__isnull=True),
                name="a_booking_is_promised_an_item_once_a_moment",
            ),
        ]
        indexes = [
            # All that is summed for the weekly check is in the index itself, so that no row need be looked up for it;
            # without `closed_at` SQLite would look up every row to see that it is open.
            models.Index(
                fields=["item", "needed_on", "quantity", "firm", "lapses_on", "closed_at"],
                condition=Q(closed_at__isnull=True),
                name="open_by_item_and_day",
            )
        ]

    def __str__(self) -> str:
        return f"{self.quantity} for {self.booking_name}"
