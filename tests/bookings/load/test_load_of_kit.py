"""Frames and kit on a job's page: what they weigh and take up, and what nobody has weighed."""

from decimal import Decimal

import pytest

from bookings.models import Booking
from stock.models import Item
from tests.bookings.load.conftest import about, card
from tests.factories import KitFactory, KitPromiseFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def framed(garland, owner):
    """A garland with two frames and a stand."""

    def make(frame: int | None, stand: int | None = None) -> Booking:
        frames, stands = (
            Item.objects.update_or_create(sort="other", name=name, defaults={"piece_milligrams": milligrams})[0]
            for name, milligrams in (("Arch frame", frame), ("Stand", stand))
        )
        booking: Booking = garland()
        piece = booking.pieces.get()
        spec = piece.spec | {"extras": [[str(frames.pk), 2], [str(stands.pk), 1]]}
        booking.pieces.update(spec=spec)
        return booking

    return make


def test_things_off_the_shelf_weigh_what_somebody_weighed_one_at(framed):
    light = about(card(framed(1, 1), "metric"), "Garland")
    heavy = about(card(framed(2_500_000, 1_000_000), "metric"), "Garland")

    assert "frames and the like 6 kg" in heavy.more
    assert "Nobody has weighed" not in heavy.more
    # 6 kg more on five points, of which those between bear a quarter.
    assert "A point bears 1.6 kg" in heavy.answer.sentence
    assert heavy.answer.state == "stop"
    assert light.answer.state == "fine"


def test_things_nobody_has_weighed_are_named_and_never_pass_as_fine(framed):
    told = about(card(framed(None)), "Garland")

    assert told.answer.state == "care"
    assert "Arch frame and Stand come on top: what they weigh is not known." in told.answer.sentence
    assert "Nobody has weighed Arch frame and Stand: weigh one when you count the shelf." in told.more


def test_the_van_names_what_nobody_has_said_the_room_of(framed):
    more = about(card(framed(1)), "Van").more
    assert "What Arch frame and Stand take up is not written down: it comes on top." in more
    Item.objects.filter(name="Stand").update(room_millilitres=28_317)
    more = about(card(framed(1)), "Van").more
    assert "1.0 ft³ of it is for Stand. What Arch frame takes up is not written down: it comes on top." in more


def test_things_and_kit_fill_the_van_and_cost_it_trips(framed):
    booking = framed(1)
    Item.objects.filter(name="Arch frame").update(room_millilitres=1_415_842)  # 50 cubic feet each, and two go.
    Item.objects.filter(name="Stand").update(room_millilitres=283_168)
    bare = about(card(booking, van_cubic_feet=Decimal(140)), "Van")
    KitPromiseFactory(booking=booking.pk, kit=KitFactory(name="Base plate", room_millilitres=566_337), quantity=3)
    KitPromiseFactory(booking=booking.pk, kit=KitFactory(name="Lead"), quantity=1)
    told = about(card(booking, van_cubic_feet=Decimal(140)), "Van")

    assert bare.answer.sentence == "Inflated, it all goes in 1 van load."
    assert "110 ft³ of it is for Arch frame and Stand." in bare.more
    assert told.answer.sentence.startswith("Inflated, it all goes in 2 van loads.")
    assert "170 ft³ of it is for Arch frame, Stand and Base plate." in told.more
    assert "What Lead takes up is not written down: it comes on top." in told.more


def test_a_metric_studio_reads_the_van_in_cubic_metres(framed):
    booking = framed(1, 1)
    Item.objects.filter(sort="other").update(room_millilitres=40_000)
    more = about(card(booking, "metric"), "Van").more
    assert "yours holds 7.1 m³." in more
    assert "0.12 m³ of it is for Arch frame and Stand." in more


def test_kit_is_weighed_with_the_van(garland):
    booking = garland()
    KitPromiseFactory(kit=KitFactory(name="Hoop", weight_grams=4_000), quantity=2, booking=booking.pk)
    told = about(card(booking, "metric"), "Kit")

    assert told.answer.state == "fine"
    assert told.answer.sentence == "What goes along and comes back weighs 8 kg."
    assert told.more == "What a point bears of it is not reckoned: 2 Hoop."


def test_kit_nobody_has_weighed_is_named(garland):
    booking = garland()
    KitPromiseFactory(kit=KitFactory(name="Hoop", weight_grams=4_000), booking=booking.pk)
    KitPromiseFactory(kit=KitFactory(name="Arch frame"), booking=booking.pk)
    KitPromiseFactory(kit=KitFactory(name="Of another job"), booking=booking.pk + 1)
    told = about(card(booking, "metric"), "Kit")

    assert told.answer.state == "care"
    assert told.answer.sentence.endswith("What Arch frame weighs is not written down: it comes on top.")
    assert "Of another job" not in told.answer.sentence + told.more


def test_a_job_without_kit_says_nothing_of_kit(garland):
    assert "Kit" not in {told.about for told in card(garland()).told}
