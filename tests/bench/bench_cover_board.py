"""The weekly check over a shelf far larger than any studio's, beside bare SQL that only reads the same rows.

Run by name; not part of the tests: python -m pytest tests/bench/bench_cover_board.py -s
"""

import datetime as dt
import random
from collections.abc import Callable
from contextlib import AbstractContextManager
from functools import partial
from math import log
from statistics import median
from time import process_time
from typing import Any

import pytest
from django.core.management import call_command
from django.db import connection

from stock.models import Colour, Item, Movement, Offer, Reservation, Supplier
from stock.queries import cover_board, free_on
from stock.queries.board_facts import Facts
from studio.models import User
from tests.databases import instead, settings_of
from tests.factories import NOON, TODAY

BOOKINGS, LINES, ITEMS, DAYS = 5_100, 306_000, 1_500, 540
SHORT = 0.1
"""The share of items that somebody will go without; the first few of them fill a page."""
ROUNDS = 7

Shelves = Callable[[int], AbstractContextManager[Any]]
FLOOR = (
    "SELECT id, item_id, needed_on, booking, booking_name, quantity, firm FROM stock_reservation"
    " WHERE closed_at IS NULL AND firm ORDER BY item_id, id"
)


def furnish(bookings: int, lines: int, items: int) -> None:
    """A shelf of `items`, and `bookings` that hold `lines` of them over a year and a half."""
    chance = random.Random(7)
    by = User.objects.create(username=f"bench{items}", role="owner")
    colours = Colour.objects.bulk_create(
        [Colour(name=f"Colour {n}", swatch="#1b1b1f", position=n) for n in range(-(-items // 14))]
    )
    sizes = (3, 5, 6, 9, 10, 11, 12, 14, 16, 17, 18, 24, 30, 36)
    listed = Item.objects.bulk_create([Item(colour=colours[n // 14], size=sizes[n % 14]) for n in range(items)])
    supplier = Supplier.objects.create(name="Quayside")
    Offer.objects.bulk_create(
        [Offer(supplier=supplier, item=item, pack_size=100, price_minor=1500, lead_days=5) for item in listed]
    )
    held: dict[int, int] = dict.fromkeys((item.pk for item in listed), 0)
    rows = []
    for number in range(bookings):
        day = TODAY + dt.timedelta(days=chance.randrange(DAYS))
        for item in chance.sample(listed, lines // bookings):
            quantity = chance.randint(1, 60)
            held[item.pk] += quantity
            rows.append(
                Reservation(
                    item=item, quantity=quantity, needed_on=day, booking=number + 1, booking_name=f"Job {number + 1}",
                    firm=True, made_at=NOON,
                )
            )  # fmt: skip
    Reservation.objects.bulk_create(rows, batch_size=5_000)
    Movement.objects.bulk_create(
        [
            Movement(item=item, kind="counted", by=by, at=NOON, quantity=have)
            for n, item in enumerate(listed)
            # Spread over the shelf: some run short within weeks, the rest have enough for every promise.
            for have in [held[item.pk] // 20 if n % round(1 / SHORT) == 0 else held[item.pk] + 50]
        ],
        batch_size=5_000,
    )
    with connection.cursor() as cursor:
        cursor.execute("ANALYZE")


@pytest.fixture(scope="module")
def shelves(tmp_path_factory: pytest.TempPathFactory, django_db_blocker: Any) -> Shelves:
    """Opens one of two databases in files, filled in bulk: the whole shelf (1), and a third of it (3).

    An item is promised as often in either: the third has a third of the items, the bookings and the promises.
    """
    at = {}
    for part in (1, 3):
        at[part] = settings_of("", tmp_path_factory.mktemp("shelf"))
        with instead(at[part], django_db_blocker):
            call_command("migrate", verbosity=0)
            furnish(BOOKINGS // part, LINES // part, ITEMS // part)
    return lambda part: instead(at[part], django_db_blocker)


def read_only() -> int:
    """Every row the check is made from, in order, and nothing done with it."""
    with connection.cursor() as cursor:
        return len(cursor.execute(FLOOR).fetchall())


def page() -> Any:
    """What the page shows: the sentence, the cards, two hundred rows with their weeks."""
    board = cover_board(TODAY)
    rows = board.rows[:200]
    return (
        board.sentence,
        board.covered_count,
        [(row.sentence, row.what_to_do, row.cells(board.mondays)) for row in rows],
    )


def whole(item_ids: list[int] | None = None) -> list[tuple[Any, ...]]:
    """Every item, or some, reckoned through, whether it is short or not: when, and who goes without."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Facts, "is_plenty_of", lambda facts, item: False)
        return [(row.weekly, row.cover.hit) for row in cover_board(TODAY, item_ids=item_ids).rows]


def of_a_quote() -> list[int]:
    """Twenty-six items from all over the shelf."""
    keys = list(Item.objects.order_by("pk").values_list("pk", flat=True))
    return keys[:: len(keys) // 26][:26]


def milliseconds(*acts: Callable[[], Any]) -> list[float]:
    """The median of each, done in turn, in time of the processor: nothing here waits for anything else."""
    taken: list[list[float]] = [[] for _ in acts]
    for _ in range(ROUNDS):
        for kept, act in zip(taken, acts, strict=True):
            begun = process_time()
            act()
            kept.append((process_time() - begun) * 1000)
    return [median(kept) for kept in taken]


def slope(small: float, large: float, times: float = 3) -> float:
    """By what power of its size something grows that takes so long at a size, and so long at some times that."""
    return log(large / small) / log(times)


def test_the_page_takes_little_longer_than_reading_what_it_is_made_from(shelves):
    """Whoever opens the check must not wait: it is looked at every morning, on a phone.

    Beside it, bare SQL that reads the same promises in order of items and of promises, and does nothing with them.
    """
    ratios, taken = [], []
    with shelves(1):
        assert read_only() == LINES
        for _ in range(3):
            floor, ours = milliseconds(read_only, page)
            ratios.append(ours / floor)
            taken.append(ours)
            print(f"\n{LINES:,} promises: bare SQL {floor:.0f} ms, the page {ours:.0f} ms, {ratios[-1]:.2f} times")
    assert min(ratios) < 1.5
    assert min(taken) < 400


def test_reckoning_every_item_through_takes_little_longer_than_reading_the_promises(shelves):
    """A shelf that is short of everything is reckoned whole: nothing may be hidden in what is usually left out."""
    with shelves(1):
        floor, ours = milliseconds(read_only, whole)
    print(f"\nbare SQL {floor:.0f} ms, every item {ours:.0f} ms, {ours / floor:.2f} times")
    assert ours / floor < 2.2


def test_whether_a_quote_can_be_promised_is_answered_while_it_is_typed(shelves):
    """Asked after every change of a quote, of twenty-six items: a small part of the whole check, at most a twelfth."""
    with shelves(1):
        items = of_a_quote()
        all_of_it, ours = milliseconds(whole, lambda: free_on(items, TODAY + dt.timedelta(days=30), TODAY))
    print(f"\nevery item {all_of_it:.0f} ms, twenty-six can be promised {ours:.1f} ms: 1/{all_of_it / ours:.0f}")
    assert ours < all_of_it / 12
    assert ours < 25


def test_what_one_yes_touches_is_reckoned_again_at_once_however_many_bookings_there_are(shelves):
    """After a yes the booking's own items are checked again; bookings that hold none of them must cost nothing."""
    found = {}
    for part in (3, 1):
        with shelves(part):
            items = of_a_quote()
            all_of_it, found[part] = milliseconds(whole, partial(whole, items))
    grows, share = slope(found[3], found[1]), all_of_it / found[1]
    print(f"\nevery item {all_of_it:.0f} ms, twenty-six {found[1]:.1f} ms: 1/{share:.0f}, exponent {grows:.2f}")
    assert found[1] < all_of_it / 10
    assert grows < 0.3


def test_time_grows_hardly_faster_than_the_promises(shelves):
    """Three times the items and the bookings may take three times as long, and hardly more."""
    found = {}
    for part in (3, 1):
        with shelves(part):
            found[part] = milliseconds(page, whole)
    pages, wholes = (slope(small, large) for small, large in zip(found[3], found[1], strict=True))
    print(f"\nexponents: the page {pages:.2f}, every item {wholes:.2f}")
    assert pages < 1.15
    assert wholes < 1.15
