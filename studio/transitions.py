"""Moves between stages, checked against a table of which stage may follow which."""

from collections.abc import Mapping, Sequence
from typing import TypeVar

Stage = TypeVar("Stage", bound=str)


class MoveRefused(Exception):
    """A move the table does not have; the message is a sentence for the page."""

    def __init__(self, sentence: str, *, now: str, to: str) -> None:
        self.sentence = sentence
        self.now = now
        self.to = to
        super().__init__(sentence)


def check(table: Mapping[Stage, Sequence[Stage]], now: Stage, to: Stage) -> None:
    """Return quietly when a thing at stage `now` may move to `to`, else raise `MoveRefused` saying why.

    `table` names every stage as a key and, beside it, the stages that may follow, in the order they
    should be told. A stage that is no key is a mistake in the program and raises `KeyError`.
    """
    onward = table[now]
    if to not in table:
        raise KeyError(to)
    if to in onward:
        return
    if to == now:
        raise MoveRefused(f"This is already {now}.", now=now, to=to)
    if not onward:
        raise MoveRefused(f"This is {now}, which is final: it cannot become {to}.", now=now, to=to)
    raise MoveRefused(f"This is {now}, so it cannot become {to}: next can be {_either(onward)}.", now=now, to=to)


def _either(stages: Sequence[str]) -> str:
    """ "a", "a or b", "a, b or c"."""
    *first, last = (str(stage) for stage in stages)
    return f"{', '.join(first)} or {last}" if first else last
