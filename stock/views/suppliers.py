"""Who the studio buys from, and what each of them asks. Prices: for the owner alone."""

from typing import Any

from django.contrib import messages
from django.db.models import Count
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from stock.forms import NewOfferForm, OfferForm, SupplierForm
from stock.models import Offer, Supplier
from stock.views import act_on_form, asked, page_of
from stock.views.editing import edit_row, kept
from studio.access import StudioRequest, owner_only
from studio.editions import edition_of
from studio.once import answer_once

_SUPPLIER_SHOWS = frozenset(SupplierForm.Meta.fields)
_OFFER_SHOWS = frozenset({"pack_size", "price_minor", "lead_days", "their_name", "their_code"})


@require_safe
@owner_only
def listed(request: StudioRequest) -> HttpResponse:
    """Every supplier, and how much each offers."""
    suppliers = Supplier.objects.annotate(offered=Count("offers")).order_by("name", "pk")
    return render(request, "stock/suppliers.html", {"page": page_of(suppliers, request)})


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def new(request: StudioRequest) -> HttpResponse:
    """Add a supplier, then go on to what they offer."""
    form = SupplierForm(request.POST or None, currency=request.studio.currency)

    def show() -> HttpResponse:
        return render(request, "stock/supplier_form.html", {"form": form})

    def act() -> str:
        supplier = form.save()
        messages.success(request, f"{supplier.name} is saved. Add what they offer.")
        return reverse("stock:supplier", args=[supplier.pk])

    return act_on_form(request, form, act, show) if request.method == "POST" else show()


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def supplier(request: StudioRequest, supplier_id: int) -> HttpResponse:
    """One supplier: what they offer, at what price, and how to reach them."""
    found = get_object_or_404(Supplier, pk=supplier_id)
    offer_form = NewOfferForm(
        currency=request.studio.currency, supplier=found, initial=asked(request, "colour", "size", "item_listed")
    )

    def act(form: SupplierForm) -> str:
        messages.success(request, f"{kept(form, _SUPPLIER_SHOWS).name} is saved.")
        return reverse("stock:supplier", args=[found.pk])

    return edit_row(
        request,
        found,
        what="This supplier",
        columns=_SUPPLIER_SHOWS,
        form_of=lambda sent, row: SupplierForm(sent, currency=request.studio.currency, instance=row),
        act=act,
        show=lambda form, seen: _supplier_page(request, found, form, offer_form, seen),
    )


@require_POST
@owner_only
def add_offer(request: StudioRequest, supplier_id: int) -> HttpResponse:
    """Write down what a supplier sells an item for; an item new to the shelf is listed there too."""
    found = get_object_or_404(Supplier, pk=supplier_id)
    form = NewOfferForm(request.POST, currency=request.studio.currency, supplier=found)

    def act() -> str:
        item = form.item()
        if item is None:
            item = form.unlisted()
            item.save()
        offer = _written(form, Offer(supplier=found, item=item))
        messages.success(request, f"{item.label} in packs of {offer.pack_size:,} is offered by {found.name}.")
        return reverse("stock:supplier", args=[found.pk])

    def show() -> HttpResponse:
        how_to_reach = SupplierForm(currency=request.studio.currency, instance=found)
        return _supplier_page(request, found, how_to_reach, form, edition_of(found, only=_SUPPLIER_SHOWS))

    return act_on_form(request, form, act, show)


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def offer(request: StudioRequest, supplier_id: int, offer_id: int) -> HttpResponse:
    """Change an offer. Orders keep the price they were made at."""
    offers = Offer.objects.select_related("supplier", "item__colour")
    found = get_object_or_404(offers, pk=offer_id, supplier=supplier_id)

    def form_of(sent: Any, row: Offer) -> OfferForm:
        return OfferForm(sent, currency=request.studio.currency, supplier=found.supplier, offer=row)

    def act(form: OfferForm) -> str:
        _written(form, found)
        messages.success(request, f"The offer of {found.item.label} is saved.")
        return reverse("stock:supplier", args=[supplier_id])

    def show(form: OfferForm, seen: str) -> HttpResponse:
        return render(request, "stock/offer_form.html", {"form": form, "offer": found, "seen": seen})

    return edit_row(request, found, what="This offer", columns=_OFFER_SHOWS, form_of=form_of, act=act, show=show)


@require_POST
@owner_only
def remove_offer(request: StudioRequest, supplier_id: int, offer_id: int) -> HttpResponse:
    """Strike an offer the supplier no longer makes. Orders made from it stay as they are."""

    def act() -> str:
        # Looked up in here: sending this twice leads back to the page, not to “not found”.
        found = get_object_or_404(Offer.objects.select_related("item__colour"), pk=offer_id, supplier=supplier_id)
        found.delete()
        messages.success(request, f"The offer of {found.item.label} is gone.")
        return reverse("stock:supplier", args=[supplier_id])

    return answer_once(request, act)


def _written(form: OfferForm, offer: Offer) -> Offer:
    """`offer` with what the form says, saved."""
    offer.pack_size = form.cleaned_data["pack_size"]
    offer.price_minor = form.cleaned_data["price"]
    offer.lead_days = form.cleaned_data["lead_days"]
    offer.their_name, offer.their_code = form.cleaned_data["their_name"], form.cleaned_data["their_code"]
    offer.save()
    return offer


def _supplier_page(
    request: StudioRequest, supplier: Supplier, form: SupplierForm, offer_form: NewOfferForm, seen: str
) -> HttpResponse:
    offers = supplier.offers.select_related("item__colour").order_by(
        "item__sort", "item__colour__position", "item__colour__name", "item__size", "item__name", "pack_size", "pk"
    )
    context = {
        "supplier": supplier,
        "form": form,
        "seen": seen,
        "offer_form": offer_form,
        "page": page_of(offers, request),
        "planned": supplier.orders.filter(state="planned").order_by("pk").first(),
    }
    return render(request, "stock/supplier.html", context)
