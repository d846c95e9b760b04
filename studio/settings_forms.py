"""What is typed on the settings pages."""

from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from bookings.accent import why_unreadable
from bookings.models import Quote
from stock.colour import parse_swatch
from studio.door_forms import NewPasswordFields, UserNameField
from studio.form_fields import (
    CurrencyField,
    TimeZoneField,
    WholeNumberField,
    name_what_is_missing,
)
from studio.models import Studio, User


class StudioForm(forms.ModelForm):
    """Who the studio is, and how it counts and measures."""

    currency = CurrencyField(label="Currency", help_text="Three letters, such as USD. Fixed once a quote has gone out.")
    time_zone = TimeZoneField(label="Time zone", help_text="A town will do: Lisbon, New York, Auckland.")
    quote_days = WholeNumberField(
        label="Days a quote stays open",
        least=1,
        most=365,
        help_text="After that the client is asked to write to you.",
    )

    class Meta:
        model = Studio
        fields = [
            "name",
            "email",
            "phone",
            "address",
            "currency",
            "measures",
            "time_zone",
            "quote_days",
            "accent",
            "terms",
        ]
        labels = {"name": "Name of the studio", "measures": "Lengths in", "accent": "Colour of your own"}
        help_texts = {
            "name": "As clients read it on a quote.",
            "email": "Where a client writes to; printed on quotes, as are telephone and address.",
            "accent": "On the pages and papers clients see. A # and six of 0-9 and a-f; leave it empty for plum.",
        }
        widgets = {
            "accent": forms.TextInput(attrs={"autocomplete": "off", "placeholder": "#5b2a63", "spellcheck": "false"}),
            "measures": forms.RadioSelect,
            "terms": forms.Textarea(attrs={"rows": 6}),
        }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        name_what_is_missing(self.fields)

    def clean_accent(self) -> str:
        """A colour that can be read on every surface it stands on."""
        typed: str = self.cleaned_data["accent"].strip()
        if not typed:
            return ""
        rule = why_unreadable(typed)
        if rule:
            raise ValidationError(f"Colour of your own must {rule} (got “{typed}”).")
        return parse_swatch(typed)

    def clean_currency(self) -> str:
        """Amounts already promised to a client keep their meaning."""
        currency: str = self.cleaned_data["currency"]
        kept = self.initial["currency"]
        if currency != kept and Quote.objects.exists():
            raise ValidationError(
                f"Currency stays {kept}: quotes have gone out in it, and their amounts would read as {currency}."
            )
        return currency


class PersonForm(forms.Form):
    """What somebody is called and what they may see."""

    name = forms.CharField(label="Name", max_length=150, help_text="What you call them.")
    role = forms.ChoiceField(
        label="Role",
        choices=User.Role.choices,
        initial=User.Role.CREW,
        widget=forms.RadioSelect,
        help_text="Owners see prices and change settings. Crew see what to make and bring, never a price.",
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        name_what_is_missing(self.fields)


class NewPersonForm(PersonForm, NewPasswordFields):
    """Somebody new: also how they sign in, with a first password to hand over."""

    username = UserNameField()
    field_order = ["name", "role", "username", "password", "password_again"]


class PasswordForm(NewPasswordFields):
    """A new password for somebody who exists."""

    def __init__(self, data: Any = None, *, person: User) -> None:
        super().__init__(data)
        self.person = person
        self.fields["password"].label = "New password"
        self.fields["password_again"].label = "The new password again"
        name_what_is_missing(self.fields)

    def whose(self) -> User:
        """The password must not resemble this person's name."""
        return self.person


class OwnPasswordForm(PasswordForm):
    """A new password of one's own: the old one proves who asks."""

    old_password = forms.CharField(
        label="Password until now",
        strip=False,
        max_length=200,
        widget=forms.PasswordInput(attrs={"autocomplete": "current-password"}),
    )
    field_order = ["old_password", "password", "password_again"]

    def clean_old_password(self) -> str:
        """It must be the one they sign in with."""
        old: str = self.cleaned_data["old_password"]
        if not self.person.check_password(old):
            raise ValidationError("This is not the password you sign in with. Type it again.")
        return old
