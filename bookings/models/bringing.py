"""What goes along besides what the shelf gives: the studio's own rules for it, and who put it in the van."""

from django.conf import settings
from django.db import models

from bookings.bringing import USUAL, Rule
from bookings.models.jobs import Booking


class BringingRulesQuerySet(models.QuerySet["BringingRules"]):
    """The one list in force."""

    def current(self) -> "BringingRules":
        """The studio's list, or an unsaved one of the usual things before anybody has changed it."""
        return self.filter(pk=1).first() or BringingRules(pk=1, rules=[rule.to_json() for rule in USUAL])


class BringingRules(models.Model):
    """Which things go along to which jobs, as the studio wrote it down. There is one row at the most."""

    rules = models.JSONField(default=list)

    objects = BringingRulesQuerySet.as_manager()

    class Meta:
        verbose_name_plural = "bringing rules"
        constraints = [
            models.CheckConstraint(condition=models.Q(pk=1), name="there_is_one_list_of_what_goes_along"),
        ]

    def __str__(self) -> str:
        return f"{len(self.rules)} rules"

    def read(self) -> list[Rule]:
        """The rules in their order."""
        return [Rule.from_json(kept) for kept in self.rules]


class BringTick(models.Model):
    """Somebody put a thing in the van: kit that was promised, or something a rule named."""

    booking = models.ForeignKey(Booking, on_delete=models.CASCADE, related_name="bring_ticks")
    key = models.CharField(max_length=80, help_text="The number of a promise of kit, or what the thing is called.")
    at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    class Meta:
        constraints = [models.UniqueConstraint(fields=["booking", "key"], name="a_thing_is_put_in_the_van_once")]

    def __str__(self) -> str:
        return self.key
