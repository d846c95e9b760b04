"""What a booking offers to choose from, and what an issued quote offered."""

from django.db import models
from django.db.models import F, Q

from bookings.choosing import MOST_EXTRAS, MOST_OPTIONS
from bookings.models.jobs import Booking
from bookings.models.quotes import Quote

TOTAL_IS_PRICE_AND_TAX = Q(total_minor=F("price_minor") + F("tax_minor"))
DEPOSIT_IS_PART = Q(deposit_minor__lte=F("total_minor"))


class OptionName(models.Model):
    """What the owner calls one of the options of a booking."""

    booking = models.ForeignKey(Booking, on_delete=models.CASCADE, related_name="option_names")
    number = models.PositiveSmallIntegerField()
    name = models.CharField(max_length=60)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["booking", "number"], name="an_option_has_one_name"),
            models.CheckConstraint(condition=Q(number__gte=1, number__lte=MOST_OPTIONS), name="options_are_1_to_3"),
        ]

    def __str__(self) -> str:
        return self.name


class Charge(models.Model):
    """An extra that is no piece: delivery after hours, take-down. Priced as asked, else by the minutes it takes.

    `is_taken` once the client has chosen it: the next version then offers it ticked.
    """

    booking = models.ForeignKey(Booking, on_delete=models.CASCADE, related_name="charges")
    name = models.CharField(max_length=80)
    note = models.CharField(max_length=200, blank=True)
    minutes = models.PositiveIntegerField(default=0, help_text="Of one person, or of several together.")
    amount_minor = models.PositiveBigIntegerField(null=True, blank=True, help_text="Before tax, as the owner asks it.")
    is_taken = models.BooleanField(default=False)

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(minutes__gt=0) | Q(amount_minor__isnull=False), name="a_charge_has_time_or_an_amount"
            ),
        ]

    def __str__(self) -> str:
        return self.name


class QuoteOption(models.Model):
    """An option as it was offered. A quote of one option has none of these rows: its own columns say it all.

    The first option's figures are the quote's own as well.
    """

    quote = models.ForeignKey(Quote, on_delete=models.PROTECT, related_name="options")
    number = models.PositiveSmallIntegerField()
    name = models.CharField(max_length=60)
    price_minor = models.PositiveBigIntegerField()
    tax_minor = models.PositiveBigIntegerField()
    total_minor = models.PositiveBigIntegerField()
    deposit_minor = models.PositiveBigIntegerField()
    cost_minor = models.PositiveBigIntegerField()
    person_minutes = models.PositiveIntegerField()
    reasons = models.JSONField(help_text="What the price is made of, for the owner.")

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["quote", "number"], name="a_quote_offers_an_option_once"),
            models.CheckConstraint(
                condition=Q(number__gte=1, number__lte=MOST_OPTIONS), name="offered_options_are_1_to_3"
            ),
            models.CheckConstraint(condition=TOTAL_IS_PRICE_AND_TAX, name="an_option_is_price_and_tax"),
            models.CheckConstraint(condition=DEPOSIT_IS_PART, name="an_options_deposit_is_part_of_it"),
        ]

    def __str__(self) -> str:
        return self.name


class QuoteExtra(models.Model):
    """An extra as it was offered: a piece, which is among the quote's pieces under its number, or a charge."""

    quote = models.ForeignKey(Quote, on_delete=models.PROTECT, related_name="extras")
    number = models.PositiveSmallIntegerField()
    name = models.CharField(max_length=80)
    description = models.CharField(max_length=300, blank=True)
    is_ticked = models.BooleanField(default=False, help_text="The client had it in the version before.")
    made_from = models.CharField(max_length=24, help_text="The booking’s piece or charge it was made from.")
    price_minor = models.PositiveBigIntegerField()
    tax_minor = models.PositiveBigIntegerField()
    total_minor = models.PositiveBigIntegerField()
    deposit_minor = models.PositiveBigIntegerField()
    cost_minor = models.PositiveBigIntegerField()
    person_minutes = models.PositiveIntegerField()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["quote", "number"], name="a_quote_offers_an_extra_once"),
            models.CheckConstraint(
                condition=Q(number__gte=1, number__lte=MOST_EXTRAS), name="offered_extras_are_1_to_6"
            ),
            models.CheckConstraint(condition=TOTAL_IS_PRICE_AND_TAX, name="an_extra_is_price_and_tax"),
            models.CheckConstraint(condition=DEPOSIT_IS_PART, name="an_extras_deposit_is_part_of_it"),
        ]

    def __str__(self) -> str:
        return self.name
