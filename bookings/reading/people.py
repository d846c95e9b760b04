"""Who is asking, and how to reach them."""

import re
from collections.abc import Collection

import phonenumbers

from bookings.reading.found import MONTHS, WEEKDAYS, Suggestion, distinct, tidy

_MAIL = re.compile(r"(?<![\w.+@-])[\w.+-]{1,64}@(?:[A-Za-z0-9-]{1,63}\.){1,4}[A-Za-z]{2,24}(?![\w@])")

_FIGURES = re.compile(
    r"(?<![\w£$€/.,:@#-])(?:\+|\(|00)?\d(?:[ \t().\-\u2010-\u2015\u00a0]{0,2}\d){5,15}(?![\w@/:£$€%])(?![.,]\d)"
)
_CALLED = re.compile(
    r"\b(?:call|ring|text|txt|phone|mobile|mob|cell|tel|telephone|number|no|ph|whatsapp|on|me|contact|t|"
    r"m)\b[^\n\d]{0,16}$",
    re.I,
)
_TYPED_DATE = re.compile(r"\d{1,2}[-. ]\d{1,2}[-. ](?:19|20)?\d\d|(?:19|20)\d\d[-. ]\d{1,2}[-. ]\d{1,2}")
_RANGE = re.compile(r"\d{2,4}[ ]?[-–][ ]?\d{2,4}")


def mails_in(text: str, *, own: Collection[str] = ()) -> tuple[Suggestion, ...]:
    """E-mail addresses, but not the studio's own."""
    ours = {mail.casefold() for mail in own}
    return distinct(
        Suggestion("email", match[0], match[0], match.start(), match.end(), match[0])
        for match in _MAIL.finditer(text)
        if match[0].casefold() not in ours
    )


def phones_in(
    text: str, *, country: str, own: Collection[str] = (), taken: Collection[Suggestion] = ()
) -> tuple[Suggestion, ...]:
    """Phone numbers as they are written in the country, or with its plus; not those in words that were `taken`.

    A row of figures is one if the country gives out such numbers, or might and the words before it say so.
    """
    ours = {_digits(phone)[-9:] for phone in own if phone}
    found = []
    for match in _FIGURES.finditer(text):
        one = Suggestion("phone", tidy(match[0]), tidy(match[0]), match.start(), match.end(), match[0])
        if one.overlaps(taken) or _TYPED_DATE.fullmatch(match[0]) or _digits(match[0])[-9:] in ours:
            continue
        if _is_phone(match[0], country, called=bool(_CALLED.search(text, max(0, match.start() - 30), match.start()))):
            found.append(one)
    return distinct(found)


def _digits(text: str) -> str:
    return "".join(character for character in text if character.isdigit())


def _is_phone(said: str, country: str, *, called: bool) -> bool:
    try:
        number = phonenumbers.parse(said, country)
    except phonenumbers.NumberParseException:
        return False
    if phonenumbers.is_valid_number(number):
        return True
    if _RANGE.fullmatch(said) and not (called or re.fullmatch(r"\d{3}-\d{4}", said)):
        return False
    why = phonenumbers.is_possible_number_with_reason(number)
    if why == phonenumbers.ValidationResult.IS_POSSIBLE_LOCAL_ONLY:
        return called or re.fullmatch(r"\d{3}-\d{4}", said) is not None
    return why == phonenumbers.ValidationResult.IS_POSSIBLE and (
        called or said.startswith(("0", "+", "(0")) or len(_digits(said)) >= 10
    )


_NAME = r"[A-Z][\w'’-]{0,20}(?:[ \t](?:[A-Z]\.|[A-Z][\w'’-]{0,20}|&|and|de|van|von|la)){0,3}"
_LOW = r"[a-z][a-z'’-]{1,20}(?:[ \t][a-z'’-]{2,20})?"
_CLOSE = (
    r"(?:many[ \t]thanks|thanks[ \t]so[ \t]much|thanks[ \t]again|thanks[ \t]in[ \t]advance|thanks|"
    r"thank[ \t]you(?:[ \t]so[ \t]much)?|thankyou|cheers|all[ \t]the[ \t]best|best[ \t]wishes|"
    r"kind[ \t]regards|kindest[ \t]regards|warm[ \t]regards|best[ \t]regards|regards|warmly|best|love|"
    r"lots[ \t]of[ \t]love|ta|thx|tia|yours|"
    r"yours[ \t]sincerely|yours[ \t]faithfully|sincerely|speak[ \t]soon|talk[ \t]soon|x{1,3})"
)
_SIGNED = re.compile(
    rf"(?:^|[.!?,\n)\]🎈🎉🙏😊]|"
    rf"(?<=\s))[ \t>]{{0,4}}(?i:{_CLOSE})\b[ \t]{{0,2}}"
    rf"[,.!:)🙏😊🎈🎉❤️\-–—~]{{0,4}}[ \t]{{0,2}}\n{{0,3}}[ \t>~–—-]{{0,4}}"
    rf"(?P<name>{_NAME})(?=[ \t]{{0,2}}(?:$|[\n.,!(🎈🎉🙏😊❤️|/]|[xX]{{1,3}}\b|[-–—]))",
    re.M,
)
_SIGNED_LOW = re.compile(
    rf"\b(?i:{_CLOSE})[ \t]{{0,2}}"
    rf"[,.!]{{0,2}}[ \t]{{0,2}}\n?[ \t]{{0,2}}(?P<name>{_LOW})[ \t]{{0,2}}(?:x{{1,3}})?[ \t.!]{{0,3}}$",
    re.M,
)
_SAYS = re.compile(
    rf"\b(?i:my[ \t]name['’]?s|my[ \t]name[ \t]is|name[ \t]?:|i['’]?m|i[ \t]am|this[ \t]is|it['’]?s|"
    rf"contact(?:[ \t]?:)?|ask[ \t]for|client[ \t]?:)[ \t]{{1,2}}(?P<name>{_NAME})"
    rf"(?P<after>[ \t](?:here|from|speaking))?"
)
_HERE = re.compile(rf"(?:^|[,.!\n][ \t]|(?i:hi|hey|hello)[ \t])(?P<name>{_NAME})[ \t](?i:here|speaking)\b", re.M)
_DASHED = re.compile(rf"(?:^|(?<=[^\n])[ \t])[-–—~][ \t]{{0,2}}(?P<name>{_NAME})[ \t]{{0,2}}$", re.M)
_LAST_LINE = re.compile(
    rf"(?:^|\n)[ \t>]{{0,4}}(?P<name>{_NAME})[ \t]{{0,2}}(?:[xX]{{1,3}}|"
    rf"[❤🎈🎉🙏😊]{{1,3}})?[ \t]{{0,2}}[.!]?(?=\s{{0,20}}(?:\Z|\x00))"
)

_LAST_WORD = re.compile(r"[.!?][ \t]{1,2}(?P<name>[a-z]{2,15})[ \t]{0,2}(?:x{1,3})?[ \t]{0,3}\Z")

_NOT_A_NAME = {
    *MONTHS, *WEEKDAYS, "i", "so", "for", "in", "the", "again", "advance", "just", "my", "our", "we", "it",
    "very", "much", "you", "your", "a", "an", "hi", "hello", "hey", "thanks", "thank", "cheers", "please",
    "sent", "no", "yes", "ok", "from", "to", "looking", "after", "hoping", "planning", "team", "all", "lovely",
    "birthday", "wedding", "baby", "christmas", "best", "regards", "mum", "mom", "dad", "venue", "date",
    "budget", "colours", "colors", "phone", "call", "and", "everyone", "there", "balloons", "balloon", "happy",
    "congratulations", "reply", "asap", "this", "that", "if", "when", "what", "pls", "plz", "thx", "ta", "tia",
    "soon", "bye", "urgent", "lol", "etc", "cool", "great", "sorry", "only", "max", "needed", "today",
    "tomorrow", "tonight", "anytime", "now", "how", "can", "could", "would", "will", "with", "going", "not",
    "available", "free", "us", "me", "about", "kids", "its", "also",
}  # fmt: skip
_A_NAME_AFTER_ALL = {"march", "may", "april", "june", "august", "jan", "mon"}
_OF_THE_STUDIO = re.compile(r"(?i)\b(?:balloons?|studio|events?|ltd|limited|inc|hall|street|road|lane)\b")


def names_in(
    text: str, sender: tuple[str, int, int] | None = None, *, colours: Collection[str] = ()
) -> tuple[Suggestion, ...]:
    """Who is asking: by the signature first, then by "I'm …", then by the head of the mail it came in."""
    for pattern in (_SIGNED, _DASHED, _SAYS, _HERE, _LAST_LINE, _SIGNED_LOW, _LAST_WORD):
        found = [one for match in pattern.finditer(text) if (one := _named(match, pattern, colours))]
        if found:
            # The last signature of a thread that was forwarded is the client's, who wrote first.
            return (found[-1],) if pattern in (_SIGNED, _LAST_LINE, _SIGNED_LOW) else (found[0],)
    if sender is not None and re.search(r"[A-Za-z]", sender[0]) and "@" not in sender[0]:
        return (
            Suggestion("name", tidy(sender[0])[:120], tidy(sender[0])[:120], sender[1], sender[2], tidy(sender[0])),
        )
    return ()


def _named(match: re.Match[str], pattern: re.Pattern[str], colours: Collection[str]) -> Suggestion | None:
    said = re.sub(r"[ \t](?:and|&|de|van|von|la|x{1,3}|X{1,3})$", "", match["name"].strip())
    words = said.split()
    first = words[0].casefold().strip("'’")
    months = first in _A_NAME_AFTER_ALL and pattern is not _SIGNED_LOW
    if len(said) < 2 or (first in _NOT_A_NAME and not months) or _OF_THE_STUDIO.search(said):
        return None
    if pattern in (_SIGNED_LOW, _LAST_WORD) and any(word in _NOT_A_NAME for word in words):
        return None
    if said.casefold() in colours and pattern in (_LAST_LINE, _SAYS):
        return None
    if pattern is _LAST_LINE and (len(words) > 3 or "\n" not in match.string[: match.start("name")]):
        return None
    shown = said.title() if said.islower() or (said.isupper() and len(said) > 2) else said
    return Suggestion("name", shown, shown, match.start("name"), match.start("name") + len(said), said)
