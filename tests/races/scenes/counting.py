"""The count sheet. There is one at a time, so that each scene throws away what another left open."""

from collections.abc import Callable

from stock import actions as stock
from stock.models import CountLine, CountSheet, Item
from tests.races.scenes.ground import Done, have, stocked
from tests.races.schedules import Scene


def a_sheet(done: Done, items: list[Item]) -> CountSheet:
    for old in CountSheet.objects.filter(is_open=True):
        stock.drop_count(sheet=old, **done.said)
    for item in items:
        stock.write_count(item=item, counted=8, **done.said)
    return CountSheet.objects.get(is_open=True)


def of_the_count(items: list[Item]) -> Callable[[], object]:
    def seen() -> object:
        lines = CountLine.objects.filter(item__in=items).order_by("item").values_list("counted", "sheet__is_open")
        return have(items), list(lines)

    return seen


def a_line_is_counted_while_the_count_is_finished(done: Done) -> Scene:
    items = stocked(done, 10, 10)
    sheet = a_sheet(done, items[:1])
    return Scene(
        lambda: stock.write_count(item=items[1], counted=7, **done.said),
        lambda: stock.finish_count(sheet=sheet, **done.said),
        of_the_count(items),
    )


def a_line_is_counted_again_while_the_count_is_finished(done: Done) -> Scene:
    items = stocked(done, 10)
    sheet = a_sheet(done, items)
    return Scene(
        lambda: stock.write_count(item=items[0], counted=7, **done.said),
        lambda: stock.finish_count(sheet=sheet, **done.said),
        of_the_count(items),
    )


def a_line_is_taken_off_while_the_count_is_finished(done: Done) -> Scene:
    items = stocked(done, 10, 10)
    sheet = a_sheet(done, items)
    return Scene(
        lambda: stock.take_off_count(item=items[0], **done.said),
        lambda: stock.finish_count(sheet=sheet, **done.said),
        of_the_count(items),
    )


def a_line_is_counted_while_the_count_is_thrown_away(done: Done) -> Scene:
    items = stocked(done, 10, 10)
    sheet = a_sheet(done, items[:1])
    return Scene(
        lambda: stock.write_count(item=items[1], counted=7, **done.said),
        lambda: stock.drop_count(sheet=sheet, **done.said),
        of_the_count(items),
    )


def what_was_counted_is_taken_while_the_count_is_finished(done: Done) -> Scene:
    items = stocked(done, 10)
    sheet = a_sheet(done, items)
    return Scene(
        lambda: stock.use(item=items[0], quantity=9, **done.said),
        lambda: stock.finish_count(sheet=sheet, **done.said),
        of_the_count(items),
    )


def a_count_is_explained_while_it_is_written_again(done: Done) -> Scene:
    items = stocked(done, 10)
    a_sheet(done, items)
    return Scene(
        lambda: stock.explain_count(item=items[0], why="popped", **done.said),
        lambda: stock.write_count(item=items[0], counted=7, **done.said),
        lambda: list(CountLine.objects.filter(item=items[0]).values_list("counted", "why")),
    )


def a_count_is_explained_while_it_is_finished(done: Done) -> Scene:
    items = stocked(done, 10)
    sheet = a_sheet(done, items)
    return Scene(
        lambda: stock.explain_count(item=items[0], why="popped", **done.said),
        lambda: stock.finish_count(sheet=sheet, **done.said),
        of_the_count(items),
    )


def two_begin_to_count(done: Done) -> Scene:
    items = stocked(done, 10, 10)
    stock.drop_count(sheet=a_sheet(done, items[:1]), **done.said)
    count = lambda item: lambda: stock.write_count(item=item, counted=7, **done.said)  # noqa: E731
    return Scene(count(items[0]), count(items[1]), of_the_count(items))


SCENES = [
    a_line_is_counted_while_the_count_is_finished,
    a_line_is_counted_again_while_the_count_is_finished,
    a_line_is_taken_off_while_the_count_is_finished,
    a_line_is_counted_while_the_count_is_thrown_away,
    what_was_counted_is_taken_while_the_count_is_finished,
    a_count_is_explained_while_it_is_written_again,
    a_count_is_explained_while_it_is_finished,
    two_begin_to_count,
]
