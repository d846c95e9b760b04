"""Photos of the place, and pieces as they were drawn on them."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django.db.models import QuerySet
from django.urls import reverse

from bookings.models import Booking, Photo, Piece, Sketch
from estimating.drawing import Swatch
from estimating.layout import Layout
from estimating.over_photo import Backdrop, inside, svg_over_photo, svg_over_photo_for_paper
from estimating.plane import plane_of_marks
from estimating.queries import PieceToMake, palette
from estimating.spines import length_of
from studio.units import System, from_inches, inches, show_length

SKETCHED = "sketched"
LENGTHS = ("length", "width", "height")
LIGHT = ("full", "picture")


@dataclass(frozen=True, slots=True)
class SketchedPiece(PieceToMake):
    """A piece whose picture is drawn over a photo, or over a blank wall where `photo` is None."""

    backdrop: Backdrop
    photo: Photo | None


def photos_of(booking: Booking) -> QuerySet[Photo]:
    """The booking's photos, the newest first, without their pictures."""
    return booking.photos.defer(*LIGHT).order_by("-added_at", "-pk")


def with_sketches(pieces: QuerySet[Piece]) -> QuerySet[Piece]:
    """The pieces with their sketches and what is known of the photos, but not the photos themselves."""
    return pieces.select_related("sketch__photo").defer(*(f"sketch__photo__{name}" for name in LIGHT))


def sketch_of(piece: Piece | None) -> Sketch | None:
    """How the piece was drawn, None where it was not."""
    return getattr(piece, "sketch", None)


def sketched(made: PieceToMake, piece: Piece | None) -> PieceToMake:
    """What is made of a piece, with its sketch where it runs along one."""
    sketch = sketch_of(piece) if getattr(made.spec, "shape", "") == SKETCHED else None
    if sketch is None:
        return made
    return SketchedPiece(made.name, made.kind, made.spec, made.layout, backdrop_of(sketch), sketch.photo)


def backdrop_of(sketch: Sketch) -> Backdrop:
    """The wall of a kept sketch; what was kept was measured before."""
    known = {name: inches(Decimal(sketch.known[name])) for name in LENGTHS if name in sketch.known}
    return Backdrop(plane_of_marks([(x, y) for x, y in sketch.marks], known), sketch.width, sketch.height)


def drawn_on_screen(
    piece: SketchedPiece, swatches: Mapping[str, Swatch], *, prefix: str, whole: bool, what: str = ""
) -> str:
    """The picture of `what` with its photo: inside it where it must be `whole`, else by its address for whoever is
    signed in.
    """
    if piece.photo is None:
        address = ""
    else:
        address = inside(bytes(piece.photo.picture)) if whole else photo_address(piece.photo, small=True)
    return svg_over_photo(
        piece.layout, swatches, piece.backdrop, address=address, title=piece.name, prefix=prefix, what=what
    )


def drawn_on_paper(
    piece: SketchedPiece, swatches: Mapping[str, Swatch], *, prefix: str, address: str, what: str = ""
) -> str:
    """The picture of `what` for a PDF, its photo at `address`."""
    at = address if piece.photo is not None else ""
    return svg_over_photo_for_paper(
        piece.layout, swatches, piece.backdrop, address=at, title=piece.name, prefix=prefix, what=what
    )


def drawn_alone(layout: Layout, backdrop: Backdrop, *, title: str) -> str:
    """The balloons alone, for a page that has the photo beneath."""
    return svg_over_photo(layout, palette(), backdrop, address=None, title=title, prefix="sketch")


def photo_address(photo: Photo, *, small: bool = False) -> str:
    """Where somebody signed in finds the photo."""
    name = "bookings:photo-small" if small else "bookings:photo"
    return reverse(name, args=[photo.booking_id, photo.name])


def length_words(path: Any, measures: System) -> str:
    """How long a path along the wall is, to the inch or the centimetre: “30 ft 9 in”."""
    step = Decimal("25.4") if measures == "imperial" else Decimal(10)
    return show_length(round(from_inches(length_of(path)) / step) * step, measures)
