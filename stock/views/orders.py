"""Buying: what is planned, what is coming, what has come. Crew see what comes and put it away, without a price."""

import datetime as dt
from collections.abc import Callable
from typing import Any

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.db.models import Case, Count, F, Prefetch, QuerySet, Sum, When
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils import timezone
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.http import require_POST, require_safe

from stock import actions, paperwork
from stock.actions import OrderRefusal
from stock.forms import AddToOrderForm, PlaceForm, PlannedLineForm, ReceiveForm
from stock.models import Offer, Order, OrderLine
from stock.views import act_on_form, page_of
from studio.access import StudioRequest, owner_and_crew, owner_only
from studio.once import answer_once

State = Order.State
HISTORY_A_PAGE = 50


@require_safe
@owner_and_crew
def listed(request: StudioRequest) -> HttpResponse:
    """What is planned (for the owner), what is on its way with its day, and what is over."""
    orders = _counted(Order.objects.select_related("supplier"))
    coming = orders.filter(state=State.PLACED).order_by("expected_on", "pk")
    today = timezone.localdate()
    past = orders.filter(state__in=[State.RECEIVED, State.CANCELLED]).order_by("-pk")
    context: dict[str, Any] = {
        "today": today,
        "coming": page_of(coming, request, named="coming"),
        "late": coming.filter(expected_on__lt=today).count(),
        "past": page_of(past, request, size=HISTORY_A_PAGE),
    }
    for order in context["coming"]:
        order.days_late = days_late(order, today)
    if request.user.is_owner:
        planned = orders.filter(state=State.PLANNED).annotate(total=Sum(F("lines__packs") * F("lines__price_minor")))
        context["planned"] = page_of(planned.order_by("supplier__name", "pk"), request, named="planned")
    return render(request, "stock/orders.html", context)


@require_safe
@owner_and_crew
def order(request: StudioRequest, order_id: int) -> HttpResponse:
    """One order: its lines, and what can be done with it next."""
    return _order_page(request, _order(request, order_id))


@require_POST
@owner_only
def add(request: StudioRequest) -> HttpResponse:
    """Put packs of an offer on the order planned with its supplier, and go back to where that was asked."""
    form = AddToOrderForm(request.POST)

    def act() -> str:
        offer, packs = form.cleaned_data["offer"], form.cleaned_data["packs"]
        planned = actions.add_to_planned_order(offer=offer, packs=packs, by=request.user, at=timezone.now())
        added = f"{packs:,} × {offer.pack_size:,} {offer.item.label}"
        messages.success(request, f"{added} is on the order planned with {offer.supplier.name}.")
        return _wanted_next(request) or reverse("stock:order", args=[planned.pk])

    def show() -> HttpResponse:
        offers = Offer.objects.select_related("supplier", "item__colour")
        sent = request.POST.get("offer", "")
        chosen = offers.filter(pk=int(sent)).first() if sent.isascii() and sent.isdigit() and len(sent) < 19 else None
        context = {"form": form, "offer": chosen, "next": _wanted_next(request), "back": reverse("stock:orders")}
        return render(request, "stock/order_add.html", context)

    return act_on_form(request, form, act, show, refusals=(OrderRefusal,), field="packs")


@require_POST
@owner_only
def change_line(request: StudioRequest, order_id: int, line_id: int) -> HttpResponse:
    """Buy another number of packs; none takes the line off the order."""
    found = _order(request, order_id)
    form = PlannedLineForm(request.POST, prefix=f"line{line_id}")

    def act() -> str:
        # Looked up in here: a line taken off twice leads back to the order, not to “not found”.
        line = get_object_or_404(OrderLine.objects.select_related("item__colour"), pk=line_id, order=found)
        packs = form.cleaned_data["packs"]
        actions.change_packs(line=line, packs=packs, by=request.user, at=timezone.now())
        said = (
            f"{line.item.label}: {packs:,} × {line.pack_size:,}." if packs else f"{line.item.label} is off the order."
        )
        messages.success(request, said)
        return reverse("stock:order", args=[found.pk])

    return act_on_form(
        request,
        form,
        act,
        lambda: _order_page(request, found, line_form=(line_id, form)),
        refusals=(OrderRefusal,),
        field="packs",
    )


@require_POST
@owner_only
def place(request: StudioRequest, order_id: int) -> HttpResponse:
    """Say that the order was placed today, and when it should come."""
    found = _order(request, order_id)
    today = timezone.localdate()
    form = PlaceForm(request.POST, not_before=today)

    def act() -> str:
        day = form.cleaned_data["expected_on"]
        actions.place_order(order=found, on=today, expected_on=day, by=request.user, at=timezone.now())
        messages.success(request, f"Placed with {found.supplier.name}. It counts as arriving on {_day(day)}.")
        return reverse("stock:order", args=[found.pk])

    return act_on_form(
        request,
        form,
        act,
        lambda: _order_page(request, found, place_form=form),
        refusals=(OrderRefusal,),
        field="expected_on",
    )


@require_POST
@owner_only
def expect(request: StudioRequest, order_id: int) -> HttpResponse:
    """Expect a placed order on another day."""
    found = _order(request, order_id)
    form = PlaceForm(request.POST, not_before=found.placed_on or timezone.localdate())

    def act() -> str:
        day = form.cleaned_data["expected_on"]
        actions.change_expected(order=found, day=day, by=request.user, at=timezone.now())
        messages.success(request, f"Order {found.pk} is expected on {_day(day)}.")
        return reverse("stock:order", args=[found.pk])

    return act_on_form(
        request,
        form,
        act,
        lambda: _order_page(request, found, place_form=form),
        refusals=(OrderRefusal,),
        field="expected_on",
    )


@require_POST
@owner_and_crew
def receive(request: StudioRequest, order_id: int) -> HttpResponse:
    """Put what came onto the shelf; what did not come stays on its way."""
    found = _order(request, order_id)
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
        rest = "That was the last of it." if found.state == State.RECEIVED else "The rest is still on its way."
        messages.success(request, f"{total:,} put on the shelf from order {found.pk}. {rest}")
        return reverse("stock:order", args=[found.pk])

    return act_on_form(
        request, form, act, lambda: _order_page(request, found, receive_form=form), refusals=(OrderRefusal,)
    )


@require_POST
@owner_only
def cancel(request: StudioRequest, order_id: int) -> HttpResponse:
    """Call the order off; nothing may have come of it."""
    found = _order(request, order_id)

    def act() -> str:
        actions.cancel_order(order=found, by=request.user, at=timezone.now())
        messages.success(request, f"Order {found.pk} with {found.supplier.name} is called off.")
        return reverse("stock:orders")

    return _acted(request, found, act)


@require_POST
@owner_only
def close(request: StudioRequest, order_id: int) -> HttpResponse:
    """Say that nothing more will come of an order."""
    found = _order(request, order_id)

    def act() -> str:
        actions.close_order(order=found, by=request.user, at=timezone.now())
        messages.success(request, f"Order {found.pk} is closed: nothing more of it counts as arriving.")
        return reverse("stock:order", args=[found.pk])

    return _acted(request, found, act)


@require_safe
@owner_only
def pdf(request: StudioRequest, order_id: int) -> HttpResponse:
    """The order on paper, to send to its supplier."""
    found = _order(request, order_id)
    lines: list[OrderLine] = found.shown_lines  # type: ignore[attr-defined]
    made = paperwork.order_pdf(found, lines, request.studio, made_at=found.created_at)
    return _file(made, "application/pdf", f"order-{found.pk}.pdf")


@require_safe
@owner_only
def csv(request: StudioRequest, order_id: int) -> HttpResponse:
    """The order as a table."""
    found = _order(request, order_id)
    lines: list[OrderLine] = found.shown_lines  # type: ignore[attr-defined]
    return _file(paperwork.order_csv(lines).encode(), "text/csv; charset=utf-8", f"order-{found.pk}.csv")


def _file(content: bytes, kind: str, name: str) -> HttpResponse:
    answer = HttpResponse(content, content_type=kind)
    answer["Content-Disposition"] = f'attachment; filename="{name}"'
    return answer


def days_late(order: Order, today: dt.date) -> int:
    """How many days ago it should have come; 0 while there is time or when it is not on its way."""
    if order.state != State.PLACED or order.expected_on is None:
        return 0
    return max((today - order.expected_on).days, 0)


def suggested_arrival(order: Order, lines: list[OrderLine], today: dt.date) -> dt.date | None:
    """The day an order placed today should come by its offers' longest lead time; None where none is known."""
    wanted = {(line.item_id, line.pack_size) for line in lines}
    offers = order.supplier.offers.values_list("item_id", "pack_size", "lead_days")
    lead_days = [days for item, pack_size, days in offers if (item, pack_size) in wanted]
    return today + dt.timedelta(days=max(lead_days)) if lead_days else None


def _acted(request: StudioRequest, order: Order, act: Callable[[], str]) -> HttpResponse:
    """Answer a button that has no form of its own, with its refusal on the order's page."""
    try:
        return answer_once(request, act)
    except OrderRefusal as refusal:
        response = _order_page(request, _order(request, order.pk), refusal=str(refusal))
        response.status_code = 422
        return response


def _counted(orders: QuerySet[Order]) -> QuerySet[Order]:
    """With how many lines each has, and how many are still to come of them."""
    to_come = Case(
        When(
            lines__received__lt=F("lines__packs") * F("lines__pack_size"),
            then=F("lines__packs") * F("lines__pack_size") - F("lines__received"),
        ),
        default=0,
    )
    return orders.annotate(line_count=Count("lines"), to_come=Sum(to_come))


def _order(request: StudioRequest, order_id: int) -> Order:
    """The order with its supplier and `shown_lines`, or 404. Planning is the owner's: crew are refused."""
    lines = OrderLine.objects.select_related("item__colour").order_by("pk")
    orders = Order.objects.select_related("supplier", "created_by")
    found = get_object_or_404(orders.prefetch_related(Prefetch("lines", lines, to_attr="shown_lines")), pk=order_id)
    if found.state == State.PLANNED and not request.user.is_owner:
        raise PermissionDenied("This page is the owner's.")
    return found


def _order_page(
    request: StudioRequest,
    order: Order,
    *,
    place_form: PlaceForm | None = None,
    receive_form: ReceiveForm | None = None,
    line_form: tuple[int, PlannedLineForm] | None = None,
    refusal: str = "",
) -> HttpResponse:
    """The order as it stands, with the form that was refused as it was typed."""
    today = timezone.localdate()
    lines: list[OrderLine] = order.shown_lines  # type: ignore[attr-defined]
    expected = order.expected_on or suggested_arrival(order, lines, today)
    changed = dict([line_form]) if line_form else {}
    context = {
        "order": order,
        "lines": [(line, changed.get(line.pk) or _line_form(line)) for line in lines],
        "to_come": sum(line.outstanding for line in lines),
        "came": sum(line.received for line in lines),
        "days_late": days_late(order, today),
        "place_form": place_form or PlaceForm(initial={"expected_on": expected}, not_before=today),
        "receive_form": receive_form or ReceiveForm(lines=lines, today=today),
        "refused": place_form or receive_form or (line_form[1] if line_form else None),
        "refusal": refusal,
    }
    if request.user.is_owner:
        context["total"] = sum(line.packs * line.price_minor for line in lines)
        context["mail"] = paperwork.order_mail(order, lines, request.studio)
    return render(request, "stock/order.html", context)


def _line_form(line: OrderLine) -> PlannedLineForm:
    return PlannedLineForm(initial={"packs": line.packs}, prefix=f"line{line.pk}")


def _wanted_next(request: StudioRequest) -> str:
    """Where the form asked to go back to, if that is a page of ours."""
    wanted = request.POST.get("next", "")
    ours = url_has_allowed_host_and_scheme(
        wanted, allowed_hosts={request.get_host()}, require_https=request.is_secure()
    )
    return wanted if ours and len(wanted) <= 200 else ""


def _day(day: dt.date) -> str:
    """A day in a sentence: “Friday 5 June”."""
    return f"{day:%A} {day.day} {day:%B}"
