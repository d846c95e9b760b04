"""Counting the shelf: a sheet that is filled in as somebody goes along it, and the rules of the shelf."""

from django.conf import settings
from django.db import models
from django.db.models import Q

from stock.models.shelf import Item


class ShelfRulesQuerySet(models.QuerySet["ShelfRules"]):
    """The one set of rules in force."""

    def current(self) -> "ShelfRules":
        """The rules, or an unsaved set with the defaults before anybody has changed one."""
        return self.filter(pk=1).first() or ShelfRules(pk=1)


class ShelfRules(models.Model):
    """How the studio keeps its shelf. There is exactly one row."""

    latex_months = models.PositiveSmallIntegerField(
        "latex is good for so many months",
        default=24,
        help_text="From the day it came, unless an item says otherwise (24 for best quality: common practice).",
    )
    most_unexplained = models.PositiveIntegerField(
        "a count may differ by", default=5, help_text="A difference of more than this needs a reason."
    )

    objects = ShelfRulesQuerySet.as_manager()

    class Meta:
        constraints = [models.CheckConstraint(condition=Q(pk=1), name="there_is_one_set_of_shelf_rules")]

    def __str__(self) -> str:
        return "Shelf rules"


class CountSheet(models.Model):
    """One count of the shelf. It is kept while half finished; finishing it writes the differences to the ledger."""

    started_at = models.DateTimeField()
    started_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    is_open = models.BooleanField(default=True)
    finished_at = models.DateTimeField(null=True, blank=True)
    finished_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["is_open"], condition=Q(is_open=True), name="one_count_goes_on_at_a_time"),
            models.CheckConstraint(
                condition=Q(is_open=True, finished_at__isnull=True)
                | Q(is_open=False, finished_at__isnull=False, finished_by__isnull=False),
                name="a_finished_count_says_when_and_by_whom",
            ),
        ]

    def __str__(self) -> str:
        return f"Count {self.pk}"


class CountLine(models.Model):
    """What was counted of one item, and what the ledger said at that moment.

    The difference is what is written when the sheet is finished, so what moves between counting and finishing is
    not undone. `newest_movement` is the item's newest line in the ledger when it was counted, by number; 0 for none.
    """

    sheet = models.ForeignKey(CountSheet, on_delete=models.CASCADE, related_name="lines")
    item = models.ForeignKey(Item, on_delete=models.PROTECT, related_name="+")
    counted = models.PositiveIntegerField()
    expected = models.IntegerField()
    newest_movement = models.PositiveBigIntegerField(default=0)
    weighed_milligrams = models.PositiveBigIntegerField(null=True, blank=True)
    why = models.CharField(max_length=160, blank=True)
    at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    class Meta:
        constraints = [models.UniqueConstraint(fields=["sheet", "item"], name="a_count_lists_an_item_once")]

    def __str__(self) -> str:
        return f"{self.counted} counted"

    @property
    def difference(self) -> int:
        """How many more were there than the ledger said; less than 0 where some were missing."""
        return self.counted - self.expected

    def lacks_reason(self, most: int) -> bool:
        """Whether it differs by more than `most`, which may go unexplained, and nobody has said why."""
        return abs(self.difference) > most and not self.why


class Spreadsheet(models.Model):
    """A spreadsheet of items that was sent in, kept until it is taken over or another is sent."""

    name = models.CharField(max_length=120)
    rows = models.JSONField(help_text="Every row as texts, the names of the columns first.")
    sent_at = models.DateTimeField()
    sent_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    taken_over_at = models.DateTimeField(null=True, blank=True)
    said = models.CharField(max_length=200, blank=True, help_text="What taking it over did, in words.")

    def __str__(self) -> str:
        return self.name
