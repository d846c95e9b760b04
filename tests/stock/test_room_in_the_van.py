"""How much room one of a thing takes in the van: said of kit with the rest, of things while they are counted."""

import re
from uuid import uuid4

import pytest
from django.db import IntegrityError, transaction
from django.urls import reverse

from stock import actions
from stock.forms.counting import room_words
from stock.models import Item, Kit
from stock.queries.tables import item_rows
from stock.weighing import piece_room
from studio.models import Studio
from tests.factories import NOON, ItemFactory, MovementFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def frond() -> Item:
    item = ItemFactory(sort="other", colour=None, size=None, name="Eucalyptus", place="Rack 2")
    MovementFactory(item=item, quantity=12)
    return item


def said(browser, item: Item, **fields: str):
    return browser.post(reverse("stock:count-room", args=[item.pk]), {"form_key": str(uuid4())} | fields)


def seen(answer) -> str:
    return " ".join(re.sub(r"<[^>]+>", " ", answer.content.decode()).split())


@pytest.mark.parametrize(
    ("millilitres", "pieces", "one"),
    [
        pytest.param(56_600, 10, 5_660, id="ten in two cubic feet"),
        pytest.param(10, 4, 3, id="a half goes up"),
        pytest.param(1, 10, 1, id="never nothing"),
    ],
)
def test_the_room_of_one_is_learnt_from_a_known_number(millilitres, pieces, one):
    assert piece_room(millilitres, pieces) == one


@pytest.mark.parametrize(("millilitres", "pieces"), [(0, 10), (10, 0), (-5, 3)])
def test_no_room_is_learnt_from_nothing(millilitres, pieces):
    with pytest.raises(ValueError, match="A known number that takes some room is needed"):
        piece_room(millilitres, pieces)


@pytest.mark.parametrize(
    ("measures", "typed", "millilitres", "told"),
    [
        pytest.param("imperial", "2 ft³", 5_660, "One takes 0.2 ft³.", id="cubic feet"),
        pytest.param("imperial", "2", 5_660, "One takes 0.2 ft³.", id="a bare number of an imperial studio"),
        pytest.param("metric", "55", 5_500, "One takes 5.5 l.", id="a bare number of a metric studio"),
        pytest.param("metric", "0.06 m³", 6_000, "One takes 6 l.", id="cubic metres"),
    ],
)
def test_the_room_of_a_thing_is_said_while_it_is_counted(crew_client, frond, measures, typed, millilitres, told):
    Studio.objects.update_or_create(pk=1, defaults={"name": "Tern", "measures": measures})
    assert said(crew_client, frond, pieces="10", room=typed).status_code == 302
    frond.refresh_from_db()
    assert frond.room_millilitres == millilitres
    assert told in seen(crew_client.get(reverse("stock:count"), {"find": "Eucalyptus"}))


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        pytest.param({"room": "0 l"}, "Room must be more than nothing (got 0 l).", id="no room"),
        pytest.param(
            {"room": "a lot"},
            "Take up together must be a number, with l or ft³ or m³ behind it (got “a lot”).",
            id="words",
        ),
        pytest.param({"room": ""}, "Take up together is needed; nothing was typed.", id="nothing"),
        pytest.param({"pieces": "0"}, "So many of them must be", id="none of them"),
        pytest.param({"room": "11 m³"}, "must be from 0 m³ to 10 m³", id="more than a van"),
    ],
)
def test_a_room_that_cannot_be_is_refused_with_what_was_typed(crew_client, frond, fields, words):
    answer = said(crew_client, frond, **({"pieces": "10", "room": "2 ft³"} | fields))
    assert answer.status_code == 422
    assert words in seen(answer)
    assert f'value="{fields.get("room", "2 ft³")}"' in answer.content.decode() or not fields.get("room", "x")
    frond.refresh_from_db()
    assert frond.room_millilitres is None


def test_a_balloon_is_not_asked_for_its_room(crew_client, frond):
    ItemFactory(place="Rack 2")
    assert seen(crew_client.get(reverse("stock:count"), {"place": "Rack 2"})).count("Say its room in the van") == 1


def test_the_room_of_kit_is_said_with_the_rest_of_it(owner_client):
    fields = {"form_key": str(uuid4()), "name": "Arch frame", "sort": "frame", "owned": "1", "cleaning_days": "0"}
    answer = owner_client.post(reverse("stock:kit-new"), fields | {"room": "3.5 ft³"}, follow=True)
    assert Kit.objects.get().room_millilitres == 99_100
    assert "Room of one in the van 3.5 ft³" in seen(answer)
    page = owner_client.get(reverse("stock:kit-edit", args=[Kit.objects.get().pk])).content.decode()
    assert 'value="3.5 ft³"' in page


def test_kit_of_no_room_is_refused_with_what_was_typed(owner_client):
    fields = {"form_key": str(uuid4()), "name": "Arch frame", "sort": "frame", "owned": "1", "cleaning_days": "0"}
    answer = owner_client.post(reverse("stock:kit-new"), fields | {"room": "0 l"})
    assert answer.status_code == 422
    assert "Room of one in the van must be from 1 l to 10000 l (got “0 l”)." in seen(answer)
    assert 'value="0 l"' in answer.content.decode()


@pytest.mark.parametrize("model", [Item, Kit])
def test_the_database_refuses_a_thing_of_no_room(model, frond):
    Kit.objects.create(name="Plinth")
    with pytest.raises(IntegrityError), transaction.atomic():
        model.objects.update(room_millilitres=0)
    assert model.objects.update(room_millilitres=1) == 1


def test_the_table_of_items_carries_the_room(frond, crew):
    actions.learn_room(item=frond, pieces=2, millilitres=11_000, by=crew, at=NOON)
    head, row = item_rows()
    assert dict(zip(head, row, strict=True))["room_millilitres"] == 5_500


@pytest.mark.parametrize(("millilitres", "words"), [(None, ""), (28_317, "1 ft³"), (1_000, "0.04 ft³")])
def test_a_room_is_shown_in_the_studios_own_unit(millilitres, words):
    assert room_words(millilitres, "imperial") == words
