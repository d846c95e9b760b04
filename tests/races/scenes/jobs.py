"""Jobs and their quotes over the shelf."""

import datetime as dt
from collections.abc import Callable

from bookings import actions as bookings
from bookings.models import Booking, Quote
from stock import actions as stock
from stock.models import Item
from tests.factories import (
    NOON,
    TODAY,
    BookingFactory,
    QuoteFactory,
    QuoteMaterialFactory,
)
from tests.races.scenes.ground import SOON, Done, have, held, next_job, stocked
from tests.races.schedules import Scene


def a_quote(done: Done, items: list[Item]) -> Quote:
    booking = BookingFactory(stage="quoted", event_on=SOON + dt.timedelta(days=next_job() % 300), created_by=done.by)
    quote = QuoteFactory(booking=booking, number=next_job(), issued_by=done.by)
    for item in items:
        QuoteMaterialFactory(quote=quote, item=item, needed=20, spares=1)
    return quote


def yes(quote: Quote) -> Callable[[], object]:
    return lambda: bookings.accept_quote(
        quote=Quote.objects.get(pk=quote.pk), name="Ines", today=TODAY, at=NOON, address=None, browser=""
    )


def of_the_job(quote: Quote, items: list[Item]) -> Callable[[], object]:
    def seen() -> object:
        job = Booking.objects.get(pk=quote.booking_id)
        days = {day for _, _, _, day in held(job.pk, items)}
        firm = [(item, quantity) for item, firm, quantity, _ in held(job.pk, items) if firm]
        follows = days <= {job.needed_on}
        return job.stage, firm, follows, have(items), Quote.objects.get(pk=quote.pk).withdrawn_at

    return seen


def a_quote_is_accepted_while_it_is_withdrawn(done: Done) -> Scene:
    items = stocked(done, 50)
    quote = a_quote(done, items)
    return Scene(
        yes(quote),
        lambda: bookings.withdraw_quote(quote=Quote.objects.get(pk=quote.pk), **done.said),
        of_the_job(quote, items),
    )


def a_quote_is_accepted_while_its_job_is_lost(done: Done) -> Scene:
    items = stocked(done, 50)
    quote = a_quote(done, items)
    return Scene(
        yes(quote),
        lambda: bookings.lose_booking(booking=Booking.objects.get(pk=quote.booking_id), why="", **done.said),
        of_the_job(quote, items),
    )


def a_job_is_loaded_while_it_is_called_off(done: Done) -> Scene:
    items = stocked(done, 50)
    quote = a_quote(done, items)
    yes(quote)()
    job = Booking.objects.get(pk=quote.booking_id)
    bookings.tick_rest(booking=job, **done.said)
    return Scene(
        lambda: bookings.issue_materials(booking=Booking.objects.get(pk=job.pk), **done.said),
        lambda: bookings.cancel_booking(booking=Booking.objects.get(pk=job.pk), why="", **done.said),
        of_the_job(quote, items),
    )


def the_last_bag_is_accepted_while_another_takes_it(done: Done) -> Scene:
    items = stocked(done, 21)
    quote = a_quote(done, items)
    return Scene(
        yes(quote),
        lambda: stock.use(item=items[0], quantity=21, **done.said),
        of_the_job(quote, items),
    )


SCENES = [
    a_quote_is_accepted_while_it_is_withdrawn,
    a_quote_is_accepted_while_its_job_is_lost,
    a_job_is_loaded_while_it_is_called_off,
    the_last_bag_is_accepted_while_another_takes_it,
]
