"""How a balloon's colour is lit: from the upper left, glossy, with a darker rim."""

from __future__ import annotations

import re
from typing import NamedTuple

SCREEN_DEPTHS = 3
"""Levels of shade from the back of a piece to its front."""

DEPTH_SHADE = (0.30, 0.12, 0.0)
"""How much of the shadow's colour is mixed in at each level."""

SHADOW = (38, 26, 40)
LIGHT = (255, 253, 247)

STOPS = (
    # Where, then how much light (above zero) or shadow (below) is mixed into the colour there.
    (0.0, 0.78),
    (0.07, 0.62),
    (0.17, 0.24),
    (0.48, 0.0),
    (0.80, -0.26),
    (0.96, -0.48),
    (1.0, -0.40),
)

HEX = re.compile(r"#[0-9a-fA-F]{6}")

Rgb = tuple[int, int, int]
PaperShades = tuple[str, ...]


class PaperShade(NamedTuple):
    """One dot of a balloon on paper: its shift and size as parts of the radius, and what is mixed into its colour."""

    dx: float
    dy: float
    scale: float
    mixed: float
    is_body: bool = False


PAPER_SHADES = (
    PaperShade(0.0, 0.0, 1.0, -0.45),
    PaperShade(-0.02, -0.02, 0.93, -0.14, is_body=True),
    PaperShade(-0.10, -0.11, 0.76, 0.0),
    PaperShade(-0.26, -0.29, 0.38, 0.16),
    PaperShade(-0.34, -0.38, 0.14, 0.66),
)


def gradient(name: str, colour: str, level: int) -> str:
    """The radial gradient of one colour at one depth, as SVG."""
    base = _mixed(_rgb(colour), SHADOW, DEPTH_SHADE[level])
    stops = "".join(f'<stop offset="{at:g}" stop-color="{_lit(base, mixed)}"/>' for at, mixed in STOPS)
    return f'<radialGradient id="{name}" cx=".5" cy=".5" r=".52" fx=".33" fy=".29">{stops}</radialGradient>'


def paper_shades(colour: str) -> PaperShades:
    """The colour of each of PAPER_SHADES for one balloon colour."""
    base = _rgb(colour)
    return tuple(_lit(base, shade.mixed) for shade in PAPER_SHADES)


def _rgb(colour: str) -> Rgb:
    if not HEX.fullmatch(colour):
        raise ValueError(f"a swatch must be written #rrggbb (got {colour!r})")
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)


def _lit(base: Rgb, mixed: float) -> str:
    red, green, blue = _mixed(base, LIGHT, mixed) if mixed >= 0 else _mixed(base, SHADOW, -mixed)
    return f"#{red:02x}{green:02x}{blue:02x}"


def _mixed(base: Rgb, other: Rgb, part: float) -> Rgb:
    red, green, blue = (round(a + (b - a) * part) for a, b in zip(base, other, strict=True))
    return red, green, blue
