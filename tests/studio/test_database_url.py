"""DATABASE_URL chooses where the books are kept, and says what is wrong with it without telling a password."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from studio.database import AddressError, postgresql_at, sqlite_in

ROOT = Path(__file__).resolve().parents[2]


@pytest.mark.parametrize(
    ("address", "name", "user", "password", "host", "port"),
    [
        pytest.param("postgres://ana:pw@db.example:5433/studio", "studio", "ana", "pw", "db.example", "5433", id="all"),
        pytest.param("postgresql://ana@db.example/studio", "studio", "ana", "", "db.example", "", id="also-postgresql"),
        pytest.param("postgres:///studio", "studio", "", "", "", "", id="a-socket-in-its-usual-place"),
        pytest.param("postgres://ana@%2Frun%2FPg/studio", "studio", "ana", "", "/run/Pg", "", id="a-socket-elsewhere"),
        pytest.param(
            "postgres://a%40b:p%3A%2F%40%25@h/s%20t", "s t", "a@b", "p:/@%", "h", "", id="percent-encoded-parts"
        ),
        pytest.param("postgres://a:p:q@h/s", "s", "a", "p:q", "h", "", id="a-colon-in-the-password"),
    ],
)
def test_an_address_is_taken_apart(address, name, user, password, host, port):
    found = postgresql_at(address)

    assert found["ENGINE"] == "django.db.backends.postgresql"
    assert [found[part] for part in ("NAME", "USER", "PASSWORD", "HOST", "PORT")] == [name, user, password, host, port]


def test_what_follows_the_question_mark_is_taken_over():
    options = postgresql_at("postgres://h/s?sslmode=verify-full&pool=40")["OPTIONS"]

    assert (options["sslmode"], options["pool"]["max_size"]) == ("verify-full", 40)


def test_without_one_there_are_connections_for_every_thread_of_the_server():
    assert postgresql_at("postgres://h/s")["OPTIONS"]["pool"]["max_size"] >= 8


@pytest.mark.parametrize(
    ("address", "sentence"),
    [
        pytest.param("mysql://a:tulips@h/s", "must begin with postgres:// .*got 'mysql'", id="another-scheme"),
        pytest.param("a:tulips@h/s", "must begin with postgres:// .*got something else", id="no-scheme"),
        pytest.param("postgres://a:tulips@h", "must end in the name of one database.*got ''", id="no-name"),
        pytest.param("postgres://a:tulips@h/s/t", "name of one database.*got 's/t'", id="two-names"),
        pytest.param("postgres://a:tulips@h:70000/s", "port must be a number from 1 to 65535.*'70000'", id="far-port"),
        pytest.param("postgres://a:tulips@h:five/s", "port must be a number", id="a-port-in-words"),
        pytest.param("postgres://a:tulips/s", "port must be a number", id="no-host"),
        pytest.param("postgres://a:tu/lips@h/s", "must be written %40 %2F", id="a-slash-in-the-password"),
        pytest.param("postgres://a:tu?lips@h/s", "must be written %40 %2F", id="a-question-mark-in-the-password"),
        pytest.param("postgres://a:tu/li?ps@h/s", "must be written %40 %2F", id="both-in-the-password"),
        pytest.param("postgres://a:tulips@h/s?host=x", "sslmode and pool after its .*got 'host'", id="unknown-word"),
        pytest.param("postgres://a:tulips@h/s?sslmode=on", "sslmode must be one of .*got 'on'", id="unknown-mode"),
        pytest.param("postgres://a:tulips@h/s?pool=0", "pool must be a number of .*got '0'", id="no-connections"),
    ],
)
def test_a_wrong_address_is_refused_by_name_and_rule_and_without_its_password(address, sentence):
    with pytest.raises(AddressError, match=f"^DATABASE_URL.*{sentence}") as refusal:
        postgresql_at(address)
    assert not any(part in str(refusal.value) for part in ("tulips", "lips", "tu/", "tu?"))


def asked(what: str, tmp_path: Path, **environment: str) -> "subprocess.CompletedProcess[str]":
    """A fresh Python that reads the settings, and prints something of them."""
    ours = {"GARLANDRY_DATA": str(tmp_path), "GARLANDRY_DEMO_DATA": str(tmp_path / "demo")} | environment
    return subprocess.run(
        [sys.executable, "-c", f"from studio import settings; print({what})"],
        cwd=ROOT,
        env=os.environ | ours,
        capture_output=True,
        text=True,
        timeout=60,
    )


@pytest.mark.parametrize(
    ("environment", "engine"),
    [
        pytest.param({"DATABASE_URL": ""}, "studio.sqlite_backend", id="empty"),
        pytest.param({"DATABASE_URL": "postgres://h/s"}, "django.db.backends.postgresql", id="an-address"),
        pytest.param(
            {"DATABASE_URL": "postgres://h/s", "GARLANDRY_DEMO": "1"}, "studio.sqlite_backend", id="never-for-demo"
        ),
    ],
)
def test_the_settings_take_the_address_from_the_environment(tmp_path, environment, engine):
    answer = asked("settings.DATABASES['default']['ENGINE']", tmp_path, **environment)

    assert answer.stdout.strip() == engine, answer.stderr


def test_a_wrong_address_stops_the_program_without_its_password(tmp_path):
    answer = asked("'started'", tmp_path, DATABASE_URL="postgres://ana:tulips@h:99999/s")

    assert "DATABASE_URL: the port must be a number from 1 to 65535 (got '99999')." in answer.stderr
    assert (answer.returncode, "tulips" in answer.stderr, answer.stdout) == (1, False, "")


def test_a_file_is_opened_so_that_a_commit_survives_a_power_cut(tmp_path):
    found = sqlite_in(tmp_path / "books.sqlite3")

    assert found["OPTIONS"]["transaction_mode"] == "IMMEDIATE"
    assert "synchronous=FULL" in found["OPTIONS"]["init_command"]
