"""The cast: an owner, one of the crew, and a stranger; and a fixed day."""

import contextlib
import datetime as dt
import os
import sqlite3
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from django.conf import settings as our_settings
from django.core.cache import cache
from django.db import connection
from django.test import Client as Browser
from hypothesis import settings as cases

# Before any setting is read: tests speak plain HTTP to themselves and keep nothing.
os.environ.setdefault("DJANGO_ALLOW_ASYNC_UNSAFE", "true")

from studio import pdf
from studio.models import User
from tests.blank_paper import BlankPress
from tests.databases import Migrated, migrated_in
from tests.factories import NOON, TODAY, UserFactory

# A push is judged by the same cases every time, whoever runs it; looking for new ones is a night's work.
cases.register_profile("push", derandomize=True, deadline=None)
cases.register_profile("nightly", derandomize=False, deadline=None, max_examples=200, print_blob=True)
cases.load_profile(os.environ.get("GARLANDRY_CASES", "push"))

# Published figures ask no database, and the libraries they are compared with take seconds to load.
collect_ignore = ["outside"] if os.environ.get("DATABASE_URL") else []
DATABASE_FIXTURES = {"db", "transactional_db", "things", "shared"}


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """With DATABASE_URL only what can come out otherwise on PostgreSQL is run: what asks a database something.

    Pure rules cannot. Neither do tests that start a whole server on a folder of its own, but those marked `both`, nor
    those marked `once`: who may come in and what an answer carries is settled before a database is asked.
    """
    on_postgresql = our_settings.DATABASES["default"]["ENGINE"].endswith("postgresql")

    def belongs(item: pytest.Item) -> bool:
        if not on_postgresql:
            return item.get_closest_marker("postgresql") is None
        if item.get_closest_marker("sqlite") is not None or item.get_closest_marker("once") is not None:
            return False
        asked = any(item.get_closest_marker(name) is not None for name in ("django_db", "both", "postgresql"))
        return asked or not DATABASE_FIXTURES.isdisjoint(getattr(item, "fixturenames", ()))

    others = [item for item in items if not belongs(item)]
    items[:] = [item for item in items if belongs(item)]
    config.hook.pytest_deselected(items=others)
    # The longest begin first, so that nobody waits for one of them at the end.
    items.sort(key=lambda item: item.get_closest_marker("browser") is None)


@pytest.fixture(scope="session")
def between_workers(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder that all who run these tests together share."""
    ours = tmp_path_factory.getbasetemp()
    return ours.parent if hasattr(request.config, "workerinput") else ours


@pytest.fixture(scope="session")
def migrated(between_workers: Path, django_db_blocker: Any) -> Migrated:
    """Migrated databases to copy."""
    return migrated_in(between_workers, django_db_blocker)


@pytest.fixture(scope="session")
def copied(migrated: Migrated) -> Iterator[None]:
    """Makes the tests' own database, which comes next, a copy; `migrate` then finds everything done."""
    if connection.vendor == "postgresql":
        connection.settings_dict["TEST"]["TEMPLATE"] = migrated.template
        yield
        return
    # In memory it is there for as long as anybody is connected.
    name = connection.creation._get_test_db_name()  # type: ignore[attr-defined]
    with contextlib.closing(sqlite3.connect(name, uri=True)) as memory:
        with contextlib.closing(sqlite3.connect(migrated.file)) as file:
            file.backup(memory)
        yield


@pytest.fixture(scope="session")
def django_db_setup(copied, django_db_setup, django_db_blocker) -> Iterator[None]:
    """The tests' database; whoever is still connected at the end, a thread that a test left, does not keep it."""
    yield
    with django_db_blocker.unblock():
        if connection.vendor == "postgresql":
            with connection.cursor() as cursor:
                cursor.execute(
                    "SELECT pg_terminate_backend(pid) FROM pg_stat_activity"
                    " WHERE datname = current_database() AND pid <> pg_backend_pid()"
                )


@pytest.fixture(autouse=True)
def fast_passwords(settings) -> None:
    """Sealing a password slowly is Django's to test, not ours."""
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
    settings.SECURE_SSL_REDIRECT = False


@pytest.fixture(autouse=True)
def empty_cache() -> None:
    """What one test's guesses and openings left behind is nothing to the next."""
    cache.clear()


@pytest.fixture(autouse=True)
def blank_paper(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """Paper is left blank but in tests marked `paper`: setting one takes a good part of a second."""
    if request.node.get_closest_marker("paper") is None:
        monkeypatch.setattr(pdf, "PRESS", BlankPress())


@pytest.fixture
def today() -> dt.date:
    """The day every test happens on."""
    return TODAY


@pytest.fixture
def noon() -> dt.datetime:
    """The moment every test happens at."""
    return NOON


@pytest.fixture
def owner(db) -> User:
    """Ana owns the studio."""
    return UserFactory(username="ana", first_name="Ana", role=User.Role.OWNER)


@pytest.fixture
def crew(db) -> User:
    """Bo makes and hangs, and sees no price."""
    return UserFactory(username="bo", first_name="Bo", role=User.Role.CREW)


@pytest.fixture
def owner_client(owner) -> Browser:
    """A browser in which the owner is signed in."""
    browser = Browser()
    browser.force_login(owner)
    return browser


@pytest.fixture
def crew_client(crew) -> Browser:
    """A browser in which one of the crew is signed in."""
    browser = Browser()
    browser.force_login(crew)
    return browser
