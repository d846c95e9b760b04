"""What is bought, from whom: suppliers, what they offer, and orders."""

from django.conf import settings
from django.core.validators import MinValueValidator
from django.db import models
from django.db.models import Q

from stock.models.shelf import Item

MOST_IN_A_PACK = 100_000
MOST_LEAD_DAYS = 365
MOST_PRICE_MINOR = 10**9
"""In the currency's smallest unit: no larger than orders of it can still be added up."""


class Supplier(models.Model):
    """Somebody the studio buys from."""

    name = models.CharField(max_length=80, unique=True)
    email = models.EmailField(blank=True)
    phone = models.CharField(max_length=40, blank=True)
    delivery_minor = models.PositiveBigIntegerField(
        default=0, help_text="For bringing one order, in the currency's smallest unit."
    )
    free_from_minor = models.PositiveBigIntegerField(
        null=True, blank=True, help_text="An order of this much or more is brought for nothing; empty where none is."
    )
    minimum_minor = models.PositiveBigIntegerField(default=0, help_text="No order of less than this is taken.")

    def __str__(self) -> str:
        return self.name


class Offer(models.Model):
    """What a supplier sells an item for."""

    supplier = models.ForeignKey(Supplier, on_delete=models.CASCADE, related_name="offers")
    item = models.ForeignKey(Item, on_delete=models.CASCADE, related_name="offers")
    pack_size = models.PositiveIntegerField(validators=[MinValueValidator(1)])
    price_minor = models.PositiveBigIntegerField(help_text="Of one pack, in the currency's smallest unit.")
    lead_days = models.PositiveSmallIntegerField(help_text="From placing an order to having it.")
    their_name = models.CharField(max_length=80, blank=True, help_text="What the supplier calls it.")
    their_code = models.CharField(max_length=40, blank=True, help_text="What the supplier orders it by.")

    class Meta:
        constraints = [
            models.CheckConstraint(condition=Q(pack_size__gte=1), name="a_pack_holds_at_least_one"),
            models.UniqueConstraint(
                fields=["supplier", "item", "pack_size"], name="an_offer_is_made_once_per_pack_size"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.pack_size} from {self.supplier}"

    @property
    def in_their_words(self) -> str:
        """What the supplier calls it and orders it by; nothing where nobody has written it down."""
        return in_their_words(self.their_name, self.their_code)


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
    their_name = models.CharField(max_length=80, blank=True, help_text="What the supplier calls it, when ordered.")
    their_code = models.CharField(max_length=40, blank=True, help_text="What the supplier orders it by, when ordered.")

    class Meta:
        constraints = [
            models.CheckConstraint(condition=Q(packs__gte=1, pack_size__gte=1), name="an_order_line_buys_something"),
            models.UniqueConstraint(fields=["order", "item", "pack_size"], name="an_order_lists_a_pack_once"),
        ]

    def __str__(self) -> str:
        return f"{self.packs} × {self.pack_size}"

    @property
    def in_their_words(self) -> str:
        """What the supplier calls it and orders it by; nothing where nobody had written it down."""
        return in_their_words(self.their_name, self.their_code)

    @property
    def quantity(self) -> int:
        """How many were ordered."""
        return self.packs * self.pack_size

    @property
    def cost_minor(self) -> int:
        """What its packs cost together."""
        return self.packs * self.price_minor

    @property
    def outstanding(self) -> int:
        """How many are still to come."""
        return max(self.quantity - self.received, 0)


def in_their_words(name: str, code: str) -> str:
    """A supplier's own name and order code: "Midnight (B-204)", or the one there is."""
    return f"{name} ({code})" if name and code else name or code
