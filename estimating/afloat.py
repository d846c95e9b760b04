"""How long helium balloons float, and the cylinders that fill them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import ceil
from typing import NamedTuple

from estimating.gas import (
    ATMOSPHERE_PA,
    HELIUM_LOST_PERCENT,
    LITRES_PER_FT3,
    ROOM_CELSIUS,
    diameter_after,
    fullest_before,
    helium_density,
    net_lift,
)
from estimating.layout import Balloon
from estimating.lines import Site, Task
from estimating.specs import SpecError, SpecErrors

PASCAL_PER_PSI = 6894.757

SMALLEST_AFLOAT = 9
"""Latex of a smaller nominal size is filled with air only (common practice)."""

UNTREATED_HOURS: dict[int, tuple[int, int]] = {
    9: (4, 12),  # From memory.
    10: (6, 16),  # Between its neighbours.
    11: (8, 20),  # Three published texts: 8 to 12, 12 to 20, about 18.
    12: (10, 22),  # Between its neighbours, as for 14.
    14: (11, 30),
    16: (12, 36),  # One text 12, the rest from memory.
    17: (13, 36),  # As the 16-inch, as for 18.
    18: (14, 36),
    24: (24, 72),  # Between its neighbours, as for 30.
    30: (36, 96),
    36: (48, 120),  # From memory.
}
"""Hours a latex balloon floats as it comes, least and most, by nominal size."""

SEALED_TIMES = (6.0, 7.2)
"""How many times as long with sealant inside: an 11-inch then floats 2 to 6 days, by the careful of three texts."""

FOIL_HOURS: dict[int, tuple[int, int]] = {18: (120, 336), 36: (72, 336)}
"""Foil: 18-inch 5 days to 2 weeks; larger ones taut 3 to 5 days and up to 2 weeks (common practice)."""

HEAVIEST_CYLINDER_LB, HEAVIEST_LOAD_LB = 220, 440
"""49 CFR 173.6, materials of trade: gross weight of one cylinder of Division 2.2, and of all such in one vehicle."""

WARMS_BY = 0.01
"""A balloon that grows by more than this part of its diameter on the way may burst when it is full already."""


class Afloat(NamedTuple):
    """The hours a balloon floats, least and most."""

    least: int
    most: int


@dataclass(frozen=True, slots=True)
class Cylinder:
    """A cylinder of helium: what it holds when filled with water, the pressure stamped on it, and what it weighs.

    `content_ft3` is what it is sold as. Weights are from memory.
    """

    name: str
    water_litres: float
    psig: int
    content_ft3: int
    gross_lb: int


CYLINDERS: tuple[Cylinder, ...] = (
    Cylinder("S", 26.9, 2015, 123, 67),
    Cylinder("K", 43.7, 2015, 200, 135),
    Cylinder("KH", 43.8, 2491, 244, 140),
    Cylinder("T", 49.6, 2640, 291, 150),
)
"""Common classes; contents by a trade letter that quotes shoulder markings, water volumes by real gas from them."""


def hours_afloat(size: int, *, foil: bool = False, sealed: bool = False) -> Afloat:
    """How long a balloon of a nominal size floats at 20 to 25 degrees indoors. Raises SpecErrors where it does not."""
    table = FOIL_HOURS if foil else UNTREATED_HOURS
    if size not in table:
        known = ", ".join(f"{known}-inch" for known in table)
        what = "foil" if foil else "latex"
        raise SpecErrors([SpecError("size", f"must be one of {known} for {what} to float", f"{size}-inch")])
    least, most = table[size]
    if sealed and not foil:
        return Afloat(int(least * SEALED_TIMES[0]), int(most * SEALED_TIMES[1]))
    return Afloat(least, most)


def afloat_sentences(latex: Iterable[int], foils: Iterable[int], *, hours: int, sealed: bool) -> tuple[str, ...]:
    """Whether balloons of these nominal sizes float for so many hours, a sentence for each size that may not."""
    said = []
    for size in sorted(set(latex)):
        now, treated = hours_afloat(size, sealed=sealed), hours_afloat(size, sealed=True)
        if now.least >= hours:
            continue
        floats = f"{_one(size)} floats {now.least} to {now.most} hours{' sealed' if sealed else ''}"
        if not sealed and treated.least >= hours:
            said.append(f"{floats}, and {hours} are asked for: seal it inside, for {treated.least} to {treated.most}.")
        else:
            said.append(f"{floats}, and {hours} are asked for: fill it as late as you can, or take foil or air.")
    for size in sorted(set(foils)):
        now = hours_afloat(_charted(size), foil=True)
        if now.least < hours:
            said.append(
                f"{_one(size)} foil floats {now.least} to {now.most} hours, and {hours} are asked for: top it up."
            )
    return tuple(said)


def afloat_advice(balloons: Iterable[Balloon], site: Site, *, sealed: bool) -> tuple[str, ...]:
    """What is to be said of those that are filled with helium, latex and foil apart: which do not carry themselves
    there, and which may come down before the event is over.
    """
    sizes: dict[bool, set[int]] = {True: set(), False: set()}
    sinking: dict[tuple[int, bool], str] = {}
    for balloon in balloons:
        if balloon.gas != "helium":
            continue
        if (kind := (balloon.size, balloon.is_foil)) not in sinking and net_lift(balloon, site) <= 0:
            what = f"{_one(balloon.size)}{' foil' if balloon.is_foil else ''}"
            where = f" at {site.altitude_m:,} m above the sea" if site.altitude_m > 0 else ""
            sinking[kind] = f"{what} does not carry itself on helium{where}: fill it with air, or take a larger one."
        elif kind not in sinking:
            sizes[balloon.is_foil].add(balloon.size)
    said = [sinking[kind] for kind in sorted(sinking)]
    return (*said, *afloat_sentences(sizes[False], sizes[True], hours=site.hours_afloat, sealed=sealed))


def sealing(balloons: Iterable[Balloon]) -> tuple[Task, ...]:
    """The work of sealing every latex balloon that is filled with helium; foil needs none."""
    number = sum(1 for balloon in balloons if balloon.gas == "helium" and not balloon.is_foil)
    return (Task("sealed", number),) if number else ()


def _charted(size: int) -> int:
    """The foil whose hours stand for that of a size nobody has published: the nearest."""
    return min(FOIL_HOURS, key=lambda known: (abs(known - size), known))


def _one(size: int) -> str:
    return f"{'An' if size in (11, 18) else 'A'} {size}-inch"


def cylinder_litres(water_litres: float, psig: float, *, celsius: float = ROOM_CELSIUS) -> float:
    """Litres of helium in a cylinder as they fill balloons by the sea at 70 degrees Fahrenheit, by real gas."""
    inside = helium_density(psig * PASCAL_PER_PSI + ATMOSPHERE_PA, celsius)
    return water_litres * inside / helium_density(ATMOSPHERE_PA, ROOM_CELSIUS)


def cylinder_ft3(water_litres: float, psig: float, *, celsius: float = ROOM_CELSIUS) -> float:
    """The same in cubic feet."""
    return cylinder_litres(water_litres, psig, celsius=celsius) / LITRES_PER_FT3


def cylinders_needed(litres: float, cylinder: Cylinder) -> int:
    """How many full cylinders fill so many litres of balloons, with what is lost in filling."""
    usable = cylinder_litres(cylinder.water_litres, cylinder.psig) * (1 - HELIUM_LOST_PERCENT / 100)
    return ceil(round(litres / usable, 6))


def balloons_per_cylinder(content_ft3: float, balloon_ft3: float) -> int:
    """How many balloons of a size one cylinder fills if nothing is lost."""
    return int(content_ft3 / balloon_ft3)


def vehicle_cautions(cylinders: Sequence[Cylinder]) -> tuple[str, ...]:
    """What the law says against these cylinders in one vehicle of one's own; nothing where they may travel."""
    said = [
        f"A {one.name} cylinder weighs {one.gross_lb} lb; in a vehicle of your own at most {HEAVIEST_CYLINDER_LB} lb"
        " each may travel (49 CFR 173.6)."
        for one in cylinders
        if one.gross_lb > HEAVIEST_CYLINDER_LB
    ]
    total = sum(one.gross_lb for one in cylinders)
    if total > HEAVIEST_LOAD_LB:
        said.append(
            f"{len(cylinders)} cylinders weigh {total} lb; in one vehicle of your own at most {HEAVIEST_LOAD_LB} lb"
            " may travel (49 CFR 173.6): have the rest delivered."
        )
    return tuple(said)


def move_sentences(diameter: float, *, from_celsius: float, to_celsius: float) -> tuple[str, ...]:
    """What moving a full balloon from one temperature to another asks for, as from a cool van to a warm hall."""
    after = diameter_after(diameter, from_celsius, to_celsius)
    if after > diameter * (1 + WARMS_BY):
        before = fullest_before(diameter, from_celsius, to_celsius)
        return (
            f"A {diameter:g} in balloon filled at {from_celsius:g} °C grows to {after:.1f} in at {to_celsius:g} °C:"
            f" fill it to {before:.1f} in.",
        )
    if after < diameter * (1 - WARMS_BY):
        return (
            f"A {diameter:g} in balloon filled at {from_celsius:g} °C shrinks to {after:.1f} in at {to_celsius:g} °C"
            " and fills out again when it is warm.",
        )
    return ()
