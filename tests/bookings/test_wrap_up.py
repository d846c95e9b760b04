"""Wrap-up: what was used, popped and brought home of what a job took; once, and the job is done."""

import datetime as dt

import pytest
from django.db import DatabaseError, IntegrityError, transaction

from bookings import actions
from bookings.actions import Counted
from bookings.models import WrapUp, WrapUpLine
from bookings.queries import has_stock_out, to_wrap_up, wrap_up_page
from stock.actions import StockRefusal
from stock.models import Lot, Movement, Reservation
from stock.queries import held_firmly, lots_on_hand, on_hand, taken_for
from tests.factories import NOON, TODAY, BookingFactory, ColourFactory, ItemFactory, MovementFactory, ReservationFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def gala(owner):
    """A booked job that took 100 black from two lots, and holds 9 sand it never took."""
    booking = BookingFactory(title="Gala", stage="booked", needed_on=TODAY, event_on=TODAY + dt.timedelta(days=1))
    black = ItemFactory(colour=ColourFactory(name="Black"))
    for quantity, ahead in ((40, 10), (80, 90)):
        lot = Lot.objects.create(item=black, received_on=TODAY, best_before=TODAY + dt.timedelta(days=ahead))
        MovementFactory(item=black, lot=lot, kind="received", quantity=quantity)
    sand = ItemFactory(colour=ColourFactory(name="Sand"))
    ReservationFactory(item=black, booking=booking.pk, quantity=100)
    actions.tick_rest(booking=booking, by=owner, at=NOON)
    actions.issue_materials(booking=booking, by=owner, at=NOON)
    ReservationFactory(item=sand, booking=booking.pk, quantity=9)
    booking.black, booking.sand = black, sand
    return booking


def wrap_up(booking, owner, *, used=80, popped=5, home=15):
    counted = {booking.black.pk: Counted(used, popped, home)}
    return actions.wrap_up(booking=booking, counted=counted, by=owner, at=NOON)


def test_what_came_home_is_on_the_shelf_again(gala, owner):
    wrap_up(gala, owner, home=15)
    assert on_hand([gala.black.pk])[gala.black.pk] == 20 + 15


def test_what_came_home_goes_back_to_the_lot_it_was_taken_out_of_last(gala, owner):
    wrap_up(gala, owner, used=30, popped=0, home=70)
    assert [lot.left for lot in lots_on_hand([gala.black.pk])[gala.black.pk]] == [10, 80]


def test_used_popped_and_home_are_kept_apart(gala, owner):
    made = wrap_up(gala, owner)
    (line,) = made.lines.all()
    assert (line.taken, line.used, line.popped, line.home, line.lost) == (100, 80, 5, 15, 0)


def test_the_job_is_done_and_holds_nothing_any_more(gala, owner):
    wrap_up(gala, owner)
    gala.refresh_from_db()
    assert (gala.stage, held_firmly(gala.pk)) == ("done", {})
    assert on_hand([gala.sand.pk])[gala.sand.pk] == 0


def test_what_nobody_can_account_for_is_lost_and_said(gala, owner):
    (line,) = wrap_up(gala, owner, used=80, popped=5, home=8).lines.all()
    assert line.lost == 7
    assert "Wrapped up. 5 popped. Not accounted for: 7 Black 11-inch." in [one.what for one in gala.history.all()]


@pytest.mark.parametrize(
    ("figures", "said"),
    [
        pytest.param(
            Counted(90, 6, 5),
            r"Black 11-inch: used, popped and brought home must be at most 100 together, what was taken \(got 101\)",
            id="more than was taken",
        ),
        pytest.param(Counted(-1, 0, 0), r"Black 11-inch: used must be 0 or more \(got -1\)", id="used backwards"),
        pytest.param(Counted(0, -2, 0), r"Black 11-inch: popped must be 0 or more \(got -2\)", id="popped backwards"),
        pytest.param(
            Counted(0, 0, -3), r"Black 11-inch: brought home must be 0 or more \(got -3\)", id="home backwards"
        ),
    ],
)
def test_figures_that_cannot_be_are_refused_by_name_and_nothing_moves(gala, owner, figures, said):
    with pytest.raises(actions.WrapUpRefused, match=said) as refusal:
        actions.wrap_up(booking=gala, counted={gala.black.pk: figures}, by=owner, at=NOON)
    gala.refresh_from_db()
    assert refusal.value.item == gala.black.pk
    assert (gala.stage, WrapUp.objects.count(), taken_for(gala.pk)) == ("booked", 0, {gala.black.pk: 100})


def test_what_was_taken_since_the_page_was_opened_has_to_be_counted(gala, owner):
    with pytest.raises(actions.WrapUpRefused, match="Black 11-inch was taken since you opened this"):
        actions.wrap_up(booking=gala, counted={}, by=owner, at=NOON)


def test_ticked_lines_that_are_still_on_the_shelf_by_the_ledger_come_first(gala, owner):
    MovementFactory(item=gala.sand, quantity=9)
    actions.tick_rest(booking=gala, by=owner, at=NOON)
    with pytest.raises(actions.WrapUpRefused, match="1 line is ticked on the pull list and not off the shelf yet"):
        wrap_up(gala, owner)


def test_a_job_is_wrapped_up_once(gala, owner, crew):
    wrap_up(gala, crew)
    with pytest.raises(actions.WrapUpRefused, match="Bo has wrapped this job up already"):
        wrap_up(gala, owner)
    assert on_hand([gala.black.pk])[gala.black.pk] == 35


@pytest.mark.parametrize("stage", ["enquiry", "quoted", "lost"])
def test_only_a_booked_job_is_wrapped_up(owner, stage):
    with pytest.raises(actions.WrapUpRefused, match=f"this one is {stage}"):
        actions.wrap_up(booking=BookingFactory(stage=stage), counted={}, by=owner, at=NOON)


def test_a_job_that_took_nothing_is_wrapped_up_too(owner):
    booking = BookingFactory(stage="booked", needed_on=TODAY)
    held = ReservationFactory(booking=booking.pk)
    assert actions.wrap_up(booking=booking, counted={}, by=owner, at=NOON).lines.count() == 0
    held.refresh_from_db()
    assert held.closed_at == NOON


def test_what_a_cancelled_job_took_is_brought_home_and_it_stays_cancelled(gala, owner):
    actions.cancel_booking(booking=gala, why="", by=owner, at=NOON)
    assert has_stock_out(gala)
    (row,) = wrap_up_page(type(gala).objects.get(pk=gala.pk)).rows
    assert (row.used, row.home) == (0, 100)
    wrap_up(gala, owner, used=0, popped=0, home=100)
    gala.refresh_from_db()
    assert (gala.stage, on_hand([gala.black.pk])[gala.black.pk], has_stock_out(gala)) == ("cancelled", 120, False)


def test_the_figures_to_begin_with_are_what_the_quote_needs_and_the_rest_home(owner, priced, issue, say_yes):
    quote = issue(priced)
    say_yes(quote)
    for line in quote.materials.all():
        MovementFactory(item=line.item, quantity=500)
    actions.tick_rest(booking=priced, by=owner, at=NOON)
    actions.issue_materials(booking=priced, by=owner, at=NOON)
    priced.refresh_from_db()
    rows = {row.item.pk: (row.taken, row.used, row.home) for row in wrap_up_page(priced).rows}
    assert rows == {line.item_id: (line.total, line.needed, line.spares) for line in quote.materials.all()}
    assert any(home for _, _, home in rows.values())


def test_a_swapped_colour_is_what_was_likely_used(owner, priced, issue, say_yes):
    quote = issue(priced)
    say_yes(quote)
    line = quote.materials.filter(item__sort="latex").order_by("pk").first()
    other = ItemFactory(size=line.item.size)
    MovementFactory(item=other, quantity=500)
    actions.swap_material(
        booking=priced, give_up=line.item, take=other, quantity=line.total, today=TODAY, by=owner, at=NOON
    )
    actions.tick_rest(booking=priced, by=owner, at=NOON)
    actions.issue_materials(booking=priced, by=owner, at=NOON)
    priced.refresh_from_db()
    row = next(row for row in wrap_up_page(priced).rows if row.item == other)
    assert (row.taken, row.used) == (line.total, line.total)


@pytest.mark.parametrize(
    ("came_home", "not_home", "on_shelf"),
    [pytest.param(4, 0, 39, id="found in the van"), pytest.param(0, 6, 29, id="not there after all")],
)
def test_a_correction_is_another_movement_and_leaves_the_wrap_up_alone(gala, owner, came_home, not_home, on_shelf):
    wrap_up(gala, owner)
    before = Movement.objects.count()
    actions.correct_home(
        booking=gala,
        item=gala.black,
        came_home=came_home,
        not_home=not_home,
        why="Counted again",
        by=owner,
        at=NOON,
    )
    assert on_hand([gala.black.pk])[gala.black.pk] == on_shelf
    assert Movement.objects.count() == before + 1
    assert WrapUpLine.objects.get().home == 15


def test_no_more_is_found_afterwards_than_went_out(gala, owner):
    wrap_up(gala, owner)
    with pytest.raises(StockRefusal, match="took 85 of Black 11-inch; 86 cannot come back"):
        actions.correct_home(booking=gala, item=gala.black, came_home=86, why="", by=owner, at=NOON)


def test_nothing_is_corrected_before_the_wrap_up(gala, owner):
    with pytest.raises(actions.WrapUpRefused, match="not wrapped up yet"):
        actions.correct_home(booking=gala, item=gala.black, came_home=1, why="", by=owner, at=NOON)


def test_the_database_keeps_a_counted_line_as_it_is(gala, owner):
    wrap_up(gala, owner)
    with pytest.raises(DatabaseError, match="never changed"), transaction.atomic():
        WrapUpLine.objects.update(home=99)
    with pytest.raises(DatabaseError, match="never changed"), transaction.atomic():
        WrapUpLine.objects.all()._raw_delete("default")


def test_the_database_refuses_a_line_of_more_than_was_taken(gala, owner):
    made = WrapUp.objects.create(booking=gala, at=NOON, by=owner, outdoors=False)
    with pytest.raises(IntegrityError), transaction.atomic():
        WrapUpLine.objects.create(wrap_up=made, item=gala.sand, needed=5, taken=10, used=6, popped=1, home=4)


@pytest.mark.parametrize(
    ("ago", "words"),
    [
        pytest.param(1, ["Wrap up Sunday's job"], id="yesterday"),
        pytest.param(2, ["Wrap up Saturday's job"], id="saturday"),
        pytest.param(9, ["Wrap up this job"], id="longer ago"),
        pytest.param(0, [], id="today"),
        pytest.param(-1, [], id="to come"),
    ],
)
def test_a_job_that_is_over_asks_to_be_wrapped_up(db, ago, words):
    day = TODAY - dt.timedelta(days=ago)
    BookingFactory(stage="booked", event_on=day, needed_on=day)
    assert [one.words for one in to_wrap_up(today=TODAY)] == words


def test_a_cancelled_job_asks_only_while_something_is_on_the_road(gala, owner):
    BookingFactory(stage="cancelled", event_on=TODAY, needed_on=TODAY)
    actions.cancel_booking(booking=gala, why="", by=owner, at=NOON)
    assert [one.words for one in to_wrap_up(today=TODAY)] == ["Bring home what was taken"]
    wrap_up(gala, owner, used=0, popped=0, home=100)
    assert to_wrap_up(today=TODAY) == []
    assert not Reservation.objects.open().exists()
