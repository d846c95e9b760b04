"""`manage.py digest`: the week in plain sentences, for a Monday morning."""

import json
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.utils import timezone

from studio.digest import as_json, digest, mail_digest, sentences
from studio.models import Studio


class Command(BaseCommand):
    """What is this week?"""

    help = (
        "Say what the week brings: what runs short, questions nobody answered, days with too much on them, who cannot "
        "be where they should, kit promised too often, orders due or still to be placed, the prep of each day, jobs "
        "coming up and just over, money due, and who waits for an answer. It is for owners: amounts are told. --mail "
        "writes it to them as well, once a day however often it is asked. Exits with 0, with 1 when it could be "
        "mailed to nobody, 2 when asked wrongly. --json prints one object: today, until (days), currency, and lists: "
        "short (item, label, short_on, short_by, order_by, sentence), full (day, sentence), cannot_go (person, day, "
        "bookings, sentence), questions (question, booking, text, asked_at), kit (kit, from, sentence), orders "
        "(order, supplier, due_on, to_come, late), to_place (order, supplier, lines), prep (day, minutes, jobs with "
        "booking and minutes), coming (booking, title, event_on, prep_on, short), over (booking, sentence), money "
        "(booking, client, due, late, since; in minor units) and waiting (booking, quote, title, note, word)."
    )

    def add_arguments(self, parser: CommandParser) -> None:
        """What can be asked for."""
        parser.add_argument("--json", action="store_true", help="print JSON and nothing else")
        parser.add_argument("--mail", action="store_true", help="mail it to the owners too")
        # Taken off the line by manage.py before the settings are read; listed here for --help.
        parser.add_argument("--demo", action="store_true", help="look at the demo studio instead of yours")

    def handle(self, *args: Any, **options: Any) -> None:
        """Print the week from today on, in the studio's own zone."""
        studio = Studio.objects.current()
        with timezone.override(studio.zone):
            found = digest(timezone.localdate(), studio=studio)
            mailed = mail_digest(found, at=timezone.now()) if options["mail"] else []
            if options["json"]:
                self.stdout.write(json.dumps(as_json(found), ensure_ascii=False, indent=2))
            else:
                self.stdout.write("\n".join(sentences(found)))
            for letter in mailed:
                self.stderr.write(f"To {letter.to_address}: {letter.get_state_display()}.")
            if options["mail"] and not mailed:
                raise CommandError("It was mailed to nobody: neither an owner nor the studio has an e-mail address.")
