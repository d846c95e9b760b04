"""How long it is, and what it may cost."""

import re

from bookings.reading.found import COUNTED, MOST_READ, NUMBER_WORDS, Suggestion, distinct, number_of, tidy
from studio.units import LengthError, PlainUnit, System, parse_length, show_length

_S = r"[ \t]{0,2}"
_BIG = r"(?:feet|foot|ft|metres?|meters?|yards?|yds?|cm|centimetres?|centimeters?|m)"
_NUMBER = r"\d{1,4}(?:[.,]\d{1,2})?(?:[ \t]?[½¼¾])?"
_LENGTH = re.compile(
    rf"(?<![\w£$€.,/:])(?:(?P<number>{_NUMBER}|\d{{1,3}}[ \t-]\d/\d)|"
    rf"(?P<words>\b(?:{NUMBER_WORDS})(?=[ \t-]))(?<!\ba)(?<!\ban))(?:{_S}-?{_S})"
    rf"(?:(?P<unit>{_BIG})(?![a-z])|(?P<mark>['’′])(?![a-z]))"
    rf"(?:{_S}(?P<rest>\d{{1,2}}(?:[.]\d{{1,2}})?){_S}(?P<inches>inch(?:es)?\b|ins?\b|cm\b|"
    rf"[\"”″])?(?![\d/:,£$€])(?!{_S}(?:{COUNTED}|[ap]m\b)))?",
    re.I,
)
_INCHES = re.compile(
    rf"(?<![\w£$€.,/:])(?P<number>{_NUMBER}){_S}-?{_S}(?:inch(?:es)?\b|in(?=\b)(?<=\din)|[\"”″])", re.I
)
_NOT_IT = re.compile(
    r"[ \t-]{0,2}(?:away\b|from\b|walk|drive|latex|balloons?\b|round balloons|foils?\b|off\b|down the road|old\b)", re.I
)


def lengths_in(text: str, *, measures: System) -> tuple[Suggestion, ...]:
    """Lengths that the message names; a balloon's own size and how far somewhere is are none."""
    plain: PlainUnit = "m" if measures == "metric" else "ft"
    taken: list[Suggestion] = []
    for pattern in (_LENGTH, _INCHES):
        for match in pattern.finditer(text):
            if len(taken) >= MOST_READ or _NOT_IT.match(text, match.end()):
                continue
            try:
                length = parse_length(_typed(match), plain_number_is=plain)
            except LengthError:
                continue
            shown = show_length(length.mm, measures)
            words = tidy(match[0]) if pattern is _LENGTH and match["words"] else match[0].strip()
            one = Suggestion("length", shown, shown, match.start(), match.end(), words)
            if not one.overlaps(taken):
                taken.append(one)
    return distinct(taken, 4)


def _typed(match: re.Match[str]) -> str:
    """The length as `parse_length` reads it, with numbers in figures."""
    said = match.groupdict()
    if "unit" not in said:
        return f"{said['number']} in"
    number = said["number"] or str(number_of(said["words"]))
    unit = said["unit"] or "ft"
    if said["rest"] is None:
        return f"{number} {unit}"
    below = "cm" if unit.lower().startswith("m") else "in"
    return f"{number} {unit} {said['rest']} {below}"


_SIGN = r"(?:(?:A|AU|C|CA|NZ|US)?[$]|[£€]|(?:USD|GBP|EUR|AUD|NZD|CAD)\b[ \t]?)"
_AMOUNT = r"\d{1,3}(?:,\d{3}){1,2}(?:\.\d\d)?|\d{1,6}(?:\.\d\d)?"
_UNIT = r"(?:[ \t]?[£€]|[ \t]{0,2}(?:pounds|quid|dollars|bucks|euros?|USD|GBP|EUR|AUD|NZD|CAD)\b|k\b)"
_HEDGE = (
    r"(?:(?:(?:no|not)[ \t]more[ \t]than|up[ \t]to|less[ \t]than|maximum(?:[ \t]of)?|max(?:[ \t]of)?|under|below|"
    r"about|around|"
    r"approx(?:imately)?\.?|roughly|circa|between|maybe|say|~|c\.)[ \t]{0,2})"
)
_TAIL = (
    r"(?:[ \t]{0,2}(?:or[ \t]so|ish|-ish|max(?:imum)?\b|tops\b|at[ \t](?:the[ \t])?most|"
    r"all[ \t]in|in[ \t]total|total\b)){0,2}"
)
_MONEY = re.compile(
    rf"(?P<hedge>{_HEDGE}){{0,2}}(?<![\w.,])(?P<sign>{_SIGN})?[ \t]?(?P<low>{_AMOUNT})(?P<unit>{_UNIT})?"
    rf"(?:[ \t]{{0,2}}(?:-|–|to|and|"
    rf"or)[ \t]{{0,2}}(?P<sign2>{_SIGN})?(?P<high>{_AMOUNT})(?P<unit2>{_UNIT})?)?(?![\d:/])(?P<tail>{_TAIL})",
    re.I,
)
_SPELT = re.compile(
    rf"(?:{_HEDGE})?\b(?:a|one|two|three|four|five|six|seven|eight|nine|ten|twelve|fifteen)[ \t](?:hundred|"
    rf"thousand|grand)"
    rf"(?:[ \t](?:and[ \t])?fifty)?[ \t]{{1,2}}(?:pounds|quid|dollars|bucks|euros?)\b{_TAIL}",
    re.I,
)
_BUDGET = re.compile(
    r"\b(?:budget(?:['’]s|s)?|spend(?:ing)?|got)(?:[ \t]{1,2}(?:is|of|would|be|was|up|to|max|for|this|about|"
    r"around|only|we|have|can)){0,4}"
    r"[ \t]{0,2}[:=-]?[ \t]{0,2}$",
    re.I,
)
_BUDGET_AFTER = re.compile(
    r"[ \t]{0,3}(?:is[ \t]|as[ \t])?(?:our|my|the|a)?[ \t]{0,2}(?:budget|to[ \t]spend|limit)\b", re.I
)
_EACH = re.compile(
    r"[ \t]{0,2}(?:/[ \t]?(?:head|person|pp|guest|hour|hr|each)|(?:a|per)[ \t]{1,2}(?:head|person|guest|hour|"
    r"balloon|table|ticket|plate)|pp\b|p/p|p\.p|each\b|"
    r"per\b|deposit|off\b|voucher|discount)",
    re.I,
)
_PAID = re.compile(
    r"\b(?:deposit(?: of)?|paid|pay|paying|ticket|tickets at|cost(?:s|ing)?(?: us)?|charged|quoted(?: us|"
    r" me)?)[ \t]{1,2}$",
    re.I,
)
_COUNTS = re.compile(
    rf"[ \t]{{0,2}}(?:{COUNTED}|s\b|(?:ft|feet|foot|inch|inches|cm|mm|m|metres?|meters?|st|nd|rd|th|am|pm)\b|['’\"”])",
    re.I,
)


def budgets_in(text: str) -> tuple[Suggestion, ...]:
    """What they mean to spend, in their words. A price a head, a deposit and what somebody else asked are none."""
    found = []
    for match in _MONEY.finditer(text):
        if _EACH.match(text, match.end()) or _PAID.search(text, max(0, match.start() - 24), match.start()):
            continue
        if not _is_money(match, text):
            continue
        words = tidy(match[0])
        found.append(Suggestion("budget", words[:60], words[:60], match.start(), match.end(), words))
    for match in _SPELT.finditer(text):
        found.append(Suggestion("budget", tidy(match[0]), tidy(match[0]), match.start(), match.end(), tidy(match[0])))
    return distinct(found, 2)


def _is_money(match: re.Match[str], text: str) -> bool:
    """A sign or the word for the money makes it an amount; else it needs to be called a budget, or bounded."""
    if match["sign"] or match["unit"] or match["sign2"] or match["unit2"]:
        return True
    if _COUNTS.match(text, match.end()):
        return False
    amount = float((match["high"] or match["low"]).replace(",", ""))
    if amount < 50:
        return False
    before = max(0, match.start() - 40)
    called = _BUDGET.search(text, before, match.start()) or _BUDGET_AFTER.match(text, match.end())
    if called:
        return True
    hedge = (match["hedge"] or "").lower()
    bounded = (
        hedge.startswith(("under", "below", "no", "up", "less", "max"))
        or "max" in match["tail"]
        or "tops" in match["tail"]
    )
    return bounded and not re.match(r"[ \t]{1,2}[a-z]{4,}s\b", text[match.end() : match.end() + 20]) and amount < 20_000
