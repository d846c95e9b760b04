"""A database that fails in the middle: what was begun is undone, whichever statement it fails at."""

from collections.abc import Callable
from typing import Any

import pytest
from django.apps import apps
from django.db import OperationalError, connection

from bookings import actions as bookings
from bookings.models import Acceptance, Booking
from stock import actions as stock
from stock.models import CountSheet, Order
from stock.queries import on_hand, taken_for
from tests.factories import (
    NOON,
    TODAY,
    BookingFactory,
    ItemFactory,
    MovementFactory,
    OrderFactory,
    OrderLineFactory,
    QuoteFactory,
    QuoteMaterialFactory,
    ReservationFactory,
    UserFactory,
)

pytestmark = pytest.mark.django_db

OURS = ("stock", "bookings", "estimating", "studio")


class FailsAt:
    """Lets so many statements through, fails once, and counts."""

    def __init__(self, place: int) -> None:
        self.place, self.asked = place, 0

    def __call__(self, execute: Callable[..., Any], sql: str, params: Any, many: bool, context: Any) -> Any:
        """A wrapper of statements, as Django calls it. Undoing is never made to fail: that is the database's own."""
        if sql.startswith("ROLLBACK"):
            return execute(sql, params, many, context)
        self.asked += 1
        if self.asked == self.place:
            raise OperationalError("disk I/O error")
        return execute(sql, params, many, context)


def everything() -> dict[str, list[dict[str, Any]]]:
    """Every row of every table of ours."""
    models = [model for model in apps.get_models() if model._meta.app_label in OURS]
    return {model._meta.label: list(model._default_manager.order_by("pk").values()) for model in models}


def receiving() -> Callable[[], object]:
    by = UserFactory()
    order = OrderFactory(state=Order.State.PLACED, placed_on=TODAY, expected_on=TODAY)
    lines = [OrderLineFactory(order=order) for _ in range(2)]
    return lambda: stock.receive_order(order=order, quantities={line.pk: 100 for line in lines}, by=by, at=NOON)


def accepting() -> Callable[[], object]:
    booking = BookingFactory(stage=Booking.Stage.QUOTED, event_on=TODAY)
    quote = QuoteFactory(booking=booking)
    items = [QuoteMaterialFactory(quote=quote).item for _ in range(2)]
    for firm, wanted in ((False, 106), (True, 30)):
        stock.reserve(
            needs={item.pk: wanted for item in items},
            needed_on=TODAY,
            booking=booking.pk,
            booking_name="Gala",
            firm=firm,
            by=None,
            at=NOON,
        )
    said: dict[str, Any] = {"name": "Ines Vale", "address": None, "browser": "a test"}
    return lambda: bookings.accept_quote(quote=quote, today=TODAY, at=NOON, **said)


def finishing() -> Callable[[], object]:
    by = UserFactory()
    for n in range(2):
        item = ItemFactory()
        stock.receive(item=item, quantity=50, by=by, at=NOON)
        MovementFactory(item=item, quantity=10)
        stock.write_count(item=item, counted=52 + n, by=by, at=NOON)
        stock.explain_count(item=item, why="popped", by=by, at=NOON)
    sheet = CountSheet.objects.get()
    return lambda: stock.finish_count(sheet=sheet, by=by, at=NOON)


def _ticked_job() -> tuple[Booking, Any]:
    """A booked job with two lines ticked on its pull list, and who ticked them."""
    by = UserFactory()
    booking = BookingFactory(stage=Booking.Stage.BOOKED, needed_on=TODAY, event_on=TODAY)
    for item in (ItemFactory(), ItemFactory()):
        stock.receive(item=item, quantity=50, by=by, at=NOON)
        ReservationFactory(item=item, booking=booking.pk, quantity=30)
    bookings.tick_rest(booking=booking, by=by, at=NOON)
    return booking, by


def issuing() -> Callable[[], object]:
    booking, by = _ticked_job()
    return lambda: bookings.issue_materials(booking=booking, by=by, at=NOON)


def wrapping_up() -> Callable[[], object]:
    booking, by = _ticked_job()
    bookings.issue_materials(booking=booking, by=by, at=NOON)
    counted = dict.fromkeys(taken_for(booking.pk), bookings.Counted(used=20, popped=3, home=7))
    return lambda: bookings.wrap_up(booking=booking, counted=counted, by=by, at=NOON)


@pytest.mark.parametrize(
    ("prepare", "least"),
    [
        pytest.param(receiving, 8, id="an order is received"),
        pytest.param(accepting, 12, id="a quote is accepted"),
        pytest.param(finishing, 8, id="a count is finished"),
        pytest.param(issuing, 8, id="a job is taken off the shelf"),
        pytest.param(wrapping_up, 12, id="a job is wrapped up"),
    ],
)
def test_whichever_statement_fails_all_is_done_or_nothing(prepare, least):
    act = prepare()
    before = everything()
    place, failed = 1, True
    while failed:
        wrapper = FailsAt(place)
        with connection.execute_wrapper(wrapper):
            try:
                act()
                failed = False
            except OperationalError:
                assert wrapper.asked >= place
        assert (everything() == before) is failed, f"half done at statement {place}"
        place += 1
    assert place - 2 >= least


def test_what_failed_can_be_done_again():
    act = receiving()
    with connection.execute_wrapper(FailsAt(7)), pytest.raises(OperationalError):
        act()
    act()
    assert sorted(on_hand().values()) == [100, 100]


def test_a_yes_that_failed_is_no_yes():
    act = accepting()
    with connection.execute_wrapper(FailsAt(9)), pytest.raises(OperationalError):
        act()
    assert not Acceptance.objects.exists()
    assert Booking.objects.get().stage == Booking.Stage.QUOTED
