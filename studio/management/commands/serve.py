"""`manage.py serve`: answer requests."""

import argparse

from django.core.management.base import BaseCommand, CommandParser

from studio.serving import serve


def port_number(text: str) -> int:
    """A port somebody typed; refused by name when it is none."""
    if not text.isdecimal() or not 1 <= int(text) <= 65535:
        raise argparse.ArgumentTypeError(f"a port is a number from 1 to 65535 (got {text!r})")
    return int(text)


class Command(BaseCommand):
    help = "Bring the database up to date, then serve Garlandry until stopped with Ctrl-C."

    def add_arguments(self, parser: CommandParser) -> None:
        """Where to listen."""
        parser.add_argument("--host", default="127.0.0.1", help="address to listen on (default %(default)s)")
        parser.add_argument("--port", type=port_number, default=8000, help="port to listen on (default %(default)s)")

    def handle(self, *args: object, **options: object) -> None:
        """Serve."""
        serve(str(options["host"]), int(str(options["port"])))
