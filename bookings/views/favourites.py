"""What shall it be? The kinds of piece to choose from, the studio's own favourites first."""

from collections.abc import Mapping
from functools import lru_cache
from typing import Any, NamedTuple

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils.safestring import SafeString
from django.views.decorators.http import require_POST, require_safe

from bookings.lifecycle import may_be_quoted
from bookings.models import Booking
from bookings.queries import as_picture
from estimating import actions
from estimating.bags import Diameters
from estimating.drawing import Swatch, svg
from estimating.forms import FORMS, LONGEST_NAME, Start
from estimating.kinds import KINDS, SpecErrors
from estimating.layout import Layout
from estimating.models import Favourite
from estimating.queries import inflated_in_force
from stock.models import Colour
from studio.access import StudioRequest, owner_only
from studio.once import answer_once

MENDABLE = 422
COLOURS_ON_CARDS = 3
STAND_INS = ("#1f2a44", "#e2d6c2", "#b5533c")
"""What cards are drawn in before the studio has colours."""


class Card(NamedTuple):
    """A way to begin a piece."""

    start: Start
    kind: str
    picture: SafeString
    href: str


class Offered(NamedTuple):
    """A favourite as it is offered: what kind it is, and its colours."""

    favourite: Favourite
    kind_title: str
    colours: list[Colour]
    href: str


@require_safe
@owner_only
def choose(request: StudioRequest, booking_id: int) -> HttpResponse:
    """Every kind of piece as a card, the studio's favourites before them."""
    return _page(request, _booking(booking_id))


@require_POST
@owner_only
def rename(request: StudioRequest, booking_id: int, favourite_id: int) -> HttpResponse:
    """Give a favourite another name."""
    booking = _booking(booking_id)
    favourite = get_object_or_404(Favourite, pk=favourite_id)
    name = request.POST.get("name", "").strip()

    def act() -> str:
        if not name:
            raise ValidationError("Give the favourite a name.")
        if len(name) > LONGEST_NAME:
            raise ValidationError(f"Name must be at most {LONGEST_NAME} characters; this one has {len(name):,}.")
        actions.rename_favourite(favourite=favourite, name=name)
        messages.success(request, f"The favourite is called “{name}” now.")
        return reverse("bookings:piece-choose", args=[booking.pk])

    try:
        return answer_once(request, act)
    except (ValidationError, actions.NameTaken) as refused:
        said = refused.messages[0] if isinstance(refused, ValidationError) else str(refused)
        return _page(request, booking, refused_for=favourite_id, typed=name, refusal=said, status=MENDABLE)


@require_POST
@owner_only
def remove(request: StudioRequest, booking_id: int, favourite_id: int) -> HttpResponse:
    """Take a favourite off the list."""
    booking = _booking(booking_id)

    def act() -> str:
        favourite = get_object_or_404(Favourite, pk=favourite_id)
        actions.remove_favourite(favourite=favourite)
        messages.success(request, f"“{favourite.name}” is no favourite any more. Pieces made from it stay.")
        return reverse("bookings:piece-choose", args=[booking.pk])

    return answer_once(request, act)


def _booking(booking_id: int) -> Booking:
    return get_object_or_404(Booking.objects.select_related("client"), pk=booking_id)


def _page(
    request: StudioRequest,
    booking: Booking,
    *,
    refused_for: int | None = None,
    typed: str = "",
    refusal: str = "",
    status: int = 200,
) -> HttpResponse:
    colours = list(Colour.objects.order_by("position", "name", "pk"))
    context = {
        "booking": booking,
        "is_open": may_be_quoted(booking.stage),
        "favourites": _offered(booking, {colour.key: colour for colour in colours}),
        "cards": _cards(booking, [colour for colour in colours if colour.in_use], inflated_in_force(())),
        "refused_for": refused_for,
        "typed": typed,
        "refusal": refusal,
    }
    return render(request, "bookings/piece_choose.html", context, status=status)


def _offered(booking: Booking, colours: Mapping[str, Colour]) -> list[Offered]:
    """The favourites of kinds there are, each with the colours it has that are still the studio's."""
    found = []
    for favourite in Favourite.objects.as_offered():
        if favourite.kind not in FORMS:
            continue
        data = FORMS[favourite.kind].data_of(favourite.name, favourite.spec, "imperial")
        keys = [key.removeprefix("colours-") for key in data if key.startswith("colours-")]
        keys += [said for key, said in data.items() if key == "colour" or key.endswith("-colour")]
        address = reverse("bookings:piece-new", args=[booking.pk, favourite.kind])
        known = [colours[key] for key in dict.fromkeys(keys) if key in colours]
        found.append(Offered(favourite, KINDS[favourite.kind].title, known, f"{address}?favourite={favourite.pk}"))
    return found


def _cards(booking: Booking, colours: list[Colour], inflated: Diameters) -> list[Card]:
    swatches = tuple(colour.swatch for colour in colours if colour.finish != Colour.Finish.FOIL)
    drawn_in = (swatches + STAND_INS[len(swatches) :])[:COLOURS_ON_CARDS]
    return [
        Card(
            start,
            kind,
            _picture(kind, start.key, drawn_in, inflated),
            reverse("bookings:piece-new", args=[booking.pk, kind]) + (f"?start={start.key}" if start.key else ""),
        )
        for kind, form in FORMS.items()
        for start in form.starts
    ]


@lru_cache(maxsize=64)
def _picture(kind: str, start_key: str, swatches: tuple[str, ...], inflated: Diameters) -> SafeString:
    """A small piece of a kind, made as any other is: what its form begins with, smaller."""
    colours = [Colour(pk=n, name=f"{n}", swatch=swatch) for n, swatch in enumerate(swatches, start=1)]
    asked = FORMS[kind]
    data = asked.first_data(colours, "imperial", start_key) | dict(asked.start_named(start_key).small)
    form = asked(data, colours=colours, measures="imperial")
    if not form.is_valid():
        raise SpecErrors([])
    palette = {colour.key: Swatch(colour.swatch, colour.name) for colour in colours}
    layout = _made_of(kind, form.spec, inflated)
    return as_picture(svg(layout, palette, title=form.data["name"], prefix=f"card-{kind}-{start_key}"))


def _made_of(kind: str, spec: Any, inflated: Diameters) -> Layout:
    """The piece as the studio blows its balloons, or as usual where a card so small cannot be made so."""
    try:
        return KINDS[kind].lay_out(spec, inflated=inflated)
    except SpecErrors:
        return KINDS[kind].lay_out(spec)
