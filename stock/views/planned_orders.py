"""Orders that are being planned: what is put on them, and that one was placed. Prices: for the owner alone."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils import timezone
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.http import require_POST

from stock import actions
from stock.actions import OrderRefusal
from stock.forms import AddToOrderForm, PlaceForm, PlannedLineForm
from stock.models import Offer, OrderLine
from stock.views import act_on_form
from stock.views.orders import act_on_day, order_of, order_page, said_day
from studio.access import StudioRequest, owner_only


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
    found = order_of(request, order_id)
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
        lambda: order_page(request, found, line_form=(line_id, form)),
        refusals=(OrderRefusal,),
        field="packs",
    )


@require_POST
@owner_only
def place(request: StudioRequest, order_id: int) -> HttpResponse:
    """Say that the order was placed today, and when it should come."""
    found = order_of(request, order_id)
    today = timezone.localdate()
    form = PlaceForm(request.POST, not_before=today)

    def act() -> str:
        day = form.cleaned_data["expected_on"]
        actions.place_order(order=found, on=today, expected_on=day, by=request.user, at=timezone.now())
        messages.success(request, f"Placed with {found.supplier.name}. It counts as arriving on {said_day(day)}.")
        return reverse("stock:order", args=[found.pk])

    return act_on_day(request, found, form, act)


def _wanted_next(request: StudioRequest) -> str:
    """Where the form asked to go back to, if that is a page of ours."""
    wanted = request.POST.get("next", "")
    ours = url_has_allowed_host_and_scheme(
        wanted, allowed_hosts={request.get_host()}, require_https=request.is_secure()
    )
    return wanted if ours and len(wanted) <= 200 else ""
