"""The mail server that letters are handed to, as the environment names it."""

from collections.abc import Mapping
from dataclasses import dataclass, field

PORTS = {"starttls": 587, "tls": 465, "none": 25}
"""How the way to the server is closed to others, and the port that is usual for it."""

_HERE = {"localhost", "127.0.0.1", "::1"}


class MailServerError(Exception):
    """The environment describes no server that mail can be handed to; the message names the variable."""


@dataclass(frozen=True, slots=True)
class MailServer:
    """Where mail is handed over, as whom, and the address it is from."""

    host: str
    port: int
    tls: str
    sender: str
    user: str = ""
    password: str = field(default="", repr=False)


def server_from(environment: Mapping[str, str]) -> MailServer | None:
    """The server the GARLANDRY_SMTP_ variables describe, or None where no host is named. Raises MailServerError."""
    named = {name: environment.get(f"GARLANDRY_SMTP_{name}", "").strip() for name in ("HOST", "PORT", "USER", "FROM")}
    tls = environment.get("GARLANDRY_SMTP_TLS", "starttls")
    password = environment.get("GARLANDRY_SMTP_PASSWORD", "")
    if not named["HOST"]:
        return None
    if tls not in PORTS:
        raise MailServerError(f"GARLANDRY_SMTP_TLS must be starttls, tls or none (got {tls!r}).")
    port = named["PORT"] or str(PORTS[tls])
    if not (port.isascii() and port.isdecimal() and 1 <= int(port) <= 65535):
        raise MailServerError(f"GARLANDRY_SMTP_PORT must be a number from 1 to 65535 (got {port!r}).")
    if password and tls == "none" and named["HOST"] not in _HERE:
        raise MailServerError("GARLANDRY_SMTP_TLS must be starttls or tls: the password would be readable on the way.")
    sender = named["FROM"] or named["USER"]
    if sender.count("@") != 1 or not sender.isascii() or any(sign in sender for sign in " ,;<>\r\n\t"):
        raise MailServerError(f"GARLANDRY_SMTP_FROM must be the one address mail is from (got {sender!r}).")
    return MailServer(named["HOST"], int(port), tls, sender, named["USER"], password)
