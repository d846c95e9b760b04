"""The pull list of a job: on a phone between the shelves, shared by whoever loads, and on paper."""

from http import HTTPStatus
from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from bookings import actions, queries
from bookings.actions import PullRefused
from bookings.actions.bringing import load_ticked_kit
from bookings.forms import TickForm
from bookings.models import Booking
from bookings.paperwork import pull_list_pdf
from bookings.queries.allergies import allergies_of, with_latex_of_place
from bookings.queries.bringing import bring_list
from stock.actions import KitRefusal, StockRefusal
from studio.access import StudioRequest, owner_and_crew
from studio.once import answer_once

MENDABLE = 422


@owner_and_crew
@require_GET
def pull_list(request: StudioRequest, booking_id: int) -> HttpResponse:
    """What to take off the shelf. The page asks again every few seconds, and is told nothing while nothing changed."""
    booking = _booking(booking_id)
    context = _context(booking)
    if not request.htmx:
        return render(request, "bookings/pull_list.html", context)
    context["line"] = next((line for line in context["pulled"].lines if line.key == request.GET.get("line")), None)
    if context["line"] is not None:
        return render(request, "bookings/pull_list_line.html", context)
    if "along" in request.GET:
        return render(request, "bookings/pull_along.html", context)
    if request.GET.get("seen") == context["pulled"].stamp + context["along"].stamp:
        return HttpResponse(status=204)
    return render(request, "bookings/pull_list.html#list", context)


@owner_and_crew
@require_GET
def paper(request: StudioRequest, booking_id: int) -> HttpResponse:
    """The list on paper, to be ticked with a pen."""
    booking = _booking(booking_id)
    pdf = pull_list_pdf(
        queries.pull_list(booking), bring_list(booking), booking, request.studio, made_at=timezone.now()
    )
    response = HttpResponse(pdf, content_type="application/pdf")
    response.headers["Content-Disposition"] = f'inline; filename="pull-list-{booking.pk}.pdf"'
    return response


@owner_and_crew
@require_POST
def tick(request: StudioRequest, booking_id: int) -> HttpResponse:
    """Tick a line, say how many were taken, or untick it."""
    booking = _booking(booking_id)
    form = TickForm(request.POST)
    if not form.is_valid():
        said = [str(error) for error in form.errors.get("taken", ["This line is not on the list any more."])]
        return _refused(request, booking, said[0])
    item, lot, taken = form.cleaned_data["item"], form.lot_key, form.cleaned_data["taken"]

    def act() -> str:
        by, at = request.user, timezone.now()
        if request.POST.get("undo"):
            actions.untick_line(booking=booking, item=item, lot=lot, by=by, at=at)
        else:
            actions.tick_line(booking=booking, item=item, lot=lot, taken=taken, by=by, at=at)
        key = f"{item}-{lot or 0}"
        return f"{_address(booking)}?line={key}#line-{key}"

    try:
        answer = answer_once(request, act)
    except PullRefused as refusal:
        return _refused(request, booking, str(refusal))
    if request.htmx and answer.status_code == HTTPStatus.FOUND:
        # htmx itself goes on to the line, instead of the browser to a new page; its forms get keys of their own there.
        answer.status_code = HTTPStatus.SEE_OTHER
    return answer


@owner_and_crew
@require_POST
def rest(request: StudioRequest, booking_id: int) -> HttpResponse:
    """Tick every line that is left."""
    booking = _booking(booking_id)

    def act() -> str:
        actions.tick_rest(booking=booking, by=request.user, at=timezone.now())
        return _address(booking)

    try:
        return answer_once(request, act)
    except PullRefused as refusal:
        return _refused(request, booking, str(refusal))


@owner_and_crew
@require_POST
def issue(request: StudioRequest, booking_id: int) -> HttpResponse:
    """Take what is ticked off the shelf."""
    booking = _booking(booking_id)

    def act() -> str:
        by, at = request.user, timezone.now()
        lines = actions.issue_materials(booking=booking, by=by, at=at)
        kit = load_ticked_kit(booking=booking, by=by, at=at)
        if kit:
            messages.success(request, f"{len(kit):,} kit out with the job.")
        if lines:
            messages.success(request, f"{lines:,} line{'' if lines == 1 else 's'} off the shelf, and on the road.")
        elif not kit:
            messages.info(request, "Nothing is ticked that is not off the shelf already.")
        return _address(booking)

    try:
        return answer_once(request, act)
    except (PullRefused, StockRefusal, KitRefusal) as refusal:
        return _refused(request, booking, str(refusal))


def _booking(booking_id: int) -> Booking:
    found: Booking = get_object_or_404(with_latex_of_place(Booking.objects.select_related("client")), pk=booking_id)
    return found


def _address(booking: Booking) -> str:
    return reverse("bookings:pull-list", args=[booking.pk])


def _context(booking: Booking) -> dict[str, Any]:
    pulled, along = queries.pull_list(booking), bring_list(booking)
    return {"booking": booking, "pulled": pulled, "along": along, "allergies": allergies_of(booking)}


def _refused(request: StudioRequest, booking: Booking, refusal: str) -> HttpResponse:
    """The list with why not, and what was typed still in its field."""
    typed = {"key": f"{request.POST.get('item')}-{request.POST.get('lot')}", "taken": request.POST.get("taken", "")}
    context = _context(booking) | {"refusal": refusal, "typed": typed}
    if not request.htmx:
        return render(request, "bookings/pull_list.html", context, status=MENDABLE)
    response = render(request, "bookings/pull_list.html#list", context, status=MENDABLE)
    # The form aimed at its own line; a refusal is about the list.
    response.headers["HX-Retarget"], response.headers["HX-Reswap"] = "#pull", "outerHTML"
    return response
