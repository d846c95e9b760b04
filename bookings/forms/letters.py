"""What is typed into letters and questions, checked."""

from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from bookings.letters import PURPOSES, Purpose, in_braces, missing_fields, refused_fields
from studio.form_fields import WholeNumberField, name_what_is_missing
from studio.outbox.addresses import AddressRefused, check_address
from studio.outbox.message import MOST_IN_SUBJECT


class AddressField(forms.CharField):
    """The one address a letter goes to, kept as it was typed; how servers read it is worked out when it is sent."""

    widget = forms.EmailInput(attrs={"inputmode": "email", "autocomplete": "off"})

    def clean(self, value: Any) -> str:
        """The address, or one sentence with the rule and what was typed."""
        typed = str(super().clean(value))
        try:
            check_address(typed)
        except AddressRefused as refusal:
            raise ValidationError(str(refusal)) from refusal
        return typed


class LetterForm(forms.Form):
    """A letter looked over before it goes. {link} stays a field: the link is put in its place when it is sent."""

    to = AddressField(label="E-mail", max_length=254)
    subject = forms.CharField(label="Subject", max_length=MOST_IN_SUBJECT)
    text = forms.CharField(label="Letter", max_length=6000, widget=forms.Textarea(attrs={"rows": 14}))

    def __init__(self, *args: Any, purpose: Purpose, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.purpose = purpose
        if "link" in purpose.fields:
            self.fields["text"].help_text = f"{{link}} becomes the button “{purpose.button}”."
        name_what_is_missing(self.fields)

    def clean_text(self) -> str:
        """A letter that is about a page leads there."""
        text: str = self.cleaned_data["text"]
        if "link" in self.purpose.needs and "{link}" not in text:
            raise ValidationError("Letter must hold {link}: without it the client cannot open their page.")
        return text


class WordsForm(forms.Form):
    """A kind of letter in the studio's own words."""

    subject = forms.CharField(label="Subject", max_length=120)
    text = forms.CharField(label="Letter", max_length=4000, widget=forms.Textarea(attrs={"rows": 14}))

    def __init__(self, *args: Any, purpose: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.purpose = PURPOSES[purpose]
        name_what_is_missing(self.fields)

    def clean_subject(self) -> str:
        """Known fields alone, and none that is no line of words."""
        subject = self._known("subject")
        for name in ("link", "question", "answer", "pay_to"):
            if f"{{{name}}}" in subject:
                raise ValidationError(f"Subject must be one line of words, without {{{name}}}.")
        return subject

    def clean_text(self) -> str:
        """Known fields alone, and those the letter is of no use without."""
        text = self._known("text")
        missing = missing_fields(text, self.purpose)
        if missing:
            raise ValidationError(f"Letter must hold {in_braces(missing)}: it is of no use without.")
        return text

    def _known(self, field: str) -> str:
        typed: str = self.cleaned_data[field]
        wrong = refused_fields(typed, self.purpose)
        if wrong:
            raise ValidationError(
                f"{self.fields[field].label} may hold {in_braces(self.purpose.fields)} (got {in_braces(wrong)[:80]})."
            )
        return typed


class RulesForm(forms.Form):
    """Which letters go by themselves."""

    sends_receipts = forms.BooleanField(
        label="Write to the client when they accept", required=False, help_text="What they agreed to, and its link."
    )
    tells_us = forms.BooleanField(
        label="Write to us when a client accepts or asks", required=False, help_text="To the studio’s own address."
    )
    remind_days = WholeNumberField(
        label="Remind of a quote this many days before it runs out",
        least=1,
        most=30,
        required=False,
        help_text="Once, by day, and only of quotes you mailed. Empty: only when you send it.",
    )


class AskForm(forms.Form):
    """What a client asks."""

    text = forms.CharField(
        label="Your question",
        max_length=1000,
        widget=forms.Textarea(attrs={"rows": 3, "autocapitalize": "sentences"}),
        error_messages={
            "required": "Type what you would like to know.",
            "max_length": "Your question must be at most %(limit_value)d characters (got %(show_value)d).",
        },
    )


class AnswerForm(forms.Form):
    """The studio's answer."""

    text = forms.CharField(
        label="Answer",
        max_length=2000,
        widget=forms.Textarea(attrs={"rows": 5, "autocapitalize": "sentences"}),
        error_messages={
            "required": "Type the answer first.",
            "max_length": "Answer must be at most %(limit_value)d characters (got %(show_value)d).",
        },
    )
