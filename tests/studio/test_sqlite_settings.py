"""Every connection keeps what it is given, wherever it is opened: a request, a command, a thread."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent.parent

# Run by a fresh Python on a database in a file: the tests' own database lives in memory, where there is no log.
ASK = """
import json, sys, threading
import django
django.setup()
from django.core.management import BaseCommand, call_command
from django.db import connection
from django.http import JsonResponse
from django.conf import settings
from django.test import Client
from django.urls import path
from studio.access import anyone

def pragmas():
    with connection.cursor() as cursor:
        answer = {}
        for name in ["journal_mode", "synchronous", "foreign_keys", "busy_timeout"]:
            answer[name] = cursor.execute(f"PRAGMA {name}").fetchone()[0]
    answer["begins"] = connection.transaction_mode
    return answer

@anyone
def view(request):
    return JsonResponse(pragmas())

urlpatterns = [path("pragmas/", view)]
settings.ROOT_URLCONF = "__main__"

class Command(BaseCommand):
    def handle(self, *args, **options):
        found.update(pragmas())

found = {}
if sys.argv[1] == "request":
    found = Client().get("/pragmas/").json()
elif sys.argv[1] == "command":
    call_command(Command())
else:
    thread = threading.Thread(target=lambda: found.update(pragmas()))
    thread.start()
    thread.join()
print(json.dumps(found))
"""


@pytest.mark.parametrize("where", ["request", "command", "thread"])
def test_a_commit_survives_a_power_cut_and_a_writer_takes_its_place_in_the_queue(tmp_path, migrated, where):
    migrated.copied_to(tmp_path)
    ours = {"DJANGO_SETTINGS_MODULE": "studio.settings", "GARLANDRY_DATA": str(tmp_path), "GARLANDRY_HTTPS": "0"}
    ours["DATABASE_URL"] = ""
    answer = subprocess.run(
        [sys.executable, "-c", ASK, where], cwd=ROOT, env=os.environ | ours, capture_output=True, text=True, timeout=120
    )

    assert answer.returncode == 0, answer.stderr
    assert json.loads(answer.stdout) == {
        "journal_mode": "wal",
        "synchronous": 2,
        "foreign_keys": 1,
        "busy_timeout": 20_000,
        "begins": "IMMEDIATE",
    }
    assert (tmp_path / "garlandry.sqlite3").exists()
