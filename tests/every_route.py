"""Every address there is, and a studio that has something to show at each of them.

A route added later is covered as it is. One with a parameter of a new name needs an object for it in `Things`.
"""

import datetime as dt
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import Any

import pytest
from django.urls import URLPattern, URLResolver, get_resolver, reverse

from bookings.actions.dates import calendar_token, make_calendar_link
from bookings.models import (
    Acceptance,
    AmountDue,
    Booking,
    CalendarLink,
    Charge,
    CreditNote,
    DayOff,
    Entry,
    HistoryEntry,
    InvoiceLine,
    Photo,
    Piece,
    Place,
    Posting,
    Question,
    Quote,
    QuoteOpening,
)
from estimating.kinds import KINDS, CountedSpec
from estimating.models import Favourite, Rates
from stock.models import CountSheet, DoubleRecipe, Item, Lot, Order, Spreadsheet
from studio.access import Access, access_of
from studio.models import OutgoingMail, Studio, User
from studio.outbox.queue import Letter, post
from tests.factories import (
    INVOICE_TOLD,
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
    token_of,
)

CANARY = 791_937
CANARY_WRITTEN = ("791937", "7919.37", "7,919.37", "7.919,37", "7 919", "7919,37")
"""An amount nobody would choose, and the ways it might be written."""


@dataclass(frozen=True)
class Route:
    """One address pattern: its full name, its parameters, and the view behind it."""

    name: str
    path: str
    parameters: frozenset[str]
    view: Callable[..., Any] = field(compare=False)

    @property
    def access(self) -> Access | None:
        """The policy its view declares."""
        return access_of(self.view)

    def addresses(self, things: "Things") -> list[str]:
        """Where it is found in this studio: one address for each set of things it can show."""
        found = [reverse(self.name, kwargs={name: named[name] for name in self.parameters}) for named in things.sets]
        return list(dict.fromkeys(found))


def routes() -> list[Route]:
    """Every route of the URLconf, included ones too."""

    def walk(patterns: list[URLPattern | URLResolver], prefix: str, space: str) -> Iterator[Route]:
        for pattern in patterns:
            if isinstance(pattern, URLResolver):
                inner = f"{space}{pattern.namespace}:" if pattern.namespace else space
                yield from walk(pattern.url_patterns, prefix + str(pattern.pattern), inner)
            else:
                path = prefix + str(pattern.pattern)
                converters = frozenset(pattern.pattern.converters)
                yield Route(f"{space}{pattern.name}", path, converters, pattern.callback)

    return list(walk(get_resolver().url_patterns, "", ""))


def named_routes(*policies: Access) -> list[Any]:
    """Routes as parameters of a test, each under its path: those with one of the policies, or all."""
    return [pytest.param(route, id=route.path or "/") for route in routes() if not policies or route.access in policies]


EVERY_ROUTE = named_routes()


@dataclass(frozen=True)
class Things:
    """A furnished studio. `sets` are parameters that belong together: a booking, its piece, its quote."""

    owner: User
    crew: User
    sets: list[dict[str, Any]]


def _a_job(stage: Booking.Stage, owner: User, item: Any, line: Any, offer: Any) -> dict[str, Any]:
    """A booking at a stage with everything hanging on it, and every amount of it the canary."""
    booking = BookingFactory(
        client=ClientFactory(name="Ines Vale", phone="+1 555 0142", email="ines@example.org"),
        title=f"Winter gala, {stage}",
        stage=stage,
        event_on=TODAY + dt.timedelta(days=12),
        needed_on=TODAY + dt.timedelta(days=11),
        budget="about 7,919.37",
        wants="A garland over the door.",
        distance=12,
        travel_minutes=25,
        created_by=owner,
    )
    spec = CountedSpec(lines=((item.colour.key, 11, 12),))
    piece = Piece.objects.create(
        booking=booking,
        name="Door garland",
        kind="counted",
        spec=spec.to_json() | {"typed": {}},
        layout=KINDS["counted"].lay_out(spec).to_json(),
    )
    photo = Photo.objects.create(
        booking=booking,
        name=f"{booking.pk:032x}",
        full=b"jpeg",
        picture=b"jpeg",
        width=40,
        height=30,
        added_at=NOON,
        added_by=owner,
    )
    quote = QuoteFactory(
        booking=booking,
        issued_by=owner,
        needed_on=TODAY + dt.timedelta(days=11),
        valid_until=dt.date(2199, 1, 1),
        price_minor=CANARY,
        tax_minor=0,
        deposit_minor=CANARY,
        cost_minor=CANARY,
        reasons={},
    )
    quoted_piece = QuotePieceFactory(
        quote=quote, position=0, price_minor=CANARY, spec=piece.spec, layout=piece.layout, kind="counted"
    )
    QuoteMaterialFactory(quote=quote, item=item)
    QuoteOpening.objects.create(quote=quote, at=NOON, what="page")
    HistoryEntry.objects.create(booking=booking, at=NOON, by=owner, what="Quoted at $7,919.37.", money=True)
    ReservationFactory(item=item, booking=booking.pk, booking_name=booking.title, firm=stage == Booking.Stage.BOOKED)
    MovementFactory(item=item, by=owner, booking=booking.pk)
    lot = Lot.objects.create(item=item, received_on=TODAY, best_before=TODAY + dt.timedelta(days=20))
    MovementFactory(item=item, by=owner, lot=lot, kind="received", quantity=40)
    kit = KitFactory(wear_minor=CANARY)
    promise = KitPromiseFactory(kit=kit, booking=booking.pk, booking_name=booking.title)
    rows = [["colour", "size", "price"], ["Ink", "11", "7,919.37"]]
    spreadsheet = Spreadsheet.objects.create(name="shelf.csv", rows=rows, sent_at=NOON, sent_by=owner)
    if stage in (Booking.Stage.BOOKED, Booking.Stage.DONE):
        Acceptance.objects.create(quote=quote, name="Ines Vale", at=NOON)
    AmountDue.objects.create(booking=booking, quote=quote, kind="deposit", amount_minor=CANARY, due_on=TODAY)
    Place.objects.create(booking=booking, address="Corn Hall\n11 Market Row", contact_phone="555-0171", point_grams=900)
    money = _money_of(booking, quote, owner)
    words = "$7,919.37 is the total.\n\n{link}"
    letter = Letter("quote", "ines@example.org", "Ines Vale", "$7,919.37", words, f"quote:{quote.pk}")
    post(letter, key=f"quote:{quote.pk}", about=booking.pk, base="", at=NOON, by=owner)
    return money | {
        "booking_id": booking.pk,
        "client_id": booking.client.pk,
        "other_id": ClientFactory(name="Ines Vale again", phone="1 555 0142").pk,
        "piece_id": piece.pk,
        "charge_id": Charge.objects.create(booking=booking, name="Take-down", amount_minor=CANARY).pk,
        "photo": photo.name,
        "kind": "counted",
        "favourite_id": Favourite.objects.create(name=f"Our {stage} door", kind="counted", spec=piece.spec).pk,
        "quote_id": quote.pk,
        "token": token_of(quote),
        "feed_token": _a_calendar_link(owner),
        "accent": "1f5a4a",
        "position": quoted_piece.position,
        "item_id": item.pk,
        "colour_id": item.colour.pk,
        "supplier_id": offer.supplier.pk,
        "offer_id": offer.pk,
        "order_id": line.order.pk,
        "line_id": line.pk,
        "person_id": owner.pk,
        "day_off_id": DayOff.objects.get_or_create(person=owner, first=TODAY, last=TODAY)[0].pk,
        "lot_id": lot.pk,
        "sheet_id": CountSheet.objects.get_or_create(is_open=True, started_at=NOON, started_by=owner)[0].pk,
        "kit_id": kit.pk,
        "promise_id": promise.pk,
        "spreadsheet_id": spreadsheet.pk,
        "table": "offers",
        "setting": "minutes-make",
        "purpose": "quote",
        "question_id": _a_question(quote),
        "mail_id": OutgoingMail.objects.get(key=f"quote:{quote.pk}").pk,
        "recipe_id": DoubleRecipe.objects.create(
            outer=item.colour, inner=ColourFactory(), looks_like=ColourFactory(), swatch="#22314f"
        ).pk,
    }


def _a_question(quote: Quote) -> int:
    """Something the client asked, with the canary in it."""
    text = "Is $7,919.37 with delivery?"
    return Question.objects.create(booking=quote.booking, quote=quote, text=text, asked_at=NOON).pk


def _a_calendar_link(owner: User) -> str:
    """The token of the owner's own calendar."""
    kept = CalendarLink.objects.filter(person=owner).first() or make_calendar_link(person=owner, at=NOON)
    return calendar_token(kept.salt)


def _money_of(booking: Booking, quote: Quote, owner: User) -> dict[str, Any]:
    """A payment that is all credit, an invoice that was taken back, and an entry in the books: all of the canary."""
    written = {"net_minor": CANARY, "tax_minor": 0, "issued_by": owner, "told": INVOICE_TOLD | {"total": CANARY}}
    invoice = InvoiceFactory(quote=quote, **written)
    InvoiceLine.objects.create(
        invoice=invoice, position=0, what="Door garland", net_minor=CANARY, tax_minor=0, note="12 balloons"
    )
    note = CreditNote.objects.create(
        number=invoice.number, invoice=invoice, total_minor=CANARY, currency="USD", issued_on=TODAY, issued_at=NOON,
        pdf=b"%PDF", pdf_sha256="", **written,
    )  # fmt: skip
    payment = PaymentFactory(booking=booking, amount_minor=CANARY, surplus_minor=CANARY, left_minor=CANARY, by=owner)
    lines = [("cash", CANARY, 0), ("credit", 0, CANARY)]
    Posting.objects.bulk_create(
        Posting(entry_id=payment.number, account=account, debit_minor=debit, credit_minor=credit)
        for account, debit, credit in lines
    )
    Entry.objects.create(
        number=payment.number, on=TODAY, at=NOON, what="Payment", currency="USD", client=booking.client,
        booking=booking, payment=payment,
    )  # fmt: skip
    return {"invoice_id": invoice.pk, "payment_id": payment.pk, "note_id": note.pk}


def furnished() -> Things:
    """A studio with a job at every stage and an order in every state, and one amount in every place for money."""
    Studio.objects.create(pk=1, name="Tern & Tide Balloons", email="hello@ternandtide.example")
    Rates.objects.create(
        pk=1, **{name.attname: CANARY for name in Rates._meta.fields if name.attname.endswith("_minor")}
    )
    owner = UserFactory(username="otti", first_name="Otti", role=User.Role.OWNER)
    crew = UserFactory(username="pim", first_name="Pim", role=User.Role.CREW)
    supplier = SupplierFactory(name="Harbour Party Supply")
    states = [Order.State.PLANNED, Order.State.PLACED, Order.State.RECEIVED, Order.State.CANCELLED]
    sets = []
    for number, stage in enumerate(Booking.Stage):
        item = ItemFactory(colour=ColourFactory(), size=11, keep_back=5)
        offer = OfferFactory(supplier=supplier, item=item, price_minor=CANARY)
        state = states[number % len(states)]
        days = {"placed_on": TODAY, "expected_on": TODAY + dt.timedelta(days=4)}
        order = OrderFactory(
            supplier=supplier, state=state, created_by=owner, **({} if state == Order.State.PLANNED else days)
        )
        line = OrderLineFactory(order=order, item=item, price_minor=CANARY)
        sets.append(_a_job(stage, owner, item, line, offer))
    ItemFactory(sort=Item.Sort.LINE, colour=None, size=None, name="Fishing line", unit="ft")
    assert Quote.objects.count() == len(sets)
    return Things(owner, crew, sets)
