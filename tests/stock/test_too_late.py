"""What would cost less, were there time: cases done by hand, and every plan against each late pack by itself."""

import datetime as dt

from hypothesis import given, settings
from hypothesis import strategies as st

from stock.buying import CheaperLater, Pack, Want, cheaper_later, cheapest_plan, problem_of

TODAY = dt.date(2026, 6, 1)
BLACK, WHITE = 1, 2
QUAY, FAR = 1, 2


def day(ahead: int) -> dt.date:
    return TODAY + dt.timedelta(days=ahead)


def later(wants: list[Want], packs: list[Pack], pins: dict[int, int] | None = None) -> dict[int, CheaperLater]:
    problem = problem_of(wants, packs, {}, today=TODAY, pins=pins)
    return cheaper_later(problem, cheapest_plan(problem), packs)


def test_a_pack_that_costs_less_and_comes_too_late_is_said_with_its_day():
    near, far = Pack(1, QUAY, BLACK, 100, 1450, 3), Pack(2, FAR, BLACK, 100, 900, 20)
    assert later([Want(BLACK, 60, day(9))], [near, far]) == {BLACK: CheaperLater(far, 550, day(20))}


def test_what_is_wanted_is_reckoned_in_whole_packs_of_the_late_one():
    near, far = Pack(1, QUAY, BLACK, 50, 1000, 3), Pack(2, FAR, BLACK, 20, 300, 20)
    # Three packs of 20 for 60 that are wanted, against two of 50.
    assert later([Want(BLACK, 60, day(9))], [near, far])[BLACK].less_minor == 2000 - 900


def test_a_late_pack_that_costs_no_less_is_not_said():
    near, far = Pack(1, QUAY, BLACK, 100, 1450, 3), Pack(2, FAR, BLACK, 50, 725, 20)
    assert later([Want(BLACK, 60, day(9))], [near, far]) == {}


def test_a_cheaper_pack_that_comes_in_time_is_the_plan_itself():
    near, far = Pack(1, QUAY, BLACK, 100, 1450, 3), Pack(2, FAR, BLACK, 100, 900, 9)
    assert later([Want(BLACK, 60, day(9))], [near, far]) == {}


def test_of_late_packs_that_cost_the_same_it_is_the_soonest():
    near = Pack(1, QUAY, BLACK, 100, 1450, 3)
    far, farther = Pack(3, FAR, BLACK, 100, 900, 15), Pack(2, FAR, BLACK, 100, 900, 20)
    assert later([Want(BLACK, 60, day(9))], [near, farther, far])[BLACK].pack == far


def test_an_item_nothing_is_bought_of_has_none():
    assert later([Want(BLACK, 60, day(9))], [Pack(2, FAR, BLACK, 100, 900, 20)]) == {}


def test_how_many_packs_somebody_wants_is_nothing_to_be_cheaper_than():
    near, far = Pack(1, QUAY, BLACK, 100, 1450, 3), Pack(2, FAR, BLACK, 100, 900, 20)
    assert later([Want(BLACK, 60, day(9))], [near, far], pins={1: 4}) == {}


PACKS = st.lists(
    st.tuples(st.sampled_from([BLACK, WHITE]), st.integers(1, 60), st.integers(1, 3000), st.integers(0, 14)),
    min_size=1,
    max_size=5,
)


@settings(max_examples=40)
@given(PACKS, st.integers(1, 120), st.integers(1, 120))
def test_no_late_pack_is_cheaper_than_the_one_that_is_said(offered, black, white):
    packs = [Pack(n, QUAY, *facts) for n, facts in enumerate(offered)]
    wants = {BLACK: Want(BLACK, black, day(7)), WHITE: Want(WHITE, white, day(7))}
    problem = problem_of(wants.values(), packs, {}, today=TODAY)
    plan = cheapest_plan(problem)
    said = cheaper_later(problem, plan, packs)
    for item, want in wants.items():
        paid = sum(line.cost_minor for order in plan.orders for line in order.lines if line.pack.item == item)
        late = [
            -(-want.quantity // pack.size) * pack.price_minor
            for pack in packs
            if pack.item == item and pack.lead_days > 7
        ]
        if paid and late and min(late) < paid:
            assert said[item].less_minor == paid - min(late)
        else:
            assert item not in said
