"""What is typed about double-stuffed balloons."""

from typing import Any

from django import forms
from django.db.models import Q

from stock.forms.shelf import chosen_swatch
from stock.models import Colour, DoubleRecipe


class DoubleForm(forms.ModelForm):
    """One balloon over another: which two, which colour they look like, and how they really look."""

    swatch = forms.CharField(
        label="How it looks",
        widget=forms.TextInput(attrs={"type": "color"}),
        help_text="Blow one up and take its colour from a photo.",
    )
    typed = forms.CharField(
        label="Or its code",
        required=False,
        help_text="Such as #1b1b1f. If you type one, it is used instead of the swatch.",
        widget=forms.TextInput(attrs={"autocomplete": "off", "spellcheck": "false"}),
    )

    class Meta:
        model = DoubleRecipe
        fields = ("outer", "inner", "looks_like", "swatch")
        labels = {"outer": "Outside", "inner": "Inside", "looks_like": "Stands in for"}

    field_order = ("outer", "inner", "looks_like", "swatch", "typed")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        named = [self.instance.outer_id, self.instance.inner_id, self.instance.looks_like_id]
        # One foil balloon does not go into another.
        latex = Colour.objects.exclude(finish=Colour.Finish.FOIL).filter(Q(in_use=True) | Q(pk__in=named))
        colours = latex.order_by("position", "name", "pk")
        # Read once for the three of them.
        choices = [("", "Choose a colour"), *((colour.pk, str(colour)) for colour in colours)]
        for name in ("outer", "inner", "looks_like"):
            field = self.fields[name]
            field.queryset = colours  # type: ignore[attr-defined]
            field.choices = choices  # type: ignore[attr-defined]
            field.error_messages |= {
                "required": f"{field.label} is needed; nothing was chosen.",
                "invalid_choice": f"{field.label} must be one of your latex colours.",
            }
        if self.instance.pk is None:
            self.initial.setdefault("swatch", "#b7a6b9")

    def clean(self) -> dict[str, Any]:
        """Three colours that differ, one swatch out of the two ways to give it, and a recipe not written down yet."""
        cleaned = super().clean() or self.cleaned_data
        chosen_swatch(self)
        outer, inner, like = (cleaned.get(name) for name in ("outer", "inner", "looks_like"))
        if outer and outer == inner:
            self.add_error("inner", f"Inside must be another colour than outside (got {inner} for both).")
        elif like and like in (outer, inner):
            self.add_error("looks_like", f"Stands in for must be a third colour (got {like}, which is part of it).")
        elif outer and inner and like:
            same = DoubleRecipe.objects.filter(outer=outer, inner=inner, looks_like=like)
            if same.exclude(pk=self.instance.pk).exists():
                self.add_error("looks_like", f"{outer} over {inner} stands in for {like} already: change that one.")
        return cleaned

    def validate_constraints(self) -> None:
        """`clean` has said it in a sentence on the field already."""
