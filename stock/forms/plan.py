"""What is fixed, changed and left out of the order that is being planned."""

from collections.abc import Iterable
from typing import Any

from django import forms

from stock.actions import ChosenLine, ChosenOrder
from stock.buying.problem import MOST_PACKS
from stock.forms.fields import WholeNumber
from stock.models import Offer

MOST_LINES = 2_000


class PlanForm(forms.Form):
    """For every offer of what is short: how many packs of it, and whether to leave it out. Empty: the cheapest.

    Of every supplier: whether to buy nothing from them this time.
    """

    def __init__(self, *args: Any, offers: Iterable[Offer], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.offers = {offer.pk: offer for offer in offers}
        for key, offer in self.offers.items():
            said = f"{offer.item.label}, packs of {offer.pack_size:,} from {offer.supplier.name}"
            self.fields[f"packs_{key}"] = WholeNumber(label=said, most=MOST_PACKS, required=False)
            self.fields[f"no_{key}"] = forms.BooleanField(label=f"Leave out: {said}", required=False)
        self.suppliers = {offer.supplier_id: offer.supplier for offer in self.offers.values()}
        for key, supplier in self.suppliers.items():
            self.fields[f"none_from_{key}"] = forms.BooleanField(label=supplier.name, required=False)

    @property
    def pins(self) -> dict[int, int]:
        """How many packs were typed, by offer; those left out are missing."""
        typed = {key: self.cleaned_data.get(f"packs_{key}") for key in self.offers}
        return {key: packs for key, packs in typed.items() if packs is not None and key not in self.forbids}

    @property
    def forbids(self) -> set[int]:
        """The offers that are left out, by themselves or with everything their supplier sells."""
        return {
            key
            for key, offer in self.offers.items()
            if self.cleaned_data.get(f"no_{key}") or offer.supplier_id in self.avoided
        }

    @property
    def avoided(self) -> set[int]:
        """The suppliers nothing is bought from."""
        return {key for key in self.suppliers if self.cleaned_data.get(f"none_from_{key}")}

    def supplier_fields(self) -> list[forms.BoundField]:
        """A field for each supplier, by name; none where there is no choice between two."""
        if len(self.suppliers) < 2:
            return []
        by_name = sorted(self.suppliers.values(), key=lambda supplier: (supplier.name.casefold(), supplier.pk))
        return [self[f"none_from_{supplier.pk}"] for supplier in by_name]

    def packs_of(self, offer: Offer) -> forms.BoundField:
        """The field for how many packs."""
        return self[f"packs_{offer.pk}"]

    def leaves_out(self, offer: Offer) -> forms.BoundField:
        """The field for leaving it out."""
        return self[f"no_{offer.pk}"]


def chosen_orders(lines: Iterable[str], joining: Iterable[str]) -> list[ChosenOrder]:
    """The lines a page of a plan carries, each "order:offer:packs:price", by order; what is garbled is left out.

    `joining` are the numbers of the orders that join one being planned.
    """
    orders: dict[int, list[ChosenLine]] = {}
    for text in list(lines)[:MOST_LINES]:
        parts = text.split(":")
        if len(parts) == 4 and all(part.isascii() and part.isdigit() and len(part) < 16 for part in parts):
            order, offer, packs, price = map(int, parts)
            orders.setdefault(order, []).append(ChosenLine(offer, packs, price))
    joins = set(joining)
    return [ChosenOrder(found, joins=str(order) in joins) for order, found in sorted(orders.items())]
