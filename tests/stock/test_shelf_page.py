"""The shelf at a glance."""

import re
from uuid import uuid4

import pytest
from django.urls import reverse

from stock.models import Colour, Item, Movement, Order
from stock.queries import Cell, ShelfRow
from stock.views.shelf import USUAL_SIZES, grid_row, short_cells
from tests.factories import (
    ColourFactory,
    ItemFactory,
    MovementFactory,
    OfferFactory,
    OrderFactory,
    OrderLineFactory,
    ReservationFactory,
)

pytestmark = pytest.mark.django_db


def shelf(browser, query: str = "") -> str:
    response = browser.get(reverse("stock:shelf") + query)
    assert response.status_code == 200
    return response.content.decode()


def words(page: str) -> str:
    """The page as somebody reads it: no tags, single spaces."""
    return " ".join(re.sub(r"<[^>]+>", " ", page).split())


def stocked(quantity: int, **item: object) -> Item:
    made = ItemFactory(**item)
    MovementFactory(item=made, quantity=quantity)
    return made


def test_a_stranger_is_sent_to_sign_in(client):
    response = client.get(reverse("stock:shelf"))
    assert response.status_code == 302
    assert response.url.startswith(reverse("login"))


def test_crew_may_look(crew_client):
    stocked(128, colour=ColourFactory(name="Ink"))
    assert "128 free" in words(shelf(crew_client))


def test_crew_see_no_price(crew_client):
    OfferFactory(price_minor=791937)
    page = shelf(crew_client)
    assert "7919" not in page
    assert "7,919" not in page


def test_a_cell_says_what_is_free_of_what_is_on_hand(owner_client):
    item = stocked(128)
    ReservationFactory(item=item, quantity=56)
    assert "72 free of 128" in words(shelf(owner_client))


def test_a_cell_says_what_is_arriving(owner_client, today):
    item = stocked(128)
    order = OrderFactory(state=Order.State.PLACED, placed_on=today, expected_on=today)
    OrderLineFactory(order=order, item=item, packs=2, pack_size=50, received=30)
    assert "+70 arriving" in words(shelf(owner_client))


def test_a_cell_that_runs_short_says_so_in_words_and_is_hatched(owner_client):
    item = stocked(100, colour=ColourFactory(name="Ink"))
    ReservationFactory(item=item, quantity=156)
    page = shelf(owner_client)
    assert "short 56" in words(page)
    assert 'class="shelf-cell hatch"' in page
    assert "Ink 11-inch has 56 fewer than promised" in words(page)


def test_a_shelf_that_holds_enough_says_so(owner_client):
    stocked(100)
    assert "covers everything promised" in words(shelf(owner_client))


def test_a_cell_leads_to_its_story(owner_client):
    item = stocked(5)
    assert f'href="{reverse("stock:item", args=[item.pk])}"' in shelf(owner_client)


def test_a_disc_is_drawn_in_its_colour_with_its_size_in_it(owner_client):
    stocked(5, colour=ColourFactory(swatch="#22314f"), size=16)
    disc = re.search(r'<svg class="disc".*?</svg>', shelf(owner_client), re.S)
    assert disc is not None
    assert 'color="#22314f"' in disc.group()
    assert ">16</text>" in disc.group()


def test_an_empty_cell_offers_the_owner_to_list_it(owner_client):
    colour = ColourFactory()
    stocked(5, colour=ColourFactory(), size=9)
    assert f"{reverse('stock:item-new')}?colour={colour.pk}&amp;size=9" in shelf(owner_client)


def test_an_empty_cell_offers_crew_nothing(crew_client):
    ColourFactory()
    stocked(5)
    assert reverse("stock:item-new") not in shelf(crew_client)


def test_a_finish_is_named_beside_its_colour(owner_client):
    ColourFactory(name="Gold", finish="metallic")
    assert "Gold metallic" in words(shelf(owner_client))


def test_what_is_no_balloon_is_listed_below(owner_client):
    stocked(200, sort=Item.Sort.LINE, name="Fishing line", unit="ft", colour=None, size=None)
    page = words(shelf(owner_client))
    assert "Fishing line Line: 200 ft on hand" in page
    assert "200 free" in page


def test_the_grid_scrolls_inside_a_named_region_the_keyboard_reaches(owner_client):
    stocked(5)
    region = re.search(r'<div class="table-scroll"[^>]*>', shelf(owner_client))
    assert region is not None
    assert 'role="region"' in region.group()
    assert 'tabindex="0"' in region.group()
    assert 'aria-label="Balloons, colours by sizes' in region.group()


def test_an_empty_studio_is_helped_to_begin(owner_client):
    page = words(shelf(owner_client))
    assert "Start with twelve everyday colours" in page
    assert "Add a colour" in page


def test_an_empty_studio_offers_crew_no_button(crew_client):
    assert "Start with twelve" not in shelf(crew_client)


def test_the_starter_colours_come_once_however_often_the_button_is_pressed(owner_client):
    sent = {"form_key": str(uuid4())}
    first = owner_client.post(reverse("stock:colours-starter"), sent)
    again = owner_client.post(reverse("stock:colours-starter"), sent)
    assert first.status_code == again.status_code == 302
    assert first.url == again.url == reverse("stock:shelf")
    assert Colour.objects.count() == 12


def test_colours_without_balloons_still_show_columns_to_fill(owner_client):
    ColourFactory()
    page = shelf(owner_client)
    assert all(f"&amp;size={size}" in page for size in USUAL_SIZES)


def test_a_script_in_a_name_is_shown_and_not_run(owner_client):
    ColourFactory(name="<script>alert(1)</script>")
    stocked(3, sort=Item.Sort.HOOK, name="<script>alert(2)</script>", colour=None, size=None)
    page = shelf(owner_client)
    assert "<script>alert" not in page
    assert page.count("&lt;script&gt;alert") >= 2


@pytest.mark.parametrize("query", ["?page=abc", "?page=-3", "?page=99999", "?page=" + "9" * 500, "?more=x"])
def test_a_page_number_that_makes_no_sense_shows_the_nearest_page(owner_client, query):
    stocked(5)
    assert "Balloons" in shelf(owner_client, query)


def test_many_colours_come_in_pages(owner_client):
    Colour.objects.bulk_create(Colour(name=f"Colour {n:03}", swatch="#112233", position=n) for n in range(120))
    first, last = shelf(owner_client), shelf(owner_client, "?page=3")
    assert "Page 1 of 3" in first
    assert "Colour 119" in last
    assert "Colour 119" not in first


def queries_for(rows: int, browser, captured) -> int:
    have = Colour.objects.count()
    colours = Colour.objects.bulk_create(Colour(name=f"Many {n}", swatch="#112233") for n in range(have, rows))
    items = Item.objects.bulk_create(Item(colour=colour, size=11) for colour in colours)
    by = Movement.objects.order_by("pk").values_list("by", "at").first()
    assert by is not None
    Movement.objects.bulk_create(
        Movement(item=item, kind="counted", quantity=5, by_id=by[0], at=by[1]) for item in items
    )
    with captured() as found:
        shelf(browser)
    return len(found)


def test_the_shelf_takes_as_many_queries_for_400_colours_as_for_40(owner_client, django_assert_max_num_queries):
    stocked(5)
    shelf(owner_client)

    def captured():
        return django_assert_max_num_queries(12)

    assert queries_for(40, owner_client, captured) == queries_for(400, owner_client, captured)


def test_a_row_has_a_cell_or_a_gap_in_every_column():
    colour, item = Colour(name="Ink"), Item(size=9)
    cell = Cell(item, 5, 5, 0, 0)
    assert grid_row(ShelfRow(colour, (cell, None)), (9, 16), (5, 9, 16)) == (
        colour,
        [(5, None), (9, cell), (16, None)],
    )


def test_what_is_worst_is_said_first():
    slightly, badly, fine = (Cell(Item(pk=pk), 0, free, 0, 0) for pk, free in ((1, -2), (2, -56), (3, 4)))
    assert short_cells([slightly, fine, badly]) == [badly, slightly]
