"""The pull list: what to take off the shelf for one job, ticked by whoever loads, and issued once."""

import datetime as dt

import pytest

from bookings import actions
from bookings.queries import pull_list
from stock.actions import StockRefusal, count
from stock.models import Lot, Movement
from stock.queries import held_firmly, on_hand, taken_for
from tests.factories import NOON, TODAY, BookingFactory, ColourFactory, ItemFactory, MovementFactory, ReservationFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def gala(db):
    """A booked job."""
    return BookingFactory(
        title="Gala", stage="booked", needed_on=TODAY + dt.timedelta(days=2), event_on=TODAY + dt.timedelta(days=3)
    )


@pytest.fixture
def needs(gala):
    """Has the gala hold so many of a new item, of which `have` are on the shelf, in lots where some are named."""

    def hold(quantity, *, have=None, lots=(), place="", name="Black", size=11):
        item = ItemFactory(colour=ColourFactory(name=name), size=size, place=place)
        if not lots:
            MovementFactory(item=item, quantity=quantity if have is None else have)
        for left, ahead in lots:
            lot = Lot.objects.create(item=item, received_on=TODAY, best_before=TODAY + dt.timedelta(days=ahead))
            MovementFactory(item=item, lot=lot, kind="received", quantity=left)
        ReservationFactory(item=item, booking=gala.pk, quantity=quantity)
        return item

    return hold


def seen(booking):
    """Every line as (item, place, asked, taken), place after place."""
    return [(line.item.label, line.place, line.asked, line.taken) for line in pull_list(booking).lines]


def taker(line):
    """Who ticked a line; None where nobody has."""
    return line.tick and line.tick.by


def tick(booking, item, owner, *, lot=None, taken=None, at=NOON):
    return actions.tick_line(booking=booking, item=item.pk, lot=lot, taken=taken, by=owner, at=at)


def issue(booking, owner):
    return actions.issue_materials(booking=booking, by=owner, at=NOON)


def test_the_list_goes_along_the_shelf_place_by_place(gala, needs):
    needs(5, name="Sand", place="Shelf B")
    needs(7, name="Ink", place="Shelf A")
    needs(9, name="Gold")
    assert seen(gala) == [
        ("Ink 11-inch", "Shelf A", 7, 0),
        ("Sand 11-inch", "Shelf B", 5, 0),
        ("Gold 11-inch", "", 9, 0),
    ]


def test_the_soonest_to_expire_is_pulled_first(gala, needs):
    needs(50, lots=[(60, 90), (20, 10)])
    lines = pull_list(gala).lines
    assert [(line.asked, line.best_before) for line in lines] == [
        (20, TODAY + dt.timedelta(days=10)),
        (30, TODAY + dt.timedelta(days=90)),
    ]


def test_what_is_not_on_the_shelf_is_said_and_not_listed(gala, needs):
    needs(50, have=38)
    found = pull_list(gala)
    assert [line.asked for line in found.lines] == [38]
    assert found.said_missing == "Still missing: 38 Black 11-inch not ticked; 12 Black 11-inch not on the shelf."


def test_nothing_of_another_job_is_on_the_list(gala, needs):
    item = needs(10)
    ReservationFactory(item=item, booking=gala.pk + 1, quantity=44)
    ReservationFactory(item=item, booking=gala.pk, quantity=44, firm=False)
    assert seen(gala) == [("Black 11-inch", "", 10, 0)]


def test_a_tick_says_who_took_the_line(gala, needs, owner):
    item = needs(10)
    tick(gala, item, owner)
    (line,) = pull_list(gala).lines
    assert (line.is_ticked, line.taken, taker(line)) == (True, 10, owner)
    assert pull_list(gala).said_missing == ""


def test_a_line_ticked_by_two_is_taken_once_and_the_first_is_named(gala, needs, owner, crew):
    item = needs(10)
    tick(gala, item, crew)
    tick(gala, item, owner)
    (line,) = pull_list(gala).lines
    assert (line.taken, taker(line), gala.pull_ticks.count()) == (10, crew, 1)


def test_a_tick_is_not_a_movement(gala, needs, owner):
    item = needs(10)
    tick(gala, item, owner)
    assert (on_hand([item.pk])[item.pk], held_firmly(gala.pk)) == (10, {item.pk: 10})


def test_fewer_than_asked_are_missing_with_their_number(gala, needs, owner):
    item = needs(40)
    tick(gala, item, owner, taken=38)
    assert pull_list(gala).said_missing == "Still missing: 38 of 40 Black 11-inch taken."


def test_a_line_can_be_unticked(gala, needs, owner):
    item = needs(40)
    tick(gala, item, owner)
    actions.untick_line(booking=gala, item=item.pk, lot=None, by=owner, at=NOON)
    assert seen(gala) == [("Black 11-inch", "", 40, 0)]


def test_the_rest_is_ticked_in_one_go_and_what_was_ticked_stays(gala, needs, owner, crew):
    one, other = needs(40, name="Ink"), needs(9, name="Sand")
    tick(gala, one, crew, taken=38)
    assert actions.tick_rest(booking=gala, by=owner, at=NOON) == 1
    assert seen(gala) == [("Ink 11-inch", "", 40, 38), ("Sand 11-inch", "", 9, 9)]
    assert taker(pull_list(gala).lines[0]) == crew
    assert other.pk in held_firmly(gala.pk)


@pytest.mark.parametrize(
    ("taken", "said"),
    [
        pytest.param(-1, "taken must be 0 to 60, what is there \\(got -1\\)", id="less than nothing"),
        pytest.param(61, "Black 11-inch: taken must be 0 to 60, what is there \\(got 61\\)", id="more than there is"),
    ],
)
def test_a_number_that_cannot_be_is_refused(gala, needs, owner, taken, said):
    item = needs(40, have=60)
    with pytest.raises(actions.PullRefused, match=said):
        tick(gala, item, owner, taken=taken)


def test_a_line_that_is_not_on_the_list_is_refused(gala, owner):
    with pytest.raises(actions.PullRefused, match="not on the list any more"):
        tick(gala, ItemFactory(), owner)


@pytest.mark.parametrize("stage", ["enquiry", "quoted", "done", "lost", "cancelled"])
def test_only_a_booked_job_is_pulled(gala, needs, owner, stage):
    item = needs(40)
    type(gala).objects.filter(pk=gala.pk).update(stage=stage)
    for act in (lambda: tick(gala, item, owner), lambda: issue(gala, owner)):
        with pytest.raises(actions.PullRefused, match=f"this one is {stage}"):
            act()


def test_issuing_takes_what_is_ticked_off_the_shelf_and_holds_it_no_more(gala, needs, owner):
    one, other = needs(40, name="Ink"), needs(9, name="Sand")
    tick(gala, one, owner)
    assert issue(gala, owner) == 1
    assert on_hand([one.pk, other.pk]) == {one.pk: 0, other.pk: 9}
    assert (held_firmly(gala.pk), taken_for(gala.pk)) == ({other.pk: 9}, {one.pk: 40})


def test_issuing_leaves_by_the_lots_that_were_ticked(gala, needs, owner):
    item = needs(50, lots=[(60, 90), (20, 10)])
    actions.tick_rest(booking=gala, by=owner, at=NOON)
    issue(gala, owner)
    left = Movement.objects.filter(item=item, kind="used").order_by("pk").values_list("lot__best_before", "quantity")
    assert list(left) == [(TODAY + dt.timedelta(days=10), -20), (TODAY + dt.timedelta(days=90), -30)]


def test_issuing_twice_takes_once(gala, needs, owner):
    item = needs(40)
    tick(gala, item, owner)
    assert [issue(gala, owner), issue(gala, owner)] == [1, 0]
    assert taken_for(gala.pk) == {item.pk: 40}


def test_a_line_that_was_missing_is_taken_later(gala, needs, owner):
    item = needs(40)
    tick(gala, item, owner, taken=38)
    issue(gala, owner)
    assert seen(gala) == [("Black 11-inch", "", 2, 0)]
    tick(gala, item, owner)
    issue(gala, owner)
    assert (seen(gala), taken_for(gala.pk)) == ([], {item.pk: 40})


def test_a_whole_bag_is_taken_for_a_job_that_needs_less(gala, needs, owner):
    item = needs(40, have=100)
    tick(gala, item, owner, taken=100)
    issue(gala, owner)
    assert (on_hand([item.pk])[item.pk], held_firmly(gala.pk), taken_for(gala.pk)) == (0, {}, {item.pk: 100})


def test_none_found_takes_nothing_and_holds_on(gala, needs, owner):
    none, some = needs(5, name="Ink"), needs(6, name="Sand")
    tick(gala, none, owner, taken=0)
    tick(gala, some, owner)
    assert issue(gala, owner) == 1
    assert held_firmly(gala.pk) == {none.pk: 5}


def test_what_the_ledger_does_not_have_is_refused_and_every_tick_stays(gala, needs, owner):
    one, other = needs(40, name="Ink"), needs(9, name="Sand")
    tick(gala, one, owner)
    tick(gala, other, owner)
    count(item=one, counted=12, by=owner, at=NOON)
    with pytest.raises(StockRefusal, match="Ink 11-inch has 12 on hand; 40 cannot be taken"):
        issue(gala, owner)
    assert (taken_for(gala.pk), pull_list(gala).ticked) == ({}, 2)


def test_what_is_swapped_away_after_it_was_ticked_is_not_asked_for(gala, needs, owner):
    item = needs(40)
    tick(gala, item, owner)
    gala_holds = held_firmly(gala.pk)
    assert gala_holds == {item.pk: 40}
    ReservationFactory._meta.model.objects.filter(item=item).update(quantity=15)
    (line,) = pull_list(gala).lines
    assert (line.asked, line.taken, line.missing) == (15, 40, 0)


def test_what_the_job_wants_more_after_a_tick_is_asked_for_too(gala, needs, owner):
    item = needs(40, have=90)
    tick(gala, item, owner)
    ReservationFactory(item=item, booking=gala.pk, quantity=10, made_at=NOON + dt.timedelta(hours=1))
    (line,) = pull_list(gala).lines
    assert (line.asked, line.taken, line.is_ticked) == (50, 40, False)
    tick(gala, item, owner)
    assert seen(gala) == [("Black 11-inch", "", 50, 50)]


def test_the_stamp_changes_with_a_tick_and_only_with_one(gala, needs, owner):
    item = needs(40)
    before = pull_list(gala).stamp
    assert pull_list(gala).stamp == before
    tick(gala, item, owner)
    assert pull_list(gala).stamp != before


def test_the_next_version_does_not_ask_again_for_what_was_taken(owner, priced, issue, say_yes, add_garland):
    first = issue(priced)
    say_yes(first)
    for line in first.materials.all():
        MovementFactory(item=line.item, quantity=1000)
    actions.tick_rest(booking=priced, by=owner, at=NOON)
    actions.issue_materials(booking=priced, by=owner, at=NOON)
    out = taken_for(priced.pk)
    add_garland(priced, name="Second")
    second = issue(priced)
    say_yes(second)
    held = held_firmly(priced.pk)
    assert {line.item_id: held.get(line.item_id, 0) + out.get(line.item_id, 0) for line in second.materials.all()} == {
        line.item_id: line.total for line in second.materials.all()
    }


def test_a_long_list_takes_as_few_queries_as_a_short_one(gala, needs, django_assert_max_num_queries):
    needs(5)
    with django_assert_max_num_queries(6):
        assert len(pull_list(gala).lines) == 1
    for size in (5, 16, 24):
        for name in "abcdefghijklm":
            needs(5, name=name, size=size) if size == 5 else needs(5, name=f"{name}{size}", size=size)
    with django_assert_max_num_queries(6):
        assert len(pull_list(gala).lines) == 40
