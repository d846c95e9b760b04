"""Invoices and credit notes: numbered without gaps, frozen when issued."""

from django.conf import settings
from django.db import models
from django.db.models import F, Q

from bookings.models.clients import Client
from bookings.models.jobs import Booking
from bookings.models.quotes import Quote


class NumberSeries(models.Model):
    """The last number given in a series. Its row is held while a number is taken, so that none is left out."""

    name = models.CharField(max_length=12, primary_key=True)
    last = models.PositiveIntegerField(default=0)

    class Meta:
        verbose_name_plural = "number series"

    def __str__(self) -> str:
        return f"{self.name}: {self.last}"


class Bill(models.Model):
    """What an invoice and a credit note have in common. Everything on paper is in the row: nothing of it changes."""

    number = models.PositiveIntegerField(unique=True)
    currency = models.CharField(max_length=3)
    issued_on = models.DateField()
    issued_at = models.DateTimeField()
    issued_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    net_minor = models.BigIntegerField()
    tax_minor = models.BigIntegerField()
    total_minor = models.PositiveBigIntegerField()
    told = models.JSONField(help_text="What the client is told: studio, client, job, lines, when to pay.")
    pdf = models.BinaryField()
    pdf_sha256 = models.CharField(max_length=64)

    class Meta:
        abstract = True


class Invoice(Bill):
    """What a client is asked to pay. `deposits_minor` is the net of deposit invoices that it takes off."""

    class Kind(models.TextChoices):
        DEPOSIT = "deposit", "Deposit invoice"
        BALANCE = "balance", "Balance invoice"
        WHOLE = "whole", "Invoice for all of it"
        CANCELLATION = "cancellation", "Cancellation charge"

    booking = models.ForeignKey(Booking, on_delete=models.PROTECT, related_name="invoices")
    client = models.ForeignKey(Client, on_delete=models.PROTECT, related_name="invoices")
    quote = models.ForeignKey(Quote, on_delete=models.PROTECT, related_name="invoices")
    kind = models.CharField(max_length=12, choices=Kind.choices)
    deposits_minor = models.PositiveBigIntegerField(default=0)

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(total_minor=F("net_minor") + F("tax_minor")), name="an_invoice_is_net_and_tax"
            ),
        ]

    def __str__(self) -> str:
        return f"Invoice {self.number}"


class InvoiceLine(models.Model):
    """One line of an invoice. What was invoiced as a deposit is taken off in lines below zero."""

    invoice = models.ForeignKey(Invoice, on_delete=models.PROTECT, related_name="lines")
    position = models.PositiveIntegerField()
    what = models.CharField(max_length=200)
    note = models.CharField(max_length=300, blank=True)
    net_minor = models.BigIntegerField()
    tax_minor = models.BigIntegerField()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["invoice", "position"], name="invoice_lines_stand_in_order"),
        ]

    def __str__(self) -> str:
        return self.what


class CreditNote(Bill):
    """Takes back the whole of one invoice; the invoice stays as it was."""

    invoice = models.OneToOneField(Invoice, on_delete=models.PROTECT, related_name="credit_note")
    why = models.CharField(max_length=200, blank=True)

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(total_minor=F("net_minor") + F("tax_minor")), name="a_credit_note_is_net_and_tax"
            ),
        ]

    def __str__(self) -> str:
        return f"Credit note {self.number}"
