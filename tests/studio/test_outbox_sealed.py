"""The way to the mail server: sealed or not at all, and signed in to."""

import ssl
import subprocess
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from aiosmtpd.smtp import AuthResult, LoginPassword

from studio.mail_server import MailServer
from studio.outbox.delivery import Trouble, deliver
from tests.mailbox import mail_server

LETTER = b"Subject: Gala\r\n\r\nHello\r\n"
Sealed = tuple[Path, ssl.SSLContext]


@pytest.fixture
def sealed(tmp_path: Path) -> Sealed:
    """A certificate for this machine that nobody knows yet, and a server's use of it."""
    certificate, key = tmp_path / "certificate.pem", tmp_path / "key.pem"
    subject = ["-subj", "/CN=localhost", "-addext", "subjectAltName=IP:127.0.0.1"]
    made = ["openssl", "req", "-x509", "-newkey", "rsa:2048", "-nodes", "-days", "1", *subject]
    subprocess.run([*made, "-keyout", str(key), "-out", str(certificate)], check=True, capture_output=True)
    context = ssl.create_default_context(ssl.Purpose.CLIENT_AUTH)
    context.load_cert_chain(certificate, key)
    return certificate, context


@pytest.fixture
def trusted(sealed: Sealed, monkeypatch) -> Sealed:
    """The same, known to this machine."""
    monkeypatch.setenv("SSL_CERT_FILE", str(sealed[0]))
    return sealed


def send(server: MailServer) -> None:
    deliver(LETTER, server=server, to="ines@example.org")


def test_a_letter_goes_sealed_after_starttls(trusted: Sealed):
    with mail_server(tls_context=trusted[1], require_starttls=True) as box:
        send(replace(box.server, tls="starttls"))
        assert [found.message["Subject"] for found in box.received] == ["Gala"]


def test_a_certificate_nobody_knows_is_not_trusted(sealed: Sealed):
    with mail_server(tls_context=sealed[1], require_starttls=True) as box:
        with pytest.raises(Trouble, match="certificate"):
            send(replace(box.server, tls="starttls"))
        assert box.received == []


def test_nothing_goes_in_the_open_where_the_server_offers_no_seal():
    with mail_server() as box:
        with pytest.raises(Trouble, match="STARTTLS"):
            send(replace(box.server, tls="starttls"))
        assert box.received == []


def signing_in(password: bytes) -> Callable[..., AuthResult]:
    def check(server: object, session: object, envelope: object, mechanism: str, given: LoginPassword) -> AuthResult:
        # Not handled: the server gives the answer itself.
        return AuthResult(success=given.password == password, handled=False)

    return check


@pytest.mark.parametrize("typed", ["quay", "wharf"])
def test_the_password_lets_in_or_is_trouble_that_does_not_say_it(trusted: Sealed, typed):
    how = {"tls_context": trusted[1], "require_starttls": True, "auth_required": True}
    with mail_server(authenticator=signing_in(b"quay"), **how) as box:
        server = replace(box.server, tls="starttls", user="studio", password=typed)
        if typed == "quay":
            send(server)
        else:
            with pytest.raises(Trouble) as trouble:
                send(server)
            assert "535" in str(trouble.value)
            assert typed not in str(trouble.value)
        assert len(box.received) == (typed == "quay")
