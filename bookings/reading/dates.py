"""The day of the event, as people say it."""

import re
from collections.abc import Iterator
from datetime import date, timedelta
from typing import Literal

from bookings.reading.found import (
    COUNTED,
    LENGTH_UNITS,
    MONTH,
    MONTH_NAMES,
    MONTHS,
    MOST_READ,
    NUMBER_WORDS,
    WEEKDAY,
    WEEKDAY_NAMES,
    WEEKDAYS,
    Suggestion,
    distinct,
    number_of,
    tidy,
)

Order = Literal["day first", "month first"]
Guess = tuple[date, str]
"""A day, and what had to be assumed for it."""

_S = r"[ \t]{1,3}"
_DAY = r"(?:0?[1-9]|[12]\d|3[01])"
_ORDINAL = rf"{_DAY}(?:st|nd|rd|th)"
_YEAR = r"(?:20\d\d|['’]\d\d)"
_AFTER = rf"(?![\w:%£$€/-])(?![ \t]{{0,2}}(?:{COUNTED}|{LENGTH_UNITS}\b|[ap]\.?m\b|o['’]?clock))"
_ON = rf"(?:(?P<weekday>{WEEKDAY})\b,?{_S}(?:on{_S})?)?"

_DAY_MONTH = re.compile(
    rf"\b{_ON}(?:the{_S})?(?P<day>{_DAY})(?:st|nd|rd|th)?(?:{_S}of)?[ \t-]{{0,3}}(?P<month>{MONTH})\b\.?"
    rf"(?:,?{_S}(?P<year>{_YEAR}))?(?![\w:])",
    re.I,
)
_MONTH_DAY = re.compile(
    rf"\b{_ON}(?P<month>{MONTH})\b\.?{_S}(?:the{_S})?(?P<day>{_DAY})(?:st|nd|rd|"
    rf"th)?(?:,?{_S}(?P<year>{_YEAR}))?{_AFTER}",
    re.I,
)
_ISO = re.compile(r"(?<![\d-])(?P<year>20\d\d)-(?P<month>\d\d)-(?P<day>\d\d)(?![\d-])")
_FIGURES = re.compile(
    rf"(?<![\d/.£$€-])(?<!\d )(?P<one>\d{{1,2}})(?P<between>[/.-])(?P<two>\d{{1,2}})"
    rf"(?:(?P=between)(?P<year>20\d\d|\d\d))?(?![\d/%])(?![.-]\d)(?![ \t]{{0,2}}(?:{COUNTED}|{LENGTH_UNITS}\b|"
    rf"an?\b|[ap]m\b))",
    re.I,
)
_OTHER_FIGURES = {"24/7", "1/2", "1/4", "3/4", "1/3", "2/3", "50/50", "9/11"}
_NO_DAY_AFTER = (
    r"(?!['’]?s?[ \t]{1,3}(?:birthday|bday|b-day|anniversary|party|floor|street|st\b|ave|avenue|road|rd\b|"
    r"wedding|grade|"
    r"celebration|year|annual|time|edition|bash|do\b|birth|century|surprise|level))"
)
_THE_DAY = re.compile(
    rf"\b(?:(?P<weekday>{WEEKDAY}),?{_S}(?:the{_S})?|(?:on|for|by|is|its|it's|be|"
    rf"the)(?:{_S}the)?{_S})(?P<day>{_ORDINAL})\b"
    rf"{_NO_DAY_AFTER}(?:{_S}(?:or|and|maybe|/){_S}(?:maybe{_S})?(?:the{_S})?(?P<other>{_ORDINAL})\b{_NO_DAY_AFTER})?",
    re.I,
)
_WEEKDAY_BARE_DAY = re.compile(rf"\b(?P<weekday>{WEEKDAY}),?{_S}(?P<day>{_DAY}){_AFTER}(?!{_S}{MONTH})", re.I)
_WEEKS_ON = re.compile(
    rf"\b(?P<weeks>a{_S}week|a{_S}fortnight|(?:{NUMBER_WORDS}|\d){_S}weeks){_S}(?:(?:on|from|"
    rf"this){_S}){{0,2}}(?P<weekday>{WEEKDAY})\b",
    re.I,
)
_WEEKDAY_WEEK = re.compile(rf"\b(?P<weekday>{WEEKDAY}){_S}(?P<which>week|next{_S}week|this{_S}week)\b(?!end)", re.I)
_WEEKDAY = re.compile(
    rf"\b(?:(?P<which>next|this{_S}coming|this|coming)(?:{_S}coming)?{_S}|(?P<on>on|for|by){_S})"
    rf"(?P<weekday>{WEEKDAY})\b(?!['’]s)",
    re.I,
)
_IN = re.compile(
    rf"\b(?:in{_S}(?:about{_S})?(?P<many>{NUMBER_WORDS}|\d{{1,2}}){_S}(?P<unit>days?|weeks?|fortnights?|"
    rf"months?)['’]?(?:{_S}time)?"
    rf"|(?P<many2>{NUMBER_WORDS}|\d{{1,2}}){_S}(?P<unit2>days?|weeks?|months?)(?:['’]?{_S}time|"
    rf"{_S}from{_S}(?:now|today)))\b"
    rf"(?![ \t]{{1,3}}(?:of|as|or\b))",
    re.I,
)
_SOON = re.compile(
    r"\b(?P<what>the day after tomorrow|day after tomorrow|tomorrow|tmrw|tmr|2moro|tonight|today)\b", re.I
)
_FEASTS = {
    "new year's eve": (12, 31),
    "nye": (12, 31),
    "new year's day": (1, 1),
    "christmas eve": (12, 24),
    "christmas day": (12, 25),
    "boxing day": (12, 26),
    "halloween": (10, 31),
    "valentine's day": (2, 14),
    "st patrick's day": (3, 17),
}
_FEAST = re.compile(r"\b(?:" + "|".join(key.replace("'", "['’]?") for key in _FEASTS) + r")\b", re.I)
_IN_WORDS = re.compile(
    rf"\b(?:(?:early|mid|late|the{_S}end{_S}of|end{_S}of|the{_S}beginning{_S}of|the{_S}start{_S}of|"
    rf"sometime{_S}in|some{_S}time{_S}in|"
    rf"around|in|the{_S}first{_S}week{_S}of|the{_S}last{_S}week{_S}of)[ \t-]{{1,2}}(?:early{_S}|mid[ \t-]|"
    rf"late{_S})?(?P<month>{MONTH})\b"
    rf"(?!{_S}{_DAY}\b)(?:{_S}20\d\d)?|(?:next|this){_S}(?:weekend|week|month|spring|summer|autumn|fall|winter)\b"
    rf"|(?:in{_S})?(?:the{_S})?(?:spring|summer|autumn)(?:{_S}20\d\d)\b)",
    re.I,
)
_GONE = re.compile(
    r"\b(?:last|since|till|until|before|ago|back in|were at yours|"
    r"did ours)[ \t]{1,3}(?:on[ \t]{1,3}|the[ \t]{1,3})?$",
    re.I,
)


def dates_in(text: str, *, today: date, order: Order) -> tuple[Suggestion, ...]:
    """Days that the message names, today or later, and vaguer words for them under `date_text`."""
    taken: list[Suggestion] = []
    for match, guesses in _all(text, today, order):
        if len(taken) >= MOST_READ:
            break
        if _GONE.search(text, max(0, match.start() - 24), match.start()):
            continue
        found = [
            Suggestion(
                "event_on", day.isoformat(), _shown(day, today), match.start(), match.end(), tidy(match[0]), note
            )
            for day, note in guesses
            if day >= today
        ]
        taken += [
            one for one in found if not one.overlaps(t for t in taken if (t.start, t.end) != (one.start, one.end))
        ]
    vague = [
        Suggestion("date_text", tidy(match[0]), tidy(match[0]), match.start(), match.end(), tidy(match[0]))
        for match in _IN_WORDS.finditer(text)
        if not _is_verb(match)
    ]
    return distinct(taken) + distinct((one for one in vague if not one.overlaps(taken)), 2)


def _is_verb(match: re.Match[str]) -> bool:
    return match["month"] is not None and match["month"] == "march" and match[0].lower().startswith("in march")


def _all(text: str, today: date, order: Order) -> Iterator[tuple[re.Match[str], list[Guess]]]:
    """Every match with the days it can mean; the surest ways of saying a day first."""
    for pattern in (_DAY_MONTH, _MONTH_DAY):
        for match in pattern.finditer(text):
            yield match, _named(match, today)
    for match in _ISO.finditer(text):
        yield match, _exact(int(match["year"]), int(match["month"]), int(match["day"]))
    for match in _FIGURES.finditer(text):
        yield match, _in_figures(match, today, order)
    for pattern in (_THE_DAY, _WEEKDAY_BARE_DAY):
        for match in pattern.finditer(text):
            yield match, _of_this_month_or_next(match, today)
    for match in _WEEKS_ON.finditer(text):
        words = match["weeks"].lower()
        weeks = 2 if "fortnight" in words else number_of(words.rsplit(maxsplit=1)[0])
        yield match, [(_next_weekday(match, today) + timedelta(weeks=weeks), "")]
    for match in _WEEKDAY_WEEK.finditer(text):
        yield match, _in_which_week(match, today)
    for match in _WEEKDAY.finditer(text):
        yield match, _by_weekday(match, today)
    for match in _IN.finditer(text):
        yield (
            match,
            _after(number_of(match["many"] or match["many2"]), (match["unit"] or match["unit2"]).lower(), today),
        )
    for match in _FEAST.finditer(text):
        month, day = _FEASTS[_feast_named(match[0])]
        yield match, _coming(month, day, today)
    for match in _SOON.finditer(text):
        said = match["what"].lower()
        yield match, [(today + timedelta(days=2 if "after" in said else 0 if said in ("today", "tonight") else 1), "")]


def _feast_named(said: str) -> str:
    bare = said.lower().replace("’", "").replace("'", "")
    return next(key for key in _FEASTS if key.replace("'", "") == bare)


def _exact(year: int, month: int, day: int) -> list[Guess]:
    try:
        return [(date(year, month, day), "")]
    except ValueError:
        return []


def _coming(month: int, day: int, today: date) -> list[Guess]:
    """The next such day, today or later. 29 February may be years away."""
    for year in range(today.year, today.year + 9):
        found = _exact(year, month, day)
        if found and found[0][0] >= today:
            return found
    return []


def _year(said: str | None) -> int | None:
    return None if said is None else 2000 + int(said[-2:])


def _named(match: re.Match[str], today: date) -> list[Guess]:
    """A day with the name of its month. A weekday that is another is told."""
    month, day, year = MONTHS[match["month"].lower()], int(match["day"]), _year(match["year"])
    found = _coming(month, day, today) if year is None else _exact(year, month, day)
    return [(day, _unlike(match["weekday"], day)) for day, _ in found]


def _unlike(weekday: str | None, day: date) -> str:
    if weekday is None or WEEKDAYS[weekday.lower()] == day.weekday():
        return ""
    said, really = WEEKDAY_NAMES[WEEKDAYS[weekday.lower()]].title(), WEEKDAY_NAMES[day.weekday()].title()
    return f"the message says {said}; that day is a {really}"


def _in_figures(match: re.Match[str], today: date, order: Order) -> list[Guess]:
    """12/5: by the studio's order first, and the other way round as well where that is a day too."""
    one, two, year = int(match["one"]), int(match["two"]), _year(match["year"])
    if match["year"] is None and (match["between"] != "/" or match[0] in _OTHER_FIGURES):
        return []
    ways = [(two, one, "day first"), (one, two, "month first")]
    if order == "month first":
        ways.reverse()
    if one == two:
        ways = ways[:1]
    found = []
    for month, day, way in ways:
        days = _exact(year, month, day) if year else _coming(month, day, today)
        found += [(day, way) for day, _ in days]
    return [(day, f"read {way}" if len(found) > 1 else "") for day, way in found]


def _of_this_month_or_next(match: re.Match[str], today: date) -> list[Guess]:
    """ "the 12th", "Saturday the 12th": the next one there is, or the next that is such a weekday."""
    said = match.groupdict()
    weekday = said.get("weekday")
    found: list[Guess] = []
    for number in (said["day"], said.get("other")):
        if number is None:
            continue
        day = int("".join(figure for figure in number if figure.isdigit()))
        coming = list(_such_days(day, today))
        fitting = [one for one in coming if weekday is None or one.weekday() == WEEKDAYS[weekday.lower()]]
        if fitting and (weekday is None or fitting[0] <= today + timedelta(days=184)):
            found.append((fitting[0], ""))
        elif coming:
            found.append((coming[0], _unlike(weekday, coming[0])))
    return found


def _such_days(day: int, today: date) -> Iterator[date]:
    for months in range(13):
        month = today.month - 1 + months
        for found, _ in _exact(today.year + month // 12, month % 12 + 1, day):
            if found >= today:
                yield found


def _next_weekday(match: re.Match[str], today: date) -> date:
    """The next such weekday, not today."""
    return today + timedelta(days=(WEEKDAYS[match["weekday"].lower()] - today.weekday() - 1) % 7 + 1)


def _in_which_week(match: re.Match[str], today: date) -> list[Guess]:
    nearest = _next_weekday(match, today)
    which = " ".join(match["which"].lower().split())
    if which == "week":
        return [(nearest + timedelta(weeks=1), "")]
    monday = today - timedelta(days=today.weekday()) + timedelta(weeks=1 if which == "next week" else 0)
    return [(monday + timedelta(days=WEEKDAYS[match["weekday"].lower()]), "")]


def _by_weekday(match: re.Match[str], today: date) -> list[Guess]:
    """ "next Friday" is this week's to some and next week's to others, so it is both."""
    nearest = _next_weekday(match, today)
    name = WEEKDAY_NAMES[nearest.weekday()].title()
    if (match["which"] or "").lower() != "next":
        return [(nearest, "")]
    if nearest.isocalendar()[:2] != today.isocalendar()[:2]:
        return [(nearest, f"the {name} of next week"), (nearest + timedelta(weeks=1), f"the {name} of the week after")]
    return [(nearest + timedelta(weeks=1), f"the {name} of next week"), (nearest, f"the {name} of this week")]


def _after(many: int, unit: str, today: date) -> list[Guess]:
    if unit.startswith("month"):
        month = today.month - 1 + many
        return _exact(today.year + month // 12, month % 12 + 1, min(today.day, 28))
    days = many * {"d": 1, "w": 7, "f": 14}[unit[0]]
    return [(today + timedelta(days=days), "counted from today")]


def _shown(day: date, today: date) -> str:
    """ "Sat 12 Dec", with the year where it is another than this one."""
    year = "" if day.year == today.year else f" {day.year}"
    return f"{WEEKDAY_NAMES[day.weekday()][:3].title()} {day.day} {MONTH_NAMES[day.month - 1][:3].title()}{year}"
