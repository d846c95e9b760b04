"""A hand-counted piece through its pages: kept, drawn, given more lines, refused."""

from bookings.models import Piece
from tests.sent_pieces import HTMX, counted, new, page_of, preview


def test_a_counted_piece_is_kept_and_opens_as_it_was_typed(owner_client, booking, ink):
    assert owner_client.post(new(booking, "counted"), counted(ink)).status_code == 302
    piece = Piece.objects.get()
    assert piece.spec["lines"] == [[ink.key, 11, 12]]
    form = owner_client.get(page_of(piece)).context["form"]
    assert form["line"].value() == "4 ft"
    assert form.line_rows[0].how_many == "12"


def test_a_counted_preview_draws_every_balloon(owner_client, booking, ink):
    answer = owner_client.post(preview(booking, "counted"), counted(ink), **HTMX)
    assert answer.content.decode().count("<circle") == 12


def test_more_lines_are_added_with_what_was_typed_kept(owner_client, booking, ink):
    answer = owner_client.post(new(booking, "counted"), counted(ink, more="lines"))
    rows = answer.context["form"].line_rows
    assert len(rows) == 4
    assert rows[0].how_many == "12"
    assert not Piece.objects.exists()


def test_a_counted_piece_without_balloons_is_refused(owner_client, booking, ink):
    answer = owner_client.post(new(booking, "counted"), counted(ink, **{"line-0-count": "0"}))
    assert answer.status_code == 422
    assert "How many in line 1 must be a whole number from 1 to 3000 (got “0”)." in answer.content.decode()
