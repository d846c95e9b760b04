"""A letter as mail programs read it: headers in one line each, the words, and the same words as a page."""

import re
from base64 import b64encode
from dataclasses import dataclass
from datetime import datetime
from email.message import EmailMessage
from email.policy import SMTP
from email.utils import format_datetime

from studio.outbox.addresses import one_line

LINK = "{link}"
"""Stands in a letter's words where its link goes. The link itself is made when it is sent, so none is kept."""

MOST_IN_SUBJECT, MOST_IN_NAME = 160, 60
_BYTES_IN_A_WORD = 45


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Lines that stand together under their heading, if they have one, or a link that is drawn as a button."""

    lines: tuple[str, ...]
    is_link: bool = False
    heading: str = ""


def paragraphs(text: str, link: str, *, headed: bool = False) -> list[Paragraph]:
    """The words taken apart at empty lines; a paragraph that is nothing but the link is marked.

    In a letter that is `headed`, a first line that is no sentence is the heading of those below it.
    """
    parts = re.split(r"\n\s*\n", text.replace("\r\n", "\n").replace("\r", "\n").strip("\n"))
    return [
        Paragraph((), is_link=True) if link and part.strip() == link else _paragraph(part.strip().split("\n"), headed)
        for part in parts
        if part.strip()
    ]


def _paragraph(lines: list[str], headed: bool) -> Paragraph:
    if headed and len(lines) > 1 and not lines[0].endswith("."):
        return Paragraph(tuple(lines[1:]), heading=lines[0])
    return Paragraph(tuple(lines))


@dataclass(frozen=True, slots=True)
class Envelope:
    """From whom, to whom, about what; `message_id` stays the same however often sending is tried."""

    from_name: str
    sender: str
    to_name: str
    to_address: str
    reply_to: str
    subject: str
    message_id: str
    at: datetime


def compose(envelope: Envelope, *, text: str, html: str) -> bytes:
    """The message as it goes over the line: plain words first, the page beside them, nothing but plain letters.

    The headers are written here, because the standard library reads what looks like an encoded word in a value it is
    given, and a line break hidden in one would begin a header of its own.
    """
    body = EmailMessage(policy=SMTP)
    body.set_content(text, cte="quoted-printable")
    body.add_alternative(html, subtype="html", cte="quoted-printable")
    headers = [
        ("From", _person(envelope.from_name, envelope.sender)),
        ("To", _person(envelope.to_name, envelope.to_address)),
        ("Subject", _words(one_line(envelope.subject, MOST_IN_SUBJECT))),
        ("Date", format_datetime(envelope.at)),
        ("Message-ID", envelope.message_id),
    ]
    if envelope.reply_to and envelope.reply_to != envelope.sender:
        headers.insert(2, ("Reply-To", _person(envelope.from_name, envelope.reply_to)))
    written = "".join(f"{name}: {value}\r\n" for name, value in headers)
    return written.encode("ascii") + body.as_bytes()


def _person(name: str, address: str) -> str:
    """A name and an address as RFC 5322 writes them; the address has been checked."""
    said = one_line(name, MOST_IN_NAME)
    if not said:
        return address
    if _is_plain(said):
        escaped = said.replace("\\", "\\\\").replace('"', '\\"')
        return f'"{escaped}" <{address}>'
    return f"{_words(said)}\r\n <{address}>"


def _is_plain(text: str) -> bool:
    return text.isascii() and "=?" not in text


def _words(text: str) -> str:
    """Text in a header: as it is, or as the encoded words of RFC 2047, none of them longer than its 75 characters."""
    if _is_plain(text):
        return text
    chunks = [b""]
    for sign in text:
        encoded = sign.encode()
        if len(chunks[-1]) + len(encoded) > _BYTES_IN_A_WORD:
            chunks.append(b"")
        chunks[-1] += encoded
    return "\r\n ".join(f"=?utf-8?b?{b64encode(chunk).decode()}?=" for chunk in chunks)
