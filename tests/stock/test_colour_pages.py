"""The colours the studio works in: listed, added, changed."""

import re
from uuid import uuid4

import pytest
from django.urls import reverse

from stock.models import Colour
from tests.factories import ColourFactory, ItemFactory
from tests.opened import send_opened

pytestmark = pytest.mark.django_db


def payload(**fields: object) -> dict[str, object]:
    good = {"name": "Sand", "swatch": "#e3d3b8", "typed": "", "finish": "standard", "position": "3", "in_use": "on"}
    return {"form_key": str(uuid4())} | good | fields


def add(browser, **fields: object):
    return browser.post(reverse("stock:colour-new"), payload(**fields))


def addresses() -> list[str]:
    return [
        reverse("stock:colours"),
        reverse("stock:colour-new"),
        reverse("stock:colour", args=[ColourFactory().pk]),
    ]


def test_a_stranger_is_sent_to_sign_in(client):
    for address in addresses():
        assert client.get(address).url.startswith(reverse("login"))


def test_crew_are_refused(crew_client):
    for address in addresses():
        assert crew_client.get(address).status_code == 403
    assert crew_client.post(reverse("stock:colours-starter"), {"form_key": str(uuid4())}).status_code == 403


def test_a_colour_that_is_not_there_is_not_found(owner_client):
    assert owner_client.get(reverse("stock:colour", args=[999])).status_code == 404


def test_every_colour_is_listed_as_its_disc(owner_client):
    ItemFactory(colour=ColourFactory(name="Ink", swatch="#22314f"))
    page = owner_client.get(reverse("stock:colours")).content.decode()
    assert 'color="#22314f"' in page
    assert "kept in 1 size" in page


def test_an_empty_list_offers_a_dozen_to_start_with(owner_client):
    assert "Start with twelve everyday colours" in owner_client.get(reverse("stock:colours")).content.decode()


def test_a_colour_is_added_as_typed(owner_client):
    assert add(owner_client, finish="pearl").status_code == 302
    colour = Colour.objects.get()
    assert (colour.name, colour.swatch, colour.finish, colour.position, colour.in_use) == (
        "Sand",
        "#e3d3b8",
        "pearl",
        3,
        True,
    )


def test_a_typed_code_is_used_before_the_swatch(owner_client):
    add(owner_client, typed="ABC")
    assert Colour.objects.get().swatch == "#aabbcc"


def test_a_colour_sent_twice_is_added_once(owner_client):
    key = str(uuid4())
    answers = [add(owner_client, form_key=key) for _ in range(2)]
    assert [answer.status_code for answer in answers] == [302, 302]
    assert Colour.objects.count() == 1


@pytest.mark.parametrize(
    ("fields", "sentence"),
    [
        pytest.param({"name": ""}, "Name is needed; nothing was typed.", id="no name"),
        pytest.param({"name": "   "}, "Name is needed; nothing was typed.", id="blank name"),
        pytest.param({"name": "n" * 5000}, "Name must be at most 40 characters long, not 5,000", id="5,000 characters"),
        pytest.param({"swatch": "red"}, "Swatch must be a # and six of 0-9 and a-f", id="a word for a swatch"),
        pytest.param({"typed": "#12345"}, "Or its code must be a # and six of 0-9 and a-f", id="five digits"),
        pytest.param({"typed": "#" * 5000}, "Or its code must be a # and six of 0-9 and a-f", id="5,000 hashes"),
        pytest.param(
            {"finish": "glitter"},
            "Finish must be one of standard, matte, pearl, metallic, clear, confetti, foil.",
            id="unknown finish",
        ),
        pytest.param({"form": "cube"}, "Shape must be one of round, heart, star.", id="unknown shape"),
        pytest.param(
            {"form": "heart", "finish": "pearl"},
            "Shape must be round for a finish other than foil (got heart in pearl).",
            id="a heart of latex",
        ),
        pytest.param(
            {"position": "-5"}, "Place in the list must be a whole number from 0 to 9999", id="negative place"
        ),
        pytest.param({"position": "1e309"}, "Place in the list must be a whole number", id="a place beyond numbers"),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence_and_nothing_is_saved(owner_client, fields, sentence):
    response = add(owner_client, **fields)
    assert response.status_code == 422
    assert sentence in response.content.decode()
    assert not Colour.objects.exists()


def test_what_was_typed_is_still_there_after_a_refusal(owner_client):
    page = add(owner_client, name="Sand 🎈", typed="#zzz", position="12").content.decode()
    assert 'value="Sand 🎈"' in page
    assert 'value="#zzz"' in page
    assert 'value="12"' in page


def test_a_name_its_finish_has_already_is_refused(owner_client):
    ColourFactory(name="Sand")
    response = add(owner_client, name="sAND")
    assert response.status_code == 422
    assert "there is a standard “sAND” already" in response.content.decode()


def test_a_name_may_come_again_in_another_finish(owner_client):
    ColourFactory(name="Sand")
    assert add(owner_client, finish="pearl").status_code == 302


@pytest.mark.parametrize("name", ["Sunset 🌅🎈", "كحلي غامق", "<script>alert(1)</script>", "Ink & “Sand”"])
def test_any_name_is_kept_and_shown_as_text(owner_client, name):
    add(owner_client, name=name)
    assert Colour.objects.get().name == name
    page = owner_client.get(reverse("stock:colours")).content.decode()
    assert "<script>alert" not in page


def test_a_colour_is_changed_and_keeps_its_own_name(owner_client):
    colour = ColourFactory(name="Sand")
    address = reverse("stock:colour", args=[colour.pk])
    assert send_opened(owner_client, address, payload(typed="#fff", in_use="")).status_code == 302
    colour.refresh_from_db()
    assert (colour.name, colour.swatch, colour.in_use) == ("Sand", "#ffffff", False)


def test_a_refused_change_leaves_the_heading_as_it_was(owner_client):
    colour = ColourFactory(name="Sand")
    page = owner_client.post(reverse("stock:colour", args=[colour.pk]), payload(name="x" * 41)).content.decode()
    assert re.search(r"<h1.*?<bdi>Sand</bdi>.*?</h1>", page, re.S)


def test_the_list_takes_as_many_queries_at_400_as_at_40(owner_client, django_assert_max_num_queries):
    counted = []
    for start, end in ((0, 40), (40, 400)):
        Colour.objects.bulk_create(Colour(name=f"Colour {n}", swatch="#112233") for n in range(start, end))
        owner_client.get(reverse("stock:colours"))
        with django_assert_max_num_queries(12) as found:
            owner_client.get(reverse("stock:colours"))
        counted.append(len(found))
    assert counted[0] == counted[1]


def test_a_long_list_comes_in_pages(owner_client):
    Colour.objects.bulk_create(Colour(name=f"Colour {n}", swatch="#112233") for n in range(205))
    page = owner_client.get(reverse("stock:colours"), {"page": "3"}).content.decode()
    assert "Page 3 of 3" in page
    assert page.count('<li class="row">') == 5
