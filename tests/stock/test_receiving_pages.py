"""The page on which a delivery is put away: all of it, a part, twice over, and what cannot be."""

import re

import pytest
from django.urls import reverse

from stock.queries import on_hand
from tests.stock.orders_on_pages import page, placed, planned, post, seen, state

pytestmark = pytest.mark.django_db


def test_what_is_outstanding_is_filled_in(crew_client):
    line = placed(received=60)
    response = crew_client.get(reverse("stock:order", args=[line.order_id]))
    assert re.search(
        rf'name="line_{line.pk}"[^>]*value="140"|value="140"[^>]*name="line_{line.pk}"', response.content.decode()
    )


def test_all_of_it_received_closes_the_order(crew_client, crew):
    line = placed()
    response = post(crew_client, "order-receive", line.order_id, **{f"line_{line.pk}": "200"})
    assert response.url == reverse("stock:order", args=[line.order_id])
    assert state(line) == "received"
    assert on_hand([line.item_id]) == {line.item_id: 200}


def test_a_part_received_leaves_the_rest_on_its_way(crew_client):
    line = placed()
    post(crew_client, "order-receive", line.order_id, **{f"line_{line.pk}": "150"})
    assert state(line) == "placed"
    assert "50 still to come, 150 here" in page(crew_client, line)


def test_a_delivery_sent_twice_is_received_once(crew_client):
    line = placed()
    for _ in range(2):
        sent = {"form_key": "a1b2c3d4-0000-4000-8000-000000000000", f"line_{line.pk}": "200"}
        assert crew_client.post(reverse("stock:order-receive", args=[line.order_id]), sent).status_code == 302
    assert on_hand([line.item_id]) == {line.item_id: 200}


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        pytest.param("abc", "Ink 11-inch must be a whole number from 0", id="a word"),
        pytest.param("-5", "Ink 11-inch must be a whole number from 0", id="less than nothing"),
        pytest.param("1e309", "Ink 11-inch must be a whole number from 0", id="beyond numbers"),
        pytest.param("0", "Nothing was received yet", id="none"),
        pytest.param("", "Nothing was received yet", id="nothing typed"),
    ],
)
def test_a_delivery_that_cannot_be_is_refused(crew_client, typed, sentence):
    line = placed()
    response = post(crew_client, "order-receive", line.order_id, **{f"line_{line.pk}": typed})
    assert response.status_code == 422
    assert sentence in seen(response)
    assert on_hand([line.item_id]) == {line.item_id: 0}


def test_a_planned_order_is_not_received_by_crew(crew_client):
    line = planned()
    assert post(crew_client, "order-receive", line.order_id, **{f"line_{line.pk}": "5"}).status_code == 403


def test_a_planned_order_is_not_received_by_the_owner_either(owner_client):
    line = planned()
    response = post(owner_client, "order-receive", line.order_id, **{f"line_{line.pk}": "5"})
    assert response.status_code == 422
    assert "Only a placed order can be received; this one is planned." in seen(response)
