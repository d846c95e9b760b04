"""An offer as it was issued, and the yes to it."""

from datetime import date

from django.conf import settings
from django.db import models
from django.db.models import Q

from bookings.choosing import ONLY_OPTION, price_in
from bookings.models.jobs import Booking
from stock.models import Item, double_words


class QuoteQuerySet(models.QuerySet["Quote"]):
    """Quotes asked for by whether they can still be accepted."""

    def open(self, today: date) -> "QuoteQuerySet":
        """Neither accepted, withdrawn, replaced nor past their last day."""
        return self.filter(
            acceptance__isnull=True,
            withdrawn_at__isnull=True,
            replaced_at__isnull=True,
            valid_until__gte=today,
        )


class Quote(models.Model):
    """A numbered, versioned offer, frozen when it is issued.

    Everything a client sees is in this row and its pieces: the database refuses to change it. Only what happens to
    the quote afterwards (withdrawn, replaced, a new link) is written later.
    """

    booking = models.ForeignKey(Booking, on_delete=models.PROTECT, related_name="quotes")
    number = models.PositiveIntegerField()
    version = models.PositiveIntegerField()
    issued_at = models.DateTimeField()
    issued_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    valid_until = models.DateField(help_text="The last day it can be accepted on.")
    needed_on = models.DateField(help_text="The prep day its materials are held for.")
    currency = models.CharField(max_length=3)
    price_minor = models.PositiveBigIntegerField()
    tax_minor = models.PositiveBigIntegerField()
    total_minor = models.PositiveBigIntegerField()
    deposit_minor = models.PositiveBigIntegerField()
    cost_minor = models.PositiveBigIntegerField()
    person_minutes = models.PositiveIntegerField()
    told = models.JSONField(help_text="What the client is told: title, day, place, terms, cautions, the studio.")
    reasons = models.JSONField(help_text="What the price is made of, for the owner.")
    changes = models.JSONField(default=list, help_text="What this version changed, in sentences.")
    pdf = models.BinaryField()
    pdf_sha256 = models.CharField(max_length=64)

    withdrawn_at = models.DateTimeField(null=True, blank=True)
    replaced_at = models.DateTimeField(null=True, blank=True)
    erased_at = models.DateTimeField(null=True, blank=True, help_text="When its client asked to be forgotten.")
    link_salt = models.CharField(max_length=43)
    link_hash = models.CharField(max_length=64, unique=True)

    objects = QuoteQuerySet.as_manager()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["number", "version"], name="a_quote_version_is_issued_once"),
            models.CheckConstraint(
                condition=Q(total_minor=models.F("price_minor") + models.F("tax_minor")),
                name="a_total_is_price_and_tax",
            ),
            models.CheckConstraint(
                condition=Q(deposit_minor__lte=models.F("total_minor")), name="a_deposit_is_part_of_the_total"
            ),
        ]

    def __str__(self) -> str:
        return f"Quote {self.number}, version {self.version}"


class QuotePiece(models.Model):
    """A piece as it was offered: its picture, its layout, its price."""

    quote = models.ForeignKey(Quote, on_delete=models.PROTECT, related_name="pieces")
    position = models.PositiveIntegerField()
    name = models.CharField(max_length=80)
    kind = models.CharField(max_length=20)
    spec = models.JSONField()
    layout = models.JSONField()
    description = models.CharField(max_length=300)
    balloons = models.PositiveIntegerField()
    colours = models.JSONField(help_text="Name, swatch and ink of each colour, as they were.")
    price_minor = models.PositiveBigIntegerField()
    picture = models.TextField(help_text="The drawing, as SVG.")
    option = models.PositiveSmallIntegerField(default=0, help_text="The option it is in; 0 in every one.")
    extra = models.PositiveSmallIntegerField(default=0, help_text="The extra it is; 0 for none.")
    prices = models.JSONField(default=dict, help_text="Its price by the option’s number, where there are several.")

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["quote", "position"], name="quoted_pieces_stand_in_order"),
        ]

    def __str__(self) -> str:
        return self.name

    def price_in(self, option: int) -> int:
        """Its part of the price of an option."""
        return price_in(option, self.prices, self.price_minor)


class QuoteMaterial(models.Model):
    """What an option or an extra would take off the shelf: reserved as it stands when the client says yes to it."""

    quote = models.ForeignKey(Quote, on_delete=models.PROTECT, related_name="materials")
    item = models.ForeignKey(Item, on_delete=models.PROTECT, related_name="+")
    item_label = models.CharField(max_length=120)
    needed = models.PositiveIntegerField()
    spares = models.PositiveIntegerField()
    option = models.PositiveSmallIntegerField(
        default=ONLY_OPTION, help_text="The option that takes it; 0 for an extra."
    )
    extra = models.PositiveSmallIntegerField(default=0, help_text="The extra that takes it; 0 for an option.")

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["quote", "option", "extra", "item"], name="an_offer_lists_an_item_once"),
        ]

    def __str__(self) -> str:
        return self.item_label

    @property
    def total(self) -> int:
        """What is held: needed and spares."""
        return self.needed + self.spares


class QuoteOpening(models.Model):
    """Somebody followed the quote's link."""

    class What(models.TextChoices):
        PAGE = "page", "page"
        PDF = "pdf", "PDF"

    quote = models.ForeignKey(Quote, on_delete=models.CASCADE, related_name="openings")
    at = models.DateTimeField()
    what = models.CharField(max_length=4, choices=What.choices)

    def __str__(self) -> str:
        return f"{self.what} at {self.at}"


class Acceptance(models.Model):
    """The client's yes: who typed their name, when, from where, what they chose and what that comes to.

    One that was given before there was anything to choose has no amounts of its own: they are the quote's.
    """

    quote = models.OneToOneField(Quote, on_delete=models.PROTECT, related_name="acceptance")
    name = models.CharField(max_length=120)
    at = models.DateTimeField()
    address = models.GenericIPAddressField(null=True, blank=True)
    browser = models.CharField(max_length=300, blank=True)
    option = models.PositiveSmallIntegerField(default=ONLY_OPTION)
    extras = models.JSONField(default=list, help_text="The numbers of the extras that were ticked.")
    price_minor = models.PositiveBigIntegerField(null=True, help_text="As agreed; nothing: what the quote asks.")
    tax_minor = models.PositiveBigIntegerField(null=True)
    total_minor = models.PositiveBigIntegerField(null=True)
    deposit_minor = models.PositiveBigIntegerField(null=True)

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(total_minor__isnull=True) | Q(total_minor=models.F("price_minor") + models.F("tax_minor")),
                name="what_was_agreed_is_price_and_tax",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.name} at {self.at}"


class MaterialSwap(models.Model):
    """A material a booked job takes in place of one its accepted picture shows."""

    booking = models.ForeignKey(Booking, on_delete=models.CASCADE, related_name="swaps")
    given_up = models.ForeignKey(Item, on_delete=models.PROTECT, related_name="+")
    taken = models.ForeignKey(Item, on_delete=models.PROTECT, related_name="+")
    inside = models.ForeignKey(
        Item,
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="+",
        help_text="As many of these too, each blown up inside one taken: double-stuffed.",
    )
    quantity = models.PositiveIntegerField()
    at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    class Meta:
        constraints = [
            models.CheckConstraint(condition=Q(quantity__gte=1), name="a_swap_swaps_something"),
            models.CheckConstraint(condition=~Q(given_up=models.F("taken")), name="a_swap_is_of_two_items"),
            models.CheckConstraint(
                condition=Q(inside__isnull=True) | (~Q(inside=models.F("taken")) & ~Q(inside=models.F("given_up"))),
                name="a_double_swap_is_of_three_items",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.quantity} of item {self.given_up_id} for item {self.taken_id}"

    @property
    def taken_ids(self) -> list[int]:
        """What `quantity` is taken of each: one item, or the outer and the inner balloon."""
        return [self.taken_id] if self.inside_id is None else [self.taken_id, self.inside_id]

    @property
    def taken_words(self) -> str:
        """What is taken: "Ink 11-inch", or "Ink over White 11-inch" where two balloons go into one."""
        return double_words(self.taken, self.inside) if self.inside else self.taken.label
