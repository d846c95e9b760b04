"""Planning what to order: the cheapest way to cover what runs short. Prices: for the owner alone."""

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from stock import actions
from stock.actions import MadeOrder, OrderRefusal
from stock.buying import BuyingError, NoPlan
from stock.forms import PlanForm, chosen_orders
from stock.queries import Purchase, Shortfall, purchase, shortfall
from stock.views import MENDABLE
from stock.views.plan_rows import plan_rows
from studio.access import StudioRequest, owner_only
from studio.once import answer_once


@require_safe
@owner_only
def plan(request: StudioRequest) -> HttpResponse:
    """The plan, solved with what the address fixes and leaves out."""
    return _page(request, request.GET)


@require_http_methods(["POST"])
@owner_only
def make(request: StudioRequest) -> HttpResponse:
    """Make the orders of the plan as it was shown, all at once."""

    def act() -> str:
        made = actions.make_orders(
            orders=chosen_orders(request.POST.getlist("line"), request.POST.getlist("joins")),
            made_for=request.POST.get("made_for", ""),
            with_open=request.POST.get("with") == "open",
            today=timezone.localdate(),
            by=request.user,
            at=timezone.now(),
        )
        messages.success(request, _told(made))
        return reverse("stock:order", args=[made[0].order.pk]) if len(made) == 1 else reverse("stock:orders")

    try:
        return answer_once(request, act)
    except OrderRefusal as refusal:
        response = _page(request, request.POST, refusal=str(refusal))
        response.status_code = MENDABLE
        return response


def _told(made: list[MadeOrder]) -> str:
    """What was planned, and which of it joined an order that was being planned already."""
    many = f"{len(made)} orders are planned" if len(made) > 1 else f"The order with {made[0].order.supplier} is planned"
    joined = ", ".join(f"order {one.order.pk} with {one.order.supplier}" for one in made if one.joined)
    also = f" What was planned already was added to: {joined}." if joined else ""
    return f"{many}. Send each to its supplier, then say that it is placed.{also}"


def _page(request: StudioRequest, sent: Any, *, refusal: str = "") -> HttpResponse:
    found = shortfall(timezone.localdate(), with_open=sent.get("with") == "open")
    form = PlanForm(sent, offers=found.offers.values())
    solved, refusal = _solved(found, form, refusal)
    context = {
        "form": form,
        "found": found,
        "purchase": solved,
        "refusal": refusal,
        "rows": plan_rows(found, form, solved),
        "hit": {},
    }
    htmx = request.htmx
    part = htmx and htmx.target == "plan" and not htmx.history_restore_request
    response = render(request, f"stock/plan.html{'#plan' if part else ''}", context)
    if form.errors or (solved is None and refusal):
        response.status_code = MENDABLE
    return response


def _solved(found: Shortfall, form: PlanForm, refusal: str) -> tuple[Purchase | None, str]:
    """The plan, or none and why not."""
    if not form.is_valid():
        return None, refusal
    try:
        return purchase(found, pins=form.pins, forbids=form.forbids), refusal
    except (BuyingError, NoPlan) as why:
        return None, str(why)
