"""A quote made ready to be issued: everything it freezes, worked out before anything is written.

Drawing a PDF takes a good part of a second, and nobody else's work should wait for it. So the paper is prepared
outside the transaction, carries a fingerprint of what it was made from, and is refused if that has changed.
"""

import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any, TypedDict

from django.db.models import Max

from bookings.cautions import cautions_for
from bookings.changes import Offered, OfferedPiece, changes_between
from bookings.choosing import Offer
from bookings.models import Booking, MoneyTerms, Quote
from bookings.owing import ladder_words
from bookings.paperwork.columns import (
    QuotedMoney,
    amounts,
    extra_columns,
    inside,
    material_columns,
    option_columns,
    piece_columns,
)
from bookings.paperwork.quote import Paper, PaperPiece, photo_asset, quote_pdf
from bookings.queries import (
    SketchedPiece,
    comparable,
    drawn_on_paper,
    what_and_size,
    worded,
)
from bookings.queries.day_words import day_words
from bookings.queries.known import read_known
from bookings.queries.offering import offering_of
from bookings.queries.quotes import offered_extras, offered_options
from estimating.drawing import Swatch, svg_for_paper
from estimating.queries import PieceToMake, palette
from stock.queries.kit import kit_wear
from studio.models import Studio
from studio.money import show
from studio.units import System


class OnPaper(TypedDict):
    """A piece's drawing for the PDF, and the photo behind it."""

    drawing: str
    photo: bytes | None


@dataclass(frozen=True, slots=True)
class QuotePaper:
    """What `issue_quote` freezes: the columns of the quote, its pieces and its materials."""

    booking_id: int
    number: int
    version: int
    made_from: str
    figures: dict[str, Any]
    pieces: list[dict[str, Any]]
    materials: list[dict[str, Any]]
    options: list[dict[str, Any]]
    extras: list[dict[str, Any]]

    @staticmethod
    def fingerprint_of(booking: Booking) -> str:
        """A digest of everything about a booking that a quote says."""
        pieces = list(
            booking.pieces.order_by("position").values_list("pk", "edition", "position", "goes_in", "is_taken")
        )
        names = list(booking.option_names.order_by("number").values_list("number", "name"))
        charges = list(
            booking.charges.order_by("pk").values_list("pk", "name", "note", "minutes", "amount_minor", "is_taken")
        )
        said = [
            booking.pk, booking.shown_title, booking.client.shown_name, str(booking.event_on), booking.date_text,
            str(booking.prep_day), str(booking.ready_by), booking.place, booking.distance, booking.travel_minutes,
            booking.crew, pieces, names, charges, [(wear.name, wear.minor) for wear in kit_wear(booking.pk)],
        ]  # fmt: skip
        return hashlib.sha256(json.dumps(said).encode()).hexdigest()


def last_day(*, today: date, quote_days: int, needed_on: date) -> date:
    """The last day a quote issued today can be accepted: never after the prep day its materials are held for."""
    return min(today + timedelta(days=quote_days), needed_on)


def number_and_version(booking: Booking) -> tuple[int, int]:
    """A booking keeps its quote's number, each issue is the next version; a first quote takes the next number."""
    own = booking.quotes.aggregate(number=Max("number"), version=Max("version"))
    if own["number"] is not None:
        return own["number"], own["version"] + 1
    return (Quote.objects.aggregate(last=Max("number"))["last"] or 0) + 1, 1


def prepare_quote(booking: Booking, *, studio: Studio, today: date, at: datetime) -> QuotePaper:
    """The next version of the booking's quote, PDF included, made from the booking as it stands.

    The caller has checked `why_not_send`. Items the shelf does not list yet are listed, so that they can be held.
    """
    made_from = QuotePaper.fingerprint_of(booking)
    known = read_known(for_several=True)
    offering = offering_of(booking, studio, known)
    number, version = number_and_version(booking)
    needed_on = booking.prep_day
    if needed_on is None:
        raise ValueError(f"booking {booking.pk} has no prep day")
    valid_until = last_day(today=today, quote_days=studio.quote_days, needed_on=needed_on)
    columns = [piece_columns(n, offering, studio, known.colours) for n in range(len(offering.pieces))]
    first = offering.options[0]
    money: QuotedMoney = {"currency": studio.currency, **amounts(first.asked)}
    told = _told(booking, studio, offering.pieces, number=number, version=version, valid_until=valid_until)
    told["tax_percent"] = str(first.estimate.tax_percent)
    told["tax_each_line"] = first.estimate.tax_on_each_piece
    told["offers_a_choice"] = offering.offer.is_a_choice
    told["changes"] = _changes(booking, told, columns, money, offering.offer)
    paper: Paper = "letter" if studio.measures == Studio.Measures.IMPERIAL else "A4"
    pdf = quote_pdf(
        told=told,
        pieces=_paper_pieces(offering.pieces, columns, studio.system, palette(known.colours)),
        offer=offering.offer,
        made_at=at,
        paper=paper,
        **money,
    )
    figures = dict(money) | {
        "valid_until": valid_until,
        "needed_on": needed_on,
        **inside(first.estimate),
        "told": told,
        "changes": told["changes"],
        "pdf": pdf,
        "pdf_sha256": hashlib.sha256(pdf).hexdigest(),
    }
    return QuotePaper(
        booking_id=booking.pk,
        number=number,
        version=version,
        made_from=made_from,
        figures=figures,
        pieces=columns,
        materials=material_columns(offering),
        options=option_columns(offering),
        extras=extra_columns(offering),
    )


def _told(
    booking: Booking, studio: Studio, pieces: Sequence[PieceToMake], *, number: int, version: int, valid_until: date
) -> dict[str, Any]:
    """What the client is told, as text that needs nothing else to be read."""
    outdoors = any(bool(getattr(piece.spec, "outdoors", False)) for piece in pieces)
    ladder = MoneyTerms.objects.current().ladder
    return {
        "studio": {
            "name": studio.name, "email": studio.email, "phone": studio.phone, "address": studio.address,
            "accent": studio.accent,
        },
        "client": booking.client.shown_name,
        "title": booking.shown_title,
        "number": number,
        "version": version,
        "day": day_words(booking),
        "ready_by": f"{booking.ready_by:%H:%M}" if booking.ready_by else "",
        "place": booking.place,
        "terms": "\n".join(part for part in (studio.terms.strip(), ladder_words(ladder)) if part),
        "notice": [list(step) for step in ladder],
        "cautions": cautions_for(outdoors=outdoors),
        "valid_until": f"{valid_until:%A} {valid_until.day} {valid_until:%B %Y}",
    }  # fmt: skip


def _paper_pieces(
    pieces: Sequence[PieceToMake],
    columns: Sequence[dict[str, Any]],
    measures: System,
    swatches: Mapping[str, Swatch],
) -> list[PaperPiece]:
    """The pieces as the PDF draws them."""
    return [
        PaperPiece(
            name=row["name"],
            description=row["description"],
            balloons=row["balloons"],
            colours=row["colours"],
            price_minor=row["price_minor"],
            option=row["option"],
            extra=row["extra"],
            prices=row["prices"],
            **_on_paper(worded(piece, measures), row["position"], measures, swatches),
        )
        for piece, row in zip(pieces, columns, strict=True)
    ]


def _on_paper(piece: PieceToMake, position: int, measures: System, swatches: Mapping[str, Swatch]) -> OnPaper:
    """The drawing of a piece for the PDF, and the photo it was sketched on."""
    prefix = f"p{position}"
    what = what_and_size(piece, measures)
    if not isinstance(piece, SketchedPiece):
        drawing = svg_for_paper(piece.layout, swatches, title=piece.name, prefix=prefix, what=what)
        return {"drawing": drawing, "photo": None}
    photo = None if piece.photo is None else bytes(piece.photo.picture)
    drawing = drawn_on_paper(piece, swatches, prefix=prefix, address=photo_asset(position), what=what)
    return {"drawing": drawing, "photo": photo}


def _changes(
    booking: Booking, told: dict[str, Any], columns: Sequence[dict[str, Any]], money: QuotedMoney, offer: Offer
) -> list[str]:
    """What this version changes, in sentences; empty for a first one."""
    before = booking.quotes.order_by("-version").first()
    if before is None:
        return []
    currency = money["currency"]
    return changes_between(
        comparable(before),
        Offered(
            title=told["title"],
            day=told["day"],
            place=told["place"],
            terms=told["terms"],
            total=show(money["total_minor"], currency),
            deposit=show(money["deposit_minor"], currency),
            pieces=[
                OfferedPiece(row["name"], row["description"], show(row["price_minor"], currency))
                for row in columns
                if not row["extra"]
            ],
            options=offered_options(offer, currency),
            extras=offered_extras(offer, currency),
        ),
    )
