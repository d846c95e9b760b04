"""The least that is valid, one factory a model. A test says only what matters to it."""

import datetime as dt
import hashlib
from typing import Any

import factory
from django.conf import settings
from factory.django import DjangoModelFactory

from bookings.cautions import cautions_for
from bookings.links import hash_of, new_salt, token_for
from bookings.models import Booking, Client, Invoice, Payment, Quote, QuoteMaterial, QuotePiece
from stock.models import (
    Colour,
    Item,
    Kit,
    KitMovement,
    KitPromise,
    Movement,
    Offer,
    Order,
    OrderLine,
    Reservation,
    Supplier,
)
from studio.models import User

NOON = dt.datetime(2026, 6, 1, 12, 0, tzinfo=dt.UTC)
TODAY = dt.date(2026, 6, 1)
"""A Monday, far from every clock change."""


class UserFactory(DjangoModelFactory):
    class Meta:
        model = User

    username = factory.Sequence(lambda n: f"person{n}")
    role = User.Role.OWNER


class ColourFactory(DjangoModelFactory):
    class Meta:
        model = Colour

    name = factory.Sequence(lambda n: f"Colour {n}")
    swatch = "#1b1b1f"


class ItemFactory(DjangoModelFactory):
    class Meta:
        model = Item

    sort = Item.Sort.LATEX
    colour = factory.SubFactory(ColourFactory)
    size = 11


class SupplierFactory(DjangoModelFactory):
    class Meta:
        model = Supplier

    name = factory.Sequence(lambda n: f"Supplier {n}")


class OfferFactory(DjangoModelFactory):
    class Meta:
        model = Offer

    supplier = factory.SubFactory(SupplierFactory)
    item = factory.SubFactory(ItemFactory)
    pack_size = 100
    price_minor = 1500
    lead_days = 3


class OrderFactory(DjangoModelFactory):
    class Meta:
        model = Order

    supplier = factory.SubFactory(SupplierFactory)
    created_at = NOON
    created_by = factory.SubFactory(UserFactory)


class OrderLineFactory(DjangoModelFactory):
    class Meta:
        model = OrderLine

    order = factory.SubFactory(OrderFactory)
    item = factory.SubFactory(ItemFactory)
    packs = 1
    pack_size = 100
    price_minor = 1500


class MovementFactory(DjangoModelFactory):
    class Meta:
        model = Movement

    item = factory.SubFactory(ItemFactory)
    kind = Movement.Kind.COUNTED
    quantity = 100
    at = NOON
    by = factory.SubFactory(UserFactory)


class ReservationFactory(DjangoModelFactory):
    class Meta:
        model = Reservation

    item = factory.SubFactory(ItemFactory)
    quantity = 10
    needed_on = TODAY + dt.timedelta(days=10)
    booking = factory.Sequence(lambda n: n + 1)
    booking_name = factory.LazyAttribute(lambda made: f"Job {made.booking}")
    firm = True
    made_at = NOON


class KitFactory(DjangoModelFactory):
    """Kit, of which one is owned unless `owned` says how many."""

    class Meta:
        model = Kit
        skip_postgeneration_save = True

    name = factory.Sequence(lambda n: f"Arch frame {n}")

    @factory.post_generation
    def owned(self, create: bool, extracted: int | None, **kwargs: Any) -> None:
        """What is owned, as the one movement there is."""
        owned = 1 if extracted is None else extracted
        if owned:
            KitMovement.objects.create(kit=self, kind="got", quantity=owned, at=NOON, by=UserFactory())


class KitPromiseFactory(DjangoModelFactory):
    class Meta:
        model = KitPromise

    kit = factory.SubFactory(KitFactory)
    quantity = 1
    out_on = TODAY + dt.timedelta(days=10)
    back_on = TODAY + dt.timedelta(days=12)
    booking = factory.Sequence(lambda n: n + 1)
    booking_name = factory.LazyAttribute(lambda made: f"Job {made.booking}")
    firm = True
    made_at = NOON
    made_by = factory.SubFactory(UserFactory)


class ClientFactory(DjangoModelFactory):
    class Meta:
        model = Client

    name = factory.Sequence(lambda n: f"Client {n}")


class BookingFactory(DjangoModelFactory):
    class Meta:
        model = Booking

    client = factory.SubFactory(ClientFactory)
    created_at = NOON
    created_by = factory.SubFactory(UserFactory)


TOLD: dict[str, Any] = {
    "studio": {
        "name": "Tern & Tide Balloons",
        "email": "hello@tern-and-tide.example",
        "phone": "+1 555 0142",
        "address": "4 Rope Walk, Port Alder",
    },
    "client": "Ines Vale",
    "title": "Film society winter gala",
    "number": 7,
    "version": 2,
    "day": "Saturday 12 December 2026",
    "ready_by": "14:00",
    "place": "Corn Hall",
    "terms": "The deposit holds your date. The balance is due a week before the event.",
    "cautions": cautions_for(outdoors=False),
    "tax_percent": "8.25",
    "valid_until": "Monday 15 June",
    "changes": [],
}
"""What a client is told, as a quote keeps it."""


class QuoteFactory(DjangoModelFactory):
    """An issued quote whose link is known: `token_of(quote)` makes its token."""

    class Meta:
        model = Quote

    booking = factory.SubFactory(BookingFactory, stage=Booking.Stage.QUOTED)
    number = factory.Sequence(lambda n: n + 1)
    version = 1
    issued_at = NOON
    issued_by = factory.SubFactory(UserFactory)
    valid_until = TODAY + dt.timedelta(days=14)
    needed_on = TODAY + dt.timedelta(days=30)
    currency = "USD"
    price_minor = 124_000
    tax_minor = 10_230
    total_minor = factory.LazyAttribute(lambda made: made.price_minor + made.tax_minor)
    deposit_minor = 62_000
    cost_minor = 40_000
    person_minutes = 480
    told = factory.LazyAttribute(lambda made: TOLD | {"number": made.number, "version": made.version})
    reasons = factory.LazyFunction(dict)
    pdf = b"%PDF-1.7 as it was issued"
    pdf_sha256 = factory.LazyAttribute(lambda made: hashlib.sha256(made.pdf).hexdigest())
    link_salt = factory.LazyFunction(new_salt)
    link_hash = factory.LazyAttribute(lambda made: hash_of(token_for(made.link_salt, key=settings.LINK_KEY)))


def token_of(quote: Any) -> str:
    """The token of the quote's link, as the client was sent it."""
    return token_for(quote.link_salt, key=settings.LINK_KEY)


class PaymentFactory(DjangoModelFactory):
    class Meta:
        model = Payment

    number = factory.Sequence(lambda n: n + 1)
    booking = factory.SubFactory(BookingFactory)
    client = factory.LazyAttribute(lambda made: made.booking.client)
    currency = "USD"
    amount_minor = 62_000
    left_minor = 0
    method = "transfer"
    received_on = TODAY
    by = factory.SubFactory(UserFactory)
    at = NOON


INVOICE_TOLD = {
    "studio": TOLD["studio"],
    "name": "Invoice 7",
    "kind": "Invoice for all of it",
    "client": "Ines Vale",
    "contact": "ines@example.org",
    "title": "Film society winter gala",
    "when": "Saturday 12 December 2026",
    "issued": "1 June 2026",
    "about": "Quote 7, version 2, accepted 1 June 2026",
    "currency": "USD",
    "lines_head": "For",
    "lines": [{"what": "The full curtain", "note": "30 ft garland", "net": 124_000, "tax": 10_230}],
    "each_line": False,
    "shows_tax": True,
    "net": 124_000,
    "tax": 10_230,
    "tax_percent": "8.25",
    "total": 134_230,
    "total_words": "To pay",
    "dues": [{"what": "Deposit", "amount": 62_000, "on": "1 June 2026"}],
    "pay_to": ["Harbour Bank, account 0142"],
    "remarks": [],
}
"""What an invoice says, as it keeps it."""


class InvoiceFactory(DjangoModelFactory):
    class Meta:
        model = Invoice

    number = factory.Sequence(lambda n: n + 1)
    quote = factory.SubFactory(QuoteFactory)
    booking = factory.LazyAttribute(lambda made: made.quote.booking)
    client = factory.LazyAttribute(lambda made: made.booking.client)
    kind = "whole"
    currency = "USD"
    issued_on = TODAY
    issued_at = NOON
    issued_by = factory.SubFactory(UserFactory)
    net_minor = 124_000
    tax_minor = 10_230
    total_minor = factory.LazyAttribute(lambda made: made.net_minor + made.tax_minor)
    told = factory.LazyAttribute(lambda made: INVOICE_TOLD | {"name": f"Invoice {made.number}"})
    pdf = b"%PDF-1.7 as it was issued"
    pdf_sha256 = factory.LazyAttribute(lambda made: hashlib.sha256(made.pdf).hexdigest())


class QuotePieceFactory(DjangoModelFactory):
    class Meta:
        model = QuotePiece

    quote = factory.SubFactory(QuoteFactory)
    position = factory.Sequence(lambda n: n)
    name = "The full curtain"
    kind = "garland"
    spec = factory.LazyFunction(dict)
    layout = factory.LazyFunction(dict)
    description = "30 ft garland in ink, sand and terracotta"
    balloons = 3
    colours = factory.LazyFunction(
        lambda: [
            {"name": "Ink", "swatch": "#1f2a44", "ink": "#fffdf9", "count": 2},
            {"name": "Sand", "swatch": "#e6dac6", "ink": "#211c2b", "count": 1},
        ]
    )
    price_minor = 124_000
    picture = (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="-10 -10 300.5 120" role="img">'
        '<circle cx="5" cy="5" r="5" fill="#1f2a44"/></svg>'
    )


class QuoteMaterialFactory(DjangoModelFactory):
    class Meta:
        model = QuoteMaterial

    quote = factory.SubFactory(QuoteFactory)
    item = factory.SubFactory(ItemFactory)
    item_label = "Ink 11-inch"
    needed = 100
    spares = 6
