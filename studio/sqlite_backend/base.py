"""A transaction waits for its turn before it asks SQLite for the write lock; reading waits for nobody."""

from pathlib import Path
from typing import Any

from django.db.backends.sqlite3 import base
from django.db.utils import OperationalError

from studio.sqlite_backend.turns import Turns, turns_at

USUAL_SECONDS = 20.0


class DatabaseWrapper(base.DatabaseWrapper):
    """One connection. A write outside `atomic` is one statement and goes by SQLite's own lock, as ever."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self._turn: Turns | None = None

    def _start_transaction_under_autocommit(self) -> None:
        self._take_turn()
        try:
            super()._start_transaction_under_autocommit()  # type: ignore[misc]
        except BaseException:
            self._give_turn()
            raise

    def _commit(self) -> None:
        # One that fails leaves its transaction open, to be rolled back: the turn is ours until then.
        super()._commit()  # type: ignore[misc]
        self._give_turn()

    def _rollback(self) -> None:
        try:
            super()._rollback()  # type: ignore[misc]
        finally:
            self._give_turn()

    def _close(self) -> None:
        try:
            super()._close()  # type: ignore[misc]
        finally:
            self._give_turn()

    def _take_turn(self) -> None:
        if self._turn is not None or self.is_in_memory_db():
            return
        turns = turns_at(Path(self.settings_dict["NAME"]))
        if not turns.take(float(self.settings_dict["OPTIONS"].get("timeout", USUAL_SECONDS))):
            raise OperationalError("database is locked: others have been writing all the while")
        self._turn = turns

    def _give_turn(self) -> None:
        turn, self._turn = self._turn, None
        if turn is not None:
            turn.give()
