"""Planning, placing and receiving orders."""

import datetime as dt
from uuid import uuid4

import pytest
from django.urls import reverse
from django.utils import timezone

from stock.models import Item, Order, OrderLine
from stock.views.orders import days_late, suggested_arrival
from tests.factories import (
    ColourFactory,
    ItemFactory,
    OfferFactory,
    OrderFactory,
    OrderLineFactory,
    SupplierFactory,
)
from tests.stock.orders_on_pages import list_of, page, placed, planned, post, seen, state

pytestmark = pytest.mark.django_db

CANARY = 791937
OWNERS_BUTTONS = ["order-place", "order-expected", "order-cancel", "order-close"]


def test_a_stranger_is_sent_to_sign_in(client):
    line = placed()
    assert client.get(reverse("stock:orders")).url.startswith(reverse("login"))
    assert client.get(reverse("stock:order", args=[line.order_id])).url.startswith(reverse("login"))
    for name in (*OWNERS_BUTTONS, "order-receive"):
        assert post(client, name, line.order_id).url.startswith(reverse("login"))
    assert state(line) == "placed"


@pytest.mark.parametrize("name", OWNERS_BUTTONS)
def test_crew_cannot_commit_the_studio(crew_client, name):
    line = placed()
    assert post(crew_client, name, line.order_id, expected_on="2030-01-01").status_code == 403
    assert state(line) == "placed"


def test_crew_plan_nothing(crew_client):
    line = planned()
    assert post(crew_client, "add-to-order", offer=OfferFactory().pk, packs="1").status_code == 403
    assert post(crew_client, "order-line", line.order_id, line.pk, packs="0").status_code == 403
    assert crew_client.get(reverse("stock:order", args=[line.order_id])).status_code == 403
    assert "Quay Wholesale" not in list_of(crew_client)


@pytest.mark.parametrize("expected_in", [5, -3], ids=["in time", "late"])
def test_crew_see_what_is_coming_and_no_price(crew_client, expected_in):
    line = placed(price_minor=CANARY, expected_in=expected_in)
    OfferFactory(item=line.item, supplier=line.order.supplier, price_minor=CANARY)
    planned_elsewhere = OrderFactory()
    OrderLineFactory(order=planned_elsewhere, price_minor=CANARY)
    for shown in (list_of(crew_client), page(crew_client, line)):
        assert "Quay Wholesale" in shown
        assert "7919" not in shown
        assert "7,919" not in shown


def test_crew_see_no_price_in_a_refusal_either(crew_client):
    line = placed(price_minor=CANARY)
    response = post(crew_client, "order-receive", line.order_id, **{f"line_{line.pk}": "abc"})
    assert response.status_code == 422
    assert "7919" not in response.content.decode()
    assert "7,919" not in response.content.decode()


def test_an_order_that_is_not_there_is_not_found(owner_client):
    assert owner_client.get(reverse("stock:order", args=[999])).status_code == 404
    for name in (*OWNERS_BUTTONS, "order-receive"):
        assert post(owner_client, name, 999).status_code == 404


def test_packs_of_an_offer_start_an_order_with_its_supplier(owner_client, owner):
    offer = OfferFactory(price_minor=1250)
    response = post(owner_client, "add-to-order", offer=offer.pk, packs="2")
    line = OrderLine.objects.get()
    assert response.url == reverse("stock:order", args=[line.order_id])
    assert (line.item, line.packs, line.price_minor) == (offer.item, 2, 1250)
    assert (line.order.supplier, line.order.created_by) == (offer.supplier, owner)


def test_more_packs_join_the_order_being_planned(owner_client):
    offer = OfferFactory()
    for packs in ("2", "3"):
        post(owner_client, "add-to-order", offer=offer.pk, packs=packs)
    assert OrderLine.objects.get().packs == 5


def test_adding_twice_by_one_form_adds_once(owner_client):
    sent = {"form_key": str(uuid4()), "offer": OfferFactory().pk, "packs": "2"}
    for _ in range(2):
        assert owner_client.post(reverse("stock:add-to-order"), sent).status_code == 302
    assert OrderLine.objects.get().packs == 2


def test_adding_goes_back_to_where_it_was_asked(owner_client):
    cover = reverse("stock:cover")
    assert post(owner_client, "add-to-order", offer=OfferFactory().pk, packs="1", next=cover).url == cover


@pytest.mark.parametrize(
    "next_page", ["https://elsewhere.example/", "//elsewhere.example", "javascript:alert(1)", "/" * 5000]
)
def test_adding_leads_to_no_other_site(owner_client, next_page):
    response = post(owner_client, "add-to-order", offer=OfferFactory().pk, packs="1", next=next_page)
    assert response.url == reverse("stock:order", args=[Order.objects.get().pk])


@pytest.mark.parametrize(
    ("fields", "sentence"),
    [
        pytest.param({"packs": "0"}, "Packs must be a whole number from 1", id="no pack"),
        pytest.param({"packs": "abc"}, "Packs must be a whole number from 1", id="a word"),
        pytest.param({"packs": "10001"}, "Packs must be a whole number from 1 to 10000", id="too many"),
        pytest.param({"offer": "999"}, "Offer must be one of a supplier", id="unknown offer"),
        pytest.param({"offer": "9" * 5000}, "Offer must be one of a supplier", id="nonsense for an offer"),
        pytest.param({"offer": ""}, "Offer is needed; none was chosen.", id="no offer"),
    ],
)
def test_packs_that_cannot_be_are_refused(owner_client, fields, sentence):
    response = post(owner_client, "add-to-order", **({"offer": OfferFactory().pk, "packs": "1"} | fields))
    assert response.status_code == 422
    assert sentence in seen(response).replace("&#x27;", "'")
    assert not Order.objects.exists()


def test_packs_that_add_up_to_too_many_are_refused_beside_the_offer(owner_client):
    offer = OfferFactory(item=ItemFactory(colour=ColourFactory(name="Ink")))
    post(owner_client, "add-to-order", offer=offer.pk, packs="9999")
    response = post(owner_client, "add-to-order", offer=offer.pk, packs="2")
    assert response.status_code == 422
    assert "Packs must be 1 to 10,000 (got 10,001)." in seen(response)
    assert 'value="2"' in response.content.decode()
    assert OrderLine.objects.get().packs == 9999


def test_the_owner_sees_what_a_planned_order_costs(owner_client):
    line = planned(price_minor=1250)
    assert "Ink 11-inch 2 × 100 at $12.50" in page(owner_client, line)
    assert "$25.00" in page(owner_client, line)
    assert "$25.00" in list_of(owner_client)


def test_packs_are_changed(owner_client):
    line = planned()
    post(owner_client, "order-line", line.order_id, line.pk, **{f"line{line.pk}-packs": "5"})
    line.refresh_from_db()
    assert line.packs == 5


def test_a_line_is_taken_off_once_however_often_it_is_sent(owner_client):
    line = planned()
    key = str(uuid4())
    for _ in range(2):
        sent = {"form_key": key, f"line{line.pk}-packs": ["2", "0"]}
        response = owner_client.post(reverse("stock:order-line", args=[line.order_id, line.pk]), sent)
        assert response.url == reverse("stock:order", args=[line.order_id])
    assert not OrderLine.objects.exists()
    assert "Nothing is on this order any more." in page(owner_client, line)


def test_packs_that_are_no_number_stay_as_typed(owner_client):
    line = planned()
    response = post(owner_client, "order-line", line.order_id, line.pk, **{f"line{line.pk}-packs": "many"})
    assert response.status_code == 422
    assert "Packs must be a whole number from 0" in seen(response)
    assert 'value="many"' in response.content.decode()


def test_packs_of_a_placed_order_stay(owner_client):
    line = placed()
    response = post(owner_client, "order-line", line.order_id, line.pk, **{f"line{line.pk}-packs": "5"})
    assert response.status_code == 422
    assert "Packs can be changed while an order is planned; this one is placed." in seen(response)


def test_a_line_of_another_order_is_not_found(owner_client):
    line, other = planned(), OrderLineFactory()
    response = post(owner_client, "order-line", line.order_id, other.pk, **{f"line{other.pk}-packs": "0"})
    assert response.status_code == 404
    assert OrderLine.objects.count() == 2


def test_the_expected_day_is_filled_in_from_the_longest_lead_time(owner_client):
    line = planned()
    OfferFactory(supplier=line.order.supplier, item=line.item, lead_days=9)
    OfferFactory(supplier=line.order.supplier, lead_days=30)
    expected = timezone.localdate() + dt.timedelta(days=9)
    response = owner_client.get(reverse("stock:order", args=[line.order_id]))
    assert f'value="{expected}"' in response.content.decode()


def test_placing_starts_to_count_as_arriving(owner_client):
    line = planned()
    day = timezone.localdate() + dt.timedelta(days=4)
    assert post(owner_client, "order-place", line.order_id, expected_on=str(day)).status_code == 302
    order = Order.objects.get()
    assert (order.state, order.placed_on, order.expected_on) == ("placed", timezone.localdate(), day)


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        pytest.param("", "Expected on is needed; nothing was typed.", id="nothing"),
        pytest.param("soon", "Expected on must be a day such as 2026-06-01 (got “soon”)", id="a word"),
        pytest.param("2020-01-01", "Expected on must be", id="long ago"),
        pytest.param("9999-12-31", "Expected on must be within two years", id="never"),
        pytest.param("2026-02-30", "Expected on must be a day such as", id="no such day"),
        pytest.param("1" * 5000, "Expected on must be a day such as", id="5,000 digits"),
    ],
)
@pytest.mark.parametrize("name", ["order-place", "order-expected"])
def test_a_day_that_cannot_be_is_refused(owner_client, name, typed, sentence):
    line = planned() if name == "order-place" else placed()
    before = state(line)
    response = post(owner_client, name, line.order_id, expected_on=typed)
    assert response.status_code == 422
    assert sentence in seen(response)
    assert f'value="{typed}"' in response.content.decode()
    assert state(line) == before


def test_an_order_without_lines_is_not_placed(owner_client):
    order = OrderFactory()
    response = post(owner_client, "order-place", order.pk, expected_on=str(timezone.localdate()))
    assert response.status_code == 422
    assert "An order needs at least one pack before it is placed" in seen(response)


def test_another_day_can_be_expected(owner_client):
    line = placed()
    day = timezone.localdate() + dt.timedelta(days=20)
    assert post(owner_client, "order-expected", line.order_id, expected_on=str(day)).status_code == 302
    assert Order.objects.get().expected_on == day


@pytest.mark.parametrize(
    ("expected_in", "words"), [(-3, "3 days late"), (-1, "1 day late"), (0, "today")], ids=["3 days", "1 day", "today"]
)
def test_how_late_an_order_is_is_said_plainly(owner_client, expected_in, words):
    placed(expected_in=expected_in)
    assert words in list_of(owner_client)


def test_a_late_order_says_so_on_its_own_page(crew_client):
    assert "3 days late" in page(crew_client, placed(expected_in=-3))


def test_an_order_is_called_off(owner_client):
    line = placed()
    assert post(owner_client, "order-cancel", line.order_id).url == reverse("stock:orders")
    assert state(line) == "cancelled"
    assert "called off" in list_of(owner_client)


def test_an_order_of_which_some_came_is_closed_instead(owner_client):
    line = placed()
    post(owner_client, "order-receive", line.order_id, **{f"line_{line.pk}": "150"})
    refused = post(owner_client, "order-cancel", line.order_id)
    assert refused.status_code == 422
    assert "Nothing may have arrived of an order that is called off" in seen(refused)
    assert post(owner_client, "order-close", line.order_id).status_code == 302
    assert state(line) == "received"
    assert "150 came; 50 never did." in page(owner_client, line)


def test_a_script_in_a_name_is_shown_and_not_run(owner_client):
    order = OrderFactory(supplier=SupplierFactory(name="<script>alert(1)</script>"))
    line = OrderLineFactory(order=order, item=ItemFactory(colour=ColourFactory(name="<script>alert(2)</script>")))
    for address in (reverse("stock:orders"), reverse("stock:order", args=[line.order_id])):
        assert "<script>alert" not in owner_client.get(address).content.decode()


@pytest.mark.parametrize("many", ["planned", "placed", "received"])
def test_the_list_takes_as_many_queries_at_400_as_at_40(owner_client, owner, noon, many, django_assert_max_num_queries):
    supplier, item, counted = SupplierFactory(), ItemFactory(), []
    today = timezone.localdate()
    for more in (40, 360):
        orders = Order.objects.bulk_create(
            Order(supplier=supplier, state=many, created_at=noon, created_by=owner, placed_on=today, expected_on=today)
            for _ in range(more)
        )
        OrderLine.objects.bulk_create(
            OrderLine(order=order, item=item, packs=1, pack_size=5, price_minor=5) for order in orders
        )
        owner_client.get(reverse("stock:orders"))
        with django_assert_max_num_queries(12) as found:
            owner_client.get(reverse("stock:orders"))
        counted.append(len(found))
    assert counted[0] == counted[1]


def test_an_order_takes_as_many_queries_at_400_lines_as_at_40(owner_client, django_assert_max_num_queries):
    line, colour, counted = placed(), ColourFactory(), []
    for start, end in ((0, 40), (40, 400)):
        items = Item.objects.bulk_create(Item(colour=colour, size=size + 1000) for size in range(start, end))
        OrderLine.objects.bulk_create(
            OrderLine(order=line.order, item=item, packs=1, pack_size=5, price_minor=5) for item in items
        )
        page(owner_client, line)
        with django_assert_max_num_queries(12) as found:
            page(owner_client, line)
        counted.append(len(found))
    assert counted[0] == counted[1]


def test_what_is_over_comes_in_pages(owner_client):
    for _ in range(60):
        OrderFactory(state=Order.State.CANCELLED)
    assert "Page 1 of 2" in list_of(owner_client)


def test_an_order_is_as_late_as_the_days_gone_by(today):
    order = Order(state="placed", expected_on=today - dt.timedelta(days=3))
    assert days_late(order, today) == 3
    assert days_late(Order(state="received", expected_on=today - dt.timedelta(days=3)), today) == 0


def test_no_day_is_suggested_where_no_offer_says_one(today):
    line = planned()
    assert suggested_arrival(line.order, [line], today) is None
