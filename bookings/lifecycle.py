"""The stages of a booking and the moves between them."""

from collections.abc import Mapping, Sequence

from studio.transitions import MoveRefused, check

STAGES: Mapping[str, Sequence[str]] = {
    "enquiry": ("quoted", "lost"),
    "quoted": ("booked", "enquiry", "lost"),
    "booked": ("done", "cancelled"),
    "done": (),
    "lost": ("enquiry",),
    "cancelled": (),
}
"""Each stage, and the stages that may follow it. A withdrawn quote leads back to enquiry."""


def check_move(now: str, to: str) -> None:
    """Return quietly where a booking at `now` may become `to`; else raise MoveRefused with a sentence."""
    check(STAGES, now, to)


def may_move(now: str, to: str) -> bool:
    """Whether a booking at `now` may become `to`: for a button that is only shown when it would work."""
    try:
        check_move(now, to)
    except MoveRefused:
        return False
    return True


def may_be_quoted(stage: str) -> bool:
    """Whether a quote can be sent: before the yes for the first time, after it as the next version."""
    return stage in ("enquiry", "quoted", "booked")
