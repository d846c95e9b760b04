"""A piece redrawn while it is typed: what the preview brings, refuses and asks for, and what it leaves alone."""

import gzip

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from bookings.models import Piece
from tests.factories import ColourFactory, ItemFactory, MovementFactory
from tests.sent_pieces import HTMX, new, preview, typed


def test_a_preview_brings_picture_takes_and_figures_and_writes_nothing(owner_client, booking, ink):
    answer = owner_client.post(preview(booking), typed(ink), **HTMX)
    said = answer.content.decode()
    assert answer.status_code == 200
    assert all(f'id="{part}" hx-swap-oob="innerHTML"' in said for part in ("picture", "takes", "figures", "drawn"))
    assert said.count("<circle") == len(answer.context["preview"].layout.balloons)
    assert "<form" not in said
    assert "<input" not in said
    assert not Piece.objects.exists()


def test_a_preview_comes_packed_where_the_browser_can_unpack_it(owner_client, booking, ink):
    plain, packed = (
        owner_client.post(preview(booking), typed(ink), **HTMX, headers=headers)
        for headers in ({}, {"Accept-Encoding": "gzip"})
    )
    assert "Content-Encoding" not in plain.headers
    assert packed.headers["Content-Encoding"] == "gzip"
    assert len(packed.content) < len(plain.content) / 3
    assert gzip.decompress(packed.content).count(b"<circle") == plain.content.count(b"<circle")


def test_bad_input_keeps_the_last_good_picture_and_says_why_beside_the_field(owner_client, booking, ink):
    answer = owner_client.post(preview(booking), typed(ink, length="10 km"), **HTMX)
    said = answer.content.decode()
    assert answer.status_code == 200
    assert 'id="picture" ' not in said
    assert 'id="figures"' not in said
    assert "Length must be from 1 ft to 200 ft; 10 km is more." in said
    assert '<div id="id_width_errors" hx-swap-oob="innerHTML"></div>' in said


def test_a_name_to_mend_does_not_hold_up_the_picture(owner_client, booking, ink):
    answer = owner_client.post(preview(booking), typed(ink, name=""), **HTMX)
    assert "Give the piece a name" in answer.content.decode()
    assert answer.context["preview"] is not None


def test_shares_that_do_not_add_up_offer_one_tap_to_a_hundred(owner_client, booking, ink):
    sent = typed(ink, **{"sizes-11": "60"})
    said = owner_client.post(preview(booking), sent, **HTMX).content.decode()
    assert "Sizes add up to 90 %: 10 % is missing." in said
    assert 'name="even" value="sizes"' in said
    evened = owner_client.post(preview(booking), sent | {"even": "sizes"}, **HTMX)
    assert [row.percent for row in evened.context["form"].size_rows] == [33, 67, 0]
    assert evened.context["preview"] is not None


@pytest.mark.parametrize("button", ["even", "add", "drop", "another"])
def test_the_forms_own_buttons_work_without_a_script_and_keep_nothing(owner_client, booking, ink, button):
    sand = ColourFactory(name="Sand")
    pressed = {"even": "sizes", "add": sand.key, "drop": ink.key, "another": "1"}[button]
    answer = owner_client.post(new(booking), typed(ink, **{button: pressed}))
    form = answer.context["form"]
    assert answer.status_code == 200
    assert not Piece.objects.exists()
    assert form["length"].value() == "10 ft"
    colours = [(str(row.colour), row.percent) for row in form.colour_rows]
    assert colours == {"add": [("Ink", "50"), ("Sand", "50")], "drop": []}.get(button, [("Ink", "100")])
    assert form["seed"].value() == ("4" if button == "another" else "3")


@pytest.mark.parametrize("add", ["99", "x", "1' or 1=1", "<script>"])
def test_adding_a_colour_that_is_not_there_says_so(owner_client, booking, ink, add):
    answer = owner_client.post(preview(booking), typed(ink, add=add), **HTMX)
    assert answer.status_code == 200
    assert "A colour must be one of the studio’s" in answer.content.decode()
    assert "<script>" not in answer.content.decode()


def test_the_price_is_of_the_whole_job_with_this_piece_in_its_place(owner_client, kept, ink):
    second = owner_client.post(preview(kept.booking), typed(ink), **HTMX)
    assert len(second.context["preview"].estimate.pieces) == 2
    assert "for 2 pieces" in second.content.decode()
    assert "This piece comes to $" in second.content.decode()
    same = owner_client.post(preview(kept.booking), typed(ink, piece=str(kept.pk)), **HTMX)
    assert len(same.context["preview"].estimate.pieces) == 1


def test_a_preview_asks_the_database_no_oftener_for_many_pieces(owner_client, booking, ink):
    for size in (5, 11, 16):
        MovementFactory(item=ItemFactory(colour=ink, size=size))

    def asked() -> int:
        with CaptureQueriesContext(connection) as queries:
            assert owner_client.post(preview(booking), typed(ink), **HTMX).status_code == 200
        return len(queries)

    alone = asked()
    for _ in range(8):
        owner_client.post(new(booking), typed(ink, length="2 ft", **{"sizes-5": "0", "sizes-11": "100"}))
    assert asked() == alone <= 18
