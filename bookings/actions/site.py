"""What is written down of a place and of the strike, and who goes ahead though a check of the site is not met."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from django.db import transaction

from bookings.actions.jobs import write_history
from bookings.models import Acknowledgement, Booking, Place, Strike
from bookings.site_check import Check
from studio.editions import StaleForm, edition_of
from studio.models import User


class AcknowledgeRefused(Exception):
    """The check cannot be acknowledged as it was shown; the message is a sentence."""


def edition_on_site(row: Place | Strike) -> str:
    """The edition of what is written down of a place or of a strike; of one that says nothing, too."""
    return edition_of(row, but=frozenset({"id"}))


@transaction.atomic
def keep_place(*, booking: Booking, place: Mapping[str, Any], by: User, at: datetime, seen: str | None = None) -> Place:
    """Write down what is known of a booking's place, all of it. The form has checked it.

    `seen` is the edition its form was opened with. Raises StaleForm where somebody has written since.
    """
    booking = Booking.objects.select_for_update().get(pk=booking.pk)
    if seen is not None and seen != edition_on_site(Place.objects.of(booking)):
        raise StaleForm("This place", opened=seen)
    kept, _ = Place.objects.update_or_create(booking=booking, defaults=dict(place))
    write_history(booking, "The place was written down.", at=at, by=by)
    return kept


@transaction.atomic
def keep_strike(
    *, booking: Booking, strike: Mapping[str, Any], by: User, at: datetime, seen: str | None = None
) -> Strike:
    """Write down how a booking is taken down. The form has checked it; `seen` as for a place, and StaleForm too."""
    booking = Booking.objects.select_for_update().get(pk=booking.pk)
    if seen is not None and seen != edition_on_site(Strike.objects.of(booking)):
        raise StaleForm("This strike", opened=seen)
    kept, _ = Strike.objects.update_or_create(booking=booking, defaults=dict(strike))
    write_history(booking, "The strike was written down.", at=at, by=by)
    return kept


@transaction.atomic
def acknowledge(*, booking: Booking, check: Check, name: str, reason: str, by: User, at: datetime) -> Acknowledgement:
    """Somebody goes ahead though a check is not met, or not known: their name, why, and the sentence as it is.

    Raises AcknowledgeRefused for one that is met. Where somebody has acknowledged the same figures already, theirs
    stands.
    """
    if check.state == "met":
        raise AcknowledgeRefused(f"{check.about}: this is met now. There is nothing to acknowledge.")
    booking = Booking.objects.select_for_update().get(pk=booking.pk)
    made, is_new = Acknowledgement.objects.get_or_create(
        booking=booking,
        key=check.key,
        stamp=check.stamp,
        defaults={
            "state": check.state,
            "sentence": check.sentence,
            "source": check.source,
            "name": name,
            "reason": reason,
            "at": at,
            "by": by,
        },
    )
    if is_new:
        write_history(booking, f"{check.about}: {check.sentence} {name} goes ahead: {reason}", at=at, by=by)
    return made
