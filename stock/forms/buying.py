"""What is typed about suppliers, their offers and orders."""

import datetime as dt
from collections.abc import Iterable
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from stock.actions.orders import MOST_PACKS
from stock.forms.fields import BestBefore, Day, Price, WholeNumber, Words, shown
from stock.forms.shelf import WhichItem
from stock.models import MOST_IN_A_PACK, MOST_LEAD_DAYS, Item, Offer, OrderLine, Supplier
from studio.form_fields import refusal


class SupplierForm(forms.ModelForm):
    """Somebody to buy from, and how to reach them."""

    name = Words(label="Name", most=80)
    email = Words(label="E-mail", most=254, required=False, widget=forms.EmailInput())
    phone = Words(label="Phone", most=40, required=False, widget=forms.TextInput(attrs={"type": "tel"}))
    delivery_minor = Price(label="Delivery", required=False, help_text="For one order.")
    free_from_minor = Price(label="Free delivery from", required=False, help_text="Empty where it never is.")
    minimum_minor = Price(label="Least order", required=False, help_text="They take no smaller one.")

    class Meta:
        model = Supplier
        fields = ("name", "email", "phone", "delivery_minor", "free_from_minor", "minimum_minor")
        field_classes = {"delivery_minor": Price, "free_from_minor": Price, "minimum_minor": Price}

    def __init__(self, *args: Any, currency: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name in ("delivery_minor", "free_from_minor", "minimum_minor"):
            self.fields[name].currency = currency  # type: ignore[attr-defined]

    def clean_delivery_minor(self) -> int:
        """What delivery costs; nothing where nothing was typed."""
        return self.cleaned_data["delivery_minor"] or 0

    def clean_minimum_minor(self) -> int:
        """The least order; none where nothing was typed."""
        return self.cleaned_data["minimum_minor"] or 0

    def clean_name(self) -> str:
        """A name no other supplier has, however it is capitalised."""
        name: str = self.cleaned_data["name"]
        if Supplier.objects.exclude(pk=self.instance.pk).filter(name__iexact=name).exists():
            raise ValidationError(f"Name must be new; there is a supplier {shown(name)} already.")
        return name

    def clean_email(self) -> str:
        """An address, or nothing."""
        email: str = self.cleaned_data["email"]
        try:
            return forms.EmailField(required=False).clean(email)
        except ValidationError as error:
            raise refusal("E-mail", "an address such as hello@example.com", email) from error


class OfferForm(forms.Form):
    """What one supplier asks for a pack: pack size, price, lead days; and what the supplier calls it."""

    pack_size = WholeNumber(label="In a pack", least=1, most=MOST_IN_A_PACK, help_text="How many one pack holds.")
    price = Price(label="Price of a pack")
    lead_days = WholeNumber(label="Lead days", most=MOST_LEAD_DAYS, help_text="From placing an order to having it.")
    their_name = Words(
        label="What they call it", most=80, required=False, help_text="It goes on the order beside your own name."
    )
    their_code = Words(label="Their order code", most=40, required=False)

    def __init__(self, *args: Any, currency: str, supplier: Supplier, offer: Offer | None = None, **kwargs: Any):
        super().__init__(*args, **kwargs)
        self.fields["price"].currency = currency  # type: ignore[attr-defined]
        self.fields["price"].help_text = f"In {currency}."
        self.supplier, self.offer = supplier, offer
        if offer is not None:
            self.initial.update(
                pack_size=offer.pack_size,
                price=offer.price_minor,
                lead_days=offer.lead_days,
                their_name=offer.their_name,
                their_code=offer.their_code,
            )

    def clean(self) -> dict[str, Any]:
        """Refuse a second price for the same pack of the same item."""
        cleaned = super().clean() or self.cleaned_data
        item = self.item()
        if self.errors or item is None:
            return cleaned
        pack_size: int = cleaned["pack_size"]
        same = self.supplier.offers.filter(item=item, pack_size=pack_size)
        if any(offer != self.offer for offer in same):
            told = f"{self.supplier.name[:40]} has an offer of {item.label} in packs of {pack_size:,} already"
            self.add_error("pack_size", f"In a pack: {told}. Change that one.")
        return cleaned

    def item(self) -> Item | None:
        """What is offered, where the shelf lists it."""
        return self.offer.item if self.offer else None


class NewOfferForm(OfferForm, WhichItem):
    """An offer of something: an item of the shelf, or one to be listed there with it."""

    item_listed = forms.ModelChoiceField(
        queryset=Item.objects.none(),
        label="Line, ties, hooks",
        required=False,
        empty_label="A balloon, or something new",
    )
    field_order = (
        "colour",
        "size",
        "item_listed",
        "sort",
        "name",
        "unit",
        "pack_size",
        "price",
        "lead_days",
        "their_name",
        "their_code",
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        others = Item.objects.exclude(sort=Item.Sort.LATEX).order_by("sort", "name", "pk")
        self.fields["item_listed"].queryset = others  # type: ignore[attr-defined]
        label = self.fields["item_listed"].label
        self.fields["item_listed"].error_messages["invalid_choice"] = f"{label} must be something on the shelf."

    @property
    def is_answered_elsewhere(self) -> bool:
        """Whether the item was chosen from the list."""
        return self.cleaned_data.get("item_listed") is not None

    def clean(self) -> dict[str, Any]:
        """Also refuse an item chosen from the list and described beside it."""
        cleaned = super().clean()
        described = any(cleaned.get(key) for key in ("colour", "size", "sort", "name"))
        if self.is_answered_elsewhere and described:
            self.add_error("item_listed", "Choose from this list or describe another item, not both.")
        return cleaned

    def item(self) -> Item | None:
        """What is offered, where the shelf lists it; None before the form is sound or for something new."""
        if self.is_answered_elsewhere:
            return self.cleaned_data["item_listed"]
        sound = all(key in self.cleaned_data for key in ("colour", "size", "sort", "name"))
        return self.listed() if sound and not self.errors else None


class PlannedLineForm(forms.Form):
    """How many packs of one line of a planned order; none takes the line away."""

    packs = WholeNumber(label="Packs", most=MOST_PACKS)


class AddToOrderForm(forms.Form):
    """Packs of one offer, for the order being planned with its supplier."""

    offer = forms.ModelChoiceField(
        queryset=Offer.objects.select_related("supplier", "item__colour"),
        label="Offer",
        error_messages={
            "required": "Offer is needed; none was chosen.",
            "invalid_choice": "Offer must be one of a supplier's; what was sent is not, or is no longer.",
        },
    )
    packs = WholeNumber(label="Packs", least=1, most=MOST_PACKS)


class PlaceForm(forms.Form):
    """That an order was placed, and when it should come."""

    expected_on = Day(label="Expected on")

    def __init__(self, *args: Any, not_before: dt.date, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.not_before = not_before

    def clean_expected_on(self) -> dt.date:
        """A day no earlier than the order itself, and within reason."""
        day: dt.date = self.cleaned_data["expected_on"]
        if day < self.not_before:
            raise ValidationError(f"Expected on must be {self.not_before} or later; {shown(day)} is before it.")
        if day > self.not_before + dt.timedelta(days=730):
            raise ValidationError(f"Expected on must be within two years; {shown(day)} is not.")
        return day


class ReceiveForm(forms.Form):
    """What came of an order: one count a line, filled in with what is still to come, and until when it is good.

    Each line also carries how many had come when the form was shown, so that two people do not put the same away.
    """

    def __init__(self, *args: Any, lines: Iterable[OrderLine], today: dt.date, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.lines = [line for line in lines if line.outstanding or f"line_{line.pk}" in self.data]
        for line in self.lines:
            name = line.item.label
            self.fields[f"line_{line.pk}"] = WholeNumber(label=name, initial=line.outstanding, required=False)
            day = BestBefore(label=f"Best before of {name}", required=False)
            day.today = today
            self.fields[f"best_before_{line.pk}"] = day
            hidden = forms.IntegerField(initial=line.received, required=False, widget=forms.HiddenInput())
            self.fields[f"seen_{line.pk}"] = hidden

    @property
    def quantities(self) -> dict[int, int]:
        """How many came, by line; lines of which nothing came are left out."""
        came = {line.pk: self.cleaned_data[f"line_{line.pk}"] for line in self.lines}
        return {pk: quantity for pk, quantity in came.items() if quantity}

    @property
    def best_before(self) -> dict[int, dt.date | None]:
        """The last good day of each line, where it was typed."""
        return {line.pk: self.cleaned_data[f"best_before_{line.pk}"] for line in self.lines}

    @property
    def seen(self) -> dict[int, int]:
        """How many of each line that came now had come when the form was shown."""
        had = {pk: self.cleaned_data[f"seen_{pk}"] for pk in self.quantities}
        return {pk: quantity for pk, quantity in had.items() if quantity is not None}

    def clean(self) -> dict[str, Any]:
        """Refuse a delivery of nothing."""
        if not self.errors and not self.quantities:
            self.add_error(None, "Nothing was received yet: type how many came of at least one line.")
        return self.cleaned_data

    def rows(self) -> list[tuple[OrderLine, forms.BoundField, forms.BoundField, forms.BoundField]]:
        """Each line still open, with its fields: how many, until when it is good, and the hidden one."""
        names = ("line", "best_before", "seen")
        return [(line, *(self[f"{name}_{line.pk}"] for name in names)) for line in self.lines]  # type: ignore[misc]
