"""What is typed at the doors: a name and a password, and the first answers about a studio."""

from typing import Any

from django import forms
from django.contrib.auth.forms import AuthenticationForm
from django.contrib.auth.password_validation import validate_password
from django.contrib.auth.validators import UnicodeUsernameValidator
from django.core.exceptions import ValidationError

from studio.form_fields import CurrencyField, TimeZoneField, name_what_is_missing
from studio.models import Studio, User
from studio.setting_up import Beginning

PASSWORD_HELP = "At least 12 characters. Three or four words nobody would guess are easy to remember."


class SignInForm(AuthenticationForm):
    """A user name and a password that belong together."""

    error_messages = {
        "invalid_login": "User name and password do not match an open account. Both are case-sensitive.",
        "inactive": "User name and password do not match an open account. Both are case-sensitive.",
    }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["username"].label = "User name"
        self.fields["username"].widget.attrs |= {"autocapitalize": "none", "spellcheck": "false"}
        self.fields["username"].error_messages["required"] = "Type your user name."
        self.fields["password"].error_messages["required"] = "Type your password."


class NewPasswordFields(forms.Form):
    """A password typed twice, checked against the rules for passwords."""

    password = forms.CharField(
        label="Password",
        strip=False,
        help_text=PASSWORD_HELP,
        max_length=200,
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
    )
    password_again = forms.CharField(
        label="The same password again",
        strip=False,
        max_length=200,
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        name_what_is_missing(self.fields)

    def whose(self) -> User:
        """The person the password must not resemble."""
        data = self.cleaned_data
        return User(username=data.get("username", ""), first_name=data.get("name", ""))

    def clean(self) -> dict[str, Any]:
        """Both must be the same, and good enough."""
        data = super().clean() or self.cleaned_data
        first, again = data.get("password"), data.get("password_again")
        if first and again and first != again:
            self.add_error("password_again", "The two passwords are not the same. Type both again.")
        elif first:
            try:
                validate_password(first, self.whose())
            except ValidationError as error:
                self.add_error("password", error)
        return data


class UserNameField(forms.CharField):
    """What somebody signs in as."""

    def __init__(self, **kwargs: Any) -> None:
        attrs = {"autocapitalize": "none", "spellcheck": "false", "autocomplete": "username"}
        kwargs.setdefault("help_text", "Letters, digits and @ . + - _ only.")
        super().__init__(
            label="User name",
            max_length=150,
            validators=[UnicodeUsernameValidator(message="User name may hold letters, digits and @ . + - _ only.")],
            widget=forms.TextInput(attrs=attrs),
            **kwargs,
        )


class WelcomeForm(NewPasswordFields):
    """Everything the first five minutes need, on one page."""

    studio_name = forms.CharField(
        label="Name of the studio", max_length=120, help_text="As clients read it on a quote."
    )
    currency = CurrencyField(label="Currency", initial="USD", help_text="Three letters, such as USD, EUR or GBP.")
    measures = forms.ChoiceField(
        label="Lengths in", choices=Studio.Measures.choices, initial=Studio.Measures.IMPERIAL, widget=forms.RadioSelect
    )
    time_zone = TimeZoneField(label="Time zone", help_text="A town will do: Lisbon, New York, Auckland.")
    name = forms.CharField(
        label="Your name", max_length=150, widget=forms.TextInput(attrs={"autocomplete": "given-name"})
    )
    username = UserNameField()
    with_colours = forms.BooleanField(
        label="Start with twelve everyday colours",
        required=False,
        initial=True,
        help_text="Each in the usual sizes, none on the shelf yet. You can change or retire any of them.",
    )
    field_order = [
        "studio_name",
        "currency",
        "measures",
        "time_zone",
        "with_colours",
        "name",
        "username",
        "password",
        "password_again",
    ]

    def beginning(self) -> Beginning:
        """The answers; call once the form is valid."""
        data = self.cleaned_data
        return Beginning(**{name: data[name] for name in self.fields if name != "password_again"})
