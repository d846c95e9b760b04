"""Many hands on one frame: it goes out once, comes back once, and is promised to a job once."""

import datetime as dt

from stock import actions
from stock.models import KitMovement, KitPromise
from tests.factories import NOON, TODAY, KitFactory, KitPromiseFactory

LATER = NOON + dt.timedelta(hours=3)
HANDS = 12


def test_one_frame_goes_out_with_one_job_however_many_want_it(by, together):
    frame = KitFactory(owned=2)
    wanted = [KitPromiseFactory(kit=frame, made_by=by).pk for _ in range(HANDS)]
    answers = together([lambda key=key: actions.take_kit_out(promises=[key], by=by, at=NOON) for key in wanted])
    refused = [answer for answer in answers if isinstance(answer, actions.KitRefusal)]
    assert (len(refused), KitPromise.objects.out().filter(kit=frame).count()) == (HANDS - 2, 2), answers


def test_what_comes_back_broken_is_written_off_once_however_often_it_is_said(by, together):
    plates = KitFactory(owned=9)
    held = KitPromiseFactory(kit=plates, quantity=3, made_by=by)
    actions.take_kit_out(promises=[held.pk], by=by, at=NOON)
    answers = together([lambda: actions.bring_kit_back(promises=[held.pk], broken=1, by=by, at=LATER)] * HANDS)
    assert [answer for answer in answers if isinstance(answer, Exception)] == []
    assert KitMovement.objects.filter(kit=plates, kind="broken").count() == 1


def test_a_job_is_promised_a_kit_once_however_often_it_is_asked(by, together):
    frame = KitFactory()

    def ask():
        return actions.promise_kit(
            kit=frame,
            quantity=1,
            out_on=TODAY,
            back_on=TODAY,
            booking=70,
            booking_name="Gala",
            firm=True,
            by=by,
            at=NOON,
        )

    answers = together([ask] * HANDS)
    assert [answer for answer in answers if isinstance(answer, Exception)] == []
    assert KitPromise.objects.standing().filter(kit=frame).count() == 1


def test_the_same_two_kits_taken_in_two_orders_end(by, together):
    one, two = KitFactory(owned=HANDS), KitFactory(owned=HANDS)
    pairs = [[KitPromiseFactory(kit=kit, made_by=by).pk for kit in (one, two)] for _ in range(HANDS // 2)]
    loads = [pair if n % 2 else pair[::-1] for n, pair in enumerate(pairs)]
    answers = together([lambda load=load: actions.take_kit_out(promises=load, by=by, at=NOON) for load in loads])
    assert [answer for answer in answers if isinstance(answer, Exception)] == []
    assert KitPromise.objects.out().filter(kit=two).count() == HANDS // 2
