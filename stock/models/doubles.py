"""Double-stuffed balloons: one blown up inside another, so that both together look like a third colour."""

from django.db import models
from django.db.models import F, Q

from stock.models.shelf import Colour, Item, check_swatch


class DoubleRecipe(models.Model):
    """The studio's own finding that one colour over another looks like a third: two balloons of a size make one."""

    outer = models.ForeignKey(Colour, on_delete=models.CASCADE, related_name="+", help_text="The balloon outside.")
    inner = models.ForeignKey(Colour, on_delete=models.CASCADE, related_name="+", help_text="The balloon inside it.")
    looks_like = models.ForeignKey(
        Colour, on_delete=models.CASCADE, related_name="doubles", help_text="The colour it can stand in for."
    )
    swatch = models.CharField(max_length=7, validators=[check_swatch], help_text="How it really looks, as #rrggbb.")

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=~Q(outer=F("inner")),
                name="a_double_is_of_two_colours",
                violation_error_message="Outside and inside must be two colours.",
            ),
            models.CheckConstraint(
                condition=~Q(outer=F("looks_like")) & ~Q(inner=F("looks_like")),
                name="a_double_stands_in_for_another_colour",
                violation_error_message="It can only stand in for a colour that is not part of it.",
            ),
            models.UniqueConstraint(
                fields=["outer", "inner", "looks_like"],
                name="a_double_is_written_down_once",
                violation_error_message="This recipe is written down already.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.outer} over {self.inner}"


def double_words(outer: Item, inner: Item) -> str:
    """Two balloons of one size, one inside the other: "Ink over White 11-inch"."""
    return f"{outer.colour} over {inner.label}"
