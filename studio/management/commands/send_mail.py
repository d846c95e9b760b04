"""`manage.py send_mail`: send the letters that wait."""

import json
import time
from dataclasses import asdict

from django.conf import settings
from django.core.management.base import BaseCommand, CommandParser
from django.db import connection

from studio.outbox.background import REST_SECONDS
from studio.outbox.queue import Passed
from studio.sending import send_due


class Command(BaseCommand):
    help = (
        "Write the reminders whose day has come, and send the letters that wait. While `serve` runs it does so itself; "
        "this is for a timer beside another web server. Two at once send nothing twice."
    )

    def add_arguments(self, parser: CommandParser) -> None:
        """Once, or for as long as it is let."""
        parser.add_argument("--watch", action="store_true", help=f"go on, every {REST_SECONDS} seconds, until Ctrl-C")
        parser.add_argument("--json", action="store_true", help="the figures of each pass as one line of JSON")

    def handle(self, *args: object, **options: object) -> None:
        """Pass over the queue."""
        try:
            while True:
                self.stdout.write(self._said(send_due(), as_json=bool(options["json"])))
                if not options["watch"]:
                    return
                connection.close()
                time.sleep(REST_SECONDS)
        except KeyboardInterrupt:
            return

    def _said(self, passed: Passed, *, as_json: bool) -> str:
        if as_json:
            return json.dumps(asdict(passed) | {"server": settings.MAIL_SERVER is not None})
        if settings.MAIL_SERVER is None and not settings.DEMO:
            return "No mail server is set, so nothing is sent: name one in GARLANDRY_SMTP_HOST."
        later = f" {passed.later} will be tried again." if passed.later else ""
        failed = f" {passed.failed} could not be sent: its booking says why." if passed.failed else ""
        letters = "letter was" if passed.sent == 1 else "letters were"
        return f"{passed.sent or 'No'} {letters} sent.{later}{failed}"
