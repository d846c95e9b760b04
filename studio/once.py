"""One result per form, however often it is sent.

A form carries a key made when it was shown (`{% form_key %}`). The first time it is acted on, the key is stored in
the same transaction; a repeat leads to the same answer, and a different form under the same key is refused.
"""

import hashlib
import json
import uuid
from collections.abc import Callable
from typing import TypeVar

from django.db import IntegrityError, transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from studio.models import Submission

Prepared = TypeVar("Prepared")

FIELD = "form_key"
_ACTED_ON = "garlandry.form_acted_on"
_NOT_COMPARED = {FIELD, "csrfmiddlewaretoken"}


def key_of(request: HttpRequest) -> uuid.UUID | None:
    """The key the form came with, or None where it has none or a mangled one."""
    try:
        return uuid.UUID(request.POST.get(FIELD, ""))
    except ValueError:
        return None


def key_to_show_again(request: HttpRequest) -> uuid.UUID | None:
    """The key of a form that is shown again after a mistake; None once it was acted on, for a key serves once."""
    return None if request.method != "POST" or request.META.get(_ACTED_ON) else key_of(request)


def digest_of(request: HttpRequest) -> str:
    """What was sent and to where, without the parts that differ on every request."""
    fields = sorted((name, values) for name, values in request.POST.lists() if name not in _NOT_COMPARED)
    return hashlib.sha256(json.dumps([request.path, fields]).encode()).hexdigest()


def answer_once(request: HttpRequest, act: Callable[[], str]) -> HttpResponse:
    """Do `act` and redirect to the address it returns, or to its earlier answer where this form was acted on.

    `act` runs inside the transaction that stores the key: if it raises, nothing has happened and the form can be
    sent again. Answers 400 to a form without a key, 422 to a used key with other content.
    """
    return answer_once_prepared(request, lambda: None, lambda _nothing: act())


def answer_once_prepared(
    request: HttpRequest, prepare: Callable[[], Prepared], act: Callable[[Prepared], str]
) -> HttpResponse:
    """As `answer_once`, with slow work done first: `prepare` runs outside the transaction, so that nobody waits for it.

    It is not run again for a form that was acted on. What it returns goes to `act`, which must refuse what has
    changed in between.
    """
    key = key_of(request)
    if key is None:
        return render(request, "stale_form.html", {"why": "missing"}, status=400)
    prepared: list[Prepared] = []
    if not Submission.objects.filter(key=key).exists():
        prepared.append(prepare())
    try:
        answer = act_once(key, digest_of(request), lambda: act(prepared[0]))
    except AnsweredOtherwise:
        return render(request, "stale_form.html", {"why": "changed"}, status=422)
    request.META[_ACTED_ON] = True
    return redirect(answer or "/")


class AnsweredOtherwise(Exception):
    """The key was used for something that said other words; `answer` is where that led."""

    def __init__(self, answer: str) -> None:
        self.answer = answer
        super().__init__("This was sent already, with other words.")


def act_once(key: uuid.UUID, digest: str, act: Callable[[], str], *, may_act: bool = True) -> str | None:
    """The address that `act` returns, or the one it returned when this key was acted on before.

    The key is stored in the transaction that `act` runs in. None where it was not acted on and may not be. Raises
    `AnsweredOtherwise` for a used key with another `digest`.
    """
    earlier = Submission.objects.filter(key=key).first()
    if earlier is None and not may_act:
        return None
    if earlier is None:
        try:
            with transaction.atomic():
                submission = Submission.objects.create(key=key, digest=digest)
                submission.answer = act()
                submission.save(update_fields=["answer"])
            return submission.answer
        except IntegrityError:
            # Another request with this key got there first; anything else is not ours to swallow.
            earlier = Submission.objects.filter(key=key).first()
            if earlier is None:
                raise
    if earlier.digest != digest:
        raise AnsweredOtherwise(earlier.answer)
    return earlier.answer
