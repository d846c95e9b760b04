"""The one idea: what the client sees is what gets held.

Discs drawn, balloons counted and balloons reserved are the same, for any garland and any counted piece.
"""

import datetime as dt
import re
from collections import Counter
from decimal import Decimal
from itertools import pairwise
from xml.etree import ElementTree

import pytest
from django.db import transaction
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import bookings.paperwork.preparing as preparing
from bookings import actions
from bookings.models import Booking
from bookings.paperwork import prepare_quote
from estimating.kinds import CountedSpec, GarlandSpec, SpecErrors
from estimating.layout import Layout
from stock.models import Item, Reservation
from studio.models import Studio
from tests.factories import NOON, TODAY, BookingFactory, ColourFactory

EVENT = TODAY + dt.timedelta(days=20)
SIZES = (5, 9, 11, 16, 18)


@st.composite
def shares(draw: st.DrawFn, keys: list, most: int) -> tuple[tuple, ...]:
    """Some of the keys with whole percents of at least 1 that add up to 100."""
    chosen = draw(st.lists(st.sampled_from(keys), min_size=1, max_size=most, unique=True))
    cuts = sorted(draw(st.lists(st.integers(1, 99), min_size=len(chosen) - 1, max_size=len(chosen) - 1, unique=True)))
    edges = [0, *cuts, 100]
    return tuple((key, high - low) for key, (low, high) in zip(chosen, pairwise(edges), strict=True))


@st.composite
def specs(draw: st.DrawFn, colours: list[str]):
    """A garland or a counted piece of these colours."""
    if draw(st.booleans()):
        return "garland", GarlandSpec(
            length_mm=Decimal("304.8") * draw(st.integers(2, 12)),
            width_mm=Decimal("25.4") * draw(st.integers(14, 26)),
            mix=draw(shares(list(SIZES), 3)),
            colours=draw(shares(colours, 3)),
            outdoors=draw(st.booleans()),
            shape=draw(st.sampled_from(["straight", "swag", "doorway"])),
            seed=draw(st.integers(0, 99)),
        )
    pairs = [(colour, size) for colour in colours for size in SIZES]
    lines = draw(st.dictionaries(st.sampled_from(pairs), st.integers(1, 40), min_size=1, max_size=4))
    counted = tuple((colour, size, count) for (colour, size), count in lines.items())
    return "counted", CountedSpec(
        lines=counted, outdoors=draw(st.booleans()), minutes=10, line_ft=0, attachments=0, seed=1
    )


def discs_in(picture: str, layout: Layout) -> Counter[tuple[str, int]]:
    """The discs a drawing shows, read from its markup alone: colour by gradient, nominal size by radius."""
    keys = sorted({balloon.colour for balloon in layout.balloons})
    sizes = {f"{balloon.diameter / 2:.2f}": balloon.size for balloon in layout.balloons}
    shown: Counter[tuple[str, int]] = Counter()
    for circle in ElementTree.fromstring(picture).iter("{http://www.w3.org/2000/svg}circle"):
        gradient = re.fullmatch(r"url\(#p0-c(\d+)-\d\)", circle.attrib["fill"])
        assert gradient, circle.attrib
        shown[keys[int(gradient[1])], sizes[f"{float(circle.attrib['r']):.2f}"]] += 1
    return shown


@pytest.mark.django_db
def test_what_is_drawn_is_what_is_counted_is_what_is_reserved(owner, monkeypatch):
    colours = [ColourFactory(name=name).key for name in ("Ink", "Sand", "Terracotta")]
    # The paper is not what is tested here, and would take nearly all of the time.
    monkeypatch.setattr(preparing, "quote_pdf", lambda **_: b"%PDF")

    kept = []

    @settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
    @given(specs(colours))
    def holds(asked):
        kind, spec = asked
        with transaction.atomic():
            asked_for: Booking = BookingFactory(event_on=EVENT, created_by=owner)
            try:
                actions.keep_piece(
                    booking=asked_for,
                    piece=None,
                    edition=0,
                    name="It",
                    kind=kind,
                    spec=spec,
                    typed={},
                    by=owner,
                    at=NOON,
                )
            except SpecErrors:
                # These sizes cannot make that width: said in words, and nothing was kept.
                assert not asked_for.pieces.exists()
                return
            booking = Booking.objects.select_related("client").get(pk=asked_for.pk)
            paper = prepare_quote(booking, studio=Studio.objects.current(), today=TODAY, at=NOON)
            quote = actions.issue_quote(paper=paper, by=owner, at=NOON)
            actions.accept_quote(quote=quote, name="Ines", today=TODAY, at=NOON, address=None, browser="")

            piece = quote.pieces.get()
            layout = Layout.from_json(piece.layout)
            counted = layout.counts()
            assert discs_in(piece.picture, layout) == counted
            needed = {
                (str(line.item.colour_id), line.item.size): line.needed
                for line in quote.materials.filter(item__sort=Item.Sort.LATEX).select_related("item")
            }
            assert needed == dict(counted)
            spares = {line.item_id: line.spares for line in quote.materials.all()}
            held = Reservation.objects.open().firm().of_bookings([booking.pk]).filter(item__sort=Item.Sort.LATEX)
            assert {
                (str(row.item.colour_id), row.item.size): row.quantity - spares[row.item_id]
                for row in held.select_related("item")
            } == dict(counted)
            kept.append(kind)
            transaction.set_rollback(True)

    holds()
    assert {"garland", "counted"} <= set(kept)
