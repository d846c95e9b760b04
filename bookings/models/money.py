"""What is owed, what was paid, and what was given back."""

from django.conf import settings
from django.db import models
from django.db.models import F, Q

from bookings.models.clients import Client
from bookings.models.jobs import Booking
from bookings.models.quotes import Quote


class AmountDue(models.Model):
    """Money a booking owes the studio by a day."""

    class Kind(models.TextChoices):
        DEPOSIT = "deposit", "Deposit"
        BALANCE = "balance", "Balance"
        CANCELLATION = "cancellation", "Cancellation charge"

    booking = models.ForeignKey(Booking, on_delete=models.PROTECT, related_name="amounts_due")
    quote = models.ForeignKey(Quote, on_delete=models.PROTECT, related_name="+")
    kind = models.CharField(max_length=12, choices=Kind.choices)
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


class Method(models.TextChoices):
    """How money changes hands."""

    TRANSFER = "transfer", "Bank transfer"
    CARD = "card", "Card machine"
    CASH = "cash", "Cash"
    OTHER = "other", "Another way"


class Payment(models.Model):
    """Money a client paid for a booking. What was more than owed is their credit. Never edited, never deleted."""

    number = models.PositiveIntegerField(unique=True, help_text="Of its receipt.")
    booking = models.ForeignKey(Booking, on_delete=models.PROTECT, related_name="payments")
    client = models.ForeignKey(Client, on_delete=models.PROTECT, related_name="payments")
    currency = models.CharField(max_length=3)
    amount_minor = models.PositiveBigIntegerField()
    surplus_minor = models.PositiveBigIntegerField(default=0, help_text="What of it was more than owed.")
    left_minor = models.PositiveBigIntegerField(help_text="What the booking still owed afterwards.")
    method = models.CharField(max_length=8, choices=Method.choices)
    received_on = models.DateField()
    note = models.CharField(max_length=200, blank=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()

    class Meta:
        constraints = [
            models.CheckConstraint(condition=Q(amount_minor__gt=0), name="a_payment_is_of_something"),
            models.CheckConstraint(condition=Q(surplus_minor__lte=F("amount_minor")), name="a_surplus_is_part_of_it"),
            models.CheckConstraint(condition=Q(method__in=Method.values), name="a_payment_is_made_in_a_known_way"),
        ]
        indexes = [models.Index(fields=["received_on"], name="payments_by_day")]

    def __str__(self) -> str:
        return f"Receipt {self.number}"

    @property
    def settled_minor(self) -> int:
        """What of it went against the booking."""
        return self.amount_minor - self.surplus_minor


class Refund(models.Model):
    """Money given back to a client: out of their credit, and out of what a booking was paid. Never edited."""

    client = models.ForeignKey(Client, on_delete=models.PROTECT, related_name="refunds")
    booking = models.ForeignKey(Booking, on_delete=models.PROTECT, null=True, blank=True, related_name="refunds")
    currency = models.CharField(max_length=3)
    from_credit_minor = models.PositiveBigIntegerField(default=0)
    from_booking_minor = models.PositiveBigIntegerField(default=0, help_text="The booking owes it again.")
    method = models.CharField(max_length=8, choices=Method.choices)
    refunded_on = models.DateField()
    note = models.CharField(max_length=200, blank=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(from_credit_minor__gt=0) | Q(from_booking_minor__gt=0), name="a_refund_is_of_something"
            ),
            models.CheckConstraint(
                condition=Q(from_booking_minor=0) | Q(booking__isnull=False), name="a_bookings_refund_names_it"
            ),
            models.CheckConstraint(condition=Q(method__in=Method.values), name="a_refund_is_made_in_a_known_way"),
        ]

    def __str__(self) -> str:
        return f"Refund of {self.refunded_on}"

    @property
    def amount_minor(self) -> int:
        """What was given back."""
        return self.from_credit_minor + self.from_booking_minor


class CreditMove(models.Model):
    """A client's credit set against a booking, or what a booking was paid too much become credit. Never edited."""

    class Kind(models.TextChoices):
        USED = "used", "used for the booking"
        SURPLUS = "surplus", "paid more than it costs now"

    client = models.ForeignKey(Client, on_delete=models.PROTECT, related_name="credit_moves")
    booking = models.ForeignKey(Booking, on_delete=models.PROTECT, related_name="credit_moves")
    kind = models.CharField(max_length=7, choices=Kind.choices)
    amount_minor = models.PositiveBigIntegerField()
    on = models.DateField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    at = models.DateTimeField()

    class Meta:
        constraints = [
            models.CheckConstraint(condition=Q(amount_minor__gt=0), name="credit_moves_are_of_something"),
        ]

    def __str__(self) -> str:
        return f"Credit {self.kind}, {self.on}"
