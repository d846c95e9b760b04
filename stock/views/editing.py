"""Changing one row of the shelf's lists: only as it was when its form was opened, and only what its form shows."""

import copy
from collections.abc import Callable, Mapping
from typing import Any, TypeVar

from django.db import models
from django.forms import BaseForm, ModelForm
from django.http import HttpResponse
from django.shortcuts import get_object_or_404

from stock.views import act_on_form
from studio.access import StudioRequest
from studio.editions import StaleForm, edition_of, opened_with, say_what_is_saved

Row = TypeVar("Row", bound=models.Model)
Form = TypeVar("Form", bound=BaseForm)


def edit_row(
    request: StudioRequest,
    row: Row,
    *,
    what: str,
    columns: frozenset[str],
    form_of: Callable[[Mapping[str, Any] | None, Row], Form],
    act: Callable[[Form], str],
    show: Callable[[Form, str], HttpResponse],
    hold: Callable[[], Row] | None = None,
) -> HttpResponse:
    """Show the form of a row, or do `act` with it, once, while the row is held and as it was when the form was opened.

    `columns` are those the form shows, by their attnames; `what` is what a refusal is about, such as “This supplier”.
    `form_of` takes what was sent, or None, and a row of its own to write into; `show` takes the form and the edition
    to put into it. `hold` reads the row and keeps it from others, where that takes another lock than the row's own.
    Where somebody has changed the row meanwhile nothing is saved: every field that is saved otherwise says how.
    """
    seen = edition_of(row, only=columns)
    form = form_of(request.POST or None, copy.copy(row))
    if request.method != "POST":
        return show(form, seen)
    seen = opened = opened_with(request)

    def checked() -> str:
        nonlocal seen
        held = hold() if hold is not None else _held(row)
        now = edition_of(held, only=columns)
        if opened != now:
            # Whoever is told what is saved has seen it: with the edition of what they were told they may save.
            seen = now
            say_what_is_saved(form, form_of(None, held))
            raise StaleForm(what, opened=opened)
        return act(form)

    return act_on_form(request, form, checked, lambda: show(form, seen), refusals=(StaleForm,))


def kept(form: ModelForm, columns: frozenset[str]) -> Any:
    """The row of a sound form, saved: its `columns` alone, so that what others write beside them stays written."""
    form.instance.save(update_fields=columns)
    return form.instance


def _held(row: Row) -> Row:
    """The row as it is now, held until the transaction ends; not found where somebody has removed it."""
    rows = type(row)._default_manager.select_for_update(of=("self",), no_key=True)
    return get_object_or_404(rows, pk=row.pk)
