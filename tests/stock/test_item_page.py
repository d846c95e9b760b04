"""The story of one item, and what is written to its ledger from there."""

import datetime as dt
import re
from uuid import uuid4

import pytest
from django.urls import reverse
from django.utils import timezone

from stock.models import Item, Movement, Order, Reservation
from stock.queries import Cell, ItemStory, item_story
from stock.views.items import balance_steps, chart_of
from tests.factories import (
    ColourFactory,
    ItemFactory,
    MovementFactory,
    OfferFactory,
    OrderFactory,
    OrderLineFactory,
    ReservationFactory,
)
from tests.opened import send_opened

pytestmark = pytest.mark.django_db


@pytest.fixture
def ink(db) -> Item:
    """128 of Ink 11-inch lie on the shelf."""
    item = ItemFactory(colour=ColourFactory(name="Ink"))
    MovementFactory(item=item, quantity=128)
    return item


def story(browser, item: Item, query: str = "") -> str:
    response = browser.get(reverse("stock:item", args=[item.pk]) + query)
    assert response.status_code == 200
    return response.content.decode()


def words(page: str) -> str:
    """The page as somebody reads it: no tags, single spaces."""
    return " ".join(re.sub(r"<[^>]+>", " ", page).split())


def on_hand(item: Item) -> int:
    return item_story(item).cell.on_hand


def move(browser, item: Item, **fields: object):
    sent = {"form_key": str(uuid4()), "kind": "counted", "quantity": "1", "why": ""} | fields
    return browser.post(reverse("stock:item-move", args=[item.pk]), sent)


def new(browser, **fields: object):
    return browser.post(reverse("stock:item-new"), {"form_key": str(uuid4())} | fields)


@pytest.mark.parametrize("name", ["item", "item-edit"])
def test_a_stranger_is_sent_to_sign_in(client, ink, name):
    response = client.get(reverse(f"stock:{name}", args=[ink.pk]))
    assert response.status_code == 302
    assert response.url.startswith(reverse("login"))


def test_a_stranger_moves_nothing(client, ink):
    assert move(client, ink, quantity="5").url.startswith(reverse("login"))
    assert on_hand(ink) == 128


def test_crew_are_refused_the_owners_pages(crew_client, ink):
    assert crew_client.get(reverse("stock:item-edit", args=[ink.pk])).status_code == 403
    assert crew_client.get(reverse("stock:item-new")).status_code == 403
    assert new(crew_client, sort="hook", name="Hooks").status_code == 403
    assert not Item.objects.filter(name="Hooks").exists()


def test_crew_see_no_price(crew_client, ink):
    OfferFactory(item=ink, price_minor=791937)
    page = story(crew_client, ink)
    assert "7919" not in page
    assert "7,919" not in page


def test_the_owner_sees_who_sells_it_and_for_how_much(owner_client, ink):
    OfferFactory(item=ink, price_minor=791937, pack_size=100, lead_days=1)
    assert "100 for $7,919.37, 1 day" in words(story(owner_client, ink))


@pytest.mark.parametrize("name", ["item", "item-edit"])
def test_an_item_that_is_not_there_is_not_found(owner_client, name):
    assert owner_client.get(reverse(f"stock:{name}", args=[999])).status_code == 404
    assert owner_client.get(reverse(f"stock:{name}", args=[10**30])).status_code == 404


def test_what_is_free_is_the_first_sentence(owner_client, ink):
    ReservationFactory(item=ink, quantity=28)
    assert "100 free: 128 on hand, 28 promised." in words(story(owner_client, ink))


def test_what_is_short_is_said_with_its_figures(owner_client, ink):
    ReservationFactory(item=ink, quantity=184)
    page = story(owner_client, ink)
    assert "56 fewer than promised: 128 on hand, 184 promised." in words(page)
    assert 'class="sentence short"' in page


def test_a_promise_leads_to_its_booking_by_number(owner_client, ink):
    ReservationFactory(item=ink, quantity=44, booking=31, booking_name="Winter gala")
    page = story(owner_client, ink)
    assert f'href="{reverse("bookings:detail", args=[31])}"' in page
    assert "Winter gala Booking 31" in words(page)


def test_a_promise_of_an_open_quote_is_told_apart(owner_client, ink):
    ReservationFactory(item=ink, firm=False)
    assert "quote open 10" in words(story(owner_client, ink))


def test_a_lapsed_quote_holds_nothing_any_more(owner_client, ink):
    ReservationFactory(item=ink, firm=False, lapses_on=timezone.localdate() - dt.timedelta(days=1))
    assert "quote open" not in story(owner_client, ink)


def test_what_is_late_is_called_late(owner_client, ink):
    yesterday = timezone.localdate() - dt.timedelta(days=1)
    order = OrderFactory(state=Order.State.PLACED, placed_on=yesterday, expected_on=yesterday)
    OrderLineFactory(order=order, item=ink)
    assert "late 100" in words(story(owner_client, ink))


def test_the_ledger_comes_newest_first_with_what_was_left_each_time(owner_client, ink):
    MovementFactory(item=ink, kind="written_off", quantity=-8, why="Popped while sizing")
    page = words(story(owner_client, ink))
    assert page.index("−8 written off") < page.index("+128 counted")
    assert "Popped while sizing then 120 on hand" in page


def test_a_long_ledger_comes_in_pages(owner_client, ink):
    for _ in range(60):
        MovementFactory(item=ink, quantity=0)
    assert "Page 1 of 2" in story(owner_client, ink)
    assert "+128 counted" in words(story(owner_client, ink, "?page=2"))


def test_a_ledger_takes_as_many_queries_at_400_lines_as_at_40(owner_client, owner, ink, django_assert_max_num_queries):
    counted = []
    for more in (40, 360):
        Movement.objects.bulk_create(
            Movement(item=ink, kind="counted", quantity=0, by=owner, at=timezone.now()) for _ in range(more)
        )
        story(owner_client, ink)
        with django_assert_max_num_queries(12) as found:
            story(owner_client, ink)
        counted.append(len(found))
    assert counted[0] == counted[1]


def test_counting_sets_what_is_on_hand(crew_client, crew, ink):
    assert move(crew_client, ink, quantity="120").url == reverse("stock:item", args=[ink.pk])
    assert on_hand(ink) == 120
    assert Movement.objects.latest("pk").by == crew


@pytest.mark.parametrize(
    ("kind", "why", "after"),
    [
        pytest.param("received", "", 138, id="received"),
        pytest.param("used", "Shop window", 118, id="used"),
        pytest.param("written_off", "Faded", 118, id="written off"),
    ],
)
def test_a_movement_of_ten_moves_ten(crew_client, ink, kind, why, after):
    move(crew_client, ink, kind=kind, quantity="10", why=why)
    assert on_hand(ink) == after


def test_a_movement_sent_twice_happens_once(owner_client, ink):
    key = str(uuid4())
    first = move(owner_client, ink, form_key=key, kind="received", quantity="10")
    again = move(owner_client, ink, form_key=key, kind="received", quantity="10")
    assert (first.status_code, again.status_code) == (302, 302)
    assert on_hand(ink) == 138


def test_a_form_without_its_key_does_nothing(owner_client, ink):
    assert move(owner_client, ink, form_key="").status_code == 400
    assert on_hand(ink) == 128


@pytest.mark.parametrize(
    ("fields", "sentence"),
    [
        pytest.param({"quantity": "abc"}, "Counted must be a whole number from 0 to", id="a word"),
        pytest.param({"quantity": "-5"}, "Counted must be a whole number from 0 to", id="less than nothing"),
        pytest.param({"quantity": "1e309"}, "Counted must be a whole number from 0 to", id="beyond numbers"),
        pytest.param({"quantity": "9" * 5000}, "Counted must be a whole number from 0 to", id="very long"),
        pytest.param({"quantity": ""}, "Counted is needed; nothing was typed.", id="nothing"),
        pytest.param({"kind": "used", "quantity": "0"}, "Used must be a whole number from 1 to", id="none used"),
        pytest.param(
            {"kind": "used", "quantity": "129"}, "Ink 11-inch has 128 on hand; 129 cannot be used.", id="too many"
        ),
        pytest.param({"kind": "written_off", "quantity": "2"}, "Why is needed; nothing was typed.", id="no reason"),
        pytest.param({"kind": "stolen", "quantity": "2"}, "What happened must be one of", id="unknown kind"),
        pytest.param({"why": "x" * 5000}, "Why must be at most 200 characters long, not 5,000", id="an essay"),
    ],
)
def test_a_movement_that_cannot_be_is_refused_in_a_sentence(owner_client, ink, fields, sentence):
    response = move(owner_client, ink, **fields)
    assert response.status_code == 422
    assert sentence in words(response.content.decode())
    assert on_hand(ink) == 128


def test_what_was_typed_is_still_there_after_a_refusal(owner_client, ink):
    page = move(owner_client, ink, kind="used", quantity="129", why="Ferry office 🎈").content.decode()
    assert 'value="129"' in page
    assert 'value="Ferry office 🎈"' in page
    assert '<details class="explain" id="used" open>' in page


def test_a_refused_form_can_be_mended_and_sent_again(owner_client, ink):
    key = str(uuid4())
    assert move(owner_client, ink, form_key=key, kind="used", quantity="129").status_code == 422
    assert move(owner_client, ink, form_key=key, kind="used", quantity="12").status_code == 302
    assert on_hand(ink) == 116


def test_a_reason_is_shown_and_not_run(owner_client, ink):
    MovementFactory(item=ink, quantity=1, why="<script>alert(1)</script>")
    assert "<script>alert" not in story(owner_client, ink)


def test_a_balloon_is_listed_and_counted_at_once(owner_client):
    colour = ColourFactory()
    response = new(owner_client, colour=colour.pk, size="9", count="40", keep_back="5", place="Rack 2")
    item = Item.objects.get()
    assert response.url == reverse("stock:item", args=[item.pk])
    assert (item.colour, item.size, item.keep_back, item.place) == (colour, 9, 5, "Rack 2")
    assert on_hand(item) == 40


def test_anything_else_is_listed_by_its_name(owner_client):
    new(owner_client, sort="line", name="كحلي 🎣", unit="ft")
    item = Item.objects.get()
    assert (item.sort, item.name, item.unit) == ("line", "كحلي 🎣", "ft")


def test_an_item_sent_twice_is_listed_once(owner_client):
    sent = {"form_key": str(uuid4()), "colour": ColourFactory().pk, "size": "9"}
    answers = {new(owner_client, **sent).url for _ in range(2)}
    assert answers == {reverse("stock:item", args=[Item.objects.get().pk])}


def test_an_empty_cell_arrives_with_its_colour_and_size_chosen(owner_client):
    colour = ColourFactory()
    page = owner_client.get(reverse("stock:item-new"), {"colour": colour.pk, "size": 16}).content.decode()
    assert f'<option value="{colour.pk}" selected>' in page
    assert '<option value="16" selected>' in page


def test_what_is_listed_already_is_refused_by_name(owner_client, ink):
    response = new(owner_client, colour=ink.colour_id, size="11")
    assert response.status_code == 422
    assert "Ink 11-inch is on the shelf already." in response.content.decode()


def test_keep_back_and_place_are_changed(owner_client, ink):
    address = reverse("stock:item-edit", args=[ink.pk])
    sent = {"form_key": str(uuid4()), "keep_back": "50", "place": "Rack 2 🎈"}
    assert send_opened(owner_client, address, sent).status_code == 302
    ink.refresh_from_db()
    assert (ink.keep_back, ink.place) == (50, "Rack 2 🎈")


def test_a_keep_back_that_is_no_number_is_refused(owner_client, ink):
    address = reverse("stock:item-edit", args=[ink.pk])
    response = owner_client.post(address, {"form_key": str(uuid4()), "keep_back": "lots", "place": ""})
    assert response.status_code == 422
    assert "Keep back must be a whole number" in response.content.decode()
    assert 'value="lots"' in response.content.decode()


def told(today: dt.date, on_hand: int, *held: tuple[int, int]) -> ItemStory:
    """128 on hand, and so many needed so many days from today."""
    promises = tuple(
        Reservation(quantity=quantity, needed_on=today + dt.timedelta(days=days), booking_name=f"Job {days}", firm=True)
        for days, quantity in held
    )
    cell = Cell(Item(size=11), on_hand, on_hand, 0, 0)
    return ItemStory(cell=cell, movements=None, reservations=promises, arrivals=(), offers=())  # type: ignore[arg-type]


def test_the_balance_falls_on_the_day_of_each_promise(today):
    # 128 ──┐ day 5: −44
    #    84 └──┐ day 12: −140
    #   −56    └───
    days = [today, today + dt.timedelta(days=5), today + dt.timedelta(days=12)]
    steps = balance_steps(told(today, 128, (12, 140), (5, 44)), today)
    assert [(day, balance) for day, balance, _ in steps] == list(zip(days, (128, 84, -56), strict=True))
    assert [words for _, _, words in steps] == ["", "Job 5 −44", "Job 12 −140"]


def test_an_overdue_promise_is_taken_today(today):
    assert balance_steps(told(today, 10, (-3, 4)), today)[-1][:2] == (today, 6)


def test_an_item_nobody_waits_for_needs_no_drawing(today):
    assert chart_of(told(today, 10), today, width=960, height=220) is None


def test_a_promise_far_ahead_still_fits_the_drawing(today):
    shape = chart_of(told(today, 10, (400, 20)), today, width=960, height=220)
    assert shape is not None
    assert shape.line_short
