"""An enquiry that was typed without signal, once it arrives."""

from collections.abc import Mapping
from datetime import datetime, timedelta
from typing import Any

from django.db import transaction
from django.utils import timezone

from bookings.actions.jobs import log_enquiry, write_history
from bookings.models import Booking
from studio.models import User

WORTH_SAYING = timedelta(minutes=2)
"""An enquiry that took no longer than this from the phone to here was not kept waiting."""


@transaction.atomic
def log_kept_enquiry(
    *,
    client: Mapping[str, str],
    job: Mapping[str, Any],
    typed_at: datetime,
    by: User,
    at: datetime,
    known: int | None = None,
) -> Booking:
    """As `log_enquiry`; the story says when it was typed, where that was a while ago.

    A phone whose clock is ahead says nothing.
    """
    booking = log_enquiry(client=client, job=job, known=known, by=by, at=at)
    if at - typed_at > WORTH_SAYING:
        when = timezone.localtime(typed_at)
        write_history(booking, f"It was typed on {when.day} {when:%B at %H:%M} and waited for signal.", at=at, by=by)
    return booking
