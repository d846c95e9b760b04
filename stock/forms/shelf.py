"""What is typed about colours, items and the ledger."""

import datetime as dt
from collections.abc import Sequence
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from stock.actions import usual_unit
from stock.colour import ColourError, parse_swatch
from stock.forms.fields import BestBefore, WholeNumber, Words, shown
from stock.lots import MOST_MONTHS, LotLeft
from stock.models import NOMINAL_SIZES, Colour, Item, Movement
from studio.form_fields import refusal


def chosen_swatch(form: forms.BaseForm) -> None:
    """Out of the two ways to give a swatch, a field `swatch` and a code that is `typed`, the one that counts."""
    cleaned = form.cleaned_data
    source = "typed" if cleaned.get("typed") else "swatch"
    try:
        cleaned["swatch"] = parse_swatch(cleaned.get(source, "")) if source in cleaned else ""
    except ColourError as error:
        rule = "a # and six of 0-9 and a-f, such as #1b1b1f"
        form.add_error(source, refusal(form.fields[source].label, rule, error.value))


class ColourForm(forms.ModelForm):
    """A colour: its name, its swatch picked or typed, its finish."""

    name = Words(label="Name", most=40)
    swatch = forms.CharField(label="Swatch", widget=forms.TextInput(attrs={"type": "color"}))
    typed = forms.CharField(
        label="Or its code",
        required=False,
        help_text="Such as #1b1b1f. If you type one, it is used instead of the swatch.",
        widget=forms.TextInput(attrs={"autocomplete": "off", "spellcheck": "false"}),
    )
    form = forms.ChoiceField(
        label="Shape", choices=Colour.Form.choices, required=False, help_text="Hearts and stars are foil."
    )
    position = WholeNumber(
        label="Place in the list", most=9999, required=False, help_text="Lower comes first. Equal ones go by name."
    )

    class Meta:
        model = Colour
        fields = ("name", "swatch", "finish", "form", "position", "in_use")
        labels = {"finish": "Finish", "in_use": "In use: offered when a piece is designed"}

    field_order = ("name", "swatch", "typed", "finish", "form", "position", "in_use")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        finishes = ", ".join(Colour.Finish.values)
        self.fields["finish"].error_messages["invalid_choice"] = f"Finish must be one of {finishes}."
        forms_known = ", ".join(Colour.Form.values)
        self.fields["form"].error_messages["invalid_choice"] = f"Shape must be one of {forms_known}."
        if self.instance.pk is None:
            self.initial.setdefault("swatch", "#5b2a63")

    def clean_position(self) -> int:
        """The place in the list; nothing typed means first."""
        return self.cleaned_data["position"] or 0

    def clean_form(self) -> str:
        """The shape; nothing chosen means round."""
        return self.cleaned_data["form"] or Colour.Form.ROUND

    def clean(self) -> dict[str, Any]:
        """One swatch out of the two ways to give it, and a name nobody else has in this finish and shape."""
        cleaned = self.cleaned_data
        chosen_swatch(self)
        name, finish = cleaned.get("name"), cleaned.get("finish")
        form = cleaned.get("form", Colour.Form.ROUND)
        if form != Colour.Form.ROUND and finish and finish != Colour.Finish.FOIL:
            self.add_error("form", f"Shape must be round for a finish other than foil (got {form} in {finish}).")
        others = Colour.objects.exclude(pk=self.instance.pk).filter(name__iexact=name or "", finish=finish, form=form)
        if name and finish and others.exists():
            self.add_error("name", f"Name must be new for its finish; there is a {finish} {shown(name)} already.")
        return cleaned

    def validate_constraints(self) -> None:
        """`clean` has said it in a sentence on the field already."""


class ItemForm(forms.ModelForm):
    """How an item is kept: where it lies and how many are always held back."""

    keep_back = WholeNumber(
        label="Keep back", required=False, help_text="Below this many it counts as running short, whatever is booked."
    )
    place = Words(label="Place on the shelf", most=40, required=False, help_text="Such as “Rack 2, blue box”.")

    best_before_months = WholeNumber(
        label="Good for so many months",
        most=MOST_MONTHS,
        required=False,
        help_text="From the day it came. Empty: as the studio’s rule for latex says. 0: it keeps.",
    )
    barcode = Words(label="Barcode", most=48, required=False, help_text="The figures under the bars.")

    class Meta:
        model = Item
        fields = ("keep_back", "place", "best_before_months", "barcode")

    def clean_barcode(self) -> str:
        """A code no other item has."""
        code: str = self.cleaned_data["barcode"]
        other = Item.objects.with_colour().exclude(pk=self.instance.pk).filter(barcode=code).first() if code else None
        if other is not None:
            raise ValidationError(f"Barcode must be its own; {shown(code)} is {other.label}’s.")
        return code

    def clean_keep_back(self) -> int:
        """How many are held back; nothing typed means none."""
        return self.cleaned_data["keep_back"] or 0

    def validate_constraints(self) -> None:
        """What these fields can break is checked above; the rest of the item is not being changed."""


class WhichItem(forms.Form):
    """What an item is: a colour and a size, or a thing with a name. Exactly one of the two."""

    colour = forms.ModelChoiceField(
        queryset=Colour.objects.none(), label="Balloon colour", required=False, empty_label="No balloon"
    )
    size = forms.TypedChoiceField(
        label="Nominal size",
        coerce=int,
        required=False,
        empty_value=None,
        choices=[("", "Choose a size"), *((size, f"{size}-inch") for size in NOMINAL_SIZES)],
    )
    sort = forms.ChoiceField(
        label="What it is",
        required=False,
        choices=[("", "A balloon"), *((value, words) for value, words in Item.Sort.choices if value != "latex")],
    )
    name = Words(label="Its name", most=60, required=False, help_text="Such as “Fishing line, 100 lb”.")
    unit = Words(label="Counted in", most=12, required=False, help_text="each, ft, m … Empty: what is usual for it.")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        colours = Colour.objects.order_by("position", "name", "finish", "pk")
        self.fields["colour"].queryset = colours  # type: ignore[attr-defined]
        chosen = (("colour", "a colour of yours"), ("size", "one of the sizes"), ("sort", "one of the kinds listed"))
        for field, rule in chosen:
            label = self.fields[field].label
            self.fields[field].error_messages["invalid_choice"] = f"{label} must be {rule}; what was sent is not."

    def clean(self) -> dict[str, Any]:
        """Refuse half a balloon, half a thing, both, and neither."""
        cleaned = self.cleaned_data
        if self.errors or self.is_answered_elsewhere:
            return cleaned
        colour, size, sort, name = (cleaned.get(key) for key in ("colour", "size", "sort", "name"))
        balloon, other = colour is not None or size is not None, bool(sort or name)
        if balloon and other:
            self.add_error("sort", "Choose a balloon or something else, not both.")
        elif other and not name:
            self.add_error("name", "Its name is needed for anything that is no balloon; nothing was typed.")
        elif other and not sort:
            self.add_error("sort", f"Say what {shown(name)} is: {_one_of(self.fields['sort'])}.")
        elif colour is None and not other:
            self.add_error("colour", "Balloon colour is needed, or something else with a name; neither was given.")
        elif size is None and not other:
            self.add_error("size", f"Nominal size is needed for {shown(colour)}; none was chosen.")
        return cleaned

    @property
    def is_answered_elsewhere(self) -> bool:
        """Whether another field says which item is meant already."""
        return False

    @property
    def opens_something_else(self) -> bool:
        """Whether the part of the form for what is no balloon has something in it."""
        return any(self[name].value() for name in ("sort", "name", "unit", "item_listed") if name in self.fields)

    def balloon_fields(self) -> list[forms.BoundField]:
        """The two fields that name a balloon: each needs the other, so neither is called optional."""
        return [self["colour"], self["size"]]

    def listed(self) -> Item | None:
        """The item meant, where the shelf lists it already."""
        cleaned = self.cleaned_data
        if cleaned["colour"] is not None:
            return Item.objects.filter(sort=Item.Sort.LATEX, colour=cleaned["colour"], size=cleaned["size"]).first()
        return Item.objects.filter(sort=cleaned["sort"], name__iexact=cleaned["name"]).first()

    def unlisted(self) -> Item:
        """The item meant, not saved yet."""
        cleaned = self.cleaned_data
        if cleaned["colour"] is not None:
            return Item(sort=Item.Sort.LATEX, colour=cleaned["colour"], size=cleaned["size"])
        return Item(sort=cleaned["sort"], name=cleaned["name"], unit=cleaned.get("unit") or usual_unit(cleaned["sort"]))


class NewItemForm(WhichItem):
    """A thing to list on the shelf, and how many there are now."""

    count = WholeNumber(label="On the shelf now", required=False, help_text="Count them; leave empty for none.")
    keep_back = ItemForm.base_fields["keep_back"]
    place = ItemForm.base_fields["place"]

    def clean(self) -> dict[str, Any]:
        """Also refuse what is listed already."""
        cleaned = super().clean()
        if not self.errors and (listed := self.listed()):
            self.add_error("size" if listed.colour_id else "name", f"{listed.label} is on the shelf already.")
        return cleaned


class MoveForm(forms.Form):
    """One line for the ledger: what happened, how many, and why."""

    kind = forms.ChoiceField(choices=Movement.Kind.choices)
    quantity = WholeNumber(label="How many", least=1)
    why = Words(label="Why", most=200, required=False)
    best_before = BestBefore(label="Best before", required=False, help_text="Empty: the usual one.")
    lot = forms.TypedChoiceField(label="Out of", required=False, coerce=int, empty_value=None)

    def __init__(self, *args: Any, kind: str, today: dt.date, lots: Sequence[LotLeft] = (), **kwargs: Any) -> None:
        kwargs.setdefault("auto_id", f"id_{kind}_%s")
        super().__init__(*args, **kwargs)
        self.fields["kind"].widget = forms.HiddenInput()
        self.fields["kind"].error_messages["invalid_choice"] = (
            "What happened must be one of: received, used, counted, written off."
        )
        self.initial["kind"] = kind
        label = Movement.Kind(kind).label.capitalize()
        self.fields["quantity"].label = label
        self.fields["best_before"].today = today  # type: ignore[attr-defined]
        named = [(lot.key, _lot_words(lot)) for lot in lots if lot.key is not None]
        self.fields["lot"].choices = [("", "The soonest to expire first"), *named]  # type: ignore[attr-defined]
        self.fields["lot"].error_messages["invalid_choice"] = "Out of must be one of the lots; what was sent is not."
        if kind != Movement.Kind.RECEIVED:
            del self.fields["best_before"]
        if kind not in (Movement.Kind.USED, Movement.Kind.WRITTEN_OFF) or not named:
            del self.fields["lot"]
        if kind == Movement.Kind.COUNTED:
            self.fields["quantity"] = WholeNumber(label=label, help_text="All of them, as they lie there now.")
        if kind == Movement.Kind.WRITTEN_OFF:
            self.fields["why"].required = True
            self.fields["why"].help_text = "Popped, faded, lost …"


def _one_of(field: forms.Field) -> str:
    """The choices of a field in a sentence."""
    *most, last = [str(words) for value, words in field.choices if value]  # type: ignore[attr-defined]
    return f"{', '.join(most)} or {last}"


def _lot_words(lot: LotLeft) -> str:
    came = f"came {lot.received_on:%Y-%m-%d}" if lot.received_on else "of no lot"
    good = f", best before {lot.best_before:%Y-%m-%d}" if lot.best_before else ""
    return f"{lot.left:,} {came}{good}"
