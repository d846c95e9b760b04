"""A plan of much that is short: what to decide stands open, the rest is folded, and nothing of it is lost."""

import datetime as dt
import re
from collections import Counter
from typing import Any
from uuid import uuid4

import pytest
from django.utils import timezone

from stock.models import Item, Offer, Order, OrderLine, Supplier
from tests.factories import (
    ColourFactory,
    ItemFactory,
    MovementFactory,
    OfferFactory,
    ReservationFactory,
    SupplierFactory,
)

pytestmark = pytest.mark.django_db
PLAN, MAKE = "/stock/orders/plan/", "/stock/orders/plan/make/"
LINES = 9


def short(name: str, *, ahead: int = 20) -> Item:
    """An item booked for 15 more than there are."""
    item: Item = MovementFactory(item=ItemFactory(colour=ColourFactory(name=name)), quantity=5).item
    ReservationFactory(item=item, quantity=20, needed_on=timezone.localdate() + dt.timedelta(days=ahead))
    return item


def offer(item: Item, supplier: Supplier, **fields: Any) -> Offer:
    made: Offer = OfferFactory(item=item, supplier=supplier, **({"lead_days": 5, "price_minor": 1500} | fields))
    return made


@pytest.fixture
def quay(db) -> Supplier:
    return SupplierFactory(name="Quay")


@pytest.fixture
def offers(quay) -> list[Offer]:
    """So many items that are short, each offered by one supplier."""
    return [offer(short(f"Tone {n}"), quay, price_minor=1500 + n) for n in range(LINES)]


def rows(browser, **asked: str) -> Any:
    """What the page was made of."""
    return browser.get(PLAN, asked).context["rows"]


def names(lines: Any) -> list[str]:
    return [row.offer.item.colour.name for row in lines]


def seen(answer: Any) -> str:
    return " ".join(re.sub(r"<[^>]+>", " ", answer.content.decode()).split())


def test_an_order_of_a_few_lines_is_shown_whole(owner_client, quay):
    for n in range(6):
        offer(short(f"Tone {n}"), quay)
    (order,) = rows(owner_client).orders
    assert (len(order.open), len(order.folded)) == (6, 0)


def test_a_long_order_is_folded_under_its_count_and_what_it_comes_to(owner_client, offers):
    (order,) = rows(owner_client).orders
    assert (len(order.open), len(order.folded)) == (0, LINES)
    assert "9 lines: $135.36" in seen(owner_client.get(PLAN))


def test_what_somebody_fixed_stands_open_above_the_rest(owner_client, offers):
    answer = owner_client.get(PLAN, {f"packs_{offers[4].pk}": "2"})
    (order,) = answer.context["rows"].orders
    assert names(order.open) == ["Tone 4"]
    assert "Tone 4" not in names(order.folded)
    assert "2 × 100 at $15.04 · 185 left over · fixed by you" in seen(answer)
    assert "8 more lines: $120.32" in seen(answer)


def test_what_would_cost_less_were_there_time_stands_open_with_the_day_it_would_come(owner_client, offers):
    far = SupplierFactory(name="Far Mill")
    offer(offers[3].item, far, lead_days=40, price_minor=1000)
    answer = owner_client.get(PLAN)
    (order,) = answer.context["rows"].orders
    assert names(order.open) == ["Tone 3"]
    comes = timezone.localdate() + dt.timedelta(days=40)
    assert f"$5.03 less from Far Mill , but not before {comes:%a} {comes.day} {comes:%b}" in seen(answer)


def test_of_much_that_would_cost_less_the_dearest_five_stand_open(owner_client, offers):
    far = SupplierFactory(name="Far Mill")
    for one in offers:
        offer(one.item, far, lead_days=40, price_minor=1000)
    (order,) = rows(owner_client).orders
    assert names(order.open) == [f"Tone {n}" for n in range(4, 9)]
    assert all(row.line.later for row in order.folded)


def test_an_offer_that_was_left_out_stays_ticked_under_the_line_that_took_its_place(owner_client, offers, quay):
    other = offer(offers[2].item, quay, pack_size=50, price_minor=2500)
    answer = owner_client.get(PLAN, {f"no_{offers[2].pk}": "on"})
    (order,) = answer.context["rows"].orders
    (row,) = order.open
    assert (row.offer, [one.offer for one in row.others]) == (other, [offers[2]])
    assert re.search(rf'name="no_{offers[2].pk}"[^>]*checked', answer.content.decode())


def test_a_slip_is_seen_with_what_was_typed(owner_client, offers):
    answer = owner_client.get(PLAN, {f"packs_{offers[2].pk}": "many", f"packs_{offers[3].pk}": "2"})
    assert answer.status_code == 422
    told = answer.content.decode()
    assert re.search(r'<details class="explain card" id="offers" open>', told)
    assert 'value="many"' in told
    assert re.search(rf'name="packs_{offers[3].pk}" value="2"', told)


def test_every_offer_has_its_two_fields_once(owner_client, offers, quay):
    for one in offers[:4]:
        offer(one.item, quay, pack_size=50, price_minor=2500)
    left_out = offer(short("Nobody's"), quay)
    told = owner_client.get(PLAN, {f"no_{left_out.pk}": "on"}).content.decode()
    solving = told[: told.index('id="make"')]
    fields = Counter(re.findall(r'name="((?:packs|no)_\d+)"', solving))
    every = {f"{kind}_{one.pk}" for one in Offer.objects.all() for kind in ("packs", "no")}
    assert fields == dict.fromkeys(every, 1)


def test_folded_lines_are_ordered_with_the_others(owner_client, offers):
    told = owner_client.get(PLAN, {f"packs_{offers[4].pk}": "2"}).content.decode()
    sent = {
        "form_key": str(uuid4()),
        "made_for": re.findall(r'name="made_for" value="(\w+)"', told)[0],
        "line": re.findall(r'name="line" value="([\d:]+)"', told),
    }
    assert owner_client.post(MAKE, sent).status_code == 302
    assert OrderLine.objects.filter(order=Order.objects.get()).count() == LINES
    assert OrderLine.objects.get(item=offers[4].item).packs == 2


def test_what_was_settled_is_kept_where_making_the_orders_is_refused(owner_client, offers, quay):
    small = offer(offers[2].item, quay, pack_size=50, price_minor=2500)
    asked = {f"packs_{offers[4].pk}": "2", f"no_{offers[2].pk}": "on"}
    told = owner_client.get(PLAN, asked).content.decode()
    making = told[told.index('id="make"') :]
    sent = dict(re.findall(r'name="((?:packs|no)_\d+)" value="(\w+)"', making))
    assert sent == asked
    refused = owner_client.post(
        MAKE, {"form_key": str(uuid4()), "made_for": "0" * 32, "line": f"0:{small.pk}:1:1", **sent}
    )
    assert refused.status_code == 422
    assert "fixed by you" in seen(refused)
    assert re.search(rf'name="no_{offers[2].pk}"[^>]*checked', refused.content.decode())


def test_three_that_cannot_arrive_have_a_card_each(owner_client, quay):
    for n in range(3):
        offer(short(f"Tone {n}", ahead=2), quay)
    told = owner_client.get(PLAN).content.decode()
    assert told.count('<section class="card short"') == 3


def test_much_that_cannot_arrive_is_one_card_with_the_most_pressing_first(owner_client, quay):
    for n in range(8):
        offer(short(f"Tone {n}", ahead=9 - n), quay, lead_days=30)
    answer = owner_client.get(PLAN)
    shown = answer.context["rows"]
    assert [gone.item.colour.name for gone in shown.cannot] == [f"Tone {n}" for n in (7, 6, 5, 4, 3)]
    assert [gone.item.colour.name for gone in shown.folded_cannot] == [f"Tone {n}" for n in (2, 1, 0)]
    told = answer.content.decode()
    assert told.count('<section class="card short"') == 1
    assert "8 cannot arrive in time" in seen(answer)
    assert re.search(r'<details class="explain" id="late-rest"><summary>3 more</summary>', told)
    assert seen(answer).count("15 cannot arrive by") == 8
