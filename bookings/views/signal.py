"""What a phone needs to write down an enquiry without signal, and to hand it over afterwards."""

import hashlib
import json
import uuid
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.conf import settings
from django.contrib import messages
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.middleware.csrf import get_token
from django.shortcuts import render
from django.template.loader import render_to_string
from django.templatetags.static import static
from django.urls import reverse
from django.utils import timezone
from django.utils.dateparse import parse_datetime
from django.views.decorators.http import require_GET, require_http_methods

from bookings.actions import ClientIsGone
from bookings.actions.kept import log_kept_enquiry
from bookings.forms import EnquiryForm
from bookings.forms.clients import WhoForm
from bookings.queries.clients import known_again
from studio.access import StudioRequest, anyone, owner_and_crew
from studio.once import AnsweredOtherwise, act_once

VERSIONS = {1}
"""The ways of keeping an enquiry that are understood: this one and, when there are more, the two before it."""
LARGEST = 65_536

FILES = (
    "css/garlandry.css",
    "js/outbox.js",
    "icons/disc.svg",
    "fonts/atkinson-hyperlegible-next-latin.woff2",
    "fonts/bricolage-grotesque-latin.woff2",
)


class Unreadable(ValueError):
    """What was sent is no kept enquiry: the sentence says what is wrong with it."""


@dataclass(frozen=True)
class Kept:
    """An enquiry as a phone kept it."""

    key: uuid.UUID
    version: int
    typed_at: datetime
    fields: dict[str, str]
    live: bool

    @property
    def digest(self) -> str:
        """What it says, so that the same key with other words is noticed."""
        return hashlib.sha256(json.dumps(["enquiry kept", sorted(self.fields.items())]).encode()).hexdigest()


def kept_in(body: bytes) -> Kept:
    """The kept enquiry in a request. Raises `Unreadable`."""
    if len(body) > LARGEST:
        raise Unreadable(f"A kept enquiry is at most {LARGEST:,} bytes; this one has {len(body):,}.")
    try:
        sent: Any = json.loads(body)
        fields = {name: value for name, value in sent["fields"].items() if isinstance(value, str)}
        typed_at = parse_datetime(sent["typed_at"])
        kept = Kept(
            uuid.UUID(sent["key"]), int(sent["version"]), typed_at or timezone.now(), fields, sent.get("live") is True
        )
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError) as error:
        raise Unreadable("A kept enquiry has a key, a version, a time and fields.") from error
    if timezone.is_naive(kept.typed_at):
        raise Unreadable("The time it was typed at must name its zone.")
    return kept


@owner_and_crew
@require_http_methods(["GET", "POST"])
def kept(request: StudioRequest) -> JsonResponse:
    """Take an enquiry that a phone kept; asked without one, hand out the token to send it with.

    The token in a page that waited on a phone is stale after the next sign-in, so it is asked for anew. The key is
    written with the booking, in one transaction: sent again it is answered as before. Only an answer that repeats the
    key lets the phone forget the enquiry: 200 arrived; 422 to be mended; 409 arrived before, with other words.
    """
    if request.method != "POST":
        return JsonResponse({"token": get_token(request)})
    try:
        item = kept_in(request.body)
    except Unreadable as error:
        return JsonResponse({"error": str(error)}, status=400)
    if item.version not in VERSIONS:
        versions = ", ".join(str(version) for version in sorted(VERSIONS))
        sentence = f"Kept in a way this studio does not know (version {item.version}, known: {versions})."
        return _refused(item, {"__all__": [f"{sentence} Open it and keep it again."]})
    form = EnquiryForm(item.fields, today=timezone.localdate())
    known = known_again(phone=form.client["phone"], email=form.client["email"]) if form.is_valid() else []
    # Somebody who is looking at the form is asked whether they know the client. What was typed without signal comes in
    # for a client of its own, who can be put together with the other one: it must not wait for an answer.
    who = WhoForm(item.fields, known=known if item.live or item.fields.get("who") else [])
    errors = form.errors or who.errors

    def log() -> str:
        at = timezone.now()
        booking = log_kept_enquiry(
            client=form.client,
            job=form.job,
            typed_at=item.typed_at,
            known=who.cleaned_data["who"],
            by=request.user,
            at=at,
        )
        messages.success(request, f"Enquiry from {booking.client} is kept.")
        return reverse("bookings:detail", args=[booking.pk])

    try:
        # Asked with errors too: what has arrived stays arrived, even if its day has gone by since.
        url = act_once(item.key, item.digest, log, may_act=not errors)
    except AnsweredOtherwise as refusal:
        return JsonResponse({"key": str(item.key), "url": refusal.answer}, status=409)
    except ClientIsGone as refusal:
        return _refused(item, {"__all__": [str(refusal)]})
    if url is None:
        return _refused(item, {name: [str(error) for error in found] for name, found in errors.items()})
    return JsonResponse({"key": str(item.key), "url": url})


def _refused(item: Kept, errors: dict[str, list[str]]) -> JsonResponse:
    return JsonResponse({"key": str(item.key), "errors": errors}, status=422)


def _shell() -> dict[str, Any]:
    return {"form": EnquiryForm(today=timezone.localdate())}


@anyone
@require_GET
def without_signal(request: HttpRequest) -> HttpResponse:
    """The page that a phone keeps: a form, and nothing of the studio or of anybody."""
    answer = render(request, "bookings/without_signal.html", _shell())
    answer.headers["Cache-Control"] = "no-store"
    return answer


@anyone
@require_GET
def worker(request: HttpRequest) -> HttpResponse:
    """The service worker, with the names of what it keeps. Another page or file makes another version."""
    source = (settings.BASE_DIR / "studio" / "static" / "js" / "worker.js").read_text()
    # While somebody works on the files their names stay the same, so they must not be kept.
    files = [] if settings.DEBUG else [static(name) for name in FILES]
    shell = render_to_string("bookings/without_signal.html", _shell())
    known = {
        "VERSION": hashlib.sha256("\n".join([source, shell, *files]).encode()).hexdigest()[:12],
        "SHELL": reverse("bookings:without-signal"),
        "FILES": files,
        "ENQUIRY": reverse("bookings:enquiry"),
        "STATIC": settings.STATIC_URL if settings.STATIC_URL.startswith("/") else f"/{settings.STATIC_URL}",
    }
    names = " ".join(f"const {name} = {json.dumps(value)};" for name, value in known.items())
    answer = HttpResponse(f"{names}\n{source}", content_type="text/javascript; charset=utf-8")
    answer.headers["Cache-Control"] = "no-store"
    return answer
