"""The list of items and colours, the shelf as a grid, what things cost, and one item's story."""

import datetime as dt
from decimal import Decimal

import pytest

from stock import actions
from stock.models import Colour, Item
from stock.queries import item_story, pack_costs, shelf
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
)

pytestmark = pytest.mark.django_db


def test_a_balloon_not_listed_yet_is_put_on_the_list():
    black = ColourFactory(name="Black")
    found = actions.items_for([("latex", black.pk, 11)])
    assert found[("latex", black.pk, 11)].label == "Black 11-inch"


def test_a_listed_item_is_found_again():
    item = ItemFactory(size=5)
    need = ("latex", item.colour_id, 5)
    assert actions.items_for([need, need]) == {need: item}
    assert Item.objects.count() == 1


@pytest.mark.parametrize(
    ("sort", "name", "unit", "size"),
    [
        pytest.param("tie", "260 ties", "each", 260, id="ties"),
        pytest.param("line", "Line", "ft", None, id="line"),
        pytest.param("hook", "Hooks", "each", None, id="hooks"),
    ],
)
def test_hardware_is_one_item_of_its_sort(sort, name, unit, size):
    item = actions.items_for([(sort, None, None)])[(sort, None, None)]
    assert (item.sort, item.name, item.unit, item.size) == (sort, name, unit, size)


def test_the_studios_own_line_is_used_before_another_is_listed():
    own = ItemFactory(sort="line", colour=None, size=None, name="Fishing line", unit="ft")
    assert actions.items_for([("line", None, None)])[("line", None, None)] == own


def test_a_tie_is_the_same_item_whatever_colour_it_was_asked_in():
    plain, coloured = ("tie", None, None), ("tie", ColourFactory().pk, 260)
    found = actions.items_for([plain, coloured])
    assert found[plain] == found[coloured]
    assert Item.objects.count() == 1


@pytest.mark.parametrize(
    ("need", "sentence"),
    [
        pytest.param(
            ("glue", None, None),
            "Sort must be latex, item, tie, line, hook, ribbon, weight, gas, decal (got “glue”).",
            id="another sort",
        ),
        pytest.param(("item", 987, None), "Item must be one of the shelf's (got number 987).", id="no such item"),
        pytest.param(("item", None, None), "An item that is named needs its key; none was given.", id="no key"),
        pytest.param(
            ("latex", None, 11), "A balloon needs a colour and a size (got colour None, size 11).", id="no colour"
        ),
        pytest.param(
            ("latex", 1, None), "A balloon needs a colour and a size (got colour 1, size None).", id="no size"
        ),
        pytest.param(("latex", 987, 11), "Colour must be one of the studio's (got number 987).", id="no such colour"),
    ],
)
def test_a_need_of_nothing_we_know_is_refused(need, sentence):
    with pytest.raises(actions.ShelfRefusal) as refusal:
        actions.items_for([need])
    assert str(refusal.value) == sentence
    assert not Item.objects.exists()


def test_many_items_are_listed_in_as_few_statements_as_one(django_assert_max_num_queries):
    colours = [ColourFactory().pk for _ in range(10)]
    needs = [("latex", colour, size) for colour in colours for size in (5, 11, 18)] + [("hook", None, None)]
    # A savepoint and its release, look, check the colours, insert, look again.
    with django_assert_max_num_queries(6):
        assert len(actions.items_for(needs)) == 31


def test_a_colour_is_added_after_the_others(owner, noon):
    ColourFactory(position=4)
    colour = actions.add_colour(name=" Fern ", swatch="#4F7A52", by=owner, at=noon)
    assert (colour.name, colour.swatch, colour.finish, colour.position) == ("Fern", "#4f7a52", "standard", 5)


@pytest.mark.parametrize(
    ("name", "swatch", "finish", "told"),
    [
        pytest.param("BLACK", "#000000", "standard", "There is a colour of this name and finish already", id="taken"),
        pytest.param("Fern", "green", "standard", "green", id="no swatch"),
        pytest.param("Fern", "#4f7a52", "velvet", "velvet", id="no such finish"),
    ],
)
def test_a_colour_that_cannot_be_is_refused(name, swatch, finish, told, owner, noon):
    ColourFactory(name="Black")
    with pytest.raises(actions.ShelfRefusal, match=told):
        actions.add_colour(name=name, swatch=swatch, finish=finish, by=owner, at=noon)
    assert Colour.objects.count() == 1


def test_a_new_studio_starts_with_twelve_everyday_colours():
    palette = actions.starter_palette()
    assert [str(colour) for colour in palette] == [
        "Black",
        "White",
        "Ink",
        "Sand",
        "Terracotta",
        "Sage",
        "Blush",
        "Gold metallic",
        "Silver metallic",
        "Sky",
        "Coral",
        "Butter",
    ]
    for colour in palette:
        colour.full_clean()


def test_the_starter_colours_are_added_once_and_leave_the_studios_own_alone():
    own = ColourFactory(name="sand", swatch="#d8c8a8", position=3)
    actions.starter_palette()
    actions.starter_palette()
    assert Colour.objects.count() == 12
    own.refresh_from_db()
    assert (own.name, own.swatch, own.position) == ("sand", "#d8c8a8", 3)


def test_one_costs_least_in_the_pack_that_is_cheapest_for_each():
    item = ItemFactory()
    OfferFactory(item=item, pack_size=50, price_minor=1000)
    best = OfferFactory(item=item, pack_size=144, price_minor=1900)
    cost = pack_costs([item.pk])[item.pk]
    assert (cost.offer, cost.unit_minor) == (best, Decimal(1900) / Decimal(144))


def test_of_two_packs_as_cheap_the_smaller_is_taken():
    item = ItemFactory()
    OfferFactory(item=item, pack_size=100, price_minor=1500)
    small = OfferFactory(item=item, pack_size=20, price_minor=300)
    assert pack_costs([item.pk])[item.pk].offer == small


def test_an_item_nobody_offers_has_no_cost():
    assert pack_costs([ItemFactory().pk]) == {}


def test_the_shelf_is_a_grid_of_colours_by_sizes():
    black, sand = ColourFactory(name="Black", position=0), ColourFactory(name="Sand", position=1)
    ItemFactory(colour=black, size=11)
    ItemFactory(colour=sand, size=5)
    grid = shelf()
    assert grid.sizes == (5, 11)
    assert [(row.colour.name, [cell and cell.item.label for cell in row.cells]) for row in grid.rows] == [
        ("Black", [None, "Black 11-inch"]),
        ("Sand", ["Sand 5-inch", None]),
    ]


def test_things_that_are_no_balloons_stand_below_the_grid():
    ItemFactory(sort="hook", colour=None, size=None, name="Hooks")
    assert [cell.item.label for cell in shelf().others] == ["Hooks"]


def test_a_colour_out_of_use_stays_on_the_shelf_while_it_has_an_item():
    ColourFactory(name="Gone", in_use=False)
    ItemFactory(colour=ColourFactory(name="Nearly gone", in_use=False))
    assert [row.colour.name for row in shelf().rows] == ["Nearly gone"]


def test_a_cell_says_what_is_counted_promised_and_on_its_way():
    item = MovementFactory(quantity=100, item=ItemFactory(keep_back=5)).item
    MovementFactory(item=item, quantity=28)
    ReservationFactory(item=item, quantity=30)
    ReservationFactory(item=item, quantity=10)
    ReservationFactory(item=item, quantity=7, firm=False)
    ReservationFactory(item=item, quantity=9, closed_at=NOON)
    order = OrderFactory(state="placed", placed_on=TODAY, expected_on=TODAY)
    OrderLineFactory(order=order, item=item, packs=2, pack_size=50, received=20)
    OrderLineFactory(item=item, packs=9)
    (cell,) = shelf().rows[0].cells
    assert cell is not None
    assert (cell.on_hand, cell.free, cell.arriving, cell.keep_back) == (128, 88, 80, 5)


@pytest.mark.parametrize(
    ("have", "promised", "keep_back", "word"),
    [
        pytest.param(100, 40, 0, "fine", id="enough"),
        pytest.param(100, 100, 0, "fine", id="just enough"),
        pytest.param(100, 101, 0, "short", id="one too few"),
        pytest.param(100, 81, 20, "low", id="into what is kept back"),
        pytest.param(100, 80, 20, "fine", id="down to what is kept back"),
        pytest.param(0, 0, 0, "none", id="none and none wanted"),
    ],
)
def test_a_cell_has_one_word_for_its_state(have, promised, keep_back, word):
    item = ItemFactory(keep_back=keep_back)
    MovementFactory(item=item, quantity=have)
    if promised:
        ReservationFactory(item=item, quantity=promised)
    (cell,) = shelf().rows[0].cells
    assert cell is not None
    assert cell.state == word


def a_shelf_of(count: int) -> None:
    for _ in range(count):
        item = MovementFactory().item
        ReservationFactory(item=item)


@pytest.mark.parametrize("count", [pytest.param(40, id="40 items"), pytest.param(400, id="400 items")])
def test_the_shelf_is_read_in_three_statements_however_large(count, django_assert_num_queries):
    a_shelf_of(count)
    # Colours, items, and in one the sums of movements, of promises and of what comes.
    with django_assert_num_queries(3):
        assert len(shelf().rows) == count


def test_an_items_story_runs_from_the_newest_movement_back(owner, noon):
    item = ItemFactory()
    actions.receive(item=item, quantity=100, by=owner, at=noon)
    actions.use(item=item, quantity=30, booking=7, by=owner, at=noon)
    actions.count(item=item, counted=65, by=owner, at=noon)
    story = item_story(item)
    assert [(move.quantity, move.after) for move in story.movements] == [(-5, 65), (-30, 70), (100, 100)]


def test_an_items_story_comes_in_pages_that_keep_their_balances():
    item = ItemFactory()
    for _ in range(60):
        MovementFactory(item=item, quantity=1)
    second = item_story(item, page=2).movements
    assert [move.after for move in second] == list(range(10, 0, -1))


def test_an_items_story_says_who_holds_it_what_comes_and_who_sells_it():
    item = ItemFactory()
    later = ReservationFactory(item=item, needed_on=TODAY + dt.timedelta(days=9))
    sooner = ReservationFactory(item=item, needed_on=TODAY + dt.timedelta(days=2), firm=False, lapses_on=TODAY)
    offer = OfferFactory(item=item)
    order = OrderFactory(state="placed", placed_on=TODAY, expected_on=TODAY)
    OrderLineFactory(order=order, item=item)
    story = item_story(item)
    assert story.reservations == (sooner, later)
    assert item_story(item, today=TODAY + dt.timedelta(days=1)).reservations == (later,)
    assert [coming.quantity for coming in story.arrivals] == [100]
    assert story.offers == (offer,)
    assert story.cell.free == -10


@pytest.mark.parametrize(
    ("sort", "unit"),
    [("ribbon", "ft"), ("weight", "each"), ("gas", "litre"), ("decal", "each")],
)
def test_ribbon_weights_gas_and_decals_are_one_item_each_in_their_unit(sort, unit):
    item = actions.items_for([(sort, None, None)])[sort, None, None]
    assert (item.sort, item.unit) == (sort, unit)
    assert actions.items_for([(sort, None, None)])[sort, None, None] == item


def test_an_item_asked_for_by_its_key_is_that_item():
    stand = ItemFactory(sort=Item.Sort.OTHER, colour=None, size=None, name="Stand")
    assert actions.items_for([("item", stand.pk, None)]) == {("item", stand.pk, None): stand}
