"""Starting, answering, stopping."""

import re
import signal
import stat
from collections.abc import Iterator

import pytest
from django.core.management import CommandError, call_command

from tests.live import Server, running


@pytest.fixture(scope="module")
def server(tmp_path_factory) -> Iterator[Server]:
    """One that has just been started for the first time."""
    with running(tmp_path_factory.mktemp("serve")) as started:
        yield started


def test_a_first_start_makes_a_database_and_asks_to_be_set_up(server):
    answer = server.visitor().ask("/sign-in/")

    assert (answer.status, answer.headers["Location"]) == (302, "/welcome/")
    assert (server.folder / "garlandry.sqlite3").exists()


def test_files_are_named_by_what_is_in_them_and_kept_for_ever(server):
    page = server.visitor().ask("/welcome/").body
    (sheet,) = re.findall(r'href="(/static/css/garlandry\.[0-9a-f]{12}\.css)"', page)
    answer = server.visitor().ask(sheet)

    assert answer.status == 200
    assert "immutable" in answer.headers["Cache-Control"]


def test_every_file_a_page_asks_for_is_there(server):
    page = server.visitor().ask("/welcome/").body
    files = re.findall(r'(?:href|src)="(/static/[^"]+)"', page)

    assert any("htmx" in name for name in files)
    assert {name: server.visitor().ask(name).status for name in files} == dict.fromkeys(files, 200)


def test_what_it_keeps_only_its_owner_can_read(server):
    assert stat.S_IMODE(server.folder.stat().st_mode) == 0o700
    for name in ["secret.key", "link.key", "garlandry.sqlite3"]:
        assert stat.S_IMODE((server.folder / name).stat().st_mode) == 0o600


def test_a_link_that_was_followed_is_written_nowhere(server):
    assert server.visitor().ask("/q/a-token-nobody-may-read/").status == 404

    assert "a-token-nobody-may-read" not in server.said.read_text()


def test_it_says_where_it_is_and_nothing_else(server):
    first, *rest = server.said.read_text().splitlines()
    assert first == f"Garlandry is at {server.base}/ (Ctrl-C stops it)."
    # Other tests ask it for pages that are not there; an access log would tell of those that are.
    assert [line for line in rest if not line.startswith("Not Found: ")] == []


def test_it_stops_when_told_and_starts_again_on_what_it_kept(tmp_path, migrated):
    with running(tmp_path, migrated) as first:
        first.visitor().set_up()
        assert first.stop(signal.SIGINT) == 0
        assert not first.is_listening()
        assert "Traceback" not in first.said.read_text()
    with running(tmp_path) as second:
        assert second.visitor().ask("/welcome/").status == 404
        assert second.visitor().ask("/sign-in/").status == 200
        assert second.stop(signal.SIGTERM) == 0
        assert not second.is_listening()
        assert "Traceback" not in second.said.read_text()


@pytest.mark.parametrize("port", ["http", "0", "65536", "-1"])
def test_a_port_that_is_none_is_refused_by_name(port):
    with pytest.raises(CommandError, match=re.escape(f"a port is a number from 1 to 65535 (got '{port}')")):
        call_command("serve", f"--port={port}")
