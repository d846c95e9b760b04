"""How a balloon's colour is lit: from the upper left, each finish in its own way."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import pairwise

from estimating.finishes import (
    AFAR_STROKES,
    BANDS,
    BELOW,
    FOCUS,
    GLOW,
    PAPER_AFAR,
    PAPER_FINISHES,
    PAPER_SHADES,
    SCRAPS,
    STOPS,
    PaperShade,
    Stop,
)
from estimating.silhouettes import BRIGHT, CREASES, DIM, path

__all__ = [
    "PAPER_FINISHES",
    "PAPER_SHADES",
    "SCREEN_DEPTHS",
    "afar_stroke",
    "facets",
    "finish_drawn",
    "ink_on",
    "paint",
    "paper_dots",
    "paper_shades",
    "seam",
]

SCREEN_DEPTHS = 3
"""Levels of shade from the back of a piece to its front."""

DEPTH_SHADE = (0.30, 0.12, 0.0)
"""How much of the shadow's colour is mixed in at each level."""

SHADOW = (38, 26, 40)
LIGHT = (255, 253, 247)

HEX = re.compile(r"#[0-9a-fA-F]{6}")

Rgb = tuple[int, int, int]
PaperShades = tuple[str, ...]

BETWEEN = 7
"""Dots put between two of a large balloon on paper."""

RING = "M.022 .5a.478 .478 0 1 0 .956 0a.478 .478 0 1 0-.956 0"
"""The seam of a round foil, just inside its edge."""


def finish_drawn(finish: str) -> str:
    """The finish as it is drawn: one we know nothing of is drawn glossy."""
    return finish if finish in PAPER_FINISHES else "standard"


def paint(
    name: str, colour: str, level: int, *, finish: str = "standard", inner: str | None = None, round_seam: bool = True
) -> str:
    """What fills a balloon of one colour at one depth, as SVG with that id.

    `inner` is the colour of a balloon stuffed inside it, which glows in its rim. The seam of a round foil is part of
    its paint; hearts and stars have theirs along their outline.
    """
    finish = finish_drawn(finish)
    base = _mixed(_rgb(colour), SHADOW, DEPTH_SHADE[level])
    glow = None if inner is None else _mixed(_rgb(inner), SHADOW, DEPTH_SHADE[level])
    if finish == "metallic":
        return _metallic(name, base, glow)
    if finish == "confetti":
        return _confetti(name, base, glow)
    if finish == "foil":
        return _foil(name, base, round_seam)
    return _radial(name, STOPS[finish], base, glow, *FOCUS.get(finish, (0.33, 0.29)))


def paper_dots(
    colour: str, *, finish: str = "standard", inner: str | None = None, fine: bool = False, afar: bool = False
) -> list[tuple[PaperShade, str]]:
    """The dots of a balloon on paper, the largest first, each with its colour.

    `fine` ones, for a balloon so large that the steps between dots would show, have others in between. A balloon seen
    from `afar` has fewer.
    """
    finish = finish_drawn(finish)
    shades = (PAPER_AFAR if afar else PAPER_FINISHES)[finish]
    dots = [(shade, _paper_shade(shade, _rgb(colour), None if inner is None else _rgb(inner))) for shade in shades]
    if not fine or afar or any(shade.opacity < 1 for shade in shades):
        return dots
    drawn = dots[:1]
    for (one, lit), (other, also_lit) in pairwise(dots):
        for n in range(1, BETWEEN + 1):
            part = n / (BETWEEN + 1)
            dx, dy, scale, mixed = (a + (b - a) * part for a, b in zip(one[:4], other[:4], strict=True))
            middle = PaperShade(dx, dy, scale, mixed)
            drawn.append((middle, _lit(_mixed(_rgb(lit), _rgb(also_lit), part), 0.0)))
        drawn.append((other, also_lit))
    return drawn


def paper_shades(colour: str, *, finish: str = "standard", inner: str | None = None) -> PaperShades:
    """The colour of each of a finish's dots for one balloon colour."""
    return tuple(shade for _, shade in paper_dots(colour, finish=finish, inner=inner))


def _paper_shade(shade: PaperShade, base: Rgb, inner: Rgb | None) -> str:
    if inner is None:
        return _lit(base, shade.mixed)
    return _lit(_mixed(base, inner, shade.inner), 0.12 if shade.inner else shade.mixed)


def afar_stroke(places: Sequence[tuple[float, float]], r: float, colour: str, *, finish: str = "standard") -> list[str]:
    """What is drawn over the dots of balloons alike seen from afar, about their middles: one path, or none."""
    stroke = AFAR_STROKES.get(finish_drawn(finish))
    if stroke is None:
        return []
    dx, dy, *steps = (part * r for part in stroke.line)
    along = f"l{' '.join(f'{step:.1f}' for step in steps)}"
    drawn = "".join(f"M{x + dx:.1f} {y + dy:.1f}{along}" for x, y in places)
    dotted = f' stroke-dasharray="{r * stroke.gap / 20:.2g} {r * stroke.gap:.2g}"' if stroke.gap else ""
    ink = _lit(_rgb(colour), stroke.mixed)
    return [f'<path stroke="{ink}" stroke-width="{r * stroke.wide:.2g}"{dotted} d="{drawn}"/>']


def seam(colour: str) -> str:
    """The colour of a foil's seam."""
    return _lit(_rgb(colour), 0.42)


def ink_on(colour: str) -> str:
    """The colour of lettering on a balloon: near black on a light one, near white on a dark one."""
    red, green, blue = _rgb(colour)
    return "#2a1f2d" if 0.299 * red + 0.587 * green + 0.114 * blue > 140 else "#fffdf7"


def facets(x: float, y: float, r: float, colour: str, *, puckered: bool = True) -> list[str]:
    """What foil throws back about a middle, and how a round one puckers; each as a path with its own colour."""
    base, places = _rgb(colour), 2 if r <= 1 else 1
    line = f'fill="none" stroke="{_lit(base, -0.45)}" stroke-width="{r * 0.035:.2g}"'
    puckers = [f'<path d="{path(CREASES, x, y, r, close=False, places=places)}" {line}/>'] if puckered else []
    return [
        *puckers,
        f'<path d="{path(DIM, x, y, r, places=places)}" fill="{_lit(base, 0.34)}"/>',
        f'<path d="{path(BRIGHT, x, y, r, places=places)}" fill="{_lit(base, 0.84)}"/>',
    ]


def _radial(name: str, stops: tuple[Stop, ...], base: Rgb, glow: Rgb | None, fx: float, fy: float) -> str:
    see_through = min(stop.opacity for stop in stops) < 1
    drawn = "".join(_stop(stop, base, glow, see_through=see_through) for stop in stops)
    return f'<radialGradient id="{name}" cx=".5" cy=".5" r=".52" fx="{fx:g}" fy="{fy:g}">{drawn}</radialGradient>'


def _stop(stop: Stop, base: Rgb, glow: Rgb | None, *, see_through: bool = False) -> str:
    opacity = stop.opacity
    if glow is None:
        colour = _lit(base, stop.mixed)
    elif see_through:
        # The inner balloon is what is seen, the outer one a skin over it.
        colour, opacity = _lit(_mixed(base, glow, 0.75), stop.mixed * 0.7), max(opacity, 0.95)
    elif stop.at >= GLOW:
        colour = _lit(glow, 0.16 if stop.at < 0.95 else stop.mixed / 2)
    else:
        colour = _lit(_mixed(base, glow, 0.22), stop.mixed)
    solid = "" if opacity == 1 else f' stop-opacity="{opacity:g}"'
    return f'<stop offset="{stop.at:g}" stop-color="{colour}"{solid}/>'


def _pattern(name: str, inside: str) -> str:
    return f'<pattern id="{name}" width="1" height="1" patternContentUnits="objectBoundingBox">{inside}</pattern>'


def _filled(name: str) -> str:
    return f'<rect width="1" height="1" fill="url(#{name})"/>'


def _metallic(name: str, base: Rgb, glow: Rgb | None) -> str:
    # Seen on a ball the horizon is bowed: circles about a place far below, the bottom of the ball first.
    bands = "".join(_stop(stop._replace(at=round(1 - stop.at / BELOW, 4)), base, None) for stop in reversed(BANDS))
    rim = _lit(base, -0.75) if glow is None else _lit(glow, 0.1)
    return (
        f'<radialGradient id="{name}b" cx=".58" cy="{BELOW:g}" r="{BELOW:g}">{bands}</radialGradient>'
        f'<radialGradient id="{name}r" r=".52"><stop offset=".7" stop-color="{rim}" stop-opacity="0"/>'
        f'<stop offset="1" stop-color="{rim}" stop-opacity="{0.75 if glow is None else 1:g}"/></radialGradient>'
        + _pattern(name, _filled(f"{name}b") + _filled(f"{name}r"))
    )


def _confetti(name: str, base: Rgb, glow: Rgb | None) -> str:
    scraps = "".join(
        f'<path d="M{0.5 + x / 2:.3g} {0.5 + y / 2:.3g}h0" stroke="{_lit(base, -0.30 if n % 3 == 0 else 0.0)}"'
        f' stroke-width="{wide / 2:.3g}" stroke-linecap="round"/>'
        for n, (x, y, wide) in enumerate(SCRAPS)
    )
    return _radial(f"{name}g", STOPS["clear"], base, glow, 0.33, 0.29) + _pattern(name, scraps + _filled(f"{name}g"))


def _foil(name: str, base: Rgb, round_seam: bool) -> str:
    inside = "".join(facets(0.5, 0.5, 0.5, _lit(base, 0.0), puckered=round_seam))
    if round_seam:
        inside += f'<path d="{RING}" fill="none" stroke="{_lit(base, 0.42)}" stroke-width=".045"/>'
    return _radial(f"{name}g", STOPS["foil"], base, None, 0.4, 0.34) + _pattern(name, _filled(f"{name}g") + inside)


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
