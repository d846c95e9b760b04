"""Long walks over everything that can happen to a shelf: whatever the order, it adds up after each step."""

import os
import re

import pytest
from django.db import connection, transaction

from stock.actions import swaps
from tests.stock.walks.walk import Walk, WentWrongError

pytestmark = pytest.mark.django_db

BY_NIGHT = os.environ.get("GARLANDRY_CASES") == "nightly"
STEPS = 2_000 if BY_NIGHT else 150
# A walk is about sums, and PostgreSQL adds up as SQLite does: by day a few show that it can be asked everything.
WALKS = 5 if connection.vendor == "postgresql" and not BY_NIGHT else 20
SEEDS = [int(os.environ["GARLANDRY_SEED"])] if "GARLANDRY_SEED" in os.environ else range(WALKS)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_walk_adds_up_after_each_step(seed):
    """With `GARLANDRY_SEED` that walk alone is walked again."""
    Walk(seed).steps(STEPS)


def went_wrong(seed: int) -> str:
    """What is said of a walk that goes wrong, of which nothing stays."""
    with transaction.atomic():
        with pytest.raises(WentWrongError) as caught:
            Walk(seed).steps(400)
        transaction.set_rollback(True)
    return str(caught.value)


def test_a_walk_that_goes_wrong_says_its_seed_and_goes_wrong_there_again(monkeypatch):
    """What a swap needs is taken even where nobody has it free."""
    monkeypatch.setattr(swaps, "free_on", lambda items, day, today: dict.fromkeys(items, 10**6))
    first = went_wrong(3)
    assert re.match(r"GARLANDRY_SEED=3 goes wrong in swap, step \d+: AssertionError\('not refused", first)
    assert went_wrong(3).partition(":")[0] == first.partition(":")[0]


def test_a_walk_notices_a_promise_that_loses_its_place(monkeypatch):
    monkeypatch.setattr("stock.actions.promises._kept", lambda earlier, wanted: [])
    assert "a promise is lost, or made up" in went_wrong(5)
