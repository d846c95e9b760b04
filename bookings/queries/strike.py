"""Taking a job down: when, by how many, what comes down and what comes home."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from bookings.cautions import DISPOSAL
from bookings.models import Booking, Strike
from bookings.queries.bringing import things_along
from bookings.queries.pictured import isolated
from bookings.queries.site import MadeJob
from bookings.queries.wrapup import taken_along
from bookings.run_steps import RunStep
from stock.models import Item, KitPromise

COME_HOME = ("item", "weight")
"""Sorts of a materials list that are not used up: frames and the like, and weights."""


@dataclass(frozen=True, slots=True)
class HomeLine:
    """One thing to bring home, and a note: when it is due, where it goes."""

    what: str
    note: str = ""
    is_late: bool = False


@dataclass(frozen=True, slots=True)
class StrikeSheet:
    """The strike of a booking. `steps` are those from the strike on; none where no day is known."""

    steps: tuple[RunStep, ...]
    people: int
    strike: Strike
    comes_down: tuple[str, ...]
    kit: tuple[HomeLine, ...]
    things: tuple[HomeLine, ...]
    leftover: tuple[HomeLine, ...]
    along: tuple[str, ...]
    cautions: tuple[str, ...] = DISPOSAL

    @property
    def comes_home(self) -> tuple[HomeLine, ...]:
        """What has to be in the van again, besides the things that went `along` by the studio's rules."""
        return self.kit + self.things + self.leftover


def strike_sheet(
    booking: Booking,
    made: MadeJob | None,
    steps: list[RunStep],
    *,
    today: date,
    promised: Sequence[KitPromise],
    held: Sequence[Item],
) -> StrikeSheet:
    """How a booking is taken down, and what of it comes home: of the kit it was `promised` and the `held_items`."""
    strike = Strike.objects.of(booking)
    pieces = () if made is None else tuple(isolated(one.piece.name) for one in made.estimate.pieces)
    return StrikeSheet(
        steps=tuple(step for step in steps if step.is_strike),
        people=strike.people or booking.crew,
        strike=strike,
        comes_down=pieces,
        kit=tuple(_kit(promised, today)),
        things=tuple(_things(made)),
        leftover=tuple(_leftover(booking, made)),
        along=tuple(map(isolated, things_along(booking, promised=promised, held=held))),
    )


def _kit(promised: Iterable[KitPromise], today: date) -> list[HomeLine]:
    """The kit that is promised or out, with the day it is due."""
    standing = [promise for promise in promised if promise.came_back_at is None]
    return [
        HomeLine(
            _many(promise.quantity, promise.kit.name),
            f"due back {promise.back_on:%a} {promise.back_on.day} {promise.back_on:%b}"
            + (f", to {promise.kit.place}" if promise.kit.place else ""),
            promise.is_late(today),
        )
        for promise in sorted(standing, key=lambda one: (one.back_on, one.kit.name, one.pk))
    ]


def _things(made: MadeJob | None) -> list[HomeLine]:
    """Frames and weights of the pieces."""
    lines = [] if made is None else [line for line in made.estimate.lines if line.key[0] in COME_HOME and line.needed]
    return [HomeLine(_many(line.needed, line.label), "comes down with the pieces") for line in lines]


def _leftover(booking: Booking, made: MadeJob | None) -> list[HomeLine]:
    """What was taken off the shelf and is likely not to be used; before anything was taken, the spares."""
    rows = taken_along(booking)
    if rows:
        return [HomeLine(_many(row.home, row.item.label), "likely left over, unused") for row in rows if row.home > 0]
    spares = 0 if made is None else sum(line.spares for line in made.estimate.lines if line.key[0] == "latex")
    return [HomeLine(f"{spares:,} spare balloon{'' if spares == 1 else 's'}", "what did not pop")] if spares else []


def _many(number: int, name: str) -> str:
    return f"{number:,} {isolated(name)}"
