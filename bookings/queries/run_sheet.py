"""The run sheet of a booking: everything whoever does the job needs on the day. No amount is in it."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, tzinfo
from itertools import groupby
from typing import Any, NamedTuple
from urllib.parse import quote

from django.db.models import QuerySet
from django.utils.safestring import SafeString

from bookings.cautions import cautions_for
from bookings.models import Booking, DayLimits, Place
from bookings.queries.allergies import Allergies, allergies_of
from bookings.queries.bringing import held_items
from bookings.queries.job_plan import by_day, made_and_planned
from bookings.queries.known import Known, may_have, read_known, with_what_it_has
from bookings.queries.load import SiteCard, load_and_site
from bookings.queries.pictured import as_picture, describe, piece_drawing, worded
from bookings.queries.planned import access_of, with_its_place, work_of
from bookings.queries.site import CheckRow, MadeJob, PiecePoints, made_job, points_of, site_rows
from bookings.queries.sketches import SketchedPiece
from bookings.queries.strike import StrikeSheet, strike_sheet
from bookings.queries.weights import ladders_ft
from bookings.run_steps import RunStep, run_steps
from estimating.drawing import Swatch, svg, svg_for_paper
from estimating.hanging import points_on, with_points
from estimating.layout import Layout
from estimating.load import grams_in_words
from estimating.queries import PieceToMake, palette
from estimating.wording import measured
from stock.models import KitPromise
from stock.queries.kit import promised_kit
from studio.models import Studio
from studio.units import System

MAP = "https://www.openstreetmap.org/search?query="


class StrikePage(NamedTuple):
    """The strike of a job; `stopped` says why nobody should go, where that is so."""

    stopped: str
    strike: StrikeSheet


class PointRow(NamedTuple):
    """A point of the attachment plan, in words."""

    number: int
    where: str
    bears: str
    rated: str


@dataclass(frozen=True, slots=True)
class SheetPiece:
    """A piece on the sheet: its picture with its points numbered, and what each of them bears.

    `seen` is the picture as the client saw it on their photo, where it was drawn on one.
    """

    key: int
    name: str
    description: str
    made: PieceToMake
    picture: SafeString
    seen: SafeString | None
    points: tuple[PointRow, ...]
    places: tuple[float, ...]
    swatches: Mapping[str, Swatch]

    @property
    def paper_picture(self) -> str:
        """The same picture as a PDF draws it."""
        prefix = f"r{self.key}"
        return _with_points(
            svg_for_paper(self.made.layout, self.swatches, title=self.name, prefix=prefix),
            self.made.layout,
            self.places,
        )

    @property
    def same_points(self) -> list[tuple[str, PointRow]]:
        """The points put together that bear and hold alike: “2–4”, and the first of them."""
        found = []
        for _, alike in groupby(self.points, key=lambda row: (row.bears, row.rated)):
            rows = list(alike)
            first, last = rows[0].number, rows[-1].number
            found.append((f"{first}" if first == last else f"{first}–{last}", rows[0]))
        return found


@dataclass(frozen=True, slots=True)
class RunSheet:
    """One job for whoever does it. `stopped` says why nobody should go, where that is so."""

    booking: Booking
    place: Place
    allergies: Allergies
    stopped: str
    days: tuple[tuple[date, tuple[RunStep, ...]], ...]
    pieces: tuple[SheetPiece, ...]
    rows: tuple[CheckRow, ...]
    site: SiteCard | None
    cautions: tuple[str, ...]
    strike: StrikeSheet

    @property
    def not_cleared(self) -> list[CheckRow]:
        """The checks that are not met and that nobody has acknowledged as they stand."""
        return [row for row in self.rows if not row.is_clear]

    @property
    def acknowledged(self) -> list[CheckRow]:
        """Those that somebody goes ahead with all the same."""
        return [row for row in self.rows if row.acknowledged is not None and row.check.state != "met"]

    @property
    def is_clean(self) -> bool:
        """Whether it may be printed without a warning across its top."""
        return bool(self.rows) and not self.not_cleared

    @property
    def address(self) -> str:
        """Where to go: the address as it was written down, else the place the client said."""
        return self.place.address or self.booking.place

    @property
    def map_link(self) -> str:
        """A map of the address; empty where there is none."""
        return MAP + quote(" ".join(self.address.split())) if self.address.strip() else ""

    @property
    def contacts(self) -> list[tuple[str, str, str]]:
        """Whom to call: what they are, their name, their number. Whoever is there on the day comes first."""
        client, place = self.booking.client, self.place
        found = []
        if place.contact_name or place.contact_phone:
            found.append(("On the day", place.contact_name or place.contact_phone, place.contact_phone))
        if client.phone and client.phone != place.contact_phone:
            found.append(("Client", client.shown_name, client.phone))
        return found

    @property
    def access_words(self) -> str:
        """“from 08:00 to 12:00”; nothing where nobody has said."""
        opens, closes = self.place.access_from, self.place.access_until
        if opens is None:
            return ""
        return f"from {opens:%H:%M}" + (f" to {closes:%H:%M}" if closes else "")

    @property
    def out_words(self) -> str:
        """“from 23:00, everything out by 01:00”; nothing where nobody has said."""
        said = [f"from {self.place.out_from:%H:%M}"] if self.place.out_from else []
        said += [f"everything out by {self.place.out_by:%H:%M}"] if self.place.out_by else []
        return ", ".join(said)


def run_sheet(booking: Booking, *, studio: Studio, today: date, zone: tzinfo) -> RunSheet:
    """The sheet of a booking as it stands."""
    known, limits, place = read_known(priced=False), DayLimits.objects.current(), Place.objects.of(booking)
    rates, promised, held, ladders = known.rates, _promised(booking), held_items(booking), ladders_ft()
    made, steps = made_and_planned(
        booking, known, limits, promised=promised, held=held, today=today, studio=studio, zone=zone
    )
    outdoors = made is not None and any(one.materials.outdoors for one in made.estimate.pieces)
    return RunSheet(
        booking=booking,
        place=place,
        allergies=allergies_of(booking),
        stopped=why_stopped(booking),
        days=tuple((day, tuple(of_day)) for day, of_day in by_day(steps)),
        pieces=tuple(_pieces(booking, made, place, known, studio.system)),
        rows=tuple(
            site_rows(
                booking,
                made,
                place,
                rates=rates,
                usual=limits.usual,
                measures=studio.system,
                zone=zone,
                ladders=ladders,
            )
        ),
        site=None
        if made is None
        else load_and_site(
            made.estimate, booking, rates=rates, measures=studio.system, promised=promised, ladders=ladders
        ),
        cautions=tuple(cautions_for(outdoors=outdoors)),
        strike=strike_sheet(booking, made, steps, today=today, promised=promised, held=held),
    )


def for_its_sheet(bookings: QuerySet[Booking]) -> QuerySet[Any]:
    """The bookings with their client and, in the same statement, whether there is any of what a sheet asks for."""
    read = with_its_place(bookings.select_related("client"))
    return with_what_it_has(read, "kit", "stock", "swaps", "acknowledgements", "ticks")


def strike_page(booking: Booking, *, studio: Studio, today: date, zone: tzinfo) -> StrikePage:
    """The strike alone, without the pictures and the checks of the sheet."""
    promised = _promised(booking)
    made = made_job(booking, currency=studio.currency, known=read_known(priced=False), promised=promised)
    steps = run_steps(booking.said, work_of(booking, made), zone=zone, access=access_of(booking))
    sheet = strike_sheet(booking, made, steps, today=today, promised=promised, held=held_items(booking))
    return StrikePage(why_stopped(booking), sheet)


def _promised(booking: Booking) -> list[KitPromise]:
    return promised_kit(booking.pk) if may_have(booking, "kit") else []


def why_stopped(booking: Booking) -> str:
    """Why nobody should load for a job; empty where it goes ahead."""
    return {
        Booking.Stage.CANCELLED: "This job was cancelled: nobody goes. What was written down is kept below.",
        Booking.Stage.LOST: "This job was lost: nobody goes. What was written down is kept below.",
        Booking.Stage.DONE: "This job is done. What was written down is kept below.",
        Booking.Stage.ENQUIRY: "This job is an enquiry: nothing is booked yet.",
        Booking.Stage.QUOTED: "This job is quoted: nothing is booked yet.",
    }.get(Booking.Stage(booking.stage), "")


def _pieces(booking: Booking, made: MadeJob | None, place: Place, known: Known, measures: System) -> list[SheetPiece]:
    if made is None:
        return []
    hung = {points.key: points for points in points_of(booking, made, place, rates=known.rates)}
    swatches = palette(known.colours)
    found = []
    for key, one in made.pieces.items():
        piece, points = worded(one.piece, measures), hung.get(key)
        along = tuple(at for at in (points.places if points else ()) if at is not None)
        drawn = svg(piece.layout, swatches, title=piece.name, prefix=f"sheet-{key}")
        seen = None
        if isinstance(piece, SketchedPiece):
            seen = piece_drawing(piece, prefix=f"seen-{key}", measures=measures, colours=known.colours)
        found.append(
            SheetPiece(
                key=key,
                name=piece.name,
                description=describe(piece, measures),
                made=piece,
                picture=as_picture(_with_points(drawn, piece.layout, along)),
                seen=seen,
                points=_rows(points, measures),
                places=along,
                swatches=swatches,
            )
        )
    return found


def _with_points(drawn: str, layout: Layout, places: tuple[float, ...]) -> str:
    return with_points(drawn, points_on(layout, places)) if places else drawn


def _rows(points: PiecePoints | None, measures: System) -> tuple[PointRow, ...]:
    if points is None:
        return ()
    return tuple(
        PointRow(
            number,
            "" if at is None else ("at its start" if at < 0.5 else f"at {measured(at, measures)}"),
            grams_in_words(grams, measures) + (" with the push of the wind" if points.wind else ""),
            "" if rating is None else grams_in_words(rating, measures),
        )
        for number, (at, grams, rating) in enumerate(zip(points.places, points.grams, points.ratings, strict=True), 1)
    )
