"""The least that is valid, one factory a model. A test says only what matters to it."""

import datetime as dt

import factory
from factory.django import DjangoModelFactory

from bookings.models import Booking, Client
from stock.models import Colour, Item, Movement, Offer, Order, OrderLine, Reservation, Supplier
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
