"""Where it is to be."""

import re

from bookings.reading.found import MONTHS, MOST_READ, WEEKDAYS, Suggestion, distinct, tidy

_ROOMS = [
    "barn", "hall", "house", "home", "garden", "gardens", "backyard", "yard", "church", "school", "office",
    "offices", "marquee", "tent", "club", "pub", "hotel", "library", "restaurant", "cafe", "café", "park",
    "beach", "gym", "shop", "clubhouse", "pavilion", "boathouse", "gallery", "room", "ballroom", "terrace",
    "rooftop", "warehouse", "winery", "vineyard", "farm", "lodge", "centre", "center", "theatre", "theater",
    "museum", "place", "flat", "apartment", "chapel", "orchard", "inn", "arms", "deck", "courtyard", "patio",
    "kitchen", "conservatory", "campus", "nursery", "salon", "brewery", "mill", "manor", "lounge", "showroom",
    "lobby", "foyer", "atrium", "venue", "function",
]  # fmt: skip
_NOUN = "(?:" + "|".join(sorted(_ROOMS, key=len, reverse=True)) + ")"
_STREET = (
    r"(?:Street|St|Road|Rd|Lane|Ln|Avenue|Ave|Drive|Dr|Way|Quay|Close|Court|Ct|Row|Terrace|Place|Pl|Crescent|"
    r"Cres|Boulevard|Blvd|Hill|"
    r"Square|Sq|Parade|Wharf|Walk)"
)
_CAP = r"[A-Z][\w'’&-]{0,20}"
_WHOSE = (
    r"(?:our|my|the|her|his|their|a|your|mum['’]?s|mom['’]?s|dad['’]?s|nan['’]?s|gran['’]?s|"
    r"my[ \t](?:mum|mom|dad|nan|gran|sister|parents?)['’]?s?['’]?)"
)
_ADDRESS = rf"\d{{1,4}}[A-Za-z]?[ \t]{{1,2}}(?:{_CAP}[ \t]{{1,2}}){{1,3}}{_STREET}\b\.?"
_MORE = rf"(?:,[ \t\n]{{0,2}}(?:{_ADDRESS}|(?:the[ \t])?{_CAP}(?:[ \t]{_CAP}){{0,3}})){{0,3}}"
_WORD = r"[\w'’&.-]{1,20}"

_NO_EVENT = r"(?![ \t-](?:party|parties|opening|do\b|gala|wedding|ball\b|fair|fete|dinner|warming|show|project|theme))"
_NEXT_ROOM = rf"(?:[ \t](?:at|in)[ \t](?:[Tt]he[ \t])?(?:{_WORD}[ \t]){{0,2}}(?i:{_NOUN})\b)?"
_BY_NOUN = re.compile(
    rf"(?P<lead>\b(?:(?i:at|in|@|to|inside)[ \t]{{1,2}}|(?i:on)[ \t](?=(?i:the[ \t](?:beach|terrace|rooftop|deck|"
    rf"patio|campus))\b)|(?i:for)[ \t](?=(?i:our|my|her|his)\b)))"
    rf"(?P<place>(?:(?i:{_WHOSE})[ \t]{{1,2}})?(?:{_WORD}[ \t]{{1,2}}){{0,3}}?(?i:{_NOUN})\b{_NO_EVENT}"
    rf"(?:[ \t](?:[A-Z]|\d{{1,3}}[a-z]?|"
    rf"(?i:{_NOUN}))\b)?{_NEXT_ROOM}(?:[ \t]in[ \t]{_CAP}(?:[ \t]{_CAP}){{0,2}})?{_MORE})"
)
_ALONE = re.compile(
    rf"(?:^|[,.;:!?\x00])[ \t]{{0,2}}(?P<place>(?!(?i:on|at|in|to|"
    rf"for)\b)(?:(?i:{_WHOSE})[ \t]{{1,2}})?(?:{_WORD}[ \t]{{1,2}}){{0,2}}?(?i:{_NOUN})\b"
    rf"(?:[ \t]\d{{1,4}}[a-z]?\b)?{_MORE})(?=[ \t]{{0,2}}(?:$|[,.;!?\n\x00]))",
    re.M,
)
_BY_NAME = re.compile(
    rf"(?P<lead>\b(?:at|At|@)[ \t]{{1,2}})(?P<place>(?:[Tt]he[ \t])?(?P<first>{_CAP})(?:[ \t](?:{_CAP}|of|and|on|"
    rf"&|the)){{0,4}}{_MORE})"
)
_BY_STREET = re.compile(rf"(?<![\w£$€.,/-])(?P<place>{_ADDRESS}{_MORE})")
_LABEL = re.compile(
    r"^[ \t*•-]{0,4}(?:venue|where|place|location|address|venue address|event address)[ \t*]{0,3}(?::|=|-|"
    r"is)[ \t*]{0,4}(?P<place>[^\n\x00]{3,160})",
    re.I | re.M,
)
_SPOKEN = re.compile(
    r"\b(?:the[ \t])?(?:venue|address|location)(?:[ \t]is|['’]s|:)[ \t]{1,2}(?P<place>[^\n.!?\x00]{3,120})", re.I
)

_NO_NAME = {
    *MONTHS,
    *WEEKDAYS,
    "i",
    "easter",
    "christmas",
    "xmas",
    "halloween",
    "noon",
    "midday",
    "the",
    "home",
    "least",
    "once",
    "work",
}
_NO_WORDS = re.compile(
    r"\b(?:the moment|least|about|around|noon|midday|midnight|\d{1,2}(?::\d\d)?[ \t]?[ap]m|weekend|end of|for|"
    r"with|and we|is|are|was|will|we|i|you|"
    r"have|can|need|want|like|garland|arch|balloons?|columns?|black|white|gold|navy|pink|blue|green|red|silver)\b",
    re.I,
)
_TAIL = re.compile(
    r"[ \t,]{1,3}(?:on|at|from|for|and|please|pls|if|we|so|but|which|where|thanks|thx)\b.*$|"
    r"[ \t]\d{1,2}[:.]?\d{0,2}[ \t]?[ap]m\b.*$",
    re.I | re.S,
)


def places_in(text: str) -> tuple[Suggestion, ...]:
    """Places that the message names: the venue's own line first, then a room or a street, then a name after "at"."""
    taken: list[Suggestion] = []
    for pattern in (_LABEL, _SPOKEN, _BY_NOUN, _ALONE, _BY_STREET, _BY_NAME):
        for match in pattern.finditer(text):
            if len(taken) >= MOST_READ:
                break
            words = match["place"]
            if pattern in (_BY_NOUN, _ALONE) and _NO_WORDS.search(words.split(",")[0]):
                continue
            if pattern is _BY_NAME and match["first"].casefold() in _NO_NAME:
                continue
            if pattern is _SPOKEN:
                words = _TAIL.sub("", words)
            said = tidy(words)
            if len(said) < 3:
                continue
            one = Suggestion(
                "place", said[:200], said[:200], match.start("place"), match.start("place") + len(words.rstrip()), said
            )
            if not one.overlaps(taken):
                taken.append(one)
    return distinct(taken, 3)
