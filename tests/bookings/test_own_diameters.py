"""The studio's own inflated diameters where pieces are made, and what they leave alone."""

import uuid
from decimal import Decimal

import pytest
from django.urls import reverse

from bookings.models import Piece, QuotePiece
from bookings.queries import booking_estimate
from estimating.actions import keep_inflated
from estimating.bags import HELIUM_INFLATED, inflated_range
from estimating.gas import floating_range
from estimating.layout import Layout
from estimating.specs import SIZES
from stock.models import Colour
from tests.factories import ColourFactory

INCH = Decimal("25.4")
GARLAND = {
    "name": "Garland over the doorway",
    "length": "10 ft",
    "width": "20 in",
    "shape": "swag",
    "outdoors": "False",
    "seed": "3",
    "sizes-5": "30",
    "sizes-11": "70",
}


def blow(**inches: str) -> None:
    """Keep a table of fields such as air_11."""
    split = {(int(name.rpartition("_")[2]), name.rpartition("_")[0]): typed for name, typed in inches.items()}
    keep_inflated(own={key: (Decimal(typed) * INCH, typed) for key, typed in split.items()})


def typed(colour: Colour, **changes: str) -> dict[str, str]:
    """The garland form as it is sent."""
    return GARLAND | {f"colours-{colour.key}": "100", "form_key": str(uuid.uuid4())} | changes


def diameters(layout: Layout) -> dict[int, float]:
    """How far each size of a layout is blown."""
    return {b.size: b.diameter for b in layout.balloons}


def test_the_preview_and_the_piece_that_is_kept_are_blown_as_the_studio_does(owner_client, priced):
    blow(air_11="8")
    colour = Colour.objects.get()
    address = reverse("bookings:piece-preview", args=[priced.pk, "garland"])
    shown = owner_client.post(address, typed(colour), headers={"HX-Request": "true"})
    assert diameters(shown.context["preview"].layout) == {5: 4.75, 11: 8.0}
    owner_client.post(reverse("bookings:piece-new", args=[priced.pk, "garland"]), typed(colour))
    kept = Piece.objects.get(name="Garland over the doorway")
    assert diameters(Layout.from_json(kept.layout)) == {5: 4.75, 11: 8.0}
    assert Layout.from_json(kept.layout).counts() == shown.context["preview"].layout.counts()


def test_a_piece_already_laid_out_keeps_its_counts_and_price_until_it_is_kept_again(owner_client, priced):
    before = booking_estimate(priced, currency="USD")
    piece = Piece.objects.get()
    blow(air_11="8", air_5="4")
    after = booking_estimate(priced, currency="USD")
    assert before is not None and after is not None
    assert after.price_minor == before.price_minor
    assert [line.total for line in after.lines] == [line.total for line in before.lines]

    form = owner_client.get(reverse("bookings:piece", args=[priced.pk, piece.pk])).context["form"]
    owner_client.post(
        reverse("bookings:piece", args=[priced.pk, piece.pk]),
        {**form.data, "edition": str(piece.edition), "form_key": str(uuid.uuid4())},
    )
    kept = Piece.objects.get()
    assert kept.edition == piece.edition + 1
    assert diameters(Layout.from_json(kept.layout)) == {5: 4.0, 11: 8.0}
    assert len(kept.layout["balloons"]) > len(piece.layout["balloons"])


def test_a_quote_that_was_sent_never_changes(priced, issue):
    issue(priced)
    sent = QuotePiece.objects.values_list("picture", "description", "price_minor").get()
    blow(air_11="7", air_5="3.5")
    assert QuotePiece.objects.values_list("picture", "description", "price_minor").get() == sent
    assert issue(priced).pieces.values_list("description", flat=True).get() == sent[1]


@pytest.mark.parametrize("end", [0, 1], ids=["everything at its least", "everything at its most"])
@pytest.mark.django_db
def test_the_kinds_to_choose_from_are_shown_whatever_the_table_says(owner_client, priced, end):
    ColourFactory(name="Sand")
    air = {(size, "air"): inflated_range(size)[end] for size in SIZES}
    helium = {(size, "helium"): floating_range(size)[end] for size in HELIUM_INFLATED}
    keep_inflated(own={key: (Decimal(str(wide)) * INCH, f"{wide}") for key, wide in (air | helium).items()})
    page = owner_client.get(reverse("bookings:piece-choose", args=[priced.pk]))
    assert page.status_code == 200
    for card in page.context["cards"]:
        answer = owner_client.get(card.href)
        assert answer.status_code == 200
        # What such balloons cannot make is said beside its field, with the picture left out.
        assert bool(answer.context["preview"]) != bool(answer.context["form"].errors)
