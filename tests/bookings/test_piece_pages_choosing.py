"""What shall it be? The page of kinds, the studio's favourites, and jobs whose pieces stay as they are."""

import uuid

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from bookings.models import Booking, HistoryEntry, Piece
from bookings.queries.pictured import isolated
from estimating.forms import FORMS
from estimating.models import Favourite
from stock.models import Colour, Item
from tests.factories import TODAY, BookingFactory, ColourFactory, ItemFactory, MovementFactory

HTMX = {"HTTP_HX_REQUEST": "true"}
STARTS = [
    pytest.param(kind, start.key, id=f"{kind} {start.key}".strip())
    for kind, form in FORMS.items()
    for start in form.starts
]


@pytest.fixture
def ink(db) -> Colour:
    return ColourFactory(name="Ink", swatch="#1f2a44", position=1)


@pytest.fixture
def sand(db) -> Colour:
    return ColourFactory(name="Sand", swatch="#e2d6c2", position=2)


@pytest.fixture
def booking(owner, ink, sand):
    return BookingFactory(title="Film gala", created_by=owner)


def column(*colours: Colour, **changes: str) -> dict[str, str]:
    """A column's form as it is sent."""
    sent = FORMS["packed"].first_data(colours, "imperial", "column")
    return {**sent, "name": "Our column", "form_key": str(uuid.uuid4()), "kind": "packed"} | changes


def choose(booking) -> str:
    return reverse("bookings:piece-choose", args=[booking.pk])


def new(booking, kind="packed") -> str:
    return reverse("bookings:piece-new", args=[booking.pk, kind])


def favourite_address(booking, kind="packed") -> str:
    return reverse("bookings:piece-favourite", args=[booking.pk, kind])


@pytest.fixture
def favourite(owner_client, booking, ink, sand) -> Favourite:
    """A column of ink and sand, kept as a favourite."""
    owner_client.post(favourite_address(booking), column(ink, sand, height="7 ft"))
    return Favourite.objects.get()


# Refusals.


def test_choosing_and_favourites_are_the_owners(crew_client, client, favourite, booking):
    for address, method in [
        (choose(booking), "get"),
        (favourite_address(booking), "post"),
        (reverse("bookings:favourite", args=[booking.pk, favourite.pk]), "post"),
        (reverse("bookings:favourite-remove", args=[booking.pk, favourite.pk]), "post"),
    ]:
        assert getattr(crew_client, method)(address).status_code == 403
        assert getattr(client, method)(address).status_code == 302
    assert Favourite.objects.get() == favourite


def test_a_favourite_that_is_not_there_is_not_found(owner_client, booking, favourite):
    assert owner_client.get(f"{new(booking)}?favourite={favourite.pk + 1}").status_code == 404
    assert owner_client.get(f"{new(booking, 'garland')}?favourite={favourite.pk}").status_code == 404
    gone = reverse("bookings:favourite", args=[booking.pk, favourite.pk + 1])
    assert owner_client.post(gone, {"name": "x", "form_key": str(uuid.uuid4())}).status_code == 404


# The page of kinds.


def test_every_way_to_begin_a_piece_is_offered_with_its_picture(owner_client, booking):
    cards = owner_client.get(choose(booking)).context["cards"]
    assert [(card.kind, card.start.key) for card in cards] == [tuple(param.values) for param in STARTS]
    assert all(card.picture.startswith("<svg") and "<circle" in card.picture for card in cards)


def test_a_studio_without_colours_can_still_look_at_the_kinds(owner_client, db, owner):
    assert owner_client.get(choose(BookingFactory(created_by=owner))).status_code == 200


def test_the_page_of_kinds_asks_little_however_many_favourites(owner_client, booking, favourite):
    def asked() -> int:
        with CaptureQueriesContext(connection) as queries:
            owner_client.get(choose(booking))
        return len(queries)

    alone = asked()
    for n in range(40):
        Favourite.objects.create(name=f"Ours {n}", kind="packed", spec=favourite.spec, position=n + 1)
    assert asked() == alone <= 8


@pytest.mark.parametrize(("kind", "start"), STARTS)
def test_each_card_leads_to_a_piece_that_can_be_kept_as_it_is(owner_client, booking, kind, start):
    page = owner_client.get(f"{new(booking, kind)}?start={start}")
    assert page.status_code == 200
    assert "<svg" in page.context["preview"].picture
    sent = page.context["form"].data | {"form_key": str(uuid.uuid4())}
    assert owner_client.post(page.context["action"], sent).status_code == 302
    piece = Piece.objects.get()
    assert piece.kind == kind
    assert owner_client.get(reverse("bookings:piece", args=[booking.pk, piece.pk])).status_code == 200
    assert owner_client.get(reverse("bookings:detail", args=[booking.pk])).status_code == 200


@pytest.mark.parametrize(("kind", "start"), STARTS)
def test_what_a_new_piece_takes_is_said_in_full(owner_client, booking, kind, start):
    shown = owner_client.get(f"{new(booking, kind)}?start={start}").context["preview"]
    assert shown.takes[0].split()[0].isdecimal()
    assert ": ." not in shown.takes[0]
    ties = [said for said in shown.takes if "260" in said]
    assert all("ties (260s)" in said or "tie (a 260)" in said for said in ties)


@pytest.mark.parametrize(
    ("stage", "most"),
    [
        pytest.param("enquiry", 16, id="an enquiry"),
        pytest.param("booked", 17, id="booked, so it may have swapped something"),
    ],
)
def test_a_preview_asks_the_database_little(owner_client, booking, ink, sand, stage, most):
    """Studio, session, person, job, pieces, colours, inflated diameters, what popped, rates, kit, items, offers,
    what is out, arrivals, promises, what is on hand.
    """
    for size in (5, 11, 16, 17):
        MovementFactory(item=ItemFactory(colour=ink, size=size))
    owner_client.post(new(booking), column(ink, sand))
    Booking.objects.update(stage=stage, event_on=TODAY, needed_on=TODAY)
    piece = Piece.objects.get()
    with CaptureQueriesContext(connection) as queries:
        preview = reverse("bookings:piece-preview", args=[booking.pk, "packed"])
        assert owner_client.post(preview, column(ink, sand, piece=str(piece.pk)), **HTMX).status_code == 200
    assert len(queries) <= most


def test_things_on_the_shelf_are_offered_and_counted(owner_client, booking, ink, sand):
    greens = Item.objects.create(sort="other", name="Eucalyptus", unit="stem")
    page = owner_client.get(f"{new(booking)}?start=column")
    assert "Eucalyptus (stem)" in page.content.decode()
    owner_client.post(new(booking), column(ink, sand, **{"extras-0-item": str(greens.pk), "extras-0-count": "6"}))
    assert Piece.objects.get().spec["extras"] == [[str(greens.pk), 6]]
    assert "Eucalyptus" in owner_client.get(reverse("bookings:detail", args=[booking.pk])).content.decode()


# Favourites.


def test_a_favourite_is_kept_with_its_words_and_nothing_else_changes(favourite):
    assert (favourite.name, favourite.kind) == ("Our column", "packed")
    assert favourite.spec["typed"]["height"] == "7 ft"
    assert not Piece.objects.exists()
    assert not HistoryEntry.objects.filter(what__contains="column").exists()


def test_a_press_of_the_script_answers_with_a_note_alone(owner_client, booking, ink):
    answer = owner_client.post(favourite_address(booking), column(ink), **HTMX)
    assert "“Our column” is one of your favourites now" in answer.content.decode()
    assert "<html" not in answer.content.decode()


def test_a_favourite_of_the_same_name_is_made_anew(owner_client, booking, favourite, ink):
    owner_client.post(favourite_address(booking), column(ink, name="OUR COLUMN", height="8 ft"))
    kept = Favourite.objects.get()
    assert (kept.pk, kept.name, kept.spec["typed"]["height"]) == (favourite.pk, "OUR COLUMN", "8 ft")


def test_what_cannot_be_made_is_no_favourite(owner_client, booking, ink):
    answer = owner_client.post(favourite_address(booking), column(ink, height="high"))
    assert answer.status_code == 422
    assert "Height “high” is not understood" in answer.content.decode()
    assert not Favourite.objects.exists()


def test_favourites_come_first_and_open_as_they_were_kept(owner_client, booking, favourite):
    page = owner_client.get(choose(booking)).content.decode()
    assert page.index("Our column") < page.index("Arch on a line")
    form = owner_client.get(f"{new(booking)}?favourite={favourite.pk}").context["form"]
    assert form["height"].value() == "7 ft"
    assert form.spec.height_mm == form.fields["height"].clean("7 ft")


def test_a_favourite_in_colours_that_are_gone_says_so_and_still_draws(owner_client, booking, favourite, sand):
    Colour.objects.filter(pk=sand.pk).update(in_use=False)
    page = owner_client.get(f"{new(booking)}?favourite={favourite.pk}")
    assert "One colour of this favourite is no longer yours." in page.content.decode()
    assert page.context["preview"] is not None
    assert [str(row.colour) for row in page.context["form"].colour_rows] == ["Ink"]


def test_a_favourite_is_renamed(owner_client, booking, favourite):
    address = reverse("bookings:favourite", args=[booking.pk, favourite.pk])
    sent = {"name": " Striped column ", "form_key": str(uuid.uuid4())}
    assert owner_client.post(address, sent).url == choose(booking)
    assert Favourite.objects.get().name == "Striped column"


@pytest.mark.parametrize(
    ("name", "sentence"),
    [
        pytest.param(" ", "Give the favourite a name.", id="none"),
        pytest.param("x" * 81, "Name must be at most 80 characters; this one has 81.", id="long"),
        pytest.param("the other", "There is a favourite called “the other” already", id="taken"),
    ],
)
def test_a_name_a_favourite_cannot_have_is_shown_again_with_the_reason(
    owner_client, booking, favourite, name, sentence
):
    Favourite.objects.create(name="The Other", kind="packed", spec=favourite.spec)
    address = reverse("bookings:favourite", args=[booking.pk, favourite.pk])
    answer = owner_client.post(address, {"name": name, "form_key": str(uuid.uuid4())})
    assert answer.status_code == 422
    assert sentence in answer.content.decode()
    assert f'value="{name.strip()}"' in answer.content.decode()
    favourite.refresh_from_db()
    assert favourite.name == "Our column"


def test_a_favourite_is_removed_once(owner_client, booking, favourite):
    address, sent = reverse("bookings:favourite-remove", args=[booking.pk, favourite.pk]), str(uuid.uuid4())
    answers = [owner_client.post(address, {"form_key": sent}) for _ in range(2)]
    assert [answer.url for answer in answers] == [choose(booking)] * 2
    assert not Favourite.objects.exists()


def test_more_favourites_than_one_looks_through_are_refused(owner_client, booking, favourite, ink):
    for n in range(59):
        Favourite.objects.create(name=f"Ours {n}", kind="packed", spec=favourite.spec)
    answer = owner_client.post(favourite_address(booking), column(ink, name="One more"))
    assert answer.status_code == 422
    assert "There are 60 favourites already" in answer.content.decode()


# Jobs that have ended, and pieces that have gone.


@pytest.mark.parametrize("stage", ["done", "lost", "cancelled"])
def test_the_pieces_of_a_job_that_has_ended_stay_as_they_are(owner_client, booking, ink, sand, stage):
    owner_client.post(new(booking), column(ink, sand))
    piece = Piece.objects.get()
    Booking.objects.update(stage=stage)
    sentence = f"This job is {stage}: its pieces stay as they are."
    page = reverse("bookings:piece", args=[booking.pk, piece.pk])
    for address in (page, new(booking)):
        answer = owner_client.post(address, column(ink, sand, edition="1", name="Changed"))
        assert answer.status_code == 422
        assert sentence in answer.content.decode()
    shown = owner_client.get(page).content.decode()
    assert sentence in shown
    assert ">Keep<" not in shown.replace("visually-hidden", "")[shown.index("figures-bar") :]
    assert "Remove this piece" not in shown
    removing = reverse("bookings:piece-remove", args=[booking.pk, piece.pk])
    removed = owner_client.post(removing, {"form_key": str(uuid.uuid4())}, follow=True)
    assert sentence in removed.content.decode()
    assert Piece.objects.get().name == "Our column"
    assert "Add a piece" not in owner_client.get(reverse("bookings:detail", args=[booking.pk])).content.decode()


def test_a_piece_removed_by_somebody_else_comes_back_as_it_was_typed(owner_client, booking, ink, sand):
    owner_client.post(new(booking), column(ink, sand))
    piece = Piece.objects.get()
    piece_id, page = piece.pk, reverse("bookings:piece", args=[booking.pk, piece.pk])
    piece.delete()
    typed = column(ink, sand, piece=str(piece_id), edition="1", name="Typed for an hour", height="9 ft")
    preview = reverse("bookings:piece-preview", args=[booking.pk, "packed"])
    assert owner_client.post(preview, typed, **HTMX).status_code == 200
    answer = owner_client.post(page, typed)
    assert answer.status_code == 422
    assert "was removed by somebody else since you opened it" in answer.content.decode()
    assert answer.context["form"]["height"].value() == "9 ft"
    assert answer.context["action"] == new(booking)
    assert owner_client.post(answer.context["action"], typed).status_code == 302
    assert Piece.objects.get().name == "Typed for an hour"


def test_a_piece_nobody_ever_made_is_not_found(owner_client, booking):
    page = reverse("bookings:piece", args=[booking.pk, 999])
    assert owner_client.get(page).status_code == 404
    assert owner_client.post(page, {"form_key": str(uuid.uuid4())}).status_code == 404


@pytest.mark.parametrize(
    ("name", "said"),
    [
        pytest.param("Ink 11-inch", "Ink 11-inch", id="from left to right"),
        pytest.param("أزرق 11-inch", "\u2068أزرق 11-inch\u2069", id="Arabic"),
        pytest.param("כחול", "\u2068כחול\u2069", id="Hebrew"),
    ],
)
def test_a_name_from_right_to_left_keeps_to_itself_in_a_sentence(name, said):
    assert isolated(name) == said


def test_what_runs_short_keeps_such_a_name_apart(owner_client, booking):
    blue = ColourFactory(name="أزرق", position=0)
    answer = owner_client.post(reverse("bookings:piece-preview", args=[booking.pk, "packed"]), column(blue), **HTMX)
    assert "\u2068أزرق 11-inch\u2069: all" in answer.content.decode()
