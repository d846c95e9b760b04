"""What people type about a client, checked."""

from collections.abc import Sequence
from datetime import date
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from bookings.actions.clients import KEPT_APART, says_the_same
from bookings.forms.jobs import OfSomebody
from bookings.forms.money import DayField
from bookings.models import Client, ConsentEntry
from bookings.queries.clients import Known
from studio.form_fields import name_what_is_missing

SOMEBODY_NEW = "new"


class ClientForm(OfSomebody):
    """Who a client is, and what to know before working for them."""

    class Meta:
        model = Client
        fields = ("name", "phone", "email", "latex_allergy", "allergies", "found_us", "notes")
        labels = {
            "email": "E-mail",
            "latex_allergy": "Allergic to latex",
            "allergies": "Other allergies",
            "found_us": "How they found you",
        }
        help_texts = {
            "latex_allergy": "Theirs, or of somebody who will be there. Said on every job of theirs.",
            "allergies": "Everybody on the job sees these: write only what keeps people safe.",
            "notes": "Only owners read these.",
        }
        widgets = {
            "name": forms.TextInput(attrs={"autocomplete": "off", "autocapitalize": "words"}),
            "phone": forms.TextInput(attrs={"type": "tel", "inputmode": "tel", "autocomplete": "off"}),
            "email": forms.EmailInput(attrs={"autocomplete": "off", "inputmode": "email"}),
            "allergies": forms.TextInput(attrs={"autocomplete": "off"}),
            "found_us": forms.TextInput(attrs={"autocomplete": "off", "placeholder": "a friend, a fair, our page"}),
            "notes": forms.Textarea(attrs={"rows": 5}),
        }

    @property
    def given(self) -> dict[str, Any]:
        """The fields of the client."""
        return {field: self.cleaned_data[field] for field in self.Meta.fields}

    def _post_clean(self) -> None:
        # The instance is the action's to change.
        return


class WhoForm(forms.Form):
    """Whether somebody who is reached by what was typed is who asks. Without anybody there is nothing to answer."""

    # Whoever is asked has to answer; who is not has nothing to.
    says_what_is_optional = True

    who = forms.ChoiceField(label="Do you know them already?", widget=forms.RadioSelect, required=False)

    def __init__(self, data: Any = None, *, known: Sequence[Known]) -> None:
        super().__init__(data)
        self.known = known
        choices = [(str(one.client.pk), f"This is {one.words}") for one in known]
        field = self.fields["who"]
        assert isinstance(field, forms.ChoiceField)
        field.choices = [*choices, (SOMEBODY_NEW, "This is somebody else")]

    def clean_who(self) -> int | None:
        """The client who was chosen; None for somebody new. Nobody is taken for somebody else without being asked."""
        said: str = self.cleaned_data["who"]
        if not self.known:
            return None
        if not said:
            names = ", ".join(one.client.shown_name for one in self.known)
            raise ValidationError(f"That number or address is of {names}: say whether it is them.")
        return None if said == SOMEBODY_NEW else int(said)


class ConsentForm(forms.Form):
    """A yes, or a yes taken back: to what, how it came, on which day."""

    what = forms.ChoiceField(label="To what", choices=ConsentEntry.What.choices, widget=forms.RadioSelect)
    is_given = forms.ChoiceField(
        label="They", choices=[("yes", "agree"), ("no", "do not, or not any more")], widget=forms.RadioSelect
    )
    how = forms.ChoiceField(label="How", choices=ConsentEntry.How.choices, widget=forms.RadioSelect)
    on = DayField(label="Day")

    def __init__(self, data: Any = None, *, today: date) -> None:
        super().__init__(data, initial={"on": today, "how": ConsentEntry.How.SAID})
        day = self.fields["on"]
        assert isinstance(day, DayField)
        day.today = today
        name_what_is_missing(self.fields)

    def clean_is_given(self) -> bool:
        """Whether they agree."""
        return bool(self.cleaned_data["is_given"] == "yes")


class MergeForm(forms.Form):
    """Of two clients who are one: which value is kept where they differ. `seen` is what the page showed."""

    seen = forms.CharField(max_length=64, widget=forms.HiddenInput)

    def __init__(self, data: Any = None, *, kept: Client, gone: Client, seen: str) -> None:
        super().__init__(data, initial={"seen": seen})
        for name in KEPT_APART:
            mine, theirs = getattr(kept, name), getattr(gone, name)
            if mine and theirs and not says_the_same(kept, gone, name):
                self.fields[name] = forms.ChoiceField(
                    label=ClientForm.Meta.labels.get(name, name.capitalize()),
                    choices=[("kept", mine), ("gone", theirs)],
                    initial="kept",
                    widget=forms.RadioSelect,
                )
        name_what_is_missing(self.fields)

    @property
    def taken(self) -> frozenset[str]:
        """The fields whose value is the one that is gone’s."""
        return frozenset(name for name in KEPT_APART if self.cleaned_data.get(name) == "gone")


class EraseForm(forms.Form):
    """The second step of erasing: what is about to go was read."""

    sure = forms.BooleanField(
        label="I have read what goes. It cannot be brought back.",
        error_messages={"required": "Tick that you have read what goes: it cannot be brought back."},
    )
