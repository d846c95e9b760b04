"""Who the studio buys from, and what each of them asks."""

import re
from uuid import uuid4

import pytest
from django.urls import reverse

from stock.models import Item, Offer, OrderLine, Supplier
from studio.models import Studio
from tests.factories import ColourFactory, ItemFactory, OfferFactory, OrderFactory, OrderLineFactory, SupplierFactory
from tests.opened import send_opened

pytestmark = pytest.mark.django_db


@pytest.fixture
def quay(db) -> Supplier:
    """One supplier."""
    return SupplierFactory(name="Quay Wholesale")


def payload(**fields: object) -> dict[str, object]:
    return {"form_key": str(uuid4()), "pack_size": "100", "price": "12.50", "lead_days": "3"} | fields


def add_offer(browser, supplier: Supplier, **fields: object):
    return browser.post(reverse("stock:offer-new", args=[supplier.pk]), payload(**fields))


def balloon() -> dict[str, object]:
    return {"colour": ColourFactory(name="Ink").pk, "size": "11"}


def seen(response) -> str:
    """The page as somebody reads it."""
    return " ".join(re.sub(r"<[^>]+>", " ", response.content.decode()).split())


def addresses(supplier: Supplier) -> list[str]:
    offer = OfferFactory(supplier=supplier)
    return [
        reverse("stock:suppliers"),
        reverse("stock:supplier-new"),
        reverse("stock:supplier", args=[supplier.pk]),
        reverse("stock:offer", args=[supplier.pk, offer.pk]),
    ]


def test_a_stranger_is_sent_to_sign_in(client, quay):
    for address in addresses(quay):
        assert client.get(address).url.startswith(reverse("login"))


def test_crew_are_refused(crew_client, quay):
    offer = OfferFactory(supplier=quay)
    for address in addresses(quay):
        assert crew_client.get(address).status_code == 403
    assert add_offer(crew_client, quay).status_code == 403
    remove = reverse("stock:offer-remove", args=[quay.pk, offer.pk])
    assert crew_client.post(remove, {"form_key": str(uuid4())}).status_code == 403
    assert Offer.objects.filter(pk=offer.pk).exists()


def test_what_is_not_there_is_not_found(owner_client, quay):
    elsewhere = OfferFactory()
    assert owner_client.get(reverse("stock:supplier", args=[999])).status_code == 404
    assert owner_client.get(reverse("stock:offer", args=[quay.pk, 999])).status_code == 404
    assert owner_client.get(reverse("stock:offer", args=[quay.pk, elsewhere.pk])).status_code == 404


def test_an_empty_list_says_what_to_do(owner_client):
    assert "Nobody to buy from yet" in seen(owner_client.get(reverse("stock:suppliers")))


def test_a_supplier_is_added_and_leads_to_its_offers(owner_client):
    sent = {"form_key": str(uuid4()), "name": "Quay 🎈", "email": "orders@quay.example", "phone": "555 0100"}
    response = owner_client.post(reverse("stock:supplier-new"), sent)
    supplier = Supplier.objects.get()
    assert response.url == reverse("stock:supplier", args=[supplier.pk])
    assert (supplier.name, supplier.email, supplier.phone) == ("Quay 🎈", "orders@quay.example", "555 0100")


def test_a_supplier_sent_twice_is_added_once(owner_client):
    sent = {"form_key": str(uuid4()), "name": "Quay"}
    answers = [owner_client.post(reverse("stock:supplier-new"), sent).status_code for _ in range(2)]
    assert answers == [302, 302]
    assert Supplier.objects.count() == 1


@pytest.mark.parametrize(
    ("fields", "sentence"),
    [
        pytest.param({"name": ""}, "Name is needed; nothing was typed.", id="no name"),
        pytest.param({"name": "QUAY wholesale"}, "there is a supplier “QUAY wholesale” already", id="a name taken"),
        pytest.param({"name": "n" * 5000}, "Name must be at most 80 characters long, not 5,000", id="5,000 characters"),
        pytest.param({"name": "N", "email": "nonsense"}, "E-mail must be an address such as", id="no address"),
        pytest.param({"name": "N", "phone": "5" * 5000}, "Phone must be at most 40 characters long", id="a long phone"),
    ],
)
def test_a_supplier_that_cannot_be_is_refused(owner_client, quay, fields, sentence):
    response = owner_client.post(reverse("stock:supplier-new"), {"form_key": str(uuid4())} | fields)
    assert response.status_code == 422
    assert sentence in seen(response)
    assert Supplier.objects.get() == quay


def test_a_supplier_is_changed(owner_client, quay):
    sent = {"form_key": str(uuid4()), "name": "Quay Wholesale", "email": "", "phone": "555 0199"}
    assert send_opened(owner_client, reverse("stock:supplier", args=[quay.pk]), sent).status_code == 302
    quay.refresh_from_db()
    assert quay.phone == "555 0199"


def test_a_refused_change_leaves_the_heading_as_it_was(owner_client, quay):
    sent = {"form_key": str(uuid4()), "name": "x" * 81}
    response = owner_client.post(reverse("stock:supplier", args=[quay.pk]), sent)
    assert "<h1><bdi>Quay Wholesale</bdi></h1>" in response.content.decode()


def test_an_offer_of_a_listed_balloon_uses_the_item_there_is(owner_client, quay):
    item = ItemFactory()
    add_offer(owner_client, quay, colour=item.colour_id, size="11")
    offer = Offer.objects.get()
    assert (offer.item, offer.pack_size, offer.price_minor, offer.lead_days) == (item, 100, 1250, 3)


def test_an_offer_of_a_balloon_not_listed_lists_it(owner_client, quay):
    add_offer(owner_client, quay, **balloon())
    assert Offer.objects.get().item.label == "Ink 11-inch"


def test_an_offer_of_something_listed_by_name_uses_it(owner_client, quay):
    line = ItemFactory(sort="line", name="Line", colour=None, size=None)
    add_offer(owner_client, quay, item_listed=line.pk)
    assert Offer.objects.get().item == line


def test_an_offer_of_something_new_lists_it_by_name(owner_client, quay):
    add_offer(owner_client, quay, sort="hook", name="Hooks")
    assert Offer.objects.get().item.label == "Hooks"


def test_an_offer_sent_twice_is_added_once(owner_client, quay):
    sent = payload(**balloon())
    answers = [owner_client.post(reverse("stock:offer-new", args=[quay.pk]), sent).status_code for _ in range(2)]
    assert answers == [302, 302]
    assert Offer.objects.count() == 1


@pytest.mark.parametrize(
    ("fields", "sentence"),
    [
        pytest.param({"price": "abc"}, "Price of a pack must be", id="a word"),
        pytest.param({"price": "-5"}, "Price of a pack must be", id="less than nothing"),
        pytest.param({"price": "1e309"}, "Price of a pack must be", id="beyond numbers"),
        pytest.param({"price": "NaN"}, "Price of a pack must be", id="not a number"),
        pytest.param({"price": "12.345"}, "at most 2 decimals", id="a third decimal"),
        pytest.param({"price": "99999999999"}, "Price of a pack must be at most", id="more than a studio has"),
        pytest.param({"price": ""}, "Price of a pack is needed", id="no price"),
        pytest.param({"price": "9" * 5000}, "Price of a pack must be", id="5,000 digits"),
        pytest.param({"pack_size": "0"}, "In a pack must be a whole number from 1", id="an empty pack"),
        pytest.param({"lead_days": "soon"}, "Lead days must be a whole number from 0 to 365", id="a word for days"),
    ],
)
def test_an_offer_that_cannot_be_is_refused_with_its_value(owner_client, quay, fields, sentence):
    response = add_offer(owner_client, quay, **balloon(), **fields)
    assert response.status_code == 422
    assert sentence in seen(response)
    (typed,) = fields.values()
    assert typed[:24] in seen(response)
    assert not Offer.objects.exists()
    assert not Item.objects.exists()


@pytest.mark.parametrize(
    ("fields", "sentence"),
    [
        pytest.param({}, "Balloon colour is needed, or something else with a name", id="nothing chosen"),
        pytest.param({"size": "11"}, "Balloon colour is needed", id="no colour"),
        pytest.param({"colour": "999", "size": "11"}, "Balloon colour must be a colour of yours", id="unknown colour"),
        pytest.param({"colour": "x" * 5000}, "Balloon colour must be a colour of yours", id="nonsense for a colour"),
        pytest.param({"size": "13"}, "Nominal size must be one of the sizes", id="unknown size"),
        pytest.param({"name": "Hooks"}, "Say what “Hooks” is", id="a name without a kind"),
        pytest.param({"sort": "hook"}, "Its name is needed", id="a kind without a name"),
        pytest.param({"sort": "hook", "name": "H", "size": "11"}, "not both", id="a hook of a size"),
        pytest.param({"item_listed": "999"}, "must be something on the shelf", id="unknown item"),
    ],
)
def test_an_offer_of_nothing_in_particular_is_refused(owner_client, quay, fields, sentence):
    response = add_offer(owner_client, quay, **fields)
    assert response.status_code == 422
    assert sentence in seen(response)


def test_a_second_price_for_the_same_pack_is_refused(owner_client, quay):
    offer = OfferFactory(supplier=quay, item=ItemFactory(colour=ColourFactory(name="Ink")))
    response = add_offer(owner_client, quay, colour=offer.item.colour_id, size="11")
    assert response.status_code == 422
    assert "Quay Wholesale has an offer of Ink 11-inch in packs of 100 already" in seen(response)


def test_what_was_typed_is_still_there_after_a_refusal(owner_client, quay):
    page = add_offer(owner_client, quay, sort="hook", name="Hooks 🎈", price="abc").content.decode()
    assert 'value="abc"' in page
    assert 'value="Hooks 🎈"' in page
    assert '<option value="hook" selected>' in page


def test_a_price_is_typed_in_the_studios_currency(owner_client, quay):
    Studio.objects.update_or_create(pk=1, defaults={"currency": "JPY"})
    assert add_offer(owner_client, quay, **balloon(), price="1250").status_code == 302
    assert Offer.objects.get().price_minor == 1250
    assert "100 for ¥1,250" in seen(owner_client.get(reverse("stock:supplier", args=[quay.pk])))


def test_an_offer_is_changed(owner_client, quay):
    offer = OfferFactory(supplier=quay)
    address = reverse("stock:offer", args=[quay.pk, offer.pk])
    assert 'value="$15.00"' in owner_client.get(address).content.decode()
    assert send_opened(owner_client, address, payload(price="$9.99", pack_size="50")).status_code == 302
    offer.refresh_from_db()
    assert (offer.price_minor, offer.pack_size) == (999, 50)


def test_an_offer_is_removed_once_and_its_orders_stay(owner_client, quay):
    offer = OfferFactory(supplier=quay)
    OrderLineFactory(order=OrderFactory(supplier=quay), item=offer.item)
    sent = {"form_key": str(uuid4())}
    address = reverse("stock:offer-remove", args=[quay.pk, offer.pk])
    answers = [owner_client.post(address, sent).url for _ in range(2)]
    assert answers == [reverse("stock:supplier", args=[quay.pk])] * 2
    assert not Offer.objects.exists()
    assert OrderLine.objects.count() == 1


@pytest.mark.parametrize("name", ["<script>alert(1)</script>", "كحلي للجملة", "Quay 🎈" * 10])
def test_any_name_is_shown_as_text(owner_client, name):
    supplier = SupplierFactory(name=name)
    for address in addresses(supplier):
        assert "<script>alert" not in owner_client.get(address).content.decode()


def test_the_list_takes_as_many_queries_at_400_as_at_40(owner_client, django_assert_max_num_queries):
    counted = []
    for start, end in ((0, 40), (40, 400)):
        Supplier.objects.bulk_create(Supplier(name=f"Supplier {n}") for n in range(start, end))
        owner_client.get(reverse("stock:suppliers"))
        with django_assert_max_num_queries(12) as found:
            owner_client.get(reverse("stock:suppliers"))
        counted.append(len(found))
    assert counted[0] == counted[1]


def test_the_offers_take_as_many_queries_at_400_as_at_40(owner_client, quay, django_assert_max_num_queries):
    item, counted = ItemFactory(), []
    for start, end in ((1, 41), (41, 401)):
        Offer.objects.bulk_create(
            Offer(supplier=quay, item=item, pack_size=n, price_minor=5, lead_days=1) for n in range(start, end)
        )
        owner_client.get(reverse("stock:supplier", args=[quay.pk]))
        with django_assert_max_num_queries(12) as found:
            owner_client.get(reverse("stock:supplier", args=[quay.pk]))
        counted.append(len(found))
    assert counted[0] == counted[1]
