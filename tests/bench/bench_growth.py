"""How things grow from a studio's size to three and ten times that: the exponent of time over size.

1 is twice as long for twice as much; 0 is as long for however much. Run by name; not part of the tests:

    python -m pytest tests/bench/bench_growth.py -s
"""

import datetime as dt
import gc
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager
from decimal import Decimal
from pathlib import Path
from time import process_time
from typing import Any

import numpy as np
import pytest
from django.db import connection
from django.test import Client as Browser

from bookings.models import Booking, Client
from estimating.kinds import KINDS, GarlandSpec
from estimating.materials import MaterialRules, materials, together
from stock.models import Item, Order, OrderLine, Supplier
from stock.paperwork import order_pdf
from studio.backup import make_backup
from studio.models import Studio, User
from studio.press import PRESS
from studio.typesetting import answer
from tests.bench.bench_cover_board import furnish, whole
from tests.databases import Migrated, instead, settings_of
from tests.factories import NOON, TODAY

pytestmark = pytest.mark.sqlite
TIMES = (1, 3, 10)
ITEMS, PROMISES_OF_EACH, BOOKINGS = 60, 200, 400
ROUNDS = 3

Grown = Callable[[int], AbstractContextManager[Any]]


@pytest.fixture(scope="module")
def grown(tmp_path_factory: pytest.TempPathFactory, migrated: Migrated, django_db_blocker: Any) -> Grown:
    """Opens one of three studios, each with so many times the items, the promises, the jobs and the orders."""
    folders: dict[int, Path] = {times: tmp_path_factory.mktemp(f"studio{times}") for times in TIMES}
    for times, folder in folders.items():
        migrated.copied_to(folder)
        with instead(settings_of("", folder), django_db_blocker):
            items = ITEMS * times
            furnish(items * PROMISES_OF_EACH // 60, items * PROMISES_OF_EACH, items)
            live_in(BOOKINGS * times)
    return lambda times: instead(settings_of("", folders[times]), django_db_blocker)


def live_in(bookings: int) -> None:
    """So many jobs of as many clients, and an order for every fourth."""
    by, supplier = User.objects.get(), Supplier.objects.get()
    clients = Client.objects.bulk_create([Client(name=f"Client {n:05}") for n in range(bookings)])
    Booking.objects.bulk_create(
        [
            Booking(
                client=client, title=f"Job {n:05}", stage=("enquiry", "booked", "done")[n % 3], created_at=NOON,
                created_by=by, event_on=TODAY + dt.timedelta(days=n % 700 - 350),
                needed_on=TODAY + dt.timedelta(days=n % 700 - 351),
            )
            for n, client in enumerate(clients)
        ]
    )  # fmt: skip
    orders = Order.objects.bulk_create(
        [
            Order(supplier=supplier, state="placed", placed_on=TODAY, expected_on=TODAY, created_at=NOON, created_by=by)
            for _ in range(bookings // 4)
        ]
    )
    item = Item.objects.order_by("pk")[0]
    OrderLine.objects.bulk_create(
        [OrderLine(order=order, item=item, packs=1, pack_size=100, price_minor=1500) for order in orders]
    )
    with connection.cursor() as cursor:
        cursor.execute("ANALYZE")


def least(act: Callable[[], object]) -> float:
    """The least processor seconds of some rounds: whatever else the machine does only ever adds to them.

    As with `timeit`, nothing is looked over for garbage meanwhile: that depends on all else that is in memory.
    """
    act()
    taken = []
    for _ in range(ROUNDS):
        gc.collect()
        gc.disable()
        begun = process_time()
        act()
        taken.append(process_time() - begun)
        gc.enable()
    return min(taken)


def exponent(sizes: tuple[int, ...], seconds: list[float]) -> float:
    """The slope of log time over log size, by least squares."""
    return float(np.polyfit(np.log(sizes), np.log(seconds), 1)[0])


def check_growth(grown: Grown, act: Callable[[], object], most: float) -> None:
    """It grows by no more than that power in two of three goes: one may be spoilt by what else the machine does."""
    goes: list[bool] = []
    while goes.count(True) < 2:
        seconds = []
        for times in TIMES:
            with grown(times):
                seconds.append(least(act))
        grows = exponent(TIMES, seconds)
        print(f"\n{[f'{second * 1000:.1f} ms' for second in seconds]} at {TIMES} times: exponent {grows:.2f}")
        goes.append(grows <= most)
        assert goes.count(False) < 2, grows


def test_reckoning_every_item_through(grown: Grown):
    check_growth(grown, whole, 1.15)


@pytest.fixture
def signed_in(settings: Any) -> Iterator[Callable[[str], object]]:
    """Asks for a page as the owner, on whichever studio is open."""
    settings.ALLOWED_HOSTS = ["testserver"]
    browsers: dict[str, Browser] = {}

    def ask(address: str) -> object:
        place = str(connection.settings_dict["NAME"])
        if place not in browsers:
            browsers[place] = Browser()
            browsers[place].force_login(User.objects.get())
        response = browsers[place].get(address)
        assert response.status_code == 200, response
        return response

    yield ask


@pytest.mark.parametrize(
    "address", ["/bookings/", "/bookings/?q=Job+00017", "/clients/", "/clients/?q=00017", "/stock/orders/"]
)
def test_a_list_takes_as_long_however_much_there_is(grown: Grown, signed_in: Callable[[str], object], address: str):
    check_growth(grown, lambda: signed_in(address), 0.2)


def test_a_backup(grown: Grown, tmp_path: Path):
    check_growth(grown, lambda: make_backup(tmp_path, keep=1, at=NOON), 1.1)


def test_an_order_on_paper(monkeypatch: pytest.MonkeyPatch):
    """From thirty lines to three hundred, set in this program, whose processor seconds are counted."""
    monkeypatch.setattr(PRESS, "ask", lambda head, parts, *, answers: answer(head, parts))
    order = Order(pk=1, supplier=Supplier(name="Quay"))
    studio = Studio(name="Tern & Tide Balloons", currency="USD")

    def paper(rows: int) -> bytes:
        lines = [
            OrderLine(order=order, item=Item(sort="other", name=f"Thing {n}"), packs=2, pack_size=100, price_minor=1500)
            for n in range(rows)
        ]
        return order_pdf(order, lines, studio, made_at=NOON)

    sizes = (30, 90, 300)
    seconds = [least(lambda rows=rows: paper(rows)) for rows in sizes]  # type: ignore[misc]
    grows = exponent(sizes, seconds)
    print(f"\n{[f'{second * 1000:.0f} ms' for second in seconds]} of {sizes} lines: exponent {grows:.2f}")
    assert grows <= 1.2


def test_what_pieces_take():
    """The materials of ten, thirty and a hundred pieces of a job, added up."""
    spec = GarlandSpec(Decimal(3048), Decimal("406.4"), ((5, 40), (11, 60)), (("1", 50), ("2", 50)))
    layout, rules = KINDS["garland"].lay_out(spec), MaterialRules()
    sizes = (10, 30, 100)

    def taken(pieces: int) -> int:
        return len(together([materials(layout, rules=rules, outdoors=False) for _ in range(pieces)]))

    seconds = [least(lambda pieces=pieces: taken(pieces)) for pieces in sizes]  # type: ignore[misc]
    grows = exponent(sizes, seconds)
    print(f"\n{[f'{second * 1000:.1f} ms' for second in seconds]} of {sizes} pieces: exponent {grows:.2f}")
    assert grows <= 1.1
