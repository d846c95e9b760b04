"""What a job took along and has still to be counted, and which jobs are over and not wrapped up."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from django.db.models import F, Q
from django.db.models.functions import Coalesce

from bookings.models import Acceptance, Booking, PullTick, Quote
from bookings.queries.agreed import agreed_pieces, last_agreed_needs
from bookings.queries.estimates import swaps_of
from bookings.queries.known import may_have
from stock.models import Item
from stock.queries import held_and_taken, items_taken_for, taken_for

MOST_TO_WRAP_UP = 10


@dataclass(frozen=True, slots=True)
class WrapUpRow:
    """An item a job took: how many, how many its quote needed before spares, and what is likely to be true of them."""

    item: Item
    needed: int
    taken: int
    used: int

    @property
    def home(self) -> int:
        """What comes home where nothing popped."""
        return self.taken - self.used


@dataclass(frozen=True, slots=True)
class WrapUpPage:
    """A job to be counted. `held` is promised and was never taken; `ticked` lines are taken and not written yet."""

    rows: list[WrapUpRow]
    held: list[tuple[Item, int]]
    ticked: int


@dataclass(frozen=True, slots=True)
class ToWrapUp:
    """A job that is over, and what there is to do: “Wrap up Saturday's job”."""

    booking: Booking
    words: str


def wrap_up_page(booking: Booking) -> WrapUpPage:
    """What the job took, each with its likely figures, and what it holds and never took."""
    held, taken = held_and_taken(booking.pk)
    items = list(Item.objects.filter(pk__in={*taken, *held}).with_colour().shelf_order())
    rows = _rows(booking, taken, items)
    went_ahead = booking.stage == Booking.Stage.BOOKED
    ticked = PullTick.objects.waiting().filter(booking=booking, taken__gt=0).count() if went_ahead else 0
    return WrapUpPage(rows, [(item, held[item.pk]) for item in items if item.pk in held], ticked)


def taken_along(booking: Booking) -> list[WrapUpRow]:
    """What the job took, each with its likely figures; three statements, and none for a job that took nothing."""
    items = items_taken_for(booking.pk) if may_have(booking, "stock") else {}
    return _rows(booking, {item.pk: many for item, many in items.items()}, items) if items else []


def _rows(booking: Booking, taken: Mapping[int, int], items: Iterable[Item]) -> list[WrapUpRow]:
    needed = needed_by(booking) if taken else {}
    # Of a job that was called off nothing was used, whatever was needed.
    went_ahead = booking.stage == Booking.Stage.BOOKED
    return [
        WrapUpRow(
            item=item,
            needed=(wanted := needed.get(item.pk, 0)),
            taken=taken[item.pk],
            used=min(wanted, taken[item.pk]) if went_ahead else 0,
        )
        for item in items
        if item.pk in taken
    ]


def needed_by(booking: Booking) -> dict[int, int]:
    """Item key to how many the accepted quote needs before spares, after what was swapped."""
    needed = last_agreed_needs(booking)
    for swap in swaps_of(booking):
        needed[swap.given_up_id] = max(needed.get(swap.given_up_id, 0) - swap.quantity, 0)
        for taken in swap.taken_ids:
            needed[taken] = needed.get(taken, 0) + swap.quantity
    return needed


def stands_outdoors(booking: Booking) -> bool:
    """Whether a piece of the job, as it was accepted, stands outdoors."""
    quote = _accepted(booking)
    specs = booking.pieces.values_list("spec", flat=True) if quote is None else [p.spec for p in agreed_pieces(quote)]
    return any(bool(spec.get("outdoors")) for spec in specs)


def has_stock_out(booking: Booking, taken: Mapping[int, int] | None = None) -> bool:
    """Whether something was taken off the shelf for it, and nobody has counted what became of it.

    `taken` is what was `taken_for` it, where the caller has read it.
    """
    if booking.stage not in (Booking.Stage.BOOKED, Booking.Stage.CANCELLED):
        return False
    return bool(taken_for(booking.pk) if taken is None else taken) and not hasattr(booking, "wrap_up")


def to_wrap_up(*, today: date) -> list[ToWrapUp]:
    """Booked jobs that are over, the latest first; and cancelled ones of which something is still on the road."""
    over = Booking.objects.filter(wrap_up__isnull=True).annotate(day=Coalesce("event_on", "needed_on"))
    # A cancelled job that took nothing has no tick that was written: it has nothing to bring home.
    on_the_road = Q(stage=Booking.Stage.CANCELLED, pull_ticks__issued_at__isnull=False, pull_ticks__taken__gt=0)
    over = over.filter(Q(stage=Booking.Stage.BOOKED, day__lt=today) | on_the_road).select_related("client")
    jobs = over.order_by(F("day").desc(nulls_last=True), "-pk").distinct()[:MOST_TO_WRAP_UP]
    return [ToWrapUp(job, _words(job, today)) for job in jobs]


def _words(booking: Booking, today: date) -> str:
    if booking.stage == Booking.Stage.CANCELLED:
        return "Bring home what was taken"
    day = booking.event_on or booking.needed_on
    if day is None or not 0 < (today - day).days <= 6:
        return "Wrap up this job"
    return f"Wrap up {day:%A}'s job"


def _accepted(booking: Booking) -> Quote | None:
    """The quote that was accepted last, without its papers."""
    last = Acceptance.objects.filter(quote__booking=booking).order_by("-at").values("quote")[:1]
    if not booking.pk:
        return None
    return Quote.objects.filter(pk__in=last).select_related("acceptance").defer("pdf", "told", "reasons").first()
