"""What jobs have taught: how far from the reckoned figure the next one is likely to come out.

Counts and times are learned as a Gamma–Poisson pair. What comes out of an exposure e is Poisson with mean θ·e, and
θ is Gamma with a shape and a rate (never a scale): seeing a count y at exposure e adds y to the shape and e to the
rate. What comes out next is then negative binomial with r = shape and p = rate / (rate + exposure). Pops are a
Beta–binomial pair: of so many inflated, so many popped, adds to the two figures of a Beta.

Until a job is wrapped up the range comes from the prior alone; it narrows with every job that is.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import exp, isfinite, log
from typing import NamedTuple

from estimating.quantiles import beta_quantile, gamma_quantile
from estimating.ranges import (
    CHANCE,
    Range,
    beta_binomial_range,
    log_beta,
    negative_binomial_marks,
    negative_binomial_range,
)
from estimating.specs import SpecError, SpecErrors

GRAIN_MINUTES = 5
"""Hours vary from job to job far more than single minutes counted one by one would: by about as much as counting
them in fives gives, an eighth for a job of five hours (a studio's own guess, no source)."""

LEAST_EXPECTED = 0.0001
"""One pop in ten thousand is the least that is expected once pops are counted (a studio's own guess, no source)."""

LEAST_STRENGTH = 20.0
"""The studio's own figure for pops is worth at least so many balloons: after one that popped, nobody takes a hundred
for the next (a studio's own guess, no source)."""

MOST_EXPOSURE = 1_000_000


@dataclass(frozen=True, slots=True)
class Gamma:
    """What is known of a rate, as a Gamma of that shape and rate. Raises SpecErrors where either is not above 0."""

    shape: float
    rate: float

    def __post_init__(self) -> None:
        _check_above_zero(shape=self.shape, rate=self.rate)

    @classmethod
    def prior(cls, mean: float, strength: float) -> Gamma:
        """Before anything is seen: the rate expected, and how much exposure that expectation is worth."""
        _check_above_zero(mean=mean, strength=strength)
        return cls(mean * strength, strength)

    @property
    def mean(self) -> float:
        """The rate expected."""
        return self.shape / self.rate

    def after(self, seen: Iterable[tuple[float, float]]) -> Gamma:
        """What is known once these are seen, each an exposure and the count that came of it. Raises SpecErrors."""
        shape, rate = self.shape, self.rate
        for exposure, count in seen:
            _check_at_least_zero(exposure=exposure, count=count)
            shape, rate = shape + count, rate + exposure
        return Gamma(shape, rate)

    def likely(self, chance: float = CHANCE) -> tuple[float, float]:
        """From where to where the rate itself lies with that chance. Raises SpecErrors."""
        _check_chance(chance)
        tail = (1 - chance) / 2
        return gamma_quantile(tail, self.shape, self.rate), gamma_quantile(1 - tail, self.shape, self.rate)

    def predicted(self, exposure: float, chance: float = CHANCE) -> Range:
        """What will come of so much exposure. Raises SpecErrors."""
        p = self._kept(exposure, chance)
        return Range(self.mean * exposure, *negative_binomial_range(self.shape, p, chance))

    def predicted_minutes(self, minutes: float, chance: float = CHANCE) -> Range:
        """How long so many minutes of work will take, to five minutes; the rate is of fives. Raises SpecErrors."""
        p = self._kept(minutes / GRAIN_MINUTES, chance)
        low, high = negative_binomial_marks(self.shape, p, chance)
        return Range(self.mean * minutes, low * GRAIN_MINUTES, high * GRAIN_MINUTES)

    def _kept(self, exposure: float, chance: float) -> float:
        """The p of the negative binomial that so much exposure gives."""
        _check_at_least_zero(exposure=exposure)
        _check_chance(chance)
        if exposure > MOST_EXPOSURE:
            raise SpecErrors([SpecError("exposure", f"must be at most {MOST_EXPOSURE}", exposure)])
        return self.rate / (self.rate + exposure)


@dataclass(frozen=True, slots=True)
class Beta:
    """What is known of a chance, as a Beta. Raises SpecErrors where either figure is not above 0."""

    popped: float
    held: float

    def __post_init__(self) -> None:
        _check_above_zero(popped=self.popped, held=self.held)

    @classmethod
    def prior(cls, mean: float, strength: float) -> Beta:
        """Before anything is seen: the part expected to pop, and how many balloons that expectation is worth."""
        _check_above_zero(mean=mean, strength=strength)
        if mean >= 1:
            raise SpecErrors([SpecError("mean", "must be less than 1", mean)])
        return cls(mean * strength, (1 - mean) * strength)

    @property
    def mean(self) -> float:
        """The part expected to pop."""
        return self.popped / (self.popped + self.held)

    def after(self, seen: Iterable[tuple[int, int]]) -> Beta:
        """What is known once these are seen, each how many were inflated and how many of them popped."""
        popped, held = self.popped, self.held
        for inflated, lost in seen:
            _check_at_least_zero(inflated=inflated, popped=lost)
            if lost > inflated:
                raise SpecErrors([SpecError("popped", f"must be at most the {inflated} inflated", lost)])
            popped, held = popped + lost, held + inflated - lost
        return Beta(popped, held)

    def likely(self, chance: float = CHANCE) -> tuple[float, float]:
        """From where to where the chance of a pop itself lies with that chance. Raises SpecErrors."""
        _check_chance(chance)
        tail = (1 - chance) / 2
        return beta_quantile(tail, self.popped, self.held), beta_quantile(1 - tail, self.popped, self.held)

    def to_inflate(self, needed: int, chance: float) -> int:
        """How many to inflate so that with at least that chance `needed` of them hold. Raises SpecErrors.

        Before the last good one k pop with the chance C(needed + k - 1, k) · B(held + needed, popped + k) /
        B(held, popped), a beta negative binomial; these are added up until they suffice.
        """
        _check_at_least_zero(needed=needed)
        _check_chance(chance)
        if needed == 0:
            return 0
        a, b = self.popped, self.held

        def step(k: int) -> float:
            return log((needed + k) / (k + 1)) + log((a + k) / (b + needed + a + k))

        logged, spares = log_beta(b + needed, a) - log_beta(b, a), 0
        reached = exp(logged)
        while reached < chance:
            change = step(spares)
            # The first may be too small for a float, hence the logarithms; past the peak, where nothing is left to
            # add, stop.
            if change < 0 and logged < -60:
                break
            logged += change
            spares += 1
            reached += exp(logged)
        return needed + spares

    def predicted(self, inflated: int, chance: float = CHANCE) -> Range:
        """How many of so many will pop. Raises SpecErrors."""
        _check_at_least_zero(inflated=inflated)
        _check_chance(chance)
        return Range(self.mean * inflated, *beta_binomial_range(inflated, self.popped, self.held, chance))


class PopsSeen(NamedTuple):
    """Of one nominal size, in one job that was wrapped up: where it stood, how many were inflated, how many popped."""

    size: int
    outdoors: bool
    inflated: int
    popped: int


def pops_by_size(seen: Iterable[PopsSeen], *, outdoors: bool, expected: float, strength: float) -> dict[int, Beta]:
    """What is known of the pops of each nominal size, indoors or outdoors, once these are seen. Raises SpecErrors.

    `expected` is the part that the studio's own figures expect to pop there, and `strength` how many balloons that is
    worth. Sizes that nobody has seen there are left out: the studio's figure stands for them as it is.
    """
    of_size: dict[int, list[tuple[int, int]]] = {}
    for one in seen:
        if one.outdoors == outdoors and one.inflated:
            of_size.setdefault(one.size, []).append((one.inflated, one.popped))
    # Nothing is held to be impossible: a studio that expects none to pop may still see some that do.
    prior = Beta.prior(max(expected, LEAST_EXPECTED), max(strength, LEAST_STRENGTH))
    return {size: prior.after(counts) for size, counts in sorted(of_size.items())}


def count_range(
    balloons: int, *, strength: float, seen: Iterable[tuple[float, float]] = (), chance: float = CHANCE
) -> Range:
    """How many balloons a job of so many will use.

    `seen` are wrapped-up jobs, each what was reckoned and what was used; `strength` is how many balloons the studio's
    own figures are worth against them.
    """
    return Gamma.prior(1, strength).after(seen).predicted(balloons, chance)


def minutes_range(
    minutes: int,
    *,
    strength: float,
    seen: Iterable[tuple[float, float]] = (),
    about: int | None = None,
    chance: float = CHANCE,
) -> Range:
    """How long a job reckoned at so many minutes will take, to five minutes.

    `seen` are wrapped-up jobs, each the minutes reckoned and the minutes taken; `strength` is how many minutes of work
    the studio's own figures are worth against them. `about` is what is expected where that is known better, part by
    part: the range then lies round it, as wide as what was seen makes it.
    """
    grains = [(reckoned / GRAIN_MINUTES, taken / GRAIN_MINUTES) for reckoned, taken in seen]
    known = Gamma.prior(1, strength / GRAIN_MINUTES).after(grains)
    if about and minutes:
        known = Gamma.prior(about / minutes, known.rate)
    return known.predicted_minutes(minutes, chance)


def _check_above_zero(**figures: float) -> None:
    errors = [SpecError(name, "must be above 0", n) for name, n in figures.items() if not (isfinite(n) and n > 0)]
    if errors:
        raise SpecErrors(errors)


def _check_at_least_zero(**figures: float) -> None:
    errors = [SpecError(name, "must be 0 or more", n) for name, n in figures.items() if not (isfinite(n) and n >= 0)]
    if errors:
        raise SpecErrors(errors)


def _check_chance(chance: float) -> None:
    if not 0 < chance < 1:
        raise SpecErrors([SpecError("chance", "must be between 0 and 1", chance)])
