"""What is seen of discs that lie over one another, so that paper carries no more than is seen."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from estimating.discs import Disc

CELLS = 1000
"""Into how many squares the longer side of a picture is cut: on A4 each is a fifth of a millimetre."""

SEEN_THROUGH = 3
"""As many see-through balloons as this over one another let nothing behind them be seen: a twentieth of its light."""

Window = tuple[slice, slice]


class Sight:
    """What an eye in front sees of `shown`, the furthest first; `clear` says of each whether it can be seen through.

    Looked at square by square, so a sliver narrower than a square may count as hidden.
    """

    def __init__(self, shown: Sequence[Disc], clear: Sequence[bool]) -> None:
        self._shown = shown
        self._left = min(disc.x - disc.r for disc in shown)
        self._top = min(disc.y - disc.r for disc in shown)
        width = max(disc.x + disc.r for disc in shown) - self._left
        height = max(disc.y + disc.r for disc in shown) - self._top
        self._square = max(width, height) / CELLS
        deep = SEEN_THROUGH if any(clear) else 1
        self._seen: NDArray[np.int32] = np.full(
            (deep, int(height / self._square) + 2, int(width / self._square) + 2), -1, dtype=np.int32
        )
        self._look(clear, deep)

    def _look(self, clear: Sequence[bool], deep: int) -> None:
        """From the front: each disc is seen in the squares where fewer than `deep` are before it."""
        before = np.zeros(self._seen.shape[1:], dtype=np.int8)
        for n in range(len(self._shown) - 1, -1, -1):
            disc = self._shown[n]
            window, inside = self._squares(disc.x, disc.y, disc.r)
            here = before[window]
            for layer in range(deep):
                self._seen[layer][window][inside & (here == layer)] = n
            here[inside] = here[inside] + 1 if clear[n] else deep

    def _squares(self, x: float, y: float, r: float) -> tuple[Window, NDArray[np.bool_]]:
        """The squares about a circle, and which of them have their middle in it."""
        square, across, down = self._square, x - self._left, y - self._top
        rows = slice(max(0, int((down - r) / square)), int((down + r) / square) + 1)
        columns = slice(max(0, int((across - r) / square)), int((across + r) / square) + 1)
        left = (np.arange(columns.start, min(columns.stop, self._seen.shape[2])) + 0.5) * square - across
        top = (np.arange(rows.start, min(rows.stop, self._seen.shape[1])) + 0.5) * square - down
        return (rows, columns), left[None, :] ** 2 + top[:, None] ** 2 <= r * r

    def shows(self, n: int, dx: float = 0.0, dy: float = 0.0, scale: float = 1.0) -> bool:
        """Is anything seen of a dot on the nth disc, its shift and size in parts of the disc's radius?"""
        disc = self._shown[n]
        (rows, columns), inside = self._squares(disc.x + dx * disc.r, disc.y + dy * disc.r, scale * disc.r)
        return bool((self._seen[:, rows, columns][:, inside] == n).any())

    def over(self, n: int) -> list[int]:
        """The discs that must be drawn after the nth: those that are seen somewhere over it."""
        disc = self._shown[n]
        (rows, columns), inside = self._squares(disc.x, disc.y, disc.r)
        return [other for other in np.unique(self._seen[:, rows, columns][:, inside]).tolist() if other > n]
