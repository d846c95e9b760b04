"""Who may open what. Every view names its policy; a view without one is refused to everybody.

A view says `@owner_only`, `@owner_and_crew` or `@anyone`. `studio.middleware.AccessMiddleware` reads the mark
before the view runs, so forgetting it closes the door rather than leaving it open.
"""

from collections.abc import Callable
from enum import Enum
from typing import Any, TypeVar

from django.http import HttpRequest
from django_htmx.middleware import HtmxDetails

from studio.models import Studio, User

View = TypeVar("View", bound=Callable[..., Any])


class StudioRequest(HttpRequest):
    """A request of somebody signed in, in the studio's own time zone (for type checking only)."""

    user: User
    studio: Studio
    htmx: HtmxDetails


class Access(Enum):
    """The three policies a page can have."""

    OWNER = "owner"
    CREW = "owner and crew"
    ANYONE = "anyone"


def owner_only(view: View) -> View:
    """Prices, settings and everything that commits the studio."""
    view.access = Access.OWNER  # type: ignore[attr-defined]
    return view


def owner_and_crew(view: View) -> View:
    """What to make, what to bring, what is on the shelf: never a price."""
    view.access = Access.CREW  # type: ignore[attr-defined]
    return view


def anyone(view: View) -> View:
    """The sign-in page and a client's own link."""
    view.access = Access.ANYONE  # type: ignore[attr-defined]
    return view


def access_of(view: object) -> Access | None:
    """The policy a view declares, or None where it declares none."""
    return getattr(view, "access", None)
