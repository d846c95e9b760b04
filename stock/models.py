"""What is on the shelf, what is promised, and what is on its way."""

from collections.abc import Iterable
from datetime import date

from django.conf import settings
from django.core.exceptions import ValidationError
from django.core.validators import MinValueValidator
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
    def swatch(self) -> str:
        """The colour of its disc; things without a colour of their own are pale."""
        return self.colour.swatch if self.colour else "#d9d2c6"

    @property
    def ink(self) -> str:
        """The text colour on its disc."""
        return ink_on(self.swatch)


class Supplier(models.Model):
    """Somebody the studio buys from."""

    name = models.CharField(max_length=80, unique=True)
    email = models.EmailField(blank=True)
    phone = models.CharField(max_length=40, blank=True)

    def __str__(self) -> str:
        return self.name


class Offer(models.Model):
    """What a supplier sells an item for."""

    supplier = models.ForeignKey(Supplier, on_delete=models.CASCADE, related_name="offers")
    item = models.ForeignKey(Item, on_delete=models.CASCADE, related_name="offers")
    pack_size = models.PositiveIntegerField(validators=[MinValueValidator(1)])
    price_minor = models.PositiveBigIntegerField(help_text="Of one pack, in the currency's smallest unit.")
    lead_days = models.PositiveSmallIntegerField(help_text="From placing an order to having it.")

    class Meta:
        constraints = [
            models.CheckConstraint(condition=Q(pack_size__gte=1), name="a_pack_holds_at_least_one"),
            models.UniqueConstraint(
                fields=["supplier", "item", "pack_size"], name="an_offer_is_made_once_per_pack_size"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.pack_size} from {self.supplier}"


class Order(models.Model):
    """What was bought from one supplier, and when it should arrive."""

    class State(models.TextChoices):
        PLANNED = "planned", "planned"
        PLACED = "placed", "placed"
        RECEIVED = "received", "received"
        CANCELLED = "cancelled", "cancelled"

    supplier = models.ForeignKey(Supplier, on_delete=models.PROTECT, related_name="orders")
    state = models.CharField(max_length=9, choices=State.choices, default=State.PLANNED)
    created_at = models.DateTimeField()
    created_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    placed_on = models.DateField(null=True, blank=True)
    expected_on = models.DateField(null=True, blank=True)

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(state__in=["planned", "cancelled"]) | Q(placed_on__isnull=False, expected_on__isnull=False),
                name="a_placed_order_says_when_it_comes",
            ),
        ]

    def __str__(self) -> str:
        return f"Order {self.pk}"


class OrderLine(models.Model):
    """So many packs of one item, at the price they were ordered for."""

    order = models.ForeignKey(Order, on_delete=models.CASCADE, related_name="lines")
    item = models.ForeignKey(Item, on_delete=models.PROTECT, related_name="order_lines")
    packs = models.PositiveIntegerField(validators=[MinValueValidator(1)])
    pack_size = models.PositiveIntegerField()
    price_minor = models.PositiveBigIntegerField(help_text="Of one pack, when ordered.")
    received = models.PositiveIntegerField(default=0, help_text="How many have arrived, not packs.")

    class Meta:
        constraints = [
            models.CheckConstraint(condition=Q(packs__gte=1, pack_size__gte=1), name="an_order_line_buys_something"),
            models.UniqueConstraint(fields=["order", "item", "pack_size"], name="an_order_lists_a_pack_once"),
        ]

    def __str__(self) -> str:
        return f"{self.packs} × {self.pack_size}"

    @property
    def quantity(self) -> int:
        """How many were ordered."""
        return self.packs * self.pack_size

    @property
    def outstanding(self) -> int:
        """How many are still to come."""
        return max(self.quantity - self.received, 0)


class LedgerRefusal(Exception):
    """Somebody tried to change or delete a movement. A mistake is mended by another movement."""


class MovementQuerySet(models.QuerySet["Movement"]):
    """Movements are written once. The database refuses more than that too; this says it in words first."""

    def update(self, **kwargs: object) -> int:
        """Always refused."""
        raise LedgerRefusal("A movement is never edited: write a new one that corrects it.")

    def delete(self) -> tuple[int, dict[str, int]]:
        """Always refused."""
        raise LedgerRefusal("A movement is never deleted: write a new one that corrects it.")


class Movement(models.Model):
    """One line in the stock ledger. On hand is the sum of an item's movements, always."""

    class Kind(models.TextChoices):
        RECEIVED = "received", "received"
        USED = "used", "used"
        COUNTED = "counted", "counted"
        WRITTEN_OFF = "written_off", "written off"

    item = models.ForeignKey(Item, on_delete=models.PROTECT, related_name="movements")
    kind = models.CharField(max_length=11, choices=Kind.choices)
    quantity = models.IntegerField(help_text="What it adds to the shelf; less than nothing takes away.")
    at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    why = models.CharField(max_length=200, blank=True)
    order_line = models.ForeignKey(OrderLine, on_delete=models.PROTECT, null=True, blank=True, related_name="movements")
    booking = models.PositiveIntegerField(null=True, blank=True, help_text="The booking it was for, by number.")

    objects = MovementQuerySet.as_manager()

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(kind="received", quantity__gt=0)
                | Q(kind__in=["used", "written_off"], quantity__lt=0)
                | Q(kind="counted"),
                name="a_movement_goes_the_way_its_kind_says",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.kind} {self.quantity:+}"

    def save(self, *args: object, **kwargs: object) -> None:
        """Write it, once."""
        if self.pk is not None:
            raise LedgerRefusal("A movement is never edited: write a new one that corrects it.")
        super().save(*args, **kwargs)

    def delete(self, *args: object, **kwargs: object) -> tuple[int, dict[str, int]]:
        """Always refused."""
        raise LedgerRefusal("A movement is never deleted: write a new one that corrects it.")


class ReservationQuerySet(models.QuerySet["Reservation"]):
    """Reservations asked for by what they still hold."""

    def open(self) -> "ReservationQuerySet":
        """Still holding something: neither released nor used."""
        return self.filter(closed_at__isnull=True)

    def holding(self, today: date) -> "ReservationQuerySet":
        """Open, and not lapsed by itself."""
        return self.open().filter(Q(lapses_on__isnull=True) | Q(lapses_on__gte=today))

    def firm(self) -> "ReservationQuerySet":
        """Held for a booking that was accepted."""
        return self.filter(firm=True)

    def of_bookings(self, numbers: Iterable[int]) -> "ReservationQuerySet":
        """Those held for these bookings."""
        return self.filter(booking__in=numbers)

    def needed_by(self, day: date) -> "ReservationQuerySet":
        """Needed on or before a day."""
        return self.filter(needed_on__lte=day)


class Reservation(models.Model):
    """An item, a quantity and the prep day it is needed on, held for a booking.

    Firm once the booking is accepted, tentative while a quote is open. Promises rank by the order they were made
    in, which is the order of the keys.
    """

    item = models.ForeignKey(Item, on_delete=models.PROTECT, related_name="reservations")
    quantity = models.PositiveIntegerField(validators=[MinValueValidator(1)])
    needed_on = models.DateField(help_text="The prep day, not the event day.")
    booking = models.PositiveIntegerField(help_text="The booking's number.")
    booking_name = models.CharField(max_length=120)
    firm = models.BooleanField(default=False)
    made_at = models.DateTimeField()
    lapses_on = models.DateField(
        null=True, blank=True, help_text="The last day a tentative one holds: its quote cannot be accepted after it."
    )
    closed_at = models.DateTimeField(null=True, blank=True)

    objects = ReservationQuerySet.as_manager()

    class Meta:
        constraints = [
            models.CheckConstraint(condition=Q(quantity__gte=1), name="a_reservation_holds_something"),
            models.UniqueConstraint(
                fields=["booking", "item", "firm"],
                condition=Q(closed_at__isnull=True),
                name="a_booking_holds_an_item_once",
            ),
        ]
        indexes = [
            models.Index(fields=["item", "needed_on"], condition=Q(closed_at__isnull=True), name="open_by_item_and_day")
        ]

    def __str__(self) -> str:
        return f"{self.quantity} for {self.booking_name}"
