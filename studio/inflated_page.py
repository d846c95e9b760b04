"""The studio's own table of inflated diameters, and which bag a wanted one comes from."""

from collections.abc import Mapping
from decimal import Decimal
from typing import NamedTuple

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import render, resolve_url
from django.views.decorators.http import require_http_methods

from estimating import actions
from estimating.bags import Bag, bags_for
from estimating.models import InflatedDiameter
from estimating.queries import inflated_in_force
from studio.access import StudioRequest, owner_only
from studio.editions import StaleForm, edition_of, keep_to_edition, seen_by, tell_stale
from studio.inflated_form import Gas, InflatedForm, WantedForm, range_of, said_range, sizes_of
from studio.once import answer_once
from studio.units import System, from_inches, inches, show_length


class Answer(NamedTuple):
    """Which bags a wanted diameter comes from, the best in a sentence of its own."""

    sentence: str
    bags: list[tuple[Bag, str]]


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def inflated_page(request: StudioRequest) -> HttpResponse:
    """How far each size is blown. With `wanted` in the address: which bag that diameter comes from."""
    measures = request.studio.system
    rows = _rows()
    own = {(row.size, row.gas): row for row in rows}
    form = InflatedForm(request.POST or None, own=own, measures=measures)
    wanted = WantedForm(request.GET if "wanted" in request.GET else None, measures=measures)

    def act() -> str:
        keep_to_edition(request, "The table", lambda: _edition(_rows()))
        actions.keep_inflated(own=form.own())
        messages.success(request, "Your diameters are saved. What you lay out from now on is blown like this.")
        return resolve_url("settings-inflated")

    if request.method == "POST" and form.is_valid():
        try:
            return answer_once(request, act)
        except StaleForm as stale:
            now = {(row.size, row.gas): row for row in _rows()}
            tell_stale(form, stale, InflatedForm(None, own=now, measures=measures))
    answer = None
    if wanted.is_bound and wanted.is_valid():
        answer = answer_for(wanted.cleaned_data["wanted"], wanted.cleaned_data["helium"], measures)
    context = {"form": form, "wanted": wanted, "answer": answer, "seen": seen_by(request, form, _edition(rows))}
    template = "studio/inflated.html#bags" if request.htmx else "studio/inflated.html"
    return render(request, template, context, status=422 if form.errors or wanted.errors else 200)


def _rows() -> list[InflatedDiameter]:
    return list(InflatedDiameter.objects.order_by("gas", "size"))


def _edition(rows: list[InflatedDiameter]) -> str:
    return edition_of(*rows, but=frozenset({"id"}))


def answer_for(wanted_mm: Decimal, helium: bool, measures: System) -> Answer:
    """The bags for a diameter by the table in force, best first, each with how far it is blown and may be."""
    table = inflated_in_force(())
    gas = Gas.HELIUM if helium else Gas.AIR
    filled: Mapping[int, float] = table.helium if helium else table
    bags = bags_for(inches(wanted_mm), filled, {size: range_of(size, gas) for size in sizes_of(gas)})
    notes = [(bag, _note(bag, measures)) for bag in bags]
    return Answer(f"For {show_length(wanted_mm, measures)} take {bags[0].size}-inch balloons.", notes)


def _note(bag: Bag, measures: System) -> str:
    usually = show_length(from_inches(bag.usually), measures)
    return f"You blow it to {usually}; it may be {said_range(from_inches(bag.least), from_inches(bag.most), measures)}"
