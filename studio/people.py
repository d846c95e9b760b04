"""Who works here: adding somebody, changing what they may see, closing and opening their account."""

import datetime as dt
import logging

from django.db import IntegrityError, transaction

from studio.models import User

log = logging.getLogger(__name__)


class LastOwner(Exception):
    """Without this owner nobody could see a price or change a setting."""

    def __init__(self, person: User) -> None:
        super().__init__(f"{person.shown_name} is the only owner: make somebody else an owner first.")


class NameTaken(Exception):
    """Two people cannot sign in under one name."""

    def __init__(self, username: str) -> None:
        super().__init__(f"Somebody signs in as “{username}” already. Choose another user name.")


def _note(what: str, person: User, by: User, at: dt.datetime) -> None:
    log.info("%s: person %s by person %s at %s", what, person.pk, by.pk, at.isoformat())


def _refuse_losing_the_last_owner(person: User) -> None:
    # Every owner's row, in one order: two who close each other's accounts wait in a queue, not for each other.
    owners = User.objects.select_for_update().filter(role=User.Role.OWNER, is_active=True).order_by("pk")
    if {owner.pk for owner in owners} == {person.pk}:
        raise LastOwner(person)


@transaction.atomic
def add_person(*, name: str, username: str, role: str, password: str, by: User, at: dt.datetime) -> User:
    """Give somebody an account; raises `NameTaken`. Upper and lower case are one user name."""
    if User.objects.filter(username__iexact=username).exists():
        raise NameTaken(username)
    try:
        with transaction.atomic():
            person = User.objects.create_user(username, password=password, first_name=name, role=role)
    except IntegrityError as error:
        raise NameTaken(username) from error
    _note("account opened", person, by, at)
    return person


@transaction.atomic
def change_person(*, person: User, name: str, role: str, by: User, at: dt.datetime) -> None:
    """What they are called and what they may see; raises `LastOwner` rather than leave no owner."""
    if role != User.Role.OWNER:
        _refuse_losing_the_last_owner(person)
    person.first_name, person.role = name, role
    person.save(update_fields=["first_name", "role"])
    _note(f"role is {role}", person, by, at)


@transaction.atomic
def close_account(*, person: User, by: User, at: dt.datetime) -> None:
    """They can no longer sign in, and are signed out everywhere; what they did stays theirs. Raises `LastOwner`."""
    _refuse_losing_the_last_owner(person)
    person.is_active = False
    person.save(update_fields=["is_active"])
    _note("account closed", person, by, at)


@transaction.atomic
def open_account(*, person: User, by: User, at: dt.datetime) -> None:
    """They can sign in again."""
    person.is_active = True
    person.save(update_fields=["is_active"])
    _note("account opened again", person, by, at)


@transaction.atomic
def set_password(*, person: User, password: str, by: User, at: dt.datetime) -> None:
    """Their old password stops working and every session opened with it ends."""
    person.set_password(password)
    person.save(update_fields=["password"])
    _note("password set", person, by, at)
