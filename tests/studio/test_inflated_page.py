"""The studio's own table of inflated diameters: typed, kept, and asked which bag a wanted diameter comes from."""

import uuid
from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from estimating.bags import HELIUM_INFLATED
from estimating.models import InflatedDiameter
from estimating.queries import inflated_in_force
from estimating.specs import INFLATED, SIZES
from studio.models import Studio
from tests.opened import edition_in, send_opened

PAGE = reverse("settings-inflated")
INCH = Decimal("25.4")


def key() -> dict[str, str]:
    """The key of a form just shown."""
    return {"form_key": str(uuid.uuid4())}


def kept() -> dict[str, Decimal]:
    """What is kept, by field."""
    return {f"{row.gas}-{row.size}": row.mm for row in InflatedDiameter.objects.all()}


def measure_in(measures: str) -> None:
    """Have the studio type and read lengths so."""
    Studio.objects.update_or_create(pk=1, defaults={"measures": measures})


@pytest.fixture
def metric(db) -> None:
    measure_in("metric")


def test_every_size_is_shown_with_what_is_usual_and_what_is_allowed(owner_client):
    page = owner_client.get(PAGE).content.decode()
    for size in SIZES:
        assert f'name="air-{size}"' in page
        assert (f'name="helium-{size}"' in page) == (size in HELIUM_INFLATED)
    assert "Usually 9½ in; from 6 in to 11 in" in page
    assert "Usually 10¾ in; from 7 in to 11 in" in page
    assert "keep their picture and their counts until you open them and keep them again" in page


def test_what_is_shown_is_in_the_studios_measures(owner_client, metric):
    page = owner_client.get(PAGE).content.decode()
    assert "Usually 24.1 cm; from 15.3 cm to 27.9 cm" in page


def test_own_diameters_are_kept_and_what_is_left_empty_stays_as_usual(owner_client):
    answer = send_opened(
        owner_client, PAGE, {"air-11": "9", "air-5": " 4½ in ", "helium-11": "10 1/2", "air-16": ""} | key()
    )
    assert answer.status_code == 302
    assert kept() == {"air-11": 9 * INCH, "air-5": Decimal("114.3"), "helium-11": Decimal("266.7")}
    table = inflated_in_force()
    assert (table[11], table[5], table[16]) == (9.0, 4.5, INFLATED[16])
    assert (table.helium[11], table.helium[36]) == (10.5, HELIUM_INFLATED[36])


def test_a_diameter_is_shown_again_as_it_was_typed(owner_client):
    send_opened(owner_client, PAGE, {"air-11": "9.25", "air-12": "26 cm"} | key())
    page = owner_client.get(PAGE).content.decode()
    assert 'value="9.25"' in page
    assert 'value="26 cm"' in page


def test_a_diameter_without_a_unit_says_it_once_the_studio_measures_otherwise(owner_client):
    send_opened(owner_client, PAGE, {"air-11": "9.25"} | key())
    measure_in("metric")
    assert 'value="9.25 in"' in owner_client.get(PAGE).content.decode()
    assert send_opened(owner_client, PAGE, {"air-11": "9.25 in"} | key()).status_code == 302
    assert kept() == {"air-11": Decimal("234.95")}


def test_a_number_alone_is_centimetres_in_a_metric_studio(owner_client, metric):
    send_opened(owner_client, PAGE, {"air-11": "22,5", "air-5": "12"} | key())
    assert kept() == {"air-11": Decimal(225), "air-5": Decimal(120)}


@pytest.mark.parametrize(
    ("measures", "field", "typed", "said"),
    [
        pytest.param(
            "imperial",
            "air-11",
            "11.5",
            "11-inch with air must be from 6 in to 11 in (got “11.5”).",
            id="beyond the bag",
        ),
        pytest.param("imperial", "air-11", "5½", "11-inch with air must be from 6 in to 11 in (got “5½”).", id="limp"),
        pytest.param(
            "imperial",
            "helium-11",
            "6.5 in",
            "11-inch with helium must be from 7 in to 11 in (got “6.5 in”).",
            id="too little to float",
        ),
        pytest.param(
            "metric",
            "air-11",
            "28",
            "11-inch with air must be from 15.3 cm to 27.9 cm (got “28”).",
            id="beyond the bag in centimetres",
        ),
        pytest.param("imperial", "air-5", "0", "5-inch with air must be from 3 in to 5 in (got “0”).", id="nothing"),
        pytest.param("imperial", "air-5", "-4", "5-inch with air must be from 3 in to 5 in (got “-4”).", id="minus"),
        pytest.param("imperial", "air-5", "<b>wide", "5-inch with air “&lt;b&gt;wide” is not understood.", id="words"),
    ],
)
def test_what_cannot_be_is_refused_and_nothing_typed_is_lost(owner_client, measures, field, typed, said):
    measure_in(measures)
    answer = send_opened(owner_client, PAGE, {"air-12": "10", "air-24": "56 cm", field: typed} | key())
    page = answer.content.decode()
    assert answer.status_code == 422
    assert said in page
    for value in ["10", "56 cm", typed.replace("<b>", "&lt;b&gt;")]:
        assert f'value="{value}"' in page
    assert kept() == {}


@pytest.mark.parametrize("measures", ["imperial", "metric"])
@pytest.mark.parametrize("gas", ["air", "helium"])
def test_the_limits_that_are_said_may_be_typed(owner_client, measures, gas):
    measure_in(measures)
    form = owner_client.get(PAGE).context["form"]
    rows = form.with_air() if gas == "air" else form.with_helium()
    for end in (0, 1):
        said = {field.html_name: field.help_text.rpartition("from ")[2].split(" to ")[end] for _, field in rows}
        assert send_opened(owner_client, PAGE, said | key()).status_code == 302
        assert len(kept()) == len(rows)


def test_what_is_emptied_is_as_usual_again(owner_client):
    send_opened(owner_client, PAGE, {"air-11": "9", "air-5": "4"} | key())
    send_opened(owner_client, PAGE, {"air-11": "", "air-5": "4¼"} | key())
    assert kept() == {"air-5": Decimal("107.95")}


def test_a_form_sent_twice_is_saved_once(owner_client):
    sent = {"air-11": "9", "seen": edition_in(owner_client.get(PAGE))} | key()
    owner_client.post(PAGE, sent)
    InflatedDiameter.objects.all().delete()
    assert owner_client.post(PAGE, sent).status_code == 302
    assert kept() == {}


@pytest.mark.parametrize(
    ("asked", "sentence", "sizes"),
    [
        pytest.param({"wanted": "9.5"}, "For 9½ in take 11-inch balloons.", [11, 10, 12, 14, 16, 17, 18], id="usual"),
        pytest.param({"wanted": "36 in"}, "For 36 in take 36-inch balloons.", [36], id="the largest"),
        pytest.param(
            {"wanted": "10.5", "helium": "on"}, "For 10½ in take 11-inch balloons.", [11, 12, 14, 16], id="helium"
        ),
    ],
)
def test_a_wanted_diameter_is_answered_with_its_bags_best_first(owner_client, asked, sentence, sizes):
    answer = owner_client.get(PAGE, asked)
    assert sentence in answer.content.decode()
    assert [bag.size for bag, _ in answer.context["answer"].bags] == sizes
    assert f'value="{asked["wanted"]}"' in answer.content.decode()


def test_the_studios_own_table_decides_which_bag_is_best(owner_client):
    send_opened(owner_client, PAGE, {"air-12": "9½", "air-11": "7"} | key())
    page = owner_client.get(PAGE, {"wanted": "9½"}).content.decode()
    assert "For 9½ in take 12-inch balloons." in page
    assert "You blow it to 7 in; it may be from 6 in to 11 in" in page


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        pytest.param({"wanted": ""}, "Wanted diameter is needed.", id="nothing"),
        pytest.param({"wanted": "37"}, "Wanted diameter must be from 2 in to 36 in (got “37”).", id="too wide"),
        pytest.param(
            {"wanted": "5", "helium": "on"},
            "Wanted diameter must be from 5½ in to 36 in (got “5”).",
            id="too small to float",
        ),
        pytest.param({"wanted": "wide"}, "Wanted diameter “wide” is not understood.", id="words"),
    ],
)
def test_a_wanted_diameter_no_bag_reaches_is_refused(owner_client, asked, said):
    answer = owner_client.get(PAGE, asked)
    assert answer.status_code == 422
    assert said in answer.content.decode()


def test_the_answer_comes_alone_where_the_page_is_open(owner_client):
    page = owner_client.get(PAGE, {"wanted": "9"}, headers={"HX-Request": "true"}).content.decode()
    assert page.lstrip().startswith('<div id="bags"')
    assert "air-11" not in page


def test_the_page_asks_the_database_little(owner_client):
    send_opened(owner_client, PAGE, {f"air-{size}": str(size) for size in SIZES} | key(), follow=True)
    with CaptureQueriesContext(connection) as queries:
        owner_client.get(PAGE, {"wanted": "9"})
    assert len(queries) <= 5


def test_crew_neither_see_nor_change_it(crew_client):
    assert crew_client.get(PAGE).status_code == 403
    assert crew_client.post(PAGE, {"air-11": "9"} | key()).status_code == 403
    assert kept() == {}
