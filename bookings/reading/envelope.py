"""What is around a message: the head of a forwarded mail, the stamps of a chat, the studio's own address."""

import re

from bookings.reading.found import HIDDEN

_HEAD = re.compile(r"^[ \t>*]{0,8}(?:sent|date|to|cc|bcc|subject|reply-to|received)\*?:[^\n]{0,400}", re.I | re.M)
_FROM = re.compile(r"^[ \t>*]{0,8}from\*?:[ \t*]{0,4}(?P<who>[^\n]{1,200})", re.I | re.M)
_WROTE = re.compile(r"^[ \t>]{0,8}on [^\n]{4,160}? wrote:[ \t]*$", re.I | re.M)
_RULE = re.compile(r"^[ \t>]{0,8}-{2,10}[^\n-]{0,60}-{2,10}[ \t]*$", re.M)
_STAMP = re.compile(
    r"^\[?\d{1,4}[/.-]\d{1,2}[/.-]\d{2,4},?[ \t]{1,2}"
    r"\d{1,2}:\d{2}(?::\d{2})?(?:[ \t]?[ap]m)?\]?[ \t]{0,2}[-–]?[ \t]{0,2}"
    r"(?P<who>[^:\n]{1,40}):",
    re.I | re.M,
)
_MAIL_IN = re.compile(r"<?[\w.+-]{1,64}@[\w.-]{1,200}>?")


def hide(text: str, start: int, end: int) -> str:
    """The text with that part out of sight, every other character where it was."""
    return text[:start] + HIDDEN * (end - start) + text[end:]


def opened(message: str) -> tuple[str, tuple[str, int, int] | None]:
    """The message with heads and stamps hidden, and who it is from by them: the words, from where to where.

    Mail addresses in a "From" stay readable. A day or an hour in a head is when something was sent, not an event.
    """
    text, sender = message, None
    for match in _FROM.finditer(message):
        who = _MAIL_IN.split(match["who"])[0].strip(' \t"<>*[(')
        if sender is None and who:
            start = match.start("who") + match["who"].index(who)
            sender = (who, start, start + len(who))
            text = hide(text, match.start(), start + len(who))
    for match in _STAMP.finditer(message):
        if sender is None:
            sender = (match["who"], match.start("who"), match.end("who"))
        text = hide(text, match.start(), match.end())
    # A form that was filled in has a "Date:" too; only beside a "From:" it is when something was sent.
    heads = (_HEAD, _WROTE, _RULE) if _FROM.search(message) else (_WROTE, _RULE)
    for pattern in heads:
        for match in pattern.finditer(message):
            text = hide(text, match.start(), match.end())
    return text, sender
