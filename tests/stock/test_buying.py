"""The cheapest order that arrives in time: cases done by hand, and what is refused."""

import datetime as dt
import subprocess
import sys

import pytest

from stock.buying import BuyingError, Draft, NoPlan, Pack, Terms, Want, cheapest_plan, problem_of

TODAY = dt.date(2026, 6, 1)
BLACK, WHITE, GOLD = 1, 2, 3
QUAY, NORTH = 1, 2


def day(ahead: int) -> dt.date:
    return TODAY + dt.timedelta(days=ahead)


def plan(wants, packs, terms=None, **fixed):
    return cheapest_plan(problem_of(wants, packs, terms or {}, today=TODAY, **fixed))


def bought(found) -> dict[int, int]:
    """How many of each pack, whichever order they are on."""
    packs: dict[int, int] = {}
    for order in found.orders:
        for line in order.lines:
            packs[line.pack.key] = packs.get(line.pack.key, 0) + line.packs
    return packs


def test_nothing_wanted_is_no_order():
    found = plan([], [Pack(1, QUAY, BLACK, 100, 1450, 5)])
    assert (found.orders, found.cost_minor, found.is_proven) == ((), 0, True)


def test_one_delivery_is_cheaper_than_two_bargains():
    packs = [
        Pack(1, QUAY, BLACK, 100, 1450, 5),
        Pack(2, QUAY, WHITE, 100, 1450, 5),
        Pack(3, NORTH, BLACK, 100, 1300, 5),
        Pack(4, NORTH, WHITE, 100, 1800, 5),
    ]
    terms = {QUAY: Terms(900), NORTH: Terms(900)}
    found = plan([Want(BLACK, 80, day(9)), Want(WHITE, 80, day(9))], packs, terms)
    assert bought(found) == {1: 1, 2: 1}
    assert (found.cost_minor, found.alone_minor, found.saves_minor) == (3800, 4550, 750)


def test_an_order_is_raised_to_free_delivery_where_that_is_cheaper():
    packs = [Pack(1, QUAY, BLACK, 50, 900, 5), Pack(2, QUAY, BLACK, 100, 1600, 5)]
    terms = {QUAY: Terms(800, free_from_minor=1500)}
    found = plan([Want(BLACK, 40, day(9))], packs, terms)
    assert (bought(found), found.cost_minor) == ({2: 1}, 1600)
    assert found.orders[0].delivery_minor == 0


def test_packs_nobody_needs_are_bought_where_they_save_the_delivery():
    packs = [Pack(1, QUAY, BLACK, 50, 900, 5), Pack(2, QUAY, WHITE, 10, 100, 5)]
    terms = {QUAY: Terms(500, free_from_minor=1100)}
    found = plan([Want(BLACK, 40, day(9)), Want(WHITE, 5, day(9))], packs, terms)
    assert (bought(found), found.cost_minor) == ({1: 1, 2: 2}, 1100)


def test_paying_for_delivery_is_left_where_free_delivery_costs_more():
    terms = {QUAY: Terms(800, free_from_minor=5000)}
    found = plan([Want(BLACK, 40, day(9))], [Pack(1, QUAY, BLACK, 50, 900, 5)], terms)
    assert (bought(found), found.cost_minor, found.orders[0].delivery_minor) == ({1: 1}, 1700, 800)


def test_a_least_order_is_reached_or_left_alone():
    packs = [Pack(1, QUAY, BLACK, 100, 1000, 5), Pack(2, NORTH, BLACK, 100, 1900, 5)]
    assert bought(plan([Want(BLACK, 60, day(9))], packs, {QUAY: Terms(minimum_minor=3000)})) == {2: 1}
    assert bought(plan([Want(BLACK, 60, day(9))], packs[:1], {QUAY: Terms(minimum_minor=3000)})) == {1: 3}


@pytest.mark.parametrize(
    ("packs", "quantity", "expected"),
    [
        pytest.param([(1, 100, 2000), (2, 50, 1000)], 100, {1: 1}, id="fewer packs"),
        pytest.param([(1, 120, 2000), (2, 100, 2000)], 90, {2: 1}, id="as many packs, fewer left over"),
        pytest.param([(1, 60, 1000), (2, 50, 1000), (3, 70, 1500)], 110, {1: 1, 2: 1}, id="two of a price"),
    ],
)
def test_plans_that_cost_the_same_are_told_apart(packs, quantity, expected):
    found = plan([Want(BLACK, quantity, None)], [Pack(key, QUAY, BLACK, size, price, 1) for key, size, price in packs])
    assert bought(found) == expected
    assert found.ties_are_settled


def test_what_cannot_arrive_is_said_and_the_rest_is_bought():
    packs = [Pack(1, QUAY, BLACK, 100, 1450, 5), Pack(2, QUAY, WHITE, 100, 1450, 2)]
    found = plan([Want(BLACK, 56, day(4)), Want(WHITE, 10, day(4)), Want(GOLD, 7, day(4))], packs)
    assert bought(found) == {2: 1}
    assert found.missing == ((BLACK, 56, day(4), day(5)), (GOLD, 7, day(4), None))


def test_what_is_needed_later_is_bought_though_the_first_need_cannot_be_met():
    found = plan([Want(BLACK, 56, day(4)), Want(BLACK, 30, day(20))], [Pack(1, QUAY, BLACK, 25, 400, 5)])
    assert bought(found) == {1: 2}
    assert [(gone.quantity, gone.by) for gone in found.missing] == [(56, day(4))]


def test_a_need_of_yesterday_cannot_be_met():
    found = plan([Want(BLACK, 5, day(-1))], [Pack(1, QUAY, BLACK, 25, 400, 0)])
    assert (found.orders, len(found.missing)) == ((), 1)


def test_the_dear_quick_pack_is_bought_only_for_what_cannot_wait():
    packs = [Pack(1, QUAY, BLACK, 10, 500, 1), Pack(2, NORTH, BLACK, 100, 1000, 9)]
    found = plan([Want(BLACK, 8, day(2)), Want(BLACK, 90, day(20))], packs)
    assert bought(found) == {1: 1, 2: 1}


def test_a_slow_line_does_not_hold_up_one_that_is_needed_sooner():
    """An order arrives when its slowest line does, so these are two."""
    packs = [Pack(1, QUAY, BLACK, 100, 1450, 5), Pack(2, QUAY, WHITE, 100, 1450, 9)]
    found = plan([Want(BLACK, 56, day(6)), Want(WHITE, 10, day(20))], packs, {QUAY: Terms(700)})
    assert [(order.arrives_on, order.delivery_minor) for order in found.orders] == [(day(5), 700), (day(9), 700)]


def test_lines_that_can_wait_share_one_delivery():
    packs = [Pack(1, QUAY, BLACK, 100, 1450, 5), Pack(2, QUAY, WHITE, 100, 1450, 9)]
    found = plan([Want(BLACK, 56, day(12)), Want(WHITE, 10, day(20))], packs, {QUAY: Terms(700)})
    assert [(order.arrives_on, order.delivery_minor) for order in found.orders] == [(day(9), 700)]


def test_fixed_packs_are_bought_and_the_rest_made_cheapest_round_them():
    packs = [Pack(1, QUAY, BLACK, 100, 1450, 5), Pack(2, NORTH, BLACK, 50, 800, 5)]
    assert bought(plan([Want(BLACK, 120, None)], packs, pins={2: 1})) == {1: 1, 2: 1}
    assert bought(plan([Want(BLACK, 120, None)], packs, pins={1: 5})) == {1: 5}


@pytest.mark.parametrize("kept_out", [{"forbids": {1}}, {"pins": {1: 0}}])
def test_what_is_left_out_is_not_bought(kept_out):
    packs = [Pack(1, QUAY, BLACK, 100, 1450, 5), Pack(2, NORTH, BLACK, 50, 1800, 5)]
    assert bought(plan([Want(BLACK, 40, None)], packs, **kept_out)) == {2: 1}


def test_with_every_pack_left_out_it_cannot_arrive():
    found = plan([Want(BLACK, 40, day(9))], [Pack(1, QUAY, BLACK, 100, 1450, 5)], forbids={1})
    assert found.missing == ((BLACK, 40, day(9), None),)


def test_a_plan_that_cannot_be_says_what_to_do():
    packs = [Pack(1, QUAY, BLACK, 100, 1450, 5)]
    with pytest.raises(NoPlan, match="Free one of them and solve again"):
        plan([Want(BLACK, 40, None)], packs, {QUAY: Terms(minimum_minor=5000)}, pins={1: 1})


@pytest.mark.parametrize(
    ("make", "sentence"),
    [
        pytest.param(lambda: Pack(1, QUAY, BLACK, 0, 100, 1), r"A pack must hold 1 to 1,000,000 \(got 0\)", id="empty"),
        pytest.param(lambda: Pack(1, QUAY, BLACK, 1, -1, 1), r"A price must be 0 or more \(got -1\)", id="price"),
        pytest.param(lambda: Pack(1, QUAY, BLACK, 1, 1, -1), r"Lead days must be 0 or more \(got -1\)", id="lead"),
        pytest.param(lambda: Want(BLACK, 0, None), r"Quantity must be 1 to 1,000,000 \(got 0\)", id="quantity"),
        pytest.param(lambda: Terms(delivery_minor=-1), r"Delivery must be 0 or more \(got -1\)", id="delivery"),
        pytest.param(lambda: Terms(minimum_minor=-1), r"The least order must be 0 or more \(got -1\)", id="least"),
        pytest.param(lambda: Terms(free_from_minor=-1), r"Free delivery must be from 0 or more \(got -1\)", id="free"),
    ],
)
def test_a_figure_nothing_can_be_reckoned_with_is_refused(make, sentence):
    with pytest.raises(BuyingError, match=sentence):
        make()


@pytest.mark.parametrize("pins", [{7: 1}, {1: 10_001}, {1: -1}])
def test_a_pin_that_cannot_be_is_refused(pins):
    with pytest.raises(BuyingError):
        plan([Want(BLACK, 40, None)], [Pack(1, QUAY, BLACK, 100, 1450, 5)], pins=pins)


QUAY_TERMS = {QUAY: Terms(900, free_from_minor=5000, minimum_minor=2000)}


@pytest.mark.parametrize(
    ("draft", "packs", "delivery", "joins"),
    [
        pytest.param(None, 2, 900, False, id="by itself it is lifted to the least order"),
        pytest.param(Draft(1000), 1, 0, True, id="the draft's lines count towards the least order"),
        pytest.param(Draft(4000), 1, -900, True, id="together they are brought for nothing"),
        pytest.param(Draft(6000), 1, 0, True, id="the draft is brought for nothing anyway"),
        pytest.param(Draft(4000, days=9), 1, -900, True, id="it comes when the draft does, where that is in time"),
        pytest.param(Draft(4000, days=10), 2, 900, False, id="a draft that comes too late is not joined"),
    ],
)
def test_what_joins_a_draft_is_reckoned_with_it(draft, packs, delivery, joins):
    wants = [Want(BLACK, 60, day(9))]
    drafts = {} if draft is None else {QUAY: draft}
    found = plan(wants, [Pack(1, QUAY, BLACK, 100, 1450, 5)], QUAY_TERMS, drafts=drafts)
    (order,) = found.orders
    assert (bought(found), order.delivery_minor, order.joins) == ({1: packs}, delivery, joins)
    assert order.arrives_on == day(max(5, draft.days) if joins and draft else 5)


def test_where_a_draft_stands_it_is_cheaper_to_buy_there_too():
    packs = [Pack(1, QUAY, BLACK, 100, 1500, 5), Pack(2, NORTH, BLACK, 100, 1300, 5)]
    terms = {QUAY: Terms(900), NORTH: Terms(900)}
    wants = [Want(BLACK, 60, day(9))]
    assert bought(plan(wants, packs, terms)) == {2: 1}
    assert bought(plan(wants, packs, terms, drafts={QUAY: Draft(3000)})) == {1: 1}


def test_what_cannot_wait_for_the_draft_comes_by_itself_and_the_rest_joins():
    packs = [Pack(1, QUAY, BLACK, 100, 1450, 2), Pack(2, QUAY, WHITE, 100, 1450, 2)]
    wants = [Want(BLACK, 60, day(3)), Want(WHITE, 60, day(20))]
    found = plan(wants, packs, {QUAY: Terms(900, free_from_minor=4400)}, drafts={QUAY: Draft(3000, days=8)})
    assert [(order.joins, order.arrives_on, order.delivery_minor) for order in found.orders] == [
        (False, day(2), 900),
        (True, day(8), -900),
    ]


@pytest.mark.parametrize("days", [0, 5, 6])
def test_with_nothing_asked_for_an_order_the_draft_is_joined_where_it_is_no_later(days):
    found = plan([Want(BLACK, 60, day(9))], [Pack(1, QUAY, BLACK, 100, 1450, 5)], drafts={QUAY: Draft(100, days)})
    assert [order.joins for order in found.orders] == [days <= 5]


@pytest.mark.parametrize("figures", [(-1, 0), (0, -1)])
def test_a_draft_of_less_than_nothing_is_refused(figures):
    with pytest.raises(BuyingError, match="A draft must be of 0 or more"):
        Draft(*figures)


def test_the_solver_is_loaded_when_it_is_needed_and_writes_nothing():
    code = """
import sys, datetime as dt
from stock.buying import *
assert not any(name.startswith("highspy") for name in sys.modules)
problem = problem_of([Want(1, 60, None)], [Pack(1, 1, 1, 50, 900, 1)], {}, today=dt.date(2026, 6, 1))
assert cheapest_plan(problem).cost_minor == 1800
assert "highspy" in sys.modules
"""
    answer = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=60)
    assert (answer.returncode, answer.stdout, answer.stderr) == (0, "", "")
