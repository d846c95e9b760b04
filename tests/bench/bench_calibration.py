"""Whether the ranges keep their word: two thousand jobs whose truth is known, estimated, wrapped up, and learned from.

Run by name; not part of the tests: python -m pytest tests/bench/bench_calibration.py -s
"""

import random
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from math import exp, sqrt
from statistics import fmean, stdev

from estimating.learning import GRAIN_MINUTES, Beta, Gamma
from estimating.lessons import BalloonsSeen, Lessons, MinutesSeen
from estimating.ranges import Range, beta_binomial_log_chance, negative_binomial_log_chance

STUDIOS, JOBS = 200, 10
"""Two hundred studios that wrap up ten jobs each."""

BALLOONS_WORTH, MINUTES_WORTH, POPS_WORTH, POPS_EXPECTED = 400.0, 12 * 60.0, 400.0, 0.03
"""What a studio's own figures say and are worth while nobody has changed the rates."""


@dataclass
class Tally:
    """How many of the jobs came out within their range, what the ranges themselves promised, and the errors."""

    what: str
    jobs: int = 0
    below: int = 0
    above: int = 0
    promised: float = 0.0
    strayed: list[float] = field(default_factory=list)
    errors: dict[int, list[float]] = field(default_factory=dict)

    def add(self, told: Range, came: int, promised: float) -> None:
        """One job."""
        self.jobs += 1
        self.below += came < told.low
        self.above += came > told.high
        self.promised += promised

    def studio(self, estimated: float, came: float) -> None:
        """All jobs of one studio: how far what came of them was from what had been said."""
        self.strayed.append(came / estimated - 1)

    def miss(self, after: int, error: float) -> None:
        """How far the estimate was off its truth, as a part of the studio's own figure, after so many jobs."""
        self.errors.setdefault(after, []).append(error)

    def error(self, after: int) -> float:
        """The root of the mean square of those."""
        return sqrt(fmean(error**2 for error in self.errors[after]))

    @property
    def coverage(self) -> float:
        """The share within."""
        return 1 - (self.below + self.above) / self.jobs

    @property
    def left(self) -> float:
        """What is left of the error after the last job."""
        return self.error(JOBS) / self.error(0)

    @property
    def bias(self) -> float:
        """By how much more came than had been said, over all studios, as a part of it."""
        return fmean(self.strayed)

    @property
    def bias_by_luck(self) -> float:
        """How far that would be from nothing by luck alone: its standard error. A studio's jobs go wrong together."""
        return stdev(self.strayed) / sqrt(len(self.strayed))

    def say(self) -> None:
        """Print it."""
        print(
            f"\n{self.what}: {100 * self.coverage:.1f} % of {self.jobs:,} jobs came out within their range"
            f" ({100 * self.promised / self.jobs:.1f} % by its own reckoning),"
            f" {100 * self.below / self.jobs:.1f} % below and {100 * self.above / self.jobs:.1f} % above it;"
            f" {100 * self.bias:+.2f} % came on top of what was estimated ({100 * self.bias_by_luck:.2f} % either way"
            f" would be luck); the error of the estimate fell from {100 * self.error(0):.2f} % to"
            f" {100 * self.error(JOBS):.2f} % in {JOBS} jobs, to {self.left:.2f} of it."
        )

    def keeps_its_word(self) -> None:
        """The bounds, the same for all."""
        assert 0.78 <= self.coverage <= 0.82
        assert 0.79 <= self.promised / self.jobs <= 0.81
        assert abs(self.bias) <= 2 * self.bias_by_luck
        assert self.left <= 0.5


def poisson(chance: random.Random, mean: float) -> int:
    """A count with that mean: the gaps between one and the next are exponential."""
    count, reached = 0, chance.expovariate(1)
    while reached < mean:
        count, reached = count + 1, reached + chance.expovariate(1)
    return count


def truths(worth: float, grain: int) -> Iterator[tuple[random.Random, float]]:
    """Studios, each with how many times as much as reckoned its jobs really take: as uncertain as is believed."""
    chance = random.Random(20261125)
    for _ in range(STUDIOS):
        yield chance, chance.gammavariate(worth / grain, grain / worth)


def factor_tally(
    what: str,
    worth: float,
    exposures: tuple[int, int],
    lessons: Callable[[int, int, int], Lessons],
    estimate: Callable[[Lessons], float],
    to_come: Callable[[Lessons, int], Range],
    grain: int = 1,
) -> Tally:
    """Ten jobs of every studio, of so many balloons or minutes each."""
    tally = Tally(what)
    for chance, truth in truths(worth, grain):
        reckoned = came_to = 0
        estimated = 0.0
        for job in range(JOBS):
            taught = lessons(job, reckoned, came_to)
            tally.miss(job, estimate(taught) - truth)
            exposure = chance.randint(*exposures) * grain
            # Nobody works in fives: a range is said to five minutes, and what it took is known to the minute.
            came = poisson(chance, truth * exposure / grain) * grain + chance.randint(-(grain // 2), grain // 2)
            told, came = to_come(taught, exposure), max(came, 0)
            tally.add(told, came, _promised(estimate(taught), worth + reckoned, exposure, told, grain))
            reckoned, came_to, estimated = reckoned + exposure, came_to + came, estimated + told.estimate
        tally.miss(JOBS, estimate(lessons(JOBS, reckoned, came_to)) - truth)
        tally.studio(estimated, came_to)
    tally.say()
    return tally


def _promised(mean: float, strength: float, exposure: int, told: Range, grain: int) -> float:
    """How often the range itself says that a count or a time lies within it."""
    known = Gamma.prior(mean, strength / grain)
    p = known.rate / (known.rate + exposure / grain)
    counts = range(told.low // grain, told.high // grain + 1)
    chances = [exp(negative_binomial_log_chance(count, known.shape, p)) for count in counts]
    # Of a time that was said as the first or the last five, half lies outside.
    return sum(chances) - (chances[0] + chances[-1]) / 2 * (grain > 1)


def test_counts_come_out_within_their_range_four_times_in_five():
    factor_tally(
        "Balloons",
        BALLOONS_WORTH,
        (150, 600),
        lambda jobs, of, came: Lessons(balloons=(BalloonsSeen("garland", 11, jobs, of, came),)),
        lambda taught: taught.balloons_of("garland", 11, BALLOONS_WORTH).learned,
        lambda taught, exposure: taught.balloons_to_come("garland", 11, exposure, BALLOONS_WORTH),
    ).keeps_its_word()


def test_hours_come_out_within_their_range_four_times_in_five():
    factor_tally(
        "Minutes",
        MINUTES_WORTH,
        (48, 192),
        lambda jobs, of, came: Lessons(minutes=(MinutesSeen("make", jobs, of, came),)),
        lambda taught: taught.minutes_of("make", MINUTES_WORTH).learned,
        lambda taught, exposure: taught.minutes_to_come("make", exposure, MINUTES_WORTH),
        grain=GRAIN_MINUTES,
    ).keeps_its_word()


def test_pops_come_out_within_their_range_four_times_in_five():
    tally, chance = Tally("Pops"), random.Random(20261126)
    prior = Beta.prior(POPS_EXPECTED, POPS_WORTH)
    for _ in range(STUDIOS):
        truth = chance.betavariate(prior.popped, prior.held)
        known, estimated, came = prior, 0.0, 0
        for job in range(JOBS):
            tally.miss(job, (known.mean - truth) / POPS_EXPECTED)
            inflated = chance.randint(150, 600)
            told, popped = known.predicted(inflated), sum(chance.random() < truth for _ in range(inflated))
            a, b = known.popped, known.held
            counts = range(told.low, told.high + 1)
            tally.add(told, popped, sum(exp(beta_binomial_log_chance(count, inflated, a, b)) for count in counts))
            known, estimated, came = known.after([(inflated, popped)]), estimated + told.estimate, came + popped
        tally.miss(JOBS, (known.mean - truth) / POPS_EXPECTED)
        tally.studio(estimated, came)
    tally.say()
    tally.keeps_its_word()
