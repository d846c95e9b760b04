"""Amounts of money: minor units, rounding, tax, shares, and how an amount is typed and shown.

An amount is kept as an integer of the currency's minor unit (cents, pence, fils) and reckoned as a
`Decimal` of its major unit. Nothing here takes a float, and nothing rounds without being asked to.
"""

import re
from collections.abc import Sequence
from decimal import ROUND_HALF_UP, Context, Decimal, localcontext
from fractions import Fraction
from functools import cache, lru_cache
from typing import Any, TypeVar

from babel.core import Locale, get_global
from babel.numbers import (
    NumberFormatError,
    get_currency_symbol,
    get_decimal_symbol,
    get_group_symbol,
    parse_decimal,
    parse_pattern,
)

from studio.refusals import RuleError

# The largest whole number that survives a trip through JSON and a browser.
LARGEST = 2**53

# Babel's figures come from CLDR, which records how many decimals people write today. ISO 4217 records the
# minor unit that exists in law, and that is what a ledger and a payment service mean. Where they differ:
_ISO_MINOR_UNITS = {
    # Prices are written whole after inflation, but the hundredth is still defined.
    "AFN": 2,
    "ALL": 2,
    "IRR": 2,
    "KPW": 2,
    "LAK": 2,
    "LBP": 2,
    "MMK": 2,
    "RSD": 2,
    "SOS": 2,
    "SYP": 2,
    "YER": 2,
    # The same, and the subunit is a thousandth.
    "IQD": 3,
    # The subunit is a fifth; the standard writes it with two decimals all the same.
    "MGA": 2,
}

# Metals, baskets, test codes: ISO 4217 gives them no minor unit, and nobody is paid in them.
_NOT_SPENT = frozenset(["XAG", "XAU", "XBA", "XBB", "XBC", "XBD", "XDR", "XPD", "XPT", "XSU", "XTS", "XUA", "XXX"])

_NARROW_SPACE, _NO_BREAK_SPACE, _MINUS = "\u202f", "\u00a0", "\u2212"
_LONGEST_TYPED = 40
_MOST_DECIMALS = 40

Number = TypeVar("Number", int, Decimal)


class AmountError(RuleError):
    """An amount that cannot be used."""


@cache
def minor_units(code: str) -> int:
    """How many decimals ISO 4217 gives the currency `code`: 2 for USD, 0 for JPY, 3 for KWD."""
    if code in _NOT_SPENT or code not in Locale("en").currencies:
        raise AmountError("The currency must be a three-letter code in use, such as USD.", code)
    if code in _ISO_MINOR_UNITS:
        return _ISO_MINOR_UNITS[code]
    fractions = get_global("currency_fractions")
    digits: int = fractions.get(code, fractions["DEFAULT"])[0]
    return digits


def to_minor(amount: Decimal, code: str) -> int:
    """`amount` in whole minor units; refuses an amount that has not been rounded to them."""
    checked = _usable(amount)
    digits = minor_units(code)
    with localcontext(_wide_enough_for(checked)):
        scaled = checked.scaleb(digits)
        whole = int(scaled)
        if scaled != whole:
            raise AmountError(f"An amount in {code} has {_decimals(digits)}.", amount)
    return _within_reach(whole)


def from_minor(minor: int, code: str) -> Decimal:
    """The amount of `minor` minor units, with the currency's own number of decimals."""
    if isinstance(minor, bool) or not isinstance(minor, int):
        raise AmountError("Minor units are a whole number.", minor)
    return Decimal(_within_reach(minor)).scaleb(-minor_units(code))


def shares(total: int, weights: Sequence[int | Decimal | Fraction]) -> list[int]:
    """`total` split into whole parts in proportion to `weights`, adding up to `total` exactly.

    Largest remainder (Hamilton's method): everyone gets the whole part of their share, and what is left goes
    one each to the largest remainders; a tie goes to the earlier weight. Adding one to the total can
    take one away from somebody (the Alabama paradox), so split the total once and keep the answer.
    """
    if isinstance(total, bool) or not isinstance(total, int) or total < 0:
        raise AmountError("What is shared must be a whole number, zero or more.", total)
    exact = [_weight(weight) for weight in weights]
    weight_of_all = sum(exact)
    if weight_of_all == 0:
        if total:
            raise AmountError("At least one share must be above zero.", list(weights))
        return [0 for _ in exact]
    wanted = [total * weight / weight_of_all for weight in exact]
    given = [quota.numerator // quota.denominator for quota in wanted]
    by_remainder = sorted(range(len(exact)), key=lambda i: (given[i] - wanted[i], i))
    for i in by_remainder[: total - sum(given)]:
        given[i] += 1
    return given


def rounded(amount: Decimal, places: int = 2) -> Decimal:
    """`amount` to `places` decimals, a half going away from zero."""
    checked = _usable(amount)
    with localcontext(_wide_enough_for(checked)):
        return _to_places(checked, places)


def tax(amount: Decimal, percent: Decimal, places: int = 2) -> Decimal:
    """The tax on `amount` at `percent` per cent, to `places` decimals by the third-decimal rule.

    The rule (Streamlined Sales and Use Tax Agreement, section 324): carry the product to the third decimal
    and round up when that decimal is above four. That is one half-up rounding of the exact product.
    Rounding to three places first and then to two would round twice, and is wrong.
    """
    base, rate = _usable(amount), _usable(percent)
    if rate < 0:
        raise AmountError("A tax rate must be zero per cent or more.", percent)
    with localcontext(_wide_enough_for(base, rate)):
        return _within_reach(_to_places((base * rate).scaleb(-2), places))


def round_up_to_step(amount: Number, step: Number) -> Number:
    """The smallest multiple of `step` that is at least `amount`: 612.30 in steps of 5 is 615."""
    exact_amount, exact_step = _usable(Decimal(amount)), _usable(Decimal(step))
    if exact_step <= 0:
        raise AmountError("A rounding step must be above zero.", step)
    steps = -(-Fraction(exact_amount) // Fraction(exact_step))
    if isinstance(amount, int) and isinstance(step, int):
        return steps * step
    with localcontext(_wide_enough_for(exact_amount, exact_step)):
        return _usable(steps * exact_step)


@lru_cache(4096, typed=True)
def show(minor: int, code: str, locale: str = "en_US") -> str:
    """The amount as people in `locale` write it, with every minor unit: "$1,240.50", "−$5.00" with a true minus sign.

    A currency written in letters is set apart from the figures. The narrow no-break space some locales group
    by is missing from many fonts, so a plain no-break space stands in for it.
    """
    digits = minor_units(code)
    pattern = parse_pattern(Locale.parse(locale).currency_formats["standard"].pattern)
    pattern.frac_prec = (digits, digits)
    text: str = pattern.apply(from_minor(minor, code), locale, currency=code, currency_digits=False)
    apart = re.sub(r"(?<=[A-Za-z])(?=[0-9])", _NO_BREAK_SPACE, text)
    return apart.replace(_NARROW_SPACE, _NO_BREAK_SPACE).replace("-", _MINUS)


def parse(text: str, code: str, locale: str = "en_US") -> int:
    """What somebody typed for an amount, in minor units: "$1,240.50", "1240.5" and "600" are understood.

    The separators are the locale's own. A comma where the locale wants a point is refused, never dropped:
    "1,5" is not fifteen.
    """
    digits = minor_units(code)
    example = show(1240 * 10**digits + (50 if digits == 2 else 0), code, locale)
    rule = f"An amount is written like {example}."
    if len(text) > _LONGEST_TYPED:
        raise AmountError(rule, text)
    sign, figures = _bare_figures(text, code, locale)
    group, point = get_group_symbol(locale), get_decimal_symbol(locale)
    if not re.fullmatch(rf"(?=.*[0-9])[0-9{re.escape(group)}]*({re.escape(point)}[0-9]*)?", figures):
        raise AmountError(rule, text)
    try:
        amount: Decimal = parse_decimal(figures, locale=locale, strict=True)
    except NumberFormatError as error:
        raise AmountError(rule, text) from error
    try:
        return to_minor(sign * amount, code)
    except AmountError as error:
        raise AmountError(error.rule, text) from error


def _bare_figures(text: str, code: str, locale: str) -> tuple[int, str]:
    """The sign, and the typed figures without currency, using the locale's own group symbol."""
    figures = text.strip()
    symbol = get_currency_symbol(code, "en_US")
    bare = symbol.lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ")
    marks = {code, symbol, get_currency_symbol(code, locale), bare, code[:2] + bare} - {"", code[:2]}
    sign = 1
    # A sign may stand before the currency or after it, so peel off whichever is outermost.
    for _ in range(3):
        if sign == 1 and figures[:1] in ("-", "−"):
            sign, figures = -1, figures[1:].strip()
        for mark in sorted(marks, key=len, reverse=True):
            if figures.upper().startswith(mark.upper()):
                marks, figures = set(), figures[len(mark) :].strip()
                break
            if figures.upper().endswith(mark.upper()):
                marks, figures = set(), figures[: -len(mark)].strip()
                break
    group = get_group_symbol(locale)
    alike = {_NARROW_SPACE: " \u00a0\u202f", _NO_BREAK_SPACE: " \u00a0\u202f", "’": "'’"}.get(group, "")
    return sign, re.sub(f"[{alike}]", group, figures) if alike else figures


def _usable(amount: Decimal) -> Decimal:
    """`amount` itself, once known to be a finite Decimal within reach."""
    if not isinstance(amount, Decimal):
        raise AmountError("An amount must be a decimal number.", amount)
    if not amount.is_finite():
        raise AmountError("An amount must be a finite number.", amount)
    if -amount.as_tuple().exponent > _MOST_DECIMALS:  # type: ignore[operator]  # finite, so it is a number
        raise AmountError(f"An amount has at most {_MOST_DECIMALS} decimals.", amount)
    _within_reach(amount)
    return amount


def _within_reach(amount: Number) -> Number:
    if not -LARGEST <= amount <= LARGEST:
        raise AmountError(f"An amount must be at most {LARGEST}.", amount)
    return amount


def _to_places(amount: Decimal, places: int) -> Decimal:
    return amount.quantize(Decimal(1).scaleb(-places), rounding=ROUND_HALF_UP)


def _weight(weight: Any) -> Fraction:
    if isinstance(weight, bool) or not isinstance(weight, int | Decimal | Fraction):
        raise AmountError("A share must be a whole number, a decimal or a fraction.", weight)
    if isinstance(weight, Decimal) and not weight.is_finite():
        raise AmountError("A share must be a finite number.", weight)
    if weight < 0:
        raise AmountError("A share must be zero or more.", weight)
    return Fraction(weight)


def _wide_enough_for(*amounts: Decimal) -> Context:
    """A context in which the product of `amounts` is exact, so that rounding happens once only."""
    return Context(prec=sum(len(amount.as_tuple().digits) for amount in amounts) + 60)


def _decimals(digits: int) -> str:
    return {0: "no decimals", 1: "at most 1 decimal"}.get(digits, f"at most {digits} decimals")
