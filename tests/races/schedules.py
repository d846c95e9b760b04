"""Two acts, each on a connection of its own, in an order that is told statement by statement.

Nobody sleeps: an act stands still before a statement until it is let go, and another has gone as far as it can when it
has ended or waits for a lock. So a schedule comes out the same however busy the machine is.
"""

import threading
from collections.abc import Callable, Iterator
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from django.db import connection, connections, transaction

from studio.sqlite_backend.turns import turns_at

Act = Callable[[], object]
Result = object
PATIENCE = 60.0
"""Seconds after which something is at fault; nothing here takes a hundredth of it."""


@dataclass(frozen=True)
class Ended:
    """What came of two acts; `first_stood` is False where the first ended before it came to its place."""

    first: Result
    second: Result
    first_stood: bool

    @property
    def answers(self) -> tuple[str, str]:
        """What either said."""
        return said(self.first), said(self.second)


@dataclass(frozen=True)
class Scene:
    """Two acts that meet, and what there is afterwards, in figures that name no key."""

    first: Act
    second: Act
    seen: Callable[[], object]
    meanwhile: Callable[[], object] | None = None


class Performance:
    """An act on the thread of its hand. With `place` it stands still before that statement, the first being 0.

    After its last statement it stands once more, with everything done and nothing committed. With `at_writes` only
    statements that write or lock are places to stand: what an act has read by then may be stale by then.
    """

    def __init__(self, hand: "Hand", act: Act, place: int | None = None, *, at_writes: bool = False) -> None:
        self._hand, self._act, self._place, self._at_writes = hand, act, place, at_writes
        self._asked = 0
        self._on, self._standing = threading.Event(), threading.Event()
        self._stood = False
        self._result: Future[Result] = hand.thread.submit(self._run)

    def stand(self) -> bool:
        """Wait until it stands at its place, or has ended; whether it stands."""
        assert self._standing.wait(PATIENCE), "it came to nothing"
        return self._stood

    def go_on(self) -> None:
        """Let it go to its end."""
        self._on.set()

    def as_far_as_it_can(self) -> None:
        """Wait until it has ended, or waits for somebody's lock."""
        for _ in range(int(PATIENCE / 0.001)):
            if self._standing.wait(0.001) or self._hand.is_waiting():
                return
        raise AssertionError("it neither ended nor waited for anybody")

    def end(self) -> Result:
        """Wait for its end; what it returned or raised."""
        return self._result.result(PATIENCE)

    def _run(self) -> Result:
        try:
            with connections["default"].execute_wrapper(self._before_a_statement):
                if self._place is None:
                    return self._act()
                # The block around it is there to stand in, after the last statement and before the commit.
                with transaction.atomic():
                    result = self._act()
                    self._stand_at(self._asked)
                return result
        except Exception as error:
            return error
        finally:
            self._standing.set()

    def _before_a_statement(self, execute: Callable[..., Any], sql: str, params: Any, many: bool, context: Any) -> Any:
        # Nothing happens at a savepoint that another could see.
        is_place = "SAVEPOINT" not in sql and not (self._at_writes and is_mere_reading(sql))
        if is_place:
            self._stand_at(self._asked)
            self._asked += 1
        return execute(sql, params, many, context)

    def _stand_at(self, place: int) -> None:
        if self._place != place or self._stood:
            return
        self._stood = True
        self._standing.set()
        assert self._on.wait(PATIENCE), "nobody let it go on"


class Hand:
    """Somebody with a connection of their own."""

    def __init__(self) -> None:
        self.thread = ThreadPoolExecutor(1)
        self._pid: int | None = self.thread.submit(_connected).result(PATIENCE)

    def is_waiting(self) -> bool:
        """Whether it waits for a lock that somebody else holds."""
        if connection.vendor == "sqlite":
            return bool(turns_at(Path(connection.settings_dict["NAME"])).waiting)
        with connection.cursor() as cursor:
            cursor.execute("SELECT cardinality(pg_blocking_pids(%s)) > 0", [self._pid])
            return bool(cursor.fetchone()[0])

    def leave(self) -> None:
        """Close the connection."""
        self.thread.submit(connections.close_all).result(PATIENCE)
        self.thread.shutdown()


class Stage:
    """Where two hands meet, one before the other."""

    def __init__(self) -> None:
        self._one, self._other = Hand(), Hand()

    def leave(self) -> None:
        """Let both hands go."""
        self._one.leave()
        self._other.leave()

    def in_order(
        self,
        first: Act,
        second: Act,
        *,
        place: int,
        at_writes: bool = False,
        meanwhile: Callable[[], object] | None = None,
    ) -> Ended:
        """`first` up to its statement of that `place`, then `second` as far as it comes, then the rest of both.

        What is to be done while one stands and the other can go no further is done `meanwhile`.
        """
        one = Performance(self._one, first, place, at_writes=at_writes)
        stood = one.stand()
        two = Performance(self._other, second)
        two.as_far_as_it_can()
        if meanwhile is not None:
            meanwhile()
        one.go_on()
        return Ended(one.end(), two.end(), stood)

    def in_every_place(self, make: Callable[[], Scene]) -> Iterator[tuple[Scene, Ended]]:
        """The scene with its first act standing before each of its statements in turn, and before its commit."""
        place, stood = 0, True
        while stood:
            scene = make()
            ended = self.in_order(scene.first, scene.second, place=place, meanwhile=scene.meanwhile)
            yield scene, ended
            place, stood = place + 1, ended.first_stood

    def in_turn(self, *acts: Act) -> list[Result]:
        """The acts one after the other, each committed before the next; what each returned or raised."""
        return [Performance(self._one, act).end() for act in acts]

    def check_it_is_as_if_one_came_after_the_other(self, make: Callable[[], Scene], *, at_writes: bool) -> int:
        """Play two acts in every such order, and have each come out as one of the two in turn; how many were played.

        One act stands before its first statement, its second and so on, until it ends, and the other then goes as far
        as it can; and the other way round. That is every fault there is between two transactions of which one looks
        and then writes what it thinks of it.
        """
        outcomes = [self._played_in_turn(make(), swapped=swapped) for swapped in (False, True)]
        played = 0
        for swapped in (False, True):
            place, stood = 0, True
            while stood:
                scene = make()
                first, second = (scene.second, scene.first) if swapped else (scene.first, scene.second)
                ended = self.in_order(first, second, place=place, at_writes=at_writes)
                answers = (ended.second, ended.first) if swapped else (ended.first, ended.second)
                came = (*map(said, answers), scene.seen())
                assert came in outcomes, (
                    f"With {'the second' if swapped else 'the first'} standing before statement {place} it came to"
                    f" {came}, and one after the other to {outcomes[0]} or {outcomes[1]}: {answers!r}"
                )
                stood = ended.first_stood
                place, played = place + 1, played + 1
        return played

    def _played_in_turn(self, scene: Scene, *, swapped: bool) -> tuple[object, ...]:
        acts = [scene.second, scene.first] if swapped else [scene.first, scene.second]
        answers = self.in_turn(*acts)
        return (*map(said, answers[::-1] if swapped else answers), scene.seen())


def said(result: Result) -> str:
    """A refusal by its name; anything else is "done"."""
    return type(result).__name__ if isinstance(result, Exception) else "done"


def is_mere_reading(sql: str) -> bool:
    """Whether a statement neither writes nor locks."""
    return sql.startswith("SELECT") and " FOR " not in sql[-60:]


def _connected() -> int | None:
    """Open this thread's connection; the number PostgreSQL knows it by."""
    ours = connections["default"]
    ours.ensure_connection()
    return ours.connection.info.backend_pid if ours.vendor == "postgresql" else None
