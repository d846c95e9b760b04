"""Two clients who are one, and a client who asks to be erased."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from bookings import actions
from bookings.forms.clients import EraseForm, MergeForm
from bookings.models import Booking, Client, ClientMerge
from bookings.queries.clients import digest_of_clients, written_down_twice
from bookings.queries.erasing import erasure_of
from studio.access import StudioRequest, owner_only
from studio.once import answer_once

either = require_http_methods(["GET", "HEAD", "POST"])


@owner_only
@require_safe
def twice(request: StudioRequest) -> HttpResponse:
    """Who is written down more than once: the same number, the same address."""
    return render(request, "clients/twice.html", {"found": written_down_twice()})


@owner_only
@either
def merge(request: StudioRequest, client_id: int, other_id: int) -> HttpResponse:
    """Two clients side by side, which value to keep of each, and making them one."""
    if client_id == other_id:
        messages.error(request, "A client cannot be merged with themselves.")
        return redirect("bookings:client-page", client_id)
    clients = Client.objects.in_bulk([client_id, other_id])
    if other_id not in clients and (done := ClientMerge.objects.filter(gone=other_id).first()):
        messages.info(request, f"They are one already: {done.kept}.")
        return redirect("bookings:client-page", done.kept_id)
    kept = get_object_or_404(Client, pk=client_id, erased_at__isnull=True)
    gone = get_object_or_404(Client, pk=other_id, erased_at__isnull=True)
    form = MergeForm(
        request.POST if request.method == "POST" else None, kept=kept, gone=gone, seen=digest_of_clients(kept, gone)
    )
    if request.method == "POST" and form.is_valid():

        def act() -> str:
            one = actions.merge_clients(
                kept=kept.pk,
                gone=gone.pk,
                taken=form.taken,
                seen=form.cleaned_data["seen"],
                by=request.user,
                at=timezone.now(),
            )
            messages.success(request, f"They are one now: {one}.")
            return reverse("bookings:client-page", args=[one.pk])

        try:
            return answer_once(request, act)
        except actions.MergeRefused as refusal:
            messages.error(request, f"Not done: {refusal}")
            return redirect("bookings:client-merge", client_id, other_id)
    sides = [(one, Booking.objects.filter(client=one).order_by("-event_on", "-pk")[:20]) for one in (kept, gone)]
    context = {"kept": kept, "gone": gone, "form": form, "sides": sides}
    return render(request, "clients/merge.html", context, status=422 if form.errors else 200)


@owner_only
@either
def erase(request: StudioRequest, client_id: int) -> HttpResponse:
    """What goes and what stays where a client asks to be erased; and, read and ticked, erasing them."""
    found = get_object_or_404(Client, pk=client_id)
    today = timezone.localdate()
    form = EraseForm(request.POST if request.method == "POST" else None)
    back = reverse("bookings:client-page", args=[found.pk])
    if request.method == "POST" and form.is_valid():

        def act() -> str:
            actions.erase_client(client=found.pk, today=today, by=request.user, at=timezone.now())
            messages.success(request, "They are erased. The books are as they were.")
            return back

        try:
            return answer_once(request, act)
        except actions.EraseRefused as refusal:
            messages.error(request, f"Not done: {refusal}")
            return redirect("bookings:client-erase", found.pk)
    context = {"client": found, "form": form, "plan": erasure_of(found, today=today)}
    return render(request, "clients/erase.html", context, status=422 if form.errors else 200)
