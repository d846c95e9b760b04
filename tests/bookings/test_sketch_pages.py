"""Drawing a garland on a photo: the page, what is refused, what is kept, and the picture in the quote."""

import io
import re
import uuid
from decimal import Decimal
from math import hypot
from pathlib import Path

import pypdf
import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from PIL import Image

from bookings.models import Photo, Piece, Sketch
from estimating.actions import keep_inflated
from stock.models import Colour
from studio.photos import clean_photo
from tests.factories import NOON, BookingFactory


def picture(width: int, height: int) -> bytes:
    out = io.BytesIO()
    Image.new("RGB", (width, height), "#8090a0").save(out, "JPEG")
    return out.getvalue()


DOOR = "100,100\n460,100\n460,900\n100,900"
"""A door of 36 by 80 inches at ten pixels to the inch."""


@pytest.fixture
def piece(priced) -> Piece:
    return priced.pieces.get()


@pytest.fixture
def photo(piece, owner) -> Photo:
    content = picture(2000, 1500)
    clean = clean_photo(io.BytesIO(content), len(content))
    return Photo.objects.create(
        booking=piece.booking,
        name="a" * 32,
        full=clean.full,
        picture=clean.picture,
        width=clean.width,
        height=clean.height,
        added_at=NOON,
        added_by=owner,
    )


def page_of(piece: Piece) -> str:
    return reverse("bookings:piece-sketch", args=[piece.booking_id, piece.pk])


def redraw_of(piece: Piece) -> str:
    return reverse("bookings:piece-sketch-redraw", args=[piece.booking_id, piece.pk])


def drawn(piece: Piece, photo: Photo | None, **changes: str) -> dict[str, str]:
    """The form as it is sent: a path of 100 inches beside a door."""
    return {
        "photo": photo.name if photo else "wall",
        "edition": str(piece.edition),
        "known": "rectangle",
        "known_width": "36 in",
        "known_height": "6 ft 8 in",
        "marks": DOOR,
        "path": "600,200\n1200,200\n1200,600",
        "width": "16",
        "form_key": str(uuid.uuid4()),
    } | changes


@pytest.fixture
def kept(owner_client, piece, photo) -> Piece:
    assert owner_client.post(page_of(piece), drawn(piece, photo)).status_code == 302
    piece.refresh_from_db()
    return piece


# Who may.


def test_drawing_is_the_owners(crew_client, client, piece, photo):
    for address in (page_of(piece), redraw_of(piece)):
        assert crew_client.post(address, drawn(piece, photo)).status_code == 403
        assert client.post(address, drawn(piece, photo)).status_code == 302
    assert crew_client.get(page_of(piece)).status_code == 403
    assert not Sketch.objects.exists()


def test_a_photo_of_another_booking_cannot_be_drawn_on(owner_client, piece, photo, add_garland):
    other = BookingFactory()
    add_garland(other)
    stranger = other.pieces.get()
    assert owner_client.get(page_of(stranger) + f"?photo={photo.name}").status_code == 404
    assert owner_client.post(page_of(stranger), drawn(stranger, photo)).status_code == 404


# The page.


def test_first_a_photo_is_chosen(owner_client, piece, photo):
    said = owner_client.get(page_of(piece)).content.decode()
    assert 'type="file"' in said
    assert f"?photo={photo.name}" in said
    assert "?photo=wall" in said


def test_the_page_shows_the_photo_with_marks_to_drag(owner_client, piece, photo):
    said = owner_client.get(page_of(piece) + f"?photo={photo.name}").content.decode()
    assert reverse("bookings:photo", args=[piece.booking_id, photo.name]) in said
    assert 'viewBox="0 0 2000 1500"' in said
    assert 'aria-invalid="true"' not in said


def test_a_kept_sketch_is_opened_as_it_was_drawn(owner_client, kept):
    said = owner_client.get(page_of(kept)).content.decode()
    assert "600,200\n1200,200\n1200,600" in said
    assert "8 ft 4 in along the path" in said


def test_nothing_of_a_piece_that_is_no_garland_is_drawn(owner_client, piece, photo):
    Piece.objects.update(kind="counted")
    assert owner_client.get(page_of(piece)).status_code == 404


# Redrawing.


def test_redrawing_says_the_length_and_draws_every_balloon(owner_client, piece, photo):
    said = owner_client.post(redraw_of(piece), drawn(piece, photo)).content.decode()
    found = re.search(r"8 ft 4 in along the path, (\d+) balloons", said)
    assert found is not None
    assert said.count("<circle") == int(found[1])
    assert "<image" not in said
    assert not Sketch.objects.exists()


def test_balloons_are_drawn_as_far_as_the_studio_blows_them(owner_client, piece, photo):
    def counted() -> int:
        found = re.search(r"(\d+) balloons", owner_client.post(redraw_of(piece), drawn(piece, photo)).content.decode())
        return int(found[1]) if found else 0

    usual = counted()
    keep_inflated(own={(11, "air"): (Decimal("203.2"), "8"), (5, "air"): (Decimal("101.6"), "4")})
    assert counted() > 1.3 * usual > 0


def test_in_perspective_the_length_is_the_walls(owner_client, piece, photo):
    """The right side of the door is seen half as tall, so what is to its right is longer than it looks."""
    marks = "400,200\n700,400\n700,800\n400,1000"
    said = owner_client.post(
        redraw_of(piece), drawn(piece, photo, marks=marks, path="400,200\n700,400")
    ).content.decode()
    assert "3 ft 0 in along the path" in said or "36 in along the path" in said or "3 ft along the path" in said


def test_a_wider_garland_takes_more_balloons(owner_client, piece, photo):
    counts = []
    for width in ("14", "24"):
        said = owner_client.post(redraw_of(piece), drawn(piece, photo, width=width)).content.decode()
        found = re.search(r"(\d+) balloons", said)
        assert found is not None
        counts.append(int(found[1]))
    assert counts[1] > 1.5 * counts[0]


REFUSALS = [
    pytest.param({"path": ""}, "Path is missing", id="no-path"),
    pytest.param({"path": "600,200"}, "Path must have from 2 to 200 points", id="one-point"),
    pytest.param({"path": "600,200 620,200"}, "Path must be from 1 ft to 200 ft long", id="too-short"),
    pytest.param({"path": "600,200 north"}, "“north” is none", id="no-point"),
    pytest.param({"path": "600,200 9000,200"}, "Path must stay on the photo", id="off-the-photo"),
    pytest.param({"path": " ".join(f"{n},9" for n in range(201))}, "200 points at most", id="too-many-points"),
    pytest.param({"marks": "100,100 460,900 460,100 100,900"}, "without crossing", id="crossed"),
    pytest.param({"marks": "100,100 110,100 110,900 100,900"}, "at least 24 pixels", id="too-small"),
    pytest.param({"marks": "100,100 460,100"}, "four corners of a rectangle", id="two-corners"),
    pytest.param({"known_width": "0"}, "How wide it is", id="zero-width"),
    pytest.param({"known_height": ""}, "How high it is is missing", id="no-height"),
    pytest.param({"known": "length", "marks": "5,5 5,805"}, "How long it is is missing", id="no-length"),
    pytest.param({"known": "guess"}, "guess", id="unknown-way"),
    pytest.param({"width": "60"}, "Finished width must be", id="too-wide"),
]


@pytest.mark.parametrize(("changes", "said"), REFUSALS)
def test_what_cannot_be_measured_or_made_is_said_and_nothing_typed_is_lost(owner_client, piece, photo, changes, said):
    answer = owner_client.post(redraw_of(piece), drawn(piece, photo, **changes))
    assert answer.status_code == 200
    assert said in answer.content.decode()
    answer = owner_client.post(page_of(piece), drawn(piece, photo, **changes))
    assert answer.status_code == 422
    assert said in answer.content.decode()
    assert changes.get("path", "1200,600")[:40] in answer.content.decode()
    assert not Sketch.objects.exists()


# Keeping.


def test_keeping_lays_the_garland_along_the_path(kept, photo):
    assert kept.spec["shape"] == "sketched"
    assert kept.spec["path"] == [[50.0, 10.0], [110.0, 10.0], [110.0, 50.0]]
    assert Decimal(kept.spec["length_mm"]) == Decimal("2540.0000")
    sketch = kept.sketch
    assert (sketch.photo, sketch.width, sketch.height) == (photo, 2000, 1500)
    assert sketch.known["width_typed"] == "36 in"
    spots = [(row[0] / 1000, row[1] / 1000) for row in kept.layout["balloons"]]
    assert min(hypot(x - 110, y - 10) for x, y in spots) < 12


def test_a_path_drawn_from_the_right_begins_at_the_left(owner_client, piece, photo):
    owner_client.post(page_of(piece), drawn(piece, photo, path="1200,600 1200,200 600,200"))
    piece.refresh_from_db()
    assert piece.spec["path"][0] == [50.0, 10.0]


def test_a_garland_is_drawn_on_a_blank_wall_too(owner_client, piece):
    sent = drawn(piece, None, known="length", known_length="16 ft", marks="64,940 1536,940")
    assert owner_client.post(page_of(piece), sent).status_code == 302
    assert Sketch.objects.get().photo is None
    said = owner_client.get(reverse("bookings:piece", args=[piece.booking_id, piece.pk])).content.decode()
    assert "on a blank wall" in said


def test_a_stale_form_is_refused_with_the_drawing_kept_in_it(owner_client, kept, photo):
    answer = owner_client.post(page_of(kept), drawn(kept, photo, edition="1", path="610,210 1210,210"))
    assert answer.status_code == 422
    assert "610,210" in answer.content.decode()
    kept.refresh_from_db()
    assert kept.spec["path"][0] == [50.0, 10.0]


def test_without_scripts_a_drawing_is_looked_at_before_it_is_kept(owner_client, piece, photo):
    answer = owner_client.post(page_of(piece), drawn(piece, photo, look="1"))
    assert answer.status_code == 200
    assert "8 ft 4 in along the path" in answer.content.decode()
    assert "<circle" in answer.content.decode()
    assert not Sketch.objects.exists()


def test_another_shape_is_drawn_without_the_photo_and_the_sketch_waits(owner_client, kept):
    kept.spec |= {"shape": "swag"}
    kept.spec.pop("path")
    kept.save()
    said = owner_client.get(reverse("bookings:detail", args=[kept.booking_id])).content.decode()
    assert "<image" not in said
    assert Sketch.objects.filter(piece=kept).exists()


def test_a_sketch_whose_photo_is_removed_stands_before_a_blank_wall(owner_client, kept, photo):
    before = kept.edition
    address = reverse("bookings:photo-remove", args=[kept.booking_id, photo.name])
    assert owner_client.post(address, {"form_key": str(uuid.uuid4())}).status_code == 302
    kept.refresh_from_db()
    assert kept.edition == before + 1
    said = owner_client.get(reverse("bookings:detail", args=[kept.booking_id])).content.decode()
    assert "<image" not in said
    assert "8 ft 4 in along the path" in said


# Shown and sent.


def test_the_job_shows_the_garland_over_the_photo(owner_client, crew_client, kept, photo):
    address = reverse("bookings:photo-small", args=[kept.booking_id, photo.name])
    for browser in (owner_client, crew_client):
        said = browser.get(reverse("bookings:detail", args=[kept.booking_id])).content.decode()
        assert f'<image href="{address}"' in said


def test_the_editor_says_what_the_length_was_measured_along(owner_client, kept):
    said = owner_client.get(reverse("bookings:piece", args=[kept.booking_id, kept.pk])).content.decode()
    assert "Drawn on the photo of the place: 8 ft 4 in along the path" in said


def test_the_quotes_picture_has_the_photo_inside_it_and_stays_when_the_photo_goes(kept, photo, issue):
    quote = issue(kept.booking)
    offered = quote.pieces.get()
    assert offered.picture.count('<image href="data:image/jpeg;base64,') == 1
    assert offered.picture.count("<circle") == offered.balloons
    assert len(offered.picture) <= 250_000
    assert "along the path" in offered.description
    photo.delete()
    offered.refresh_from_db()
    assert "data:image/jpeg" in offered.picture


@pytest.mark.paper
def test_the_quotes_paper_shows_the_photo_on_at_most_two_pages(kept, issue, tmp_path):
    path = tmp_path / "quote.pdf"
    path.write_bytes(bytes(issue(kept.booking).pdf))
    reader = pypdf.PdfReader(path)
    assert len(reader.pages) <= 2
    sizes = [image.image.size for page in reader.pages for image in page.images if image.image is not None]
    assert [size for size in sizes if size[0] >= 400 and size[0] / size[1] == pytest.approx(4 / 3, rel=0.01)]


def test_the_script_of_the_sketch_weighs_8_kb_at_most():
    script = Path(__file__).resolve().parents[2] / "studio" / "static" / "js" / "sketch.js"
    assert len(script.read_bytes()) <= 8 * 1024


def test_a_sketch_costs_a_job_no_query_for_each_piece(owner_client, kept, photo, add_garland):
    address = reverse("bookings:detail", args=[kept.booking_id])
    with CaptureQueriesContext(connection) as few:
        owner_client.get(address)
    for n in range(3):
        add_garland(kept.booking, name=f"Another {n}")
        another = Piece.objects.get(name=f"Another {n}")
        assert owner_client.post(page_of(another), drawn(another, photo)).status_code == 302
    with CaptureQueriesContext(connection) as many:
        owner_client.get(address)
    assert Colour.objects.exists()
    assert len(many) - len(few) <= 3
    assert not any('"full"' in query["sql"] for query in many)
    with CaptureQueriesContext(connection) as redrawing:
        owner_client.post(redraw_of(kept), drawn(kept, photo))
    assert len(redrawing) <= 12


def test_a_drawn_garland_says_what_it_is_to_who_cannot_see_it(owner_client, kept):
    page = owner_client.get(reverse("bookings:detail", args=[kept.booking_id])).content.decode()
    said = re.search(r"<desc[^>]*>(.*?)</desc>", page)
    assert said is not None
    assert re.match(r"Garland, \d+ ft (\d+ in )?along the path × \d+ in\. \d+ balloons: ", said[1])
