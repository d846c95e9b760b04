"""Letters as they go: from a real server to a real mail server, and how they look when they are opened."""

import time
import uuid
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser

from bookings.letters import FIELDS, PURPOSES, fill
from studio.models import OutgoingMail, Studio
from studio.outbox import links
from studio.outbox.queue import html_of
from tests.databases import Migrated
from tests.live import running
from tests.mailbox import Mailbox, mail_server


def wait_for(box: Mailbox, count: int) -> None:
    give_up = time.monotonic() + 90
    while len(box.received) < count:
        assert time.monotonic() < give_up, f"{len(box.received)} of {count} letters arrived"
        time.sleep(0.1)


def test_a_letter_goes_from_a_running_server_without_anybody_waiting(tmp_path: Path, migrated: Migrated):
    with mail_server() as box:
        smtp = {"HOST": "127.0.0.1", "PORT": str(box.port), "TLS": "none", "FROM": "studio@ternandtide.example"}
        environment = {f"GARLANDRY_SMTP_{name}": value for name, value in smtp.items()}
        with running(tmp_path, migrated, **environment) as server:
            mara = server.visitor()
            mara.set_up()
            asked = {"name": "Ines Vale", "email": "ines@example.org", "wants": "a garland"}
            path = mara.ask("/enquiries/new/", mara.fill_in("/enquiries/new/", asked)).headers["Location"]
            written = f"{path}mail/thanks/"
            typed = {"to": "ines@example.org", "subject": "Thank you", "text": "It was a pleasure."}
            answer = mara.ask(written, mara.fill_in(written, typed) | {"form_key": str(uuid.uuid4())})
            assert answer.status == 302, answer.body
            wait_for(box, 1)
            assert "Thank you" in mara.ask(path).body
            assert server.stop() == 0
        assert [found.recipients for found in box.received] == [["ines@example.org"]]
        assert "ines@example.org" not in server.said.read_text()


LONG = {"client": "Maximiliana-Theodora von und zu Hohenlohe-Waldenburg", "title": "W" * 60, "place": "P" * 90}


@pytest.mark.browser
@pytest.mark.parametrize("width", [360, 1280])
@pytest.mark.parametrize("name", PURPOSES)
def test_a_letter_opened_is_readable_at_any_width(db, chromium: Browser, monkeypatch, name, width):
    monkeypatch.setitem(links._makers, "page", lambda of: f"/q/{'T' * 32}/")
    Studio.objects.create(pk=1, name="Tern & Tide Balloons")
    kind = PURPOSES[name]
    values = {field: said for field, (_, said) in FIELDS.items() if field != "link"} | LONG
    mail = OutgoingMail(
        subject=fill(kind.subject, values),
        text=fill(kind.text, values),
        from_name="Tern & Tide Balloons",
        button=kind.button,
        link_name="page:1" if kind.button else "",
        base="https://a-long-name-of-a-studio.garlandry.example",
    )
    page = chromium.new_page(viewport={"width": width, "height": 900})
    try:
        page.set_content(html_of(mail))
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        button = page.get_by_role("link", name=kind.button) if kind.button else None
        if button is not None:
            box = button.bounding_box()
            assert box is not None
            assert box["height"] >= 48
        assert "{" not in page.inner_text("body")
        wrong = [
            one["id"] for one in Axe().run(page, options={"runOnly": ["wcag2a", "wcag2aa"]}).response["violations"]
        ]
        assert wrong == []
    finally:
        page.close()
