"""Swapping a material of a booked job for one that is there."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_POST

from bookings import actions
from bookings.models import Booking
from stock.actions import PromiseRefusal
from stock.models import Item
from studio.access import StudioRequest, owner_only
from studio.once import answer_once

_LONGEST = 9


@owner_only
@require_POST
def swap(request: StudioRequest, booking_id: int) -> HttpResponse:
    """Swap it, and come back to the job, where the change of its picture is told; or say there why not."""
    booking = get_object_or_404(Booking, pk=booking_id)
    give_up, take, quantity = (_number(request.POST.get(name, "")) for name in ("give_up", "take", "quantity"))
    items = Item.objects.select_related("colour")
    old, new = get_object_or_404(items, pk=give_up), get_object_or_404(items, pk=take)
    sent = request.POST.get("inside", "")
    inside = get_object_or_404(items, pk=_number(sent)) if sent else None

    def act() -> str:
        try:
            made = actions.swap_material(
                booking=booking,
                give_up=old,
                take=new,
                inside=inside,
                quantity=quantity,
                today=timezone.localdate(),
                by=request.user,
                at=timezone.now(),
            )
        except PromiseRefusal as refusal:
            messages.error(request, f"Not swapped. {refusal}")
        else:
            messages.success(request, f"{quantity:,} {old.label} swapped for {made.taken_words}.")
        return reverse("bookings:detail", args=[booking.pk])

    return answer_once(request, act)


def _number(text: str) -> int:
    """A whole number out of a form; 0, which no rule takes, for anything else."""
    return int(text) if text.isascii() and text.isdigit() and len(text) <= _LONGEST else 0
