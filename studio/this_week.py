"""What is known of this week, the same for the page and for the Monday mail."""

from collections import Counter
from dataclasses import dataclass
from datetime import date

from bookings.queries import ComingUp, ToWrapUp, Waiting, coming_up, to_wrap_up, waiting_on
from bookings.queries.money import Owed, late_by_booking
from stock.queries import Board, cover_board
from stock.queries.kit import KitClash, kit_clashes

DAYS_AHEAD = 21
"""How far ahead booked jobs are named."""
DAYS_FULL = 366
"""How far ahead a day that cannot take its jobs is told of."""


@dataclass(frozen=True)
class ThisWeek:
    """The week as it stands on `today`.

    `board` is the weekly check and `clashes` the kit promised too often in its weeks; `coming` are the booked jobs of
    the next days, `over` those to be wrapped up, `waiting` who owes an answer or is owed one, and `late` the bookings
    with money past its day (none where money is not to be shown).
    """

    today: date
    board: Board
    clashes: list[KitClash]
    coming: list[ComingUp]
    over: list[ToWrapUp]
    waiting: list[Waiting]
    late: list[Owed]


def this_week(today: date, *, with_money: bool) -> ThisWeek:
    """The week from `today` on; what is owed only for those who may see it."""
    board = cover_board(today)
    lacking: Counter[int] = Counter()
    for row in board.short_rows:
        for hit in row.cover.hit:
            lacking[hit.booking] += hit.short
    return ThisWeek(
        today=today,
        board=board,
        clashes=kit_clashes(today, until=board.until),
        coming=coming_up(today=today, days=DAYS_AHEAD, short=dict(lacking)),
        over=to_wrap_up(today=today),
        waiting=waiting_on(today=today),
        late=late_by_booking(today=today) if with_money else [],
    )
