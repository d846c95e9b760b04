"""What a booking was called, taken out of everything that was ever held for it."""

from django.db import transaction

from stock.models import KitPromise, Reservation


@transaction.atomic
def forget_name(*, booking: int) -> None:
    """Call a booking by its number in its promises, open and closed; how much was held for which day stays."""
    name = f"Booking {booking}"
    Reservation.objects.filter(booking=booking).update(booking_name=name)
    KitPromise.objects.filter(booking=booking).update(booking_name=name)
