"""Figures beside each other as bars, as the shapes of a drawing: plain geometry, figures in, places out.

The template `_components/bar_chart.html` draws them. Each bar has its words above it, so that long names fit a phone.
"""

from collections.abc import Sequence
from dataclasses import dataclass

_ROW, _WORDS, _BAR, _SIDE = 48.0, 15.0, 16.0, 2.0


@dataclass(frozen=True)
class Bar:
    """One bar: where it stands, its name and its figure in words. Below zero it goes to the left of zero."""

    name: str
    words: str
    x: float
    y: float
    width: float
    height: float
    words_y: float
    is_below: bool


@dataclass(frozen=True)
class BarShape:
    """Everything the template draws."""

    width: int
    height: int
    zero_x: float
    bars: tuple[Bar, ...]


def bar_chart(rows: Sequence[tuple[str, float, str]], *, width: int = 340) -> BarShape:
    """Bars one below the other, each a name, a figure, and the figure in words. Raises ValueError where there is none.

    The longest reaches across; where every figure is 0, none has any length.
    """
    if not rows:
        raise ValueError("A chart needs at least one bar (got none).")
    highest, lowest = max(0.0, *(figure for _, figure, _ in rows)), min(0.0, *(figure for _, figure, _ in rows))
    room = width - 2 * _SIDE
    scale = room / (highest - lowest) if highest > lowest else 0.0
    zero = _SIDE - lowest * scale
    bars = []
    for number, (name, figure, words) in enumerate(rows):
        top = number * _ROW
        length = abs(figure) * scale
        bars.append(
            Bar(
                name=name,
                words=words,
                x=round(zero if figure >= 0 else zero - length, 1),
                y=top + _WORDS + 7,
                width=round(length, 1),
                height=_BAR,
                words_y=top + _WORDS,
                is_below=figure < 0,
            )
        )
    return BarShape(width, int(len(rows) * _ROW), round(zero, 1), tuple(bars))
