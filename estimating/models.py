"""The rates behind every estimate, one row of the studio's own figures; what is pinned; and the favourite pieces."""

from decimal import Decimal
from functools import reduce
from operator import or_

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import Q
from django.db.models.functions import Lower

from estimating.bags import inflated_range
from estimating.specs import SIZES
from studio.units import from_inches


def percent(default: str, label: str, help_text: str = "", most: int = 100) -> models.DecimalField:
    """A percentage with up to three decimals."""
    return models.DecimalField(
        label,
        max_digits=7,
        decimal_places=3,
        default=default,
        help_text=help_text,
        validators=[MinValueValidator(0), MaxValueValidator(most)],
    )


class RatesQuerySet(models.QuerySet["Rates"]):
    """The one set of rates in force."""

    def current(self) -> "Rates":
        """The rates, or an unsaved set with the defaults before anybody has changed one."""
        return self.filter(pk=1).first() or Rates(pk=1)


class Rates(models.Model):
    """What the studio's time, materials and risk cost, and what it must earn. There is exactly one row.

    Amounts are in the currency's smallest unit; times in seconds or minutes as their names say.
    """

    class TaxEach(models.TextChoices):
        TOTAL = "total", "Once, on the total"
        LINE = "line", "On each line, then added up"

    hourly_minor = models.PositiveBigIntegerField("an hour of work costs", default=2500)
    crew_exponent = models.DecimalField(
        "crew speed",
        max_digits=4,
        decimal_places=3,
        default="0.740",
        validators=[MinValueValidator(0), MaxValueValidator(1)],
        help_text="Two people are 2 to this power as fast as one: 1 is twice as fast, 0.74 is 1.67 times.",
    )
    per_distance_minor = models.PositiveBigIntegerField("a mile or kilometre costs", default=70)
    overhead_percent = percent("15", "overhead", "On all costs: rent, insurance, the telephone.", most=500)
    margin_percent = percent("30", "margin", "What is left of the price when every cost is paid.", most=95)
    minimum_minor = models.PositiveBigIntegerField("least price of a job", default=15000)
    rounding_minor = models.PositiveBigIntegerField(
        "round prices up to", default=500, validators=[MinValueValidator(1)]
    )
    tax_percent = percent("0", "sales tax", "Of the price, rounded half up to the smallest coin.")
    tax_each = models.CharField("tax is rounded", max_length=5, choices=TaxEach.choices, default=TaxEach.TOTAL)
    deposit_percent = percent("50", "deposit", "Of the total, rounded up to the same step as prices.")

    seconds_small = models.PositiveIntegerField("seconds for a balloon up to 6 inches", default=12)
    seconds_medium = models.PositiveIntegerField("seconds for one up to 12 inches", default=12)
    seconds_large = models.PositiveIntegerField("seconds for one up to 18 inches", default=30)
    seconds_giant = models.PositiveIntegerField("seconds for a larger one", default=120)
    seconds_per_foot = models.PositiveIntegerField("seconds to assemble a foot of garland", default=180)
    seconds_per_attachment = models.PositiveIntegerField("seconds to hang one attachment point", default=180)
    seconds_per_ribbon = models.PositiveIntegerField("seconds to cut and tie a ribbon", default=30)
    seconds_per_letter = models.PositiveIntegerField("seconds to set one letter on a balloon", default=60)
    seconds_per_sealed = models.PositiveIntegerField("seconds to seal a helium balloon inside", default=15)
    gas_minutes = models.PositiveIntegerField("minutes to collect gas", default=45)
    decal_minutes = models.PositiveIntegerField("minutes to cut a decal", default=10)
    setup_minutes = models.PositiveIntegerField("minutes to set up", default=30)
    strike_minutes = models.PositiveIntegerField("minutes to strike", default=30)

    pop_indoors_percent = percent("3", "pops indoors", "Of every hundred balloons inflated.", most=50)
    pop_outdoors_percent = percent("8", "pops outdoors", most=50)
    confidence_percent = percent("95", "confidence of spares", "How often the spares are to be enough.", most=99)

    usual_small_minor = models.PositiveBigIntegerField(
        "a balloon up to 6 inches", default=10, help_text="Used for an item nobody offers yet."
    )
    usual_medium_minor = models.PositiveBigIntegerField("one up to 12 inches", default=18)
    usual_large_minor = models.PositiveBigIntegerField("one up to 18 inches", default=70)
    usual_giant_minor = models.PositiveBigIntegerField("a larger one", default=450)
    usual_other_minor = models.PositiveBigIntegerField("a tie, a hook, a foot of line", default=12)
    usual_ribbon_minor = models.PositiveBigIntegerField("a foot of ribbon", default=3)
    usual_weight_minor = models.PositiveBigIntegerField("a weight", default=80)
    usual_helium_minor = models.PositiveBigIntegerField("a hundred litres of helium", default=450)
    usual_decal_minor = models.PositiveBigIntegerField("a decal", default=600)

    evidence_hours = models.PositiveIntegerField(
        "hours of timed work your figures are worth", default=12, validators=[MinValueValidator(1)]
    )
    evidence_balloons = models.PositiveIntegerField(
        "counted balloons your figures are worth", default=400, validators=[MinValueValidator(1)]
    )

    van_cubic_feet = models.DecimalField(
        "room in the van", max_digits=6, decimal_places=1, default=Decimal("250.0"), validators=[MinValueValidator(1)]
    )
    hook_grams = models.DecimalField(
        "what a hook holds", max_digits=7, decimal_places=1, default=Decimal("453.6"), validators=[MinValueValidator(1)]
    )
    base_mm = models.DecimalField(
        "width of a base", max_digits=9, decimal_places=4, default=Decimal("609.6"), validators=[MinValueValidator(1)]
    )
    wind_limit_mph = models.DecimalField(
        "wind limit", max_digits=4, decimal_places=1, default=Decimal("23.6"), validators=[MinValueValidator(1)]
    )

    objects = RatesQuerySet.as_manager()

    class Meta:
        verbose_name_plural = "rates"
        constraints = [
            models.CheckConstraint(condition=Q(pk=1), name="there_is_one_set_of_rates"),
            models.CheckConstraint(condition=Q(margin_percent__lt=100), name="a_margin_is_less_than_the_price"),
            models.CheckConstraint(condition=Q(rounding_minor__gte=1), name="prices_are_rounded_to_something"),
            models.CheckConstraint(
                condition=Q(evidence_hours__gte=1, evidence_balloons__gte=1), name="own_figures_are_worth_something"
            ),
            models.CheckConstraint(
                condition=Q(van_cubic_feet__gt=0, hook_grams__gt=0, base_mm__gt=0, wind_limit_mph__gt=0),
                name="vans_hooks_bases_and_wind_limits_are_above_zero",
            ),
        ]

    def __str__(self) -> str:
        return "Rates"

    def usual_cost_minor(self, size: int | None) -> int:
        """What one balloon of a nominal size (inches), or one of anything else (None), usually costs."""
        if size is None:
            return self.usual_other_minor
        if size <= 6:
            return self.usual_small_minor
        if size <= 12:
            return self.usual_medium_minor
        return self.usual_large_minor if size <= 18 else self.usual_giant_minor


class FavouriteQuerySet(models.QuerySet["Favourite"]):
    """Favourites asked for as they are offered."""

    def as_offered(self) -> "FavouriteQuerySet":
        """In the order the studio gave them."""
        return self.order_by("position", "name", "pk")


class Favourite(models.Model):
    """A piece the studio makes again and again: its kind, and its spec as it is kept in JSON."""

    name = models.CharField(max_length=80)
    kind = models.CharField(max_length=20)
    spec = models.JSONField()
    position = models.PositiveIntegerField(default=0)

    objects = FavouriteQuerySet.as_manager()

    class Meta:
        constraints = [
            models.UniqueConstraint(
                Lower("name"),
                name="a_favourite_is_named_once",
                violation_error_message="There is a favourite of this name already.",
            ),
            models.CheckConstraint(condition=~Q(name=""), name="a_favourite_has_a_name"),
        ]

    def __str__(self) -> str:
        return self.name


def _within_its_range() -> Q:
    """A nominal size with a diameter that it may be blown to."""
    ranges = {size: tuple(map(from_inches, inflated_range(size))) for size in SIZES}
    return reduce(or_, (Q(size=size, mm__gte=least, mm__lte=most) for size, (least, most) in ranges.items()))


class InflatedDiameter(models.Model):
    """How far the studio blows a nominal size, where it is not as usual. `typed` is how it was written."""

    class Gas(models.TextChoices):
        AIR = "air", "With air"
        HELIUM = "helium", "With helium"

    size = models.PositiveSmallIntegerField()
    gas = models.CharField(max_length=6, choices=Gas.choices, default=Gas.AIR)
    mm = models.DecimalField(max_digits=8, decimal_places=4)
    typed = models.CharField(max_length=60)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["size", "gas"], name="a_size_is_blown_to_one_diameter"),
            models.CheckConstraint(
                condition=Q(gas__in=["air", "helium"]), name="a_balloon_is_blown_with_air_or_helium"
            ),
            models.CheckConstraint(condition=_within_its_range(), name="no_size_is_blown_limp_or_beyond_its_bag"),
        ]

    def __str__(self) -> str:
        return f"{self.size}-inch {self.get_gas_display().lower()}"


class Pin(models.Model):
    """A setting that jobs would teach otherwise, held where the owner put it: a factor or a chance, as its key says."""

    setting = models.CharField(max_length=60, unique=True)
    value = models.DecimalField(max_digits=8, decimal_places=5, validators=[MinValueValidator(0)])
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()

    class Meta:
        constraints = [
            models.CheckConstraint(condition=Q(value__gte=0, value__lte=10), name="a_pin_is_within_reason"),
        ]

    def __str__(self) -> str:
        return f"{self.setting}: {self.value}"
