"""What layouts say, in the studio's measures.

A layout is laid out in inches and its notes carry them, as “168.5 in”; they are turned into the measures of whoever
reads them only where they are shown. Quotes and pieces kept before may have notes in both measures at once.
"""

from __future__ import annotations

import re
from decimal import Decimal

from studio.units import System, from_inches, show_length

_IN_BOTH = re.compile(r"\b((?:\d+ ft )?\d+ in|\d+ ft) \((\d+\.\d+) m\)")
_IN_INCHES = re.compile(r"\b(\d+(?:\.\d+)?) in\b")

INCH = Decimal("25.4")
SHORT = 36 * INCH
"""Up to this a reckoned length is said to the quarter of an inch, beyond it to the inch."""

TYPED = Decimal("0.02")
"""So near a whole sixteenth, in parts of one, a length was typed and not reckoned."""


def in_measures(sentence: str, measures: System) -> str:
    """A sentence of a layout with its lengths as the studio says them."""
    sentence = _IN_BOTH.sub(lambda both: f"{Decimal(both[2]) * 1000 / INCH:.2f} in", sentence)
    return _IN_INCHES.sub(lambda length: measured(float(length[1]), measures), sentence)


def measured(inches: float, measures: System) -> str:
    """A length in inches as it is said: “14 ft 1 in”, “16¾ in”; “4.28 m”, “42.7 cm”.

    What somebody typed, to the sixteenth of an inch, stays as it is; what was reckoned is rounded.
    """
    mm = from_inches(inches)
    sixteenths = mm / INCH * 16
    if measures == "metric" or abs(sixteenths - round(sixteenths)) <= TYPED:
        return show_length(mm, measures)
    step = INCH / 4 if mm <= SHORT else INCH
    return show_length(round(mm / step) * step or mm, measures)
