"""What the program that answers pages has loaded once it has answered: neither what sets paper nor what solves."""

import json
import os
import subprocess
import sys
from pathlib import Path

from django.conf import settings as django_settings
from django.db import transaction
from django.test import Client as Browser
from django.urls import reverse

from tests.databases import fresh_database
from tests.every_route import furnished

ROOT = Path(__file__).resolve().parents[2]
HEAVY = ("weasyprint", "highspy", "openpyxl", "icalendar")
ANSWER = """
import json, sys
from studio.wsgi import application
from django.test import RequestFactory

def status_of(address):
    said = []
    environ = RequestFactory(headers={"cookie": sys.argv[1]}).get(address).environ
    answer = application(environ, lambda status, headers, *_: said.append(status))
    b"".join(answer)
    answer.close()
    return said[0]

found = {address: status_of(address) for address in sys.argv[3:]}
print(json.dumps({"answers": found, "loaded": [name for name in sys.argv[2].split() if name in sys.modules]}))
"""


def test_pages_and_papers_are_answered_without_the_engine_or_the_solver(tmp_path, migrated, django_db_blocker):
    with fresh_database(tmp_path, migrated, django_db_blocker) as environment:
        with transaction.atomic():
            things = furnished()
        browser = Browser()
        browser.force_login(things.owner)
        cookie = f"{django_settings.SESSION_COOKIE_NAME}={browser.cookies[django_settings.SESSION_COOKIE_NAME].value}"
        named = things.sets[2]
        addresses = [reverse(name) for name in ("week", "bookings:list", "bookings:calendar", "stock:cover")]
        addresses += [
            reverse(name, args=[named["booking_id"]])
            for name in ("bookings:detail", "bookings:run-sheet", "bookings:run-sheet-pdf")
        ]
        addresses += [reverse(name, args=[named["token"]]) for name in ("bookings:client", "bookings:client-pdf")]
        ours = {"GARLANDRY_SECRET_KEY": django_settings.SECRET_KEY, "GARLANDRY_LINK_KEY": django_settings.LINK_KEY}
        ours |= {"GARLANDRY_REDIRECT_TO_HTTPS": "0", "GARLANDRY_DEMO": "0"}
        answer = subprocess.run(
            [sys.executable, "-c", ANSWER, cookie, " ".join(HEAVY), *addresses],
            cwd=ROOT,
            env=os.environ | environment | ours,
            capture_output=True,
            text=True,
            timeout=120,
        )
    assert answer.returncode == 0, answer.stderr
    told = json.loads(answer.stdout)
    assert set(told["answers"].values()) == {"200 OK"}, told["answers"]
    assert told["loaded"] == []
