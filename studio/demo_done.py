"""A job of the demo studio that is over: quoted, accepted, paid, pulled, issued and wrapped up, weeks ago."""

from datetime import date, datetime, time, timedelta
from decimal import Decimal

from bookings import actions as bookings
from bookings.models import Booking
from bookings.paperwork import prepare_quote
from bookings.queries import wrap_up_page
from bookings.queries.money import standing
from estimating.kinds import GarlandSpec
from stock.models import Colour, Item
from studio.models import Studio, User

_LENGTH, _WIDTH = Decimal("304.8") * 16, Decimal("25.4") * 20
POPPED = {5: 1, 11: 2}
"""Nominal size in inches to how many popped of each colour: invented, as every figure of the demo."""


def wrapped_up_job(colours: dict[str, Colour], *, owner: User, crew: User, event: date, at: datetime) -> Booking:
    """The lifeboat supper, on a day that has gone by. `at` is the moment it was asked for, three weeks before."""
    asked_on = event - timedelta(days=21)
    booking = bookings.log_enquiry(
        client={"name": "Lifeboat crew", "phone": "555-0120", "email": ""},
        job={
            "title": "Lifeboat supper",
            "event_on": event,
            "ready_by": time(17, 0),
            "place": "Boat hall, Port Alder",
            "wants": "A garland over the long table in the colours of the boat",
            "budget": "500",
            "distance": 2,
            "travel_minutes": 8,
        },
        by=owner,
        at=at,
    )
    spec = GarlandSpec(
        length_mm=_LENGTH,
        width_mm=_WIDTH,
        mix=((5, 30), (11, 70)),
        colours=((colours["sky"].key, 40), (colours["butter"].key, 30), (colours["coral"].key, 30)),
        shape="swag",
        seed=5,
    )
    typed = {"length": "16 ft", "width": "20 in"}
    bookings.keep_piece(
        booking=booking,
        piece=None,
        edition=0,
        name="Garland over the table",
        kind="garland",
        spec=spec,
        typed=typed,
        by=owner,
        at=at,
    )
    studio = Studio.objects.current()
    quote = bookings.issue_quote(paper=prepare_quote(booking, studio=studio, today=asked_on, at=at), by=owner, at=at)
    bookings.accept_quote(quote=quote, name="Lifeboat crew", today=asked_on, at=at, address=None, browser="the demo")
    owed = standing(booking.pk).owed
    bookings.take_payment(
        booking=booking,
        amount_minor=owed,
        method="transfer",
        received_on=asked_on,
        note="",
        owed_seen=owed,
        surplus_is_meant=False,
        currency=studio.currency,
        today=asked_on,
        by=owner,
        at=at,
    )
    _out_and_home(booking, crew, prep=at + timedelta(days=20), over=at + timedelta(days=22))
    return booking


def _out_and_home(booking: Booking, crew: User, *, prep: datetime, over: datetime) -> None:
    """Pulled on the day before the event, counted on the day after."""
    bookings.tick_rest(booking=booking, by=crew, at=prep)
    bookings.issue_materials(booking=booking, by=crew, at=prep)
    booking.refresh_from_db()
    counted = {}
    for row in wrap_up_page(booking).rows:
        is_balloon = row.item.sort == Item.Sort.LATEX
        popped = min(POPPED.get(row.item.size or 0, 0), row.home) if is_balloon else 0
        counted[row.item.pk] = bookings.Counted(row.used, popped, row.home - popped)
    bookings.wrap_up(booking=booking, counted=counted, by=crew, at=over)
