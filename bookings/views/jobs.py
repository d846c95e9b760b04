"""Logging an enquiry, and one job on one page."""

from collections.abc import Callable
from datetime import datetime

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from bookings import actions, queries
from bookings.forms import BookingForm, EnquiryForm, ReasonForm
from bookings.forms.clients import WhoForm
from bookings.models import Booking
from bookings.queries.clients import known_again
from bookings.queries.dates import around, dates_of
from bookings.queries.people import people_on
from bookings.queries.questions import post_card
from studio.access import StudioRequest, owner_and_crew, owner_only
from studio.editions import opened_with, seen_by
from studio.models import User
from studio.once import answer_once
from studio.transitions import MoveRefused


@owner_and_crew
@require_http_methods(["GET", "POST"])
def enquiry(request: StudioRequest) -> HttpResponse:
    """Write down who asked, before it is forgotten. Where their number or address is known, ask whether it is them."""
    form = EnquiryForm(request.POST or None, today=timezone.localdate())
    is_good = request.method == "POST" and form.is_valid()
    known = known_again(phone=form.client["phone"], email=form.client["email"]) if is_good else []
    who = WhoForm(request.POST if is_good else None, known=known)
    if is_good and who.is_valid():

        def log() -> str:
            booking = actions.log_enquiry(
                client=form.client, job=form.job, known=who.cleaned_data["who"], by=request.user, at=timezone.now()
            )
            messages.success(request, f"Enquiry from {booking.client} is kept.")
            return reverse("bookings:detail", args=[booking.pk])

        try:
            return answer_once(request, log)
        except actions.ClientIsGone as refusal:
            form.add_error(None, str(refusal))
    status = 422 if form.errors or who.errors else 200
    return render(request, "bookings/enquiry.html", {"form": form, "who": who}, status=status)


@owner_and_crew
@require_GET
def bookings(request: StudioRequest) -> HttpResponse:
    """All jobs, by where they stand."""
    which = request.GET.get("stage", "current")
    search = request.GET.get("q", "").strip()[:100]
    page = Paginator(queries.bookings_list(which, search), 40).get_page(request.GET.get("page"))
    template = "bookings/list.html#rows" if request.htmx else "bookings/list.html"
    context = {"page": page, "which": which, "search": search, "choices": queries.LISTS}
    return render(request, template, context)


@owner_and_crew
@require_GET
def detail(request: StudioRequest, booking_id: int) -> HttpResponse:
    """One job on one page: brief, pieces, quote, materials, money, what happened."""
    booking = get_object_or_404(queries.for_its_page(), pk=booking_id)
    today, zone = timezone.localdate(), request.studio.zone
    page = queries.booking_page(booking, today=today, studio=request.studio, shows_money=request.user.is_owner)
    near = around(booking, today=today, zone=zone)
    dates = dates_of(booking, today=today, zone=zone, near=near)
    people = people_on(booking, today=today, zone=zone, near=near)
    context = {"booking": booking, "job": page, "dates": dates, "people": people, "reason": ReasonForm()}
    if request.user.is_owner:
        context["post"] = post_card(
            booking,
            today=today,
            quotes=[view.quote for view in page.quotes],
            open_dues=page.money.open_dues if page.money else (),
        )
    return render(request, "bookings/detail.html", context)


@owner_only
@require_http_methods(["GET", "POST"])
def edit(request: StudioRequest, booking_id: int) -> HttpResponse:
    """Change who it is for and what is known of the job."""
    booking = get_object_or_404(Booking.objects.select_related("client"), pk=booking_id)
    if booking.client.erased_at is not None:
        messages.error(request, "Its client was erased at their own request: nothing new can be written down for them.")
        return redirect("bookings:detail", booking.pk)
    # Before the form puts what was typed into the row.
    seen = actions.edition_of_details(booking)
    form = BookingForm(
        request.POST or None, instance=booking, today=timezone.localdate(), measures=request.studio.system
    )
    if request.method == "POST" and form.is_valid():

        def save() -> str:
            actions.edit_booking(
                booking=booking,
                client=form.client,
                job=form.job,
                by=request.user,
                at=timezone.now(),
                seen=opened_with(request),
            )
            return reverse("bookings:detail", args=[booking.pk])

        try:
            return answer_once(request, save)
        except actions.StaleForm as stale:
            form.add_error(None, str(stale))
    status = 422 if form.errors else 200
    return render(
        request,
        "bookings/edit.html",
        {"booking": booking, "form": form, "seen": seen_by(request, form, seen)},
        status=status,
    )


def _ending(
    request: StudioRequest, booking_id: int, act: Callable[[Booking, str, User, datetime], Booking], said: str
) -> HttpResponse:
    """End or reopen a booking and come back to it, or say why not."""
    booking = get_object_or_404(Booking, pk=booking_id)
    form = ReasonForm(request.POST)
    back = reverse("bookings:detail", args=[booking.pk])
    if not form.is_valid():
        messages.error(request, f"Not done. Why: {form.errors['why'][0]}")
        return answer_once(request, lambda: back)

    def end() -> str:
        try:
            act(booking, form.cleaned_data["why"], request.user, timezone.now())
        except MoveRefused as refusal:
            messages.error(request, f"Not done: {refusal}")
        else:
            messages.success(request, said)
        return back

    return answer_once(request, end)


@owner_only
@require_POST
def lose(request: StudioRequest, booking_id: int) -> HttpResponse:
    """The client went elsewhere or never answered."""
    return _ending(
        request,
        booking_id,
        lambda booking, why, by, at: actions.lose_booking(booking=booking, why=why, by=by, at=at),
        "Marked as lost. Its quotes are withdrawn.",
    )


@owner_only
@require_POST
def reopen(request: StudioRequest, booking_id: int) -> HttpResponse:
    """A lost booking is an enquiry again."""
    return _ending(
        request,
        booking_id,
        lambda booking, _why, by, at: actions.reopen_booking(booking=booking, by=by, at=at),
        "Opened again.",
    )
