"""The kit of one booking: what it gets for which days, and taking it out and bringing it back."""

from collections.abc import Callable
from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from bookings.actions import kit as actions
from bookings.models import Booking
from bookings.queries.kit import kit_days
from stock.actions import KitRefusal
from stock.forms.kit import PromiseKitForm
from stock.models import Kit, KitPromise
from stock.queries.kit import kit_of_booking
from stock.views import act_on_form
from studio.access import StudioRequest, owner_and_crew, owner_only
from studio.once import answer_once


@require_safe
@owner_and_crew
def kit(request: StudioRequest, booking_id: int) -> HttpResponse:
    """What the job gets, with whom it clashes, and a form to give it more."""
    booking = _booking(booking_id)
    return _page(request, booking, PromiseKitForm(initial=_first_values(booking, request.GET.get("kit", ""))))


@require_POST
@owner_only
def promise(request: StudioRequest, booking_id: int) -> HttpResponse:
    """Promise kit to the job, or change what it was promised."""
    booking = _booking(booking_id)
    form = PromiseKitForm(request.POST)

    def act() -> str:
        said = form.cleaned_data
        made = actions.promise_kit(booking=booking, **said, by=request.user, at=timezone.now())
        messages.success(request, f"{made.quantity:,} {made.kit} promised to this job.")
        return reverse("bookings:kit", args=[booking.pk])

    return act_on_form(request, form, act, lambda: _page(request, booking, form), refusals=(KitRefusal,), field="kit")


@require_POST
@owner_only
def let_go(request: StudioRequest, booking_id: int, kit_id: int) -> HttpResponse:
    """The job does without it."""
    booking, gone = _booking(booking_id), get_object_or_404(Kit, pk=kit_id)

    def act() -> str:
        if actions.let_kit_go(booking=booking, kit=gone, by=request.user, at=timezone.now()):
            messages.success(request, f"{gone} is let go.")
        else:
            messages.error(request, f"{gone} was not let go: none of it waits for this job.")
        return reverse("bookings:kit", args=[booking.pk])

    return answer_once(request, act)


@require_POST
@owner_and_crew
def load(request: StudioRequest, booking_id: int) -> HttpResponse:
    """All of it is in the van."""
    booking = _booking(booking_id)
    return _all_of_it(
        request,
        booking,
        lambda: actions.load_kit(booking=booking, by=request.user, at=timezone.now()),
        "All of the kit is out.",
    )


@require_POST
@owner_and_crew
def unload(request: StudioRequest, booking_id: int) -> HttpResponse:
    """All of it is back, and sound."""
    booking = _booking(booking_id)
    return _all_of_it(
        request,
        booking,
        lambda: actions.bring_kit_home(booking=booking, by=request.user, at=timezone.now()),
        "All of the kit is back.",
    )


def _all_of_it(
    request: StudioRequest, booking: Booking, move: Callable[[], list[KitPromise]], said: str
) -> HttpResponse:
    def act() -> str:
        try:
            moved = move()
        except KitRefusal as refusal:
            messages.error(request, f"Nothing was written. {refusal}")
        else:
            messages.success(request, said if moved else "There was nothing left to write down.")
        return reverse("bookings:kit", args=[booking.pk])

    return answer_once(request, act)


def _booking(booking_id: int) -> Booking:
    return get_object_or_404(Booking.objects.select_related("client"), pk=booking_id)


def _first_values(booking: Booking, asked: str) -> dict[str, Any]:
    """What the form begins with: what the job was promised of the kit that is asked for, else its usual days."""
    if asked.isascii() and asked.isdigit() and len(asked) < 19:
        promise = KitPromise.objects.standing().filter(booking=booking.pk, kit=int(asked)).first()
        if promise is not None:
            return {name: getattr(promise, name) for name in ("kit", "quantity", "out_on", "back_on")}
    days = kit_days(booking)
    return {"out_on": days[0], "back_on": days[1]} if days else {}


def _page(request: StudioRequest, booking: Booking, form: PromiseKitForm) -> HttpResponse:
    rows = kit_of_booking(booking.pk, timezone.localdate())
    context = {
        "booking": booking,
        "rows": rows,
        "form": form,
        "waiting": [row for row in rows if row.promise.state == "promised"],
        "out": [row for row in rows if row.promise.state == "out"],
        "may_promise": request.user.is_owner and booking.stage in ("enquiry", "quoted", "booked"),
        "any_kit": form.fields["kit"].queryset.exists(),  # type: ignore[attr-defined]
        "today": timezone.localdate(),
    }
    return render(request, "bookings/kit.html", context)
