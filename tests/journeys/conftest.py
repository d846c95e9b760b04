"""A real server on a folder of its own, and a phone to visit it with."""

import os
import shutil
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import (
    Browser,
    BrowserContext,
    ConsoleMessage,
    Locator,
    Page,
    ViewportSize,
    expect,
    sync_playwright,
)

from tests.databases import Migrated, fresh_address, made_once
from tests.live import free_port

ROOT = Path(__file__).resolve().parents[2]
CHROMIUM = os.environ.get("CHROMIUM", "/usr/bin/chromium")
QUIET = [
    "--no-sandbox",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
    "--disable-quic",
]
PHONE: ViewportSize = {"width": 390, "height": 844}
DESK: ViewportSize = {"width": 1280, "height": 900}

# What htmx says of a redraw that gave way to the next one or to another page; of one that failed it says more.
GAVE_WAY = ("htmx:afterRequest", "htmx:sendAbort")

# As long as Playwright waits for everything else: on a busy machine an answer may take some seconds.
expect.set_options(timeout=30_000)


@dataclass(frozen=True)
class Server:
    """Where it answers, how to run a command on the same studio, and the cookies of who has gone in there before."""

    url: str
    environment: dict[str, str]
    cookies: dict[str, list[Any]] = field(default_factory=dict)

    def run(self, *words: str) -> "subprocess.CompletedProcess[str]":
        """`manage.py` with these words."""
        return manage(*words, environment=self.environment)


def manage(*words: str, environment: dict[str, str]) -> "subprocess.CompletedProcess[str]":
    """Run one of our commands as a person would."""
    return subprocess.run(
        [sys.executable, "manage.py", *words], cwd=ROOT, env=environment, capture_output=True, text=True, timeout=300
    )


def _wait_for(url: str, process: "subprocess.Popen[bytes]", log: Path) -> None:
    deadline = time.monotonic() + 120
    while time.monotonic() < deadline:
        if process.poll() is not None:
            break
        try:
            urllib.request.urlopen(url, timeout=30).close()
        except (urllib.error.URLError, OSError):
            time.sleep(0.2)
        else:
            return
    raise AssertionError(f"the server did not answer:\n{log.read_text()}")


def serving(
    command: str, environment: dict[str, str], log: Path, *, code: Path = ROOT, port: int | None = None
) -> Iterator[Server]:
    """The server of one folder, until the tests are done with it; of other `code` and at the `port` that are said."""
    port = port or free_port()
    url = f"http://localhost:{port}"
    with log.open("ab") as out:
        process = subprocess.Popen(
            [sys.executable, "manage.py", command, "--port", str(port)],
            cwd=code,
            env=environment,
            stdout=out,
            stderr=subprocess.STDOUT,
        )
        try:
            _wait_for(f"{url}/sign-in/", process, log)
            yield Server(url, environment)
        finally:
            process.terminate()
            process.wait(timeout=60)


def environment_of(**changes: str) -> dict[str, str]:
    """Ours, without what belongs to another folder."""
    others = ("GARLANDRY_", "DJANGO_", "DATABASE_URL")
    return {name: value for name, value in os.environ.items() if not name.startswith(others)} | changes


@pytest.fixture(scope="module")
def empty_studio(tmp_path_factory: pytest.TempPathFactory, migrated: Migrated) -> Iterator[Server]:
    """A server nobody has set up yet; on PostgreSQL it also makes its tables, as test_serve has it do on SQLite."""
    folder = tmp_path_factory.mktemp("studio")
    with fresh_address() as address:
        if not address:
            migrated.copied_to(folder)
        environment = environment_of(GARLANDRY_DATA=str(folder), GARLANDRY_HTTPS="0", DATABASE_URL=address)
        yield from serving("serve", environment, folder / "log")


@pytest.fixture(scope="session")
def demo_made(between_workers: Path, migrated: Migrated) -> Path:
    """The folder of Tern & Tide, made once for all tests, which copy it."""

    def make(folder: Path) -> None:
        folder.mkdir(mode=0o700)
        migrated.begun_in(folder)
        made = manage("demo", "--no-serve", "--port", "8765", environment=demo_environment(folder))
        assert made.returncode == 0, made.stderr

    return made_once(between_workers / "demo", make)


def demo_environment(folder: Path) -> dict[str, str]:
    """Of the demo in a folder."""
    return environment_of(GARLANDRY_DEMO_DATA=str(folder), GARLANDRY_DEMO="1")


@pytest.fixture(scope="module")
def demo_folder(demo_made: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Tern & Tide as it was made, in a folder of the module's own."""
    return Path(shutil.copytree(demo_made, tmp_path_factory.mktemp("demo") / "data"))


@pytest.fixture(scope="module")
def demo_studio(demo_folder: Path) -> Iterator[Server]:
    """Tern & Tide, served as it was made."""
    yield from serving("demo", demo_environment(demo_folder), demo_folder.with_name("log"))


@pytest.fixture(scope="module")
def chromium() -> Iterator[Browser]:
    """One browser for a module's tests."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=QUIET)
        yield browser
        browser.close()


@pytest.fixture
def open_phone(chromium: Browser) -> Iterator[Callable[..., Page]]:
    """Opens a fresh phone: nobody signed in, nothing remembered. Errors in its console fail the test.

    It has no worker that keeps the enquiry's page, which may take a page over at any moment: test_without_signal has.
    """
    contexts: list[BrowserContext] = []
    complaints: list[str] = []

    def heard(message: ConsoleMessage) -> None:
        if message.type == "error" and not message.text.startswith(GAVE_WAY):
            complaints.append(message.text)

    def opened(viewport: ViewportSize = PHONE, scheme: str = "light", touch: bool = True) -> Page:
        context = chromium.new_context(
            viewport=viewport,
            color_scheme=scheme,  # type: ignore[arg-type]
            has_touch=touch,
            service_workers="block",
        )
        context.grant_permissions(["clipboard-read", "clipboard-write"])
        contexts.append(context)
        page = context.new_page()
        page.on("console", heard)
        page.on("pageerror", lambda error: complaints.append(str(error)))
        page.on("dialog", lambda dialog: dialog.accept())
        return page

    yield opened
    for context in contexts:
        context.close()
    assert complaints == []


def follow(pressed: Locator) -> None:
    """Press what leads to another page, and wait until all of that page is there, its scripts too."""
    with pressed.page.expect_navigation():
        pressed.click()


def sign_in(page: Page, server: Server, username: str, password: str) -> None:
    """Be in: through the door the first time, as a password takes its time; then as who is signed in already."""
    if username not in server.cookies:
        go_in(page, server, username, password)
        server.cookies[username] = list(page.context.cookies())
        return
    page.context.add_cookies(server.cookies[username])
    page.goto(f"{server.url}/")
    assert page.url == f"{server.url}/", page.url


def go_in(page: Page, server: Server, username: str, password: str) -> None:
    """Go in through the door."""
    page.goto(f"{server.url}/sign-in/")
    page.get_by_label("User name").fill(username)
    page.get_by_label("Password").fill(password)
    follow(page.get_by_role("button", name="Sign in"))
    assert page.url == f"{server.url}/", page.url
