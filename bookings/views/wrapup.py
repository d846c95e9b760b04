"""Wrapping a job up: what was used, popped and brought home, in under two minutes on a phone."""

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from bookings import actions, queries
from bookings.actions import WrapUpRefused
from bookings.forms import CorrectionForm, WrapUpForm
from bookings.models import Booking, JobEarnings, WrapUp, WrapUpLine
from bookings.queries.expected import expected_minutes
from bookings.queries.known import with_what_it_has
from bookings.queries.wrapup import WrapUpPage
from estimating.hours import PART_NAMES
from stock.actions import KitRefusal, StockRefusal
from stock.models import Item, KitPromise
from studio.access import StudioRequest, owner_and_crew
from studio.once import answer_once

MENDABLE = 422


@owner_and_crew
@require_http_methods(["GET", "POST"])
def wrap_up(request: StudioRequest, booking_id: int) -> HttpResponse:
    """Count what became of what a job took; once it is counted, what was counted."""
    read = with_what_it_has(Booking.objects.select_related("client", "wrap_up"), "swaps")
    booking = get_object_or_404(read, pk=booking_id)
    posted = request.method == "POST"
    if hasattr(booking, "wrap_up") and not posted:
        return _counted_page(request, booking)
    page = queries.wrap_up_page(booking)
    form = _form(request, booking, page)

    def act() -> str:
        if not form.is_valid():
            raise WrapUpRefused("")
        actions.wrap_up(
            booking=booking,
            counted=form.counted,
            told=form.told,
            stage_seen=form.cleaned_data["stage"],
            by=request.user,
            at=timezone.now(),
        )
        home = sum(one.home for one in form.counted.values())
        back = "What came home is on the shelf again." if home else "Nothing came home."
        done = "brought home" if booking.stage == Booking.Stage.CANCELLED else "wrapped up"
        messages.success(request, f"{booking.shown_title} is {done}. {back}")
        return reverse("bookings:wrap-up", args=[booking.pk])

    if posted:
        try:
            return answer_once(request, act)
        except KitRefusal as refusal:
            form.add_error(None, str(refusal))
        except WrapUpRefused as refusal:
            earlier = WrapUp.objects.select_related("by").filter(booking=booking).first()
            if earlier is not None:
                messages.error(request, f"{earlier.by.shown_name} has wrapped this job up already.")
                return redirect("bookings:wrap-up", booking.pk)
            if str(refusal):
                form.add_error(refusal.field if refusal.field in form.fields else None, str(refusal))
    context = {"booking": booking, "page": page, "form": form}
    return render(request, "bookings/wrap_up.html", context, status=MENDABLE if form.errors else 200)


@owner_and_crew
@require_POST
def correct(request: StudioRequest, booking_id: int) -> HttpResponse:
    """Put right what came home, by another movement."""
    booking = get_object_or_404(Booking.objects.select_related("client"), pk=booking_id)
    form = CorrectionForm(request.POST, lines=_lines(booking))

    def act() -> str:
        if not form.is_valid():
            raise WrapUpRefused("")
        typed = form.cleaned_data
        item = get_object_or_404(Item.objects.with_colour(), pk=typed["item"])
        actions.correct_home(
            booking=booking,
            item=item,
            came_home=typed["quantity"] if typed["way"] == "home" else 0,
            not_home=typed["quantity"] if typed["way"] == "gone" else 0,
            why=typed["why"],
            by=request.user,
            at=timezone.now(),
        )
        messages.success(request, f"{item.label} is put right; what was counted stays as it was.")
        return reverse("bookings:wrap-up", args=[booking.pk])

    try:
        return answer_once(request, act)
    except (WrapUpRefused, StockRefusal) as refusal:
        if str(refusal):
            form.add_error("quantity", str(refusal))
    return _counted_page(request, booking, form)


def _form(request: StudioRequest, booking: Booking, page: WrapUpPage) -> WrapUpForm:
    """What is asked of the job, filled in with what was likely. A job that was called off is asked for no hours."""
    went_ahead = booking.stage == Booking.Stage.BOOKED
    minutes = expected_minutes(booking, currency=request.studio.currency) if went_ahead else None
    out = KitPromise.objects.out().filter(booking=booking.pk).select_related("kit").order_by("kit__name", "pk")
    return WrapUpForm(
        request.POST if request.method == "POST" else None,
        rows=page.rows,
        hours=minutes,
        kit=list(out),
        asks_how_found=went_ahead and not booking.client.found_us and booking.client.erased_at is None,
    )


def _lines(booking: Booking) -> list[WrapUpLine]:
    lines = WrapUpLine.objects.filter(wrap_up__booking=booking).select_related("item__colour")
    return list(lines.order_by("pk"))


def _counted_page(request: StudioRequest, booking: Booking, form: CorrectionForm | None = None) -> HttpResponse:
    lines = _lines(booking)
    counted = WrapUp.objects.select_related("by").filter(booking=booking).first()
    context: dict[str, Any] = {"booking": booking, "counted": counted, "lines": lines}
    context["form"] = form or CorrectionForm(lines=lines)
    if counted is not None:
        hours = counted.figures.filter(what__in=("minutes", "job-minutes")).order_by("pk")
        context["hours"] = [(PART_NAMES.get(figure.part, "In all"), figure) for figure in hours]
        if request.user.is_owner:
            context["earned"] = JobEarnings.objects.filter(wrap_up=counted).first()
    status = MENDABLE if form is not None else 200
    return render(request, "bookings/wrap_up_counted.html", context, status=status)
