"""What to do next for a job, and the ways to end it."""

from collections.abc import Sequence
from typing import NamedTuple

from django.urls import reverse

from bookings.lifecycle import may_move
from bookings.models import Booking
from bookings.queries.billing import MoneyCard
from bookings.queries.material_rows import MaterialRow


class Step(NamedTuple):
    """One thing to do next."""

    what: str
    note: str
    href: str = ""


class Ending(NamedTuple):
    """A way to end or reopen the job."""

    words: str
    means: str
    href: str
    danger: bool = False
    asks_why: bool = True
    has_a_page: bool = False


def endings(booking: Booking) -> list[Ending]:
    """The ways the job may end, or be opened again."""
    ways = []
    if may_move(booking.stage, Booking.Stage.CANCELLED):
        href = reverse("bookings:cancel", args=[booking.pk])
        said = "What it holds is free again. You see first what the terms keep."
        ways.append(Ending("Cancel the job", said, href, danger=True, has_a_page=True))
    if may_move(booking.stage, Booking.Stage.LOST):
        href = reverse("bookings:lose", args=[booking.pk])
        ways.append(Ending("Mark it as lost", "Its quotes are withdrawn. It can be opened again.", href))
    if booking.stage == Booking.Stage.LOST and booking.client.erased_at is None:
        href = reverse("bookings:reopen", args=[booking.pk])
        ways.append(Ending("Open it again", "It is an enquiry once more.", href, asks_why=False))
    return ways


def next_steps(
    booking: Booking,
    *,
    materials: Sequence[MaterialRow],
    has_pieces: bool,
    answer: str,
    money: MoneyCard | None,
    may_quote: bool,
    on_the_road: bool,
) -> list[Step]:
    """What to do next, the first first.

    `answer` is how the newest quote stands, `may_quote` whether who looks may send one now, `money` what they may see
    of it, `on_the_road` whether anything of the job has left the shelf.
    """
    steps = []
    for row in materials:
        if row.short and booking.stage == Booking.Stage.BOOKED:
            href = reverse("stock:item", args=[row.item_id]) if row.item_id else ""
            steps.append(Step(f"Get {row.short} more {row.label}", "the shelf does not cover this job", href))
    if may_quote and booking.stage != Booking.Stage.BOOKED:
        if not has_pieces:
            steps.append(Step("Make a piece", "picture, list and price come from it"))
        elif booking.event_on is None and booking.needed_on is None:
            steps.append(Step("Set the day", "stock is held for a day", reverse("bookings:edit", args=[booking.pk])))
        elif booking.stage == Booking.Stage.ENQUIRY:
            steps.append(Step("Send the quote", "", reverse("bookings:quote-issue", args=[booking.pk])))
        else:
            steps.append(Step("Wait for the answer", answer))
    steps += _money_steps(booking, money)
    if booking.stage == Booking.Stage.BOOKED and booking.prep_day:
        said = f"{booking.prep_day:%A} {booking.prep_day.day} {booking.prep_day:%B}"
        if not on_the_road:
            steps.append(Step("Pull and load", f"prep is on {said}", reverse("bookings:pull-list", args=[booking.pk])))
        else:
            steps.append(Step("Prep", said))
        steps.append(Step("Wrap up", "when it is over", reverse("bookings:wrap-up", args=[booking.pk])))
    elif booking.stage == Booking.Stage.CANCELLED and on_the_road:
        href = reverse("bookings:wrap-up", args=[booking.pk])
        steps.append(Step("Bring home what was taken", "it had left the shelf already", href))
    return steps


def _money_steps(booking: Booking, card: MoneyCard | None) -> list[Step]:
    """What is still to be paid, and by when."""
    href = reverse("bookings:payment", args=[booking.pk])
    return [
        Step(f"{one.due.what} is due", f"by {one.due.on:%a} {one.due.on.day} {one.due.on:%b}", href)
        for one in (card.open_dues if card else ())
    ]
