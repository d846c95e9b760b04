"""Whether the ranges keep their word: two thousand jobs whose truth is known, estimated, wrapped up, and learned from.

Run by name; not part of the tests: python -m pytest tests/bench/bench_calibration.py -s
"""

import random
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from math import exp, sqrt

from estimating.learning import (
    GRAIN_MINUTES,
    Beta,
    Gamma,
    Range,
    beta_binomial_log_chance,
    negative_binomial_log_chance,
)
from estimating.lessons import BalloonsSeen, Lessons, MinutesSeen

STUDIOS, JOBS = 200, 10
"""Two hundred studios that wrap up ten jobs each."""

BALLOONS_WORTH, MINUTES_WORTH, POPS_WORTH, POPS_EXPECTED = 400.0, 12 * 60.0, 400.0, 0.03
"""What a studio's own figures say and are worth while nobody has changed the rates."""


@dataclass
class Tally:
    """How many of the jobs came out within their range, what the ranges themselves promised, and the errors."""

    what: str
    jobs: int = 0
    within: int = 0
    promised: float = 0.0
    errors: dict[int, list[float]] = field(default_factory=dict)

    def add(self, told: Range, came: int, promised: float) -> None:
        """One job."""
        self.jobs += 1
        self.within += told.low <= came <= told.high
        self.promised += promised

    def miss(self, after: int, error: float) -> None:
        """How far the estimate was off its truth, as a part of it, after so many jobs."""
        self.errors.setdefault(after, []).append(error)

    def error(self, after: int) -> float:
        """The root of the mean square of those."""
        found = self.errors[after]
        return sqrt(sum(error**2 for error in found) / len(found))

    @property
    def coverage(self) -> float:
        """The share within."""
        return self.within / self.jobs

    @property
    def left(self) -> float:
        """What is left of the error after the last job."""
        return self.error(JOBS) / self.error(0)

    def say(self) -> None:
        """Print it."""
        print(
            f"\n{self.what}: {100 * self.coverage:.1f} % of {self.jobs:,} jobs came out within their range"
            f" ({100 * self.promised / self.jobs:.1f} % by its own reckoning);"
            f" the error of the estimate fell from {100 * self.error(0):.2f} % to {100 * self.error(JOBS):.2f} %"
            f" in {JOBS} jobs, to {self.left:.2f} of it."
        )


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
        for job in range(JOBS):
            taught = lessons(job, reckoned, came_to)
            tally.miss(job, abs(estimate(taught) - truth) / truth)
            exposure = chance.randint(*exposures) * grain
            # Nobody works in fives: a range is said to five minutes, and what it took is known to the minute.
            came = poisson(chance, truth * exposure / grain) * grain + chance.randint(-(grain // 2), grain // 2)
            told, came = to_come(taught, exposure), max(came, 0)
            tally.add(told, came, _promised(estimate(taught), worth + reckoned, exposure, told, grain))
            reckoned, came_to = reckoned + exposure, came_to + came
        tally.miss(JOBS, abs(estimate(lessons(JOBS, reckoned, came_to)) - truth) / truth)
    tally.say()
    return tally


def _promised(mean: float, strength: float, exposure: int, told: Range, grain: int) -> float:
    """How often the range itself says a count lies within it: whole balloons make it a little more than 80 %."""
    known = Gamma.prior(mean, strength / grain)
    p = known.rate / (known.rate + exposure / grain)
    counts = range(told.low // grain, told.high // grain + 1)
    return sum(exp(negative_binomial_log_chance(count, known.shape, p)) for count in counts)


def _keeps_its_word(tally: Tally) -> None:
    assert 0.78 <= tally.coverage <= 0.82
    assert tally.left <= 0.5


def test_counts_come_out_within_their_range_four_times_in_five():
    _keeps_its_word(
        factor_tally(
            "Balloons",
            BALLOONS_WORTH,
            (150, 600),
            lambda jobs, of, came: Lessons(balloons=(BalloonsSeen("garland", 11, jobs, of, came),)),
            lambda taught: taught.balloons_of("garland", 11, BALLOONS_WORTH).learned,
            lambda taught, exposure: taught.balloons_to_come("garland", 11, exposure, BALLOONS_WORTH),
        )
    )


def test_hours_come_out_within_their_range_four_times_in_five():
    _keeps_its_word(
        factor_tally(
            "Minutes",
            MINUTES_WORTH,
            (48, 192),
            lambda jobs, of, came: Lessons(minutes=(MinutesSeen("make", jobs, of, came),)),
            lambda taught: taught.minutes_of("make", MINUTES_WORTH).learned,
            lambda taught, exposure: taught.minutes_to_come("make", exposure, MINUTES_WORTH),
            grain=GRAIN_MINUTES,
        )
    )


def test_pops_come_out_within_their_range_as_often_as_it_says():
    """Few pops make a coarse range: it holds at least 80 %, and as much as it says itself to within two points."""
    tally, chance = Tally("Pops"), random.Random(20261126)
    prior = Beta.prior(POPS_EXPECTED, POPS_WORTH)
    for _ in range(STUDIOS):
        truth = chance.betavariate(prior.popped, prior.held)
        known = prior
        for job in range(JOBS):
            tally.miss(job, abs(known.mean - truth))
            inflated = chance.randint(150, 600)
            told, popped = known.predicted(inflated), sum(chance.random() < truth for _ in range(inflated))
            a, b = known.popped, known.held
            counts = range(told.low, told.high + 1)
            tally.add(told, popped, sum(exp(beta_binomial_log_chance(count, inflated, a, b)) for count in counts))
            known = known.after([(inflated, popped)])
        tally.miss(JOBS, abs(known.mean - truth))
    tally.say()
    assert abs(tally.coverage - tally.promised / tally.jobs) <= 0.02
    assert tally.coverage >= 0.78
    assert tally.left <= 0.5
