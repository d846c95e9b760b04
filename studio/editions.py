"""What a row said when somebody opened its form, so that saving can tell whether it still does."""

import hashlib
from collections.abc import Callable
from typing import Any

from django.forms import BaseForm
from django.http import HttpRequest

from studio.models import Studio

FIELD = "seen"
"""What a form calls it."""


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


def keep_to_edition(request: HttpRequest, what: str, now: Callable[[], str]) -> None:
    """Within the act of a form of settings: one at a time from here on, and only on what it was opened with.

    `now` reads the edition there is. Raises StaleForm where it is another one, `what` being what its sentence is about.
    """
    Studio.objects.select_for_update(no_key=True).order_by("pk").values_list("pk").first()
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
