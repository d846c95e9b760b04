"""Holding sixty items for a job, beside the bare statements that write the same rows.

Run by name; not part of the tests: python -m pytest tests/bench/bench_confirm.py -s
"""

from statistics import median
from time import process_time

import pytest
from django.core.management import call_command
from django.db import connection, transaction
from django.test.utils import CaptureQueriesContext

from stock import actions
from stock.models import Reservation
from tests.databases import instead, settings_of
from tests.factories import NOON, TODAY, ColourFactory, ItemFactory, UserFactory

ROUNDS = 15
INSERT = (
    "INSERT INTO stock_reservation (item_id, quantity, needed_on, booking, booking_name, firm, made_at)"
    " VALUES (%s, 5, '2026-07-01', %s, 'A job', 1, '2026-06-01 12:00:00')"
)


@pytest.fixture(scope="module")
def shelf(tmp_path_factory, django_db_blocker):
    """Sixty items in a file, and somebody."""
    with instead(settings_of("", tmp_path_factory.mktemp("confirm")), django_db_blocker):
        call_command("migrate", verbosity=0)
        yield UserFactory(), [ItemFactory(colour=ColourFactory()).pk for _ in range(60)]


def confirm(by, items, booking):
    actions.reserve(
        needs=dict.fromkeys(items, 5), needed_on=TODAY, booking=booking, booking_name="A job", firm=True, by=by, at=NOON
    )


def bare(items, booking):
    with transaction.atomic(), connection.cursor() as cursor:
        cursor.executemany(INSERT, [(item, booking) for item in items])


def test_a_promise_of_sixty_items_takes_at_most_twenty_times_the_bare_statements(shelf):
    by, items = shelf
    ratios, booking = [], 0
    for _ in range(3):
        ours, theirs = [], []
        for _ in range(ROUNDS):
            booking += 2
            begun = process_time()
            confirm(by, items, booking)
            between = process_time()
            bare(items, booking + 1)
            ours.append(between - begun)
            theirs.append(process_time() - between)
        ratios.append(median(ours) / median(theirs))
        print(f"\nours {median(ours) * 1000:.1f} ms, bare {median(theirs) * 1000:.2f} ms, {ratios[-1]:.1f} times")
    assert Reservation.objects.open().filter(booking__lt=90_000).count() == 2 * 3 * ROUNDS * 60
    assert min(ratios) <= 20


def test_it_asks_as_often_for_five_items_as_for_sixty(shelf):
    by, items = shelf
    asked = []
    for count, booking in ((5, 90_001), (60, 90_002)):
        with CaptureQueriesContext(connection) as queries:
            confirm(by, items[:count], booking)
        asked.append(len(queries))
    print(f"\nstatements for 5 and for 60 items: {asked}")
    assert abs(asked[0] - asked[1]) <= 3
