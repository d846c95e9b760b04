"""Photos of the place, and garlands drawn on them."""

import secrets
from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any

from django.db import transaction
from django.db.models import F

from bookings.actions.jobs import write_history
from bookings.actions.pieces import keep_piece
from bookings.models import Booking, Photo, Piece, Sketch
from estimating.kinds import GarlandSpec
from studio.models import User
from studio.photos import CleanPhoto

MOST_PHOTOS = 24


class TooManyPhotos(Exception):
    """A booking has as many photos as it may have."""

    def __init__(self) -> None:
        super().__init__(f"A booking keeps {MOST_PHOTOS} photos at most: remove one that is no longer needed.")


@transaction.atomic
def add_photo(*, booking: Booking, photo: CleanPhoto, by: User, at: datetime) -> Photo:
    """Keep a cleaned photo under a random name. Raises TooManyPhotos."""
    Booking.objects.select_for_update().get(pk=booking.pk)
    if booking.photos.count() >= MOST_PHOTOS:
        raise TooManyPhotos
    added = Photo.objects.create(
        booking=booking,
        name=secrets.token_hex(16),
        full=photo.full,
        picture=photo.picture,
        width=photo.width,
        height=photo.height,
        added_at=at,
        added_by=by,
    )
    write_history(booking, "A photo of the place added.", at=at, by=by)
    return added


class PhotoIsGone(Exception):
    """Somebody else has removed the photo meanwhile."""

    def __init__(self) -> None:
        super().__init__("The photo was removed already.")


@transaction.atomic
def remove_photo(*, photo: Photo, by: User, at: datetime) -> None:
    """Take a photo away. A piece sketched on it keeps its path, over a blank wall; a quote keeps its picture.

    Raises PhotoIsGone where it was taken away before: it is removed, and told, once.
    """
    # The pieces first, as who keeps a sketch holds its piece before its photo.
    list(Piece.objects.select_for_update().filter(booking=photo.booking_id).order_by("pk").values_list("pk"))
    if not Photo.objects.select_for_update().filter(pk=photo.pk).values_list("pk").first():
        raise PhotoIsGone
    Piece.objects.filter(sketch__photo=photo).update(edition=F("edition") + 1)
    write_history(photo.booking, "A photo of the place removed.", at=at, by=by)
    photo.delete()


@transaction.atomic
def keep_sketch(
    *,
    piece: Piece,
    edition: int,
    spec: GarlandSpec,
    typed: Mapping[str, str],
    photo: Photo | None,
    size: tuple[int, int],
    marks: Sequence[tuple[float, float]],
    known: Mapping[str, Any],
    path: Sequence[tuple[float, float]],
    by: User,
    at: datetime,
) -> Piece:
    """The piece along a path drawn on a photo (None: on a blank wall), which is kept beside it in pixels.

    Where the photo was removed meanwhile it is a blank wall too. Raises StaleForm and SpecErrors as `keep_piece` does.
    """
    kept = keep_piece(
        booking=piece.booking,
        piece=piece,
        edition=edition,
        name=piece.name,
        kind=piece.kind,
        spec=spec,
        typed=typed,
        by=by,
        at=at,
    )
    if photo is not None:
        # Held, so that it is not removed before the sketch on it is kept.
        photo = Photo.objects.select_for_update(no_key=True).defer("full", "picture").filter(pk=photo.pk).first()
    drawn = {
        "photo": photo,
        "width": size[0],
        "height": size[1],
        "marks": [list(point) for point in marks],
        "known": dict(known),
        "path": [list(point) for point in path],
    }
    Sketch.objects.update_or_create(piece=kept, defaults=drawn)
    return kept
