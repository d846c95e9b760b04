"""The kit of the demo studio: frames, ladders, pumps and leads, and one frame that two jobs want."""

from datetime import datetime, timedelta
from decimal import Decimal

from bookings.actions.kit import promise_kit
from bookings.models import Booking
from bookings.queries.kit import kit_days
from stock import actions as stock
from stock.models import Kit
from studio.models import User

_FOOT = Decimal("304.8")
_LADDERS = {"Step ladder, 6 ft": 6 * _FOOT, "Step ladder, 8 ft": 8 * _FOOT}

# Name, sort, how many, days of cleaning, wear in cents, grams, litres, place: invented, as every figure of the demo.
_LISTED: tuple[tuple[str, str, int, int, int, int, int, str], ...] = (
    ("Arch frame", Kit.Sort.FRAME, 1, 1, 450, 9_500, 95, "loft"),
    ("Base plate", Kit.Sort.STAND, 4, 1, 60, 4_200, 14, "by the door"),
    ("Electric pump", Kit.Sort.PUMP, 2, 0, 90, 1_400, 9, "bench"),
    ("Extension lead, 50 ft", Kit.Sort.LEAD, 3, 0, 20, 2_300, 11, "bench"),
    ("Step ladder, 6 ft", Kit.Sort.LADDER, 1, 0, 60, 7_700, 85, "by the door"),
    ("Step ladder, 8 ft", Kit.Sort.LADDER, 2, 0, 75, 11_300, 120, "by the door"),
)

# The job by its title, the kit, how many, and how many days longer than usual it stays.
_WANTED: tuple[tuple[str, str, int, int], ...] = (
    ("Ferry office 50 years", "Arch frame", 1, 6),
    ("Ferry office 50 years", "Step ladder, 8 ft", 1, 0),
    ("Winter gala", "Arch frame", 1, 0),
    ("Winter gala", "Electric pump", 1, 0),
    ("Winter gala", "Step ladder, 8 ft", 1, 0),
    ("Barn wedding", "Base plate", 2, 0),
    ("Barn wedding", "Electric pump", 1, 0),
)


def list_kit(*, by: User, at: datetime) -> None:
    """Everything the studio owns to use again."""
    for name, sort, owned, days, wear, grams, litres, place in _LISTED:
        kit = Kit(name=name, sort=sort, cleaning_days=days, wear_minor=wear, weight_grams=grams, place=place)
        kit.room_millilitres = 1000 * litres
        if sort == Kit.Sort.LADDER:
            kit.height_mm, kit.carries_grams = _LADDERS[name], 136_078
        stock.add_kit(kit=kit, owned=owned, by=by, at=at)


def promise_what_it_wants(booking: Booking, *, by: User, at: datetime) -> None:
    """Promise a job its kit for its own days. The gala wants the frame the ferry office keeps."""
    days = kit_days(booking)
    for title, name, quantity, longer in _WANTED:
        if title == booking.title and days is not None:
            promise_kit(
                booking=booking,
                kit=Kit.objects.get(name=name),
                quantity=quantity,
                out_on=days[0],
                back_on=days[1] + timedelta(days=longer),
                by=by,
                at=at,
            )
