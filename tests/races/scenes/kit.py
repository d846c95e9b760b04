"""Kit, while it goes out and comes back."""

import datetime as dt
from collections.abc import Callable
from typing import Any

from stock import actions as stock
from stock.models import KitMovement, KitPromise
from tests.factories import (
    TODAY,
    KitFactory,
    KitPromiseFactory,
)
from tests.races.scenes.ground import SOON, Done, next_job
from tests.races.schedules import Scene


def of_the_kit(*kit: Any) -> Callable[[], object]:
    def seen() -> object:
        promises = KitPromise.objects.filter(kit__in=kit).order_by("kit", "booking")
        owned = KitMovement.objects.filter(kit__in=kit).values_list("quantity", flat=True)
        return sum(owned), [(one.state, one.quantity, one.out_on, one.firm) for one in promises]

    return seen


def promise(done: Done, kit: Any, job: int, *, firm: bool = True, quantity: int = 1) -> Callable[[], object]:
    return lambda: stock.promise_kit(
        kit=kit,
        quantity=quantity,
        out_on=SOON,
        back_on=SOON,
        booking=job,
        booking_name="A job",
        firm=firm,
        **done.said,
    )


def a_frame_is_promised_while_it_is_retired(done: Done) -> Scene:
    frame = KitFactory()
    return Scene(
        promise(done, frame, next_job()),
        lambda: stock.retire_kit(kit=frame, today=TODAY, **done.said),
        lambda: (of_the_kit(frame)(), type(frame).objects.get(pk=frame.pk).retired_at is None),
    )


def two_jobs_take_the_last_frame(done: Done) -> Scene:
    frame = KitFactory(owned=1)
    promises = [KitPromiseFactory(kit=frame, made_by=done.by, booking=next_job()).pk for _ in range(2)]
    take = lambda key: lambda: stock.take_kit_out(promises=[key], **done.said)  # noqa: E731
    return Scene(take(promises[0]), take(promises[1]), of_the_kit(frame))


def a_frame_goes_out_while_it_is_let_go(done: Done) -> Scene:
    frame, job = KitFactory(owned=1), next_job()
    key = KitPromiseFactory(kit=frame, made_by=done.by, booking=job).pk
    return Scene(
        lambda: stock.take_kit_out(promises=[key], **done.said),
        lambda: stock.let_kit_go(booking=job, **done.said),
        of_the_kit(frame),
    )


def a_frame_goes_out_while_it_is_written_off(done: Done) -> Scene:
    frame = KitFactory(owned=1)
    key = KitPromiseFactory(kit=frame, made_by=done.by, booking=next_job()).pk
    return Scene(
        lambda: stock.take_kit_out(promises=[key], **done.said),
        lambda: stock.write_off_kit(kit=frame, broken=1, why="bent", **done.said),
        of_the_kit(frame),
    )


def a_frame_comes_back_while_frames_are_counted(done: Done) -> Scene:
    frame = KitFactory(owned=3)
    key = KitPromiseFactory(kit=frame, made_by=done.by, booking=next_job(), quantity=2).pk
    stock.take_kit_out(promises=[key], **done.said)
    return Scene(
        lambda: stock.bring_kit_back(promises=[key], broken=1, **done.said),
        lambda: stock.count_kit(kit=frame, counted=1, **done.said),
        of_the_kit(frame),
    )


def a_frame_is_moved_while_it_goes_out(done: Done) -> Scene:
    frame, job = KitFactory(owned=1), next_job()
    key = KitPromiseFactory(kit=frame, made_by=done.by, booking=job, out_on=SOON, back_on=SOON).pk
    later = SOON + dt.timedelta(days=2)
    return Scene(
        lambda: stock.take_kit_out(promises=[key], **done.said),
        lambda: stock.move_kit(
            booking=job, booking_name="A job", before=(SOON, SOON), after=(later, later), **done.said
        ),
        of_the_kit(frame),
    )


def a_promise_of_kit_is_made_firm_while_it_is_changed(done: Done) -> Scene:
    plates, job = KitFactory(owned=5), next_job()
    KitPromiseFactory(kit=plates, made_by=done.by, booking=job, firm=False)
    return Scene(
        promise(done, plates, job, firm=False, quantity=3),
        lambda: stock.make_kit_firm(booking=job, **done.said),
        of_the_kit(plates),
    )


SCENES = [
    a_frame_is_promised_while_it_is_retired,
    two_jobs_take_the_last_frame,
    a_frame_goes_out_while_it_is_let_go,
    a_frame_goes_out_while_it_is_written_off,
    a_frame_comes_back_while_frames_are_counted,
    a_frame_is_moved_while_it_goes_out,
    a_promise_of_kit_is_made_firm_while_it_is_changed,
]
