"""Enquiries that wait on a phone with three tabs, one of them killed, while most of what can go wrong goes wrong.

Which fault meets which request follows from a seed that is printed: GARLANDRY_SEED takes it again. By night there are
more of them, from another seed each time.
"""

import os
import random
import sqlite3
import time
import uuid
from collections import Counter
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, Route

from tests.journeys.conftest import Server, sign_in

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


def kept_item(name: str) -> dict[str, Any]:
    """An enquiry as the script keeps it."""
    fields = {"name": name, "wants": "24 ft garland in navy and sand"}
    stamps = {"key": str(uuid.uuid4()), "saved": str(uuid.uuid4()), "typedAt": "2026-06-01T12:00:00Z"}
    return {**stamps, "version": 1, "state": "waiting", "fields": fields}


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


def open_tab(phone: Any, server: Server) -> Page:
    tab: Page = phone.new_page()
    tab.set_default_timeout(60_000)
    tab.goto(f"{server.url}/enquiries/without-signal/")
    return tab


def test_nothing_is_lost_doubled_or_left_whatever_the_network_does(chromium: Browser, demo_studio: Server) -> None:
    chosen = seed()
    print(f"GARLANDRY_SEED={chosen}")
    chance = random.Random(chosen)
    phone = chromium.new_context()
    sign_in(phone.new_page(), demo_studio, "mo", "tern-and-tide")
    weather = Weather(chance)
    tabs = [open_tab(phone, demo_studio) for _ in range(3)]
    phone.route("**/enquiries/kept/", weather)
    names = [f"Gale {number}" for number in range(ITEMS)]
    waiting = [kept_item(name) for name in names]
    # They come in thirds: others are on their way while new ones are kept.
    thirds = [waiting[n::3] for n in range(3)]

    left = [""]
    for round_ in range(MOST_ROUNDS):
        if round_ % 4 == 0 and thirds:
            tabs[-1].evaluate(KEEP, thirds.pop())
        if round_ == 6:
            # Killed while it sends.
            tabs[0].evaluate(SEND)
            tabs.pop(0).close()
        for tab in tabs:
            tab.evaluate(SEND)
        tabs[0].wait_for_function(NOBODY_SENDS)
        left = tabs[0].evaluate(LEFT)
        if not left and not thirds and round_ > 6:
            break

    found = arrived(demo_studio)
    assert left == [], chosen
    assert {name: found[name] for name in names if found[name] != 1} == {}, chosen
    assert sum(found.values()) == ITEMS, chosen
    assert set(weather.dealt) == set(FAULTS), (chosen, weather.dealt)
    phone.close()
