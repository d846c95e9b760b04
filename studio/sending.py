"""Sending letters from the roof: first the reminders whose day has come, then everything that waits."""

from django.utils import timezone

from bookings.actions.letters import post_due_reminders
from studio.outbox import background
from studio.outbox.queue import Passed, send_waiting


def send_due() -> Passed:
    """One pass: what is due by itself is written, then what waits is sent."""
    post_due_reminders(at=timezone.now())
    return send_waiting(now=timezone.now)


def start_sending() -> None:
    """Send from a thread of this process for as long as it runs."""
    background.start(send_due)
