"""How many movements are written in a second, and how long sixteen at one shelf wait for each other.

Run by name, on either database; not part of the tests:

    python -m pytest tests/bench/bench_writing.py -s
    bash tests/postgresql .venv/bin/python -m pytest tests/bench/bench_writing.py -s
"""

import random
import threading
from collections.abc import Callable
from statistics import median, quantiles
from time import perf_counter, process_time
from typing import Any

import pytest
from django.db import connection, connections, transaction

from stock import actions
from stock.models import Item, Movement, Reservation
from stock.queries import on_hand
from studio.models import User
from tests.databases import fresh_database
from tests.factories import NOON, TODAY, ColourFactory, ItemFactory, UserFactory

pytestmark = pytest.mark.both
WRITES, ROUNDS = 150, 7
CLIENTS, ITEMS, CONFIRMS = 16, 20, 12


@pytest.fixture(scope="module")
def shelf(tmp_path_factory, migrated, django_db_blocker):
    """Twenty items and somebody, in a database of their own that keeps what is written."""
    with fresh_database(tmp_path_factory.mktemp("writing"), migrated, django_db_blocker):
        yield UserFactory(), [ItemFactory(colour=ColourFactory()) for _ in range(ITEMS)]


def rate(act: Callable[[], Any]) -> float:
    """How often a second of the processor's time: what else it is busy with is not counted, nor waiting for a disk."""
    begun = process_time()
    for _ in range(WRITES):
        act()
    return WRITES / (process_time() - begun)


def test_a_receipt_is_not_much_slower_than_two_statements_in_a_transaction(shelf):
    """Every movement locks its item, looks at the rules and makes a lot: so many can still be written.

    Beside it, what any ledger would do at the least, by the same means: look up the item, write one row.
    """
    by, items = shelf
    item: Item = items[0]

    def bare() -> None:
        with transaction.atomic():
            found = Item.objects.get(pk=item.pk)
            Movement.objects.create(item=found, kind="counted", quantity=1, by=by, at=NOON)

    def ours() -> None:
        actions.receive(item=item, quantity=1, by=by, at=NOON)

    bare_rates, our_rates = [], []
    for _ in range(ROUNDS):
        bare_rates.append(rate(bare))
        our_rates.append(rate(ours))
    theirs, mine = median(bare_rates), median(our_rates)
    print(f"\n{connection.vendor}: bare {theirs:.0f}/s, a receipt {mine:.0f}/s, {mine / theirs:.2f} times")
    assert on_hand([item.pk])[item.pk] == 2 * ROUNDS * WRITES
    assert mine >= 0.35 * theirs
    assert mine >= 300


def hold_again_and_again(by: User, items: list[Item], client: int, first: int, waited: list[float]) -> None:
    """One client: so many bookings, each of all items in an order of its own."""
    chance = random.Random(client)
    for turn in range(CONFIRMS):
        needs = [(item.pk, chance.randint(1, 9)) for item in items]
        chance.shuffle(needs)
        begun = perf_counter()
        actions.reserve(
            needs=dict(needs), needed_on=TODAY, booking=first + client * CONFIRMS + turn, booking_name="A job",
            firm=True, by=by, at=NOON,
        )  # fmt: skip
        waited.append(perf_counter() - begun)


def all_at_once(clients: int, by: User, items: list[Item], first: int) -> tuple[float, list[float], list[Exception]]:
    """Confirmations a second, how long each took, and what went wrong."""
    waited: list[float] = []
    wrong: list[Exception] = []
    barrier = threading.Barrier(clients + 1)

    def run(client: int) -> None:
        try:
            connections["default"].ensure_connection()
            barrier.wait(timeout=60)
            hold_again_and_again(by, items, client, first, waited)
        except Exception as error:
            wrong.append(error)
        finally:
            connections.close_all()

    threads = [threading.Thread(target=run, args=[client]) for client in range(clients)]
    for thread in threads:
        thread.start()
    barrier.wait(timeout=60)
    begun = perf_counter()
    for thread in threads:
        thread.join(timeout=300)
    return clients * CONFIRMS / (perf_counter() - begun), waited, wrong


def test_sixteen_who_confirm_the_same_items_at_once_hardly_slow_each_other_down(shelf):
    """A Saturday's bookings all want black and white: whoever has to wait may not wait long, and nobody may fail."""
    by, items = shelf
    alone, _, _ = all_at_once(1, by, items, 1)
    together, waited, wrong = all_at_once(CLIENTS, by, items, 10_000)
    p95, longest = quantiles(waited, n=20)[-1], max(waited)
    print(
        f"\n{connection.vendor}: one {alone:.0f}/s, sixteen {together:.0f}/s ({together / alone:.2f} times), "
        f"95 % within {p95:.2f} s, the longest {longest:.2f} s"
    )
    assert wrong == []
    assert Reservation.objects.open().count() == (CLIENTS + 1) * CONFIRMS * ITEMS
    assert together >= 0.5 * alone
    assert p95 <= 1
    assert longest <= 3
