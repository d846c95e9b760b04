"""A piece in a picture and in words: what it is, how large, and what it takes."""

from collections.abc import Sequence
from dataclasses import replace
from unicodedata import bidirectional

from django.utils.safestring import SafeString, mark_safe

from bookings.queries.sketches import SKETCHED, SketchedPiece, drawn_on_screen, length_words
from estimating.drawing import svg
from estimating.kinds import KINDS, counted, garland
from estimating.lines import Said, Sort
from estimating.materials import Materials
from estimating.queries import PieceToMake, palette
from estimating.wording import in_measures, measured
from stock.models import Colour
from studio.units import System, show_length

LONG: tuple[Sort, ...] = ("line", "ribbon")


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


def isolated(name: str) -> str:
    """A name people typed, so that one written from right to left leaves the rest of its sentence in order."""
    return f"\u2068{name}\u2069" if any(bidirectional(letter) in ("R", "AL", "AN") for letter in name) else name
