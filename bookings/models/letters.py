"""The words of letters that a studio wrote itself, and which letters go by themselves."""

from django.db import models
from django.db.models import Q


class MailTemplate(models.Model):
    """A kind of letter in the studio's own words. Without a row the words are those it began with."""

    purpose = models.CharField(max_length=20, unique=True)
    subject = models.CharField(max_length=120)
    text = models.TextField(max_length=4000)

    def __str__(self) -> str:
        return self.purpose


class MailRulesQuerySet(models.QuerySet["MailRules"]):
    """The one set of rules this studio has."""

    def current(self) -> "MailRules":
        """The rules, or an unsaved set with the defaults before the owner has set any."""
        return self.filter(pk=1).first() or MailRules(pk=1)


class MailRules(models.Model):
    """Which letters go by themselves. There is exactly one row."""

    remind_days = models.PositiveSmallIntegerField(
        null=True, blank=True, help_text="Days before a quote runs out; empty: no reminder goes by itself."
    )
    sends_receipts = models.BooleanField(default=True, help_text="To the client, when they accept.")
    tells_us = models.BooleanField(default=True, help_text="To the studio, when a client accepts or asks.")

    objects = MailRulesQuerySet.as_manager()

    class Meta:
        verbose_name_plural = "mail rules"
        constraints = [
            models.CheckConstraint(condition=Q(pk=1), name="there_is_one_set_of_mail_rules"),
            models.CheckConstraint(
                condition=Q(remind_days__isnull=True) | Q(remind_days__gte=1, remind_days__lte=30),
                name="a_reminder_goes_1_to_30_days_before",
            ),
        ]

    def __str__(self) -> str:
        return "Mail rules"
