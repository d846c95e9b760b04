"""The outlines of foil balloons that are not round, and the facets and seams that foil shows.

Everything is drawn about the middle of a balloon whose half-width is 1.
"""

from __future__ import annotations

from math import cos, pi, sin

from estimating.layout import Form

Curve = tuple[str, tuple[float, ...]]

HEART: tuple[Curve, ...] = (
    ("M", (0.0, 0.97)),
    ("C", (-0.36, 0.66, -1.0, 0.24, -1.0, -0.32)),
    ("C", (-1.0, -0.70, -0.74, -0.92, -0.47, -0.92)),
    ("C", (-0.24, -0.92, -0.07, -0.80, 0.0, -0.60)),
    ("C", (0.07, -0.80, 0.24, -0.92, 0.47, -0.92)),
    ("C", (0.74, -0.92, 1.0, -0.70, 1.0, -0.32)),
    ("C", (1.0, 0.24, 0.36, 0.66, 0.0, 0.97)),
)

STAR_WAIST, STAR_TIP = 0.58, 0.16
"""How near the middle a star is between its points, and how much of each edge the round of a point takes."""

BRIGHT: tuple[Curve, ...] = (
    ("M", (-0.62, -0.08)),
    ("Q", (-0.58, -0.58, -0.08, -0.70)),
    ("L", (-0.14, -0.54)),
    ("Q", (-0.46, -0.44, -0.48, -0.10)),
    ("M", (-0.30, -0.14)),
    ("L", (-0.20, -0.36)),
    ("L", (0.02, -0.44)),
    ("L", (-0.14, -0.24)),
)
"""Where foil throws the light back: a long sliver and a shard."""

DIM: tuple[Curve, ...] = (
    ("M", (0.10, 0.66)),
    ("Q", (0.54, 0.54, 0.64, 0.10)),
    ("L", (0.50, 0.12)),
    ("Q", (0.38, 0.42, 0.06, 0.50)),
)
"""Where foil throws back the floor."""

CREASES: tuple[Curve, ...] = tuple(
    curve
    for n in range(16)
    for curve in (
        ("M", (round(0.93 * cos(n * pi / 8 + 0.2), 3), round(0.93 * sin(n * pi / 8 + 0.2), 3))),
        ("L", (round(0.77 * cos(n * pi / 8 + 0.24), 3), round(0.77 * sin(n * pi / 8 + 0.24), 3))),
    )
)
"""The puckers that run in from a seam."""


def outline(form: Form) -> tuple[Curve, ...]:
    """The outline of a heart or a star, not yet closed."""
    return HEART if form == "heart" else _star()


def path(curves: tuple[Curve, ...], x: float, y: float, r: float, *, close: bool = True, places: int = 1) -> str:
    """Curves as SVG path data about (x, y) with that half-width; every part of them is closed where `close` is set."""
    drawn: list[str] = []
    for letter, values in curves:
        if letter == "M" and drawn and close:
            drawn.append("Z")
        spots = [value * r + (y if n % 2 else x) for n, value in enumerate(values)]
        drawn.append(letter + " ".join(_figure(spot, places) for spot in spots))
    return "".join(drawn) + ("Z" if close else "")


def _star() -> tuple[Curve, ...]:
    tips = [(sin(2 * pi * n / 5), -cos(2 * pi * n / 5)) for n in range(5)]
    waists = [(STAR_WAIST * sin(2 * pi * (n + 0.5) / 5), -STAR_WAIST * cos(2 * pi * (n + 0.5) / 5)) for n in range(5)]
    curves: list[Curve] = []
    for n, (tip, waist) in enumerate(zip(tips, waists, strict=True)):
        before = waists[n - 1]
        start = tuple(t + STAR_TIP * (b - t) for t, b in zip(tip, before, strict=True))
        end = tuple(t + STAR_TIP * (w - t) for t, w in zip(tip, waist, strict=True))
        curves += [("L" if n else "M", start), ("Q", (*tip, *end)), ("L", waist)]
    return tuple(curves)


def _figure(value: float, places: int) -> str:
    text = f"{value:.{places}f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text
