"""What a client must not come near, and what of their job is made of it."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from django.db.models import OuterRef, QuerySet, Subquery

from bookings.models import Booking, Piece, Place
from bookings.queries.estimates import estimate_of, to_make
from bookings.queries.goes_in import NOWHERE
from bookings.queries.known import Known, read_known
from estimating.lines import Line
from estimating.queries import JobEstimate
from stock.models import Colour, Item

LATEX_SORTS = ("latex", "tie")
"""Sorts of a materials list that are of latex: balloons, unless they are of foil, and the 260s that tie them."""


def with_latex_of_place(bookings: QuerySet[Booking]) -> QuerySet[Any]:
    """The bookings with `place_latex`, what their place says of latex, in the same statement."""
    return bookings.annotate(place_latex=Subquery(Place.objects.filter(booking=OuterRef("pk")).values("latex")[:1]))


@dataclass(frozen=True, slots=True)
class LatexCheck:
    """What of a job is latex, for a client who is allergic to it: its pieces by name, and what each takes."""

    pieces: tuple[tuple[str, str], ...]

    @property
    def is_clear(self) -> bool:
        """Whether nothing in it is."""
        return not self.pieces


def latex_check(
    booking: Booking, pieces: Sequence[Piece], currency: str, known: Known | None = None
) -> LatexCheck | None:
    """Which of a booking's pieces take latex, in whichever option or extra they are offered; None for a client who is
    not known to be allergic, or while nothing is offered. `known` is read where the caller has not."""
    offered = [piece for piece in pieces if piece.goes_in != NOWHERE]
    if not booking.client.latex_allergy or not offered:
        return None
    estimate = estimate_of([to_make(piece) for piece in offered], booking, currency, known := known or read_known())
    foils = _keys_of_foil(known.colours)
    things = {str(item.pk): item for item in Item.objects.filter(pk__in=_item_keys(estimate)).select_related("colour")}
    found = []
    for one in estimate.pieces:
        lines = [line for line in one.materials.lines if line.needed and _is_latex(line, foils, things)]
        if lines:
            found.append((one.piece.name, _words(lines)))
    return LatexCheck(tuple(found))


def _keys_of_foil(colours: Sequence[Colour]) -> set[str]:
    return {one.key for one in colours if one.finish == Colour.Finish.FOIL or one.form != Colour.Form.ROUND}


def _item_keys(estimate: JobEstimate) -> set[int]:
    return {int(line.item) for one in estimate.pieces for line in one.materials.lines if line.item is not None}


def _is_latex(line: Line, foils: set[str], things: dict[str, Item]) -> bool:
    if line.item is not None:
        item = things.get(line.item)
        if item is None or item.sort not in (Item.Sort.LATEX, Item.Sort.TIE):
            return False
        return item.colour is None or item.colour.key not in foils
    return line.sort in LATEX_SORTS and line.colour not in foils


def _words(lines: list[Line]) -> str:
    balloons = sum(line.needed for line in lines if line.sort != "tie")
    ties = sum(line.needed for line in lines if line.sort == "tie")
    said = [
        f"{count:,} {word}{'' if count == 1 else 's'}"
        for count, word in ((balloons, "latex balloon"), (ties, "latex tie"))
        if count
    ]
    return " and ".join(said)
