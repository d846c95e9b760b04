"""What must hold before anything is kept, and of what is kept."""

import pytest
from django.apps import apps
from django.core.checks import Tags, run_checks
from django.db import connection, models

from studio import checks

OURS = ["studio", "stock", "estimating", "bookings"]


def problems() -> list[str | None]:
    """The ids of what the check of the database finds."""
    return [message.id for message in checks.sqlite_keeps_what_it_is_given(None, databases=["default"])]


@pytest.mark.parametrize(
    "version",
    [pytest.param((3, 40, 1), id="debian-12"), pytest.param((3, 51, 2), id="the-last-with-the-fault")],
)
def test_an_sqlite_that_can_corrupt_the_file_is_refused(monkeypatch, version):
    monkeypatch.setattr(checks.sqlite3, "sqlite_version_info", version)
    monkeypatch.setattr(checks.sqlite3, "sqlite_version", ".".join(map(str, version)))
    (problem,) = checks.sqlite_keeps_what_it_is_given(None, databases=["default"])

    assert problem.id == "studio.E001"
    assert problem.msg.startswith(f"SQLite {'.'.join(map(str, version))} can corrupt the database")
    assert problem.is_serious()


@pytest.mark.sqlite
def test_the_check_runs_with_every_other_check_of_the_database(db, monkeypatch):
    monkeypatch.setattr(checks.sqlite3, "sqlite_version_info", (3, 40, 1))

    assert "studio.E001" in [message.id for message in run_checks(tags=[Tags.database], databases=["default"])]


def test_the_sqlite_in_use_is_a_safe_one():
    assert problems() == []


def test_an_old_sqlite_is_safe_without_the_write_ahead_log(monkeypatch):
    monkeypatch.setattr(checks.sqlite3, "sqlite_version_info", (3, 40, 1))
    options = {"init_command": "PRAGMA journal_mode = TRUNCATE; PRAGMA synchronous=FULL;"}
    monkeypatch.setitem(connection.settings_dict, "OPTIONS", options)

    assert problems() == []


def our_fields() -> list[models.Field]:
    """Every column of every table of ours."""
    return [
        field
        for label in OURS
        for model in apps.get_app_config(label).get_models()
        for field in model._meta.get_fields()
        if field.concrete
    ]


def test_nothing_is_kept_as_a_float():
    assert [str(field) for field in our_fields() if isinstance(field, models.FloatField)] == []


COUNTED = ("quantity", "packs", "pack_size", "received", "balloons", "needed", "spares", "keep_back")


def test_amounts_and_quantities_are_whole_numbers():
    whole = [field for field in our_fields() if field.name.endswith("_minor") or field.name in COUNTED]

    assert len(whole) > 20
    assert [str(field) for field in whole if not isinstance(field, models.IntegerField)] == []
