"""What to buy so that the shelf covers what is promised: what is short, who sells it, the cheapest way to order."""

import hashlib
from collections.abc import Mapping, Set
from dataclasses import dataclass
from datetime import date

from stock.buying import (
    CheaperLater,
    Draft,
    Missing,
    Pack,
    PlannedLine,
    PlannedOrder,
    PurchasePlan,
    Terms,
    Want,
    cheaper_later,
    cheapest_plan,
    problem_of,
)
from stock.models import Item, Offer, Order, Supplier
from stock.queries.board import Board, cover_board
from stock.queries.board_rows import BoardRow, StandIn
from stock.queries.stand_ins import recipes, stand_ins

PLANNED_WEEKS = 26


@dataclass(frozen=True)
class Shortfall:
    """What is short beyond what is on its way or planned, and every offer of it.

    `planned` is the order being planned with a supplier, by the supplier's key, the oldest of them; `drafts` what a
    plan must know of it.
    """

    board: Board
    wants: tuple[Want, ...]
    offers: Mapping[int, Offer]
    planned: Mapping[int, Order]
    drafts: Mapping[int, Draft]
    digest: str

    def rows(self) -> dict[int, BoardRow]:
        """The board's rows by item."""
        return {row.item.pk: row for row in self.board.rows}


@dataclass(frozen=True)
class LineToOrder:
    """One line of an order to be made; `later` and `cheaper` where its item would cost less from an offer too late."""

    offer: Offer
    line: PlannedLine
    left_over: int
    later: CheaperLater | None = None
    cheaper: Offer | None = None


@dataclass(frozen=True)
class OrderToMake:
    """One order to be made with one supplier; `joins` is the one being planned with them, which it is added to."""

    supplier: Supplier
    joins: Order | None
    arrives_on: date
    lines: tuple[LineToOrder, ...]
    goods_minor: int
    delivery_minor: int
    total_minor: int


@dataclass(frozen=True)
class CannotArrive:
    """An item that cannot be bought in time, and what could be used instead."""

    item: Item
    missing: Missing
    instead: tuple[StandIn, ...]
    row: BoardRow


@dataclass(frozen=True)
class Purchase:
    """The cheapest orders for a shortfall."""

    shortfall: Shortfall
    plan: PurchasePlan
    orders: tuple[OrderToMake, ...]
    cannot: tuple[CannotArrive, ...]
    unused: tuple[Offer, ...]

    @property
    def items(self) -> int:
        """How many items are bought."""
        return len({line.offer.item_id for order in self.orders for line in order.lines})


def shortfall(today: date, *, with_open: bool) -> Shortfall:
    """What must be bought, over half a year. Nine statements at the most."""
    board = cover_board(today, weeks=PLANNED_WEEKS, with_open=with_open)
    wants = tuple(want for row in board.short_rows for want in wants_of(row, board.until))
    items = {row.item.pk: row.item for row in board.rows}
    offers: dict[int, Offer] = {}
    for offer in Offer.objects.filter(item__in={want.item for want in wants}).select_related("supplier").order_by("pk"):
        offer.item = items[offer.item_id]
        offers[offer.pk] = offer
    planned = _planned({offer.supplier_id for offer in offers.values()})
    drafts = {supplier: draft_of(order) for supplier, order in planned.items()}
    said = (
        sorted((want.item, want.quantity, str(want.by)) for want in wants),
        sorted((supplier, planned[supplier].pk, draft.goods_minor, draft.days) for supplier, draft in drafts.items()),
    )
    digest = hashlib.sha256(repr((with_open, said)).encode()).hexdigest()[:32]
    return Shortfall(board, wants, offers, planned, drafts, digest)


def _planned(suppliers: Set[int]) -> dict[int, Order]:
    """The oldest order being planned with each supplier, by the supplier's key; one without lines is none yet."""
    orders = Order.objects.filter(supplier__in=suppliers, state=Order.State.PLANNED).order_by("-pk")
    with_lines = orders.prefetch_related("lines").select_related("supplier").prefetch_related("supplier__offers")
    return {order.supplier_id: order for order in with_lines if order.lines.all()}


def draft_of(order: Order) -> Draft:
    """An order being planned as a plan sees it. A line that is offered no more takes no days that anybody knows."""
    lead_days = {(offer.item_id, offer.pack_size): offer.lead_days for offer in order.supplier.offers.all()}
    lines = order.lines.all()
    return Draft(
        sum(line.cost_minor for line in lines),
        max((lead_days.get((line.item_id, line.pack_size), 0) for line in lines), default=0),
    )


def wants_of(row: BoardRow, until: date) -> list[Want]:
    """What is missing of one item, by the day it is missing on, less what is planned.

    What only touches the level kept back has no day: nobody goes without it.
    """
    ends = {row.cover.today: row.cover.on_hand} | {
        step.day: step.balance for step in row.cover.steps if step.day <= until
    }
    planned, so_far = row.planned, 0
    wants = []
    dated: list[tuple[date | None, int]] = [(day, -balance) for day, balance in sorted(ends.items())]
    for day, lacking in [*dated, (None, row.cover.short_by)]:
        more = lacking - so_far
        if more <= 0:
            continue
        so_far = lacking
        covered = min(planned, more)
        planned -= covered
        if more > covered:
            wants.append(Want(row.item.pk, more - covered, day))
    return wants


def purchase(found: Shortfall, *, pins: Mapping[int, int] | None = None, forbids: Set[int] = frozenset()) -> Purchase:
    """The cheapest orders, with packs fixed or left out by offer. Raises BuyingError and NoPlan."""
    today = found.board.today
    packs = [
        Pack(offer.pk, offer.supplier_id, offer.item_id, offer.pack_size, offer.price_minor, offer.lead_days)
        for offer in found.offers.values()
    ]
    suppliers = {offer.supplier_id: offer.supplier for offer in found.offers.values()}
    terms = {key: terms_of(supplier) for key, supplier in suppliers.items()}
    problem = problem_of(found.wants, packs, terms, today=today, pins=pins, forbids=forbids, drafts=found.drafts)
    plan = cheapest_plan(problem)
    rows = found.rows()
    left_over, later = dict(plan.left_over), cheaper_later(problem, plan, [p for p in packs if p.key not in forbids])
    orders = []
    for order in plan.orders:
        orders.append(
            OrderToMake(
                suppliers[order.supplier],
                found.planned[order.supplier] if order.joins else None,
                order.arrives_on,
                _lines(order, found, left_over, later),
                order.goods_minor,
                order.delivery_minor,
                order.total_minor,
            )
        )
    doubles = recipes() if plan.missing else ()
    used = {line.offer.pk for order in orders for line in order.lines}
    # What comes too late is no choice; what was left out can be let in again.
    choices = {*problem.packs, *forbids, *(pins or {})} - used
    return Purchase(
        shortfall=found,
        plan=plan,
        orders=tuple(orders),
        cannot=tuple(
            CannotArrive(
                rows[gone.item].item,
                gone,
                stand_ins(rows[gone.item], found.board.rows, gone.by or today, doubles=doubles),
                rows[gone.item],
            )
            for gone in plan.missing
        ),
        unused=tuple(offer for key, offer in found.offers.items() if key in choices),
    )


def _lines(
    order: PlannedOrder, found: Shortfall, left_over: dict[int, int], later: dict[int, CheaperLater]
) -> tuple[LineToOrder, ...]:
    """The lines of an order by name. What is to be said of an item is said once, and then taken out."""
    lines = []
    for line in sorted(order.lines, key=lambda line: (found.offers[line.pack.key].item.label, -line.pack.size)):
        late = later.pop(line.pack.item, None)
        lines.append(
            LineToOrder(
                offer=found.offers[line.pack.key],
                line=line,
                left_over=left_over.pop(line.pack.item, 0),
                later=late,
                cheaper=None if late is None else found.offers[late.pack.key],
            )
        )
    return tuple(lines)


def terms_of(supplier: Supplier) -> Terms:
    """What a supplier asks for an order."""
    return Terms(supplier.delivery_minor, supplier.free_from_minor, supplier.minimum_minor)
