"""Handing one message to the mail server, and what it means when that does not work."""

import smtplib
import ssl

from studio.mail_server import MailServer
from studio.outbox.addresses import one_line

SECONDS = 20
"""How long a server may take over one answer."""


class Trouble(Exception):
    """The server could not be reached or would not talk: nothing was sent, and any letter may be tried later."""


class NotNow(Exception):
    """The server would not take this letter now: nothing was sent, and it may be tried later."""


class Refused(Exception):
    """The server will never take this letter as it is: nothing was sent."""


class Unsure(Exception):
    """The server was given the letter and did not say whether it took it: it may or may not arrive."""


def deliver(message: bytes, *, server: MailServer, to: str) -> None:
    """Hand the message over; returns once the server has taken it. Raises Trouble, NotNow, Refused or Unsure."""
    try:
        line = _connect(server)
    except (OSError, smtplib.SMTPException) as error:
        raise Trouble(f"The mail server {server.host} could not be reached: {_said(error)}") from error
    try:
        _hand_over(line, message, sender=server.sender, to=to)
    finally:
        line.close()


def _connect(server: MailServer) -> smtplib.SMTP:
    context = ssl.create_default_context()
    if server.tls == "tls":
        line: smtplib.SMTP = smtplib.SMTP_SSL(server.host, server.port, timeout=SECONDS, context=context)
    else:
        line = smtplib.SMTP(server.host, server.port, timeout=SECONDS)
    try:
        if server.tls == "starttls":
            line.starttls(context=context)
        if server.password:
            line.login(server.user, server.password)
        else:
            line.ehlo_or_helo_if_needed()
    except BaseException:
        line.close()
        raise
    return line


def _hand_over(line: smtplib.SMTP, message: bytes, *, sender: str, to: str) -> None:
    try:
        _check(*line.mail(sender))
        _check(*line.rcpt(to))
    except (OSError, smtplib.SMTPException) as error:
        raise Trouble(f"The mail server hung up: {_said(error)}") from error
    try:
        code, answer = line.data(message)
    except smtplib.SMTPDataError as error:
        code, answer = error.smtp_code, _bytes(error.smtp_error)
    except (OSError, smtplib.SMTPException) as error:
        raise Unsure(f"The mail server did not say whether it took the letter: {_said(error)}") from error
    _check(code, answer)
    try:
        line.quit()
    except (OSError, smtplib.SMTPException):
        # It has been taken: how the talk ends does not matter any more.
        return


def _check(code: int, answer: bytes) -> None:
    if 200 <= code < 300:
        return
    said = one_line(f"{code} {answer.decode(errors='replace')}", 200)
    if 500 <= code < 600:
        raise Refused(f"The mail server refused it: {said}")
    raise NotNow(f"The mail server would not take it now: {said}")


def _bytes(answer: bytes | str) -> bytes:
    return answer.encode() if isinstance(answer, str) else answer


def _said(error: Exception) -> str:
    """The error in one line, without what was said to the server: that holds the password."""
    if isinstance(error, smtplib.SMTPResponseException):
        return one_line(f"{error.smtp_code} {_bytes(error.smtp_error).decode(errors='replace')}", 200)
    if isinstance(error, TimeoutError) or "timed out" in str(error):
        return f"no answer within {SECONDS} seconds"
    return one_line(str(error) or type(error).__name__, 200)
