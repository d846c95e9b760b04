"""What a row said when somebody opened its form, so that saving can tell whether it still does."""

import hashlib
from typing import Any

from django.forms import BaseForm
from django.http import HttpRequest

FIELD = "seen"
"""What a form calls it."""


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
    return now if form.non_field_errors() else request.POST.get(FIELD, now)
