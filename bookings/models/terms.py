"""When money is due, and what is kept of it when a job is called off."""

from typing import Any

from django.core.exceptions import ValidationError
from django.core.validators import MaxValueValidator
from django.db import models
from django.db.models import Q

from bookings.owing import MOST_STEPS


def check_ladder(steps: object) -> None:
    """Refuse a ladder of notice that is not pairs of days and per cent, each day once."""
    pairs: list[Any] = steps if isinstance(steps, list) else [None]
    fits = len(pairs) <= MOST_STEPS and all(
        isinstance(pair, list | tuple)
        and len(pair) == 2
        and all(isinstance(number, int) and not isinstance(number, bool) for number in pair)
        and 0 <= pair[0] <= 365
        and 0 <= pair[1] <= 100
        for pair in pairs
    )
    if not fits or len({pair[0] for pair in pairs}) != len(pairs):
        raise ValidationError(
            f"Notice is up to {MOST_STEPS} steps of days (0 to 365, each once) and per cent (0 to 100) (got {steps!r})."
        )


class MoneyTermsQuerySet(models.QuerySet["MoneyTerms"]):
    """The one set of terms this studio has."""

    def current(self) -> "MoneyTerms":
        """The terms, or an unsaved set with the defaults before the owner has set any."""
        return self.filter(pk=1).first() or MoneyTerms(pk=1)


class MoneyTerms(models.Model):
    """How the studio is paid. There is exactly one row; what a client accepted is kept with their quote."""

    balance_days = models.PositiveSmallIntegerField(
        default=7, validators=[MaxValueValidator(365)], help_text="Days before the event that the balance is due."
    )
    notice = models.JSONField(
        default=list, blank=True, validators=[check_ladder], help_text="Pairs: days of notice, per cent kept."
    )
    pay_to = models.TextField(max_length=600, blank=True, help_text="Printed on invoices: how to pay.")
    taxes_cancellation = models.BooleanField(
        default=False, help_text="Whether sales tax is part of what is kept of a job that is called off."
    )

    objects = MoneyTermsQuerySet.as_manager()

    class Meta:
        verbose_name_plural = "money terms"
        constraints = [
            models.CheckConstraint(condition=Q(pk=1), name="there_is_one_set_of_money_terms"),
            models.CheckConstraint(condition=Q(balance_days__lte=365), name="a_balance_is_due_within_a_year"),
        ]

    def __str__(self) -> str:
        return "Money terms"

    @property
    def ladder(self) -> list[tuple[int, int]]:
        """The steps of notice, the longest first."""
        return sorted(((days, percent) for days, percent in self.notice), reverse=True)
