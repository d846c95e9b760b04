"""The day of a job, in words."""

from bookings.models import Booking


def day_words(booking: Booking) -> str:
    """“Saturday 12 December 2026”, or the date as it was said."""
    if booking.event_on is None:
        return booking.date_text or "No date yet"
    return f"{booking.event_on:%A} {booking.event_on.day} {booking.event_on:%B %Y}"


def when_words(booking: Booking) -> str:
    """The day, and when it must be ready by."""
    said = day_words(booking)
    return f"{said}, ready by {booking.ready_by:%H:%M}" if booking.ready_by else said
