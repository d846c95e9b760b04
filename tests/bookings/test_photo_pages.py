"""Photos of the place: who may add, see and remove them, and what is said of a file that is none."""

import io
import uuid

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from PIL import Image

from bookings import actions
from bookings.models import HistoryEntry, Photo
from studio.photos import MOST_BYTES
from tests.factories import NOON, BookingFactory

GPS, ORIENTATION = 0x8825, 0x0112


def picture(width: int = 640, height: int = 480, kind: str = "JPEG", orientation: int = 1) -> bytes:
    """A photo that says where it was taken."""
    notes = Image.Exif()
    notes[ORIENTATION] = orientation
    notes.get_ifd(GPS)[1] = "N"
    out = io.BytesIO()
    Image.new("RGB", (width, height), "#8090a0").save(out, kind, exif=notes.tobytes())
    return out.getvalue()


def sent(content: bytes, name: str = "IMG_0001.jpg", **more: str) -> dict[str, object]:
    """The form as it is posted, under a key of its own."""
    form: dict[str, object] = {"photo": SimpleUploadedFile(name, content), "form_key": str(uuid.uuid4())}
    return form | more


def photos(booking) -> str:
    return reverse("bookings:photos", args=[booking.pk])


@pytest.fixture
def booking(owner):
    return BookingFactory(title="Film gala", created_by=owner)


@pytest.fixture
def photo(owner_client, booking) -> Photo:
    owner_client.post(photos(booking), sent(picture()))
    return Photo.objects.get()


def test_crew_add_a_photo_on_the_way_round(crew_client, booking):
    answer = crew_client.post(photos(booking), sent(picture(orientation=6)))
    assert answer.status_code == 302
    kept = Photo.objects.get()
    assert (kept.width, kept.height) == (480, 640)
    assert kept.added_by.username == "bo"
    assert HistoryEntry.objects.get().what == "A photo of the place added."


def test_what_is_kept_and_served_says_nothing_of_where_it_was_taken(owner_client, photo):
    served = owner_client.get(reverse("bookings:photo", args=[photo.booking_id, photo.name]))
    for content in (bytes(photo.full), bytes(photo.picture), served.content):
        assert not Image.open(io.BytesIO(content)).getexif()
        assert b"Exif" not in content


@pytest.mark.parametrize("name", ["photo", "photo-small"])
@pytest.mark.parametrize("who", ["owner_client", "crew_client"])
def test_a_photo_is_served_as_a_picture_and_nothing_else(request, photo, name, who):
    answer = request.getfixturevalue(who).get(reverse(f"bookings:{name}", args=[photo.booking_id, photo.name]))
    assert answer.status_code == 200
    assert answer.headers["Content-Type"] == "image/jpeg"
    assert answer.headers["X-Content-Type-Options"] == "nosniff"
    assert "private" in answer.headers["Cache-Control"]


@pytest.mark.parametrize("name", ["photo", "photo-small"])
def test_a_stranger_sees_no_photo(client, photo, name):
    assert client.get(reverse(f"bookings:{name}", args=[photo.booking_id, photo.name])).status_code == 302
    assert client.post(photos(photo.booking), sent(picture())).status_code == 302
    assert Photo.objects.count() == 1


def test_a_photo_of_another_booking_is_not_found(owner_client, photo):
    other = BookingFactory()
    assert owner_client.get(reverse("bookings:photo", args=[other.pk, photo.name])).status_code == 404
    assert (
        owner_client.post(reverse("bookings:photo-remove", args=[other.pk, photo.name]), sent(b"")).status_code == 404
    )
    assert Photo.objects.exists()


@pytest.mark.parametrize(
    ("content", "said"),
    [
        pytest.param(b"", "Photo must hold a picture (got an empty file)", id="empty"),
        pytest.param(b"<svg><script>alert(1)</script></svg>", "Photo must be a JPEG, PNG, WebP or HEIC file", id="svg"),
        pytest.param(picture()[:1500], "Photo must be whole", id="cut-off"),
        pytest.param(picture(120, 90), "at least 200 pixels wide and high (got 120 × 90)", id="tiny"),
    ],
)
def test_what_is_no_photo_is_refused_beside_the_field(owner_client, booking, content, said):
    answer = owner_client.post(photos(booking), sent(content, "holiday.jpg"))
    assert answer.status_code == 422
    assert said in answer.content.decode()
    assert not Photo.objects.exists()


def test_a_form_without_a_file_says_so(owner_client, booking):
    answer = owner_client.post(photos(booking), {"form_key": str(uuid.uuid4())})
    assert answer.status_code == 422
    assert "Photo is missing" in answer.content.decode()


def test_a_file_over_25_megabytes_is_not_taken_in(owner_client, booking):
    answer = owner_client.post(photos(booking), sent(picture() + b"\0" * (MOST_BYTES + 300_000)))
    assert answer.status_code == 422
    assert "Photo must be at most 25 MB" in answer.content.decode()


@pytest.mark.parametrize("name", ["../../etc/passwd", "a\r\nSet-Cookie: x=1.jpg", "<img src=x>.jpg", "照片🎈.heic"])
def test_a_files_name_is_never_used(owner_client, booking, name):
    assert owner_client.post(photos(booking), sent(picture(), name)).status_code == 302
    assert len(Photo.objects.get().name) == 32


def test_a_photo_sent_twice_is_kept_once(owner_client, booking):
    key = str(uuid.uuid4())
    for _ in range(2):
        assert owner_client.post(photos(booking), sent(picture(), form_key=key)).status_code == 302
    assert Photo.objects.count() == 1


def test_a_booking_keeps_so_many_photos_and_no_more(owner_client, booking, photo, owner):
    Photo.objects.bulk_create(
        Photo(
            booking=booking,
            name=f"{n:032x}",
            full=b"x",
            picture=b"x",
            width=9,
            height=9,
            added_at=NOON,
            added_by=owner,
        )
        for n in range(actions.MOST_PHOTOS - 1)
    )
    answer = owner_client.post(photos(booking), sent(picture()))
    assert answer.status_code == 422
    assert "24 photos at most" in answer.content.decode()


def test_a_photo_is_removed_by_crew_too(crew_client, photo):
    address = reverse("bookings:photo-remove", args=[photo.booking_id, photo.name])
    assert crew_client.get(address).status_code == 405
    assert crew_client.post(address, {"form_key": str(uuid.uuid4())}).status_code == 302
    assert not Photo.objects.exists()


def test_the_page_reads_no_photo_to_list_them(owner_client, photo):
    owner_client.get(photos(photo.booking))
    with CaptureQueriesContext(connection) as few:
        owner_client.get(photos(photo.booking))
    for n in range(12):
        Photo.objects.create(
            booking=photo.booking,
            name=f"{n:032x}",
            full=b"x",
            picture=b"x",
            width=9,
            height=9,
            added_at=NOON,
            added_by=photo.added_by,
        )
    with CaptureQueriesContext(connection) as many:
        owner_client.get(photos(photo.booking))
    assert len(few) == len(many) <= 12
    assert not any('"full"' in query["sql"] for query in many)
