"""What a supplier calls an item, from the offer to the order that is sent."""

from urllib.parse import unquote
from uuid import uuid4

import pytest
from django.urls import reverse

from stock import actions, paperwork
from stock.models import Offer, OrderLine
from studio.models import Studio
from tests.factories import NOON, ColourFactory, ItemFactory, OfferFactory, SupplierFactory
from tests.opened import send_opened

pytestmark = pytest.mark.django_db


@pytest.fixture
def offer(db):
    item = ItemFactory(colour=ColourFactory(name="Ink"))
    return OfferFactory(item=item, their_name="Midnight <Harbour>", their_code="=B-204")


@pytest.fixture
def order(offer, owner):
    return actions.plan_order(supplier=offer.supplier, lines=[(offer, 2)], by=owner, at=NOON)


def sent(**changed) -> dict[str, str]:
    return {"form_key": str(uuid4()), "pack_size": "50", "price": "9.00", "lead_days": "4"} | changed


@pytest.mark.parametrize(
    ("name", "code", "said"),
    [
        pytest.param("Midnight", "B-204", "Midnight (B-204)", id="both"),
        pytest.param("Midnight", "", "Midnight", id="a name alone"),
        pytest.param("", "B-204", "B-204", id="a code alone"),
        pytest.param("", "", "", id="neither"),
    ],
)
def test_their_words_are_what_is_written_down(name, code, said):
    assert Offer(their_name=name, their_code=code).in_their_words == said
    assert OrderLine(their_name=name, their_code=code).in_their_words == said


def test_an_offer_is_written_with_what_they_call_it(owner_client):
    supplier, item = SupplierFactory(), ItemFactory()
    form = sent(colour=str(item.colour_id), size=str(item.size), their_name="Midnight", their_code="B-204")
    owner_client.post(reverse("stock:offer-new", args=[supplier.pk]), form)
    made = supplier.offers.get()
    assert (made.their_name, made.their_code) == ("Midnight", "B-204")


def test_an_offer_is_changed_with_what_they_call_it_filled_in(owner_client, offer):
    address = reverse("stock:offer", args=[offer.supplier_id, offer.pk])
    assert 'value="Midnight &lt;Harbour&gt;"' in owner_client.get(address).content.decode()
    send_opened(owner_client, address, sent(their_name="Deep sea", their_code=""))
    offer.refresh_from_db()
    assert offer.in_their_words == "Deep sea"


def test_a_name_too_long_for_its_place_is_refused_with_its_length(owner_client, offer):
    address = reverse("stock:offer", args=[offer.supplier_id, offer.pk])
    answer = owner_client.post(address, sent(their_name="x" * 81))
    assert answer.status_code == 422
    assert "What they call it must be at most 80 characters long, not 81" in answer.content.decode()


def test_an_order_keeps_what_they_called_it(offer, order):
    Offer.objects.filter(pk=offer.pk).update(their_name="Renamed")
    assert order.lines.get().in_their_words == "Midnight <Harbour> (=B-204)"


def test_more_packs_take_the_newest_name(offer, order, owner):
    offer.their_name = "Renamed"
    offer.save()
    actions.add_to_planned_order(offer=offer, packs=1, by=owner, at=NOON)
    line = order.lines.get()
    assert (line.packs, line.their_name) == (3, "Renamed")


@pytest.mark.parametrize("page", ["order", "supplier"])
def test_their_words_are_on_the_page(owner_client, offer, order, page):
    address = reverse(f"stock:{page}", args=[order.pk if page == "order" else offer.supplier_id])
    assert "theirs: <bdi>Midnight &lt;Harbour&gt; (=B-204)</bdi>" in owner_client.get(address).content.decode()


@pytest.mark.paper
def test_their_words_are_in_the_table_the_mail_and_on_paper(order):
    lines = list(order.lines.select_related("item__colour"))
    assert paperwork.order_csv(lines).splitlines()[1] == "Ink 11-inch,2,100,200,Midnight <Harbour>,'=B-204"
    mail = unquote(paperwork.order_mail(order, lines, Studio(name="Tern & Tide")))
    assert "2 × 100 Ink 11-inch – yours: Midnight <Harbour> (=B-204)" in mail
    assert paperwork.order_pdf(order, lines, Studio(name="Tern & Tide", currency="USD"), made_at=NOON).startswith(
        b"%PDF"
    )


def test_a_line_without_their_words_says_nothing_of_them(owner):
    offer = OfferFactory()
    order = actions.plan_order(supplier=offer.supplier, lines=[(offer, 1)], by=owner, at=NOON)
    assert "yours" not in unquote(paperwork.order_mail(order, list(order.lines.all()), Studio(name="Tern & Tide")))
