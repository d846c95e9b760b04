"""The hour it is for."""

import re
from collections.abc import Iterator

from bookings.reading.found import COUNTED, LENGTH_UNITS, MOST_READ, SMALL_NUMBERS, Suggestion, distinct, tidy

_HOUR_WORD = "|".join(
    word for word in SMALL_NUMBERS if len(word) > 2 and 1 <= SMALL_NUMBERS[word] <= 12 and " " not in word
)
_HALF = (
    r"(?P<half>a\.?m\b\.?|p\.?m\b\.?|(?:in[ \t]{1,2}the[ \t]{1,2})?(?:morning|afternoon|"
    r"evening)|at[ \t]{1,2}night|tonight)"
)
_CLOCK = re.compile(
    rf"(?<![\d:£$€/.,-])(?P<hour>[01]?\d|"
    rf"2[0-3])(?:(?P<mark>[:.h])(?P<minute>[0-5]\d))?[ \t]{{0,2}}(?:o['’]?clock[ \t]{{0,2}})?{_HALF}",
    re.I,
)
_RANGE = re.compile(
    r"(?<![\d:£$€/.,])(?P<hour>1[0-2]|0?[1-9])(?:[:.](?P<minute>[0-5]\d))?[ \t]{0,2}(?:-|–|to|til|till|until)[ \t]{0,2}"
    r"(?:1[0-2]|[1-9])(?:[:.][0-5]\d)?[ \t]{0,2}(?P<half>[ap]\.?m)\b",
    re.I,
)
_TWENTY_FOUR = re.compile(
    r"(?<![\d:£$€/.,])(?P<hour>[01]?\d|2[0-3])(?P<mark>[:h])(?P<minute>[0-5]\d)?(?![\d:])(?!\w)", re.I
)
_WORDS = re.compile(
    rf"\b(?:(?P<part>half|quarter|ten|twenty|five)[ \t]{{1,2}}(?P<way>past|to|"
    rf"after)?[ \t]{{0,2}})(?P<hour>{_HOUR_WORD}|1[0-2]|[1-9])\b"
    rf"(?:[ \t]{{1,2}}{_HALF})?",
    re.I,
)
_OCLOCK = re.compile(rf"\b(?P<hour>{_HOUR_WORD}|1[0-2]|[1-9])[ \t]{{0,2}}o['’]?[ \t]?clock\b", re.I)
_WORD_HALF = re.compile(rf"\b(?P<hour>{_HOUR_WORD})[ \t]{{1,2}}{_HALF}", re.I)
_NOON = re.compile(r"\b(?P<what>noon|midday|midnight)\b", re.I)
_AT = re.compile(
    rf"\b(?:at|from|by|around|about|starts|start|ready by|set up by)[ \t]{{1,2}}(?P<hour>1[0-2]|"
    rf"[1-9])(?![\w:/£$€%'\"’”+-]|[.,]\d)"
    rf"(?![ \t]{{0,2}}(?:{COUNTED}|{LENGTH_UNITS}\b|[A-Z]|st\b|street|road|lane|or[ \t]+so|x\b|of\b|big|small|"
    rf"large|more|different))",
)
_PARTS = {"half": 30, "quarter": 15, "ten": 10, "twenty": 20, "five": 5}
TAKEN = "taken as the afternoon"


def times_in(text: str) -> tuple[Suggestion, ...]:
    """Hours of the day that the message names, as HH:MM."""
    taken: list[Suggestion] = []
    for match, hour, minute, note in _all(text):
        value = f"{hour:02}:{minute:02}"
        one = Suggestion("ready_by", value, value, match.start(), match.end(), tidy(match[0]), note)
        if len(taken) < MOST_READ and not one.overlaps(taken):
            taken.append(one)
    return distinct(taken, 3)


def _all(text: str) -> Iterator[tuple[re.Match[str], int, int, str]]:
    for match in _RANGE.finditer(text):
        hour = _by_half(int(match["hour"]), match["half"])
        # 11 to 2pm begins in the morning.
        if hour is not None and match["half"][0].lower() == "p" and _ends_before(match):
            hour -= 12
        if hour is not None:
            yield match, hour, int(match["minute"] or 0), ""
    for match in _CLOCK.finditer(text):
        hour = _by_half(int(match["hour"]), match["half"])
        if hour is not None:
            yield match, hour, int(match["minute"] or 0), ""
    for match in _WORDS.finditer(text):
        yield from _in_words(match)
    for match in _WORD_HALF.finditer(text):
        hour = _by_half(SMALL_NUMBERS[match["hour"].lower()], match["half"])
        if hour is not None:
            yield match, hour, 0, ""
    for match in _TWENTY_FOUR.finditer(text):
        if match["minute"] is not None or match["mark"].lower() == "h":
            hour, note = (
                (int(match["hour"]), "") if match["mark"] != ":" else _likely(int(match["hour"]), match["hour"])
            )
            yield match, hour, int(match["minute"] or 0), note
    for match in _OCLOCK.finditer(text):
        yield match, *_whole_hour(_hour(match["hour"]))
    for match in _NOON.finditer(text):
        yield match, 0 if match["what"].lower() == "midnight" else 12, 0, ""
    for match in _AT.finditer(text):
        yield match, *_whole_hour(int(match["hour"]))


def _hour(said: str) -> int:
    return int(said) if said.isdigit() else SMALL_NUMBERS[said.lower()]


def _whole_hour(said: int) -> tuple[int, int, str]:
    hour, note = _likely(said)
    return hour, 0, note


def _likely(hour: int, typed: str = "") -> tuple[int, str]:
    """Nobody asks for balloons at three in the night: one to seven is the afternoon, unless it is typed 03:00."""
    return (hour + 12, TAKEN) if 1 <= hour <= 7 and not typed.startswith("0") else (hour, "")


def _by_half(hour: int, half: str) -> int | None:
    """The hour of the day; 14 o'clock needs no half, and 0 pm is none."""
    said = half.lower().replace(".", "")
    if hour > 12:
        return hour
    if hour == 0:
        return None
    if said == "am" or said.endswith("morning"):
        return hour % 12
    return hour % 12 + 12


def _ends_before(match: re.Match[str]) -> bool:
    """Whether the later hour of a span is the smaller number, as in 11 to 2pm."""
    end = re.split(r"-|–|to|til|till|until", match[0], maxsplit=1, flags=re.I)[1]
    return int(re.findall(r"\d+", end)[0]) % 12 < int(match["hour"]) % 12


def _in_words(match: re.Match[str]) -> Iterator[tuple[re.Match[str], int, int, str]]:
    """ "half past six", and "half six", which is the same in Britain."""
    part, way, hour = match["part"].lower(), (match["way"] or "").lower(), _hour(match["hour"])
    if not way and part != "half":
        return
    half = match["half"]
    known = None if half is None else _by_half(hour, half)
    hour, note = _likely(hour) if known is None else (known, "")
    minutes = hour * 60 + (-_PARTS[part] if way == "to" else _PARTS[part])
    yield match, minutes // 60 % 24, minutes % 60, note
