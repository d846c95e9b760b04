"""Writes one movement after the other until it is killed; a program of its own, told what to do on its standard input.

Each line of the input is the key of an item. A child begins to receive one of it, again and again, and says the key of
every movement once it is committed: "began PID", "kept KEY", … Its parent says "ended" when it is gone.
"""

import os
import sys

import django

django.setup()

from django.utils import timezone  # noqa: E402

from stock import actions  # noqa: E402
from stock.models import Item  # noqa: E402
from studio.models import User  # noqa: E402


def say(word: str) -> None:
    """One line, written whole: what is acknowledged can no longer be taken back."""
    os.write(1, f"{word}\n".encode())


def write_for_ever(key: int) -> None:
    """Receive one, say so, and again."""
    item, by = Item.objects.get(pk=key), User.objects.order_by("pk")[0]
    say(f"began {os.getpid()}")
    while True:
        say(f"kept {actions.receive(item=item, quantity=1, by=by, at=timezone.now()).pk}")


for line in sys.stdin:
    child = os.fork()
    if child == 0:
        write_for_ever(int(line))
    os.waitpid(child, 0)
    say("ended")
