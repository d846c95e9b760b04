"""A balance that changes in steps, as the shapes of a drawing.

Plain geometry: dates and balances in, path strings and placed words out. The template
`_components/step_chart.html` draws them. Text is taken to be 12 px high, as the style sheet sets it.
"""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

_TEXT_HEIGHT = 14.0
# A little wider than the text face's average figure or letter at 12 px, so that words never touch.
_CHARACTER_WIDTH = 6.6
_ABOVE_LINE, _BELOW_LINE, _BESIDE_LINE = 6.0, 15.0, 5.0
_SIDE = 40.0

Box = tuple[float, float, float, float]


@dataclass(frozen=True)
class ChartLabel:
    """Words at a place: `y` is their baseline, `anchor` the end of them that stands at `x`."""

    x: float
    y: float
    text: str
    anchor: str = "start"
    is_short: bool = False

    @property
    def box(self) -> Box:
        """What the words cover: left, top, right, bottom."""
        wide = len(self.text) * _CHARACTER_WIDTH
        left = {"start": self.x, "middle": self.x - wide / 2, "end": self.x - wide}[self.anchor]
        return (left, self.y - _TEXT_HEIGHT + 3, left + wide, self.y + 3)


@dataclass(frozen=True)
class ChartShape:
    """Everything the template draws. Path strings are empty where there is nothing to draw.

    `left_out` counts labels there was no room for: the table beside the picture has them.
    """

    width: int
    height: int
    left: float
    right: float
    zero_y: float
    keep_back_y: float | None
    line: str
    line_short: str
    area_short: str
    labels: tuple[ChartLabel, ...]
    levels: tuple[ChartLabel, ...]
    ticks: tuple[ChartLabel, ...]
    left_out: int


@dataclass(frozen=True)
class _Scale:
    """From days and balances to pixels."""

    first: dt.date
    last: dt.date
    lowest: int
    highest: int
    left: float
    right: float
    top: float
    bottom: float

    def x(self, day: dt.date) -> float:
        days = (self.last - self.first).days
        return round(self.left + (self.right - self.left) * (day - self.first).days / days, 1)

    def y(self, balance: int) -> float:
        return round(self.top + (self.bottom - self.top) * (self.highest - balance) / (self.highest - self.lowest), 1)


def step_chart(
    points: Sequence[tuple[dt.date, int, str]],
    *,
    today: dt.date,
    until: dt.date,
    width: int = 960,
    height: int = 220,
    keep_back: int = 0,
) -> ChartShape:
    """The drawing of a balance from `today` up to `until`.

    A point is a day, the balance from that day on, and the words for what changed it (empty for none). The
    balance on `today` is that of the last point not after it; before the first point it is the first one's.
    What lies below zero is drawn apart, so that it can be tinted. `keep_back` above zero adds a line there.

    Raises ValueError where there are no points, or `until` is not after `today`.
    """
    if not points:
        raise ValueError("A chart needs at least one point (got none).")
    if until <= today:
        raise ValueError(f"A chart must end after it begins (got {today} to {until}).")
    steps = _steps(points, today, until)
    balances = [balance for _, balance, _ in steps]
    scale = _Scale(
        first=today,
        last=until,
        lowest=min(0, *balances),
        highest=max(1, keep_back, *balances),
        left=_SIDE,
        right=width - 8.0,
        top=26.0,
        bottom=height - 30.0,
    )
    ticks = _ticks(scale, height)
    levels = _levels(scale, balances[0]) + _keep_back_words(scale, steps, keep_back)
    labels, left_out = _labels(scale, steps, taken=[label.box for label in (*ticks, *levels)])
    return ChartShape(
        width=width,
        height=height,
        left=scale.left,
        right=scale.right,
        zero_y=scale.y(0),
        keep_back_y=scale.y(keep_back) if keep_back > 0 else None,
        line=_line(scale, steps, below=False),
        line_short=_line(scale, steps, below=True),
        area_short=_area_short(scale, steps),
        labels=labels,
        levels=levels,
        ticks=ticks,
        left_out=left_out,
    )


Step = tuple[dt.date, int, str]


def _steps(points: Sequence[Step], today: dt.date, until: dt.date) -> list[Step]:
    """The points in order, one a day, from today on, closed by the last balance at the end."""
    by_day: dict[dt.date, Step] = {}
    ordered = sorted(points, key=lambda point: point[0])
    start = ordered[0][1]
    for day, balance, words in ordered:
        if day <= today:
            start = balance
        elif day < until:
            before = by_day.get(day)
            said = ", ".join(part for part in (before[2] if before else "", words) if part)
            by_day[day] = (day, balance, said)
    steps = [(today, start, ""), *by_day.values()]
    return [*steps, (until, steps[-1][1], "")]


def _line(scale: _Scale, steps: list[Step], *, below: bool) -> str:
    """The part of the stair on one side of zero: along each level, and down or up to zero between them."""
    zero, parts, pen = scale.y(0), [], None
    for (day, balance, _), (next_day, next_balance, _) in pairwise(steps):
        here, there = scale.x(day), scale.x(next_day)
        if (balance < 0) == below:
            y = scale.y(balance)
            parts.append(f"M{here:g} {y:g}" if pen != (here, y) else "")
            parts.append(f"H{there:g}")
            # Down to the next level, or only to zero where the next level is on the other side of it.
            end = scale.y(next_balance) if (next_balance < 0) == below else zero
            parts.append(f"V{end:g}")
            pen = (there, end)
        elif (next_balance < 0) == below:
            parts.append(f"M{there:g} {zero:g}V{scale.y(next_balance):g}")
            pen = (there, scale.y(next_balance))
    return "".join(parts)


def _area_short(scale: _Scale, steps: list[Step]) -> str:
    """The ground between zero and every level below it."""
    return "".join(
        f"M{scale.x(day):g} {scale.y(0):g}V{scale.y(balance):g}H{scale.x(next_day):g}V{scale.y(0):g}Z"
        for (day, balance, _), (next_day, _, _) in pairwise(steps)
        if balance < 0
    )


def _levels(scale: _Scale, start: int) -> tuple[ChartLabel, ...]:
    """The figures at the left edge: zero always, the start and the lowest where they are clear of it."""
    placed: list[ChartLabel] = []
    for balance in dict.fromkeys((0, start, scale.lowest)):
        label = ChartLabel(
            x=scale.left - 6,
            y=scale.y(balance) + 4,
            text=f"{balance:,}".replace("-", "−"),
            anchor="end",
            is_short=balance < 0,
        )
        if all(abs(label.y - other.y) >= _TEXT_HEIGHT for other in placed):
            placed.append(label)
    return tuple(placed)


def _keep_back_words(scale: _Scale, steps: list[Step], keep_back: int) -> tuple[ChartLabel, ...]:
    """What the line at the keep-back level is, at its right end, where the stair leaves room for it."""
    if keep_back <= 0:
        return ()
    stair = _stair_boxes(scale, steps)
    places = [
        ChartLabel(x=scale.right, y=scale.y(keep_back) + off, text=f"keep back {keep_back:,}", anchor="end")
        for off in (-4.0, 13.0)
    ]
    return tuple([label for label in places if _is_free(label.box, stair, scale)][:1])


def _ticks(scale: _Scale, height: int) -> tuple[ChartLabel, ...]:
    """Dates along the foot: today, and every so many weeks as fit."""
    days = (scale.last - scale.first).days
    room = (scale.right - scale.left) / (8 * _CHARACTER_WIDTH)
    apart = max(1, -(-days // max(1, int(room))))
    apart = -(-apart // 7) * 7 if days > 7 else apart
    ticks = []
    for after in range(0, days, apart):
        day = scale.first + dt.timedelta(days=after)
        label = ChartLabel(x=scale.x(day), y=height - 8.0, text=f"{day.day} {day:%b}")
        if label.box[2] <= scale.right:
            ticks.append(label)
    return tuple(ticks)


def _labels(scale: _Scale, steps: list[Step], *, taken: list[Box]) -> tuple[tuple[ChartLabel, ...], int]:
    """Words for the steps, each where it crosses neither the stair nor other words; and how many had no room."""
    zero = scale.y(0)
    occupied = [*taken, *_stair_boxes(scale, steps), (scale.left, zero - 0.5, scale.right, zero + 0.5)]
    placed: list[ChartLabel] = []
    left_out = 0
    for (_, before, _), (day, balance, words) in pairwise(steps):
        if not words:
            continue
        label = next(
            (
                candidate
                for candidate in _places(scale, day, before, balance, words)
                if _is_free(candidate.box, occupied, scale)
            ),
            None,
        )
        if label is None:
            left_out += 1
        else:
            placed.append(label)
            occupied.append(label.box)
    return tuple(placed), left_out


def _places(scale: _Scale, day: dt.date, before: int, balance: int, words: str) -> list[ChartLabel]:
    """Where the words of one step might go, the best first: by the new level, then by the riser, then a line off."""
    x, y, old = scale.x(day), scale.y(balance), scale.y(before)
    right, left = (x + _BESIDE_LINE, "start"), (x - _BESIDE_LINE, "end")
    heights = [(right, y - _ABOVE_LINE), (right, y + _BELOW_LINE), (left, y + 4), (left, old + _BELOW_LINE)]
    heights += [(left, old - _ABOVE_LINE), (right, old - _ABOVE_LINE)]
    heights += [(right, y - _ABOVE_LINE - _TEXT_HEIGHT), (right, y + _BELOW_LINE + _TEXT_HEIGHT)]
    return [
        ChartLabel(x=round(at, 1), y=round(baseline, 1), text=words, anchor=anchor, is_short=balance < 0)
        for (at, anchor), baseline in heights
    ]


def _stair_boxes(scale: _Scale, steps: list[Step]) -> list[Box]:
    """The stair itself as thin boxes, so that no words are struck through by it."""
    boxes = []
    for (day, balance, _), (next_day, next_balance, _) in pairwise(steps):
        here, there, y, next_y = scale.x(day), scale.x(next_day), scale.y(balance), scale.y(next_balance)
        boxes.append((here, y - 1.5, there, y + 1.5))
        boxes.append((there - 1.5, min(y, next_y), there + 1.5, max(y, next_y)))
    return boxes


def _is_free(box: Box, occupied: list[Box], scale: _Scale) -> bool:
    """Whether words would lie inside the drawing and on nothing else."""
    left, top, right, bottom = box
    if left < scale.left or right > scale.right + 8 or top < 0 or bottom > scale.bottom + 12:
        return False
    return not any(left < other[2] and other[0] < right and top < other[3] and other[1] < bottom for other in occupied)
