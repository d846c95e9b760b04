"""Swatches: how a colour is typed, and which ink can be read on it.

Luminance and contrast are those of WCAG 2.2 (relative luminance, contrast ratio), for sRGB.
"""

import re

DARK_INK = "#211c2b"
LIGHT_INK = "#fffdf9"


class ColourError(ValueError):
    """A colour that cannot be read: `rule` is the sentence it breaks, `value` what was given."""

    def __init__(self, rule: str, value: object) -> None:
        self.rule = rule
        self.value = value
        given = str(value)
        super().__init__(f"{rule} Given: {given[:20] + '…' if len(given) > 20 else given or 'nothing'}.")


def parse_swatch(text: str) -> str:
    """A typed colour as "#rrggbb" in lower case; "1B1B1F", "#1b1b1f" and the short "#abc" are understood."""
    bare = text.strip().removeprefix("#").lower()
    if re.fullmatch(r"[0-9a-f]{3}", bare):
        bare = "".join(digit * 2 for digit in bare)
    if not re.fullmatch(r"[0-9a-f]{6}", bare):
        raise ColourError("A colour is a # and six of 0-9 and a-f, such as #1b1b1f.", text)
    return f"#{bare}"


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
