"""What a client must not come near, and what of their job is made of it."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from django.db.models import F, QuerySet

from bookings.models import Booking, Client, Piece, Place
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
    return bookings.annotate(place_latex=F("its_place__latex"))


@dataclass(frozen=True, slots=True)
class Allergies:
    """What must not be brought near a job's client, and near whoever else is at its place.

    `words` are the client's, as they are written down; `at_the_place` says that somebody there is allergic to latex,
    or that the venue refuses it.
    """

    words: str
    of_client: bool
    at_the_place: bool

    @property
    def no_latex(self) -> bool:
        """Whether latex is for either of them to be kept away from."""
        return self.of_client or self.at_the_place

    @property
    def is_any(self) -> bool:
        """Whether there is anything to be said."""
        return bool(self.words) or self.at_the_place

    @property
    def badge(self) -> str:
        """In a list of jobs: what to look at first."""
        return "latex allergy" if self.no_latex else "allergy" if self.words else ""


def allergies_of(booking: Any) -> Allergies:
    """What is known of a booking's client and of its place, together: the only place where the two are joined.

    The place is asked for where the booking was read neither with it nor `with_latex_of_place`.
    """
    said = booking.place_latex if hasattr(booking, "place_latex") else Place.objects.of(booking).latex
    client = allergies_of_client(booking.client)
    return Allergies(client.words, client.of_client, said == Place.Latex.SOME)


def allergies_of_client(client: Client) -> Allergies:
    """What is known of a client, wherever they are."""
    return Allergies(client.allergy_words, client.latex_allergy, at_the_place=False)


@dataclass(frozen=True, slots=True)
class LatexCheck:
    """What of a job is latex, where it should have none: its pieces by name, and what each takes."""

    pieces: tuple[tuple[str, str], ...]

    @property
    def is_clear(self) -> bool:
        """Whether nothing in it is."""
        return not self.pieces


def latex_check(
    booking: Booking, pieces: Sequence[Piece], currency: str, known: Known | None = None
) -> LatexCheck | None:
    """Which of a booking's pieces take latex, in whichever option or extra they are offered; None where neither its
    client nor its place is known to bear none, or while nothing is offered. `known` is read where the caller has not.
    """
    offered = [piece for piece in pieces if piece.goes_in != NOWHERE]
    if not offered or not allergies_of(booking).no_latex:
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
