"""What is typed on the rates page: every figure behind an estimate."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django import forms
from django.forms import BoundField

from estimating.forms.fields import LengthField
from estimating.models import Rates
from studio.form_fields import (
    ROOM_UNITS,
    WEIGHT_UNITS,
    WIND_UNITS,
    DecimalNumberField,
    MoneyField,
    ReadingField,
    WholeNumberField,
    name_what_is_missing,
)
from studio.units import System


@dataclass(frozen=True)
class RateGroup:
    """Some rates that belong together on the page."""

    title: str
    sentence: str
    names: tuple[str, ...]


RATE_GROUPS = (
    RateGroup(
        "Price",
        "What turns the cost of a job into its price.",
        (
            "hourly_minor",
            "per_distance_minor",
            "overhead_percent",
            "margin_percent",
            "minimum_minor",
            "rounding_minor",
            "tax_percent",
            "tax_each",
            "deposit_percent",
        ),
    ),
    RateGroup(
        "Hours",
        "How long your hands take. Time a few jobs, and put your own figures here.",
        (
            "seconds_small",
            "seconds_medium",
            "seconds_large",
            "seconds_giant",
            "seconds_per_foot",
            "seconds_per_attachment",
            "seconds_per_ribbon",
            "seconds_per_letter",
            "seconds_per_sealed",
            "gas_minutes",
            "decal_minutes",
            "setup_minutes",
            "strike_minutes",
            "crew_exponent",
        ),
    ),
    RateGroup(
        "Waste",
        "How many spares go in the bag.",
        ("pop_indoors_percent", "pop_outdoors_percent", "confidence_percent"),
    ),
    RateGroup(
        "How sure",
        "An estimate says from where to where it most likely comes out. Each job you wrap up counts against these.",
        ("evidence_hours", "evidence_balloons"),
    ),
    RateGroup(
        "Van, points and weather",
        "What says how often you drive, whether a point holds and when to stay down. Ladders are listed with the kit.",
        ("van_cubic_feet", "hook_grams", "base_mm", "wind_limit_mph"),
    ),
    RateGroup(
        "Usual costs",
        "What one of a thing costs as long as no supplier's price is written down for it.",
        (
            "usual_small_minor",
            "usual_medium_minor",
            "usual_large_minor",
            "usual_giant_minor",
            "usual_other_minor",
            "usual_ribbon_minor",
            "usual_weight_minor",
            "usual_helium_minor",
            "usual_decal_minor",
        ),
    ),
)

# Field: label, and the sentence that says what it does.
RATE_WORDS = {
    "hourly_minor": ("An hour of work costs", "Every hour of every person on the job, at home and on site."),
    "per_distance_minor": (
        "A mile or kilometre costs",
        "Fuel and wear, charged there and back. It is the unit you type distances in.",
    ),
    "overhead_percent": ("Overhead in %", "Added to all costs: rent, insurance, the telephone."),
    "margin_percent": ("Margin in %", "Of the price, what is left when every cost is paid."),
    "minimum_minor": ("Least price of a job", "A smaller job is quoted at this."),
    "rounding_minor": ("Round prices up to a multiple of", "With 5 a price of 612.30 becomes 615."),
    "tax_percent": (
        "Sales tax in %",
        "Of the price, rounded half up to the smallest coin. 0 where you charge none.",
    ),
    "tax_each": ("Tax is rounded", "Your tax office says which: once on the whole price, or piece by piece."),
    "deposit_percent": ("Deposit in %", "Of the total, due when the client says yes."),
    "seconds_small": ("Seconds for a balloon up to 6 inches", "To inflate it, size it and tie it."),
    "seconds_medium": ("Seconds for one up to 12 inches", "To inflate it, size it and tie it."),
    "seconds_large": ("Seconds for one up to 18 inches", "To inflate it, size it and tie it."),
    "seconds_giant": ("Seconds for a larger one", "To inflate it, size it and tie it."),
    "seconds_per_foot": ("Seconds to assemble a foot of garland", "From a heap of tied balloons to a finished foot."),
    "seconds_per_attachment": ("Seconds to hang one attachment point", "Counted for each point a piece hangs from."),
    "seconds_per_ribbon": ("Seconds to cut and tie a ribbon", "Counted for each balloon on a ribbon."),
    "seconds_per_letter": ("Seconds to set one letter on a balloon", "Counted for each letter of a decal."),
    "seconds_per_sealed": (
        "Seconds to seal a helium balloon inside",
        "Counted where a balloon must float longer than it would untreated.",
    ),
    "gas_minutes": (
        "Minutes to collect gas",
        "Of one person, once for a job with helium, in its price and in the plan. 0 where it is brought to you.",
    ),
    "decal_minutes": ("Minutes to cut a decal", "Of one person, each, beforehand. 0 where they come ready-cut."),
    "setup_minutes": ("Minutes to set up", "Once a job: unloading, ladder, clearing up."),
    "strike_minutes": ("Minutes to strike", "Once a job: taking it down and away."),
    "crew_exponent": (
        "Crew speed",
        "Two people are 2 to this power as fast as one: 1 is twice as fast, 0.74 is 1.67 times.",
    ),
    "pop_indoors_percent": ("Pops indoors in %", "Of every hundred balloons inflated."),
    "pop_outdoors_percent": ("Pops outdoors in %", "Of every hundred balloons inflated."),
    "confidence_percent": ("Spares are enough in %", "Of jobs. 95 means one job in twenty runs out of spares."),
    "evidence_hours": (
        "Your hours are worth as many timed hours as",
        "12: after twelve hours of jobs wrapped up, what they took counts as much as the figures above.",
    ),
    "evidence_balloons": (
        "Your counts are worth as many counted balloons as",
        "400: after jobs with 400 balloons wrapped up, what they used counts as much as the picture.",
    ),
    "van_cubic_feet": ("Room in your van", "Behind the seats: 250 ft³ or 7 m³."),
    "hook_grams": ("What a hook or point holds", "As its packet says, with what holds it: 1 lb or 450 g."),
    "base_mm": ("Width of a base", "Of the plates that columns and arches stand on."),
    "wind_limit_mph": (
        "Wind limit",
        "Gusts at which you do not install. No limit for balloons is published; 38 km/h (24 mph) is that of inflatable "
        "play equipment (EN 14960).",
    ),
    "usual_small_minor": ("A balloon up to 6 inches", "Each."),
    "usual_medium_minor": ("One up to 12 inches", "Each."),
    "usual_large_minor": ("One up to 18 inches", "Each."),
    "usual_giant_minor": ("A larger one", "Each."),
    "usual_other_minor": ("A tie, a hook, a foot of line", "Each."),
    "usual_ribbon_minor": ("A foot of ribbon", "As it hangs, curled or not."),
    "usual_weight_minor": ("A weight", "Each."),
    "usual_helium_minor": ("A hundred litres of helium", "As it fills balloons, not as it is pressed in the cylinder."),
    "usual_decal_minor": ("A decal", "Cut and ready to set on a balloon."),
}

MOST_PERCENT = {
    "overhead_percent": 500,
    "margin_percent": 95,
    "pop_indoors_percent": 50,
    "pop_outdoors_percent": 50,
    "confidence_percent": 99,
    "crew_exponent": 1,
}
FOOT = Decimal("304.8")
MOST_SECONDS, MOST_MINUTES = 86_400, 1_440


# What is typed with a unit: its field, and what it may be.
MEASURED: dict[str, tuple[type[forms.Field], dict[str, Any]]] = {
    "van_cubic_feet": (
        ReadingField,
        {"units": ROOM_UNITS, "plain": {"imperial": "ft³", "metric": "m³"}, "low": 1, "high": 9000, "places": 3},
    ),
    "hook_grams": (
        ReadingField,
        {"units": WEIGHT_UNITS, "plain": {"imperial": "lb", "metric": "g"}, "low": 1, "high": 99_000, "places": 4},
    ),
    "base_mm": (LengthField, {"low": FOOT / 4, "high": 20 * FOOT, "plain": {"imperial": "in", "metric": "cm"}}),
    "wind_limit_mph": (
        ReadingField,
        {"units": WIND_UNITS, "plain": {"imperial": "mph", "metric": "km/h"}, "low": 1, "high": 60, "places": 1},
    ),
}


def rate_field(name: str) -> forms.Field:
    """The form field for a rate, by what its name says it is."""
    label, help_text = RATE_WORDS[name]
    words: dict[str, Any] = {"label": label, "help_text": help_text}
    if name in MEASURED:
        make, limits = MEASURED[name]
        return make(**limits, **words)
    if name == "tax_each":
        return forms.ChoiceField(choices=Rates.TaxEach.choices, widget=forms.RadioSelect, **words)
    if name.startswith("evidence_"):
        return WholeNumberField(least=1, most=1_000_000, **words)
    if name.endswith("_minor"):
        return MoneyField(least=1 if name == "rounding_minor" else 0, **words)
    if name.endswith("_percent") or name == "crew_exponent":
        return DecimalNumberField(most=MOST_PERCENT.get(name, 100), **words)
    return WholeNumberField(least=0, most=MOST_MINUTES if name.endswith("_minutes") else MOST_SECONDS, **words)


class RatesForm(forms.Form):
    """Every rate, grouped as on the page, amounts typed in the studio's currency."""

    def __init__(self, data: Any = None, *, rates: Rates, currency: str, measures: System = "imperial") -> None:
        names = [name for group in RATE_GROUPS for name in group.names]
        super().__init__(data, initial={name: getattr(rates, name) for name in names})
        for name in names:
            field = rate_field(name)
            if isinstance(field, MoneyField):
                field.currency = currency
            elif isinstance(field, LengthField | ReadingField):
                field.measures = measures
            self.fields[name] = field
        name_what_is_missing(self.fields)

    def groups(self) -> Iterator[tuple[RateGroup, list[BoundField]]]:
        """The groups with their fields, in the order of the page."""
        for group in RATE_GROUPS:
            yield group, [self[name] for name in group.names]
