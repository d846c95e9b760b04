"""What is typed while a job is loaded, and when it is over."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from django import forms
from django.forms import BoundField

from bookings.actions import Counted
from bookings.models import WrapUpLine
from bookings.queries.wrapup import WrapUpRow
from stock.actions.ledger import MOST
from studio.form_fields import WholeNumberField

_LARGEST_KEY = 2**63 - 1


class TickForm(forms.Form):
    """A line of a pull list, and how many were taken where it is not what was asked. Lot 0 is what is of no lot."""

    item = forms.IntegerField(min_value=1, max_value=_LARGEST_KEY)
    lot = forms.IntegerField(min_value=0, max_value=_LARGEST_KEY)
    taken = WholeNumberField(label="Taken", least=0, most=MOST, required=False)

    @property
    def lot_key(self) -> int | None:
        """The lot's key; None for what is of no lot."""
        return self.cleaned_data["lot"] or None


@dataclass(frozen=True, slots=True)
class WrapUpFields:
    """One item of the wrap-up, with its three fields."""

    row: WrapUpRow
    used: BoundField
    popped: BoundField
    home: BoundField

    @property
    def errors(self) -> list[str]:
        """What is wrong with any of them."""
        return [str(error) for field in (self.used, self.popped, self.home) for error in field.errors]


class WrapUpForm(forms.Form):
    """What became of every item a job took: used, popped and brought home, each filled in with what is likely."""

    def __init__(self, *args: Any, rows: Sequence[WrapUpRow], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.rows = rows
        for row in rows:
            for word, name, initial in (
                ("used", "used", row.used),
                ("popped", "popped", 0),
                ("brought home", "home", row.home),
            ):
                label = f"{row.item.label}: {word}"
                field = WholeNumberField(label=label, least=0, most=row.taken, initial=initial)
                field.error_messages["required"] = f"{label} is needed; nothing was typed. Type 0 where there are none."
                field.widget.attrs |= {"data-part": name, "enterkeyhint": "next"}
                self.fields[f"{name}_{row.item.pk}"] = field

    def lines(self) -> Iterator[WrapUpFields]:
        """The items, each with its fields."""
        for row in self.rows:
            yield WrapUpFields(row, *(self[f"{name}_{row.item.pk}"] for name in ("used", "popped", "home")))

    def clean(self) -> dict[str, Any]:
        """No more of an item than was taken."""
        cleaned = self.cleaned_data
        for row in self.rows:
            figures = [cleaned.get(f"{name}_{row.item.pk}") for name in ("used", "popped", "home")]
            known = [figure for figure in figures if figure is not None]
            if sum(known) > row.taken:
                self.add_error(
                    f"home_{row.item.pk}",
                    f"{row.item.label}: used, popped and brought home must be at most {row.taken:,} together, "
                    f"what was taken (got {sum(known):,}).",
                )
        return cleaned

    @property
    def counted(self) -> dict[int, Counted]:
        """Item key to its figures."""
        return {
            row.item.pk: Counted(*(self.cleaned_data[f"{name}_{row.item.pk}"] for name in ("used", "popped", "home")))
            for row in self.rows
        }


class CorrectionForm(forms.Form):
    """So many of an item came home after all, or are not there after all."""

    item = forms.TypedChoiceField(label="What", coerce=int)
    way = forms.ChoiceField(
        label="What is so",
        choices=[("home", "came home after all"), ("gone", "is not here after all")],
        widget=forms.RadioSelect,
        initial="home",
    )
    quantity = WholeNumberField(label="How many", least=1, most=MOST)
    why = forms.CharField(label="Why", max_length=160, required=False, widget=forms.TextInput({"autocomplete": "off"}))

    def __init__(self, *args: Any, lines: Sequence[WrapUpLine], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        item = self.fields["item"]
        assert isinstance(item, forms.ChoiceField)
        item.choices = [(line.item_id, line.item.label) for line in lines]
        for name in ("item", "way", "quantity"):
            field = self.fields[name]
            field.error_messages["required"] = f"{field.label} is needed; nothing was chosen."
