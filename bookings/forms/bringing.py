"""What is typed about what goes along: a thing a line, and when it goes."""

from decimal import Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.forms import BoundField

from bookings.bringing import ABOVE, ALWAYS, HELIUM, HUNG, INDOORS, KIND, LONGEST_THING, MOST_RULES, OUTDOORS, Rule
from estimating.forms.fields import LengthField
from estimating.kinds import KINDS
from studio.units import System

EMPTY_LINES = 4
WHENS = (
    (ALWAYS, "every job"),
    (INDOORS, "indoors"),
    (OUTDOORS, "outdoors"),
    (HUNG, "hung pieces"),
    (ABOVE, "hung above …"),
    (HELIUM, "with helium"),
    *((f"{KIND}{name}", f"with: {kind.title}") for name, kind in KINDS.items()),
)


class BringingForm(forms.Form):
    """The whole list: a line is taken off by emptying it, and new ones go in the empty lines at its end."""

    def __init__(
        self, *args: Any, rules: list[Rule], measures: System, lines: int | None = None, **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        self.count = min(lines or len(rules) + EMPTY_LINES, MOST_RULES)
        for number in range(self.count):
            rule = rules[number] if number < len(rules) else Rule("")
            name = f"line {number + 1}"
            self.fields[f"thing_{number}"] = forms.CharField(
                label=f"What goes along, {name}",
                max_length=LONGEST_THING,
                required=False,
                initial=rule.thing,
                widget=forms.TextInput({"autocomplete": "off"}),
            )
            self.fields[f"when_{number}"] = forms.ChoiceField(
                label=f"When, {name}", choices=WHENS, initial=rule.when, required=False
            )
            above = LengthField(
                label=f"Higher than, {name}",
                low=Decimal("304.8"),
                high=Decimal(30_480),
                plain={"imperial": "ft", "metric": "m"},
                required=False,
                initial=rule.above_mm,
            )
            above.measures = measures
            above.widget.attrs["placeholder"] = "above"
            self.fields[f"above_{number}"] = above

    def lines(self) -> list[tuple[BoundField, BoundField, BoundField]]:
        """Each line's fields: what, when, and how high."""
        return [(self[f"thing_{n}"], self[f"when_{n}"], self[f"above_{n}"]) for n in range(self.count)]

    def clean(self) -> dict[str, Any]:
        """A height where a height is asked for."""
        cleaned = self.cleaned_data
        for number in range(self.count):
            asked = cleaned.get(f"thing_{number}") and cleaned.get(f"when_{number}") == ABOVE
            if asked and not cleaned.get(f"above_{number}") and f"above_{number}" not in self.errors:
                self.add_error(
                    f"above_{number}",
                    ValidationError(f"{cleaned[f'thing_{number}']} needs the height it goes along above."),
                )
        return cleaned

    @property
    def rules(self) -> list[Rule]:
        """The list as it was typed."""
        found = []
        for number in range(self.count):
            thing, when = self.cleaned_data[f"thing_{number}"], self.cleaned_data[f"when_{number}"] or ALWAYS
            if thing:
                found.append(Rule(thing, when, self.cleaned_data[f"above_{number}"] if when == ABOVE else None))
        return found
