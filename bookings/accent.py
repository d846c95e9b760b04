"""A studio's own colour on its client's pages and papers: whether it can be read, and the tones made from it.

Contrast is WCAG 2.2's, 4.5 to 1 (criterion 1.4.3), against the surfaces it stands on. For the dark theme the colour is
made lighter until it can be read there, so one colour is all that has to be chosen.
"""

from dataclasses import dataclass

from stock.colour import ColourError, contrast_ratio, parse_swatch

LEAST_CONTRAST = 4.5
PAGE, CARD, INK = "#faf6ef", "#fffdf9", "#211c2b"
DARK_PAGE, DARK_CARD, DARK_INK = "#16121b", "#201a28", "#f4eef7"
_WASH, _HOVER, _STEPS = 0.09, 0.16, 40


@dataclass(frozen=True, slots=True)
class Tones:
    """The colour on one theme: itself, a wash of it, what it becomes under a pointer, and the ink upon it."""

    colour: str
    wash: str
    hover: str
    ink: str


def mixed(one: str, other: str, share: float) -> str:
    """`share` of `one` in `other`, channel by channel."""
    pairs = [(int(one[i : i + 2], 16), int(other[i : i + 2], 16)) for i in (1, 3, 5)]
    return "#" + "".join(f"{round(a * share + b * (1 - share)):02x}" for a, b in pairs)


def why_unreadable(typed: str) -> str:
    """The rule a colour breaks as a sentence's end, “stand out …”; empty where it can be used."""
    try:
        colour = parse_swatch(typed)
    except ColourError:
        return "be a # and six of 0-9 and a-f, such as #5b2a63"
    ratio = _least(colour, PAGE, CARD, light_tones(colour).wash)
    if ratio < LEAST_CONTRAST:
        # Cut, not rounded: 4.48 must not be told as 4.5.
        said = f"{int(ratio * 10) / 10:g}"
        return f"stand out from the page {LEAST_CONTRAST} to 1 to be read; it does {said} to 1. A darker one will"
    return ""


def light_tones(colour: str) -> Tones:
    """On the light theme and on paper."""
    return Tones(colour, mixed(colour, CARD, _WASH), mixed(INK, colour, _HOVER), CARD)


def dark_tones(colour: str) -> Tones:
    """On the dark theme: as little lighter as lets it be read."""
    for step in range(_STEPS + 1):
        lit = mixed("#ffffff", colour, step / _STEPS)
        wash = mixed(lit, DARK_CARD, _WASH)
        if _least(lit, DARK_PAGE, DARK_CARD, wash) >= LEAST_CONTRAST:
            return Tones(lit, wash, mixed("#ffffff", lit, _HOVER), DARK_PAGE)
    raise ValueError(f"white can be read on the dark theme, whatever {colour} is")


def screen_rules(colour: str) -> str:
    """The style sheet that puts the colour on a client's page."""
    light, dark = _root(light_tones(colour)), _root(dark_tones(colour))
    return f"{light}\n@media screen and (prefers-color-scheme: dark) {{ {dark} }}\n"


def paper_rules(colour: str) -> str:
    """The rules that put the colour on a paper; none for the house's own, an empty one."""
    if not colour:
        return ""
    tones = light_tones(parse_swatch(colour))
    return (
        f".until, .money .deposit th, .money .deposit td, .changes h2 {{ color: {tones.colour} }}\n"
        f".changes {{ background: {tones.wash} }}\n.letterhead strong {{ color: {tones.colour} }}"
    )


def _root(tones: Tones) -> str:
    return (
        f":root {{ --plum: {tones.colour}; --plum-wash: {tones.wash}; --action: {tones.colour}; "
        f"--action-hover: {tones.hover}; --on-action: {tones.ink}; }}"
    )


def _least(colour: str, *surfaces: str) -> float:
    return min(contrast_ratio(colour, surface) for surface in surfaces)
