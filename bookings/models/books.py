"""The books: entries that balance, written once.

An entry's postings are written first and the entry seals them: the database refuses an entry whose debits are not its
credits, and a posting for an entry that is there already.
"""

from django.conf import settings
from django.db import models
from django.db.models import Q

from bookings.books import CHART, Account
from bookings.models.clients import Client
from bookings.models.invoices import CreditNote, Invoice
from bookings.models.jobs import Booking
from bookings.models.money import CreditMove, Payment, Refund


class Entry(models.Model):
    """One event in the books. Its number is its key, without gaps."""

    number = models.PositiveIntegerField(primary_key=True)
    on = models.DateField(help_text="The day it counts for.")
    at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    what = models.CharField(max_length=200)
    currency = models.CharField(max_length=3)
    client = models.ForeignKey(Client, on_delete=models.PROTECT, related_name="entries")
    booking = models.ForeignKey(Booking, on_delete=models.PROTECT, null=True, blank=True, related_name="entries")
    invoice = models.ForeignKey(Invoice, on_delete=models.PROTECT, null=True, blank=True, related_name="entries")
    credit_note = models.ForeignKey(CreditNote, on_delete=models.PROTECT, null=True, blank=True, related_name="entries")
    payment = models.ForeignKey(Payment, on_delete=models.PROTECT, null=True, blank=True, related_name="entries")
    refund = models.ForeignKey(Refund, on_delete=models.PROTECT, null=True, blank=True, related_name="entries")
    credit_move = models.ForeignKey(CreditMove, on_delete=models.PROTECT, null=True, blank=True, related_name="entries")

    class Meta:
        # A copy of a database is written table by table in the order of names, and an entry seals its postings.
        db_table = "bookings_books_sealed"
        verbose_name_plural = "entries"
        indexes = [models.Index(fields=["on", "number"], name="entries_by_day")]

    def __str__(self) -> str:
        return f"Entry {self.number}"


class Posting(models.Model):
    """One line of an entry: a debit or a credit of an account."""

    entry = models.ForeignKey(Entry, on_delete=models.PROTECT, related_name="postings")
    account = models.CharField(max_length=10, choices=[(account.value, CHART[account].name) for account in Account])
    debit_minor = models.PositiveBigIntegerField(default=0)
    credit_minor = models.PositiveBigIntegerField(default=0)

    class Meta:
        db_table = "bookings_books_posting"
        constraints = [
            models.CheckConstraint(
                condition=Q(debit_minor__gt=0, credit_minor=0) | Q(debit_minor=0, credit_minor__gt=0),
                name="a_posting_is_a_debit_or_a_credit",
            ),
            models.CheckConstraint(
                condition=Q(account__in=[account.value for account in Account]), name="a_posting_is_to_a_known_account"
            ),
            models.UniqueConstraint(fields=["entry", "account"], name="an_entry_posts_to_an_account_once"),
        ]

    def __str__(self) -> str:
        return f"{self.account}: {self.debit_minor} debit, {self.credit_minor} credit"
