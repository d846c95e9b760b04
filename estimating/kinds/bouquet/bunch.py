"""Where the balloons of one bunch come to rest."""

from __future__ import annotations

from collections.abc import Sequence
from math import sqrt
from random import Random
from typing import NamedTuple

from estimating.layout import WEIGHT_HEIGHT, Form
from estimating.specs import SpecError, SpecErrors

STAGGER = 0.3
"""The shortest ribbon lacks this part of the longest, and less where the bunch is not so deep."""

ROUNDS = 160

Place = tuple[float, float, float]


class Ball(NamedTuple):
    """One balloon before it has a place."""

    colour: str
    size: int
    form: Form
    diameter: float


def on_ribbons(balls: Sequence[Ball], height: float, rng: Random) -> list[Place]:
    """Where the balloons of a bunch come to rest, each as high above its knot as its ribbon and the others let it."""
    number = len(balls)
    widest = max(ball.diameter for ball in balls)
    shortest_ribbon = 0.6 * widest
    if height < WEIGHT_HEIGHT + widest + shortest_ribbon:
        least = WEIGHT_HEIGHT + widest + shortest_ribbon
        rule = f"must be at least {least + 0.5:.0f} in for balloons of these sizes in latex and foils"
        raise SpecErrors([SpecError("height_mm", rule, f"{height:g} in")])
    deep = min(STAGGER * (height - WEIGHT_HEIGHT), 0.75 * widest * (sqrt(number) - 1) + 1.0)
    reach = []
    for n, ball in enumerate(balls):
        part = n / (number - 1) if number > 1 else 1.0
        reach.append(height - WEIGHT_HEIGHT - ball.diameter / 2 - deep * (1 - part))
    reach = [max(one, shortest_ribbon) for one in reach]
    places = []
    for n, one in enumerate(reach):
        x, z = (rng.random() - 0.5) * widest, (rng.random() - 0.5) * widest
        places.append([x + (n % 2 - 0.5) * widest * 0.5, -one, z * 0.7])
    for _ in range(ROUNDS):
        _push_apart(places, balls)
        for place, most in zip(places, reach, strict=True):
            x, y, z = place[0] * 0.985, place[1] - 0.4, place[2] * 0.94
            stretched = sqrt(x * x + y * y + z * z)
            place[:] = [x * most / stretched, y * most / stretched, z * most / stretched]
    return [(x, y - WEIGHT_HEIGHT, z) for x, y, z in places]


def heaped(balls: Sequence[Ball], height: float, rng: Random) -> list[Place]:
    """A bunch of balloons filled with air that stands on its lowest ones, larger ones below and smaller in the gaps."""
    widest = max(ball.diameter for ball in balls)
    balls_by_size = sorted(range(len(balls)), key=lambda n: -balls[n].diameter)
    places = [[0.0, 0.0, 0.0] for _ in balls]
    for order, n in enumerate(balls_by_size):
        r = balls[n].diameter / 2
        spread = widest * (0.5 + order / len(balls))
        up = r + widest * 0.8 * order / len(balls)
        places[n] = [(rng.random() - 0.5) * spread, -up, (rng.random() - 0.5) * spread]
    for _ in range(ROUNDS):
        _push_apart(places, balls)
        for place, ball in zip(places, balls, strict=True):
            place[0] *= 0.97
            place[1] = min(place[1] * 0.985, -ball.diameter / 2)
            place[2] *= 0.97
    top = max(ball.diameter / 2 - place[1] for ball, place in zip(balls, places, strict=True))
    if top > height:
        rule = f"must be at least {top + 0.5:.0f} in for so many balloons in latex and foils"
        raise SpecErrors([SpecError("height_mm", rule, f"{height:g} in")])
    return [(x, y, z) for x, y, z in places]


def _push_apart(places: list[list[float]], balls: Sequence[Ball]) -> None:
    """Move any two that overlap apart, in place; balloons are soft, so a tenth of their reach may stay pressed in."""
    for a, one in enumerate(places):
        for b in range(a):
            other = places[b]
            dx, dy, dz = one[0] - other[0], one[1] - other[1], one[2] - other[2]
            near = 0.47 * (balls[a].diameter + balls[b].diameter)
            square = dx * dx + dy * dy + dz * dz
            if square < near * near:
                gap = sqrt(square) or 1.0
                push = 0.3 * (near - gap) / gap
                one[0] += dx * push
                one[1] += dy * push
                one[2] += dz * push
                other[0] -= dx * push
                other[1] -= dy * push
                other[2] -= dz * push
