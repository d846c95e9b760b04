"""Swatches: how a colour is typed, which ink can be read on it, and how far two colours are from each other.

Luminance and contrast are those of WCAG 2.2 (relative luminance, contrast ratio), for sRGB. The distance is CIEDE2000,
as in "The CIEDE2000 color-difference formula: implementation notes, supplementary test data, and mathematical
observations", Color Research & Application 30(1), 2005.
"""

import re
from functools import lru_cache
from math import atan2, cos, degrees, exp, hypot, radians, sin, sqrt

from studio.refusals import RuleError

DARK_INK = "#211c2b"
LIGHT_INK = "#fffdf9"


class ColourError(RuleError):
    """A colour that cannot be read."""

    longest_shown = 20


def parse_swatch(text: str) -> str:
    """A typed colour as "#rrggbb" in lower case; "1B1B1F", "#1b1b1f" and the short "#abc" are understood."""
    bare = text.strip().removeprefix("#").lower()
    if re.fullmatch(r"[0-9a-f]{3}", bare):
        bare = "".join(digit * 2 for digit in bare)
    if not re.fullmatch(r"[0-9a-f]{6}", bare):
        raise ColourError("A colour is a # and six of 0-9 and a-f, such as #1b1b1f.", text)
    return f"#{bare}"


@lru_cache(maxsize=1024)
def relative_luminance(swatch: str) -> float:
    """How light a colour is, from 0 for black to 1 for white (WCAG 2.2, relative luminance)."""
    digits = parse_swatch(swatch)[1:]
    red, green, blue = (_linear(int(digits[i : i + 2], 16) / 255) for i in (0, 2, 4))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast_ratio(one: str, other: str) -> float:
    """From 1 (the same) to 21 (black on white), in either order. Compare it unrounded: 4.499 fails 4.5."""
    dark, light = sorted((relative_luminance(one), relative_luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def ink_on(swatch: str) -> str:
    """The dark or the light ink, whichever stands out more on `swatch`."""
    return max((DARK_INK, LIGHT_INK), key=lambda ink: contrast_ratio(ink, swatch))


def _linear(channel: float) -> float:
    """A gamma-coded channel (0 to 1) as linear light."""
    return channel / 12.92 if channel <= 0.04045 else ((channel + 0.055) / 1.055) ** 2.4


Lab = tuple[float, float, float]
"""Lightness from 0 to 100, then green to red and blue to yellow: CIE L*a*b* under D65."""

_TO_XYZ = (
    (0.4123907992659595, 0.357584339383878, 0.1804807884018343),
    (0.21263900587151036, 0.715168678767756, 0.07219231536073371),
    (0.01933081871559185, 0.11919477979462599, 0.9505321522496606),
)
_D65 = (0.3127 / 0.329, 1.0, (1 - 0.3127 - 0.329) / 0.329)


@lru_cache(maxsize=512)
def lab(swatch: str) -> Lab:
    """A swatch in CIE L*a*b*, under the white of its own screen (D65)."""
    digits = parse_swatch(swatch)[1:]
    light = [_linear(int(digits[i : i + 2], 16) / 255) for i in (0, 2, 4)]
    x, y, z = (
        _lightness(sum(part * channel for part, channel in zip(row, light, strict=True)) / white)
        for row, white in zip(_TO_XYZ, _D65, strict=True)
    )
    return 116 * y - 16, 500 * (x - y), 200 * (y - z)


def distance(one: str, other: str) -> float:
    """How far two swatches look apart, ΔE by CIEDE2000: about 1 is just seen, 2 to 3 close (usage).

    Latex changes with inflation and age, so this only orders what could stand in for what.
    """
    return ciede2000(lab(one), lab(other))


def ciede2000(one: Lab, other: Lab) -> float:
    """The CIEDE2000 difference of two colours, with all weights one; the same in either order."""
    (light_1, a_1, b_1), (light_2, a_2, b_2) = one, other
    seventh = ((hypot(a_1, b_1) + hypot(a_2, b_2)) / 2) ** 7
    stretch = 1.5 - 0.5 * sqrt(seventh / (seventh + 25**7))
    chroma_1, chroma_2 = hypot(stretch * a_1, b_1), hypot(stretch * a_2, b_2)
    hue_1, hue_2 = _hue(stretch * a_1, b_1), _hue(stretch * a_2, b_2)
    turn, hue = _between(hue_1, hue_2) if chroma_1 and chroma_2 else (0.0, hue_1 + hue_2)
    by_light, by_chroma = light_2 - light_1, chroma_2 - chroma_1
    by_hue = 2 * sqrt(chroma_1 * chroma_2) * sin(radians(turn) / 2)
    light, chroma = (light_1 + light_2) / 2, (chroma_1 + chroma_2) / 2
    weight = (
        1
        - 0.17 * cos(radians(hue - 30))
        + 0.24 * cos(radians(2 * hue))
        + 0.32 * cos(radians(3 * hue + 6))
        - 0.20 * cos(radians(4 * hue - 63))
    )
    scale_light = 1 + 0.015 * (light - 50) ** 2 / sqrt(20 + (light - 50) ** 2)
    scale_chroma, scale_hue = 1 + 0.045 * chroma, 1 + 0.015 * chroma * weight
    rotation = -2 * sqrt(chroma**7 / (chroma**7 + 25**7)) * sin(radians(60 * exp(-(((hue - 275) / 25) ** 2))))
    part_light, part_chroma, part_hue = by_light / scale_light, by_chroma / scale_chroma, by_hue / scale_hue
    return sqrt(max(part_light**2 + part_chroma**2 + part_hue**2 + rotation * part_chroma * part_hue, 0.0))


def _hue(a: float, b: float) -> float:
    return degrees(atan2(b, a)) % 360 if a or b else 0.0


def _between(one: float, other: float) -> tuple[float, float]:
    """The turn from one hue to the other the short way, and the hue half way, in degrees."""
    turn, total = other - one, one + other
    if abs(turn) <= 180:
        return turn, total / 2
    turn += 360 if turn < 0 else -360
    return turn, (total + 360) / 2 if total < 360 else (total - 360) / 2


def _lightness(share: float) -> float:
    return share ** (1 / 3) if share > 216 / 24389 else (24389 / 27 * share + 16) / 116
