"""What is owed."""

from django.db import models
from django.db.models import Q

from bookings.models.jobs import Booking
from bookings.models.quotes import Quote


class AmountDue(models.Model):
    """Money a booking owes the studio by a day."""

    class Kind(models.TextChoices):
        DEPOSIT = "deposit", "Deposit"
        BALANCE = "balance", "Balance"

    booking = models.ForeignKey(Booking, on_delete=models.PROTECT, related_name="amounts_due")
    quote = models.ForeignKey(Quote, on_delete=models.PROTECT, related_name="+")
    kind = models.CharField(max_length=7, choices=Kind.choices)
    amount_minor = models.PositiveBigIntegerField()
    due_on = models.DateField()
    void_at = models.DateTimeField(null=True, blank=True, help_text="When it stopped being owed.")

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["booking", "kind"], condition=Q(void_at__isnull=True), name="each_kind_is_due_once"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.kind} of {self.booking_id}"
