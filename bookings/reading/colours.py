"""Colours by the studio's own names, and common words for colours by the nearest of its own."""

import re
from collections.abc import Iterator, Sequence

from bookings.reading.found import Suggestion, distinct
from stock.colour import distance

FARTHEST = 25
"""A colour that looks farther away (ΔE, CIEDE2000) is not the nearest but another: a choice of ours, no source."""

COMMON = {
    "black": "#1b1b1f", "white": "#ffffff", "ivory": "#f6efdd", "cream": "#f5ead0", "beige": "#d9c7a6",
    "sand": "#d8c29d", "tan": "#c9a37a", "taupe": "#a39382", "brown": "#6b4a33", "chocolate": "#4e3024",
    "terracotta": "#c2683f", "rust": "#a6482a", "orange": "#f0812b", "burnt orange": "#bf5a20",
    "peach": "#f7c6a3", "apricot": "#f5b583", "coral": "#f4775e", "salmon": "#f49a85", "red": "#cf2027",
    "dark red": "#8f1a22", "burgundy": "#6d1b30", "maroon": "#641e2c", "wine": "#6a1f38", "pink": "#f4a6c1",
    "light pink": "#f9cfdc", "pale pink": "#f9d5df", "baby pink": "#f8cbd8", "blush": "#f1cfca",
    "blush pink": "#f1cfca", "dusty pink": "#d5a3a4", "dusty rose": "#c98f93", "hot pink": "#e8338b",
    "fuchsia": "#d42a8f", "magenta": "#c8207f", "rose gold": "#d9a08f", "rose": "#dd7f92", "purple": "#6f3f96",
    "violet": "#7a4fa3", "lavender": "#c6b6e0", "lilac": "#cdb4dc", "mauve": "#b08fae", "plum": "#6a2f5b",
    "navy": "#1f2c4d", "navy blue": "#1f2c4d", "dark blue": "#22315c", "royal blue": "#2a4fb0",
    "blue": "#2f6fc2", "light blue": "#a8cfee", "baby blue": "#b6d7ee", "pale blue": "#bcdaee",
    "sky blue": "#93c8ec", "dusty blue": "#8ba3b8", "powder blue": "#b5d0e2", "turquoise": "#3fbfbf",
    "teal": "#1f7a80", "aqua": "#6fd0d0", "mint": "#b4e2cb", "mint green": "#b4e2cb", "green": "#2f8f4e",
    "dark green": "#1f5236", "light green": "#a9d9a0", "forest green": "#1f5236", "emerald": "#117a52",
    "emerald green": "#117a52", "olive": "#74753a", "olive green": "#74753a", "sage": "#a9b79a",
    "sage green": "#a9b79a", "lime": "#a8d13a", "lime green": "#a8d13a", "eucalyptus": "#93a998",
    "yellow": "#f7d336", "mustard": "#cf9f2b", "lemon": "#f8e873", "gold": "#c9a24a", "champagne": "#e6d3b0",
    "silver": "#bfc3c9", "grey": "#8d9096", "gray": "#8d9096", "charcoal": "#43454b", "copper": "#b06a43",
    "bronze": "#8f6b3e", "nude": "#e2c3ab",
}  # fmt: skip
"""What is meant by a common word, near enough to find the one in the studio's palette: swatches of our own."""

_NOT = re.compile(
    r"\b(?:no|not|without|except|avoid|hates?|but not|anything but|instead of|other than|nothing|don['’]?t like|"
    r"dont like)"
    r"[ \t]{1,2}(?:any[ \t]{1,2}|too[ \t]{1,2})?$",
    re.I,
)
_TITLE = re.compile(r"\b(?:Mr|Mrs|Ms|Miss|Mx|Dr|Aunt|Auntie|Uncle|Old)\.?[ \t]$")
_NOT_COLOUR_AFTER = re.compile(
    r"[ \t-]{1,2}(?:card|tie|board|wedding|juice|day\b|hair|eyes|house|friday|sea\b|wall\b|squash|cheese|cake|"
    r"anniversary)"
    r"|['’]s\b|@|\.\w",
    re.I,
)
_SPEAKS = re.compile(r"[ \t]{1,2}(?:here|speaking|x+\b)", re.I)
_PLACE_WORD = re.compile(
    r"[ \t](?:[A-Z][a-z]+|street|st\b|road|rd\b|lane|hall|barn|house|hotel|farm|room|cottage|hill|inn|arms|lion|"
    r"lodge|park)"
)
_ON_THE = re.compile(r"\b(?:on|in|at|from|into) the[ \t]$", re.I)


def colours_in(text: str, *, palette: Sequence[tuple[str, str]]) -> tuple[Suggestion, ...]:
    """Colours that the message names, each as one of the `palette` (name and swatch).

    A common word that is no name of the studio's becomes the nearest that it has, and says so.
    """
    names = {name.casefold(): name for name, _ in palette}
    words = sorted({*names, *COMMON}, key=len, reverse=True)
    known = set(words)
    pattern = re.compile(
        r"(?<![\w@.-])(?:" + "|".join(re.escape(word).replace(r"\ ", r"[ \t-]{1,2}") for word in words) + r")s?(?!\w)",
        re.I,
    )
    found: list[Suggestion] = []
    for match in pattern.finditer(text):
        word = " ".join(match[0].replace("-", " ").split()).casefold()
        word = word if word in known else word.removesuffix("s")
        if not _is_colour(match, text, known):
            continue
        own = names.get(word) or names.get(word.replace("grey", "gray")) or names.get(word.replace("gray", "grey"))
        value, note = (own, "") if own else _nearest(word, palette)
        found.append(Suggestion("colour", value, value, match.start(), match.end(), match[0], note))
    return distinct(found, 8)


def _is_colour(match: re.Match[str], text: str, words: set[str]) -> bool:
    before = max(0, match.start() - 24)
    if _NOT.search(text, before, match.start()) or _TITLE.search(text, before, match.start()):
        return False
    if _NOT_COLOUR_AFTER.match(text, match.end()) or _SPEAKS.match(text, match.end()):
        return False
    # "on the sand" is a beach, "at the Green" a place; "in the gold" is no way to say a colour either.
    if match[0].lower() == "sand" and _ON_THE.search(text, before, match.start()):
        return False
    if not match[0][0].isupper():
        return not re.match(
            r"[ \t](?:lane|street|road|hall|barn|cottage|hotel|inn)\b", text[match.end() : match.end() + 12]
        )
    follows = _PLACE_WORD.match(text, match.end())
    if follows and follows[0].strip().casefold() not in words:
        return (
            _starts_sentence(text, match.start())
            and follows[0].strip()[0].islower()
            and follows[0].strip() not in _PLACES
        )
    return not _is_surname(text, match.start(), words)


_PLACES = {"street", "road", "lane", "hall", "barn", "house", "hotel", "farm", "cottage", "inn", "lodge", "room"}


def _starts_sentence(text: str, at: int) -> bool:
    return not text[:at].strip() or text[:at].rstrip()[-1] in ".!?\n:" or "\n" in text[len(text[:at].rstrip()) : at]


def _is_surname(text: str, at: int, words: set[str]) -> bool:
    """Whether a capital word stands right before, as in "Ines Black", and is no colour itself."""
    before = re.search(r"([A-Z][a-z]{1,20})[ \t]$", text[max(0, at - 24) : at])
    if (
        before is None
        or before[1].casefold() in words
        or before[1] in ("In", "With", "And", "Or", "Colours", "Colors", "Maybe")
    ):
        return False
    start = at - len(before[0])
    return not _starts_sentence(text, start) or before[1] not in (
        "Love",
        "Mostly",
        "Some",
        "Just",
        "All",
        "Light",
        "Dark",
    )


def _nearest(word: str, palette: Sequence[tuple[str, str]]) -> tuple[str, str]:
    swatch = COMMON[word]
    ranked = sorted((distance(swatch, other), name) for name, other in palette)
    if not ranked or ranked[0][0] > FARTHEST:
        return word, "none of your colours is near"
    return ranked[0][1], f"nearest of yours to “{word}”"


def names_of(found: Sequence[Suggestion]) -> Iterator[str]:
    """The words that were read as colours, so that nobody is called Rose for asking for some."""
    return (one.said.casefold() for one in found)
