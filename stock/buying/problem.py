"""What is to be bought, from whom it can be had, and what can still arrive: the facts of a purchase, made ready.

An order arrives when its slowest line does. So a supplier's packs are put into deliveries, each with the days it takes:
a pack may go into any that is no quicker than itself, and serves the needs that can wait for it. Deliveries that could
always be merged into a slower one are left out, and what remains is one a supplier, nearly always.

Where an order is being planned with a supplier, one delivery may join it. What is on it counts towards the supplier's
least order and free delivery, and its own delivery is paid already: joining it costs none, and may save that one.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Set
from dataclasses import dataclass
from datetime import date, timedelta
from typing import NamedTuple

MOST = 1_000_000
MOST_PACKS = 10_000


class BuyingError(ValueError):
    """A figure nothing can be reckoned with; the message names it, the rule and the value."""


class NoPlan(Exception):
    """What was fixed and ruled out leaves nothing every supplier would take; the message is a sentence."""


@dataclass(frozen=True, slots=True)
class Want:
    """So many of an item by a day, on top of what is wanted of it for earlier days; `by` None can wait for ever."""

    item: int
    quantity: int
    by: date | None

    def __post_init__(self) -> None:
        if not 1 <= self.quantity <= MOST:
            raise BuyingError(f"Quantity must be 1 to {MOST:,} (got {self.quantity:,}).")


@dataclass(frozen=True, slots=True)
class Pack:
    """What a supplier sells an item in: `size` in it, at a price in minor units, so many days after ordering."""

    key: int
    supplier: int
    item: int
    size: int
    price_minor: int
    lead_days: int

    def __post_init__(self) -> None:
        if not 1 <= self.size <= MOST:
            raise BuyingError(f"A pack must hold 1 to {MOST:,} (got {self.size:,}).")
        if self.price_minor < 0:
            raise BuyingError(f"A price must be 0 or more (got {self.price_minor:,}).")
        if self.lead_days < 0:
            raise BuyingError(f"Lead days must be 0 or more (got {self.lead_days:,}).")


@dataclass(frozen=True, slots=True)
class Terms:
    """What a supplier asks for an order, in minor units: delivery, free from an amount, and the least it may be."""

    delivery_minor: int = 0
    free_from_minor: int | None = None
    minimum_minor: int = 0

    def __post_init__(self) -> None:
        for name, amount in (("Delivery", self.delivery_minor), ("The least order", self.minimum_minor)):
            if amount < 0:
                raise BuyingError(f"{name} must be 0 or more (got {amount:,}).")
        if self.free_from_minor is not None and self.free_from_minor < 0:
            raise BuyingError(f"Free delivery must be from 0 or more (got {self.free_from_minor:,}).")

    def charge(self, spent_minor: int) -> int:
        """What delivery costs for an order of so much."""
        free = self.free_from_minor is not None and spent_minor >= self.free_from_minor
        return 0 if free else self.delivery_minor


@dataclass(frozen=True, slots=True)
class Draft:
    """An order being planned with a supplier already: what its packs come to, and the days its slowest line takes."""

    goods_minor: int
    days: int = 0

    def __post_init__(self) -> None:
        if self.goods_minor < 0 or self.days < 0:
            raise BuyingError(f"A draft must be of 0 or more (got {self.goods_minor:,} in {self.days:,} days).")


class Missing(NamedTuple):
    """What cannot be bought in time. `soonest` is the first day any of it would come; None where nobody sells it."""

    item: int
    quantity: int
    by: date | None
    soonest: date | None


class Delivery(NamedTuple):
    """One order with one supplier, that arrives so many days after it is placed; or what `joins` the draft there is."""

    supplier: int
    days: int
    joins: bool = False


class Step(NamedTuple):
    """Of one item, at least `quantity` must have come `days` after ordering at the latest; None: at any time."""

    days: int | None
    quantity: int

    def waits_for(self, days: int) -> bool:
        """Whether something that takes so many days still helps."""
        return self.days is None or days <= self.days


@dataclass(frozen=True)
class Problem:
    """A purchase made ready: `steps` by item, soonest first; `packs` that can help; into which deliveries each may go.

    `fixed` are packs whose number is settled, by key.
    """

    today: date
    steps: Mapping[int, tuple[Step, ...]]
    packs: Mapping[int, Pack]
    deliveries: Mapping[int, tuple[Delivery, ...]]
    terms: Mapping[int, Terms]
    fixed: Mapping[int, int]
    missing: tuple[Missing, ...]
    packs_of: Mapping[int, tuple[Pack, ...]]
    drafts: Mapping[int, Draft]

    def least(self, delivery: Delivery) -> int:
        """What must be bought in a delivery at the least, in minor units, if anything is."""
        return max(self.terms[delivery.supplier].minimum_minor - self._there(delivery), 0)

    def free_from(self, delivery: Delivery) -> int | None:
        """How much bought in a delivery makes it free; None where nothing does, or it costs nothing more anyway."""
        terms, there = self.terms[delivery.supplier], self._there(delivery)
        if terms.free_from_minor is None or (delivery.joins and there >= terms.free_from_minor):
            return None
        return terms.free_from_minor - there

    def charge(self, delivery: Delivery, spent_minor: int) -> int:
        """What is paid more for deliveries where so much is bought in this one; below 0 where a draft's is saved."""
        terms, there = self.terms[delivery.supplier], self._there(delivery)
        return terms.charge(there + spent_minor) - (terms.charge(there) if delivery.joins else 0)

    def _there(self, delivery: Delivery) -> int:
        return self.drafts[delivery.supplier].goods_minor if delivery.joins else 0

    def total(self, item: int) -> int:
        """How many of an item are to be bought in all."""
        return self.steps[item][-1].quantity if item in self.steps else 0


def problem_of(
    wants: Iterable[Want],
    packs: Iterable[Pack],
    terms: Mapping[int, Terms],
    *,
    today: date,
    pins: Mapping[int, int] | None = None,
    forbids: Set[int] = frozenset(),
    drafts: Mapping[int, Draft] | None = None,
) -> Problem:
    """The purchase with what cannot arrive set aside. Raises BuyingError for a pin of a pack that cannot help.

    `pins` fix how many packs are bought, by the pack's key; 0 of it is the same as forbidding it. `drafts` are the
    orders being planned already, by supplier.
    """
    pins = {} if pins is None else dict(pins)
    forbidden = set(forbids) | {key for key, number in pins.items() if number == 0}
    every = {pack.key: pack for pack in packs}
    allowed = [pack for key, pack in every.items() if key not in forbidden]
    days: dict[int, list[tuple[int | None, int]]] = defaultdict(list)
    for want in wants:
        days[want.item].append((None if want.by is None else (want.by - today).days, want.quantity))
    steps: dict[int, tuple[Step, ...]] = {}
    missing: list[Missing] = []
    for item, asked in days.items():
        leads = [pack.lead_days for pack in allowed if pack.item == item]
        steps[item], gone = _in_time(item, asked, leads, today)
        missing += gone
    useful = {
        pack.key: pack
        for pack in allowed
        if steps.get(pack.item) and any(step.waits_for(pack.lead_days) for step in steps[pack.item])
    }
    fixed = {key: number for key, number in pins.items() if number and key not in forbidden}
    for key, number in fixed.items():
        if not 1 <= number <= MOST_PACKS:
            raise BuyingError(f"Packs must be 0 to {MOST_PACKS:,} (got {number:,}).")
        if key not in useful:
            raise BuyingError(f"Only a pack that arrives in time can be fixed (got number {key}).")
    packs_of: dict[int, list[Pack]] = defaultdict(list)
    for pack in useful.values():
        packs_of[pack.item].append(pack)
    asked_for = {pack.supplier: terms.get(pack.supplier, Terms()) for pack in useful.values()}
    found_drafts = {supplier: draft for supplier, draft in (drafts or {}).items() if supplier in asked_for}
    return Problem(
        today=today,
        steps={item: found for item, found in steps.items() if found},
        packs=useful,
        deliveries=_deliveries(useful.values(), steps, asked_for, found_drafts),
        terms=asked_for,
        fixed=fixed,
        missing=tuple(missing),
        packs_of={item: tuple(found) for item, found in packs_of.items()},
        drafts=found_drafts,
    )


def _in_time(
    item: int, asked: list[tuple[int | None, int]], leads: list[int], today: date
) -> tuple[tuple[Step, ...], list[Missing]]:
    """What can be met, cumulated and soonest first, and what cannot."""
    soonest = min(leads, default=None)
    steps: list[Step] = []
    missing = []
    so_far = 0
    for days, quantity in sorted(asked, key=lambda want: (want[0] is None, want[0] or 0)):
        if soonest is None or (days is not None and days < soonest):
            by = None if days is None else today + timedelta(days=days)
            missing.append(Missing(item, quantity, by, None if soonest is None else today + timedelta(days=soonest)))
            continue
        so_far += quantity
        if steps and steps[-1].days == days:
            steps.pop()
        steps.append(Step(days, so_far))
    return tuple(steps), missing


def _deliveries(
    packs: Iterable[Pack],
    steps: Mapping[int, tuple[Step, ...]],
    terms: Mapping[int, Terms],
    drafts: Mapping[int, Draft],
) -> dict[int, tuple[Delivery, ...]]:
    """For each pack, the deliveries it may go into: no quicker than itself, and in time for something."""
    by_supplier: dict[int, list[Pack]] = defaultdict(list)
    for pack in packs:
        by_supplier[pack.supplier].append(pack)
    allowed: dict[int, tuple[Delivery, ...]] = {}
    for supplier, offered in by_supplier.items():
        quickest_last = sorted({pack.lead_days for pack in offered}, reverse=True)
        levels = quickest_last[:1]
        for quick in quickest_last[1:]:
            riders = [pack for pack in offered if pack.lead_days <= quick]
            # A quicker delivery is no use where everything in it could as well wait for the next slower one.
            if not all(_helps_alike(quick, levels[-1], steps[pack.item]) for pack in riders):
                levels.append(quick)
        possible = _with_draft(supplier, levels, terms[supplier], drafts.get(supplier))
        for pack in offered:
            allowed[pack.key] = tuple(
                delivery
                for delivery in possible
                if delivery.days >= pack.lead_days and any(step.waits_for(delivery.days) for step in steps[pack.item])
            )
    return allowed


def _with_draft(supplier: int, levels: list[int], terms: Terms, draft: Draft | None) -> list[Delivery]:
    """A delivery for every level, slowest first; and those that join the draft, no quicker than its own lines."""
    fresh = [Delivery(supplier, days) for days in levels]
    if draft is None:
        return fresh
    if terms.delivery_minor or terms.minimum_minor:
        return fresh + [Delivery(supplier, days, True) for days in sorted({max(draft.days, days) for days in levels})]
    # Nothing is asked for another order: what is as quick joins the draft, so that there is one order and not two.
    slowest = fresh[0]
    return [slowest._replace(joins=True), *fresh[1:]] if draft.days <= slowest.days else fresh


def _helps_alike(quick: int, slow: int, steps: tuple[Step, ...]) -> bool:
    """Whether every need that a quick delivery serves is served by the slow one too."""
    return all(step.waits_for(slow) for step in steps if step.waits_for(quick))
