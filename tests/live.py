"""A real server on a data folder of its own, and a browser of few words to talk to it."""

import contextlib
import http.cookiejar
import itertools
import os
import re
import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.parse
import urllib.request
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from email.message import Message
from pathlib import Path

from tests.databases import Migrated

ROOT = Path(__file__).resolve().parent.parent
PASSWORD = "three paper boats sail"
PORTS = itertools.count(211 * os.getpid())
HIDDEN = re.compile(r'name="(csrfmiddlewaretoken|form_key|seen)" value="([^"]+)"')


@dataclass
class Answer:
    """What came back, redirects not followed."""

    status: int
    headers: Message
    body: str


class NotFollowed(urllib.request.HTTPRedirectHandler):
    """Leaves a redirect to be looked at."""

    def redirect_request(self, *args: object, **kwargs: object) -> None:
        """No request follows."""


@dataclass
class Visitor:
    """Somebody with cookies of their own at the server's address."""

    base: str
    cookies: http.cookiejar.CookieJar = field(default_factory=http.cookiejar.CookieJar)

    def ask(self, path: str, data: Mapping[str, str] | None = None) -> Answer:
        """GET, or POST where there is something to send."""
        body = None if data is None else urllib.parse.urlencode(data).encode()
        opener = urllib.request.build_opener(NotFollowed, urllib.request.HTTPCookieProcessor(self.cookies))
        try:
            with opener.open(urllib.request.Request(self.base + path, body), timeout=60) as reply:
                return Answer(reply.status, reply.headers, reply.read().decode(errors="replace"))
        except urllib.error.HTTPError as reply:
            with reply:
                return Answer(reply.code, reply.headers, reply.read().decode(errors="replace"))

    def fill_in(self, path: str, typed: Mapping[str, str]) -> dict[str, str]:
        """What a browser would send from the first form of a page, with these fields typed."""
        return dict(HIDDEN.findall(self.ask(path).body)) | dict(typed)

    def set_up(self) -> None:
        """Make the studio, and be signed in as its owner."""
        typed = {
            "studio_name": "Tern & Tide Balloons",
            "currency": "USD",
            "measures": "imperial",
            "time_zone": "UTC",
            "name": "Mara",
            "username": "mara",
            "password": PASSWORD,
            "password_again": PASSWORD,
        }
        answer = self.ask("/welcome/", self.fill_in("/welcome/", typed))
        assert (answer.status, answer.headers["Location"]) == (302, "/"), answer.body


@dataclass
class Server:
    """A running `manage.py serve`: where it is, where it keeps things, and its process."""

    base: str
    port: int
    folder: Path
    process: subprocess.Popen[str]
    said: Path

    def visitor(self) -> Visitor:
        """Somebody new."""
        return Visitor(self.base)

    def stop(self, how: signal.Signals = signal.SIGTERM) -> int:
        """Tell it to stop, and wait until it has; its exit status."""
        if self.process.poll() is None:
            self.process.send_signal(how)
        return self.process.wait(timeout=60)

    def is_listening(self) -> bool:
        """Whether anything answers at its port."""
        with contextlib.suppress(OSError), socket.create_connection(("127.0.0.1", self.port), timeout=1):
            return True
        return False


def free_port() -> int:
    """A port nobody listens at, and nobody will before whoever asked does.

    One the system offers by itself may go to somebody else meanwhile; so it is of those below, which only we hand out,
    and every process begins elsewhere.
    """
    while True:
        port = 12_000 + next(PORTS) % 20_000
        with contextlib.suppress(OSError), socket.socket() as probe:
            probe.bind(("127.0.0.1", port))
            return port


@contextlib.contextmanager
def running(folder: Path, migrated: Migrated | None = None, **environment: str) -> Iterator[Server]:
    """A server with its data in `folder`, from when it answers until the end of the block.

    It makes its database itself, or finds a copy of the one that is `migrated`.
    """
    port = free_port()
    ours = {"GARLANDRY_DATA": str(folder / "data"), "GARLANDRY_HTTPS": "0", "GARLANDRY_DEBUG": "0"}
    ours |= {"DATABASE_URL": ""} | environment
    if migrated is not None:
        (folder / "data").mkdir(mode=0o700)
        migrated.copied_to(folder / "data")
    said = folder / "said.txt"
    with said.open("w") as output:
        process = subprocess.Popen(
            [sys.executable, str(ROOT / "manage.py"), "serve", "--port", str(port)],
            cwd=ROOT,
            env=os.environ | ours,
            stdout=output,
            stderr=subprocess.STDOUT,
            text=True,
        )
    server = Server(f"http://127.0.0.1:{port}", port, folder / "data", process, said)
    try:
        give_up = time.monotonic() + 90
        while not server.is_listening():
            assert process.poll() is None, said.read_text()
            assert time.monotonic() < give_up, said.read_text()
            time.sleep(0.05)
        yield server
    finally:
        server.stop()
