"""How many balloons of each size a garland takes, what each size is for, and which widths they can make."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import ceil

from estimating.kinds.garland.taper import Taper
from estimating.layout import Part
from estimating.packing import balloons_for
from estimating.specs import INFLATED, SIZES, SpecError, SpecErrors
from studio.money import shares

THIN, FAT = 1.0, 5.0
"""Finished width in base diameters: at least a single file, at most what necks can reach."""

SINGLE_FILE = 1.3
"""Width of a single file so close that its line does not show, in diameters of its balloons."""

STANDS_OUT = 2.0
"""A balloon that stands out is at most this many times as wide as the garland."""

WITHIN: Mapping[Part, float] = {"base": 1.0, "filler": 0.6, "accent": 1.0}
"""Part of a balloon's volume that lies in the cylinder of the mean silhouette: fillers sit in its skin."""

MOST_DRAWN = 20_000
"""More balloons than this no page draws."""


def parts_of(mix: Sequence[tuple[int, int]], inflated: Mapping[int, float] = INFLATED) -> dict[int, Part]:
    """What each size of a mix is for.

    Sizes from 7 to 15 inches are the base; without any, the small ones are where one of them is the commonest, and
    else the least of the large. Other sizes up to 6 inches fill gaps. From 16 inches they stand out singly, and so
    does the largest of the base where it is half as big again as the commonest.
    """
    sizes = [size for size, _ in sorted(mix, key=lambda share: (-share[1], -share[0]))]
    middling = [size for size in sizes if 6 < size < 16]
    small = [size for size in sizes if size <= 6]
    base = middling or (small if sizes[0] in small else [min(size for size in sizes if size >= 16)])
    parts: dict[int, Part] = {}
    for size in sizes:
        if size in base:
            stands_out = size == max(sizes) and size != base[0] and inflated[size] >= 1.5 * inflated[base[0]]
            parts[size] = "accent" if stands_out else "base"
        else:
            parts[size] = "filler" if size <= 6 else "accent"
    return parts


def volume_count(
    length: float,
    width: float,
    mix: Sequence[tuple[int, int]],
    parts: Mapping[int, Part],
    inflated: Mapping[int, float],
) -> float:
    """How many balloons the volume asks for; raises SpecErrors where they are too many to draw."""
    number = balloons_for(length, width, [(inflated[n], percent, WITHIN[parts[n]]) for n, percent in mix])
    if number > MOST_DRAWN:
        most = int(length * MOST_DRAWN / number)
        rule = f"must be at most {most} in to take no more than {MOST_DRAWN} balloons at a width of {width:.4g} in"
        thin = int(width * (MOST_DRAWN / number) ** 0.5)
        raise SpecErrors(
            [
                SpecError("length_mm", rule, f"{length:.4g} in, {number:.0f} balloons"),
                SpecError("width_mm", f"must be at most {thin} in for a length of {length:.4g} in", f"{width:.4g} in"),
            ]
        )
    return number


def whole_counts(number: float, mix: Sequence[tuple[int, int]], parts: Mapping[int, Part]) -> dict[int, int]:
    """How many of each size: by largest remainder, the base made up to quads and fillers to pairs."""
    shared = shares(max(4, ceil(number)), [percent for _, percent in mix])
    counts = {size: count for (size, _), count in zip(mix, shared, strict=True)}
    for part, whole in (("base", 4), ("filler", 2)):
        members = [size for size in counts if parts[size] == part]
        if members:
            commonest = max(members, key=lambda size: (counts[size], size))
            counts[commonest] += -sum(counts[size] for size in members) % whole
    return counts


def floor_of(width: float, parts: Mapping[int, Part], inflated: Mapping[int, float]) -> float:
    """The width of a close single file of the smallest base, in widths of the garland."""
    return SINGLE_FILE * min(inflated[n] for n, part in parts.items() if part == "base") / width


def check_width(width: float, taper: Taper, parts: Mapping[int, Part], inflated: Mapping[int, float]) -> None:
    """A base balloon must fit across, and no neck reaches further than the stretch of a few balloons.

    Both the width and the sizes are named, since either can give way.
    """
    thick = max(taper.widths)
    needed = {
        n: inflated[n] * (THIN if part == "base" else 1 / STANDS_OUT) / thick
        for n, part in parts.items()
        if part != "filler"
    }
    largest = max(needed, key=lambda n: needed[n])
    narrowest = needed[largest]
    base = max((n for n in parts if parts[n] == "base"), key=lambda n: inflated[n])
    widest = FAT * inflated[base] / thick
    if width < narrowest:
        said = f"must be at least {ceil(narrowest)} in to hold {largest}-inch balloons"
        least = SpecError("width_mm", said, f"{width:g} in")
        most = SpecError("mix", f"must hold smaller balloons for a width of {width:g} in", f"{largest}-inch")
        raise SpecErrors([least, most])
    if width > widest:
        reaching = [n for n in SIZES if FAT * inflated[n] / thick >= width]
        said = f"must be at most {int(widest)} in round a base of {base}-inch balloons"
        said += "" if taper.is_even else ", as a taper is thicker somewhere than on average"
        errors = [SpecError("width_mm", said, f"{width:g} in")]
        if reaching:
            rule = f"must have a base of at least {reaching[0]}-inch balloons for a width of {width:g} in"
            errors.append(SpecError("mix", rule, f"{base}-inch"))
        raise SpecErrors(errors)
