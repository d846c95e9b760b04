"""Many at once, on a database of their own: what they do is committed, and a ledger cannot be emptied between tests."""

import threading
from collections.abc import Callable, Iterator, Sequence
from typing import Any, TypeVar

import pytest
from django.db import connections

from stock.models import Item
from studio.models import User
from tests.databases import Migrated, fresh_database
from tests.factories import ItemFactory, UserFactory
from tests.races.schedules import Stage

Result = TypeVar("Result")

OFTEN = 200
"""How often a check whose lock was taken away is made until it finds the fault; most find it the first time."""


@pytest.fixture(scope="module")
def shared(
    tmp_path_factory: pytest.TempPathFactory, migrated: Migrated, django_db_blocker: Any
) -> Iterator[dict[str, str]]:
    """The database of a module's tests; each test makes what it looks at."""
    folder = tmp_path_factory.mktemp("races")
    with fresh_database(folder, migrated, django_db_blocker) as environment:
        yield environment


@pytest.fixture
def by(shared: dict[str, str]) -> User:
    """An owner."""
    return UserFactory()


@pytest.fixture
def new_item(shared: dict[str, str]) -> Callable[[], Item]:
    """Lists another item."""
    return ItemFactory


def at_once(acts: Sequence[Callable[[], Result]]) -> list[Result | Exception]:
    """Do all of it at the same moment, each on a connection of its own; what each returned or raised, in order."""
    barrier = threading.Barrier(len(acts))
    results: list[Result | Exception] = [AssertionError("it never ended")] * len(acts)

    def run(place: int) -> None:
        try:
            connections["default"].ensure_connection()
            barrier.wait(timeout=120)
            results[place] = acts[place]()
        except Exception as error:
            results[place] = error
        finally:
            connections.close_all()

    threads = [threading.Thread(target=run, args=[place]) for place in range(len(acts))]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(timeout=120)
    return results


@pytest.fixture
def together() -> Callable[..., list[Any]]:
    """Runs acts at the same moment."""
    return at_once


@pytest.fixture
def stage(shared: dict[str, str]) -> Iterator[Stage]:
    """Two hands whose statements are put in order."""
    made = Stage()
    yield made
    made.leave()
