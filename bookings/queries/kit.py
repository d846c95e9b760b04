"""The kit of a booking: for which days it is away as a rule."""

from datetime import date, timedelta

from bookings.models import Booking

_AFTER_THE_EVENT = timedelta(days=1)


def kit_days(booking: Booking) -> tuple[date, date] | None:
    """Out on the prep day, back on the strike day; None while there is no day.

    Without a strike day, back the day after the event, when it has been struck. Of a booking with a prep day alone,
    back the day after that.
    """
    out = booking.prep_day
    if out is None:
        return None
    back = booking.strike_on or (booking.event_on or out) + _AFTER_THE_EVENT
    return out, max(back, out)
