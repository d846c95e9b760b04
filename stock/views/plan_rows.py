"""The plan of an order as it is shown: what somebody may want to decide stands open, and the rest is folded."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from django.forms import BoundField

from stock.forms import PlanForm
from stock.models import Offer
from stock.queries.buying import CannotArrive, LineToOrder, OrderToMake, Purchase, Shortfall

WHOLE = 6
"""As many lines, or items that cannot come, are shown as they are."""
MOST_CARDS = 3
"""As many items that cannot come have a card each, with what stands in for them."""
MOST_CHEAPER = 5
"""So many lines of an order that would cost less, were there time, stand open; the others are folded with the rest."""


@dataclass(frozen=True)
class OfferRow:
    """An offer with its fields: how many packs of it, and whether to leave it out."""

    offer: Offer
    packs: BoundField
    out: BoundField

    @property
    def is_settled(self) -> bool:
        """Whether somebody typed how many, or ticked that it is left out."""
        return bool(self.packs.value() or self.out.value())


@dataclass(frozen=True)
class LineRow(OfferRow):
    """A line that is to be ordered, and what else there is of its item: the `others`."""

    line: LineToOrder
    others: tuple[OfferRow, ...]

    @property
    def is_open(self) -> bool:
        """Whether its fields are to be seen: something was typed that cannot be read."""
        return any(row.packs.errors for row in (self, *self.others))

    @property
    def is_touched(self) -> bool:
        """Whether somebody has said something of it, or of another offer of the same."""
        return self.is_open or any(row.is_settled for row in (self, *self.others))


@dataclass(frozen=True)
class OrderRows:
    """One order: the lines to look at, and those that are `folded`; `key` tells it from the others."""

    number: int
    order: OrderToMake
    open: tuple[LineRow, ...]
    folded: tuple[LineRow, ...]

    @property
    def lines(self) -> tuple[LineRow, ...]:
        """Both, as they are to be ordered."""
        return self.open + self.folded

    @property
    def folded_minor(self) -> int:
        """What is folded comes to so much."""
        return sum(row.line.line.cost_minor for row in self.folded)

    @property
    def key(self) -> str:
        """What it is known by from one plan to the next."""
        return f"{self.order.supplier.pk}-{self.order.arrives_on:%Y%m%d}"


@dataclass(frozen=True)
class PlanRows:
    """All that is shown of a plan: its orders, what cannot come in time, and offers of nothing that is ordered."""

    orders: tuple[OrderRows, ...]
    cannot: tuple[CannotArrive, ...]
    folded_cannot: tuple[CannotArrive, ...]
    unused: tuple[OfferRow, ...]

    @property
    def is_long(self) -> bool:
        """Whether so much cannot come that what stands in for it is folded too."""
        return len(self.cannot) > MOST_CARDS

    @property
    def settled(self) -> list[OfferRow]:
        """Every offer somebody has said something of."""
        lines = [line for order in self.orders for line in order.lines]
        every = [*self.unused, *lines, *(other for line in lines for other in line.others)]
        return [row for row in every if row.is_settled]


def plan_rows(found: Shortfall, form: PlanForm, solved: Purchase | None) -> PlanRows:
    """A plan with the fields of its form, each once; without a plan every offer, so that it can be let in again."""
    spare: dict[int, list[Offer]] = {}
    for offer in found.offers.values() if solved is None else solved.unused:
        spare.setdefault(offer.item_id, []).append(offer)
    orders = tuple(_order(number, order, form, spare) for number, order in enumerate(solved.orders if solved else ()))
    cannot = sorted(solved.cannot if solved else (), key=lambda gone: (gone.missing.by is None, gone.missing.by))
    shown = len(cannot) if len(cannot) <= WHOLE else WHOLE - 1
    rest = sorted(
        (offer for offers in spare.values() for offer in offers),
        key=lambda offer: (offer.item.label, offer.supplier.name, offer.pack_size),
    )
    return PlanRows(orders, tuple(cannot[:shown]), tuple(cannot[shown:]), tuple(_offers(rest, form)))


def _order(number: int, order: OrderToMake, form: PlanForm, spare: dict[int, list[Offer]]) -> OrderRows:
    """An order's lines. What is `spare` of an item goes to the first of them, and is taken out."""
    rows = [
        LineRow(
            offer=line.offer,
            packs=form.packs_of(line.offer),
            out=form.leaves_out(line.offer),
            line=line,
            others=tuple(_offers(sorted(spare.pop(line.offer.item_id, []), key=_cheapest_first), form)),
        )
        for line in order.lines
    ]
    if len(rows) <= WHOLE:
        return OrderRows(number, order, tuple(rows), ())
    dearest = sorted((row for row in rows if row.line.later), key=lambda row: -_less(row))[:MOST_CHEAPER]
    keys = {row.offer.pk for row in dearest}
    stands_open: Mapping[bool, list[LineRow]] = {True: [], False: []}
    for row in rows:
        stands_open[row.is_touched or row.offer.pk in keys].append(row)
    return OrderRows(number, order, tuple(stands_open[True]), tuple(stands_open[False]))


def _less(row: LineRow) -> int:
    return row.line.later.less_minor if row.line.later else 0


def _cheapest_first(offer: Offer) -> tuple[float, int, str]:
    return offer.price_minor / offer.pack_size, offer.lead_days, offer.supplier.name


def _offers(offers: Iterable[Offer], form: PlanForm) -> list[OfferRow]:
    return [OfferRow(offer, form.packs_of(offer), form.leaves_out(offer)) for offer in offers]
