"""The first five minutes: a studio, its first owner, its rates."""

import datetime as dt
from dataclasses import dataclass

from django.db import transaction

from estimating.models import Rates
from stock.actions import starter_palette
from studio.models import Studio, User


class AlreadySetUp(Exception):
    """Somebody has an account here, so this studio is no longer to be had."""

    def __init__(self) -> None:
        super().__init__("This studio has been set up already. Sign in instead.")


@dataclass(frozen=True, kw_only=True)
class Beginning:
    """What the welcome page asks. `currency` is an ISO 4217 code, `measures` one of `Studio.Measures`."""

    studio_name: str
    currency: str
    measures: str
    time_zone: str
    name: str
    username: str
    password: str
    with_colours: bool


def is_set_up() -> bool:
    """Whether anybody has an account."""
    return User.objects.exists()


@transaction.atomic
def set_up(beginning: Beginning, *, at: dt.datetime) -> User:
    """Make the studio, its first owner and its rates, and its everyday colours where asked for.

    Raises `AlreadySetUp` once there is an account, closed ones included: nobody takes over a studio by closing it.
    """
    if is_set_up():
        raise AlreadySetUp
    studio = Studio.objects.current()
    studio.name = beginning.studio_name
    studio.currency = beginning.currency
    studio.measures = beginning.measures
    studio.time_zone = beginning.time_zone
    studio.save()
    owner = User.objects.create_user(
        beginning.username, password=beginning.password, first_name=beginning.name, role=User.Role.OWNER
    )
    Rates.objects.current().save()
    if beginning.with_colours:
        starter_palette(by=owner, at=at)
    return owner
