"""A booking's pieces, estimated: what they take, what they cost, and what the shelf can promise of it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.db.models import Subquery
from django.db.models.functions import Coalesce
from django.utils.safestring import SafeString

from bookings.models import Acceptance, Booking, MaterialSwap, Piece
from bookings.queries.goes_in import made_pieces, made_with, option_names
from bookings.queries.known import Known, may_have, read_known
from bookings.queries.pictured import isolated, piece_drawing, takes_sentences, worded
from bookings.queries.sketches import sketched, with_sketches
from estimating.kinds import KINDS
from estimating.layout import Layout
from estimating.lines import Site
from estimating.queries import JobEstimate, PieceToMake, advice_on, estimate_job, inflated_in_force, laid_out
from stock.models import Colour, KitPromise
from stock.queries import free_on, taken_for
from stock.queries.kit import promised_kit, wear_of
from studio.models import Studio


@dataclass(frozen=True, slots=True)
class PiecePreview:
    """A piece while it is being made: its picture, what it takes, and what the whole job then costs.

    `notes` are what the decorator should know of it: how it was fitted, how it floats, how its lettering is cut.
    """

    picture: SafeString
    layout: Layout
    takes: list[str]
    notes: list[str]
    short: list[str]
    estimate: JobEstimate


def to_make(piece: Piece) -> PieceToMake:
    """A kept piece as it is estimated: its spec read back, its layout as it was drawn."""
    spec = KINDS[piece.kind].spec.from_json(piece.spec)
    return sketched(PieceToMake(piece.name, piece.kind, spec, Layout.from_json(piece.layout)), piece)


def pieces_to_make(booking: Booking) -> list[PieceToMake]:
    """The pieces the booking is estimated with, in their order."""
    pieces = pieces_of(booking)
    return [to_make(piece) for piece in made_pieces(pieces, option_names(booking, pieces))]


def estimate_of(
    pieces: Sequence[PieceToMake],
    booking: Booking,
    currency: str,
    known: Known | None = None,
    promised: Sequence[KitPromise] | None = None,
) -> JobEstimate:
    """These pieces as this booking's job. `known` and the kit it was `promised` are read where the caller has not.
    What wrapped-up jobs have shown decides their spares and narrows their ranges."""
    known = known or read_known()
    # Kit is wear, which only a price has.
    if promised is None:
        promised = promised_kit(booking.pk) if known.priced and may_have(booking, "kit") else []
    return estimate_job(
        pieces,
        rates=known.rates,
        currency=currency,
        distance=booking.distance,
        travel_minutes=booking.travel_minutes,
        crew=booking.crew,
        site=place_of(booking),
        balloons_seen=known.shown.balloons,
        minutes_seen=known.shown.minutes,
        pops_seen=known.shown.pops,
        lessons=known.shown.lessons,
        colours=known.colours,
        kit=wear_of(promised),
        shelf=known.shelf,
        priced=known.priced,
    )


def place_of(booking: Booking) -> Site:
    """The place of a booking for what floats there; what is not written down is as usual."""
    usual = Site()
    return Site(
        altitude_m=usual.altitude_m if booking.altitude_mm is None else round(booking.altitude_mm / 1000),
        celsius=usual.celsius if booking.celsius is None else round(booking.celsius),
        hours_afloat=booking.hours_afloat or usual.hours_afloat,
    )


def pieces_of(booking: Booking) -> list[Piece]:
    """The booking's pieces in their order, as they are estimated."""
    return list(with_sketches(booking.pieces.order_by("position")))


def booking_estimate(booking: Booking, *, currency: str) -> JobEstimate | None:
    """What the booking takes and costs as it stands: its first option, and the extras that were taken.

    None while it has no pieces.
    """
    pieces = pieces_to_make(booking)
    return estimate_of(pieces, booking, currency) if pieces else None


def swaps_of(booking: Booking) -> list[MaterialSwap]:
    """What a booked job takes in place of what its picture shows, since it was accepted last, in order."""
    if booking.stage != Booking.Stage.BOOKED or not may_have(booking, "swaps"):
        return []
    last = Acceptance.objects.filter(quote__booking=booking).order_by("-at").values("at")[:1]
    swaps = booking.swaps.filter(at__gte=Coalesce(Subquery(last), "at"))
    return list(swaps.select_related("given_up__colour", "taken__colour", "inside__colour").order_by("pk"))


def shortfalls(
    wanted: Mapping[int, int],
    booking: Booking,
    *,
    today: date,
    swaps: Sequence[MaterialSwap] | None = None,
    taken: Mapping[int, int] | None = None,
) -> dict[int, int]:
    """Item key to how many more of `wanted` the job needs than the shelf can promise for its prep day.

    `wanted` is by item, before any swap. What the booking holds already is its own, and what it has taken it needs no
    more. Without a prep day, today is asked for: the least that can be promised. `swaps` are its `swaps_of` and `taken`
    is what was `taken_for` it, where the caller has read them.
    """
    wanted = dict(wanted)
    for swap in swaps_of(booking) if swaps is None else swaps:
        wanted[swap.given_up_id] = max(wanted.get(swap.given_up_id, 0) - swap.quantity, 0)
        for other in swap.taken_ids:
            wanted[other] = wanted.get(other, 0) + swap.quantity
    if taken is None:
        taken = taken_for(booking.pk) if may_have(booking, "stock") else {}
    for item, out in taken.items():
        wanted[item] = max(wanted.get(item, 0) - out, 0)
    free = free_on(list(wanted), booking.prep_day or today, today, besides=booking.pk)
    gaps = {item: total - free.get(item, 0) for item, total in wanted.items()}
    return {item: min(gap, wanted[item]) for item, gap in gaps.items() if gap > 0}


def short_sentences(estimate: JobEstimate, booking: Booking, *, today: date) -> list[str]:
    """“Ink 11-inch: 14 more than the shelf can promise”, the balloons first."""
    wanted = {line.item.pk: line.total for line in estimate.lines if line.item is not None}
    gaps = shortfalls(wanted, booking, today=today)
    unlisted = [f"{isolated(line.label)}: all {line.total} to buy" for line in estimate.lines if line.item is None]
    short = [
        f"{isolated(line.label)}: {gaps[line.item.pk]} more than the shelf can promise"
        for line in estimate.lines
        if line.item is not None and line.item.pk in gaps
    ]
    return short + unlisted


def piece_preview(
    booking: Booking,
    piece: Piece | None,
    *,
    others: Sequence[Piece],
    colours: Sequence[Colour],
    name: str,
    kind: str,
    spec: Any,
    today: date,
    studio: Studio,
) -> PiecePreview:
    """The piece as `spec` asks for it, among those of the booking's `others` it is made with. Raises SpecErrors.

    `colours` are all of the studio's.
    """
    inflated = inflated_in_force(colours)
    made = sketched(PieceToMake(name, kind, spec, laid_out(kind, spec, inflated)), piece)
    together = made_with(piece, others, option_names(booking, others))
    estimate = estimate_of([*map(to_make, together), made], booking, studio.currency, read_known(colours=colours))
    in_foil = estimate.pieces[-1].piece
    advice = advice_on(in_foil, site=place_of(booking), inflated=inflated)
    return PiecePreview(
        picture=piece_drawing(made, prefix="preview", measures=studio.system, colours=colours),
        layout=made.layout,
        takes=takes_sentences(estimate.pieces[-1].materials, studio.system),
        notes=[*worded(made, studio.system).layout.notes, *advice],
        short=short_sentences(estimate, booking, today=today),
        estimate=estimate,
    )
