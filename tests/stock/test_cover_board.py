"""The weekly check over the whole shelf: figures, order, what to buy, and how many statements it takes."""

import datetime as dt

import pytest
from django.db import transaction
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from stock.cover import Arrival, Need, cover
from stock.queries import board_facts, cover_board, day_words, free_on
from tests.factories import (
    NOON,
    TODAY,
    ColourFactory,
    ItemFactory,
    MovementFactory,
    OfferFactory,
    OrderFactory,
    OrderLineFactory,
    ReservationFactory,
    SupplierFactory,
)

pytestmark = pytest.mark.django_db


def day(after: int) -> dt.date:
    return TODAY + dt.timedelta(days=after)


def black_11(on_hand: int = 128, **item):
    return MovementFactory(item=ItemFactory(colour=ColourFactory(name="Black"), **item), quantity=on_hand).item


def hold(item, after: int, quantity: int, **changed):
    return ReservationFactory(item=item, needed_on=day(after), quantity=quantity, **changed)


def only_row(**asked):
    (row,) = cover_board(TODAY, **asked).rows
    return row


# Black 11-inch, 128 on the shelf: the ferry office takes 44 on Friday, the gala 140 on the Friday after, the ball
# 40 three weeks on.
#
#   day      0     4     11    25
#   holds   128    84   −56   −96
@pytest.fixture
def gala():
    """An item that covers one job and not the next."""
    item = black_11()
    hold(item, 4, 44, booking=1, booking_name="Ferry office")
    hold(item, 11, 140, booking=2, booking_name="Film gala")
    hold(item, 25, 40, booking=3, booking_name="Harbour ball")
    return item


def test_the_board_says_when_by_how_many_and_whom(gala):
    row = only_row()
    assert (row.is_short, row.short_on, row.cover.short_by, row.headline) == (True, day(11), 96, "runs short by 56")
    assert [(hit.name, hit.short) for hit in row.cover.hit] == [("Film gala", 56), ("Harbour ball", 40)]
    assert (row.cover.on_hand, row.needed) == (128, 184)


def test_each_week_shows_the_least_held_in_it(gala):
    assert only_row().weekly == (84, -56, -56, -96, -96, -96, -96, -96)


def test_a_week_below_nothing_is_marked_short(gala):
    board = cover_board(TODAY, weeks=3)
    cells = board.rows[0].cells(board.mondays)
    assert [(cell.monday, cell.balance, cell.is_short) for cell in cells] == [
        (day(0), 84, False),
        (day(7), -56, True),
        (day(14), -56, True),
    ]


def test_the_weeks_begin_on_the_monday_of_this_week():
    board = cover_board(day(3), weeks=2)
    assert (board.first_monday, board.mondays, board.until) == (day(0), (day(0), day(7)), day(13))


@pytest.mark.parametrize("weeks", [pytest.param(0, id="none"), pytest.param(54, id="more than a year")])
def test_a_number_of_weeks_out_of_bounds_is_refused(weeks):
    with pytest.raises(ValueError, match=f"got {weeks}"):
        cover_board(TODAY, weeks=weeks)


def test_a_shortage_after_the_last_week_is_not_told():
    hold(black_11(), 14, 500)
    assert only_row(weeks=3).is_short
    assert not only_row(weeks=2).is_short


def test_open_quotes_count_only_when_asked():
    hold(black_11(), 4, 200, firm=False)
    assert not only_row().is_short
    assert only_row(with_open=True).is_short


@pytest.mark.parametrize(
    ("after", "is_short"), [pytest.param(0, True, id="on its last day"), pytest.param(-1, False, id="the day after")]
)
def test_an_open_quote_that_lapsed_counts_no_more(after, is_short):
    hold(black_11(), 4, 200, firm=False, lapses_on=day(after))
    assert only_row(with_open=True).is_short == is_short


def test_what_was_released_counts_no_more():
    hold(black_11(), 4, 200, closed_at=NOON)
    assert not only_row().is_short


def test_what_is_on_its_way_covers_and_what_is_only_planned_does_not(gala):
    order = OrderFactory(state="placed", placed_on=TODAY, expected_on=day(9))
    OrderLineFactory(order=order, item=gala, pack_size=50, packs=2, received=40)
    OrderLineFactory(item=gala, pack_size=100)
    row = only_row()
    assert row.cover.short_by == 36
    assert (row.arrived, row.planned) == (60, 100)


def test_the_board_agrees_with_the_rule_asked_by_hand(gala):
    OfferFactory(item=gala, lead_days=5)
    order = OrderFactory(state="placed", placed_on=TODAY, expected_on=day(9))
    OrderLineFactory(order=order, item=gala, pack_size=30)
    by_hand = cover(
        128,
        [Arrival(day(9), 30, f"Order {order.pk}")],
        [
            Need(1, day(4), 1, "Ferry office", 44, True),
            Need(2, day(11), 2, "Film gala", 140, True),
            Need(3, day(25), 3, "Harbour ball", 40, True),
        ],
        today=TODAY,
        until=day(55),
        lead_days=5,
    )
    found = only_row().cover
    assert (found, found.hit, found.steps) == (by_hand, by_hand.hit, by_hand.steps)


EVENTS = st.lists(st.tuples(st.integers(-3, 30), st.integers(1, 90), st.booleans()), max_size=8)


@given(have=st.integers(0, 120), needs=EVENTS, comes=EVENTS, after=st.integers(0, 35))
@settings(max_examples=30, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_what_is_free_on_a_day_is_what_cover_calls_available(db, have, needs, comes, after):
    with transaction.atomic():
        item = black_11(have)
        for when, quantity, firm in needs:
            hold(item, when, quantity, firm=firm)
        for when, quantity, _ in comes:
            order = OrderFactory(state="placed", placed_on=day(-9), expected_on=day(when))
            OrderLineFactory(order=order, item=item, packs=1, pack_size=quantity)
        assert free_on([item.pk], day(after), TODAY)[item.pk] == only_row().cover.available(day(after))
        transaction.set_rollback(True)


@given(
    items=st.lists(st.tuples(st.integers(-5, 120), st.integers(0, 40), EVENTS, EVENTS), min_size=1, max_size=4),
    with_open=st.booleans(),
)
@settings(max_examples=30, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_rows_made_when_looked_at_are_those_made_at_once(db, items, with_open):
    with transaction.atomic():
        for have, keep_back, needs, comes in items:
            item = black_item_of(have, keep_back)
            for when, quantity, firm in needs:
                hold(item, when * 3, quantity, firm=firm)
            for when, quantity, _ in comes:
                order = OrderFactory(state="placed", placed_on=day(-9), expected_on=day(when))
                OrderLineFactory(order=order, item=item, packs=1, pack_size=quantity)
        found = cover_board(TODAY, with_open=with_open)
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(board_facts.Facts, "is_plenty_of", lambda facts, item: False)
            plain = cover_board(TODAY, with_open=with_open)
        assert (found.sentence, found.covered_count, found.short_rows) == (
            plain.sentence,
            plain.covered_count,
            plain.short_rows,
        )
        assert list(found.rows) == list(plain.rows)
        assert [(row.cover.hit, row.cover.steps) for row in found.rows] == [
            (row.cover.hit, row.cover.steps) for row in plain.rows
        ]
        assert [row.is_short for row in plain.rows] == sorted([row.is_short for row in plain.rows], reverse=True)
        transaction.set_rollback(True)


PROMISES = st.lists(
    st.tuples(st.integers(-3, 70), st.integers(1, 90), st.booleans(), st.none() | st.integers(-2, 2), st.booleans()),
    max_size=8,
)


@given(
    items=st.lists(st.tuples(st.integers(-5, 120), PROMISES, EVENTS), min_size=1, max_size=3), with_open=st.booleans()
)
@settings(max_examples=30, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_the_database_and_the_rule_by_itself_find_the_same(db, items, with_open):
    """What is asked of the database is added up again here, from what was written into it."""
    with transaction.atomic():
        by_hand = {}
        for have, promises, comes in items:
            item = black_item_of(have, 0)
            needs, arrivals = [], []
            for number, (when, quantity, firm, lapses, is_closed) in enumerate(promises, start=1):
                lapses = None if firm else lapses
                held = hold(
                    item, when, quantity, firm=firm, booking=number, booking_name=f"Job {number}",
                    lapses_on=None if lapses is None else day(lapses), closed_at=NOON if is_closed else None,
                )  # fmt: skip
                if not is_closed and (firm or (with_open and (lapses is None or lapses >= 0))):
                    needs.append(Need(held.pk, day(when), number, f"Job {number}", quantity, firm))
            for when, quantity, _ in comes:
                order = OrderFactory(state="placed", placed_on=day(-9), expected_on=day(when))
                OrderLineFactory(order=order, item=item, packs=1, pack_size=quantity)
                arrivals.append(Arrival(day(when), quantity, str(order)))
            by_hand[item] = cover(have, arrivals, needs, today=TODAY, until=day(55), lead_days=None)
        rows = cover_board(TODAY, with_open=with_open).rows
        assert {row.item: row.cover for row in rows} == by_hand
        for row in rows:
            assert (row.cover.steps, row.cover.hit) == (by_hand[row.item].steps, by_hand[row.item].hit)
        transaction.set_rollback(True)


def black_item_of(have: int, keep_back: int):
    return MovementFactory(item=ItemFactory(keep_back=keep_back), quantity=have).item


def test_what_nobody_looks_at_is_not_read(gala):
    other = black_item("Sand")
    hold(other, 3, 5)
    found = cover_board(TODAY)
    assert [row.item for row in found.short_rows] == [gala]
    assert list(found.rows._made) == [gala.pk]
    assert [row.item for row in found.rows[1:]] == [other]


def test_the_cheapest_packs_of_one_offer_that_come_in_time_are_suggested(gala):
    OfferFactory(item=gala, pack_size=100, price_minor=900, lead_days=12)
    OfferFactory(item=gala, pack_size=25, price_minor=600, lead_days=2)
    best = OfferFactory(item=gala, pack_size=50, price_minor=1000, lead_days=7)
    buy = only_row().buy
    assert (buy.offer, buy.packs, buy.quantity, buy.order_by) == (best, 2, 100, day(4))
    assert buy.words == "2 bags of 50"


def test_of_packs_that_cost_the_same_the_fewest_are_suggested(gala):
    OfferFactory(item=gala, pack_size=50, price_minor=500, lead_days=2)
    best = OfferFactory(item=gala, pack_size=100, price_minor=1000, lead_days=2)
    assert only_row().buy.offer == best


def test_what_the_planned_order_brings_need_not_be_bought_again(gala):
    OfferFactory(item=gala, pack_size=25, lead_days=2)
    OrderLineFactory(item=gala, pack_size=50)
    assert only_row().buy.quantity == 50


def test_an_order_that_is_planned_already_wants_only_placing(gala):
    OfferFactory(item=gala, lead_days=2)
    OrderLineFactory(item=gala, pack_size=100)
    row = only_row()
    assert (row.buy, row.what_to_do) == (None, "Place the planned order by Wed 10 Jun")


@pytest.mark.parametrize(
    ("lead_days", "told"),
    [
        pytest.param(7, "Buy 1 bag of 100 by Friday", id="this week"),
        pytest.param(11, "Buy 1 bag of 100 today", id="today at the latest"),
        pytest.param(12, "No bag arrives in time", id="too late"),
        pytest.param(None, "No supplier offers it", id="nobody sells it"),
    ],
)
def test_what_to_do_is_said_in_a_few_words(gala, lead_days, told):
    if lead_days is not None:
        OfferFactory(item=gala, lead_days=lead_days)
    assert only_row().what_to_do == told


def test_what_is_kept_back_can_be_bought_back_at_leisure():
    item = black_11(30, keep_back=50)
    OfferFactory(item=item, lead_days=20)
    row = only_row()
    assert (row.headline, row.what_to_do) == ("falls to 30, below the 50 kept back", "Buy 1 bag of 100")
    assert row.cover.hit == ()


def test_an_overdue_delivery_is_told_on_a_covered_item():
    item = black_11()
    order = OrderFactory(state="placed", placed_on=day(-9), expected_on=day(-1))
    OrderLineFactory(order=order, item=item)
    assert only_row().what_to_do == "Covered; 100 overdue"


def test_the_first_to_act_on_comes_first_then_what_is_booked_then_the_rest():
    quiet, busy, unoffered, pressing = (black_item(name) for name in ("Quiet", "Busy", "Unoffered", "Pressing"))
    hold(busy, 4, 1)
    hold(unoffered, 7, 900)
    hold(pressing, 14, 900)
    OfferFactory(item=pressing, lead_days=10)
    assert [row.item for row in cover_board(TODAY).rows] == [pressing, unoffered, busy, quiet]


def test_an_item_below_what_is_kept_back_comes_after_those_that_hit_a_booking():
    low = black_11(30, keep_back=50)
    short = black_item("Sand")
    hold(short, 20, 900)
    assert [row.item for row in cover_board(TODAY).rows] == [short, low]


def black_item(name: str):
    return MovementFactory(item=ItemFactory(colour=ColourFactory(name=name))).item


def test_only_the_items_asked_for_are_checked(gala):
    other = black_item("Sand")
    assert [row.item for row in cover_board(TODAY, item_ids=[other.pk]).rows] == [other]


@pytest.mark.parametrize(
    ("lead_days", "ends"),
    [
        pytest.param(7, "The first to act on is Black 11-inch, by Friday.", id="can still be ordered"),
        pytest.param(
            12,
            "The first to act on is Black 11-inch, short on Fri 12 Jun: nothing ordered today comes in time.",
            id="too late",
        ),
        pytest.param(
            None, "The first to act on is Black 11-inch, short on Fri 12 Jun: no supplier offers it.", id="not sold"
        ),
    ],
)
def test_the_board_says_in_words_what_matters_first(gala, lead_days, ends):
    black_item("Sand")
    if lead_days is not None:
        OfferFactory(item=gala, lead_days=lead_days)
    assert cover_board(TODAY).sentence == f"Eight weeks from Mon 1 Jun. 1 of 2 items runs short. {ends}"


@pytest.mark.parametrize(
    ("count", "sentence"),
    [
        pytest.param(0, "One week from Mon 1 Jun. Nothing is listed on the shelf yet.", id="empty"),
        pytest.param(1, "One week from Mon 1 Jun. The one item is covered.", id="one"),
        pytest.param(3, "One week from Mon 1 Jun. All 3 items are covered.", id="three"),
    ],
)
def test_a_covered_shelf_is_said_to_be_covered(count, sentence):
    for _ in range(count):
        MovementFactory()
    board = cover_board(TODAY, weeks=1)
    assert (board.sentence, board.short_rows, board.covered_count) == (sentence, (), count)


@pytest.mark.parametrize(
    ("after", "words"),
    [
        pytest.param(0, "today", id="today"),
        pytest.param(1, "tomorrow", id="tomorrow"),
        pytest.param(2, "Wednesday", id="this week"),
        pytest.param(6, "Sunday", id="six days on"),
        pytest.param(7, "Mon 8 Jun", id="a week on"),
    ],
)
def test_a_day_is_said_as_people_say_it(after, words):
    assert day_words(day(after), TODAY) == words


@pytest.mark.parametrize("count", [pytest.param(40, id="40 items"), pytest.param(400, id="400 items")])
def test_the_board_is_read_in_six_statements_however_long_the_shelf(count, django_assert_num_queries):
    supplier = SupplierFactory()
    order = OrderFactory(supplier=supplier, state="placed", placed_on=TODAY, expected_on=day(3))
    for _ in range(count):
        item = MovementFactory(quantity=5).item
        hold(item, 4, 200)
        OfferFactory(item=item, supplier=supplier)
        OrderLineFactory(order=order, item=item)
    # Items with their colours, sums of movements and of promises, order lines, promises, offers with their suppliers.
    with django_assert_num_queries(6):
        board = cover_board(TODAY)
        told = [(row.sentence, row.what_to_do, row.buy and row.buy.offer.supplier.name) for row in board.rows]
    assert len(told) == count
