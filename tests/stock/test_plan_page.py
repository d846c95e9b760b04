"""Planning what to order, on its page; and the order on its way to the supplier."""

import datetime as dt
import io
import re
from typing import Any
from urllib.parse import unquote
from uuid import uuid4

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone
from pypdf import PdfReader

from stock.models import Order, OrderLine
from stock.spreadsheet import safe
from tests.factories import (
    BookingFactory,
    ColourFactory,
    ItemFactory,
    MovementFactory,
    OfferFactory,
    OrderFactory,
    OrderLineFactory,
    ReservationFactory,
    SupplierFactory,
)
from tests.opened import send_opened

pytestmark = pytest.mark.django_db
PLAN, MAKE = "/stock/orders/plan/", "/stock/orders/plan/make/"


def day(ahead: int) -> dt.date:
    return timezone.localdate() + dt.timedelta(days=ahead)


def seen(response) -> str:
    return " ".join(re.sub(r"<[^>]+>", " ", response.content.decode()).split())


def short(name: str = "Black", *, by: int = 56, ahead: int = 10, size: int = 11, swatch: str = "#1b1b1f"):
    """An item booked for more than there is."""
    item = ItemFactory(colour=ColourFactory(name=name, swatch=swatch), size=size)
    MovementFactory(item=item, quantity=44)
    booking = BookingFactory(title=f"{name} gala", stage="booked", needed_on=day(ahead), event_on=day(ahead + 1))
    ReservationFactory(
        item=item, quantity=44 + by, needed_on=day(ahead), booking=booking.pk, booking_name=booking.title
    )
    return item


@pytest.fixture
def black(db):
    return short()


@pytest.fixture
def quay(db):
    return SupplierFactory(name="Quay", email="orders@quay.example", delivery_minor=900, free_from_minor=5000)


def made(browser, response):
    """Send the orders of a page as it stands."""
    told = response.content.decode()
    fields: dict[str, Any] = {
        "form_key": str(uuid4()),
        "made_for": re.findall(r'name="made_for" value="(\w+)"', told)[0],
    }
    fields |= {name: re.findall(rf'name="{name}" value="([\d:]+)"', told) for name in ("line", "joins")}
    return browser.post(MAKE, fields)


def test_a_stranger_is_sent_to_sign_in_and_crew_are_refused(client, crew_client, black):
    assert client.get(PLAN).url.startswith(reverse("login"))
    assert crew_client.get(PLAN).status_code == 403
    assert crew_client.post(MAKE, {"form_key": str(uuid4())}).status_code == 403


def test_nothing_short_is_nothing_to_plan(owner_client):
    assert "Nothing is short" in seen(owner_client.get(PLAN))


def test_the_cheapest_order_stands_with_its_cost_its_day_and_what_is_left_over(owner_client, black, quay):
    OfferFactory(item=black, supplier=quay, pack_size=100, price_minor=1450, lead_days=5)
    OfferFactory(item=black, supplier=quay, pack_size=50, price_minor=800, lead_days=5)
    told = seen(owner_client.get(PLAN))
    assert "1 item from 1 order: $23.50 with delivery" in told
    assert "1 × 100 at $14.50 · 44 left over" in told
    assert "Nothing cheaper arrives in time." in told


def test_the_orders_are_made_once_as_they_were_shown(owner_client, black, quay):
    OfferFactory(item=black, supplier=quay, pack_size=100, price_minor=1450, lead_days=5)
    page = owner_client.get(PLAN)
    told = page.content.decode()
    key = str(uuid4())
    sent = {
        "form_key": key,
        "made_for": re.findall(r'name="made_for" value="(\w+)"', told)[0],
        "line": re.findall(r'name="line" value="([\d:]+)"', told),
    }
    answers = [owner_client.post(MAKE, sent) for _ in range(2)]
    order = Order.objects.get()
    assert [answer["Location"] for answer in answers] == [reverse("stock:order", args=[order.pk])] * 2
    assert (order.state, order.supplier, order.lines.get().quantity) == ("planned", quay, 100)
    assert "Nothing is short beyond what is planned" in seen(owner_client.get(PLAN))


def test_a_plan_that_was_overtaken_makes_nothing_and_shows_the_new_one(owner_client, black, quay):
    OfferFactory(item=black, supplier=quay, pack_size=10, price_minor=200, lead_days=5)
    page = owner_client.get(PLAN)
    ReservationFactory(item=black, quantity=100, needed_on=day(11))
    answer = made(owner_client, page)
    assert answer.status_code == 422
    assert "What is short has changed since this was planned" in seen(answer)
    assert "16 × 10" in seen(answer)
    assert not Order.objects.exists()


def test_a_price_that_changed_makes_nothing(owner_client, black, quay):
    offer = OfferFactory(item=black, supplier=quay, lead_days=5)
    page = owner_client.get(PLAN)
    offer.price_minor += 1
    offer.save()
    assert made(owner_client, page).status_code == 422
    assert not OrderLine.objects.exists()


@pytest.mark.parametrize("line", ["", "x", "1:2", "0:999:1:100", "0:1:0:1500", "0:1:99999999999:1500"])
def test_lines_nobody_was_shown_make_nothing(owner_client, black, quay, line):
    OfferFactory(item=black, supplier=quay, lead_days=5)
    digest = re.findall(r'name="made_for" value="(\w+)"', owner_client.get(PLAN).content.decode())[0]
    answer = owner_client.post(MAKE, {"form_key": str(uuid4()), "made_for": digest, "line": line})
    assert answer.status_code == 422
    assert not Order.objects.exists()


def test_a_line_is_fixed_and_another_left_out(owner_client, black, quay):
    bag = OfferFactory(item=black, supplier=quay, pack_size=100, price_minor=1450, lead_days=5)
    small = OfferFactory(item=black, supplier=quay, pack_size=50, price_minor=800, lead_days=5)
    assert "3 × 50" in seen(owner_client.get(PLAN, {f"packs_{small.pk}": "3"}))
    assert "2 × 50" in seen(owner_client.get(PLAN, {f"no_{bag.pk}": "on"}))


def test_a_plan_joins_the_order_being_planned_and_says_so(owner_client, black, quay):
    offer = OfferFactory(item=black, supplier=quay, pack_size=100, price_minor=1450, lead_days=5)
    draft = OrderFactory(supplier=quay)
    OrderLineFactory(order=draft, item=ItemFactory(), packs=3)
    page = owner_client.get(PLAN)
    joins = f"It joins order {draft.pk} , which you are planning with them: both come in one delivery."
    assert f"{joins} With both, delivery is free." in seen(page)
    # 14.50 for the pack, less the 9.00 that the draft of 45.00 would have paid for its delivery.
    assert "Total $5.50" in seen(page)
    answer = made(owner_client, page)
    assert answer["Location"] == reverse("stock:order", args=[draft.pk])
    assert Order.objects.get() == draft
    assert draft.lines.get(item=offer.item).packs == 1
    told = seen(owner_client.get(answer["Location"]))
    assert f"What was planned already was added to: order {draft.pk} with Quay." in told


def test_a_draft_that_comes_too_late_is_not_joined_and_another_order_is_begun(owner_client, black, quay):
    OfferFactory(item=black, supplier=quay, pack_size=100, price_minor=1450, lead_days=5)
    slow = OfferFactory(supplier=quay, lead_days=30)
    draft = OrderFactory(supplier=quay)
    OrderLineFactory(order=draft, item=slow.item, pack_size=slow.pack_size)
    page = owner_client.get(PLAN)
    assert "It joins" not in seen(page)
    made(owner_client, page)
    assert sorted(order.lines.get().item_id for order in Order.objects.all()) == sorted([black.pk, slow.item_id])


def test_a_draft_that_was_changed_meanwhile_makes_nothing(owner_client, black, quay):
    OfferFactory(item=black, supplier=quay, pack_size=100, price_minor=1450, lead_days=5)
    line = OrderLineFactory(order=OrderFactory(supplier=quay), packs=3)
    page = owner_client.get(PLAN)
    line.packs = 1
    line.save()
    answer = made(owner_client, page)
    assert answer.status_code == 422
    assert "nothing more" in seen(answer)
    assert OrderLine.objects.get() == line


def test_an_order_whose_lines_were_all_taken_off_is_filled_again_and_counts_for_nothing(owner_client, black, quay):
    OfferFactory(item=black, supplier=quay, pack_size=100, price_minor=1450, lead_days=5)
    empty = OrderFactory(supplier=quay)
    page = owner_client.get(PLAN)
    assert "Delivery $9.00" in seen(page)
    made(owner_client, page)
    assert Order.objects.get() == empty
    assert empty.lines.get().packs == 1


def test_two_deliveries_of_one_supplier_are_two_orders(owner_client, quay):
    """The slower one would hold up the other."""
    soon, later = short(ahead=6), short("White", ahead=20)
    OfferFactory(item=soon, supplier=quay, pack_size=100, price_minor=1450, lead_days=5)
    OfferFactory(item=later, supplier=quay, pack_size=100, price_minor=1450, lead_days=9)
    made(owner_client, owner_client.get(PLAN))
    assert sorted(order.lines.get().item_id for order in Order.objects.all()) == [soon.pk, later.pk]


def test_a_plan_does_not_join_an_order_that_was_placed(owner_client, black, quay):
    OfferFactory(item=black, supplier=quay, lead_days=5)
    placed = OrderFactory(supplier=quay, state="placed", placed_on=day(-1), expected_on=day(3))
    page = owner_client.get(PLAN)
    assert "It joins" not in seen(page)
    made(owner_client, page)
    assert Order.objects.exclude(pk=placed.pk).get().state == "planned"


def test_a_plan_joined_twice_over_adds_the_packs_up(owner_client, black, quay):
    offer = OfferFactory(item=black, supplier=quay, pack_size=100, price_minor=1450, lead_days=5)
    draft = OrderFactory(supplier=quay)
    OrderLineFactory(order=draft, item=black, packs=1, price_minor=9)
    ReservationFactory(item=black, quantity=100, needed_on=day(12))
    made(owner_client, owner_client.get(PLAN))
    line = draft.lines.get()
    assert (line.packs, line.price_minor) == (2, offer.price_minor)


def test_nothing_is_bought_from_a_supplier_who_is_left_out(owner_client, black, quay):
    other = SupplierFactory(name="Zephyr")
    OfferFactory(item=black, supplier=quay, price_minor=100, lead_days=5)
    OfferFactory(item=black, supplier=other, price_minor=9000, lead_days=5)
    assert 'id="order-0"><bdi>Quay</bdi>' in owner_client.get(PLAN).content.decode()
    page = owner_client.get(PLAN, {f"none_from_{quay.pk}": "on"})
    told = page.content.decode()
    assert 'id="order-0"><bdi>Zephyr</bdi>' in told
    assert re.search(rf'name="none_from_{quay.pk}"[^>]*checked', told)
    made(owner_client, page)
    assert Order.objects.get().supplier == other


def test_with_one_supplier_there_is_nobody_to_leave_out(owner_client, black, quay):
    OfferFactory(item=black, supplier=quay, lead_days=5)
    assert "none_from_" not in owner_client.get(PLAN).content.decode()


def test_what_cannot_be_read_is_said_beside_what_was_typed(owner_client, black, quay):
    bag = OfferFactory(item=black, supplier=quay, lead_days=5)
    answer = owner_client.get(PLAN, {f"packs_{bag.pk}": "many"})
    assert answer.status_code == 422
    assert "must be a whole number from 0 to 10000 (got “many”)" in seen(answer)
    assert 'value="many"' in answer.content.decode()


def test_a_plan_that_cannot_be_says_so(owner_client, black):
    strict = SupplierFactory(name="Strict", minimum_minor=90_000)
    bag = OfferFactory(item=black, supplier=strict, lead_days=5)
    answer = owner_client.get(PLAN, {f"packs_{bag.pk}": "1"})
    assert answer.status_code == 422
    assert "Free one of them and solve again" in seen(answer)


def test_what_cannot_arrive_is_said_with_the_nearest_that_is_there(owner_client, quay):
    black = short(ahead=3)
    OfferFactory(item=black, supplier=quay, lead_days=30)
    ink = MovementFactory(item=ItemFactory(colour=ColourFactory(name="Ink", swatch="#22314f"), size=11), quantity=70)
    told = seen(owner_client.get(PLAN))
    assert "56 cannot arrive by" in told
    assert "Ordered today it comes on" in told
    assert re.search(r"Nearest: Ink 11-inch \(ΔE \d+\.\d\), 70 free", told)
    assert "Swap 56 to Ink 11-inch in Black gala" in told
    assert ink.item.pk


def test_open_quotes_count_when_asked(owner_client, quay):
    item = MovementFactory(quantity=10).item
    ReservationFactory(item=item, quantity=30, needed_on=day(9), firm=False)
    OfferFactory(item=item, supplier=quay, lead_days=3)
    assert "Nothing is short" in seen(owner_client.get(PLAN))
    assert "1 item from 1 order" in seen(owner_client.get(PLAN, {"with": "open"}))


def test_htmx_gets_the_part(owner_client, black):
    part = owner_client.get(PLAN, headers={"HX-Request": "true", "HX-Target": "plan"}).content.decode()
    assert "<html" not in part
    assert part.count('id="plan"') == 1


def test_the_page_asks_as_little_however_much_is_short(owner_client, quay):
    asked = []
    for more in (40, 360):
        for _ in range(more):
            item = MovementFactory(quantity=5).item
            ReservationFactory(item=item, needed_on=day(14), quantity=20)
            OfferFactory(item=item, supplier=quay)
        with CaptureQueriesContext(connection) as captured:
            owner_client.get(PLAN)
        asked.append(len(captured))
    assert asked[0] == asked[1] <= 12


@pytest.mark.paper
def test_an_order_is_sent_as_paper_as_a_table_and_as_words(owner_client, quay):
    order = OrderFactory(supplier=quay)
    OrderLineFactory(order=order, item=ItemFactory(colour=ColourFactory(name="=Ink")), packs=2)
    pdf = owner_client.get(reverse("stock:order-pdf", args=[order.pk]))
    text = "".join(page.extract_text() for page in PdfReader(io.BytesIO(pdf.content)).pages)
    assert "To Quay" in text
    assert "2 × 100 = 200" in text
    table = owner_client.get(reverse("stock:order-csv", args=[order.pk])).content.decode("utf-8-sig")
    heads = "Item,Packs,In a pack,Quantity,Your name for it,Your order code"
    assert table.splitlines() == [heads, "'=Ink 11-inch,2,100,200,,"]
    page = owner_client.get(reverse("stock:order", args=[order.pk])).content.decode()
    mail = unquote(re.findall(r'href="(mailto:[^"]+)"', page)[0])
    assert mail.startswith("mailto:orders@quay.example?subject=Order")
    assert "2 × 100 =Ink 11-inch" in mail


def test_crew_cannot_open_what_is_sent(crew_client):
    order = OrderFactory()
    for name in ("order-pdf", "order-csv"):
        assert crew_client.get(reverse(f"stock:{name}", args=[order.pk])).status_code == 403


@pytest.mark.parametrize("text", ["=1", "+1", "-1", "@a", "\t=1", " =1", "＝1", "\n=1", "\0a"])
def test_a_cell_a_spreadsheet_would_reckon_with_is_made_plain(text):
    assert safe(text) == f"'{text}"


def test_the_terms_of_a_supplier_are_typed_and_shown(owner_client, quay):
    sent = {
        "form_key": str(uuid4()),
        "name": "Quay",
        "delivery_minor": "12.50",
        "free_from_minor": "",
        "minimum_minor": "",
    }
    assert send_opened(owner_client, reverse("stock:supplier", args=[quay.pk]), sent).status_code == 302
    quay.refresh_from_db()
    assert (quay.delivery_minor, quay.free_from_minor, quay.minimum_minor) == (1250, None, 0)
    assert "Delivery $12.50." in seen(owner_client.get(reverse("stock:supplier", args=[quay.pk])))
