"""Balloons as a picture shows them: each a disc of a size, in a colour with a finish."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from estimating.layout import FORMS, Form, Layout
from estimating.shading import finish_drawn


class Swatch(NamedTuple):
    """A colour as drawn: `hex` as #rrggbb, the name people call it by, its finish, and its outline if it is foil."""

    hex: str
    name: str
    finish: str = "standard"
    form: str = "round"


class Disc(NamedTuple):
    """One balloon as seen from the front, in inches; `depth` is its centre's distance in front of the spine.

    A disc with an `inner` colour stands for two balloons.
    """

    x: float
    y: float
    r: float
    colour: str
    size: int
    depth: float
    inner: str | None = None
    form: Form = "round"


def discs(layout: Layout) -> list[Disc]:
    """Every balloon once, the furthest first."""
    ordered = sorted(layout.balloons, key=lambda b: (b.z, b.x, b.y, b.size, b.colour))
    return [Disc(b.x, b.y, b.diameter / 2, b.colour, b.size, b.z, b.inner, b.form) for b in ordered]


def formed(shown: list[Disc], palette: Mapping[str, Swatch]) -> list[Disc]:
    """The discs, those in a colour that only comes as hearts or stars as what they are."""
    return [
        disc._replace(form=next((form for form in FORMS if form == palette[disc.colour].form), disc.form))
        if disc.form == "round"
        else disc
        for disc in shown
    ]


def finish_of(swatch: Swatch) -> str:
    """The finish a swatch is drawn in: hearts and stars are foil whatever is said of them."""
    return "foil" if swatch.form != "round" else finish_drawn(swatch.finish)


def figure(value: float, places: int = 1) -> str:
    """A number as short as it can be written."""
    text = f"{value:.{places}f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
