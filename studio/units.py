"""Lengths: what people type, kept exactly in millimetres, and shown in feet and inches or in metres.

What somebody types is read here and nowhere else. It is never handed to a units library: those evaluate it, and
an innocent 8' 6" or a hostile 9**9**9 then means something else, or never ends.
"""

import math
import re
from dataclasses import dataclass
from decimal import Context, Decimal, localcontext
from fractions import Fraction
from itertools import pairwise
from typing import Literal

from studio.refusals import RuleError

# Millimetres in each unit. The yard, and with it the foot and the inch, is exact by the agreement of 1959.
MILLIMETRES = {
    "mm": Decimal(1),
    "cm": Decimal(10),
    "m": Decimal(1000),
    "in": Decimal("25.4"),
    "ft": Decimal("304.8"),
    "yd": Decimal("914.4"),
}
LONGEST_MM = Decimal(10_000_000)

System = Literal["imperial", "metric"]
PlainUnit = Literal["ft", "in", "m", "cm"]

_SPELLINGS = {
    "mm": "mm millimetre millimetres millimeter millimeters",
    "cm": "cm centimetre centimetres centimeter centimeters",
    "m": "m metre metres meter meters",
    "in": 'in ins inch inches "',
    "ft": "ft foot feet '",
    "yd": "yd yds yard yards",
}
_UNIT_OF = {spelling: unit for unit, spellings in _SPELLINGS.items() for spelling in spellings.split()}
# One length may be told in several units, larger to smaller, but not in two systems at once.
_FAMILIES = (("yd", "ft", "in"), ("m", "cm", "mm"))
# The unit of a last number that has none: 8' 6 is inches, 1 m 20 is centimetres.
_LEFT_UNSAID = {"ft": "in", "m": "cm"}

# Phones and word processors turn typed quotes into these.
_MARKS = str.maketrans({"′": "'", "’": "'", "‘": "'", "´": "'", "″": '"', "”": '"', "“": '"', "\u00a0": " "})
_FRACTIONS = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
              "⅓": "1/3", "⅔": "2/3"}  # fmt: skip

_UNIT = "|".join(re.escape(spelling) for spelling in sorted(_UNIT_OF, key=len, reverse=True))
_PIECE = re.compile(
    rf"""
    (?: (?: (?P<whole>[0-9]+) (?:\s+|-) )? (?P<top>[0-9]+) \s*/\s* (?P<bottom>[0-9]+)
      | (?P<decimal> [0-9]+ (?:[.,][0-9]+)? | [.,][0-9]+ )
    )
    (?: \s*-?\s* (?P<unit>{_UNIT}) (?![a-z]) \.? )?
    """,
    re.VERBOSE,
)
_BETWEEN = re.compile(r"\s*(?:,|-|\band\b)?\s*")
_COMMA_OF_THOUSANDS = re.compile(r"[1-9][0-9]*,[0-9]{3}")

_LONGEST_TYPED = 60
_HOW = "A length is written like 8 ft 6 in, 22½ in, 2.4 m or 150 cm."
_KEPT_TO = Decimal("0.0001")


class LengthError(RuleError):
    """A length that cannot be used."""

    longest_shown = 60


@dataclass(frozen=True)
class Length:
    """A length in millimetres (four decimals, so a sixteenth of an inch is exact) and what was typed for it."""

    mm: Decimal
    typed: str


@dataclass(frozen=True)
class _Piece:
    number: Fraction
    unit: str | None


def parse_length(text: str, *, plain_number_is: PlainUnit | None) -> Length:
    """The length somebody typed: 8' 6½", 20 ft, 2,4 m, 1 m 20 cm, 7 yards.

    A number alone is taken in `plain_number_is`, or refused when that is None. A decimal comma is
    understood; 1,500 is refused, since it is a thousand and a half to one reader and one and a half to another.
    Raises `LengthError`, which names the rule and repeats what was typed.
    """
    if len(text) > _LONGEST_TYPED:
        raise LengthError(f"A length is at most {_LONGEST_TYPED} characters.", text)
    pieces = _with_units(_pieces(text), plain_number_is, text)
    _check_order(pieces, text)
    mm = Fraction(0)
    for piece in pieces:
        mm += piece.number * Fraction(MILLIMETRES[piece.unit or ""])
    if mm > Fraction(LONGEST_MM):
        raise LengthError("A length must be at most 10 km.", text)
    kept = _to_step(mm, _KEPT_TO)
    if kept <= 0:
        raise LengthError("A length must be above zero.", text)
    return Length(mm=kept, typed=text.strip())


def show_length(mm: Decimal, system: System = "imperial") -> str:
    """A length for reading: "30 ft 9 in" and "22½ in", or "6.5 m" and "55 cm".

    Imperial is to the sixteenth of an inch, and in inches alone up to 36. Metric is to the centimetre from one
    metre up, and to the millimetre below.
    """
    if not mm.is_finite() or mm < 0 or mm > LONGEST_MM:
        raise LengthError("A length must be from nothing to 10 km.", mm)
    if system == "metric":
        return _metric(mm)
    sixteenths = int(_to_step(Fraction(mm) * 16 / Fraction(MILLIMETRES["in"]), Decimal(1)))
    if sixteenths == 0:
        return "0 in" if mm == 0 else "under 1/16 in"
    if sixteenths <= 36 * 16:
        return f"{_in_sixteenths(sixteenths)} in"
    feet, rest = divmod(sixteenths, 12 * 16)
    return f"{feet} ft {_in_sixteenths(rest)} in" if rest else f"{feet} ft"


def inches(mm: Decimal) -> float:
    """Millimetres as inches, the unit pieces are laid out in; a float, so never to be stored."""
    return float(Fraction(mm) / Fraction(MILLIMETRES["in"]))


def from_inches(length: float | Decimal) -> Decimal:
    """Inches as millimetres, to the four decimals that are kept."""
    if not math.isfinite(length):
        raise LengthError("A length must be a finite number.", length)
    mm = _to_step(Fraction(str(length)) * Fraction(MILLIMETRES["in"]), _KEPT_TO)
    if abs(mm) > LONGEST_MM:
        raise LengthError("A length must be at most 10 km.", length)
    return mm


def _pieces(text: str) -> list[_Piece]:
    """The numbers of a typed length with the units as typed, or a refusal of the first thing not understood."""
    rest = _plainly(text)
    if rest.startswith(("-", "−")):
        raise LengthError("A length must be above zero.", text)
    pieces = []
    while rest:
        match = _PIECE.match(rest)
        if not match:
            raise LengthError(_HOW, text)
        if _COMMA_OF_THOUSANDS.fullmatch(match["decimal"] or ""):
            raise LengthError("Leave out the comma of thousands, and write a decimal with a point.", text)
        pieces.append(_Piece(_number(match, text), _UNIT_OF.get(match["unit"] or "")))
        rest = rest[match.end() :]
        if not match["unit"] and rest.lstrip()[:1].isalpha():
            raise LengthError("A length is in ft, in, yd, m, cm or mm.", text)
        after = _BETWEEN.sub("", rest, count=1)
        if rest and not after:
            raise LengthError(_HOW, text)
        rest = after
    if not pieces:
        raise LengthError(_HOW, text)
    return pieces


def _plainly(text: str) -> str:
    """What was typed in lower case, with one kind of quote and every fraction as 1/2."""
    plain = text.strip().lower().translate(_MARKS).replace("''", '"').replace("⁄", "/")
    for glyph, fraction in _FRACTIONS.items():
        plain = plain.replace(glyph, f" {fraction}")
    return plain.strip()


def _number(match: re.Match[str], text: str) -> Fraction:
    if match["decimal"]:
        return Fraction(match["decimal"].replace(",", "."))
    top, bottom = int(match["top"]), int(match["bottom"])
    if bottom == 0:
        raise LengthError("A fraction cannot be over zero.", text)
    if match["whole"] and top >= bottom:
        raise LengthError("The fraction beside a whole number must be less than one.", text)
    return int(match["whole"] or 0) + Fraction(top, bottom)


def _with_units(pieces: list[_Piece], plain_number_is: PlainUnit | None, text: str) -> list[_Piece]:
    """The pieces with the unit that was left unsaid filled in."""
    *before, last = pieces
    if any(piece.unit is None for piece in before):
        raise LengthError(_HOW, text)
    if last.unit is not None:
        return pieces
    unit = _LEFT_UNSAID.get(before[-1].unit or "") if before else plain_number_is
    if unit is None:
        raise LengthError("Say the unit: ft, in, yd, m, cm or mm.", text)
    return [*before, _Piece(last.number, unit)]


def _check_order(pieces: list[_Piece], text: str) -> None:
    """Refuse 8.5 ft 6 in, 6 in 8 ft, 8 ft 20 cm and 8 ft 14 in."""
    units = [piece.unit or "" for piece in pieces]
    family = next((f for f in _FAMILIES if set(units) <= set(f)), None)
    if family is None or units != sorted(set(units), key=family.index):
        raise LengthError("Several units go from the larger to the smaller, all feet or all metres.", text)
    for larger, smaller in pairwise(pieces):
        if larger.number.denominator != 1:
            raise LengthError("Only the last number of a length may have a fraction.", text)
        limit = MILLIMETRES[larger.unit or ""] / MILLIMETRES[smaller.unit or ""]
        if smaller.number >= limit:
            raise LengthError(f"With {larger.unit} given, {smaller.unit} must be below {limit:f}.", text)


def _metric(mm: Decimal) -> str:
    if 0 < mm < Decimal("0.5"):
        return "under 1 mm"
    if mm < Decimal("999.5"):
        return f"{_bare(_to_step(Fraction(mm) / 10, Decimal('0.1')))} cm"
    return f"{_bare(_to_step(Fraction(mm) / 1000, Decimal('0.01')))} m"


def _in_sixteenths(sixteenths: int) -> str:
    """A number of inches: "22", "22½", "22 1/16". Only fractions every text font carries get their own sign."""
    whole, part = divmod(sixteenths, 16)
    if part == 0:
        return str(whole)
    if part in (4, 8, 12):
        return f"{whole or ''}{ {4: '¼', 8: '½', 12: '¾'}[part] }"
    fraction = Fraction(part, 16)
    return f"{whole or ''} {fraction.numerator}/{fraction.denominator}".strip()


def _bare(number: Decimal) -> str:
    """The number without zeros after its decimals: 6.50 is 6.5, and 10 stays 10."""
    return f"{number.normalize():f}"


def _to_step(exact: Fraction, step: Decimal) -> Decimal:
    """The multiple of `step` (a power of ten) nearest to `exact`, a half going away from zero."""
    nearest = math.floor(abs(exact) / Fraction(step) + Fraction(1, 2))
    with localcontext(Context(prec=len(str(nearest)) + 4)):
        return (nearest if exact >= 0 else -nearest) * step
