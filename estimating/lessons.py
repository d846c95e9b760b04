"""What wrapped-up jobs teach the next estimate, setting by setting, and what the owner pinned instead.

The layout's count is the truth of the picture and is never scaled. What is learned of counts sends more spares along,
what is learned of time scales the hours, and what is learned of pops decides how many spares are enough.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import NamedTuple

from estimating.hours import PART_NAMES, Pace
from estimating.learning import GRAIN_MINUTES, LEAST_EXPECTED, LEAST_STRENGTH, Beta, Gamma, PopsSeen
from estimating.ranges import CHANCE, Range

PINNED_STRENGTH = 1_000_000.0
"""A pinned chance of pops is worth so many balloons: as good as certain."""

LEARNED_PARTS = tuple(part for part in PART_NAMES if part not in ("own", "ready"))
"""Minutes typed by hand, and those for gas and decals, are taken as they were typed: nothing is learned of them."""

LEAST_SAID = 0.005
"""What is off by less than half of one per cent is as reckoned."""


class BalloonsSeen(NamedTuple):
    """Of one nominal size in one kind of piece: so many jobs, what their layouts had, and what was used."""

    kind: str
    size: int
    jobs: int
    reckoned: int
    used: int


class MinutesSeen(NamedTuple):
    """Of one part of the work: so many jobs, the minutes the pace reckoned, and the minutes it took."""

    part: str
    jobs: int
    reckoned: int
    taken: int


@dataclass(frozen=True, slots=True)
class Known:
    """A setting as it stands: what the studio's own figures say, what jobs made of it, and what was pinned.

    A factor (1.08 for 8 % more than reckoned) or a chance (0.04). `low` to `high` is where it lies four times in five.
    `jobs` are those seen; None where they are not counted apart.
    """

    prior: float
    learned: float
    low: float
    high: float
    jobs: int
    pinned: float | None = None

    @property
    def used(self) -> float:
        """What estimates use."""
        return self.learned if self.pinned is None else self.pinned


@dataclass(frozen=True)
class Lessons:
    """All that is known from jobs, and what is pinned, by the key of its setting."""

    balloons: tuple[BalloonsSeen, ...] = ()
    minutes: tuple[MinutesSeen, ...] = ()
    pins: Mapping[str, float] = field(default_factory=dict)

    def balloons_of(self, kind: str, size: int, strength: float) -> Known:
        """How many times the layout's count of a size pieces of a kind use; `strength` in balloons."""
        known, jobs = self._balloons(kind, size, strength)
        return _known(known, jobs, self.pins.get(balloons_key(kind, size)))

    def minutes_of(self, part: str, strength: float) -> Known:
        """How many times as long as the rates say a part of the work takes; `strength` in minutes."""
        known, jobs = self._minutes(part, strength)
        return _known(known, jobs, self.pins.get(minutes_key(part)))

    def balloons_to_come(self, kind: str, size: int, reckoned: int, strength: float) -> Range:
        """How many of a size a piece of a kind will use, whose layout has `reckoned`."""
        known, _ = self._balloons(kind, size, strength)
        return _about(known, self.pins.get(balloons_key(kind, size))).predicted(reckoned)

    def minutes_to_come(self, part: str, reckoned: int, strength: float) -> Range:
        """How long a part of the work will take that the rates reckon at so many minutes."""
        known, _ = self._minutes(part, strength)
        return _about(known, self.pins.get(minutes_key(part))).predicted_minutes(reckoned)

    def _balloons(self, kind: str, size: int, strength: float) -> tuple[Gamma, int]:
        seen = next((one for one in self.balloons if (one.kind, one.size) == (kind, size)), None)
        known = Gamma.prior(1, strength).after([(seen.reckoned, seen.used)] if seen else ())
        return known, seen.jobs if seen else 0

    def _minutes(self, part: str, strength: float) -> tuple[Gamma, int]:
        seen = next((one for one in self.minutes if one.part == part), None)
        grains = [(seen.reckoned / GRAIN_MINUTES, seen.taken / GRAIN_MINUTES)] if seen else []
        return Gamma.prior(1, strength / GRAIN_MINUTES).after(grains), seen.jobs if seen else 0

    def more_in(self, kind: str, sizes: Iterable[int], strength: float) -> dict[int, float]:
        """Size to how many times its count pieces of a kind use, where jobs or a pin say anything of it."""
        known = {size: self.balloons_of(kind, size, strength) for size in sorted(set(sizes))}
        return {size: one.used for size, one in known.items() if one.jobs or one.pinned is not None}

    def paces(self, strength: float) -> dict[str, Pace]:
        """Part of the work to the pace it is known to go at, where jobs or a pin say anything of it."""
        found = {part: self.minutes_of(part, strength) for part in LEARNED_PARTS}
        return {
            part: Pace(one.used, f"{share_words(one.used, 'as reckoned')}, {_from(one)}")
            for part, one in found.items()
            if (one.jobs or one.pinned is not None) and abs(one.used - 1) >= LEAST_SAID
        }

    def sentences(self, sizes_by_kind: Mapping[str, Iterable[int]], *, balloons: float, minutes: float) -> list[str]:
        """What an estimate of such pieces owes to earlier jobs. The figures are what the studio's own are worth."""
        said = []
        for kind, sizes in sizes_by_kind.items():
            known = {size: self.balloons_of(kind, size, balloons) for size in sorted(set(sizes))}
            said += _sentences(
                {f"{size}-inch": one for size, one in known.items()}, "like it", "than the layout", "as the layout says"
            )
        parts = {PART_NAMES[part].lower(): self.minutes_of(part, minutes) for part in LEARNED_PARTS}
        return said + _sentences(
            {f"time to {part}" if part != "on the way" else f"time {part}": one for part, one in parts.items()},
            "",
            "than your rates say",
            "as your rates say",
        )


def balloons_key(kind: str, size: int) -> str:
    """The key of the setting of a size in a kind of piece."""
    return f"balloons-{kind}-{size}"


def minutes_key(part: str) -> str:
    """The key of the setting of a part of the work."""
    return f"minutes-{part}"


def pops_key(outdoors: bool, size: int) -> str:
    """The key of the setting of the pops of a size."""
    return f"pops-{'out' if outdoors else 'in'}-{size}"


def pops_of(
    seen: Iterable[PopsSeen], *, size: int, outdoors: bool, expected: float, strength: float, pinned: float | None
) -> Known:
    """What is known of the pops of a size, as `pops_by_size` reckons it. Its jobs are counted elsewhere: 0."""
    prior = Beta.prior(max(expected, LEAST_EXPECTED), max(strength, LEAST_STRENGTH))
    counts = [(one.inflated, one.popped) for one in seen if (one.size, one.outdoors) == (size, outdoors)]
    known = prior.after(counts)
    return Known(expected, known.mean, *known.likely(CHANCE), 0, pinned)


def pinned_pops(chance: float) -> Beta:
    """A chance of pops that was pinned, as the spares are reckoned from it."""
    return Beta.prior(min(max(chance, LEAST_EXPECTED), 0.99), PINNED_STRENGTH)


def share_words(factor: float, as_reckoned: str) -> str:
    """“8 % more”, “5 % less”, or as it was reckoned."""
    percent = 100 * (factor - 1)
    if abs(factor - 1) < LEAST_SAID:
        return as_reckoned
    return f"{max(round(abs(percent)), 1)} % {'more' if percent > 0 else 'less'}"


def _known(known: Gamma, jobs: int, pinned: float | None) -> Known:
    return Known(1.0, known.mean, *known.likely(CHANCE), jobs, pinned)


def _about(known: Gamma, pinned: float | None) -> Gamma:
    """As sure as what was seen makes it, about where it was pinned."""
    return known if pinned is None else Gamma.prior(max(pinned, 0.01), known.rate)


def _from(known: Known) -> str:
    if known.pinned is not None:
        return "as you pinned it"
    return f"from {known.jobs:,} job{'' if known.jobs == 1 else 's'}"


def _sentences(known: Mapping[str, Known], like: str, than: str, as_it_is: str) -> list[str]:
    """“Reckoned from 6 jobs like it: 8 % more 5-inch than the layout.” Pinned ones in a sentence of their own."""
    seen = {name: one for name, one in known.items() if one.jobs and one.pinned is None}
    pinned = {name: one for name, one in known.items() if one.pinned is not None}
    said = []
    if seen:
        jobs = max(one.jobs for one in seen.values())
        which = f"{jobs:,} job{'' if jobs == 1 else 's'}{' ' if like else ''}{like}"
        said.append(f"Reckoned from {which}: {_listed(seen, than, as_it_is)}.")
    if pinned:
        said.append(f"As you pinned it: {_listed(pinned, than, as_it_is)}.")
    return said


def _listed(known: Mapping[str, Known], than: str, as_it_is: str) -> str:
    off = [f"{share_words(one.used, '')} {name}" for name, one in known.items() if abs(one.used - 1) >= LEAST_SAID]
    return f"{', '.join(off)} {than}" if off else as_it_is
