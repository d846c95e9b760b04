"""A real mail server on this machine: it keeps what it is sent, or answers as it is told to."""

import contextlib
from collections.abc import Iterator
from dataclasses import dataclass, field
from email import message_from_bytes
from email.message import EmailMessage
from email.policy import default
from typing import Any

from aiosmtpd.controller import Controller
from aiosmtpd.smtp import SMTP, Envelope, Session

from studio.mail_server import MailServer
from tests.live import free_port


@dataclass
class Received:
    """A letter as it arrived: from and to whom by the server's word, and what it says."""

    sender: str
    recipients: list[str]
    message: EmailMessage
    raw: bytes

    @property
    def text(self) -> str:
        """The plain words."""
        part = self.message.get_body(("plain",))
        assert part is not None
        return str(part.get_content())

    @property
    def html(self) -> str:
        """The page beside them."""
        part = self.message.get_body(("html",))
        assert part is not None
        return str(part.get_content())


@dataclass
class Mailbox:
    """What arrived, and what the server answers to a recipient or to the words, where it is not 250."""

    port: int = 0
    received: list[Received] = field(default_factory=list)
    to_recipient: str = ""
    to_words: str = ""
    hangs_up: bool = False

    async def handle_RCPT(  # noqa: N802 (its name is the server's)
        self, server: SMTP, session: Session, envelope: Envelope, address: str, options: list[str]
    ) -> str:
        """Take the recipient, or answer as told."""
        if self.to_recipient:
            return self.to_recipient
        envelope.rcpt_tos.append(address)
        return "250 OK"

    async def handle_DATA(self, server: Any, session: Session, envelope: Envelope) -> str:  # noqa: N802
        """Keep the letter, or answer as told."""
        if self.to_words:
            return self.to_words
        raw = envelope.content
        assert isinstance(raw, bytes)
        message = message_from_bytes(raw, policy=default)
        assert isinstance(message, EmailMessage)
        self.received.append(Received(str(envelope.mail_from), list(envelope.rcpt_tos), message, raw))
        if self.hangs_up:
            server.transport.abort()
        return "250 OK"

    @property
    def server(self) -> MailServer:
        """How to reach it."""
        return MailServer("127.0.0.1", self.port, "none", "studio@ternandtide.example")


@contextlib.contextmanager
def mail_server(**how: Any) -> Iterator[Mailbox]:
    """A server that listens until the end of the block; `how` is what the library's controller is told besides."""
    box = Mailbox(free_port())
    controller = Controller(box, hostname="127.0.0.1", port=box.port, **how)
    controller.start()
    try:
        yield box
    finally:
        controller.stop()
