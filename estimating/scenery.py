"""What stands behind a piece in its picture: a wall, the rail it hangs from, a door or a person for scale, the floor.

Everything is at the piece's own scale, in inches, and none of it is round, so that only balloons are circles.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot
from typing import NamedTuple

from estimating.layout import Layout
from estimating.setting import Point, Room
from estimating.spines import along, length_of

WALL, FLOOR, RAIL, RAIL_EDGE = "#f6f1e8", "#e9e0d1", "#7f6c58", "#5f4f40"
FURNITURE, FURNITURE_EDGE = "#eee6d9", "#d8ccba"

CEILING, CLOTH = "#fbf8f2", "#fdfbf7"

DOOR_WIDTH, DOOR_HEIGHT = 36.0, 80.0
"""A common inside door of 3 ft by 6 ft 8 in."""

PERSON_HEIGHT = 67.0
HIGHEST_RAIL = 108.0
"""A piece is hung no higher than this above the floor unless it is longer itself."""


class Scene(NamedTuple):
    """The part of the wall that is shown (left, top, width, height) and what is drawn before the balloons."""

    view: tuple[float, float, float, float]
    behind: list[str]


def scene_of(layout: Layout) -> Scene:
    """The scene a layout is shown in; a piece hangs from its spine, or stands where it has none or no points on it."""
    if layout.setting.room is not None:
        return _under_a_ceiling(layout, layout.setting.room)
    left, top, right, bottom = layout.bounds()
    table = layout.setting.table
    hangs = bool(layout.spine) and layout.points != ()
    edge = max(10.0, (right - left) * 0.05)
    floor = max(bottom + 3.0, HIGHEST_RAIL) if hangs else bottom + table
    view_left, view_right = left - edge, right + edge
    if not hangs:
        view_left -= 30.0
    view_top = min(top, -4.0) - edge * 0.6 if hangs else min(top, floor - PERSON_HEIGHT) - edge
    # The floor carries the note about scale, which grows with the picture.
    skirting = max(edge * 0.8, (view_right - view_left) / 20, (floor - view_top) / 16)
    view = (view_left, view_top, view_right - view_left, floor + skirting - view_top)
    behind = [_box(*view, WALL), _box(view_left, floor, view[2], skirting, FLOOR)]
    if not hangs:
        behind.append(_person(view_left + 18.0, floor))
        behind += _table(left, right, bottom, floor) if table else []
        return Scene(view, behind)
    if layout.spine[-1][1] > 30.0:
        door_right = layout.spine[-1][0] - layout.width / 2 - 4.0
        behind += _door(door_right - DOOR_WIDTH, floor)
    else:
        behind.append(_person(left + (right - left) * 0.62, floor))
    behind += [_box(view_left, -3.0, view[2], 3.0, RAIL), _box(view_left, -0.8, view[2], 0.8, RAIL_EDGE)]
    behind += _shadow(layout.spine, layout.width)
    return Scene(view, behind)


def _under_a_ceiling(layout: Layout, room: Room) -> Scene:
    """A ceiling seen from a little below, the far wall under it, and somebody standing at that wall."""
    left, _, right, _ = layout.bounds()
    aside = max(14.0, (right - left) * 0.06)
    far, floor, edge = room.far_edge, room.far_edge + room.height, max(8.0, room.height * 0.08)
    inset = min(aside, far * 0.35)
    view = (left - aside, -6.0, right - left + 2 * aside, floor + edge + 6.0)
    view_right = view[0] + view[2]
    ceiling = f"M{view[0]:.1f} 0H{view_right:.1f}L{view_right - inset:.1f} {far:.1f}H{view[0] + inset:.1f}z"
    corners = (
        f"M{view[0]:.1f} 0L{view[0] + inset:.1f} {far:.1f}V{floor:.1f}L{view[0]:.1f} {floor + edge:.1f}"
        f"M{view_right:.1f} 0L{view_right - inset:.1f} {far:.1f}V{floor:.1f}L{view_right:.1f} {floor + edge:.1f}"
    )
    behind = [
        _box(*view, WALL),
        f'<path d="{ceiling}" fill="{CEILING}" stroke="{FURNITURE_EDGE}" stroke-width=".8"/>',
        _box(view[0], -6.0, view[2], 6.0, FURNITURE_EDGE),
        _box(view[0], floor, view[2], edge, FLOOR),
        f'<path d="{corners}" fill="none" stroke="{FURNITURE_EDGE}" stroke-width=".8"/>',
        _person(left + (right - left) * 0.3, floor),
    ]
    return Scene(view, behind)


def _table(left: float, right: float, top: float, floor: float) -> list[str]:
    """A table under a cloth, wide enough for what stands on it."""
    begin, end = left - 8.0, right + 8.0
    folds = "".join(f"M{begin + (end - begin) * n / 6:.1f} {top + 3:.1f}V{floor:.1f}" for n in range(1, 6))
    return [
        f'<path d="M{begin:.1f} {top:.1f}H{end:.1f}L{end + 1.5:.1f} {floor:.1f}H{begin - 1.5:.1f}z" fill="{CLOTH}"/>',
        f'<path d="{folds}" fill="none" stroke="{FURNITURE_EDGE}" stroke-width=".6" stroke-opacity=".7"/>',
        _box(begin - 0.8, top, end - begin + 1.6, 1.4, FURNITURE_EDGE),
    ]


def _box(left: float, top: float, width: float, height: float, fill: str) -> str:
    return f'<rect x="{left:.1f}" y="{top:.1f}" width="{width:.1f}" height="{height:.1f}" fill="{fill}"/>'


def _door(left: float, floor: float) -> list[str]:
    """A door with its frame, two panels and a handle."""
    top = floor - DOOR_HEIGHT
    drawn = [
        _box(left - 4, top - 4, DOOR_WIDTH + 8, DOOR_HEIGHT + 4, FURNITURE_EDGE),
        _box(left, top, DOOR_WIDTH, DOOR_HEIGHT, FURNITURE),
    ]
    for panel_top, height in ((top + 5, 30.0), (top + 41, 33.0)):
        drawn.append(
            f'<rect x="{left + 5:.1f}" y="{panel_top:.1f}" width="{DOOR_WIDTH - 10:g}" height="{height:g}"'
            f' fill="none" stroke="{FURNITURE_EDGE}" stroke-width=".8"/>'
        )
    drawn.append(_box(left + 2.2, floor - 40, 1.4, 5.0, RAIL))
    return drawn


def _person(x: float, floor: float) -> str:
    """Somebody of middling height, seen from behind, as a plain shape."""
    top = floor - PERSON_HEIGHT
    return (
        f'<path fill="{FURNITURE_EDGE}" fill-opacity=".75" transform="translate({x:.1f} {top:.1f})" d="'
        "M0 0c3.2 0 5 2.4 5 5.2s-1.7 5.6-3.2 6.4v2c4.4.8 7.4 2.2 8 6l1.8 19.6c.2 2.6-2.6 3-3.2.6l-2.9-14.4L6 41l-1 25"
        "c-.1 1.4-4.2 1.4-4.3 0L0 43l-.7 23c-.1 1.4-4.2 1.4-4.3 0l-1-25 .5-15.8-2.9 14.4c-.6 2.4-3.4 2-3.2-.6"
        'L-9.8 19.6c.6-3.8 3.6-5.2 8-6v-2C-3.3 10.8-5 8-5 5.2S-3.2 0 0 0z"/>'
    )


def _shadow(spine: Sequence[tuple[float, float]], width: float) -> list[str]:
    """The piece's shadow on the wall, soft because it is drawn in many widths."""
    across, down = width * 0.12, width * 0.16
    length = length_of(spine)
    short = min(width * 0.4, length / 3)
    stops = [short + (length - 2 * short) * n / 60 for n in range(61)]
    line = _thinned([(x + across, y + down) for (x, y), _ in along(spine, stops)], near=width * 0.03)
    path = "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in line)
    return [
        f'<path d="{path}" fill="none" stroke="#3a2b20" stroke-opacity=".025" stroke-width="{width * part:.1f}"'
        ' stroke-linecap="round" stroke-linejoin="round"/>'
        for part in (1.15, 1.0, 0.85, 0.7, 0.55)
    ]


def _thinned(line: list[Point], near: float) -> list[Point]:
    """The line without points that lie this near to one that runs past them, as Douglas and Peucker have it."""
    (x1, y1), (x2, y2) = line[0], line[-1]
    long = hypot(x2 - x1, y2 - y1)
    off = [abs((y2 - y1) * (x - x1) - (x2 - x1) * (y - y1)) / long if long else hypot(x - x1, y - y1) for x, y in line]
    furthest = max(range(len(line)), key=off.__getitem__)
    if off[furthest] <= near:
        return [line[0], line[-1]]
    return [*_thinned(line[: furthest + 1], near)[:-1], *_thinned(line[furthest:], near)]
