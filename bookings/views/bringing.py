"""Kit and things for the van: ticked on the pull list, and by which rules they are on it."""

from http import HTTPStatus

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from bookings.actions import bringing as actions
from bookings.actions.bringing import BringRefused
from bookings.bringing import MOST_RULES
from bookings.forms.bringing import BringingForm
from bookings.models import Booking, BringingRules
from studio.access import StudioRequest, owner_and_crew, owner_only
from studio.editions import StaleForm, edition_of, keep_to_edition, seen_by, tell_stale
from studio.once import answer_once


@owner_and_crew
@require_POST
def tick(request: StudioRequest, booking_id: int) -> HttpResponse:
    """Tick a thing, or untick it; the answer is the list of them."""
    booking = get_object_or_404(Booking, pk=booking_id)
    key = request.POST.get("key", "")
    address = f"{reverse('bookings:pull-list', args=[booking.pk])}?along=yes#along"

    def act() -> str:
        change = actions.untick_thing if request.POST.get("undo") else actions.tick_thing
        change(booking=booking, key=key, by=request.user, at=timezone.now())
        return address

    try:
        answer = answer_once(request, act)
    except BringRefused as refusal:
        messages.error(request, str(refusal))
        answer = redirect(address)
    if request.htmx and answer.status_code == HTTPStatus.FOUND:
        # htmx itself goes on to the list, whose forms get keys of their own there.
        answer.status_code = HTTPStatus.SEE_OTHER
    return answer


@owner_only
@require_http_methods(["GET", "HEAD", "POST"])
def rules(request: StudioRequest) -> HttpResponse:
    """What goes along to which jobs."""
    kept = BringingRules.objects.current().read()
    sent = request.POST.get("lines", "")
    lines = int(sent) if sent.isdecimal() and len(sent) < 4 and 0 < int(sent) <= MOST_RULES else None
    form = BringingForm(request.POST or None, rules=kept, measures=request.studio.system, lines=lines)

    def act() -> str:
        keep_to_edition(request, "Your list", _rules_edition)
        actions.keep_bringing_rules(rules=form.rules, by=request.user, at=timezone.now())
        messages.success(request, "Your list is saved. Pull lists go by it from now on.")
        return reverse("bookings:packing")

    if request.method == "POST" and form.is_valid():
        try:
            return answer_once(request, act)
        except StaleForm as stale:
            now = BringingRules.objects.current().read()
            tell_stale(form, stale, BringingForm(None, rules=now, measures=request.studio.system, lines=lines))
    context = {"section": "studio", "form": form, "full": len(kept) >= MOST_RULES}
    context |= {"seen": seen_by(request, form, _rules_edition())}
    return render(request, "bookings/packing.html", context, status=422 if form.errors else 200)


def _rules_edition() -> str:
    return edition_of(BringingRules.objects.current(), only=frozenset({"rules"}))
