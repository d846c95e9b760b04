"""Favourites: kept, named and taken away. How far the studio blows its balloons, and what is pinned: kept."""

from collections.abc import Mapping
from datetime import datetime
from decimal import Decimal
from typing import Any

from django.db import IntegrityError, transaction
from django.db.models import Max

from estimating.gas import check_filled
from estimating.models import Favourite, InflatedDiameter, Pin
from estimating.specs import SpecErrors
from studio.models import User

MOST_FAVOURITES = 60


class NameTaken(Exception):
    """Another favourite has this name."""

    def __init__(self, name: str) -> None:
        super().__init__(f"There is a favourite called “{name}” already: choose another name.")


class TooManyFavourites(Exception):
    """The studio has as many favourites as can be looked through."""

    def __init__(self) -> None:
        super().__init__(f"There are {MOST_FAVOURITES} favourites already: remove one you no longer make.")


@transaction.atomic
def keep_favourite(*, name: str, kind: str, spec: Any, typed: Mapping[str, str]) -> Favourite:
    """Keep a piece as the studio's favourite, last in the list; one of the same name becomes this one.

    `typed` are its lengths as they were typed. Raises TooManyFavourites.
    """
    kept = spec.to_json() | {"typed": dict(typed)}
    same = Favourite.objects.select_for_update().filter(name__iexact=name).first()
    if same is not None:
        same.name, same.kind, same.spec = name, kind, kept
        same.save(update_fields=["name", "kind", "spec"])
        return same
    if Favourite.objects.count() >= MOST_FAVOURITES:
        raise TooManyFavourites
    last = Favourite.objects.aggregate(last=Max("position"))["last"]
    return Favourite.objects.create(name=name, kind=kind, spec=kept, position=0 if last is None else last + 1)


@transaction.atomic
def rename_favourite(*, favourite: Favourite, name: str) -> Favourite:
    """Give a favourite another name; raises NameTaken."""
    favourite.name = name
    try:
        with transaction.atomic():
            favourite.save(update_fields=["name"])
    except IntegrityError as error:
        raise NameTaken(name) from error
    return favourite


@transaction.atomic
def remove_favourite(*, favourite: Favourite) -> None:
    """Take it off the list. Pieces made from it stay as they are."""
    favourite.delete()


@transaction.atomic
def keep_inflated(*, own: Mapping[tuple[int, str], tuple[Decimal, str]]) -> None:
    """Write the studio's own table: for a size and a gas the millimetres it is blown to, and how they were typed.

    What is left out is as usual from now on. Pieces keep the layout they have. Raises SpecErrors, naming air or helium,
    where a size may not be blown so far.
    """
    if errors := [error for (size, gas), (mm, _) in own.items() for error in check_filled(size, mm, gas)]:
        raise SpecErrors(errors)
    for row in InflatedDiameter.objects.select_for_update():
        if (row.size, row.gas) not in own:
            row.delete()
    InflatedDiameter.objects.bulk_create(
        [InflatedDiameter(size=size, gas=gas, mm=mm, typed=typed) for (size, gas), (mm, typed) in own.items()],
        update_conflicts=True,
        unique_fields=["size", "gas"],
        update_fields=["mm", "typed"],
    )


@transaction.atomic
def pin_setting(*, setting: str, value: Decimal, by: User, at: datetime) -> Pin:
    """Hold a setting at a value from now on, whatever jobs teach: a factor, or a chance."""
    pin, _ = Pin.objects.update_or_create(setting=setting, defaults={"value": value, "by": by, "at": at})
    return pin


@transaction.atomic
def unpin_setting(*, setting: str) -> bool:
    """Let jobs teach a setting again; whether it was pinned."""
    gone, _ = Pin.objects.filter(setting=setting).delete()
    return bool(gone)
