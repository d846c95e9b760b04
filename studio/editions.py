"""What a row said when somebody opened its form, so that saving can tell whether it still does."""

import hashlib
from collections.abc import Callable
from typing import Any

from django.core.exceptions import ValidationError
from django.forms import BaseForm, BoundField, CheckboxInput
from django.http import HttpRequest

from studio.models import Studio

FIELD = "seen"
"""What a form calls it."""
_MOST_SAID = 200


class StaleForm(Exception):
    """Somebody else changed this since the form was opened, or nobody can say when it was: it came without its edition.

    `opened` is the edition it came with, "" for none.
    """

    def __init__(self, what: str, *, opened: str) -> None:
        why = (
            f"{what} was changed by somebody else since you opened it."
            if opened
            else f"{what}: this form is from before, so nobody can say what has changed since. Nothing is saved yet."
        )
        super().__init__(f"{why} Yours is still here: look, then save.")


def opened_with(request: HttpRequest) -> str:
    """The edition a form was opened with; "" for one that came without."""
    return request.POST.get(FIELD, "")


def hold_settings() -> None:
    """Settings are changed one at a time from here on, until the transaction ends."""
    Studio.objects.select_for_update(no_key=True).order_by("pk").values_list("pk").first()


def keep_to_edition(request: HttpRequest, what: str, now: Callable[[], str]) -> None:
    """Within the act of a form of settings: one at a time from here on, and only on what it was opened with.

    `now` reads the edition there is. Raises StaleForm where it is another one, `what` being what its sentence is about.
    """
    hold_settings()
    opened = opened_with(request)
    if opened != now():
        raise StaleForm(what, opened=opened)


def edition_of(*rows: Any, only: frozenset[str] = frozenset(), but: frozenset[str] = frozenset()) -> str:
    """Sixteen letters for what the columns of some rows hold, read from the database: `only` those, or all `but` those.

    Another value in any of them gives other letters. Nothing has to be counted up, so whatever changes a row is seen.
    """
    held = [
        [
            (field.attname, repr(getattr(row, field.attname)))
            for field in row._meta.concrete_fields
            if _counts(field, only, but)
        ]
        for row in rows
    ]
    return hashlib.sha256(repr(held).encode()).hexdigest()[:16]


def _counts(field: Any, only: frozenset[str], but: frozenset[str]) -> bool:
    return field.attname in only if only else field.attname not in but


def seen_by(request: HttpRequest, form: BaseForm, now: str) -> str:
    """The edition to show a form with: the one it was opened with, as long as nothing else was refused but a field.

    Whoever was told that somebody else has changed the row has seen it as it is `now`.
    """
    return now if request.method != "POST" or form.non_field_errors() else opened_with(request)


def tell_stale(form: BaseForm, stale: StaleForm, saved: BaseForm) -> None:
    """Say on a form that was refused that somebody else has changed it, and in which field how.

    `saved` is the same form as it would be opened now.
    """
    say_what_is_saved(form, saved)
    form.add_error(None, str(stale))


def say_what_is_saved(form: BaseForm, saved: BaseForm) -> None:
    """Have every field of a form that is stale say what is saved in it now, where that is not what was typed.

    `saved` is the same form as it would be opened now. A field that is filled from no column of its own, such as a
    second way to say something, is passed over.
    """
    for field in saved.visible_fields():
        name = field.name
        is_filled = name in saved.initial or field.field.initial is not None
        if not is_filled or name not in form.fields:
            continue
        # Nothing typed may mean none: then what would be saved is what is.
        saves_the_same = name in form.cleaned_data and form.cleaned_data[name] == field.initial
        if not saves_the_same and _meant(form[name]) != _meant(field):
            # What stands before a colon is the name; behind it is what that means.
            label = str(field.label).partition(":")[0]
            form.add_error(name, f"{label} is {_in_words(field)} now.")


def _meant(field: BoundField) -> Any:
    """What a field says once it is read: 12.5 and 12.50 are one price. What cannot be read is as it was typed."""
    shown = field.value()
    try:
        return field.field.clean(shown)
    except ValidationError:
        return shown


def _in_words(field: BoundField) -> str:
    """What is in a field, as somebody reads it."""
    shown = field.value()
    if isinstance(field.field.widget, CheckboxInput):
        return "ticked" if shown else "not ticked"
    chosen = {str(value): words for value, words in getattr(field.field, "choices", ())}
    words = " ".join(str(chosen.get(str(shown), "" if shown is None else shown)).split())
    return f"“{words[:_MOST_SAID]}…”" if len(words) > _MOST_SAID else f"“{words}”" if words else "empty"
