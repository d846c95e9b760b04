"""More of everything, so that what a page asks once a row shows, and how long it takes for many."""

import datetime as dt
from itertools import count
from typing import Any

from django.utils import timezone

from bookings.models import (
    Acceptance,
    Acknowledgement,
    AmountDue,
    Booking,
    BringTick,
    Charge,
    Client,
    DateHold,
    DayOff,
    HistoryEntry,
    InvoiceLine,
    OnTheJob,
    Photo,
    Piece,
    PullTick,
    Question,
    QuoteOpening,
    WorkDay,
    WrapUp,
    WrapUpLine,
)
from estimating.models import Favourite
from stock.models import (
    Colour,
    CountLine,
    DoubleRecipe,
    Item,
    Kit,
    KitMovement,
    KitPromise,
    Lot,
    Movement,
    Order,
    Reservation,
    Spreadsheet,
    Supplier,
)
from studio.models import OutgoingMail, User
from studio.outbox.queue import Letter, post
from tests.every_route import Things
from tests.factories import (
    NOON,
    TODAY,
    BookingFactory,
    ClientFactory,
    ColourFactory,
    InvoiceFactory,
    ItemFactory,
    KitFactory,
    KitPromiseFactory,
    MovementFactory,
    OfferFactory,
    OrderFactory,
    OrderLineFactory,
    PaymentFactory,
    QuoteFactory,
    QuoteMaterialFactory,
    QuotePieceFactory,
    ReservationFactory,
    SupplierFactory,
    UserFactory,
)

_numbers = count(1)


def add_rows(things: Things, *, times: int) -> None:
    """So many times one more of everything a page lists: on the shelf, in the studio, and at each of its jobs."""
    for n in (next(_numbers) for _ in range(times)):
        person = _person(n)
        items = _shelf(n, things.owner)
        CountLine.objects.create(
            sheet_id=things.sets[0]["sheet_id"], item=items[0], counted=3, expected=3, at=NOON, by=person
        )
        for named in things.sets:
            booking = Booking.objects.select_related("client").get(pk=named["booking_id"])
            _at_a_job(n, booking, named, person, items[-1])
            client = ClientFactory(name=f"Tomas {n} {booking.stage}", phone=f"+1 555 0{100 + n}")
            for whose in (booking.client, client):
                _another_job(whose, booking.stage, things.owner, items[-1], kit=named["kit_id"])


def _person(n: int) -> User:
    person: User = UserFactory(username=f"helping{n}", first_name=f"Hand {n}", role=User.Role.CREW)
    for weekday in range(5):
        WorkDay.objects.create(person=person, weekday=weekday, minutes=480)
    DayOff.objects.create(person=person, first=TODAY + dt.timedelta(days=n), last=TODAY + dt.timedelta(days=n + 1))
    return person


def _shelf(n: int, owner: User) -> list[Item]:
    """A colour in two sizes with a recipe, a supplier with offers, an order in each state, kit, a spreadsheet."""
    colour, supplier = ColourFactory(name=f"Tone {n}"), SupplierFactory(name=f"Quay {n}")
    items: list[Item] = [ItemFactory(colour=colour, size=size, keep_back=4) for size in (5, 11)]
    items.append(ItemFactory(sort="item", colour=None, size=None, name=f"Eucalyptus {n}"))
    DoubleRecipe.objects.create(outer=colour, inner=ColourFactory(), looks_like=ColourFactory(), swatch="#22314f")
    days = {"placed_on": TODAY, "expected_on": TODAY + dt.timedelta(days=4)}
    for item in items:
        OfferFactory(supplier=supplier, item=item)
        MovementFactory(item=item, by=owner, quantity=3)
    for state in Order.State:
        order = OrderFactory(supplier=supplier, state=state, created_by=owner, **({} if state == "planned" else days))
        for item in items:
            OrderLineFactory(order=order, item=item)
    kit = KitFactory(name=f"Ladder {n}", sort="ladder", height_mm=2400)
    KitMovement.objects.create(kit=kit, kind="got", quantity=1, at=NOON, by=owner)
    Spreadsheet.objects.create(name=f"shelf-{n}.csv", rows=[["colour"], ["Ink"]], sent_at=NOON, sent_by=owner)
    return items


def _at_a_job(n: int, booking: Booking, named: dict[str, Any], person: User, item: Item) -> None:
    """One more of everything that hangs on a job that is there, and on what it names."""
    kept = Piece.objects.get(pk=named["piece_id"])
    quote = booking.quotes.get(pk=named["quote_id"])
    piece = Piece.objects.create(
        booking=booking, name=f"Swag {n}", kind=kept.kind, spec=kept.spec, layout=kept.layout, position=n
    )
    Favourite.objects.create(name=f"Our {booking.stage} swag {n}", kind=piece.kind, spec=piece.spec)
    Photo.objects.create(
        booking=booking, name=f"{1000 * n + booking.pk:032x}", full=b"jpeg", picture=b"jpeg", width=40, height=30,
        added_at=NOON, added_by=person,
    )  # fmt: skip
    Charge.objects.create(booking=booking, name=f"Late evening {n}", amount_minor=900)
    HistoryEntry.objects.create(booking=booking, at=NOON, by=person, what=f"Something {n}.")
    OnTheJob.objects.create(booking=booking, person=person)
    DateHold.objects.create(booking=booking, until=TODAY + dt.timedelta(days=5), made_at=NOON, let_go_at=NOON)
    Question.objects.create(booking=booking, quote=quote, text=f"And {n}?", asked_at=NOON)
    QuoteOpening.objects.create(quote=quote, at=NOON, what="page")
    Acknowledgement.objects.create(
        booking=booking, key="exits", state="unmet", sentence="The exits.", source="A rule", stamp=f"{n}", name="Mo",
        reason="They know", at=NOON, by=person,
    )  # fmt: skip
    BringTick.objects.create(booking=booking, key=f"thing-Tape {n}", at=NOON, by=person)
    PullTick.objects.create(booking=booking, item=item, asked=4, taken=2, at=NOON, by=person)
    _money(n, booking, named, person)
    letter = Letter("quote", "ines@example.org", "Ines Vale", f"Once more {n}", "Hello.\n\n{link}", f"quote:{quote.pk}")
    post(letter, key=f"again:{booking.pk}:{n}", about=booking.pk, base="", at=NOON, by=person)
    ReservationFactory(item=item, booking=booking.pk, booking_name=booking.title, firm=booking.stage == "booked")
    MovementFactory(item=item, by=person, booking=booking.pk, kind="used", quantity=-2)
    KitPromiseFactory(kit=KitFactory(name=f"Hoop {booking.pk}-{n}"), booking=booking.pk, booking_name=booking.title)
    shelved = Item.objects.get(pk=named["item_id"])
    lot = Lot.objects.create(item=shelved, received_on=TODAY, best_before=TODAY + dt.timedelta(days=20 + n))
    MovementFactory(item=shelved, by=person, lot=lot, kind="received", quantity=4)
    OfferFactory(
        supplier=Supplier.objects.get(pk=named["supplier_id"]), item=ItemFactory(colour=shelved.colour, size=12 + n)
    )
    OrderLineFactory(order=Order.objects.get(pk=named["order_id"]), item=item)
    DayOff.objects.create(
        person_id=named["person_id"], first=TODAY + dt.timedelta(days=10 * n + booking.pk), last=dt.date(2199, 1, 1)
    )


def _money(n: int, booking: Booking, named: dict[str, Any], person: User) -> None:
    quote = booking.quotes.get(pk=named["quote_id"])
    AmountDue.objects.get_or_create(
        booking=booking, kind="balance", defaults={"quote": quote, "amount_minor": 900, "due_on": TODAY}
    )
    PaymentFactory(booking=booking, amount_minor=900, left_minor=900, surplus_minor=900, by=person)
    InvoiceLine.objects.create(
        invoice_id=named["invoice_id"], position=n, what=f"Swag {n}", net_minor=9, tax_minor=0, note=""
    )
    InvoiceFactory(quote=quote, issued_by=person)


def _another_job(client: Client, stage: str, owner: User, item: Item, *, kit: int) -> None:
    """A job of a client, with pieces, an offer and what it holds; it is promised that kit too."""
    n = next(_numbers)
    day = TODAY + dt.timedelta(days=3 + n % 20)
    booking = BookingFactory(
        client=client, title=f"Fair {n}, {stage}", stage=stage, event_on=day, needed_on=day,
        hang_height_mm=2700, created_by=owner,
    )  # fmt: skip
    kept = Piece.objects.filter(kind="counted").order_by("pk").first()
    assert kept is not None
    for position, name in enumerate(("Door", "Stage")):
        Piece.objects.create(
            booking=booking, name=name, position=position, kind=kept.kind, spec=kept.spec, layout=kept.layout
        )
    quote = QuoteFactory(booking=booking, issued_by=owner, needed_on=day, valid_until=dt.date(2199, 1, 1), reasons={})
    QuotePieceFactory(quote=quote, position=0, spec=kept.spec, layout=kept.layout, kind="counted")
    QuoteMaterialFactory(quote=quote, item=item)
    QuoteOpening.objects.create(quote=quote, at=NOON, what="page")
    AmountDue.objects.create(booking=booking, quote=quote, kind="deposit", amount_minor=900, due_on=TODAY)
    Question.objects.create(booking=booking, quote=quote, text="Is it far?", asked_at=NOON)
    ReservationFactory(
        item=item, booking=booking.pk, booking_name=booking.title, firm=stage == "booked", needed_on=day, quantity=40
    )
    KitPromiseFactory(kit=KitFactory(name=f"Arch {stage} {n}"), booking=booking.pk, out_on=day, back_on=day)
    KitPromiseFactory(kit=Kit.objects.get(pk=kit), booking=booking.pk, booking_name=booking.title)
    if stage in ("booked", "done"):
        Acceptance.objects.create(quote=quote, name="Tomas", at=NOON)
    if stage in ("enquiry", "quoted"):
        DateHold.objects.create(booking=booking, until=day, made_at=NOON)
    if stage == "done":
        done = WrapUp.objects.create(booking=booking, at=NOON, by=owner, outdoors=False)
        WrapUpLine.objects.create(wrap_up=done, item=item, needed=10, taken=12, used=9, popped=1, home=2)


def fill_lists(number: int, *, by: User, start: int = 0) -> None:
    """So many more rows in every list: a client with a booked job that holds an item and kit, and has a letter."""
    today, rows = timezone.localdate(), range(start, start + number)
    days = {n: today + dt.timedelta(days=1 + n % 60) for n in rows}
    clients = Client.objects.bulk_create(Client(name=f"Client {n}") for n in rows)
    jobs = Booking.objects.bulk_create(
        Booking(
            client=client,
            title=f"Job {n}",
            stage="booked",
            event_on=days[n],
            needed_on=days[n],
            created_at=NOON,
            created_by=by,
        )
        for n, client in zip(rows, clients, strict=True)
    )
    colours = Colour.objects.bulk_create(Colour(name=f"Colour no. {n}", swatch="#1b1b1f") for n in rows)
    items = Item.objects.bulk_create(Item(sort="latex", colour=colour, size=11) for colour in colours)
    kits = Kit.objects.bulk_create(Kit(name=f"Frame no. {n}") for n in rows)
    for item in items:
        Movement.objects.create(item=item, kind="counted", quantity=3, at=NOON, by=by)
    for kit in kits:
        KitMovement.objects.create(kit=kit, kind="got", quantity=1, at=NOON, by=by)
    for n, job, item, kit in zip(rows, jobs, items, kits, strict=True):
        hold(job, item, on=days[n])
        promise(job, kit, on=days[n], by=by)
        write(job)


def hold(job: Booking, item: Item, *, on: dt.date) -> None:
    Reservation.objects.create(
        item=item, quantity=5, needed_on=on, booking=job.pk, booking_name=job.title, firm=True, made_at=NOON
    )


def promise(job: Booking, kit: Kit, *, on: dt.date, by: User) -> None:
    KitPromise.objects.create(
        kit=kit, quantity=1, out_on=on, back_on=on, booking=job.pk, booking_name="A job", made_at=NOON, made_by=by
    )


def write(job: Booking) -> None:
    number = OutgoingMail.objects.count()
    OutgoingMail.objects.create(
        key=f"letter {number}", purpose="quote", about=job.pk, to_address="ines@filmsociety.example", subject="Yours",
        from_name="Tern & Tide", text="Here it is.", made_at=NOON, due_at=NOON,
    )  # fmt: skip
