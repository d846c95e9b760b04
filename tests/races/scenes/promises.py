"""What jobs are promised, while it is swapped, moved, taken and let go."""

from collections.abc import Callable

from stock import actions as stock
from stock.models import Item
from tests.factories import (
    TODAY,
)
from tests.races.scenes.ground import Done, have, held, hold, next_job, stocked
from tests.races.schedules import Scene


def a_job_is_promised_two_things_at_once(done: Done) -> Scene:
    items, job = stocked(done, 50, 50), next_job()
    return Scene(
        lambda: hold(done, job, {items[0]: 10, items[1]: 10}),
        lambda: hold(done, job, {items[1]: 25, items[0]: 25}),
        lambda: held(job, items),
    )


def a_promise_is_made_while_it_is_let_go(done: Done) -> Scene:
    items, job = stocked(done, 50, 50), next_job()
    hold(done, job, {items[0]: 10})
    return Scene(
        lambda: hold(done, job, {items[0]: 15, items[1]: 5}),
        lambda: stock.release(booking=job, **done.said),
        lambda: held(job, items),
    )


def a_promise_is_moved_while_it_is_taken(done: Done) -> Scene:
    items, job = stocked(done, 50), next_job()
    hold(done, job, {items[0]: 10})
    return Scene(
        lambda: stock.issue(booking=job, takings=[stock.Taking(items[0].pk, None, 6)], **done.said),
        lambda: stock.move(booking=job, needed_on=TODAY, **done.said),
        lambda: (held(job, items), have(items)),
    )


def swap(done: Done, job: int, wanted: Item, instead: Item) -> Callable[[], object]:
    return lambda: stock.swap(
        booking=job,
        booking_name="A job",
        give_up=wanted.pk,
        take=instead.pk,
        quantity=6,
        today=TODAY,
        **done.said,
    )


def two_swaps_want_what_is_free(done: Done) -> Scene:
    """Each gives up another item and takes six of the ten that are free."""
    items, jobs = stocked(done, 0, 0, 10), [next_job(), next_job()]
    for job, item in zip(jobs, items, strict=False):
        hold(done, job, {item: 6})
    return Scene(
        swap(done, jobs[0], items[0], items[2]),
        swap(done, jobs[1], items[1], items[2]),
        lambda: [held(job, items) for job in jobs],
    )


def a_swap_wants_what_another_is_promised(done: Done) -> Scene:
    items, jobs = stocked(done, 0, 10), [next_job(), next_job()]
    hold(done, jobs[0], {items[0]: 6})
    return Scene(
        swap(done, jobs[0], items[0], items[1]),
        lambda: hold(done, jobs[1], {items[1]: 6}),
        lambda: [held(job, items) for job in jobs],
    )


SCENES = [
    a_job_is_promised_two_things_at_once,
    a_promise_is_made_while_it_is_let_go,
    a_promise_is_moved_while_it_is_taken,
    two_swaps_want_what_is_free,
    a_swap_wants_what_another_is_promised,
]
