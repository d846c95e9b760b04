"""Kit: who has it when, how many there are, and taking it out and bringing it back. Wear is for the owner alone."""

from collections.abc import Callable, Mapping
from typing import Any

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils import timezone
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from stock import actions
from stock.actions import KitRefusal
from stock.forms.counting import room_words
from stock.forms.kit import KitBackForm, KitForm, KitMoveForm, weight_words
from stock.models import Kit, KitMovement, KitPromise
from stock.queries.kit import kit_list, kit_story
from stock.views import act_on_form
from stock.views.editing import edit_row, kept
from studio.access import StudioRequest, owner_and_crew, owner_only
from studio.once import answer_once

_EDIT_SHOWS = frozenset(KitForm.Meta.fields) | {"height_mm", "weight_grams", "carries_grams", "room_millilitres"}
KIT_A_PAGE = 50
MOST_COMING = 12
"""How much of what goes out next is listed; each kit's page has all of its own."""


@require_safe
@owner_and_crew
def listed(request: StudioRequest) -> HttpResponse:
    """What is promised twice, what is out, and every kit."""
    with_retired = request.GET.get("with") == "retired"
    today = timezone.localdate()
    rows = kit_list(today, with_retired=with_retired)
    clashes = sorted((clash for row in rows for clash in row.clashes), key=lambda clash: (not clash.firm, clash.first))
    out = sorted(((promise, row) for row in rows for promise in row.out), key=lambda one: (one[0].back_on, one[0].pk))
    coming = sorted(
        ((promise, row) for row in rows for promise in row.ahead if promise.back_on >= today),
        key=lambda one: (one[0].out_on, one[0].pk),
    )
    context = {
        "rows": rows,
        "page": Paginator(rows, KIT_A_PAGE).get_page(request.GET.get("page")),
        "query": "with=retired&" if with_retired else "",
        "clashes": clashes,
        "out": out,
        "coming": coming[:MOST_COMING],
        "with_retired": with_retired,
        "today": today,
    }
    return render(request, "stock/kit.html", context)


@require_safe
@owner_and_crew
def story(request: StudioRequest, kit_id: int) -> HttpResponse:
    """One kit on one page."""
    return _story_page(request, get_object_or_404(Kit, pk=kit_id))


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def new(request: StudioRequest) -> HttpResponse:
    """List new kit."""
    form = KitForm(request.POST or None, currency=request.studio.currency, measures=request.studio.system)

    def show() -> HttpResponse:
        return render(request, "stock/kit_form.html", {"form": form})

    def act() -> str:
        kit = actions.add_kit(kit=form.instance, owned=form.cleaned_data["owned"], by=request.user, at=timezone.now())
        messages.success(request, f"{kit} is listed.")
        return reverse("stock:kit-story", args=[kit.pk])

    return act_on_form(request, form, act, show) if request.method == "POST" else show()


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def edit(request: StudioRequest, kit_id: int) -> HttpResponse:
    """Change what is known of it. How many there are changes on its own page, line by line."""
    kit = get_object_or_404(Kit, pk=kit_id)

    def form_of(sent: Any, row: Kit) -> KitForm:
        return KitForm(sent, instance=row, currency=request.studio.currency, measures=request.studio.system)

    def show(form: KitForm, seen: str) -> HttpResponse:
        return render(request, "stock/kit_form.html", {"form": form, "kit": kit, "seen": seen})

    def act(form: KitForm) -> str:
        messages.success(request, f"{kept(form, _EDIT_SHOWS)} is saved.")
        return reverse("stock:kit-story", args=[kit.pk])

    return edit_row(request, kit, what="This kit", columns=_EDIT_SHOWS, form_of=form_of, act=act, show=show)


@require_POST
@owner_and_crew
def move(request: StudioRequest, kit_id: int) -> HttpResponse:
    """Write one line of how many there are: counted, got, broken or lost."""
    kit = get_object_or_404(Kit, pk=kit_id)
    sent = request.POST.get("kind", "")
    kind = sent if sent in KitMovement.Kind.values else KitMovement.Kind.COUNTED.value
    form = KitMoveForm(request.POST, kind=kind)

    def act() -> str:
        quantity, why = form.cleaned_data["quantity"], form.cleaned_data["why"]
        by, at = request.user, timezone.now()
        writers: Mapping[str, Callable[[], object]] = {
            "counted": lambda: actions.count_kit(kit=kit, counted=quantity, why=why, by=by, at=at),
            "got": lambda: actions.get_kit(kit=kit, quantity=quantity, why=why, by=by, at=at),
            "broken": lambda: actions.write_off_kit(kit=kit, broken=quantity, why=why, by=by, at=at),
            "lost": lambda: actions.write_off_kit(kit=kit, lost=quantity, why=why, by=by, at=at),
        }
        writers[form.cleaned_data["kind"]]()
        messages.success(request, f"{kit}: {quantity:,} {kind}.")
        return reverse("stock:kit-story", args=[kit.pk])

    def show() -> HttpResponse:
        return _story_page(request, kit, moved=(kind, form))

    return act_on_form(request, form, act, show, refusals=(KitRefusal,), field="quantity")


@require_POST
@owner_only
def retire(request: StudioRequest, kit_id: int) -> HttpResponse:
    """Promise it to nobody any more; or again, where it was retired."""
    kit = get_object_or_404(Kit, pk=kit_id)
    again = request.POST.get("again") == "yes"

    def act() -> str:
        try:
            if again:
                actions.take_kit_up(kit=kit, by=request.user, at=timezone.now())
            else:
                actions.retire_kit(kit=kit, today=timezone.localdate(), by=request.user, at=timezone.now())
        except KitRefusal as refusal:
            messages.error(request, f"Not retired. {refusal}")
        else:
            messages.success(request, f"{kit} {'can be promised again' if again else 'is retired'}.")
        return reverse("stock:kit-story", args=[kit.pk])

    return answer_once(request, act)


@require_POST
@owner_and_crew
def take_out(request: StudioRequest, promise_id: int) -> HttpResponse:
    """It goes into the van."""
    promise = get_object_or_404(KitPromise.objects.select_related("kit"), pk=promise_id)

    def act() -> str:
        try:
            actions.take_kit_out(promises=[promise.pk], by=request.user, at=timezone.now())
        except KitRefusal as refusal:
            messages.error(request, f"Not written as out. {refusal}")
        else:
            messages.success(request, f"{promise.kit} is out for {promise.booking_name}.")
        return _wanted_next(request) or reverse("stock:kit-story", args=[promise.kit_id])

    return answer_once(request, act)


@require_http_methods(["GET", "HEAD", "POST"])
@owner_and_crew
def bring_back(request: StudioRequest, promise_id: int) -> HttpResponse:
    """It is back: sound, or with what was found."""
    promise = get_object_or_404(KitPromise.objects.select_related("kit"), pk=promise_id)
    form = KitBackForm(request.POST or None, promise=promise)

    def show() -> HttpResponse:
        context = {"form": form, "promise": promise, "next": _wanted_next(request)}
        return render(request, "stock/kit_back.html", context)

    def act() -> str:
        said = form.cleaned_data
        actions.bring_kit_back(
            promises=[promise.pk],
            broken=said["broken"] or 0,
            lost=said["lost"] or 0,
            damage=said["damage"],
            by=request.user,
            at=timezone.now(),
        )
        messages.success(request, f"{promise.kit} is back from {promise.booking_name}.")
        return _wanted_next(request) or reverse("stock:kit-story", args=[promise.kit_id])

    if request.method != "POST":
        return show()
    return act_on_form(request, form, act, show, refusals=(KitRefusal,), field="broken")


def _story_page(request: StudioRequest, kit: Kit, moved: tuple[str, KitMoveForm] | None = None) -> HttpResponse:
    told = kit_story(kit, timezone.localdate())
    forms = {kind: KitMoveForm(kind=kind) for kind in ("counted", "broken", "lost", "got")}
    if moved is not None:
        forms[moved[0]] = moved[1]
    context = {
        "kit": kit,
        "story": told,
        "row": told.row,
        "forms": forms,
        "moved": moved[1] if moved else None,
        "open_kind": moved[0] if moved else "",
        "today": timezone.localdate(),
        "weight": weight_words(kit.weight_grams, request.studio.system),
        "room": room_words(kit.room_millilitres, request.studio.system),
        "carries": weight_words(kit.carries_grams, request.studio.system),
    }
    return render(request, "stock/kit_story.html", context)


def _wanted_next(request: StudioRequest) -> str:
    """Where the form asked to go back to, if that is a page of ours."""
    wanted = request.POST.get("next", "") or request.GET.get("next", "")
    ours = url_has_allowed_host_and_scheme(
        wanted, allowed_hosts={request.get_host()}, require_https=request.is_secure()
    )
    return wanted if ours and len(wanted) <= 200 else ""
