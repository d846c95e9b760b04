"""Making a piece: who may, what the page shows, what a press of each button does, and what is refused."""

import re
import uuid

import pytest
from django.urls import reverse

from bookings.models import Piece
from stock.models import Colour, Movement
from studio.models import Studio
from tests.factories import BookingFactory, ColourFactory, ItemFactory, MovementFactory
from tests.sent_pieces import GARLAND, HTMX, new, page_of, preview, typed

# Refusals.


@pytest.mark.parametrize(
    ("method", "name"),
    [
        pytest.param("get", "piece-new", id="new"),
        pytest.param("post", "piece-new", id="keep"),
        pytest.param("post", "piece-preview", id="preview"),
    ],
)
def test_a_piece_is_the_owners_to_make(crew_client, client, booking, method, name):
    address = reverse(f"bookings:{name}", args=[booking.pk, "garland"])
    assert getattr(crew_client, method)(address).status_code == 403
    assert getattr(client, method)(address).status_code == 302
    assert not Piece.objects.exists()


def test_crew_may_neither_open_nor_remove_a_piece(crew_client, kept):
    assert crew_client.get(page_of(kept)).status_code == 403
    assert crew_client.post(reverse("bookings:piece-remove", args=[kept.booking_id, kept.pk])).status_code == 403
    assert Piece.objects.exists()


def test_a_preview_is_only_posted(owner_client, booking):
    assert owner_client.get(preview(booking)).status_code == 405


def test_removing_is_only_posted(owner_client, kept):
    assert owner_client.get(reverse("bookings:piece-remove", args=[kept.booking_id, kept.pk])).status_code == 405


@pytest.mark.parametrize("kind", ["castle", "Garland", "garland'--", "🎈"])
def test_an_unknown_kind_is_not_found(owner_client, booking, kind):
    assert owner_client.get(new(booking, kind)).status_code == 404
    assert owner_client.post(preview(booking, kind), {}).status_code == 404


def test_a_booking_that_is_not_there_is_not_found(owner_client, booking, ink):
    address = reverse("bookings:piece-new", args=[booking.pk + 1, "garland"])
    assert owner_client.get(address).status_code == 404
    assert owner_client.post(address, typed(ink)).status_code == 404


def test_a_piece_of_another_booking_is_not_found(owner_client, kept, ink):
    other = BookingFactory()
    address = reverse("bookings:piece", args=[other.pk, kept.pk])
    assert owner_client.get(address).status_code == 404
    assert owner_client.post(address, typed(ink, edition="1")).status_code == 404
    assert owner_client.post(preview(other), typed(ink, piece=str(kept.pk))).status_code == 404
    assert owner_client.post(reverse("bookings:piece-remove", args=[other.pk, kept.pk]), typed(ink)).status_code == 404
    assert Piece.objects.get().edition == 1


@pytest.mark.parametrize("named", ["x", "-1", "9" * 30, "1.5"])
def test_a_preview_of_no_piece_is_not_found(owner_client, booking, ink, named):
    assert owner_client.post(preview(booking), typed(ink, piece=named)).status_code == 404


# The page.


def test_a_new_garland_opens_with_a_picture_in_the_colours_the_client_wants(owner_client, booking, ink):
    ColourFactory(name="Sand", position=9)
    booking.wants = "24 ft garland in SAND please"
    booking.save()
    page = owner_client.get(new(booking))
    assert page.status_code == 200
    assert [str(row.colour) for row in page.context["form"].colour_rows] == ["Sand"]
    assert page.content.decode().count("<circle") == len(page.context["preview"].layout.balloons) > 50


def test_a_studio_of_metres_is_asked_in_metres(owner_client, booking):
    Studio.objects.update_or_create(pk=1, defaults={"measures": "metric"})
    form = owner_client.get(new(booking)).context["form"]
    assert (form["length"].value(), form["width"].value()) == ("6 m", "55 cm")


@pytest.mark.parametrize("kind", ["garland", "counted"])
def test_a_studio_without_colours_is_told_where_to_add_them(owner_client, owner, kind):
    page = owner_client.get(new(BookingFactory(created_by=owner), kind))
    assert page.status_code == 200
    assert "no colours yet" in page.content.decode()
    assert reverse("stock:colours") in page.content.decode()


def test_the_page_shows_what_it_takes_and_what_the_job_earns(owner_client, kept):
    page = owner_client.get(page_of(kept)).content.decode()
    assert re.search(r"\d+ balloons: \d+ cluster", page)
    assert "attachment points" in page
    assert re.search(r"cost \$\d+\.\d\d · \d+ h", page)
    assert "an hour" in page


def test_what_runs_short_is_a_coral_badge(owner_client, booking, ink):
    item = ItemFactory(colour=ink, size=11)
    MovementFactory(item=item, kind=Movement.Kind.COUNTED, quantity=5)
    said = owner_client.post(preview(booking), typed(ink), **HTMX).content.decode()
    assert re.search(r'<span class="badge short">Ink 11-inch: \d+ more than the shelf can promise</span>', said)


# Keeping.


def test_keep_writes_the_piece_with_its_layout_and_leads_back(owner_client, booking, ink):
    answer = owner_client.post(new(booking), typed(ink, length="3 m"))
    assert answer.status_code == 302
    assert answer.url == reverse("bookings:detail", args=[booking.pk])
    piece = Piece.objects.get()
    assert (piece.name, piece.kind, piece.edition) == ("Garland over the doorway", "garland", 1)
    assert piece.spec["length_mm"] == "3000.0000"
    assert piece.spec["typed"] == {"length": "3 m", "width": "20 in"}
    assert piece.layout["balloons"]


def test_a_kept_piece_opens_as_it_was_typed(owner_client, booking, ink):
    owner_client.post(new(booking), typed(ink, length="9' 10\"", width="50 cm"))
    form = owner_client.get(page_of(Piece.objects.get())).context["form"]
    assert (form["length"].value(), form["width"].value()) == ("9' 10\"", "50 cm")


def test_the_picture_before_keeping_is_the_layout_that_is_kept(owner_client, booking, ink):
    sent = typed(ink)
    shown = owner_client.post(preview(booking), sent, **HTMX).context["preview"].layout
    owner_client.post(new(booking), sent)
    assert Piece.objects.get().layout == shown.to_json()


def test_pressing_keep_twice_makes_one_piece(owner_client, booking, ink):
    sent = typed(ink)
    answers = [owner_client.post(new(booking), sent) for _ in range(2)]
    assert [answer.status_code for answer in answers] == [302, 302]
    assert Piece.objects.count() == 1


def test_pressing_keep_twice_on_a_kept_piece_changes_it_once(owner_client, kept, ink):
    sent = typed(ink, edition="1", length="12 ft")
    answers = [owner_client.post(page_of(kept), sent) for _ in range(2)]
    assert [answer.status_code for answer in answers] == [302, 302]
    assert Piece.objects.get().edition == 2


def test_a_form_without_its_key_keeps_nothing(owner_client, booking, ink):
    assert owner_client.post(new(booking), typed(ink, form_key=None)).status_code == 400
    assert not Piece.objects.exists()


def test_a_stale_form_is_shown_again_as_typed_and_a_second_press_keeps_it(owner_client, kept, ink):
    owner_client.post(page_of(kept), typed(ink, edition="1", length="12 ft"))
    sent = typed(ink, edition="1", length="14 ft")
    answer = owner_client.post(page_of(kept), sent)
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "was changed by somebody else since you opened it" in page
    assert answer.context["form"]["length"].value() == "14 ft"
    assert '<input type="hidden" name="edition" value="2">' in page
    assert f'value="{sent["form_key"]}"' in page
    assert owner_client.post(page_of(kept), sent | {"edition": "2"}).status_code == 302
    assert Piece.objects.get().spec["typed"]["length"] == "14 ft"


@pytest.mark.parametrize("edition", ["", "x", "-1", "9" * 40])
def test_a_mangled_edition_counts_as_stale(owner_client, kept, ink, edition):
    assert owner_client.post(page_of(kept), typed(ink, edition=edition)).status_code == 422
    assert Piece.objects.get().edition == 1


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        pytest.param({"length": "10 km"}, "Length must be from 1 ft to 200 ft; 10 km is more.", id="far too long"),
        pytest.param({"length": "9**9**9 m"}, "Length “9**9**9 m” is not understood.", id="a sum"),
        pytest.param({"length": "-1"}, "Length must be from 1 ft to 200 ft; -1 is less.", id="negative"),
        pytest.param({"width": "90 in"}, "Finished width must be at most 47 in", id="too wide for its sizes"),
        pytest.param({"sizes-11": "60"}, "Sizes add up to 90 %: 10 % is missing.", id="shares"),
        pytest.param({"colours-99": "5"}, "A colour must be one of the studio’s", id="unknown colour"),
        pytest.param({"name": "x" * 5000}, "Name must be at most 80 characters; this one has 5,000.", id="name"),
    ],
)
def test_what_cannot_be_made_is_shown_again_with_the_reason_and_all_that_was_typed(
    owner_client, booking, ink, changes, sentence
):
    if "colours-99" in changes:
        changes = changes | {f"colours-{ink.key}": "95"}
    answer = owner_client.post(new(booking), typed(ink, **changes))
    assert answer.status_code == 422
    assert sentence in answer.content.decode()
    for name in ("name", "length", "width"):
        assert answer.context["form"][name].value() == (GARLAND | changes)[name]
    assert not Piece.objects.exists()


def test_a_colour_taken_out_of_use_stays_in_the_pieces_that_have_it(owner_client, kept, ink):
    Colour.objects.update(in_use=False)
    assert owner_client.post(page_of(kept), typed(ink, edition="1")).status_code == 302
    assert owner_client.post(new(kept.booking), typed(ink)).status_code == 422


@pytest.mark.parametrize(
    "name",
    [
        pytest.param("<script>alert('x')</script>", id="script"),
        pytest.param("</title></svg><img src=x onerror=alert(1)>", id="out of the title"),
        pytest.param("קשת מעל הדלת 🎈", id="right to left and emoji"),
        pytest.param('" onfocus="alert(1)', id="out of the attribute"),
    ],
)
def test_a_name_is_text_in_the_page_and_in_the_picture(owner_client, booking, ink, name):
    said = owner_client.post(preview(booking), typed(ink, name=name), **HTMX).content.decode()
    owner_client.post(new(booking), typed(ink, name=name))
    page = owner_client.get(page_of(Piece.objects.get())).content.decode()
    for text in (said, page):
        assert "<script>alert" not in text
        assert "<img" not in text
        assert ' onfocus="alert' not in text
    title = re.search(r"<title id=\"preview-title\">(.*?)</title>", said)
    assert title is not None
    assert Piece.objects.get().name == name


# Removing.


def test_a_piece_is_removed_once(owner_client, kept):
    address = reverse("bookings:piece-remove", args=[kept.booking_id, kept.pk])
    sent = {"form_key": str(uuid.uuid4())}
    answers = [owner_client.post(address, sent) for _ in range(2)]
    assert [answer.url for answer in answers] == [reverse("bookings:detail", args=[kept.booking_id])] * 2
    assert not Piece.objects.exists()


def test_the_page_offers_to_remove_only_what_is_kept(owner_client, kept):
    assert "Remove this piece" in owner_client.get(page_of(kept)).content.decode()
    assert "Remove this piece" not in owner_client.get(new(kept.booking)).content.decode()
