"""Jobs of the demo studio that are over: quoted, accepted, paid, pulled, issued and wrapped up, weeks ago."""

from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta
from decimal import Decimal

from bookings import actions as bookings
from bookings.models import Booking
from bookings.paperwork import prepare_quote
from bookings.queries import wrap_up_page
from bookings.queries.expected import expected_of
from bookings.queries.money import standing
from estimating.kinds import GarlandSpec
from stock.models import Colour, Item
from studio.models import Studio, User

_FOOT, _WIDTH = Decimal("304.8"), Decimal("25.4") * 20
POPPED = {11: 1}
"""Nominal size in inches to how many popped of each colour: invented, as every figure of the demo."""


@dataclass(frozen=True)
class Past:
    """A job that is over: how many weeks before the first, what it was, how it went and how the client came.

    `longer` is how many minutes each part of the work took more than expected.
    """

    weeks: int
    client: str
    phone: str
    title: str
    place: str
    wants: str
    feet: int
    colours: tuple[tuple[str, int], ...]
    note: str
    went: str = "well"
    found_us: str = ""
    longer: dict[str, int] = field(default_factory=dict)


PAST = (
    Past(
        0,
        "Lifeboat crew",
        "555-0120",
        "Lifeboat supper",
        "Boat hall, Port Alder",
        "A garland over the long table in the colours of the boat",
        16,
        (("sky", 40), ("butter", 30), ("coral", 30)),
        "The long table stood under a beam: hung from the ladder",
        found_us="Word of mouth",
        longer={"hang": 25},
    ),
    Past(
        9,
        "Sailmakers’ loft",
        "555-0131",
        "Loft opening",
        "Sail loft, Port Alder",
        "A short garland along the stair",
        8,
        (("sky", 60), ("butter", 40)),
        "Nobody had the key until ten",
        went="so-so",
        found_us="The summer fair",
        longer={"hang": 35, "make": -10},
    ),
    Past(
        14,
        "Tidemill bakery",
        "555-0142",
        "Bakery birthday",
        "Tidemill Lane 3, Port Alder",
        "A garland round the counter",
        10,
        (("coral", 50), ("butter", 50)),
        "",
        found_us="Word of mouth",
        longer={"hang": 15, "strike": -10},
    ),
)


def wrapped_up_jobs(colours: dict[str, Colour], *, owner: User, crew: User, event: date, at: datetime) -> list[Booking]:
    """Every past job, the longest ago first; the last on `event`, asked for at the moment `at`, three weeks before."""
    return [
        _wrapped_up(past, colours, owner=owner, crew=crew, event=event - ago, at=at - ago)
        for past in reversed(PAST)
        for ago in [timedelta(weeks=past.weeks)]
    ]


def _wrapped_up(
    past: Past, colours: dict[str, Colour], *, owner: User, crew: User, event: date, at: datetime
) -> Booking:
    asked_on = event - timedelta(days=21)
    booking = bookings.log_enquiry(
        client={"name": past.client, "phone": past.phone, "email": ""},
        job={
            "title": past.title,
            "event_on": event,
            "ready_by": time(17, 0),
            "place": past.place,
            "wants": past.wants,
            "budget": "500",
            "distance": 2,
            "travel_minutes": 8,
        },
        by=owner,
        at=at,
    )
    spec = GarlandSpec(
        length_mm=_FOOT * past.feet,
        width_mm=_WIDTH,
        mix=((5, 30), (11, 70)),
        colours=tuple((colours[name].key, share) for name, share in past.colours),
        shape="swag",
        seed=5,
    )
    bookings.keep_piece(
        booking=booking,
        piece=None,
        edition=0,
        name="Garland over the table" if past.feet == 16 else "Garland",
        kind="garland",
        spec=spec,
        typed={"length": f"{past.feet} ft", "width": "20 in"},
        by=owner,
        at=at,
    )
    studio = Studio.objects.current()
    quote = bookings.issue_quote(paper=prepare_quote(booking, studio=studio, today=asked_on, at=at), by=owner, at=at)
    bookings.accept_quote(quote=quote, name=past.client, today=asked_on, at=at, address=None, browser="the demo")
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
    _out_and_home(booking, past, crew, prep=at + timedelta(days=20), over=at + timedelta(days=22))
    return booking


def _out_and_home(booking: Booking, past: Past, crew: User, *, prep: datetime, over: datetime) -> None:
    """Pulled on the day before the event, counted on the day after."""
    bookings.tick_rest(booking=booking, by=crew, at=prep)
    bookings.issue_materials(booking=booking, by=crew, at=prep)
    booking.refresh_from_db()
    counted = {}
    for row in wrap_up_page(booking).rows:
        is_balloon = row.item.sort == Item.Sort.LATEX
        popped = min(POPPED.get(row.item.size or 0, 0), row.home) if is_balloon else 0
        counted[row.item.pk] = bookings.Counted(row.used, popped, row.home - popped)
    expected = expected_of(booking, currency=Studio.objects.current().currency)
    usual = expected.minutes if expected else {}
    told = bookings.Told(
        hours={part: minutes + past.longer.get(part, 0) for part, minutes in usual.items()},
        timed=True,
        went=past.went,
        note=past.note,
        found_us=past.found_us,
    )
    bookings.wrap_up(booking=booking, counted=counted, told=told, by=crew, at=over)
