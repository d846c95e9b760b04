"""The colours the studio works in."""

from django.contrib import messages
from django.db.models import Count
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from stock import actions
from stock.forms import ColourForm
from stock.models import Colour
from stock.views import act_on_form, page_of
from stock.views.editing import edit_row, kept
from studio.access import StudioRequest, owner_only
from studio.once import answer_once

_SHOWS = frozenset(ColourForm.Meta.fields)


@require_safe
@owner_only
def listed(request: StudioRequest) -> HttpResponse:
    """Every colour, as its disc, and in how many sizes it is kept."""
    colours = Colour.objects.annotate(sizes=Count("items")).order_by("-in_use", "position", "name", "finish", "pk")
    return render(request, "stock/colours.html", {"page": page_of(colours, request)})


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def new(request: StudioRequest) -> HttpResponse:
    """Add a colour."""
    form = ColourForm(request.POST or None)

    def show() -> HttpResponse:
        return render(request, "stock/colour_form.html", {"form": form})

    def act() -> str:
        colour = form.save()
        messages.success(request, f"{colour} is in your colours.")
        return reverse("stock:colours")

    return act_on_form(request, form, act, show) if request.method == "POST" else show()


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def edit(request: StudioRequest, colour_id: int) -> HttpResponse:
    """Change a colour; quotes sent already keep the colour they were drawn in."""
    colour = get_object_or_404(Colour, pk=colour_id)

    def show(form: ColourForm, seen: str) -> HttpResponse:
        return render(request, "stock/colour_form.html", {"form": form, "colour": colour, "seen": seen})

    def act(form: ColourForm) -> str:
        messages.success(request, f"{kept(form, _SHOWS)} is saved.")
        return reverse("stock:colours")

    return edit_row(
        request,
        colour,
        what="This colour",
        columns=_SHOWS,
        form_of=lambda sent, row: ColourForm(sent, instance=row),
        act=act,
        show=show,
    )


@require_POST
@owner_only
def starter(request: StudioRequest) -> HttpResponse:
    """Begin with a dozen everyday colours."""

    def act() -> str:
        made = actions.starter_palette(by=request.user, at=timezone.now())
        messages.success(request, f"{len(made)} colours are ready. Change their names and swatches as you like.")
        return reverse("stock:shelf")

    return answer_once(request, act)
