"""What wrapped-up jobs teach the estimates to come."""

import pytest

from bookings.models import Booking, WrapUp, WrapUpLine
from bookings.queries.estimates import estimate_of
from bookings.queries.seen import Seen, seen
from estimating.kinds import CountedSpec, counted
from estimating.learning import Beta, PopsSeen
from estimating.materials import count_with_spares
from estimating.queries import PieceToMake
from stock.models import Colour, Item
from studio.models import User
from tests.factories import NOON, BookingFactory, ColourFactory, ItemFactory

pytestmark = pytest.mark.django_db


def wrapped_up(owner: User, *lines: tuple[Item, int, int, int], outdoors: bool = False, **fields: str) -> Booking:
    """A job that was counted: items with how many were needed, used and popped."""
    booking: Booking = BookingFactory(created_by=owner, **fields)
    made = WrapUp.objects.create(booking=booking, at=NOON, by=owner, outdoors=outdoors)
    for item, needed, used, popped in lines:
        WrapUpLine.objects.create(
            wrap_up=made, item=item, needed=needed, taken=used + popped, used=used, popped=popped, home=0
        )
    return booking


@pytest.fixture
def black() -> Item:
    return ItemFactory(colour=ColourFactory(name="Black"), size=11)


def test_before_the_first_wrap_up_nothing_was_seen():
    assert seen() == Seen((), ())


def test_pops_are_added_up_by_size_and_by_place(owner, black):
    other, small = ItemFactory(size=11), ItemFactory(size=5)
    wrapped_up(owner, (black, 100, 98, 4), (small, 40, 40, 1))
    wrapped_up(owner, (other, 50, 50, 6))
    wrapped_up(owner, (black, 60, 60, 9), outdoors=True)

    assert seen().pops == (PopsSeen(5, False, 41, 1), PopsSeen(11, False, 158, 10), PopsSeen(11, True, 69, 9))
    assert seen().balloons == ((250, 268),)


def test_foil_and_what_is_no_balloon_teach_nothing_of_pops(owner):
    foil = ItemFactory(colour=ColourFactory(finish=Colour.Finish.FOIL), size=18)
    hook = ItemFactory(sort=Item.Sort.HOOK, colour=None, size=None, name="Hook")
    wrapped_up(owner, (foil, 10, 10, 2), (hook, 5, 5, 1))

    assert seen() == Seen(((10, 12),), (PopsSeen(18, False, 0, 0),))


def test_a_cancelled_job_teaches_nothing(owner, black):
    wrapped_up(owner, (black, 100, 0, 80), stage=Booking.Stage.CANCELLED)
    assert seen() == Seen()


def test_it_is_asked_as_little_however_many_jobs_there_were(owner, black, django_assert_num_queries):
    for _ in range(5):
        wrapped_up(owner, (black, 100, 98, 4))
    with django_assert_num_queries(1):
        seen()


def test_the_next_estimate_takes_spares_by_what_popped(owner, black):
    spec = CountedSpec(lines=((black.colour.key, 11, 200),))
    piece = PieceToMake("Heap", "counted", spec, counted.lay_out(spec))
    booking = BookingFactory(created_by=owner)
    before = estimate_of([piece], booking, "USD")
    wrapped_up(owner, (black, 1000, 900, 100))
    after = estimate_of([piece], booking, "USD")

    assert before.lines[0].total == count_with_spares(200, 0.03, 0.95)
    assert after.lines[0].total == Beta(112, 1288).to_inflate(200, 0.95) > before.lines[0].total
    assert after.count_range.high - after.count_range.low < before.count_range.high - before.count_range.low
