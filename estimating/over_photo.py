"""A garland drawn over the photo of the place it will hang in, every balloon as large as it would be seen there."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Mapping
from dataclasses import dataclass, replace
from html import escape
from math import exp, log

from estimating.drawing import Swatch, svg, svg_for_paper
from estimating.layout import Balloon, Layout
from estimating.plane import Plane
from estimating.scenery import WALL, Scene
from estimating.setting import Setting

RUNG = 0.02
"""Seen sizes are rounded to steps of this part, so that balloons of one size that are seen alike are drawn alike."""

PICTURE_SIDE = 1000.0
"""A drawing over a photo is this many units on its longer side."""

SHADOW_STEPS = (1.15, 1.0, 0.85, 0.7, 0.55)


@dataclass(frozen=True, slots=True)
class Backdrop:
    """What a garland was sketched on: a photo or a blank wall of so many pixels, and the wall's plane in them."""

    plane: Plane
    width: int
    height: int

    @property
    def by(self) -> float:
        """Units of the drawing to a pixel."""
        return PICTURE_SIDE / max(self.width, self.height)


def svg_over_photo(
    layout: Layout,
    palette: Mapping[str, Swatch],
    backdrop: Backdrop,
    *,
    address: str | None,
    title: str,
    prefix: str = "p",
    what: str = "",
) -> str:
    """The picture for a screen. `address` is where the photo is found, empty for a blank wall, None for nothing behind.

    Without anything behind it can be laid over the photo in a page. Raises UnknownColourError as `svg` does.
    """
    scene = _scene(layout, backdrop, address)
    return svg(_seen(layout, backdrop), palette, title=title, prefix=prefix, scene=scene, what=what)


def svg_over_photo_for_paper(
    layout: Layout,
    palette: Mapping[str, Swatch],
    backdrop: Backdrop,
    *,
    address: str,
    title: str,
    prefix: str = "p",
    what: str = "",
) -> str:
    """The picture for a PDF, the photo at `address`; empty for a blank wall."""
    scene = _scene(layout, backdrop, address)
    return svg_for_paper(_seen(layout, backdrop), palette, title=title, prefix=prefix, scene=scene, what=what)


def inside(photo: bytes) -> str:
    """A JPEG as an address that holds it, so that a picture is whole on its own."""
    return f"data:image/jpeg;base64,{b64encode(photo).decode()}"


def _seen(layout: Layout, backdrop: Backdrop) -> Layout:
    """The layout as the photo shows it, in units of the drawing. Depth stays in inches: it only orders the balloons."""
    places = backdrop.plane.photo_of([(b.x, b.y) for b in layout.balloons])
    balloons = tuple(_placed(b, place, backdrop) for b, place in zip(layout.balloons, places, strict=True))
    strings = tuple(_line(backdrop, string) for string in layout.strings)
    sprigs = tuple(_line(backdrop, stem) for stem in layout.setting.sprigs)
    setting = Setting(sprigs=sprigs)
    return replace(
        layout, balloons=balloons, spine=_line(backdrop, layout.spine), strings=strings, setting=setting, points=None
    )


def _placed(balloon: Balloon, place: tuple[float, float], backdrop: Backdrop) -> Balloon:
    across = balloon.diameter * backdrop.plane.scale_at((balloon.x, balloon.y)) * backdrop.by
    across = exp(round(log(across) / RUNG) * RUNG)
    return replace(balloon, x=place[0] * backdrop.by, y=place[1] * backdrop.by, diameter=across)


def _line(backdrop: Backdrop, line: tuple[tuple[float, float], ...]) -> tuple[tuple[float, float], ...]:
    return tuple((x * backdrop.by, y * backdrop.by) for x, y in backdrop.plane.photo_of(line))


def _scene(layout: Layout, backdrop: Backdrop, address: str | None) -> Scene:
    """The whole photo, or a blank wall where the address is empty, or nothing for None; and a shadow on it."""
    width, height = backdrop.width * backdrop.by, backdrop.height * backdrop.by
    size = f'width="{width:.1f}" height="{height:.1f}"'
    behind = []
    if address:
        behind.append(f'<image href="{escape(address)}" {size} preserveAspectRatio="none"/>')
    elif address is not None:
        behind.append(f'<rect {size} fill="{WALL}"/>')
    return Scene((0.0, 0.0, width, height), behind + _shadow(layout, backdrop))


def _shadow(layout: Layout, backdrop: Backdrop) -> list[str]:
    """A soft shadow below the garland: what makes it hang in the room instead of lying on the picture."""
    line = _line(backdrop, layout.spine)
    middle = layout.spine[len(layout.spine) // 2]
    wide = layout.width * backdrop.plane.scale_at(middle) * backdrop.by
    path = "M" + "L".join(f"{x + wide * 0.1:.1f} {y + wide * 0.16:.1f}" for x, y in line)
    return [
        f'<path d="{path}" fill="none" stroke="#140e18" stroke-opacity=".05" stroke-width="{wide * part:.1f}"'
        ' stroke-linecap="round" stroke-linejoin="round"/>'
        for part in SHADOW_STEPS
    ]
