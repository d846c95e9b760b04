"""What the kit promised to a booking loses by it is part of its price, and the price opens to it."""

import pytest
from django.urls import reverse

from bookings import actions
from bookings.actions import QuoteRefused
from bookings.paperwork import prepare_quote
from bookings.queries import booking_estimate
from stock import actions as stock
from studio.models import Studio
from tests.factories import NOON, TODAY, KitFactory, KitPromiseFactory

pytestmark = pytest.mark.django_db


def promise(booking, **fields):
    return KitPromiseFactory(booking=booking.pk, booking_name=booking.shown_title, **fields)


def wear_line(booking):
    estimate = booking_estimate(booking, currency="USD")
    assert estimate
    return [minor for label, minor, _ in estimate.reasons if label == "Kit wear"]


def test_a_booking_without_kit_has_no_wear(priced):
    assert wear_line(priced) == []


def test_every_one_of_the_kit_wears(priced):
    promise(priced, kit=KitFactory(wear_minor=450))
    promise(priced, kit=KitFactory(wear_minor=125), quantity=4)
    assert wear_line(priced) == [950]


def test_what_was_let_go_wears_nothing_and_what_is_back_wore(priced, owner):
    kept, gone = (promise(priced, kit=KitFactory(wear_minor=450)) for _ in range(2))
    stock.take_kit_out(promises=[kept.pk], by=owner, at=NOON)
    stock.bring_kit_back(promises=[kept.pk], by=owner, at=NOON)
    stock.let_kit_go(booking=priced.pk, kit=gone.kit, by=owner, at=NOON)
    assert wear_line(priced) == [450]


def test_the_kit_of_another_booking_wears_nothing_here(priced):
    KitPromiseFactory(kit=KitFactory(wear_minor=450), booking=priced.pk + 1)
    assert wear_line(priced) == []


def test_wear_makes_the_price_higher(priced):
    before = booking_estimate(priced, currency="USD")
    promise(priced, kit=KitFactory(wear_minor=100_000))
    after = booking_estimate(priced, currency="USD")
    assert before
    assert after
    assert after.price_minor > before.price_minor
    assert after.cost_minor > before.cost_minor + 99_999


def test_the_owner_opens_the_wear_to_the_kit_it_came_from(priced, owner_client, crew_client):
    promise(priced, kit=KitFactory(name="Base plate", wear_minor=125), quantity=4)
    page = reverse("bookings:detail", args=[priced.pk])
    assert "4 × <bdi>Base plate</bdi>" in owner_client.get(page).content.decode()
    crews = crew_client.get(page).content.decode()
    assert "Kit wear" not in crews
    assert "$5.00" not in crews


def test_a_quote_is_refused_where_its_kit_has_changed_meanwhile(priced, owner):
    paper = prepare_quote(priced, studio=Studio.objects.current(), today=TODAY, at=NOON)
    promise(priced, kit=KitFactory(wear_minor=450))
    with pytest.raises(QuoteRefused):
        actions.issue_quote(paper=paper, by=owner, at=NOON)
