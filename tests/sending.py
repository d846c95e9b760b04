"""Letters as a person sends them from a job, and as they arrive."""

import datetime as dt
import uuid

from django.test import Client as Browser
from django.urls import reverse
from django.utils import timezone

from bookings.models import Quote
from studio.outbox.queue import Passed, send_waiting
from tests.factories import token_of
from tests.mailbox import Mailbox, Received

HERE = "http://testserver"


def go() -> Passed:
    return send_waiting(now=lambda: timezone.now() + dt.timedelta(seconds=1))


def link_to(quote: Quote) -> str:
    return f"{HERE}{reverse('bookings:client', args=[token_of(quote)])}"


def write_path(quote: Quote, purpose: str) -> str:
    return reverse("bookings:letter-write", args=[quote.booking_id, purpose])


def sent_from(browser: Browser, path: str, **changes: str):
    """Send the letter as the page offers it, with these fields changed."""
    page = browser.get(path)
    assert page.status_code == 200, page.headers
    form = page.context["form"]
    typed = {name: form.initial[name] for name in ("to", "subject", "text")} | {"form_key": str(uuid.uuid4())}
    return browser.post(path, typed | changes)


def only(box: Mailbox) -> Received:
    (found,) = box.received
    return found


def accept(quote: Quote) -> None:
    """The client's yes, on their own page."""
    answer = Browser().post(
        reverse("bookings:client-accept", args=[token_of(quote)]),
        {"name": "Ines Vale", "agreed": "on", "form_key": str(uuid.uuid4())},
    )
    assert answer.status_code == 302, answer.content.decode()
