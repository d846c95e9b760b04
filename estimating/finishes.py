"""Where light falls on a balloon of each finish, on the screen and on paper.

Finishes are told apart by where light falls, not by colour, so that they are in greyscale too: glossy has a small
bright spot, matte none, pearl a wide soft sheen to its rim, metallic bands like a horizon, clear a rim with what is
behind showing through, confetti the same with scraps inside, and foil shards, puckers and a seam.
"""

from __future__ import annotations

from typing import NamedTuple


class Stop(NamedTuple):
    """Where on a gradient, how much light (above zero) or shadow (below) is mixed in there, and how solid it is."""

    at: float
    mixed: float
    opacity: float = 1.0


STOPS: dict[str, tuple[Stop, ...]] = {
    "standard": tuple(
        Stop(*stop)
        for stop in ((0.0, 0.78), (0.07, 0.62), (0.17, 0.24), (0.48, 0.0), (0.80, -0.26), (0.96, -0.48), (1.0, -0.40))
    ),
    "matte": tuple(Stop(*stop) for stop in ((0.0, 0.13), (0.35, 0.07), (0.68, -0.05), (0.90, -0.20), (1.0, -0.32))),
    "pearl": tuple(
        Stop(*stop)
        for stop in ((0.0, 0.66), (0.20, 0.55), (0.46, 0.26), (0.70, 0.0), (0.84, -0.14), (0.93, 0.20), (1.0, -0.14))
    ),
    "clear": (
        Stop(0.0, 0.95, 0.95),
        Stop(0.07, 0.90, 0.85),
        Stop(0.13, 0.50, 0.22),
        Stop(0.55, 0.10, 0.18),
        Stop(0.84, 0.0, 0.34),
        Stop(0.93, -0.20, 0.66),
        Stop(0.97, -0.42, 0.85),
        Stop(1.0, -0.42, 0.55),
    ),
    "foil": tuple(Stop(*stop) for stop in ((0.0, 0.30), (0.30, 0.14), (0.62, -0.10), (0.86, -0.34), (1.0, -0.46))),
}
FOCUS = {"matte": (0.42, 0.38), "pearl": (0.38, 0.34)}

BANDS = tuple(
    Stop(*stop)
    for stop in (
        (0.0, 0.0),
        (0.17, 0.66),
        (0.27, 0.50),
        (0.42, 0.0),
        (0.55, -0.40),
        (0.60, -0.44),
        (0.645, 0.30),
        (0.74, 0.14),
        (0.88, -0.24),
        (1.0, -0.50),
    )
)
"""Metallic from top to bottom: a bright sky, a dark horizon, a lit floor."""

BELOW = 1.5
"""How far below the top of a metallic balloon, in diameters, its horizon has its middle."""

SCRAPS = (
    (-0.42, 0.36, 0.20),
    (-0.10, 0.60, 0.16),
    (0.26, 0.46, 0.22),
    (0.50, 0.16, 0.17),
    (0.08, 0.12, 0.19),
    (-0.52, -0.06, 0.16),
    (0.30, -0.34, 0.20),
    (-0.18, -0.20, 0.14),
    (-0.04, -0.62, 0.17),
    (0.62, -0.14, 0.13),
)
"""Confetti inside a balloon: where, as parts of its radius, and how wide."""

GLOW = 0.72
"""From this far out the inner colour of a double-stuffed balloon shows."""


class PaperShade(NamedTuple):
    """One dot of a balloon on paper: its shift and size as parts of the radius, and what is mixed into its colour.

    `inner` is how much of an inner balloon's colour shows in it.
    """

    dx: float
    dy: float
    scale: float
    mixed: float
    is_body: bool = False
    opacity: float = 1.0
    inner: float = 0.0


PAPER_FINISHES: dict[str, tuple[PaperShade, ...]] = {
    "standard": (
        PaperShade(0.0, 0.0, 1.0, -0.45),
        PaperShade(-0.02, -0.02, 0.93, -0.14, is_body=True, inner=0.85),
        PaperShade(-0.10, -0.11, 0.76, 0.0),
        PaperShade(-0.26, -0.29, 0.38, 0.16),
        PaperShade(-0.34, -0.38, 0.14, 0.66),
    ),
    "matte": (
        PaperShade(0.0, 0.0, 1.0, -0.30),
        PaperShade(-0.02, -0.02, 0.94, -0.10, is_body=True, inner=0.85),
        PaperShade(-0.08, -0.09, 0.76, 0.02),
        PaperShade(-0.13, -0.15, 0.5, 0.08),
    ),
    "pearl": (
        PaperShade(0.0, 0.0, 1.0, -0.26),
        PaperShade(-0.01, -0.01, 0.95, 0.22, is_body=True, inner=0.85),
        PaperShade(-0.05, -0.05, 0.84, -0.06),
        PaperShade(-0.12, -0.13, 0.66, 0.20),
        PaperShade(-0.18, -0.20, 0.44, 0.46),
    ),
    "metallic": (
        PaperShade(0.0, 0.0, 1.0, -0.52),
        PaperShade(0.0, 0.02, 0.93, 0.22, is_body=True, inner=0.85),
        PaperShade(-0.01, -0.02, 0.80, -0.46),
        PaperShade(-0.03, -0.13, 0.74, 0.0),
        PaperShade(-0.08, -0.26, 0.54, 0.34),
        PaperShade(-0.13, -0.37, 0.32, 0.74),
    ),
    "clear": (
        PaperShade(0.0, 0.0, 1.0, -0.42, opacity=0.55),
        PaperShade(0.0, 0.0, 0.94, 0.62, is_body=True, opacity=0.62, inner=0.85),
        PaperShade(-0.08, -0.09, 0.72, 0.85, opacity=0.28),
        PaperShade(-0.36, -0.40, 0.16, 0.95, opacity=0.95),
    ),
    "foil": (
        PaperShade(0.0, 0.0, 1.0, 0.42),
        PaperShade(0.0, 0.0, 0.94, -0.40),
        PaperShade(-0.01, -0.01, 0.90, -0.20, is_body=True),
        PaperShade(-0.08, -0.09, 0.66, 0.02),
    ),
}
PAPER_FINISHES["confetti"] = (
    *PAPER_FINISHES["clear"],
    *(PaperShade(x, y, wide / 2, -0.30 if n % 3 == 0 else 0.0) for n, (x, y, wide) in enumerate(SCRAPS)),
)
PAPER_SHADES = PAPER_FINISHES["standard"]

PAPER_AFAR: dict[str, tuple[PaperShade, ...]] = {
    "standard": (
        PaperShade(0.0, 0.0, 1.0, -0.45),
        PaperShade(-0.05, -0.05, 0.88, -0.04, is_body=True, inner=0.7),
        PaperShade(-0.32, -0.35, 0.22, 0.58),
    ),
    "matte": (
        PaperShade(0.0, 0.0, 1.0, -0.30),
        PaperShade(-0.04, -0.04, 0.90, -0.03, is_body=True, inner=0.7),
        PaperShade(-0.13, -0.15, 0.56, 0.07),
    ),
    "pearl": (
        PaperShade(0.0, 0.0, 1.0, -0.26),
        PaperShade(-0.02, -0.02, 0.92, 0.12, is_body=True, inner=0.7),
        PaperShade(-0.15, -0.16, 0.56, 0.42),
    ),
    "metallic": (
        PaperShade(0.0, 0.0, 1.0, -0.52),
        PaperShade(0.0, -0.02, 0.92, -0.26, is_body=True, inner=0.7),
        PaperShade(-0.07, -0.28, 0.56, 0.46),
    ),
    "clear": (
        PaperShade(0.0, 0.0, 1.0, -0.42, opacity=0.55),
        PaperShade(0.0, 0.0, 0.92, 0.62, is_body=True, opacity=0.62, inner=0.85),
        PaperShade(-0.36, -0.40, 0.18, 0.95, opacity=0.95),
    ),
    "confetti": (
        PaperShade(0.0, 0.0, 1.0, -0.42, opacity=0.55),
        PaperShade(0.0, 0.0, 0.92, 0.62, is_body=True, opacity=0.62, inner=0.85),
    ),
    "foil": (
        PaperShade(0.0, 0.0, 1.0, 0.42),
        PaperShade(0.0, 0.0, 0.92, -0.30, is_body=True),
    ),
}
"""The same finishes where hundreds of balloons are on a sheet, each only some millimetres wide."""


class Stroke(NamedTuple):
    """A line that a wide pen draws on a balloon seen from afar, in parts of its radius.

    `line` is where it starts and each step from there, `wide` the pen, `mixed` the light or shadow in the colour, and
    `gap` what is left out between two dots, 0 for a whole line.
    """

    line: tuple[float, ...]
    wide: float
    mixed: float
    gap: float = 0.0


AFAR_STROKES: dict[str, Stroke] = {
    "foil": Stroke((-0.56, -0.06, 0.48, -0.50), 0.20, 0.78),
    "confetti": Stroke((-0.50, 0.30, 0.94, 0.16, -0.62, -0.86), 0.20, -0.12, 0.40),
}
"""A shard of foil, and scraps of confetti strewn as a dotted line."""
