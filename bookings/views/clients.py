"""Clients: the list, one on one page, writing down and changing, what they agreed to."""

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpResponse, JsonResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from bookings import actions
from bookings.forms.clients import ClientForm, ConsentForm, WhoForm
from bookings.models import Client, ClientMerge
from bookings.queries.allergies import allergies_of_client
from bookings.queries.client_card import client_page, everything_of
from bookings.queries.clients import WHICH, clients_list, is_anybody_twice, known_again, rows_of
from studio.access import StudioRequest, owner_and_crew, owner_only
from studio.once import answer_once

CLIENTS_A_PAGE = 50

either = require_http_methods(["GET", "HEAD", "POST"])


@owner_and_crew
@require_safe
def clients(request: StudioRequest) -> HttpResponse:
    """Everybody by name, or whom a search fits; crew see those whose job is under way."""
    shows_money, today = request.user.is_owner, timezone.localdate()
    search = request.GET.get("q", "").strip()[:100]
    which = request.GET.get("show", "all")
    which = which if which in WHICH and shows_money else "all"
    found = clients_list(which, search, today=today, shows_money=shows_money)
    page = Paginator(found, CLIENTS_A_PAGE).get_page(request.GET.get("page"))
    query = request.GET.copy()
    query.pop("page", None)
    context = {
        "page": page,
        "rows": rows_of(list(page.object_list), today=today, shows_money=shows_money),
        "which": which,
        "choices": WHICH,
        "search": search,
        "query": f"{query.urlencode()}&" if query else "",
        "has_twice": shows_money and not request.htmx and is_anybody_twice(),
    }
    return render(request, "clients/list.html#rows" if request.htmx else "clients/list.html", context)


@owner_and_crew
@require_safe
def client(request: StudioRequest, client_id: int) -> HttpResponse:
    """One client: their jobs, what to keep away from them, what they agreed to. A merged one leads to who was kept."""
    found = Client.objects.filter(pk=client_id).first()
    if found is None:
        merge = get_object_or_404(ClientMerge, gone=client_id)
        return redirect("bookings:client-page", merge.kept_id)
    today = timezone.localdate()
    page = client_page(found, today=today, shows_money=request.user.is_owner)
    context = {"client": found, "page": page, "form": ConsentForm(today=today), "allergies": allergies_of_client(found)}
    return render(request, "clients/client.html", context)


@owner_only
@either
def new(request: StudioRequest) -> HttpResponse:
    """Write down somebody who has no job yet; who is reached by the same number or address is asked about first."""
    form = ClientForm(request.POST or None)
    is_good = request.method == "POST" and form.is_valid()
    known = known_again(phone=form.cleaned_data["phone"], email=form.cleaned_data["email"]) if is_good else []
    who = WhoForm(request.POST if known else None, known=known)
    if is_good and (not known or who.is_valid()):
        chosen = who.cleaned_data["who"] if known else None
        if chosen is not None:
            messages.info(request, "They are known already: look what has changed. Nothing was saved.")
            return redirect("bookings:client-edit", chosen)

        def add() -> str:
            made = actions.add_client(given=form.given, by=request.user, at=timezone.now())
            messages.success(request, f"{made} is written down.")
            return reverse("bookings:client-page", args=[made.pk])

        return answer_once(request, add)
    status = 422 if form.errors or who.errors else 200
    return render(request, "clients/form.html", {"form": form, "who": who}, status=status)


@owner_only
@either
def edit(request: StudioRequest, client_id: int) -> HttpResponse:
    """Change what is known of a client."""
    found = get_object_or_404(Client, pk=client_id, erased_at__isnull=True)
    form = ClientForm(request.POST or None, instance=found)
    if request.method == "POST" and form.is_valid():

        def save() -> str:
            kept = actions.edit_client(client=found, given=form.given, by=request.user, at=timezone.now())
            messages.success(request, f"{kept} is saved.")
            return reverse("bookings:client-page", args=[kept.pk])

        try:
            return answer_once(request, save)
        except actions.ClientIsGone as refusal:
            form.add_error(None, str(refusal))
    status = 422 if form.errors else 200
    return render(request, "clients/form.html", {"form": form, "client": found}, status=status)


@owner_only
@require_POST
def consent(request: StudioRequest, client_id: int) -> HttpResponse:
    """Write down that they said yes to something, or took it back."""
    found = get_object_or_404(Client, pk=client_id, erased_at__isnull=True)
    today = timezone.localdate()
    form = ConsentForm(request.POST, today=today)
    if form.is_valid():

        def note() -> str:
            entry = actions.note_consent(client=found, **form.cleaned_data, by=request.user, at=timezone.now())
            messages.success(request, f"{entry.get_what_display()}: written down.")
            return reverse("bookings:client-page", args=[entry.client_id])

        try:
            return answer_once(request, note)
        except actions.ClientIsGone as refusal:
            form.add_error(None, str(refusal))
    page = client_page(found, today=today, shows_money=True)
    context = {"client": found, "page": page, "form": form, "allergies": allergies_of_client(found)}
    return render(request, "clients/client.html", context, status=422)


@owner_and_crew
@require_POST
def known(request: StudioRequest) -> HttpResponse:
    """The part of a form that asks whether somebody is known, while their number or address is typed."""
    phone, email = (request.POST.get(field, "")[:254] for field in ("phone", "email"))
    found = known_again(phone=phone, email=email)
    return render(request, "clients/_who.html", {"who": WhoForm(known=found)})


@owner_only
@require_safe
def export(request: StudioRequest, client_id: int) -> HttpResponse:
    """Everything kept of a client, as they may ask for it."""
    found = get_object_or_404(Client, pk=client_id)
    answer = JsonResponse(
        everything_of(found, at=timezone.now()), json_dumps_params={"indent": 1, "ensure_ascii": False}
    )
    answer["Content-Disposition"] = f'attachment; filename="client-{found.pk}.json"'
    return answer
