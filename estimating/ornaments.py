"""What is drawn with the balloons that is no balloon: strings, weights, greenery and lettering."""

from __future__ import annotations

import re
from collections.abc import Sequence
from html import escape
from itertools import pairwise
from math import atan2, cos, hypot, pi, sin

from estimating.layout import WEIGHT_HEIGHT, Layout
from estimating.setting import Point, Words

STRING, WEIGHT, WEIGHT_EDGE = "#9c8562", "#5a4a5e", "#3d3041"
STEM, LEAVES = "#5d7356", ("#6f8a66", "#86a07a", "#5f7a58")

FINEST, WIDEST_SHOWN = 0.35, 700.0
"""Inches a string is drawn wide at least, and more in a wide picture so that it is still to be seen."""

LEAF = 3.4
SPACING = 0.8
"""Inches a leaf is long, and how many leaves apart they sit."""

CAPITALS, LEADING, WIDE, MOST_LINES = 0.74, 1.05, 0.58, 3
"""Parts of the type size: how high capitals are, how far lines are apart, how wide a letter is; and lines at most."""

FACES = "Bricolage Grotesque, Bricolage Grotesque Extended, Atkinson Hyperlegible Next, sans-serif"

NOT_IN_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def strings(layout: Layout) -> list[str]:
    """Ribbons, lines and frames as one path behind the balloons."""
    if not layout.strings:
        return []
    bounds = layout.bounds()
    wide = max(FINEST, (bounds.right - bounds.left) / WIDEST_SHOWN)
    drawn = "".join(_line(string) for string in layout.strings)
    return [f'<path d="{drawn}" fill="none" stroke="{STRING}" stroke-width="{wide:.2g}" stroke-linejoin="round"/>']


def weights(layout: Layout) -> list[str]:
    """Weights on the floor: a small bag with its neck tied."""
    tall = WEIGHT_HEIGHT
    bags = "".join(f"M{_figure(x)} {_figure(y)}l-2 {tall:g}h4z" for x, y in layout.setting.weights)
    bows = "".join(
        f"M{_figure(x)} {_figure(y + 0.2)}l-1.5 -.9v1.6zM{_figure(x)} {_figure(y + 0.2)}l1.5 -.9v1.6z"
        for x, y in layout.setting.weights
    )
    if not bags:
        return []
    return [
        f'<path d="{bags}" fill="{WEIGHT}" stroke="{WEIGHT_EDGE}" stroke-width=".8" stroke-linejoin="round"/>',
        f'<path d="{bows}" fill="{WEIGHT_EDGE}"/>',
    ]


def greenery(layout: Layout) -> list[str]:
    """Sprigs: stems with leaves on both sides."""
    drawn = []
    for stem in layout.setting.sprigs:
        drawn.append(f'<path d="{_line(stem)}" fill="none" stroke="{STEM}" stroke-width=".4"/>')
    leaves: dict[str, list[str]] = {colour: [] for colour in LEAVES}
    for stem in layout.setting.sprigs:
        for n, (x, y, along) in enumerate(_stations(stem, SPACING)):
            small = LEAF * (1.0 - 0.03 * n)
            turned = along + (0.75 if n % 2 else -0.75)
            leaves[LEAVES[n % len(LEAVES)]].append(_leaf(x, y, turned, max(1.4, small)))
    drawn += [f'<path d="{"".join(shapes)}" fill="{colour}"/>' for colour, shapes in leaves.items() if shapes]
    return drawn


def lettering(words: Words, ink: str) -> list[str]:
    """Words set in their place within the width and height of their decal, in as many lines as let them be largest."""
    lines, size = max(
        ((lines, _type_size(lines, words)) for n in range(1, MOST_LINES + 1) if (lines := _set_in(words.text, n))),
        key=lambda found: found[1],
    )
    top = words.y - LEADING * size * (len(lines) - 1) / 2 + size * CAPITALS / 2
    return [
        f'<text x="{_figure(words.x)}" y="{_figure(top + n * LEADING * size)}" font-size="{_figure(size)}"'
        f' text-anchor="middle" font-family="{FACES}" font-weight="700" fill="{ink}">'
        f"{plain_text(line)}</text>"
        for n, line in enumerate(lines)
    ]


def plain_text(said: str) -> str:
    """Text that cannot end the element it stands in; what XML cannot hold becomes a replacement character."""
    return escape(NOT_IN_XML.sub("\ufffd", said))


def _set_in(text: str, number: int) -> list[str]:
    """A text in so many lines, about as long as one another; none where it has fewer words."""
    waiting = text.split()
    if len(waiting) < number:
        return []
    lines: list[str] = []
    longest = len(" ".join(waiting)) / number
    while waiting:
        line = [waiting.pop(0)]
        while waiting and len(lines) < number - 1 and len(" ".join([*line, waiting[0]])) <= longest + 0.5:
            line.append(waiting.pop(0))
        lines.append(" ".join([*line, *waiting]) if len(lines) == number - 1 else " ".join(line))
        if len(lines) == number:
            break
    return lines


def _type_size(lines: Sequence[str], words: Words) -> float:
    """The type size at which these lines fill their decal, across or down, whichever is less."""
    down = words.height / (CAPITALS + LEADING * (len(lines) - 1))
    return min(down, words.width / (WIDE * max(len(line) for line in lines)))


def _line(points: Sequence[Point]) -> str:
    """A line as a path, each point given from the one before."""
    (x, y), *rest = ((round(px, 1), round(py, 1)) for px, py in points)
    drawn = [f"M{_figure(x)} {_figure(y)}"]
    for n, (px, py) in enumerate(rest):
        across, down = _figure(px - x), _figure(py - y)
        drawn.append(f"{_apart(across) if n else 'l'}{across}{_apart(down)}{down}")
        x, y = px, py
    return "".join(drawn)


def _stations(stem: Sequence[Point], every: float) -> list[tuple[float, float, float]]:
    """Places along a stem that far apart, with the direction there in radians."""
    found, left = [], every
    for (ax, ay), (bx, by) in pairwise(stem):
        long, direction = hypot(bx - ax, by - ay), atan2(by - ay, bx - ax)
        while long and left <= long:
            found.append((ax + (bx - ax) * left / long, ay + (by - ay) * left / long, direction))
            left += every
        left -= long
    return found


def _leaf(x: float, y: float, turned: float, long: float) -> str:
    """A leaf that begins at a point and goes off in a direction."""
    tip = (x + long * cos(turned), y + long * sin(turned))
    sides = [
        (x + 0.5 * long * cos(turned + side * pi / 5), y + 0.5 * long * sin(turned + side * pi / 5)) for side in (1, -1)
    ]
    (ax, ay), (bx, by) = sides
    return (
        f"M{_figure(x)} {_figure(y)}Q{_figure(ax)} {_figure(ay)} {_figure(tip[0])} {_figure(tip[1])}"
        f"Q{_figure(bx)} {_figure(by)} {_figure(x)} {_figure(y)}z"
    )


def _figure(value: float) -> str:
    text = f"{value:.1f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "0") else text.replace("0.", ".", 1) if abs(value) < 1 else text


def _apart(figure: str) -> str:
    """What a figure needs before it: a minus sets it apart by itself."""
    return "" if figure.startswith("-") else " "
