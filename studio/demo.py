"""Tern & Tide Balloons of Port Alder: an invented studio in an invented harbour town, to look round in.

Everything is done with the same actions a person would use, on days counted from today. The shelf holds black 11-inch
for one job and not for the next.
"""

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from typing import Any

from django.db import transaction

from bookings import actions as bookings
from bookings.actions import options
from bookings.models import Booking, Quote
from bookings.paperwork import prepare_quote
from estimating import actions as estimating
from estimating.kinds import GarlandSpec, LetteredSpec, PackedSpec
from estimating.kinds.packed import Topper
from estimating.models import Rates
from stock import actions as stock
from stock.models import Colour, DoubleRecipe, Item, Offer, Supplier
from stock.queries import on_hand
from studio.demo_clients import know_the_clients
from studio.demo_dates import set_dates, set_people
from studio.demo_done import wrapped_up_jobs
from studio.demo_kit import list_kit, promise_what_it_wants
from studio.demo_mail import write_and_ask
from studio.demo_money import pay_one_deposit, set_terms
from studio.demo_place import write_the_places
from studio.models import Studio, User
from studio.setting_up import Beginning, set_up

OWNER, CREW, PASSWORD = "mo", "jan", "tern-and-tide"
SHORT_BY = 56
"""How many black 11-inch the second job lacks."""

FOOT = Decimal("304.8")
INCH = Decimal("25.4")


@dataclass(frozen=True)
class Job:
    """One invented job: who, when (days from the first Saturday), what, and how far it has come."""

    client: dict[str, str]
    title: str
    weeks: int
    ready_by: time
    place: str
    wants: str
    budget: str
    distance: int
    travel_minutes: int
    crew: int
    pieces: tuple[tuple[str, str, Any, dict[str, str]], ...]
    reaches: str
    hangs_at: Decimal | None = None
    goes_in: tuple[str, ...] = ()
    options: tuple[str, ...] = ()


def first_saturday(today: date) -> date:
    """A Saturday at least nine days off, so that there is still time to order."""
    soonest = today + timedelta(days=9)
    return soonest + timedelta(days=(5 - soonest.weekday()) % 7)


def make_demo(*, today: date, at: datetime, base: str = "http://localhost:8000") -> None:
    """Make the whole demo in an empty database; `base` is the address it will be served at."""
    owner = _people(at)
    colours = {colour.name.lower(): colour for colour in Colour.objects.all()}
    _shelf(colours, owner, at)
    list_kit(by=owner, at=at)
    set_terms()
    made = [_make(job, owner, today=today, at=at) for job in _jobs(colours)]
    pay_one_deposit(made[0], made[1], by=owner, today=today, at=at)
    know_the_clients(made, by=owner, today=today, at=at)
    set_dates(made, by=owner, today=today, at=at)
    set_people(made, by=owner, today=today, at=at)
    write_the_places(made[0], made[1], by=owner, at=at)
    write_and_ask(made[0], made[1], base=base, by=owner, at=at)
    _black_for_one_and_a_bit(made[0], made[1], colours["black"], owner, at)
    _on_its_way(colours, owner, today=today, at=at)
    _older_bags(colours, owner, today=today, at=at)
    _half_a_count(colours, at=at)
    _long_over(colours, owner, today=today, at=at)


@transaction.atomic
def _people(at: datetime) -> User:
    owner = set_up(
        Beginning(
            studio_name="Tern & Tide Balloons",
            currency="USD",
            measures=Studio.Measures.IMPERIAL,
            time_zone="America/New_York",
            name="Mo",
            username=OWNER,
            password=PASSWORD,
            with_colours=True,
        ),
        at=at,
    )
    User.objects.create_user(CREW, password=PASSWORD, first_name="Jan", role=User.Role.CREW)
    Studio.objects.filter(pk=1).update(
        email="hello@ternandtide.example", phone="555-0142", address="4 Net Loft Lane, Port Alder"
    )
    Rates.objects.filter(pk=1).update(
        tax_percent=Decimal("8.25"),
        hourly_minor=3200,
        margin_percent=Decimal(38),
    )
    estimating.keep_inflated(
        own={(24, "air"): (21 * INCH, "21 in"), (11, "helium"): (Decimal("10.5") * INCH, "10½ in")}
    )
    return owner


def _shelf(colours: dict[str, Colour], owner: User, at: datetime) -> None:
    """Items, offers and a first count of nearly everything."""
    near = Supplier.objects.create(
        name="Quayside Party Wholesale",
        email="orders@quayside.example",
        phone="555-0117",
        delivery_minor=950,
        free_from_minor=9000,
    )
    far = Supplier.objects.create(
        name="Northlight Balloon Depot", email="desk@northlight.example", delivery_minor=600, minimum_minor=2500
    )
    counts = {5: 320, 11: 290, 16: 40, 24: 6, 36: 4}
    # Pack size, price of a pack in cents, days: invented, as every figure of the demo.
    packs = {5: (100, 620, 5), 11: (100, 1450, 5), 16: (50, 2250, 5), 24: (5, 1290, 7), 36: (2, 790, 7)}
    stocked = [(colours[name], size) for name in colours for size in (5, 11, 16)]
    stocked += [(colours[name], size) for name in ("black", "white", "ink", "sand") for size in (24, 36)]
    items = stock.items_for([(Item.Sort.LATEX, colour.pk, size) for colour, size in stocked])
    for n, item in enumerate(items.values()):
        size = item.size or 0
        pack, price, days = packs[size]
        Offer.objects.create(supplier=near, item=item, pack_size=pack, price_minor=price, lead_days=days)
        if size in (5, 11):
            # The depot numbers its colours: no two suppliers call one the same.
            Offer.objects.create(
                supplier=far,
                item=item,
                pack_size=50,
                price_minor=price * 11 // 20,
                lead_days=9,
                their_name=f"Shade {10 + n // 3} round",
                their_code=f"ND-{10 + n // 3}-{size:02}",
            )
        if (item.colour_id, size) != (colours["black"].pk, 11):
            stock.count(item=item, counted=counts[size] + 7 * (n % 5), by=owner, at=at, why="first count")
    # Tried on a quiet day: sand over terracotta passes for blush.
    DoubleRecipe.objects.create(
        outer=colours["sand"], inner=colours["terracotta"], looks_like=colours["blush"], swatch="#e9bfae"
    )
    # Pack size, its price in cents, days, and how many there are.
    other: dict[str, tuple[int, int, int, int]] = {
        "tie": (100, 900, 5, 640),
        "line": (300, 700, 5, 420),
        "hook": (40, 1150, 5, 160),
        "ribbon": (500, 480, 5, 740),
        "weight": (10, 650, 5, 24),
        "gas": (3900, 15500, 3, 5200),
        "decal": (1, 700, 4, 2),
    }
    hardware = stock.items_for([(sort, None, None) for sort in other])
    for (sort, _, _), item in hardware.items():
        pack, price, days, have = other[sort]
        Offer.objects.create(supplier=near, item=item, pack_size=pack, price_minor=price, lead_days=days)
        stock.count(item=item, counted=have, by=owner, at=at, why="first count")


def _garland(
    feet: int, inches: int, colours: tuple[tuple[Colour, int], ...], *, shape: str, seed: int, outdoors: bool = False
) -> tuple[str, GarlandSpec, dict[str, str]]:
    spec = GarlandSpec(
        length_mm=FOOT * feet,
        width_mm=INCH * inches,
        mix=((5, 30), (11, 62), (16, 8)),
        colours=tuple((colour.key, share) for colour, share in colours),
        outdoors=outdoors,
        shape=shape,
        seed=seed,
    )
    return "garland", spec, {"length": f"{feet} ft", "width": f"{inches} in"}


def _jobs(colours: dict[str, Colour]) -> list[Job]:
    black, white, gold = colours["black"], colours["white"], colours["gold"]
    ink, sand, clay, sage = colours["ink"], colours["sand"], colours["terracotta"], colours["sage"]
    ferry = _garland(24, 20, ((black, 45), (white, 35), (gold, 20)), shape="swag", seed=3)
    gala = _garland(30, 22, ((black, 55), (gold, 25), (white, 20)), shape="doorway", seed=7)
    barn = _garland(24, 22, ((ink, 40), (sand, 30), (clay, 20), (sage, 10)), shape="doorway", seed=11)
    year = LetteredSpec(
        colour=black.key, text="20 years", decal_width_mm=10 * INCH, decal_height_mm=4 * INCH, height_mm=7 * FOOT
    )
    column = PackedSpec(
        form="column",
        colours=((sand.key, 50), (white.key, 50)),
        size=11,
        height_mm=6 * FOOT,
        pattern="stripes",
        topper=Topper(36, sand.key),
        base="weighted",
        seed=1,
    )
    return [
        Job(
            {"name": "Ferry office", "phone": "555-0163", "email": "front.desk@ferry.example"},
            "Ferry office 50 years", 0, time(9, 30), "Ferry office, Slip 2, Port Alder",
            "A garland over the ticket counter in black, white and gold", "700", 3, 10, 1,
            (("Garland over the counter", *ferry),), "booked", FOOT * 9,
        ),
        Job(
            {"name": "Ines Aldana", "phone": "", "email": "ines@filmsociety.example"},
            "Winter gala", 1, time(14, 0), "Corn Hall, Port Alder",
            "Doorway garland, a big balloon with how many years it is", "1300", 18, 35, 2,
            (
                ("Garland over the doorway", *gala),
                ("Big balloon with lettering", "lettered", year,
                 {"decal_width": "10 in", "decal_height": "4 in", "height": "7 ft"}),
            ),
            "booked", FOOT * 11,
        ),
        Job(
            {"name": "Tobias Renn", "phone": "555-0188", "email": ""},
            "Barn wedding", 3, time(13, 0), "Our barn, Alder Ridge",
            "24 ft garland in navy and sand, a column on either side of the door", "1200", 12, 25, 2,
            (
                ("Garland along the beam", *barn),
                ("Column left of the door", "packed", column, {"height": "6 ft"}),
                ("Column right of the door", "packed", column, {"height": "6 ft"}),
            ),
            "quoted", FOOT * 13, ("all", "2", "2"), ("The beam alone", "With a column on either side"),
        ),
        Job(
            {"name": "Harlow School", "phone": "555-0109", "email": ""},
            "", 5, time(10, 0), "", "Something bright for the spring fair, not too dear", "600", 0, 0, 1, (), "enquiry",
        ),
    ]  # fmt: skip


def _make(job: Job, owner: User, *, today: date, at: datetime) -> Booking:
    """Carry a job as far as it has come."""
    event = first_saturday(today) + timedelta(weeks=job.weeks)
    booking = bookings.log_enquiry(
        client=job.client,
        job={
            "title": job.title,
            "event_on": event,
            "ready_by": job.ready_by,
            "place": job.place,
            "wants": job.wants,
            "budget": job.budget,
            "distance": job.distance,
            "travel_minutes": job.travel_minutes,
            "crew": job.crew,
            "hang_height_mm": job.hangs_at,
        },
        by=owner,
        at=at,
    )
    for name, kind, spec, typed in job.pieces:
        bookings.keep_piece(
            booking=booking, piece=None, edition=0, name=name, kind=kind, spec=spec, typed=typed, by=owner, at=at
        )
    if job.goes_in:
        _offer_a_choice(booking, job, owner, at)
    promise_what_it_wants(booking, by=owner, at=at)
    if job.reaches == "enquiry":
        return booking
    paper = prepare_quote(booking, studio=Studio.objects.current(), today=today, at=at)
    quote = bookings.issue_quote(paper=paper, by=owner, at=at)
    bookings.record_opening(quote=quote, what="page", at=at)
    if job.reaches == "booked":
        bookings.accept_quote(
            quote=quote, name=job.client["name"], today=today, at=at, address=None, browser="the demo"
        )
    return booking


def _offer_a_choice(booking: Booking, job: Job, owner: User, at: datetime) -> None:
    """Its pieces go in options, and two extras can be ticked."""
    pieces = booking.pieces.order_by("position").values_list("pk", flat=True)
    places = dict(zip(pieces, job.goes_in, strict=True))
    names = dict(enumerate(job.options, start=1))
    options.arrange_offer(booking=booking, goes_in=places, names=names, by=owner, at=at)
    for name, note, minutes, amount in (
        ("Take-down the same night", "We come at midnight and leave the barn as we found it.", 60, 8_500),
        ("Delivery after hours", "Hung after eight in the evening, when the hall is free.", 45, None),
    ):
        options.keep_charge(
            booking=booking, charge=None, name=name, note=note, minutes=minutes, amount_minor=amount, by=owner, at=at
        )


def _black_for_one_and_a_bit(first: Booking, second: Booking, black: Colour, owner: User, at: datetime) -> None:
    """Count black 11-inch so that it covers the first job and leaves the second short."""
    item = Item.objects.get(sort=Item.Sort.LATEX, colour=black, size=11)
    quotes = Quote.objects.filter(booking__in=[first, second])
    needed = sum(line.total for quote in quotes for line in quote.materials.filter(item=item))
    stock.count(item=item, counted=needed - SHORT_BY, by=owner, at=at, why="first count")


def _on_its_way(colours: dict[str, Colour], owner: User, *, today: date, at: datetime) -> None:
    """An order placed yesterday that brings sand 5-inch."""
    item = Item.objects.get(sort=Item.Sort.LATEX, colour=colours["sand"], size=5)
    offer = Offer.objects.filter(item=item).order_by("lead_days").first()
    if offer is None or not on_hand([item.pk])[item.pk]:
        raise AssertionError("the demo shelf lacks sand 5-inch")
    order = stock.plan_order(supplier=offer.supplier, lines=[(offer, 2)], by=owner, at=at)
    stock.place_order(order=order, on=today - timedelta(days=1), by=owner, at=at)


def _older_bags(colours: dict[str, Colour], owner: User, *, today: date, at: datetime) -> None:
    """Two bags of terracotta 11-inch that should be used before the spring."""
    item = Item.objects.get(sort=Item.Sort.LATEX, colour=colours["terracotta"], size=11)
    stock.receive(
        item=item,
        quantity=200,
        best_before=today + timedelta(days=100),
        place="back shelf",
        why="bought at a closing sale",
        by=owner,
        at=at,
    )


def _half_a_count(colours: dict[str, Colour], *, at: datetime) -> None:
    """Jan began to count the blush yesterday, and was called away."""
    jan = User.objects.get(username=CREW)
    for item in Item.objects.filter(sort=Item.Sort.LATEX, colour=colours["blush"], size__in=[5, 11]):
        stock.write_count(item=item, counted=on_hand([item.pk])[item.pk], by=jan, at=at)


def _long_over(colours: dict[str, Colour], owner: User, *, today: date, at: datetime) -> None:
    """Saturdays of some weeks ago: the jobs are wrapped up, and what came home is on the shelf."""
    event = first_saturday(today) - timedelta(weeks=5)
    asked_at = at - timedelta(days=(today - event).days + 21)
    jan = User.objects.get(username=CREW)
    wrapped_up_jobs(colours, owner=owner, crew=jan, event=event, at=asked_at)
