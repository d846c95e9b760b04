"""The weekly check over a shelf far larger than any studio's, beside bare SQL that only reads the same rows.

Run by name; not part of the tests: python -m pytest tests/bench/bench_cover_board.py -s
"""

import datetime as dt
import random
from collections.abc import Callable, Iterator
from math import log
from statistics import median
from time import process_time
from typing import Any

import pytest
from django.core.management import call_command
from django.db import connection

from stock.models import Colour, Item, Movement, Offer, Reservation, Supplier
from stock.queries import cover_board
from studio.models import User
from tests.databases import instead, settings_of
from tests.factories import NOON, TODAY

BOOKINGS, LINES, ITEMS, DAYS = 5_100, 306_000, 1_500, 540
SHORT = 0.1
"""The share of items that somebody will go without; the first few of them fill a page."""
ROUNDS = 7

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


@pytest.fixture(scope="module", params=[pytest.param(1, id="as it is"), pytest.param(3, id="a third")])
def shelf(request: Any, tmp_path_factory: pytest.TempPathFactory, django_db_blocker: Any) -> Iterator[int]:
    """A database in a file, filled in bulk."""
    folder = tmp_path_factory.mktemp("shelf")
    with instead(settings_of("", folder), django_db_blocker):
        call_command("migrate", verbosity=0)
        furnish(BOOKINGS // request.param, LINES // request.param, ITEMS // request.param)
        yield request.param


def read_only() -> int:
    """Every row the check is made from, and nothing done with it."""
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


def milliseconds(*acts: Callable[[], Any]) -> list[float]:
    """The median of each, done in turn, in time of the processor: nothing here waits for anything else."""
    taken: list[list[float]] = [[] for _ in acts]
    for _ in range(ROUNDS):
        for kept, act in zip(taken, acts, strict=True):
            begun = process_time()
            act()
            kept.append((process_time() - begun) * 1000)
    return [median(kept) for kept in taken]


FOUND: dict[int, float] = {}


def test_the_check_takes_little_longer_than_reading_what_it_is_made_from(shelf):
    lines, ratios, taken = LINES // shelf, [], []
    for _ in range(3):
        floor, ours = milliseconds(read_only, page)
        ratios.append(ours / floor)
        taken.append(ours)
        print(f"\n{lines:,} promises: bare SQL {floor:.0f} ms, the board {ours:.0f} ms, {ratios[-1]:.2f} times")
    FOUND[lines] = min(taken)
    assert read_only() == lines
    if lines == LINES:
        assert min(ratios) < 1.5
        assert min(taken) < 400


def test_time_grows_hardly_faster_than_the_promises():
    (small, quick), (large, slow) = sorted(FOUND.items())
    exponent = log(slow / quick) / log(large / small)
    print(f"\nexponent {exponent:.2f}")
    assert exponent < 1.15
