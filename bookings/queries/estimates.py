"""A booking's pieces, estimated: what they take, what they cost, and what the shelf can promise of it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any
from unicodedata import bidirectional

from django.db.models import Subquery
from django.db.models.functions import Coalesce
from django.utils.safestring import SafeString, mark_safe

from bookings.models import Acceptance, Booking, MaterialSwap, Piece
from bookings.queries.goes_in import made_pieces, made_with, option_names
from bookings.queries.known import Known, may_have, read_known
from bookings.queries.sketches import SKETCHED, SketchedPiece, drawn_on_screen, length_words, sketched, with_sketches
from estimating.drawing import svg
from estimating.kinds import KINDS, counted, garland
from estimating.layout import Layout
from estimating.lines import Said, Site, Sort
from estimating.materials import Materials
from estimating.queries import JobEstimate, PieceToMake, advice_on, estimate_job, inflated_in_force, laid_out, palette
from estimating.wording import in_measures, measured
from stock.models import Colour, KitPromise
from stock.queries import free_on, taken_for
from stock.queries.kit import promised_kit, wear_of
from studio.models import Studio
from studio.units import System, show_length

LONG: tuple[Sort, ...] = ("line", "ribbon")


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


def as_picture(drawn: str) -> SafeString:
    """One of our own drawings as markup: the drawing escapes every name it writes."""
    return mark_safe(drawn)


def piece_drawing(
    piece: PieceToMake,
    *,
    prefix: str,
    measures: System,
    whole: bool = False,
    colours: Sequence[Colour] | None = None,
) -> SafeString:
    """The piece's picture as SVG. The drawing escapes every name it writes, so the markup is ours alone.

    A `whole` picture has the photo it was sketched on inside it, for those who may not ask for the photo.
    """
    if isinstance(piece, SketchedPiece):
        spoken = worded(piece, measures)
        assert isinstance(spoken, SketchedPiece)
        return as_picture(
            drawn_on_screen(spoken, palette(colours), prefix=prefix, whole=whole, what=what_and_size(piece, measures))
        )
    note = said_of(piece, measures).size if piece.layout.spine else None
    return as_picture(
        svg(
            worded(piece, measures).layout,
            palette(colours),
            title=piece.name,
            scale_note=note,
            prefix=prefix,
            what=what_and_size(piece, measures),
        )
    )


def worded(piece: PieceToMake, measures: System) -> PieceToMake:
    """The piece with what its layout says in the studio's measures."""
    if not piece.layout.notes:
        return piece
    notes = tuple(in_measures(note, measures) for note in piece.layout.notes)
    return replace(piece, layout=replace(piece.layout, notes=notes))


def said_of(piece: PieceToMake, measures: System) -> Said:
    """What the piece is and how large, in the studio's measures."""
    if getattr(piece.spec, "shape", "") == SKETCHED:
        width = show_length(piece.spec.width_mm, measures)
        return Said(KINDS[piece.kind].title, f"{length_words(piece.spec.path, measures)} along the path × {width}")
    return KINDS[piece.kind].said(piece.spec, piece.layout, lambda inches: measured(inches, measures))


def what_and_size(piece: PieceToMake, measures: System) -> str:
    """“Packed arch, 8 ft high, 10 ft wide”."""
    return ", ".join(said for said in said_of(piece, measures) if said)


def describe(piece: PieceToMake, measures: System) -> str:
    """The piece in a few words, as on the quote: “30 ft × 22 in, 307 balloons”, “Column, 6 ft high, 2 ft wide, 36
    balloons”.
    """
    balloons = piece.layout.counts().total()
    said, number = said_of(piece, measures), f"{balloons} balloon{'' if balloons == 1 else 's'}"
    # A garland and what was counted by hand are what most pieces are: their names say it.
    plain = piece.kind in (garland.NAME, counted.NAME)
    return ", ".join(part for part in ("" if plain else said.what, said.size, number) if part)


def takes_sentences(materials: Materials, measures: System = "imperial") -> list[str]:
    """What a piece takes, in sentences: how it is tied, the spares, and the hardware in the studio's measures."""
    parts = materials.structure
    named = [
        (parts.clusters, "cluster"),
        (parts.quads_left, "quad"),
        (parts.fillers, "filler"),
        (parts.accents, "large balloon"),
        (parts.toppers, "topper"),
        (parts.floats, "floating balloon"),
        (parts.bouquets, "in bouquets"),
        (parts.panels, "in the panel"),
        (parts.glyphs, "in the outline"),
        (parts.counted, "counted balloon"),
    ]
    tied = ", ".join(f"{n} {word}{'' if n == 1 or word.startswith('in ') else 's'}" for n, word in named if n)
    needed = materials.balloons()
    # The shelf keeps them by the foot; a studio of metres reads how many metres those are.
    feet = {sort: materials.total_of(sort) for sort in LONG}
    metres: list[str] = []
    if measures == "metric":
        metres = [f"{measured(12 * total, measures)} of {sort}" for sort, total in feet.items() if total]
        feet = dict.fromkeys(feet, 0)
    hardware = metres + [
        f"{total} {one if total == 1 else many}"
        for total, one, many in (
            (materials.total_of("tie"), "tie (a 260)", "ties (260s)"),
            (feet["line"], "foot of line", "feet of line"),
            (feet["ribbon"], "foot of ribbon", "feet of ribbon"),
            (materials.total_of("weight"), "weight", "weights"),
            (materials.total_of("gas"), "litre of helium", "litres of helium"),
            (materials.total_of("decal"), "decal", "decals"),
            (materials.attachments, "attachment point", "attachment points"),
        )
        if total
    ]
    said = f"{needed} balloon{'' if needed == 1 else 's'}"
    together = [n for n, _ in named if n]
    sentences = [f"{said}: {tied}." if tied and together != [needed] else f"{said}."]
    sentences.append(f"With spares: {materials.total_of('latex')}.")
    if hardware:
        sentences.append(", ".join(hardware) + ".")
    return sentences


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


def isolated(name: str) -> str:
    """A name people typed, so that one written from right to left leaves the rest of its sentence in order."""
    return f"\u2068{name}\u2069" if any(bidirectional(letter) in ("R", "AL", "AN") for letter in name) else name


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
