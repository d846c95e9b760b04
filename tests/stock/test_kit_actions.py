"""Promising kit, taking it out and bringing it back; and what the database refuses whoever asks."""

import datetime as dt
from typing import Any

import pytest
from django.db import IntegrityError, connection, transaction

from stock import actions
from stock.actions import KitRefusal
from stock.models import Kit, KitMovement, KitPromise, LedgerRefusal
from tests.factories import NOON, TODAY, KitFactory, KitPromiseFactory, UserFactory

pytestmark = pytest.mark.django_db
LATER = NOON + dt.timedelta(hours=2)


def day(n: int) -> dt.date:
    return TODAY + dt.timedelta(days=n)


def owned(kit: Kit) -> int:
    return Kit.objects.with_owned().get(pk=kit.pk).owned


def promise(kit: Kit, owner, *, booking: int = 7, out: int = 10, back: int = 12, **said: Any) -> KitPromise:
    said = {"quantity": 1, "booking_name": "Winter gala", "firm": True, **said}
    return actions.promise_kit(kit=kit, out_on=day(out), back_on=day(back), booking=booking, by=owner, at=NOON, **said)


# --- what the database refuses -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "fields",
    [
        pytest.param({"back_on": day(10)}, id="back the day it goes out"),
        pytest.param({"quantity": 3}, id="more than one of it"),
        pytest.param({"taken_out_at": NOON, "came_back_at": NOON}, id="out and back in a moment"),
        pytest.param({"closed_at": NOON}, id="let go before it went out"),
    ],
)
def test_a_promise_the_database_takes(fields):
    by = UserFactory()
    if "taken_out_at" in fields:
        fields = fields | {"taken_out_by": by, "came_back_by": by}
    assert KitPromiseFactory(**fields).pk


@pytest.mark.parametrize(
    "fields",
    [
        pytest.param({"back_on": day(9)}, id="back before it goes out"),
        pytest.param({"quantity": 0}, id="none of it"),
        pytest.param({"came_back_at": NOON, "came_back_by": True}, id="back without having gone out"),
        pytest.param({"taken_out_at": NOON}, id="taken out by nobody"),
        pytest.param({"taken_out_at": NOON, "taken_out_by": True, "closed_at": NOON}, id="let go while it is out"),
        pytest.param({"damage": "bent"}, id="damage before it came back"),
        pytest.param(
            {"taken_out_at": LATER, "taken_out_by": True, "came_back_at": NOON, "came_back_by": True},
            id="back before it was taken out",
        ),
    ],
)
def test_a_promise_the_database_refuses(fields):
    by = UserFactory()
    fields = {name: by if value is True else value for name, value in fields.items()}
    with pytest.raises(IntegrityError), transaction.atomic():
        KitPromiseFactory(**fields)


@pytest.mark.parametrize(
    "fields",
    [
        pytest.param({"name": ""}, id="no name"),
        pytest.param({"name": "ARCH frame"}, id="a name in other capitals"),
        pytest.param({"name": "Plinth", "carries_grams": 100}, id="a frame with a duty rating"),
        pytest.param({"name": "Plinth", "cleaning_days": 61}, id="never clean"),
        pytest.param({"name": "Plinth", "weight_grams": 0}, id="weighing nothing"),
    ],
)
def test_kit_the_database_refuses(fields):
    KitFactory(name="Arch frame")
    with pytest.raises(IntegrityError), transaction.atomic():
        Kit.objects.create(**fields)


@pytest.mark.parametrize(
    ("kind", "quantity"),
    [
        pytest.param("got", 0, id="got none"),
        pytest.param("got", -1, id="got less than none"),
        pytest.param("broken", 1, id="broken and more for it"),
        pytest.param("lost", 0, id="lost none"),
    ],
)
def test_a_movement_that_goes_the_wrong_way_is_refused_by_the_database(kind, quantity):
    kit, by = KitFactory(), UserFactory()
    with pytest.raises(IntegrityError), transaction.atomic():
        KitMovement.objects.create(kit=kit, kind=kind, quantity=quantity, at=NOON, by=by)


def test_a_movement_of_kit_is_never_edited_and_never_deleted():
    movement = KitFactory().movements.get()
    for act in (movement.save, movement.delete, KitMovement.objects.all().delete):
        with pytest.raises(LedgerRefusal):
            act()
    with pytest.raises(LedgerRefusal):
        KitMovement.objects.update(quantity=9)


@pytest.mark.parametrize("statement", ["UPDATE stock_kitmovement SET quantity = 9", "DELETE FROM stock_kitmovement"])
def test_the_database_itself_refuses_to_change_a_movement_of_kit(statement):
    KitFactory()
    with pytest.raises(Exception, match="never edited"), transaction.atomic(), connection.cursor() as cursor:
        cursor.execute(statement)


# --- how many are owned --------------------------------------------------------------------------------------------


def test_new_kit_is_listed_with_how_many_are_owned(owner, noon):
    kit = actions.add_kit(kit=Kit(name="Base plate"), owned=4, by=owner, at=noon)
    assert owned(kit) == 4


def test_a_count_writes_the_difference(owner, noon):
    kit = KitFactory(owned=4)
    assert actions.count_kit(kit=kit, counted=3, by=owner, at=noon).quantity == -1
    assert owned(kit) == 3


def test_a_count_is_not_less_than_what_is_out(owner, noon):
    kit = KitFactory(owned=2)
    actions.take_kit_out(promises=[promise(kit, owner, quantity=2).pk], by=owner, at=noon)
    with pytest.raises(KitRefusal, match=r"2 or more, for so many are out \(got 1\)"):
        actions.count_kit(kit=kit, counted=1, by=owner, at=noon)


def test_more_of_it_is_got(owner, noon):
    kit = KitFactory(owned=1)
    actions.get_kit(kit=kit, quantity=2, by=owner, at=noon)
    assert owned(kit) == 3


def test_what_is_broken_or_lost_is_owned_no_more(owner, noon):
    kit = KitFactory(owned=5)
    written = actions.write_off_kit(kit=kit, broken=1, lost=2, why="fell off the van", by=owner, at=noon)
    assert [(one.kind, one.quantity) for one in written] == [("broken", -1), ("lost", -2)]
    assert owned(kit) == 2


@pytest.mark.parametrize(
    ("said", "words"),
    [
        pytest.param({"broken": 1, "why": " "}, "Why must be said", id="no reason"),
        pytest.param({"why": "bent"}, r"Written off must be 1 to", id="none of it"),
        pytest.param({"broken": 2, "why": "bent"}, r"at most the 1 at home \(got 2\)", id="more than there are"),
    ],
)
def test_a_write_off_that_makes_no_sense_is_refused(said, words, owner, noon):
    kit = KitFactory(owned=1)
    with pytest.raises(KitRefusal, match=words):
        actions.write_off_kit(kit=kit, by=owner, at=noon, **said)
    assert owned(kit) == 1


# --- promising -----------------------------------------------------------------------------------------------------


def test_the_same_frame_may_be_promised_twice(owner):
    kit = KitFactory(owned=1)
    promise(kit, owner, booking=7)
    promise(kit, owner, booking=8)
    assert kit.promises.standing().count() == 2


def test_a_booking_that_is_promised_again_keeps_its_place(owner):
    kit = KitFactory()
    first = promise(kit, owner, booking=7)
    promise(kit, owner, booking=8)
    again = promise(kit, owner, booking=7, out=11, back=15, quantity=2)
    assert again.pk == first.pk
    assert (again.out_on, again.back_on, again.quantity) == (day(11), day(15), 2)


@pytest.mark.parametrize(
    ("said", "words"),
    [
        pytest.param({"quantity": 0}, r"Quantity must be 1 to 10,000 \(got 0\)", id="none of it"),
        pytest.param({"back": 9}, r"on or after the day it goes out, 2026-06-11 \(got 2026-06-10\)", id="back before"),
        pytest.param({"back": 376}, "within a year", id="for more than a year"),
    ],
)
def test_a_promise_that_makes_no_sense_is_refused(said, words, owner):
    with pytest.raises(KitRefusal, match=words):
        promise(KitFactory(), owner, **said)
    assert not KitPromise.objects.exists()


def test_retired_kit_is_promised_to_nobody(owner, noon):
    kit = KitFactory()
    actions.retire_kit(kit=kit, today=TODAY, by=owner, at=noon)
    with pytest.raises(KitRefusal, match="is retired"):
        promise(kit, owner)
    actions.take_kit_up(kit=kit, by=owner, at=noon)
    assert promise(kit, owner).pk


def test_kit_that_is_promised_is_not_retired(owner, noon):
    kit = KitFactory(name="Arch frame")
    promise(kit, owner)
    with pytest.raises(KitRefusal, match="Arch frame is promised for Winter gala"):
        actions.retire_kit(kit=kit, today=TODAY, by=owner, at=noon)


def test_what_is_let_go_is_free_and_what_is_out_stays_out(owner, noon):
    frame, ladder = KitFactory(), KitFactory()
    promise(frame, owner)
    actions.take_kit_out(promises=[promise(ladder, owner).pk], by=owner, at=noon)
    assert actions.let_kit_go(booking=7, by=owner, at=noon) == 1
    assert [one.kit for one in KitPromise.objects.standing()] == [ladder]


def test_one_kit_of_a_booking_is_let_go(owner, noon):
    frame, ladder = KitFactory(), KitFactory()
    promise(frame, owner)
    promise(ladder, owner)
    actions.let_kit_go(booking=7, kit=frame, by=owner, at=noon)
    assert [one.kit for one in KitPromise.objects.standing()] == [ladder]


def test_a_yes_makes_what_was_promised_firm(owner, noon):
    kit = KitFactory()
    promise(kit, owner, firm=False)
    other = promise(kit, owner, booking=8, firm=False)
    actions.make_kit_firm(booking=7, by=None, at=noon)
    assert list(KitPromise.objects.firm().values_list("booking", flat=True)) == [7]
    assert not other.firm


@pytest.mark.parametrize(
    ("before", "after", "days"),
    [
        pytest.param((10, 12), (17, 19), (17, 19), id="a week later"),
        pytest.param((10, 12), (10, 14), (10, 14), id="the event two days later, prep as it was"),
        pytest.param(None, (17, 19), (10, 12), id="the first day it ever had"),
    ],
)
def test_what_was_promised_moves_with_the_job(before, after, days, owner, noon):
    made = promise(KitFactory(), owner)

    def span(ends):
        return None if ends is None else (day(ends[0]), day(ends[1]))

    actions.move_kit(booking=7, booking_name="Gala", before=span(before), after=span(after), by=owner, at=noon)
    made.refresh_from_db()
    assert (made.out_on, made.back_on, made.booking_name) == (day(days[0]), day(days[1]), "Gala")


def test_days_of_its_own_are_kept_apart_when_the_job_moves(owner, noon):
    made = promise(KitFactory(), owner, out=8, back=15)
    actions.move_kit(
        booking=7, booking_name="Gala", before=(day(10), day(12)), after=(day(17), day(19)), by=owner, at=noon
    )
    made.refresh_from_db()
    assert (made.out_on, made.back_on) == (day(15), day(22))


def test_what_is_out_stays_out_since_the_day_it_went(owner, noon):
    made = promise(KitFactory(), owner, out=0, back=2)
    actions.take_kit_out(promises=[made.pk], by=owner, at=noon)
    actions.move_kit(
        booking=7, booking_name="Gala", before=(day(0), day(2)), after=(day(-5), day(-3)), by=owner, at=noon
    )
    made.refresh_from_db()
    assert (made.out_on, made.back_on) == (day(0), day(0))


def test_what_is_out_can_only_be_kept_for_longer(owner, noon):
    kit = KitFactory(owned=3)
    actions.take_kit_out(promises=[promise(kit, owner).pk], by=owner, at=noon)
    assert promise(kit, owner, back=20).back_on == day(20)
    with pytest.raises(KitRefusal, match="only the day back can change"):
        promise(kit, owner, quantity=2)


# --- out and back --------------------------------------------------------------------------------------------------


def test_kit_goes_out_once_and_comes_back_once(owner, noon):
    made = promise(KitFactory(), owner)
    assert len(actions.take_kit_out(promises=[made.pk], by=owner, at=noon)) == 1
    assert actions.take_kit_out(promises=[made.pk], by=owner, at=LATER) == []
    assert len(actions.bring_kit_back(promises=[made.pk], by=owner, at=LATER)) == 1
    assert actions.bring_kit_back(promises=[made.pk], by=owner, at=LATER) == []
    made.refresh_from_db()
    assert (made.state, made.taken_out_at, made.came_back_at) == ("back", noon, LATER)


def test_what_is_out_cannot_be_taken_out_by_another(owner, noon):
    kit = KitFactory(name="Arch frame", owned=1)
    actions.take_kit_out(promises=[promise(kit, owner, booking=7).pk], by=owner, at=noon)
    other = promise(kit, owner, booking=8, booking_name="Fair")
    with pytest.raises(
        KitRefusal, match=r"Arch frame has 0 at home, and 1 were to go out\. The others are out with Win"
    ):
        actions.take_kit_out(promises=[other.pk], by=owner, at=noon)


def test_the_whole_load_goes_out_or_none_of_it(owner, noon):
    there, missing = KitFactory(), KitFactory(owned=0)
    load = [promise(there, owner).pk, promise(missing, owner).pk]
    with pytest.raises(KitRefusal):
        actions.take_kit_out(promises=load, by=owner, at=noon)
    assert not KitPromise.objects.out().exists()


def test_what_was_let_go_cannot_go_out(owner, noon):
    made = promise(KitFactory(), owner)
    actions.let_kit_go(booking=7, by=owner, at=noon)
    with pytest.raises(KitRefusal, match="it is let go"):
        actions.take_kit_out(promises=[made.pk], by=owner, at=noon)


def test_what_never_went_out_cannot_come_back(owner, noon):
    made = promise(KitFactory(), owner)
    with pytest.raises(KitRefusal, match="it never went out"):
        actions.bring_kit_back(promises=[made.pk], by=owner, at=noon)


def test_what_came_back_broken_is_owned_no_more_and_the_reason_is_kept(owner, noon):
    kit = KitFactory(owned=3)
    made = promise(kit, owner, quantity=3)
    actions.take_kit_out(promises=[made.pk], by=owner, at=noon)
    actions.bring_kit_back(promises=[made.pk], broken=1, lost=1, damage="wind took it", by=owner, at=LATER)
    assert owned(kit) == 1
    assert {(one.kind, one.why) for one in made.movements.all()} == {
        ("broken", "wind took it"),
        ("lost", "wind took it"),
    }


def test_kit_that_came_back_broken_without_a_word_names_the_booking_and_nobody(owner, noon):
    made = promise(KitFactory(owned=3), owner, booking=12, booking_name="Ines Aldana")
    actions.take_kit_out(promises=[made.pk], by=owner, at=noon)
    actions.bring_kit_back(promises=[made.pk], broken=1, by=owner, at=LATER)
    assert made.movements.get().why == "Booking 12"


def test_no_more_comes_back_broken_than_went_out(owner, noon):
    kit = KitFactory(owned=3)
    made = promise(kit, owner, quantity=1)
    actions.take_kit_out(promises=[made.pk], by=owner, at=noon)
    with pytest.raises(KitRefusal, match=r"at most the 1 that went out \(got 2\)"):
        actions.bring_kit_back(promises=[made.pk], broken=2, by=owner, at=LATER)
    made.refresh_from_db()
    assert made.state == "out"


def test_damage_is_said_of_one_kit_at_a_time(owner, noon):
    both = [promise(KitFactory(), owner).pk, promise(KitFactory(), owner).pk]
    actions.take_kit_out(promises=both, by=owner, at=noon)
    with pytest.raises(KitRefusal, match="one kit at a time"):
        actions.bring_kit_back(promises=both, damage="bent", by=owner, at=LATER)


def test_kit_is_locked_in_the_order_of_its_keys_whoever_asks(django_assert_num_queries):
    first, second = KitFactory(), KitFactory()
    with django_assert_num_queries(1):
        assert list(actions.lock_kit([second.pk, first.pk, second.pk])) == [first.pk, second.pk]
