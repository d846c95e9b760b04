"""Double-stuffed balloons: which two colours, one inside the other, can stand in for a third."""

from django.contrib import messages
from django.db.models import QuerySet
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from stock.colour import distance
from stock.forms import DoubleForm
from stock.models import DoubleRecipe
from stock.views import act_on_form, page_of
from stock.views.editing import edit_row, kept
from studio.access import StudioRequest, owner_only
from studio.once import answer_once

_SHOWS = frozenset({"outer_id", "inner_id", "looks_like_id", "swatch"})


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def listed(request: StudioRequest) -> HttpResponse:
    """Every recipe, and a form for another."""
    form = DoubleForm(request.POST or None)

    def show() -> HttpResponse:
        recipes = _recipes().order_by("looks_like__position", "looks_like__name", "pk")
        page = page_of(recipes, request)
        told = [(recipe, distance(recipe.swatch, recipe.looks_like.swatch)) for recipe in page]
        return render(request, "stock/doubles.html", {"form": form, "page": page, "told": told})

    def act() -> str:
        made = form.save()
        messages.success(request, f"{made} stands in for {made.looks_like} from now on.")
        return reverse("stock:doubles")

    return act_on_form(request, form, act, show) if request.method == "POST" else show()


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def edit(request: StudioRequest, recipe_id: int) -> HttpResponse:
    """Change a recipe. What was swapped by it stays as it is."""
    recipe = get_object_or_404(_recipes(), pk=recipe_id)

    def show(form: DoubleForm, seen: str) -> HttpResponse:
        return render(request, "stock/double_form.html", {"form": form, "recipe": recipe, "seen": seen})

    def act(form: DoubleForm) -> str:
        messages.success(request, f"{kept(form, _SHOWS)} is saved.")
        return reverse("stock:doubles")

    return edit_row(
        request,
        recipe,
        what="This recipe",
        columns=_SHOWS,
        form_of=lambda sent, row: DoubleForm(sent, instance=row),
        act=act,
        show=show,
    )


@require_POST
@owner_only
def remove(request: StudioRequest, recipe_id: int) -> HttpResponse:
    """Strike a recipe. What was swapped by it stays as it is."""

    def act() -> str:
        # Looked up in here: sending this twice leads back to the list, not to “not found”.
        found = get_object_or_404(_recipes(), pk=recipe_id)
        found.delete()
        messages.success(request, f"{found} is no recipe any more.")
        return reverse("stock:doubles")

    return answer_once(request, act)


def _recipes() -> QuerySet[DoubleRecipe]:
    return DoubleRecipe.objects.select_related("outer", "inner", "looks_like")
