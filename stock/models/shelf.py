"""What the shelf can hold: colours and items."""

from django.core.exceptions import ValidationError
from django.db import models
from django.db.models import Q
from django.db.models.functions import Lower

from stock.colour import ColourError, ink_on, parse_swatch

NOMINAL_SIZES = (3, 5, 6, 9, 10, 11, 12, 14, 16, 17, 18, 24, 30, 36)
"""Nominal diameters in inches of round latex, as the bags are marked (common practice, no source)."""
TIE_SIZE = 260


def check_swatch(value: str) -> None:
    """Refuse a swatch that is not #rrggbb."""
    try:
        parse_swatch(value)
    except ColourError as error:
        raise ValidationError(str(error)) from error


class Colour(models.Model):
    """A colour the studio works in, with the finish it is sold in."""

    class Finish(models.TextChoices):
        STANDARD = "standard", "standard"
        MATTE = "matte", "matte"
        PEARL = "pearl", "pearl"
        METALLIC = "metallic", "metallic"
        CLEAR = "clear", "clear"
        CONFETTI = "confetti", "confetti"
        FOIL = "foil", "foil"

    class Form(models.TextChoices):
        ROUND = "round", "round"
        HEART = "heart", "heart"
        STAR = "star", "star"

    name = models.CharField(max_length=40)
    swatch = models.CharField(max_length=7, validators=[check_swatch], help_text="As #rrggbb.")
    finish = models.CharField(max_length=8, choices=Finish.choices, default=Finish.STANDARD)
    form = models.CharField(
        "shape", max_length=5, choices=Form.choices, default=Form.ROUND, help_text="Hearts and stars are foil."
    )
    position = models.PositiveIntegerField(default=0)
    in_use = models.BooleanField(default=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(
                Lower("name"),
                "finish",
                "form",
                name="colour_is_named_once_per_finish",
                violation_error_message="There is a colour of this name and finish already.",
            ),
            models.CheckConstraint(
                condition=Q(form="round") | Q(finish="foil"),
                name="hearts_and_stars_are_foil",
                violation_error_message="A heart or a star is foil: choose the finish foil, or the shape round.",
            ),
        ]

    def __str__(self) -> str:
        said = self.name if self.finish == self.Finish.STANDARD else f"{self.name} {self.finish}"
        return said if self.form == self.Form.ROUND else f"{said} {self.form}"

    @property
    def key(self) -> str:
        """How a layout names this colour."""
        return str(self.pk)

    @property
    def ink(self) -> str:
        """The text colour that reads best on a disc of this colour."""
        return ink_on(self.swatch)


class ItemQuerySet(models.QuerySet["Item"]):
    """Items asked for by what they are."""

    def with_colour(self) -> "ItemQuerySet":
        """With the colour at hand, which an item's label needs."""
        return self.select_related("colour")

    def shelf_order(self) -> "ItemQuerySet":
        """Latex by colour and size, then everything else by name."""
        return self.order_by(
            models.Case(models.When(sort=Item.Sort.LATEX, then=0), default=1),
            "colour__position",
            "colour__name",
            "colour_id",
            "size",
            "name",
            "pk",
        )


class Item(models.Model):
    """One thing on the shelf. Latex is a colour in a nominal size; everything else has a name."""

    class Sort(models.TextChoices):
        LATEX = "latex", "Balloon"
        TIE = "tie", "260 tie"
        LINE = "line", "Line"
        HOOK = "hook", "Hook"
        RIBBON = "ribbon", "Ribbon"
        WEIGHT = "weight", "Weight"
        GAS = "gas", "Gas"
        DECAL = "decal", "Decal"
        OTHER = "other", "Other"

    sort = models.CharField(max_length=6, choices=Sort.choices, default=Sort.LATEX)
    colour = models.ForeignKey(Colour, on_delete=models.PROTECT, null=True, blank=True, related_name="items")
    size = models.PositiveSmallIntegerField("nominal size", null=True, blank=True, help_text="In inches.")
    name = models.CharField(max_length=60, blank=True)
    unit = models.CharField(max_length=12, default="each", help_text="What one of it is: each, ft, litre.")
    keep_back = models.PositiveIntegerField(
        default=0, help_text="Below this many it counts as running short, whatever is booked."
    )
    place = models.CharField("place on the shelf", max_length=40, blank=True)
    best_before_months = models.PositiveSmallIntegerField(
        "good for so many months", null=True, blank=True, help_text="From the day it came. 0: it keeps."
    )
    piece_milligrams = models.PositiveIntegerField("weight of one, in milligrams", null=True, blank=True)
    room_millilitres = models.PositiveIntegerField(
        "room of one, in millilitres", null=True, blank=True, help_text="As it travels."
    )
    barcode = models.CharField(max_length=48, blank=True, help_text="As it is printed under the bars.")

    objects = ItemQuerySet.as_manager()

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(sort="latex", colour__isnull=False, size__isnull=False) | ~Q(sort="latex"),
                name="a_balloon_has_a_colour_and_a_size",
            ),
            models.CheckConstraint(condition=Q(sort="latex") | ~Q(name=""), name="what_is_no_balloon_has_a_name"),
            models.UniqueConstraint(
                fields=["colour", "size"], condition=Q(sort="latex"), name="a_balloon_is_listed_once"
            ),
            models.UniqueConstraint("sort", Lower("name"), condition=~Q(sort="latex"), name="an_item_is_named_once"),
            models.UniqueConstraint(fields=["barcode"], condition=~Q(barcode=""), name="a_barcode_is_one_items"),
            models.CheckConstraint(
                condition=Q(piece_milligrams__isnull=True) | Q(piece_milligrams__gte=1), name="a_piece_weighs_something"
            ),
            models.CheckConstraint(
                condition=Q(room_millilitres__isnull=True) | Q(room_millilitres__gte=1), name="a_piece_takes_some_room"
            ),
        ]

    def __str__(self) -> str:
        return self.label

    @property
    def label(self) -> str:
        """What it is called in a sentence: “Black 11-inch”, “Fishing line”."""
        if self.sort == self.Sort.LATEX and self.colour is not None:
            return f"{self.colour} {self.size}-inch"
        return self.name

    @property
    def ages(self) -> bool:
        """Whether it perishes as latex does: balloons that are no foil, and ties."""
        is_foil = self.colour is not None and self.colour.finish == Colour.Finish.FOIL
        return self.sort == self.Sort.TIE or (self.sort == self.Sort.LATEX and not is_foil)

    @property
    def lost_word(self) -> str:
        """What has become of one that can be used no more: balloons and ties popped, anything else is spoiled."""
        return "popped" if self.sort in (self.Sort.LATEX, self.Sort.TIE) else "spoiled"

    @property
    def swatch(self) -> str:
        """The colour of its disc; things without a colour of their own are pale."""
        return self.colour.swatch if self.colour else "#d9d2c6"

    @property
    def ink(self) -> str:
        """The text colour on its disc."""
        return ink_on(self.swatch)
