"""What is on the shelf, taken and counted and brought home."""

from collections.abc import Callable

from stock import actions as stock
from stock.models import Item
from tests.races.scenes.ground import Done, have, next_job, stocked
from tests.races.schedules import Scene


def two_take_the_last(done: Done) -> Scene:
    items = stocked(done, 10)
    take = lambda: stock.use(item=items[0], quantity=7, **done.said)  # noqa: E731
    return Scene(take, take, lambda: have(items))


def two_jobs_take_two_items(done: Done) -> Scene:
    """Each needs both; there is enough of both for one."""
    items = stocked(done, 10, 10)
    jobs = [next_job(), next_job()]

    def load(job: int, order: list[Item]) -> Callable[[], object]:
        takings = [stock.Taking(item.pk, None, 6) for item in order]
        return lambda: stock.issue(booking=job, takings=takings, **done.said)

    return Scene(load(jobs[0], items), load(jobs[1], items[::-1]), lambda: have(items))


def one_counts_while_another_takes(done: Done) -> Scene:
    items = stocked(done, 10)
    return Scene(
        lambda: stock.count(item=items[0], counted=4, **done.said),
        lambda: stock.use(item=items[0], quantity=7, **done.said),
        lambda: have(items),
    )


def more_comes_home_than_went(done: Done) -> Scene:
    items, job = stocked(done, 10), next_job()
    stock.use(item=items[0], quantity=6, booking=job, **done.said)
    bring = lambda: stock.bring_home(booking=job, home={items[0].pk: 4}, **done.said)  # noqa: E731
    return Scene(bring, bring, lambda: have(items))


SCENES = [
    two_take_the_last,
    two_jobs_take_two_items,
    one_counts_while_another_takes,
    more_comes_home_than_went,
]
