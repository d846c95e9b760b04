"""Orders: what is planned, what is coming, what has come; each on its page. Crew see what comes, without a price."""

import datetime as dt
from collections.abc import Callable
from typing import Any

from django.core.exceptions import PermissionDenied
from django.db.models import Case, Count, F, Prefetch, QuerySet, Sum, When
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils import timezone
from django.views.decorators.http import require_safe

from stock import paperwork
from stock.actions import OrderRefusal
from stock.forms import PlaceForm, PlannedLineForm, ReceiveForm
from stock.models import Order, OrderLine
from stock.views import act_on_form, page_of
from studio.access import StudioRequest, owner_and_crew, owner_only

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
    return order_page(request, order_of(request, order_id))


@require_safe
@owner_only
def pdf(request: StudioRequest, order_id: int) -> HttpResponse:
    """The order on paper, to send to its supplier."""
    found = order_of(request, order_id)
    lines: list[OrderLine] = found.shown_lines  # type: ignore[attr-defined]
    made = paperwork.order_pdf(found, lines, request.studio, made_at=found.created_at)
    return _file(made, "application/pdf", f"order-{found.pk}.pdf")


@require_safe
@owner_only
def csv(request: StudioRequest, order_id: int) -> HttpResponse:
    """The order as a table."""
    found = order_of(request, order_id)
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


def order_of(request: StudioRequest, order_id: int) -> Order:
    """The order with its supplier and `shown_lines`, or 404. Planning is the owner's: crew are refused."""
    lines = OrderLine.objects.select_related("item__colour").order_by("pk")
    orders = Order.objects.select_related("supplier", "created_by")
    found = get_object_or_404(orders.prefetch_related(Prefetch("lines", lines, to_attr="shown_lines")), pk=order_id)
    if found.state == State.PLANNED and not request.user.is_owner:
        raise PermissionDenied("This page is the owner's.")
    return found


def order_page(
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


def act_on_day(request: StudioRequest, order: Order, form: PlaceForm, act: Callable[[], str]) -> HttpResponse:
    """Do what a form with the day an order is expected on asks for; a refusal stands at that day."""
    return act_on_form(
        request,
        form,
        act,
        lambda: order_page(request, order, place_form=form),
        refusals=(OrderRefusal,),
        field="expected_on",
    )


def _line_form(line: OrderLine) -> PlannedLineForm:
    return PlannedLineForm(initial={"packs": line.packs}, prefix=f"line{line.pk}")


def said_day(day: dt.date) -> str:
    """A day in a sentence: “Friday 5 June”."""
    return f"{day:%A} {day.day} {day:%B}"
