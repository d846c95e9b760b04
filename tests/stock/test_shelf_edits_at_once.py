"""Two people with the same form of the shelf open: the second is told what is saved by now, and nothing is lost."""

import uuid
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

import pytest
from django.db.models import Model
from django.urls import reverse

from stock.models import Colour, DoubleRecipe, Lot
from tests.factories import NOON, TODAY, ColourFactory, ItemFactory, KitFactory, OfferFactory, SupplierFactory
from tests.opened import edition_in

pytestmark = pytest.mark.django_db

SUPPLIER = {"name": "Quay", "email": "", "phone": "", "delivery_minor": "", "free_from_minor": "", "minimum_minor": ""}
OFFER = {"pack_size": "100", "price": "12.50", "lead_days": "3", "their_name": "", "their_code": ""}
KIT = {"name": "Round frame", "sort": "frame", "cleaning_days": "1", "wear_minor": "", "weight": "", "room": ""}
COLOUR = {"name": "Ink", "swatch": "#22314f", "finish": "standard", "form": "round", "position": "0", "in_use": "on"}


@dataclass(frozen=True)
class Page:
    """The form of one row: its route, how the row is made, and how its usual fields are filled in."""

    route: str
    made: Callable[[], Model | None]
    usual: Callable[[Any], Mapping[str, Any]]

    def address(self, row: Any) -> str:
        if self.route == "stock:offer":
            return reverse(self.route, args=[row.supplier_id, row.pk])
        if self.route == "stock:lot":
            return reverse(self.route, args=[row.item_id, row.pk])
        return reverse(self.route, args=[row.pk] if row else [])


def recipe() -> Model:
    outer, inner, slate = (ColourFactory(name=name) for name in ("Ink", "White", "Slate"))
    return DoubleRecipe.objects.create(outer=outer, inner=inner, looks_like=slate, swatch="#22314f")


def lot() -> Model:
    return Lot.objects.create(item=ItemFactory(), received_on=TODAY)


def of_recipe(row: Any) -> Mapping[str, Any]:
    return {"outer": row.outer_id, "inner": row.inner_id, "looks_like": row.looks_like_id, "swatch": row.swatch}


ITEM_PAGE = Page("stock:item-edit", ItemFactory, lambda _: {"keep_back": "5", "place": ""})
COLOUR_PAGE = Page("stock:colour", lambda: ColourFactory(name="Ink"), lambda _: COLOUR)
KIT_PAGE = Page("stock:kit-edit", lambda: KitFactory(name="Round frame"), lambda _: KIT)
SUPPLIER_PAGE = Page("stock:supplier", lambda: SupplierFactory(name="Quay"), lambda _: SUPPLIER)
OFFER_PAGE = Page("stock:offer", OfferFactory, lambda _: OFFER)
LOT_PAGE = Page("stock:lot", lot, lambda _: {"best_before": "", "place": ""})
RECIPE_PAGE = Page("stock:double", recipe, of_recipe)
RULES_PAGE = Page("stock:rules", lambda: None, lambda _: {"latex_months": "24", "most_unexplained": "5"})

PAGES = [
    pytest.param(ITEM_PAGE, "place", "Box 1", "Box 2", "Place on the shelf is “Box 1” now.", id="an item"),
    pytest.param(COLOUR_PAGE, "finish", "matte", "pearl", "Finish is “matte” now.", id="a colour"),
    pytest.param(KIT_PAGE, "weight", "14 lb", "15 lb", "Weight of one is “14 lb” now.", id="kit"),
    pytest.param(SUPPLIER_PAGE, "delivery_minor", "9", "8", "Delivery is “$9.00” now.", id="a supplier"),
    pytest.param(OFFER_PAGE, "price", "13.00", "14.00", "Price of a pack is “$13.00” now.", id="an offer"),
    pytest.param(LOT_PAGE, "place", "Box 1", "Box 2", "Place on the shelf is “Box 1” now.", id="a lot"),
    pytest.param(RECIPE_PAGE, "swatch", "#445566", "#778899", "How it looks is “#445566” now.", id="a recipe"),
    pytest.param(RULES_PAGE, "latex_months", "30", "18", "good for so many months is “30” now.", id="the rules"),
]


def key() -> dict[str, str]:
    return {"form_key": str(uuid.uuid4())}


def shown(answer: Any, field: str) -> str:
    """What stands in a field of the form that came back."""
    return str(answer.context["form"][field].value())


@pytest.mark.parametrize(("page", "field", "theirs", "mine", "told"), PAGES)
def test_who_saves_second_is_told_what_is_saved_and_may_save_once_they_have_looked(
    owner_client, page, field, theirs, mine, told
):
    row = page.made()
    address, usual = page.address(row), page.usual(row)
    seen = edition_in(owner_client.get(address))
    first = owner_client.post(address, {**usual, **key(), "seen": seen, field: theirs})
    assert first.status_code == 302

    sent = {**usual, **key(), field: mine}
    refused = owner_client.post(address, sent | {"seen": seen})
    assert refused.status_code == 422
    said = refused.content.decode()
    assert "was changed by somebody else since you opened it" in said
    assert told in said
    assert shown(refused, field) == mine
    saved = shown(owner_client.get(address), field)
    assert saved != mine

    assert owner_client.post(address, sent | {"seen": edition_in(refused)}).status_code == 302
    assert shown(owner_client.get(address), field) not in (saved, theirs)


@pytest.mark.parametrize(("page", "field", "theirs", "mine", "told"), PAGES)
def test_a_form_without_its_edition_is_shown_again_with_what_was_typed(owner_client, page, field, theirs, mine, told):
    row = page.made()
    address = page.address(row)
    before = shown(owner_client.get(address), field)
    sent = {**page.usual(row), **key(), field: mine}
    answer = owner_client.post(address, sent)
    assert answer.status_code == 422
    assert "this form is from before" in answer.content.decode()
    assert shown(answer, field) == mine
    assert shown(owner_client.get(address), field) == before
    assert owner_client.post(address, sent | {"seen": edition_in(answer)}).status_code == 302


@pytest.mark.parametrize(("page", "field", "theirs", "mine", "told"), PAGES)
def test_a_form_that_is_sent_twice_meets_its_own_first_answer(owner_client, page, field, theirs, mine, told):
    row = page.made()
    address = page.address(row)
    sent = {**page.usual(row), **key(), "seen": edition_in(owner_client.get(address)), field: mine}
    assert [owner_client.post(address, sent).status_code for _ in range(2)] == [302, 302]


def test_a_slip_leaves_a_form_the_edition_it_was_opened_with(owner_client):
    row = SUPPLIER_PAGE.made()
    address = SUPPLIER_PAGE.address(row)
    seen = edition_in(owner_client.get(address))
    owner_client.post(address, SUPPLIER | key() | {"seen": seen, "phone": "555-0101"})
    slipped = owner_client.post(address, SUPPLIER | key() | {"seen": seen, "email": "nonsense"})
    assert edition_in(slipped) == seen
    again = owner_client.post(address, SUPPLIER | key() | {"seen": edition_in(slipped), "phone": "555-0102"})
    assert "Phone is “555-0101” now." in again.content.decode()


def test_what_both_typed_alike_is_not_told(owner_client):
    row = SUPPLIER_PAGE.made()
    address = SUPPLIER_PAGE.address(row)
    seen = edition_in(owner_client.get(address))
    owner_client.post(address, SUPPLIER | key() | {"seen": seen, "delivery_minor": "9.50", "phone": "555-0101"})
    again = owner_client.post(address, SUPPLIER | key() | {"seen": seen, "delivery_minor": "9.5", "phone": "555-0102"})
    assert [name for name in again.context["form"].errors if name != "__all__"] == ["phone"]


def test_a_box_that_was_unticked_is_told(owner_client):
    colour = COLOUR_PAGE.made()
    address = COLOUR_PAGE.address(colour)
    seen = edition_in(owner_client.get(address))
    theirs = {name: value for name, value in COLOUR.items() if name != "in_use"}
    owner_client.post(address, theirs | key() | {"seen": seen})
    again = owner_client.post(address, COLOUR | key() | {"seen": seen})
    assert "In use is not ticked now." in again.content.decode()


def test_a_choice_is_told_in_its_words(owner_client):
    row = recipe()
    other = ColourFactory(name="Coal")
    address, usual = RECIPE_PAGE.address(row), RECIPE_PAGE.usual(row)
    seen = edition_in(owner_client.get(address))
    owner_client.post(address, {**usual, **key(), "seen": seen, "looks_like": other.pk})
    again = owner_client.post(address, {**usual, **key(), "seen": seen})
    assert "Stands in for is “Coal” now." in again.content.decode()


@pytest.mark.parametrize(
    ("page", "written"),
    [
        pytest.param(ITEM_PAGE, {"piece_milligrams": 2600}, id="weighed on the count sheet"),
        pytest.param(KIT_PAGE, {"retired_at": NOON}, id="retired"),
    ],
)
def test_what_somebody_writes_beside_the_fields_of_a_form_stays(owner_client, page, written, monkeypatch):
    row: Any = page.made()
    model, save = type(row), type(row).save
    address = page.address(row)
    sent = {**page.usual(row), **key(), "seen": edition_in(owner_client.get(address))}

    def write_beside(self: Any, *args: Any, **how: Any) -> None:
        model.objects.filter(pk=row.pk).update(**written)
        save(self, *args, **how)

    monkeypatch.setattr(model, "save", write_beside)
    assert owner_client.post(address, sent).status_code == 302
    assert model.objects.filter(pk=row.pk, **written).exists()


def test_a_refused_colour_keeps_its_heading(owner_client):
    colour = COLOUR_PAGE.made()
    assert isinstance(colour, Colour)
    address = COLOUR_PAGE.address(colour)
    seen = edition_in(owner_client.get(address))
    answer = owner_client.post(address, COLOUR | key() | {"seen": seen, "name": "n" * 41, "swatch": "#ffffff"})
    assert "<bdi>Ink</bdi></h1>" in answer.content.decode()
