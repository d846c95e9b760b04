"""The periods of one kit, drawn: a line for each booking, a tail while it is cleaned, and where it runs short."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from stock.kit import Period

_DAY = timedelta(days=1)
_LEFT, _RIGHT, _TOP, _LANE = 4, 4, 26, 40
_LETTER, _TICK_ROOM = 6.6, 64
_WEEKS_SHOWN, _MOST_DAYS = 4, 182


@dataclass(frozen=True, slots=True)
class Bar:
    """One booking's line: its name above it, the days it is away, the days it is cleaned; open where only quoted."""

    x: float
    width: float
    tail_x: float
    tail_width: float
    y: float
    label: str
    label_x: float
    anchor: str
    is_firm: bool


@dataclass(frozen=True, slots=True)
class Timeline:
    """A drawing of `width` by `height`: bars, the first days of weeks, today, and stretches that run short.

    `later` is how many begin beyond what is drawn.
    """

    width: int
    height: int
    bars: tuple[Bar, ...]
    ticks: tuple[tuple[float, str], ...]
    short: tuple[tuple[float, float], ...]
    today_x: float | None
    later: int


def timeline(
    periods: Sequence[tuple[Period, bool]],
    *,
    cleaning_days: int,
    short: Sequence[tuple[date, date]],
    today: date,
    width: int,
) -> Timeline:
    """The periods (and whether each is firm), from the Monday of today or of the first still away, in order of days.

    At least four weeks and at most 26 are drawn.
    """
    begin = min([today, *(period.out for period, _ in periods if period.out < today)])
    begin = max(begin, today - timedelta(weeks=_WEEKS_SHOWN))
    begin -= timedelta(days=begin.weekday())
    last = max([begin + timedelta(weeks=_WEEKS_SHOWN), *(period.ready(cleaning_days) for period, _ in periods)])
    last = min(last, begin + timedelta(days=_MOST_DAYS))
    a_day = (width - _LEFT - _RIGHT) / (last - begin).days

    def at(day: date) -> float:
        """Where a day begins."""
        return round(_LEFT + min(max((day - begin).days, 0), (last - begin).days) * a_day, 1)

    shown = sorted(((p, firm) for p, firm in periods if p.out < last), key=lambda one: (one[0].out, one[0].promise_no))
    bars = []
    for n, (period, firm) in enumerate(shown):
        x, ready = at(period.out), at(period.ready(cleaning_days))
        # The day it comes back belongs to its line where it cannot go out again on it.
        away = min(at(period.back + _DAY), ready)
        label = _label(period, width)
        on_left = x + len(label) * _LETTER <= width
        bars.append(
            Bar(
                x=x,
                width=round(max(away - x, 2), 1),
                tail_x=away,
                tail_width=round(max(ready - away, 0), 1),
                y=_TOP + n * _LANE + 14,
                label=label,
                label_x=x if on_left else width - _RIGHT,
                anchor="start" if on_left else "end",
                is_firm=firm,
            )
        )
    return Timeline(
        width=width,
        height=_TOP + max(len(bars), 1) * _LANE,
        bars=tuple(bars),
        ticks=_ticks(begin, last, a_day),
        short=tuple((at(first), round(at(end + _DAY) - at(first), 1)) for first, end in short if first < last),
        today_x=at(today) if begin <= today < last else None,
        later=len(periods) - len(shown),
    )


def _label(period: Period, width: int) -> str:
    """The booking's name with how many it has, cut to what there is room for."""
    said = period.name if period.quantity == 1 else f"{period.quantity:,} × {period.name}"
    most = int((width - _LEFT - _RIGHT) / _LETTER)
    return said if len(said) <= most else said[: most - 1] + "…"


def _ticks(begin: date, last: date, a_day: float) -> tuple[tuple[float, str], ...]:
    """Mondays, as many of them as can be read."""
    weeks = 1
    while weeks * 7 * a_day < _TICK_ROOM:
        weeks += 1
    days = range(0, (last - begin).days, 7 * weeks)
    mondays = [(round(_LEFT + n * a_day, 1), begin + timedelta(days=n)) for n in days]
    return tuple((x, f"{day.day} {day:%b}") for x, day in mondays)
