"""A studio to walk through, and a press that sets in this program."""

from collections.abc import Iterator
from typing import Any

import pytest
from django.db import transaction

from studio.press import PRESS
from studio.typesetting import answer
from tests.every_route import Things, furnished


@pytest.fixture(scope="module")
def things(django_db_setup: None, django_db_blocker: Any) -> Iterator[Things]:
    """Something to show at every address, made once for a module; what a test does to it is undone after the test."""
    with django_db_blocker.unblock(), transaction.atomic():
        yield furnished()
        transaction.set_rollback(True)


@pytest.fixture
def set_here(monkeypatch: pytest.MonkeyPatch) -> None:
    """Paper is set in this very program, where a test sees what is opened."""
    monkeypatch.setattr(PRESS, "ask", lambda head, parts, *, answers: answer(head, parts))
