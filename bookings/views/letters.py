"""Writing a letter, how letters stand, and the words they are made of."""

from collections.abc import Callable
from typing import Any

from django.conf import settings
from django.contrib import messages
from django.core.paginator import Paginator
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from bookings import letters
from bookings.actions import letters as actions
from bookings.forms.letters import LetterForm, RulesForm, WordsForm
from bookings.models import Booking, MailRules, MailTemplate
from bookings.queries.letters import Words, all_words, letter_about, words_of
from studio.access import StudioRequest, owner_only
from studio.address import site_of
from studio.editions import StaleForm, edition_of, keep_to_edition, seen_by, tell_stale
from studio.models import OutgoingMail
from studio.once import answer_once, key_of
from studio.outbox import queue
from studio.outbox.addresses import AddressRefused
from studio.outbox.links import NoSuchLink
from studio.outbox.message import LINK, paragraphs
from studio.outbox.queries import TROUBLED, all_letters
from studio.outbox.queue import Letter, MailRefused

LETTERS_A_PAGE = 50


def _can_send() -> bool:
    return settings.MAIL_SERVER is not None or settings.DEMO


@owner_only
@require_http_methods(["GET", "HEAD", "POST"])
def write(request: StudioRequest, booking_id: int, purpose: str) -> HttpResponse:
    """A letter to a client, filled in and ready to be changed, as they will read it beside it."""
    if purpose not in letters.BY_HAND:
        raise Http404("No such letter is written by hand.")
    booking = get_object_or_404(Booking.objects.select_related("client"), pk=booking_id)
    letter = letter_about(booking, purpose, studio=request.studio, today=timezone.localdate())
    kind = letters.PURPOSES[purpose]
    if "link" in kind.needs and not letter.link_name:
        messages.error(request, "There is no quote to be seen, so there is nothing to link to. Issue one first.")
        return redirect("bookings:detail", booking.pk)
    first = {"to": letter.to_address, "subject": letter.subject, "text": letter.text}
    form = LetterForm(request.POST if request.method == "POST" else None, initial=first, purpose=kind)
    if request.method == "POST" and form.is_valid():
        typed = form.cleaned_data

        def send() -> str:
            changed = Letter(
                purpose, typed["to"], letter.to_name, typed["subject"], typed["text"], letter.link_name, kind.button
            )
            key = f"{purpose}:{key_of(request)}"
            mail = actions.mail_client(
                booking=booking, letter=changed, key=key, base=site_of(request), by=request.user, at=timezone.now()
            )
            if mail.state == OutgoingMail.State.KEPT:
                return reverse("bookings:letter", args=[mail.pk])
            messages.success(request, f"The letter to {mail.to_address} is on its way.")
            return f"{reverse('bookings:detail', args=[booking.pk])}#post"

        return answer_once(request, send)
    text = form.data.get("text", letter.text) if form.is_bound else letter.text
    context = {"booking": booking, "kind": kind, "form": form, "parts": paragraphs(text, LINK), "can_send": _can_send()}
    return render(request, "bookings/letter_write.html", context, status=422 if form.errors else 200)


@owner_only
@require_POST
def preview(request: StudioRequest, purpose: str) -> HttpResponse:
    """The words that are being typed, as a client would read them; fields of a job are those of an invented one."""
    if purpose not in letters.PURPOSES:
        raise Http404("No such letter.")
    name = request.studio.name
    subject = letters.example(request.POST.get("subject", "")[:400], name)
    text = letters.example(request.POST.get("text", "")[:8000], name)
    context = {"kind": letters.PURPOSES[purpose], "subject": subject, "parts": paragraphs(text, LINK)}
    return render(request, "bookings/_letter_preview.html", context)


@owner_only
@require_safe
def all_mail(request: StudioRequest) -> HttpResponse:
    """Every letter, those somebody has to look at alone where asked."""
    found = all_letters()
    only = request.GET.get("only") == "trouble"
    page = Paginator(found.filter(state__in=TROUBLED) if only else found, LETTERS_A_PAGE).get_page(
        request.GET.get("page")
    )
    return render(request, "bookings/letters.html", {"page": page, "only": only, "can_send": _can_send()})


@owner_only
@require_safe
def letter(request: StudioRequest, mail_id: int) -> HttpResponse:
    """One letter: its words, how it stands, and what can be done about it."""
    return _letter_page(request, get_object_or_404(OutgoingMail, pk=mail_id))


def _letter_page(request: StudioRequest, mail: OutgoingMail, *, to: str = "", wrong: str = "") -> HttpResponse:
    booking = Booking.objects.select_related("client").filter(pk=mail.about or 0).first()
    try:
        words = queue.text_of(mail)
    except NoSuchLink:
        words = mail.text
    client = booking.client.email if booking and not letters.PURPOSES[mail.purpose].is_to_us else ""
    context = {
        "mail": mail,
        "booking": booking,
        "label": letters.PURPOSES[mail.purpose].label,
        "words": words,
        "to": to or client or mail.to_address,
        "wrong": wrong,
        "can_send": _can_send(),
        "is_demo": settings.DEMO,
    }
    return render(request, "bookings/letter.html", context, status=422 if wrong else 200)


@owner_only
@require_POST
def again(request: StudioRequest, mail_id: int) -> HttpResponse:
    """Send a letter that did not go, to an address that may have been put right."""
    mail = get_object_or_404(OutgoingMail, pk=mail_id)
    to = request.POST.get("to", "")

    def send() -> str:
        queue.try_again(mail=mail, to=to, at=timezone.now())
        messages.success(request, f"The letter to {mail.to_address} is on its way.")
        return reverse("bookings:letter", args=[mail.pk])

    try:
        return answer_once(request, send)
    except (AddressRefused, MailRefused) as refusal:
        mail.refresh_from_db()
        return _letter_page(request, mail, to=to, wrong=str(refusal))


def _marked(request: StudioRequest, mail_id: int, mark: Callable[[OutgoingMail], object], said: str) -> HttpResponse:
    mail = get_object_or_404(OutgoingMail, pk=mail_id)

    def act() -> str:
        mark(mail)
        messages.success(request, said)
        return reverse("bookings:letter", args=[mail.pk])

    try:
        return answer_once(request, act)
    except MailRefused as refusal:
        mail.refresh_from_db()
        return _letter_page(request, mail, wrong=str(refusal))


@owner_only
@require_POST
def came_back(request: StudioRequest, mail_id: int) -> HttpResponse:
    """The owner found it returned in their mailbox."""
    return _marked(request, mail_id, lambda mail: queue.came_back(mail=mail), "Marked as come back.")


@owner_only
@require_POST
def let_be(request: StudioRequest, mail_id: int) -> HttpResponse:
    """Leave it unsent."""
    return _marked(request, mail_id, lambda mail: queue.let_be(mail=mail), "Left unsent.")


@owner_only
@require_http_methods(["GET", "HEAD", "POST"])
def settings_page(request: StudioRequest) -> HttpResponse:
    """Which letters go by themselves, and a way to the words of each."""
    rules = MailRules.objects.current()
    form = RulesForm(request.POST if request.method == "POST" else None, initial=_shown(rules))
    if request.method == "POST" and form.is_valid():

        def save() -> str:
            keep_to_edition(request, "Which letters go", _rules_edition)
            actions.keep_rules(**form.cleaned_data)
            messages.success(request, "Saved. Letters follow this from now on.")
            return reverse("bookings:mail-settings")

        try:
            return answer_once(request, save)
        except StaleForm as stale:
            tell_stale(form, stale, RulesForm(initial=_shown(MailRules.objects.current())))
    context = {"form": form, "all_words": all_words(), "server": settings.MAIL_SERVER, "is_demo": settings.DEMO}
    context |= {"section": "studio", "seen": seen_by(request, form, _rules_edition())}
    return render(request, "bookings/mail_settings.html", context, status=422 if form.errors else 200)


def _shown(rules: MailRules) -> dict[str, Any]:
    return {name: getattr(rules, name) for name in ("sends_receipts", "tells_us", "remind_days")}


def _rules_edition() -> str:
    return edition_of(MailRules.objects.current())


def _words_edition(purpose: str) -> str:
    return edition_of(*MailTemplate.objects.filter(purpose=purpose))


def _words(purpose: str) -> Words:
    if purpose not in letters.PURPOSES:
        raise Http404("No such letter.")
    return words_of(purpose)


@owner_only
@require_http_methods(["GET", "HEAD", "POST"])
def words_page(request: StudioRequest, purpose: str) -> HttpResponse:
    """The words of a kind of letter, with the fields it may hold and how a client would read it."""
    words = _words(purpose)
    first = {"subject": words.subject, "text": words.text}
    form = WordsForm(request.POST if request.method == "POST" else None, initial=first, purpose=purpose)
    if request.method == "POST" and form.is_valid():

        def save() -> str:
            keep_to_edition(request, f"“{words.purpose.label}”", lambda: _words_edition(purpose))
            actions.keep_words(purpose=purpose, **form.cleaned_data)
            messages.success(request, f"“{words.purpose.label}” is saved. Letters written from now on say this.")
            return reverse("bookings:mail-settings")

        try:
            return answer_once(request, save)
        except StaleForm as stale:
            now = _words(purpose)
            tell_stale(form, stale, WordsForm(initial={"subject": now.subject, "text": now.text}, purpose=purpose))
    shown = form.data if form.is_bound else first
    name = request.studio.name
    context = {
        "section": "studio",
        "words": words,
        "kind": words.purpose,
        "form": form,
        "seen": seen_by(request, form, _words_edition(purpose)),
        "fields": [(f"{{{field}}}", letters.FIELDS[field][0]) for field in words.purpose.fields],
        "subject": letters.example(shown.get("subject", ""), name),
        "parts": paragraphs(letters.example(shown.get("text", ""), name), LINK),
    }
    return render(request, "bookings/mail_words.html", context, status=422 if form.errors else 200)


@owner_only
@require_POST
def reset(request: StudioRequest, purpose: str) -> HttpResponse:
    """The words it began with."""
    words = _words(purpose)

    def act() -> str:
        actions.first_words_again(purpose=purpose)
        messages.success(request, f"“{words.purpose.label}” says again what it began with.")
        return reverse("bookings:mail-words", args=[purpose])

    return answer_once(request, act)
