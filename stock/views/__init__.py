"""Pages of the shelf. A view loads, refuses, calls one thing and answers; what all of them share is here."""

from collections.abc import Callable
from typing import Any, TypeVar

from django.core.paginator import Page, Paginator
from django.db import IntegrityError
from django.db.models import Model, QuerySet
from django.forms import BaseForm
from django.http import HttpRequest, HttpResponse

from studio.access import StudioRequest as StudioRequest
from studio.once import answer_once

Row = TypeVar("Row", bound=Model)

PAGE_ROWS = 100
MENDABLE = 422


class NotSound(Exception):
    """The form has something to mend; nothing has happened."""


def act_on_form(
    request: HttpRequest,
    form: BaseForm,
    act: Callable[[], str],
    show_again: Callable[[], HttpResponse],
    *,
    refusals: tuple[type[Exception], ...] = (),
    field: str | None = None,
) -> HttpResponse:
    """Check `form` and do `act` once, or show the form again with what to mend (status 422).

    The check runs inside `answer_once`: a form sent twice then meets its own first answer, not a rule such as
    “named once” broken by what it did itself. What `act` raises out of `refusals` becomes an error of `field`
    where the form has it. Two people saving the same thing at once is caught by the database and told like a rule.
    """

    def checked() -> str:
        if not form.is_valid():
            raise NotSound
        return act()

    try:
        return answer_once(request, checked)
    except NotSound:
        pass
    except refusals as refusal:
        form.add_error(field if field in form.fields else None, str(refusal))
    except IntegrityError:
        form.add_error(
            None, "Somebody else has just saved the same. Look at it, then send this again if it is still needed."
        )
    response = show_again()
    response.status_code = MENDABLE
    return response


def page_of(rows: QuerySet[Row], request: HttpRequest, *, named: str = "page", size: int = PAGE_ROWS) -> Page[Row]:
    """The page of `rows` the address asks for; the nearest there is where it asks for nonsense."""
    return Paginator(rows, size).get_page(request.GET.get(named))


def asked(request: HttpRequest, *names: str) -> dict[str, Any]:
    """First values for a form out of the address, for the fields that may be prefilled that way."""
    return {name: request.GET[name][:100] for name in names if name in request.GET}
