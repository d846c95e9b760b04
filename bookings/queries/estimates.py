"""A booking's pieces, estimated: what they take, what they cost, and what the shelf can promise of it."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.utils.safestring import SafeString, mark_safe

from bookings.models import Booking, Piece
from estimating.drawing import svg
from estimating.kinds import KINDS
from estimating.layout import Layout
from estimating.lines import Site
from estimating.materials import Materials
from estimating.models import Rates
from estimating.queries import JobEstimate, PieceToMake, estimate_job, palette
from stock.queries import free_on, held_firmly
from studio.models import Studio
from studio.units import System, show_length


@dataclass(frozen=True, slots=True)
class PiecePreview:
    """A piece while it is being made: its picture, what it takes, and what the whole job then costs."""

    picture: SafeString
    layout: Layout
    takes: list[str]
    short: list[str]
    estimate: JobEstimate


def to_make(piece: Piece) -> PieceToMake:
    """A kept piece as it is estimated: its spec read back, its layout as it was drawn."""
    spec = KINDS[piece.kind].spec.from_json(piece.spec)
    return PieceToMake(piece.name, piece.kind, spec, Layout.from_json(piece.layout))


def pieces_to_make(booking: Booking) -> list[PieceToMake]:
    """The booking's pieces in their order."""
    return [to_make(piece) for piece in booking.pieces.order_by("position")]


def estimate_of(pieces: Sequence[PieceToMake], booking: Booking, currency: str) -> JobEstimate:
    """These pieces as this booking's job."""
    return estimate_job(
        pieces,
        rates=Rates.objects.current(),
        currency=currency,
        distance=booking.distance,
        travel_minutes=booking.travel_minutes,
        crew=booking.crew,
        site=place_of(booking),
    )


def place_of(booking: Booking) -> Site:
    """The place of a booking for what floats there; what is not written down is as usual."""
    usual = Site()
    return Site(
        altitude_m=usual.altitude_m if booking.altitude_mm is None else round(booking.altitude_mm / 1000),
        celsius=usual.celsius if booking.celsius is None else round(booking.celsius),
        hours_afloat=booking.hours_afloat or usual.hours_afloat,
    )


def booking_estimate(booking: Booking, *, currency: str) -> JobEstimate | None:
    """What the booking takes and costs as it stands; None while it has no pieces."""
    pieces = pieces_to_make(booking)
    return estimate_of(pieces, booking, currency) if pieces else None


def piece_drawing(piece: PieceToMake, *, prefix: str, measures: System) -> SafeString:
    """The piece's picture as SVG. The drawing escapes every name it writes, so the markup is ours alone."""
    note = None
    if piece.layout.spine:
        note = describe(piece, measures).split(",")[0]
    return mark_safe(svg(piece.layout, palette(), title=piece.name, scale_note=note, prefix=prefix))


def describe(piece: PieceToMake, measures: System) -> str:
    """The piece in a few words, as on the quote: “30 ft × 22 in, 307 balloons”."""
    balloons = len(piece.layout.balloons)
    said = f"{balloons} balloon{'' if balloons == 1 else 's'}"
    length, width = getattr(piece.spec, "length_mm", None), getattr(piece.spec, "width_mm", None)
    if length is None or width is None:
        return said
    return f"{show_length(length, measures)} × {show_length(width, measures)}, {said}"


def takes_sentences(materials: Materials) -> list[str]:
    """What a piece takes, in sentences: how it is tied, the spares, and the hardware."""
    parts = materials.structure
    named = [
        (parts.clusters, "cluster"),
        (parts.quads_left, "quad"),
        (parts.fillers, "filler"),
        (parts.accents, "large balloon"),
        (parts.counted, "counted balloon"),
    ]
    tied = ", ".join(f"{n} {word}{'' if n == 1 else 's'}" for n, word in named if n)
    needed = materials.balloons()
    hardware = [
        f"{total} {one if total == 1 else many}"
        for total, one, many in (
            (materials.total_of("tie"), "260 tie", "260 ties"),
            (materials.total_of("line"), "foot of line", "feet of line"),
            (materials.attachments, "attachment point", "attachment points"),
        )
        if total
    ]
    sentences = [f"{needed} balloons: {tied}." if needed != 1 else f"1 balloon: {tied}."]
    sentences.append(f"With spares: {materials.total_of('latex')}.")
    if hardware:
        sentences.append(", ".join(hardware) + ".")
    return sentences


def shortfalls(estimate: JobEstimate, booking: Booking, *, today: date) -> dict[int, int]:
    """Item key to how many more the job needs than the shelf can promise for its prep day.

    What the booking holds already is its own. Without a prep day, today is asked for: the least that can be promised.
    """
    wanted = {line.item.pk: line.total for line in estimate.lines if line.item is not None}
    own = held_firmly(booking.pk)
    free = free_on(list(wanted), booking.prep_day or today, today)
    gaps = {item: total - own.get(item, 0) - free.get(item, 0) for item, total in wanted.items()}
    return {item: min(gap, wanted[item]) for item, gap in gaps.items() if gap > 0}


def short_sentences(estimate: JobEstimate, booking: Booking, *, today: date) -> list[str]:
    """“Ink 11-inch: 14 more than the shelf can promise”, the balloons first."""
    gaps = shortfalls(estimate, booking, today=today)
    unlisted = [f"{line.label}: all {line.total} to buy" for line in estimate.lines if line.item is None]
    short = [
        f"{line.label}: {gaps[line.item.pk]} more than the shelf can promise"
        for line in estimate.lines
        if line.item is not None and line.item.pk in gaps
    ]
    return short + unlisted


def piece_preview(
    booking: Booking, piece: Piece | None, *, name: str, kind: str, spec: Any, today: date, studio: Studio
) -> PiecePreview:
    """The piece as `spec` asks for it, in its place among the booking's others. Raises SpecErrors."""
    made = PieceToMake(name, kind, spec, KINDS[kind].lay_out(spec))
    others = booking.pieces.order_by("position")
    if piece is not None:
        others = others.exclude(pk=piece.pk)
    estimate = estimate_of([*map(to_make, others), made], booking, studio.currency)
    return PiecePreview(
        picture=piece_drawing(made, prefix="preview", measures=studio.system),
        layout=made.layout,
        takes=takes_sentences(estimate.pieces[-1].materials),
        short=short_sentences(estimate, booking, today=today),
        estimate=estimate,
    )
