"""Enquiries that wait on a phone with three tabs, one of them killed, while most of what can go wrong goes wrong: the
browser stops the worker, and the studio's machine is upgraded while they wait.

Which fault meets which request follows from a seed that is printed: GARLANDRY_SEED takes it again. By night there are
more of them, from another seed each time.
"""

import os
import random
import shutil
import sqlite3
import time
import uuid
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, Route

from tests.journeys.conftest import ROOT, Server, demo_environment, serving, sign_in

pytestmark = pytest.mark.browser

NIGHTLY = os.environ.get("GARLANDRY_CASES") == "nightly"
ITEMS = 200 if NIGHTLY else 40
FAULTS = ("none", "none", "none", "lost on the way there", "lost on the way back", "to the sign-in", "500", "slow")
MOST_ROUNDS = 40 * ITEMS
SLOW_SECONDS = 0.2

KEEP = """(items) => new Promise((yes, no) => { const asked = indexedDB.open("garlandry", 1);
  asked.onerror = () => no(asked.error);
  asked.onsuccess = () => { const change = asked.result.transaction("enquiries", "readwrite");
    for (const item of items) change.objectStore("enquiries").put(item);
    change.oncomplete = () => { asked.result.close(); yes(); }; }; })"""
LEFT = """() => new Promise((yes, no) => { const asked = indexedDB.open("garlandry", 1);
  asked.onerror = () => no(asked.error);
  asked.onsuccess = () => { const all = asked.result.transaction("enquiries").objectStore("enquiries").getAll();
    all.onsuccess = () => { asked.result.close(); yes(all.result.map((item) => item.fields.name)); };
  }; })"""
NOBODY_SENDS = """async () => { const { held, pending } = await navigator.locks.query();
  return ![...held, ...pending].some((lock) => lock.name === "garlandry-outbox"); }"""
CACHES = "async () => (await caches.keys()).filter((name) => name.startsWith('garlandry-'))"
IN_CHARGE = "() => navigator.serviceWorker.controller?.state === 'activated'"
RENEWED = """async (before) => { const now = (await caches.keys()).filter((name) => name.startsWith('garlandry-'));
  return now.length === 1 && now[0] !== before[0]; }"""
KILLED_IN, STOPPED_IN, UPGRADED_IN = 6, 3, 8
"""The rounds in which a tab is killed, the worker is stopped, and the studio's machine is upgraded."""
NEWER = {
    "studio/static/js/outbox.js": ("const VERSION = 1,", "const VERSION = 2,"),
    "bookings/views/signal.py": ("VERSIONS = {1}", "VERSIONS = {1, 2}"),
}
"""What a version that keeps enquiries in another way has in other words."""

SEND = "() => { window.dispatchEvent(new Event('online')); }"


def seed() -> int:
    """The one asked for; else another each night, and the same by day."""
    asked = os.environ.get("GARLANDRY_SEED")
    return int(asked) if asked else random.SystemRandom().randrange(10**9) if NIGHTLY else 20_261_125


class Weather:
    """Deals a fault to every request for the enquiries' address, and counts which it dealt to what was sent."""

    def __init__(self, chance: random.Random) -> None:
        self.chance = chance
        self.dealt: Counter[str] = Counter()

    def __call__(self, route: Route) -> None:
        """One request."""
        fault = self.chance.choice(FAULTS)
        if route.request.method == "POST":
            self.dealt[fault] += 1
        if fault == "lost on the way there":
            route.abort()
        elif fault == "lost on the way back":
            route.fetch()
            route.abort()
        elif fault == "to the sign-in":
            route.fulfill(status=302, headers={"Location": "/sign-in/"})
        elif fault == "500":
            route.fulfill(status=500, body="down")
        else:
            time.sleep(SLOW_SECONDS if fault == "slow" else 0)
            route.continue_()


def kept_item(name: str, version: int) -> dict[str, Any]:
    """An enquiry as the script of a version keeps it."""
    fields = {"name": name, "wants": "24 ft garland in navy and sand"}
    stamps = {"key": str(uuid.uuid4()), "saved": str(uuid.uuid4()), "typedAt": "2026-06-01T12:00:00Z"}
    return {**stamps, "version": version, "state": "waiting", "fields": fields}


def arrived(server: Server) -> Counter[str]:
    """How often each name became a booking, as the file has it."""
    file = Path(server.environment["GARLANDRY_DEMO_DATA"]) / "garlandry.sqlite3"
    database = sqlite3.connect(f"file:{file}?mode=ro", uri=True)
    try:
        rows = database.execute(
            "SELECT c.name FROM bookings_booking b JOIN bookings_client c ON c.id = b.client_id"
            " WHERE c.name LIKE 'Gale %'"
        )
        return Counter(name for (name,) in rows)
    finally:
        database.close()


def open_tab(phone: BrowserContext, server: Server) -> Page:
    tab: Page = phone.new_page()
    tab.set_default_timeout(60_000)
    tab.goto(f"{server.url}/enquiries/without-signal/")
    return tab


def stop_the_worker(phone: BrowserContext, tab: Page) -> None:
    """As the browser does with one that nobody has asked for a while; the next page starts it again."""
    tab.wait_for_function(IN_CHARGE)
    session = phone.new_cdp_session(tab)
    seen: list[str] = []
    session.on(
        "ServiceWorker.workerVersionUpdated",
        lambda told: seen.extend(one["runningStatus"] for one in told["versions"] if one["status"] == "activated"),
    )
    session.send("ServiceWorker.enable")

    def until(status: str) -> None:
        # Another tab may have started it again by the time it is looked at.
        deadline = time.monotonic() + 60
        while status not in seen:
            assert time.monotonic() < deadline, f"the worker is not {status}: {seen}"
            tab.wait_for_timeout(50)
        del seen[: seen.index(status)]

    # It may be idle already.
    tab.reload()
    until("running")
    session.send("ServiceWorker.stopAllWorkers")
    until("stopped")
    tab.reload()
    until("running")
    session.detach()


@pytest.fixture
def upgraded(tmp_path: Path) -> Path:
    """The code of a later version."""
    code = tmp_path / "later"
    left_out = shutil.ignore_patterns(".*", "tests", "__pycache__")
    shutil.copytree(ROOT, code, ignore=left_out)
    for name, (now, then) in NEWER.items():
        words = (code / name).read_text()
        assert now in words, name
        (code / name).write_text(words.replace(now, then))
    return code


@pytest.fixture
def machine(demo_folder: Path, upgraded: Path) -> Iterator[tuple[Server, Callable[[], None]]]:
    """The studio's machine, and what upgrades it: stopped, and begun again with later code at the same address."""
    environment, log = demo_environment(demo_folder), demo_folder.with_name("log")
    start = contextmanager(serving)
    with ExitStack() as running:
        server = running.enter_context(start("demo", environment, log))
        port = int(server.url.rpartition(":")[2])

        def upgrade() -> None:
            running.pop_all().close()
            running.enter_context(start("demo", environment, log, code=upgraded, port=port))

        yield server, upgrade


def test_nothing_is_lost_doubled_or_left_whatever_the_network_does(
    chromium: Browser, machine: tuple[Server, Callable[[], None]]
) -> None:
    server, upgrade = machine
    chosen = seed()
    print(f"GARLANDRY_SEED={chosen}")
    chance = random.Random(chosen)
    phone = chromium.new_context()
    sign_in(phone.new_page(), server, "mo", "tern-and-tide")
    weather = Weather(chance)
    tabs = [open_tab(phone, server) for _ in range(3)]
    phone.route("**/enquiries/kept/", weather)
    names = [f"Gale {number}" for number in range(ITEMS)]
    # They come in thirds: others are on their way while new ones are kept. The last come as the later version keeps
    # them, and those before them as the version did that is gone by the time they are sent.
    thirds = [[kept_item(name, 2 if n == 0 else 1) for name in names[n::3]] for n in range(3)]

    left = [""]
    for round_ in range(MOST_ROUNDS):
        if round_ in (0, UPGRADED_IN, UPGRADED_IN + 2):
            tabs[-1].evaluate(KEEP, thirds.pop())
        if round_ == STOPPED_IN:
            stop_the_worker(phone, tabs[1])
        if round_ == UPGRADED_IN:
            # One tab is read anew, and the other goes on with the old scripts.
            assert tabs[0].evaluate(LEFT), "nothing waits for the upgrade"
            before = tabs[0].evaluate(CACHES)
            upgrade()
            tabs[0].reload()
            tabs[0].wait_for_function(RENEWED, arg=before)
        if round_ == KILLED_IN:
            # Killed while it sends.
            tabs[0].evaluate(SEND)
            tabs.pop(0).close()
        for tab in tabs:
            tab.evaluate(SEND)
        tabs[0].wait_for_function(NOBODY_SENDS)
        left = tabs[0].evaluate(LEFT)
        if not left and not thirds:
            break

    found = arrived(server)
    assert left == [], chosen
    assert {name: found[name] for name in names if found[name] != 1} == {}, chosen
    assert sum(found.values()) == ITEMS, chosen
    assert set(weather.dealt) == set(FAULTS), (chosen, weather.dealt)
    phone.close()
