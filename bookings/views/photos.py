"""Photos of the place: added on the way round it, looked at, and taken away again. Crew may do all of it."""

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from bookings import actions, queries
from bookings.models import Booking, Photo
from studio.access import StudioRequest, owner_and_crew
from studio.once import answer_once, answer_once_prepared
from studio.photos import CleanPhoto, PhotoError, clean_photo

MENDABLE = 422


@require_http_methods(["GET", "HEAD", "POST"])
@owner_and_crew
def photos(request: StudioRequest, booking_id: int) -> HttpResponse:
    """The booking's photos; posting a file adds it, cleaned, and leads back to where it was wanted."""
    booking = get_object_or_404(Booking.objects.select_related("client"), pk=booking_id)
    if request.method != "POST":
        return _page(request, booking)
    sent = request.FILES.get("photo")

    def prepare() -> CleanPhoto:
        if sent is None or sent.file is None:
            raise PhotoError("is missing: choose one, or take one", "none")
        return clean_photo(sent.file, sent.size or 0)

    def act(photo: CleanPhoto) -> str:
        added = actions.add_photo(booking=booking, photo=photo, by=request.user, at=timezone.now())
        return _onwards(request, booking, added)

    try:
        return answer_once_prepared(request, prepare, act)
    except (PhotoError, actions.TooManyPhotos) as error:
        return _page(request, booking, error=str(error), status=MENDABLE)


@require_safe
@owner_and_crew
def photo(request: StudioRequest, booking_id: int, photo: str) -> HttpResponse:
    """The photo as it is kept: our own JPEG, whatever was sent."""
    found = get_object_or_404(Photo.objects.defer("picture"), booking=booking_id, name=photo)
    return HttpResponse(bytes(found.full), content_type="image/jpeg")


@require_safe
@owner_and_crew
def small(request: StudioRequest, booking_id: int, photo: str) -> HttpResponse:
    """The photo at the size of a picture in a page."""
    found = get_object_or_404(Photo.objects.defer("full"), booking=booking_id, name=photo)
    return HttpResponse(bytes(found.picture), content_type="image/jpeg")


@require_POST
@owner_and_crew
def remove(request: StudioRequest, booking_id: int, photo: str) -> HttpResponse:
    """Take a photo away; what was drawn on it stands before a blank wall from then on."""

    def act() -> str:
        light = Photo.objects.select_related("booking").defer(*queries.LIGHT)
        found = get_object_or_404(light, booking=booking_id, name=photo)
        try:
            actions.remove_photo(photo=found, by=request.user, at=timezone.now())
        except actions.PhotoIsGone as gone:
            messages.error(request, str(gone))
        else:
            messages.success(request, "The photo is removed.")
        return reverse("bookings:photos", args=[booking_id])

    return answer_once(request, act)


def _onwards(request: StudioRequest, booking: Booking, added: Photo) -> str:
    """Back to the piece that wanted a photo to be drawn on, or to the photos."""
    piece = request.POST.get("piece", "")
    if piece.isdecimal() and len(piece) < 19 and booking.pieces.filter(pk=int(piece)).exists():
        return f"{reverse('bookings:piece-sketch', args=[booking.pk, int(piece)])}?photo={added.name}"
    return reverse("bookings:photos", args=[booking.pk])


def _page(request: StudioRequest, booking: Booking, *, error: str = "", status: int = 200) -> HttpResponse:
    context: dict[str, Any] = {
        "booking": booking,
        "photos": list(queries.photos_of(booking).prefetch_related("sketches__piece")),
        "most": actions.MOST_PHOTOS,
        "error": error,
        "piece": request.POST.get("piece", ""),
    }
    return render(request, "bookings/photos.html", context, status=status)
