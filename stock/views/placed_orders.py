"""Orders that were placed: when they come, what came of them, and that no more will. Crew put away what came."""

from collections.abc import Callable

from django.contrib import messages
from django.http import HttpResponse
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_POST

from stock import actions
from stock.actions import OrderRefusal
from stock.forms import PlaceForm, ReceiveForm
from stock.models import Order
from stock.views import act_on_form
from stock.views.orders import act_on_day, order_of, order_page, said_day
from studio.access import StudioRequest, owner_and_crew, owner_only
from studio.once import answer_once


@require_POST
@owner_only
def expect(request: StudioRequest, order_id: int) -> HttpResponse:
    """Expect a placed order on another day."""
    found = order_of(request, order_id)
    form = PlaceForm(request.POST, not_before=found.placed_on or timezone.localdate())

    def act() -> str:
        day = form.cleaned_data["expected_on"]
        actions.change_expected(order=found, day=day, by=request.user, at=timezone.now())
        messages.success(request, f"Order {found.pk} is expected on {said_day(day)}.")
        return reverse("stock:order", args=[found.pk])

    return act_on_day(request, found, form, act)


@require_POST
@owner_and_crew
def receive(request: StudioRequest, order_id: int) -> HttpResponse:
    """Put what came onto the shelf; what did not come stays on its way."""
    found = order_of(request, order_id)
    form = ReceiveForm(request.POST, lines=found.shown_lines, today=timezone.localdate())  # type: ignore[attr-defined]

    def act() -> str:
        came = actions.receive_order(
            order=found,
            quantities=form.quantities,
            best_before=form.best_before,
            seen=form.seen,
            by=request.user,
            at=timezone.now(),
        )
        total = sum(movement.quantity for movement in came)
        rest = "That was the last of it." if found.state == Order.State.RECEIVED else "The rest is still on its way."
        messages.success(request, f"{total:,} put on the shelf from order {found.pk}. {rest}")
        return reverse("stock:order", args=[found.pk])

    return act_on_form(
        request, form, act, lambda: order_page(request, found, receive_form=form), refusals=(OrderRefusal,)
    )


@require_POST
@owner_only
def cancel(request: StudioRequest, order_id: int) -> HttpResponse:
    """Call the order off; nothing may have come of it."""
    found = order_of(request, order_id)

    def act() -> str:
        actions.cancel_order(order=found, by=request.user, at=timezone.now())
        messages.success(request, f"Order {found.pk} with {found.supplier.name} is called off.")
        return reverse("stock:orders")

    return _acted(request, found, act)


@require_POST
@owner_only
def close(request: StudioRequest, order_id: int) -> HttpResponse:
    """Say that nothing more will come of an order."""
    found = order_of(request, order_id)

    def act() -> str:
        actions.close_order(order=found, by=request.user, at=timezone.now())
        messages.success(request, f"Order {found.pk} is closed: nothing more of it counts as arriving.")
        return reverse("stock:order", args=[found.pk])

    return _acted(request, found, act)


def _acted(request: StudioRequest, order: Order, act: Callable[[], str]) -> HttpResponse:
    """Answer a button that has no form of its own, with its refusal on the order's page."""
    try:
        return answer_once(request, act)
    except OrderRefusal as refusal:
        response = order_page(request, order_of(request, order.pk), refusal=str(refusal))
        response.status_code = 422
        return response
