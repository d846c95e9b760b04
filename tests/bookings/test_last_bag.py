"""Thirty-two clients say yes to the last bag at one moment, at a real server."""

import json
import os
import subprocess
import sys
import threading

from tests.live import ROOT, Answer, Server, running

CLIENTS = 32
BAG, EACH = 100, 30
"""One bag on the shelf, and what each of the clients is promised out of it."""

MAKE = f"""
import datetime as dt
from django.utils import timezone
from tests.factories import *
from bookings.models import Booking
today = timezone.localdate()
item = MovementFactory(quantity={BAG}).item
tokens = []
for n in range({CLIENTS}):
    event = today + dt.timedelta(days=20 + n % 5)
    booking = BookingFactory(stage=Booking.Stage.QUOTED, event_on=event, title=f"Job {{n}}")
    quote = QuoteFactory(booking=booking, needed_on=event, valid_until=today + dt.timedelta(days=9))
    QuotePieceFactory(quote=quote, position=0)
    QuoteMaterialFactory(quote=quote, item=item, needed={EACH}, spares=0)
    tokens.append(token_of(quote))
print(json.dumps(tokens))
"""
LOOK = """
from django.utils import timezone
from bookings.models import Acceptance, AmountDue, Booking
from stock.models import Reservation
from stock.queries import cover_board
(row,) = cover_board(timezone.localdate()).rows
held = list(Reservation.objects.open().firm().order_by("pk").values_list("booking", "quantity"))
print(json.dumps({
    "held": held,
    "short": {hit.booking: hit.short for hit in row.cover.hit},
    "booked": Booking.objects.filter(stage="booked").count(),
    "accepted": Acceptance.objects.count(),
    "due": AmountDue.objects.filter(void_at=None, kind="deposit").count(),
}))
"""


def in_the_studio(server: Server, code: str):
    """What a few lines of Python print, run beside the server on its database."""
    settled = {
        "GARLANDRY_DATA": str(server.folder),
        "GARLANDRY_DEBUG": "0",
        "GARLANDRY_HTTPS": "0",
        "DJANGO_SETTINGS_MODULE": "studio.settings",
        "PYTHONPATH": str(ROOT),
    }
    begin = "import json, django; django.setup()\n"
    done = subprocess.run(
        [sys.executable, "-c", begin + code], env=os.environ | settled, cwd=ROOT, capture_output=True, text=True
    )
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout.splitlines()[-1])


def say_yes(server: Server, token: str, start: threading.Barrier, answers: dict[str, list[Answer]]) -> None:
    """One client opens the page, waits for the others, and presses twice."""
    client = server.visitor()
    typed = client.fill_in(f"/q/{token}/", {"name": "A client", "agreed": "on"})
    start.wait(timeout=120)
    answers[token] = [client.ask(f"/q/{token}/accept/", typed) for _ in range(2)]


def test_thirty_two_yeses_to_the_last_bag_are_all_kept_and_what_is_missing_is_said(tmp_path, migrated):
    with running(tmp_path, migrated) as server:
        server.visitor().set_up()
        tokens: list[str] = in_the_studio(server, MAKE)
        start, answers = threading.Barrier(CLIENTS), dict[str, list[Answer]]()
        clients = [threading.Thread(target=say_yes, args=(server, token, start, answers)) for token in tokens]
        for client in clients:
            client.start()
        for client in clients:
            client.join(timeout=240)
        found = in_the_studio(server, LOOK)

    assert {answer.status for both in answers.values() for answer in both} == {302}
    assert len(answers) == CLIENTS
    # None lost, none doubled.
    assert (found["accepted"], found["booked"], found["due"]) == (CLIENTS,) * 3
    assert len({booking for booking, _ in found["held"]}) == CLIENTS
    assert {quantity for _, quantity in found["held"]} == {EACH}
    # Whoever was promised first keeps theirs; everybody beyond the bag is said to go without.
    left, short = BAG, {}
    for booking, wanted in found["held"]:
        served = min(wanted, left)
        left -= served
        if wanted > served:
            short[str(booking)] = wanted - served
    assert found["short"] == short
    assert sum(short.values()) == CLIENTS * EACH - BAG
