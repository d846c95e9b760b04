"""How thick a garland is along its length: even, tapering, and with a trailing end."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate

TAPERS = ("even", "thick to thin", "thick in the middle")

THICK, THIN = 1.6, 0.4
"""Width at the thick and at the thin end, in mean widths."""

TRAIL = 0.45
"""Width of a trailing end, as a part of what it would be without."""

NARROWING = 0.4
"""Part of a trailing end over which the garland narrows to it."""

STATIONS = 400


def width_along(taper: str, trail: float, at: float) -> float:
    """The width at a part of the length, in no particular unit; `trail` is the trailing part of the length."""
    width = {
        "even": 1.0,
        "thick to thin": THICK + (THIN - THICK) * at,
        "thick in the middle": THIN + (THICK - THIN) * 4 * at * (1 - at),
    }[taper]
    into = at - (1 - trail)
    if trail == 0 or into <= 0:
        return width
    return width * (1 - (1 - TRAIL) * min(1.0, into / (NARROWING * trail)))


@dataclass(frozen=True, slots=True)
class Taper:
    """The width at STATIONS stations along a garland, in mean widths, so that their mean is 1."""

    widths: tuple[float, ...]

    @classmethod
    def of(cls, taper: str, trail: float, floor: float = 0.0) -> Taper:
        """The profile of one of TAPERS with that part of its length trailing.

        It is nowhere narrower than `floor` mean widths, which is what a single file of balloons takes.
        """
        some = [width_along(taper, trail, (n + 0.5) / STATIONS) for n in range(STATIONS)]
        if max(some) == min(some) or floor >= 1:
            return cls((1.0,) * STATIONS)
        low, high = 0.0, STATIONS / sum(some)
        for _ in range(60):
            by = (low + high) / 2
            if sum(max(floor, width * by) for width in some) < STATIONS:
                low = by
            else:
                high = by
        return cls(tuple(max(floor, width * low) for width in some))

    @property
    def is_even(self) -> bool:
        """Is it as wide everywhere?"""
        return all(width == 1.0 for width in self.widths)

    def at(self, part: float) -> float:
        """The width at a part of the length."""
        return self.widths[min(STATIONS - 1, max(0, int(part * STATIONS)))]

    def fullness(self) -> float:
        """How much more it holds than an even garland of the same mean width: the mean of the squared widths."""
        return sum(width * width for width in self.widths) / STATIONS

    def places(self, parts: Sequence[float], power: int = 2) -> list[float]:
        """Even parts of what it holds as parts of its length; a higher power leans towards where it is thick."""
        if self.is_even:
            return list(parts)
        held = list(accumulate(width**power for width in self.widths))
        found = []
        for part in parts:
            wanted = part * held[-1]
            n = min(bisect_right(held, wanted), STATIONS - 1)
            before = held[n - 1] if n else 0.0
            found.append((n + (wanted - before) / (held[n] - before)) / STATIONS)
        return found
