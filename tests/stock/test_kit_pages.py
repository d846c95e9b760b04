"""The pages of kit, as they are read and used."""

import datetime as dt
import re
from decimal import Decimal
from uuid import uuid4

import pytest
from django.urls import reverse
from django.utils import timezone

from stock import actions
from stock.models import Kit, KitPromise
from studio.models import Studio
from tests.factories import KitFactory, KitPromiseFactory
from tests.opened import send_opened

pytestmark = pytest.mark.django_db
LIST = "/stock/kit/"


@pytest.fixture
def now(monkeypatch, noon):
    """The moment the pages are asked at."""
    monkeypatch.setattr(timezone, "now", lambda: noon)
    return noon


def seen(response) -> str:
    """The page as somebody reads it."""
    return " ".join(re.sub(r"<[^>]+>", " ", response.content.decode()).split())


def payload(**fields: object) -> dict[str, object]:
    said = {"name": "Arch frame", "sort": "frame", "owned": "1", "cleaning_days": "1", "wear_minor": "4.50"}
    return {"form_key": str(uuid4())} | said | fields


def story(kit: Kit) -> str:
    return reverse("stock:kit-story", args=[kit.pk])


def send(browser, name: str, key: int, **fields: object):
    return browser.post(reverse(f"stock:{name}", args=[key]), {"form_key": str(uuid4())} | fields, follow=True)


@pytest.fixture
def frame(now) -> Kit:
    """One arch frame, promised to two booked jobs for the same Friday to Sunday."""
    kit = KitFactory(name="Arch frame", wear_minor=450)
    for number, name in ((7, "Ferry office"), (8, "Winter gala")):
        KitPromiseFactory(
            kit=kit, booking=number, booking_name=name, out_on=dt.date(2026, 6, 12), back_on=dt.date(2026, 6, 14)
        )
    return kit


# --- who may --------------------------------------------------------------------------------------------------------


def test_a_stranger_is_sent_to_sign_in(client, frame):
    for address in (LIST, story(frame)):
        assert client.get(address).url.startswith(reverse("login"))


def test_crew_see_kit_and_no_wear(crew_client, owner_client, frame):
    assert "Wear per use" not in seen(crew_client.get(story(frame)))
    assert "Wear per use $4.50" in seen(owner_client.get(story(frame)))


@pytest.mark.parametrize("name", ["kit-edit", "kit-retire"])
def test_crew_neither_edit_nor_retire_kit(crew_client, frame, name):
    assert send(crew_client, name, frame.pk).status_code == 403
    assert crew_client.get(reverse("stock:kit-new")).status_code == 403


# --- the list -------------------------------------------------------------------------------------------------------


def test_an_empty_list_says_what_to_do(owner_client, crew_client):
    assert "No kit is listed yet." in seen(owner_client.get(LIST))
    assert "The owner has not listed any kit yet." in seen(crew_client.get(LIST))


def test_what_is_promised_twice_is_said_first(owner_client, frame):
    KitFactory(name="Ladder")
    page = seen(owner_client.get(LIST))
    assert "Arch frame is promised twice from Fri 12 to Sun 14 Jun: Ferry office and Winter gala." in page
    assert "Winter gala was promised it later." in page
    assert page.index("promised twice") < page.index("All kit")


def test_where_nobody_clashes_the_list_says_so(owner_client, now):
    KitPromiseFactory()
    assert "Every booking has the kit it was promised." in seen(owner_client.get(LIST))


def test_a_clash_with_what_is_only_quoted_is_told_as_such(owner_client, now):
    kit = KitFactory(name="Arch frame")
    KitPromiseFactory(kit=kit, booking_name="Ferry office")
    KitPromiseFactory(kit=kit, booking_name="Barn wedding", firm=False)
    page = seen(owner_client.get(LIST))
    assert "If the open quotes are accepted: arch frame is promised twice" in page


def test_what_is_out_and_late_is_told(owner_client, owner, now):
    late = KitPromiseFactory(kit=KitFactory(name="Ladder"), out_on=dt.date(2026, 5, 29), back_on=dt.date(2026, 5, 31))
    actions.take_kit_out(promises=[late.pk], by=owner, at=now - dt.timedelta(days=3))
    page = seen(owner_client.get(LIST))
    assert "should have been back Sun 31 May" in page
    assert "late" in page


def test_only_the_cleaning_between_two_jobs_may_be_missing(owner_client, now):
    kit = KitFactory(name="Arch frame", cleaning_days=2)
    KitPromiseFactory(kit=kit, booking_name="Ferry", out_on=dt.date(2026, 6, 12), back_on=dt.date(2026, 6, 13))
    KitPromiseFactory(kit=kit, booking_name="Gala", out_on=dt.date(2026, 6, 14), back_on=dt.date(2026, 6, 15))
    assert "twice on Sun 14 Jun: Ferry and Gala. Only the cleaning between them is missing." in seen(
        owner_client.get(LIST)
    )


def test_several_of_a_kit_are_counted_in_the_sentence(owner_client, now):
    kit = KitFactory(name="Base plate", owned=4)
    KitPromiseFactory(kit=kit, booking_name="Ferry", quantity=3)
    KitPromiseFactory(kit=kit, booking_name="Gala", quantity=3)
    page = seen(owner_client.get(LIST))
    assert "Base plate: 6 promised from Thu 11 to Sat 13 Jun and 4 owned: Ferry and Gala." in page
    assert "Gala was promised it later and lacks 2." in page


def test_retired_kit_is_shown_when_asked_for(owner_client, owner, now):
    kit = KitFactory(name="Old pump")
    actions.retire_kit(kit=kit, today=now.date(), by=owner, at=now)
    assert "Old pump" not in seen(owner_client.get(LIST))
    assert "Old pump" in seen(owner_client.get(LIST + "?with=retired"))


def test_the_list_takes_as_many_queries_at_40_kits_as_at_4(owner_client, now, django_assert_max_num_queries):
    asked = []
    for number in (4, 36):
        for _ in range(number):
            KitPromiseFactory()
        with django_assert_max_num_queries(8) as found:
            owner_client.get(LIST)
        asked.append(len(found))
    assert asked[0] == asked[1]


# --- one kit --------------------------------------------------------------------------------------------------------


def test_a_kit_tells_who_has_it_when_and_when_it_is_free(owner_client, frame):
    page = seen(owner_client.get(story(frame)))
    assert "1 of 1 at home. Free today." in page
    assert page.index("Ferry office") < page.index("Winter gala")
    assert "Shaded: more are promised than there are." in page


def test_kit_that_is_out_says_when_it_is_next_free(owner_client, owner, now):
    kit = KitFactory(name="Ladder", cleaning_days=1)
    held = KitPromiseFactory(kit=kit, out_on=now.date(), back_on=now.date() + dt.timedelta(days=1))
    actions.take_kit_out(promises=[held.pk], by=owner, at=now)
    assert "0 of 1 at home. Next free Wed 3 Jun." in seen(owner_client.get(story(kit)))


def test_new_kit_is_listed(owner_client, now):
    response = owner_client.post(
        reverse("stock:kit-new"),
        payload(name="Step ladder", sort="ladder", height="6 ft", carries="250 lb", weight="18 lb", owned="2"),
        follow=True,
    )
    page = seen(response)
    assert "Step ladder is listed." in page
    assert "Height 6 ft Duty rating 250 lb" in page
    assert "Weight of one 18 lb" in page
    assert "never on the top cap" in page
    kit = Kit.objects.with_owned().get()
    assert (kit.owned, kit.height_mm, kit.wear_minor) == (2, Decimal("1828.8"), 450)


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        pytest.param({"name": ""}, "Name is needed; nothing was typed.", id="no name"),
        pytest.param({"name": "arch FRAME"}, "Name must be new; there is kit “arch FRAME” already.", id="a name twice"),
        pytest.param({"owned": "-1"}, "How many are owned must be a whole number from 0 to 10000", id="less than none"),
        pytest.param({"cleaning_days": "61"}, "must be a whole number from 0 to 60 (got “61”)", id="never clean"),
        pytest.param({"wear_minor": "dear"}, "Wear per use must be an amount", id="wear in words"),
        pytest.param({"height": "6 ft"}, "Height is of a ladder: choose the sort Ladder", id="a frame with a height"),
        pytest.param({"weight": "heavy"}, "Weight of one must be a number, with g or kg or lb", id="weight in words"),
        pytest.param(
            {"sort": "ladder", "height": "tall"}, "Height must be a length such as 6 ft", id="height in words"
        ),
        pytest.param({"sort": "ladder", "height": "200 ft"}, "Height must be at most", id="a tower"),
        pytest.param({"sort": "ladder", "carries": "9000 kg"}, "Duty rating must be from", id="a lorry"),
    ],
)
def test_what_cannot_be_is_said_and_nothing_typed_is_lost(owner_client, fields, words):
    KitFactory(name="Arch frame")
    response = owner_client.post(reverse("stock:kit-new"), payload(**{"name": "Plinth", "place": "loft"} | fields))
    assert response.status_code == 422
    assert words in seen(response).replace("&quot;", '"')
    assert 'value="loft"' in response.content.decode()
    assert Kit.objects.count() == 1


def test_kit_is_edited_without_touching_how_many_there_are(owner_client, frame):
    fields = payload(name="Round frame", cleaning_days="3", weight="14 lb")
    del fields["owned"]
    send_opened(owner_client, reverse("stock:kit-edit", args=[frame.pk]), fields)
    kit = Kit.objects.with_owned().get()
    assert (kit.name, kit.cleaning_days, kit.weight_grams, kit.owned) == ("Round frame", 3, 6350, 1)


def test_a_metric_studio_reads_kilograms_and_metres(owner_client, now):
    Studio.objects.update_or_create(pk=1, defaults={"name": "Tern", "measures": "metric"})
    fields = payload(name="Ladder", sort="ladder", height="1.8", weight="9")
    page = seen(owner_client.post(reverse("stock:kit-new"), fields, follow=True))
    assert "Weight of one 9 kg Height 1.8 m" in page


@pytest.mark.parametrize(
    ("fields", "owned", "words"),
    [
        pytest.param({"kind": "counted", "quantity": "4"}, 4, "Base plate: 4 counted.", id="counted"),
        pytest.param({"kind": "got", "quantity": "2"}, 7, "Base plate: 2 got.", id="got more"),
        pytest.param({"kind": "broken", "quantity": "1", "why": "bent"}, 4, "Base plate: 1 broken.", id="broken"),
        pytest.param({"kind": "lost", "quantity": "2", "why": "left behind"}, 3, "Base plate: 2 lost.", id="lost"),
    ],
)
def test_crew_write_down_how_many_there_are(crew_client, now, fields, owned, words):
    kit = KitFactory(name="Base plate", owned=5)
    assert words in seen(send(crew_client, "kit-move", kit.pk, **fields))
    assert Kit.objects.with_owned().get().owned == owned


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        pytest.param({"kind": "broken", "quantity": "1"}, "Why is needed; nothing was typed.", id="no reason"),
        pytest.param({"kind": "lost", "quantity": "9", "why": "gone"}, "at most the 5 at home (got 9)", id="too many"),
        pytest.param({"kind": "got", "quantity": "none"}, "Got must be a whole number from 1", id="no number"),
        pytest.param({"kind": "stolen", "quantity": "1"}, "What happened must be one of", id="an unknown kind"),
    ],
)
def test_a_line_that_makes_no_sense_is_refused_in_words(crew_client, now, fields, words):
    kit = KitFactory(owned=5)
    response = send(crew_client, "kit-move", kit.pk, **fields)
    assert response.status_code == 422
    assert words in seen(response)
    assert Kit.objects.with_owned().get().owned == 5


def test_kit_is_retired_and_taken_up_again(owner_client, now):
    kit = KitFactory(name="Pump")
    assert "Pump is retired." in seen(send(owner_client, "kit-retire", kit.pk))
    assert "Pump can be promised again." in seen(send(owner_client, "kit-retire", kit.pk, again="yes"))


def test_promised_kit_is_not_retired_and_says_why(owner_client, frame):
    assert "Not retired. Arch frame is promised for Ferry office" in seen(send(owner_client, "kit-retire", frame.pk))


# --- out and back ---------------------------------------------------------------------------------------------------


def test_crew_take_kit_out_and_bring_it_back(crew_client, now):
    held = KitPromiseFactory(kit=KitFactory(name="Ladder"), booking_name="Gala")
    assert "Ladder is out for Gala." in seen(send(crew_client, "kit-out", held.pk))
    assert "All back and sound?" in seen(crew_client.get(reverse("stock:kit-back", args=[held.pk])))
    assert "Ladder is back from Gala." in seen(send(crew_client, "kit-back", held.pk))
    held.refresh_from_db()
    assert held.state == "back"


def test_what_was_found_damaged_is_in_the_story(crew_client, now):
    kit = KitFactory(name="Base plate", owned=3)
    held = KitPromiseFactory(kit=kit, quantity=3)
    send(crew_client, "kit-out", held.pk)
    page = seen(send(crew_client, "kit-back", held.pk, broken="1", damage="one leg bent"))
    assert "one leg bent" in page
    assert "2 of 2 at home" in page


def test_no_more_comes_back_broken_than_went_out(crew_client, now):
    held = KitPromiseFactory()
    send(crew_client, "kit-out", held.pk)
    response = send(crew_client, "kit-back", held.pk, broken="1", lost="1")
    assert response.status_code == 422
    assert "must be at most the 1 that went out (got 2)" in seen(response)


def test_the_same_frame_cannot_be_taken_out_twice(crew_client, frame):
    first, second = KitPromise.objects.order_by("pk")
    send(crew_client, "kit-out", first.pk)
    page = seen(send(crew_client, "kit-out", second.pk))
    assert "Not written as out. Arch frame has 0 at home" in page


def test_taking_out_leads_back_to_where_it_was_asked(crew_client, now):
    held = KitPromiseFactory()
    address = reverse("stock:kit-out", args=[held.pk])
    assert crew_client.post(address, {"form_key": str(uuid4()), "next": LIST}).url == LIST
    away = crew_client.post(address, {"form_key": str(uuid4()), "next": "https://elsewhere.example/"})
    assert away.url == story(held.kit)


# --- where else it is told ------------------------------------------------------------------------------------------


@pytest.mark.parametrize("address", ["/", "/stock/cover/"])
def test_the_week_and_the_cover_say_what_kit_is_promised_twice(crew_client, frame, address):
    page = seen(crew_client.get(address))
    assert "Arch frame is promised twice from Fri 12 to Sun 14 Jun: Ferry office and Winter gala." in page


def test_the_cover_counts_kit_of_open_quotes_only_where_it_is_asked_to(owner_client, now):
    kit = KitFactory(name="Arch frame")
    KitPromiseFactory(kit=kit, booking_name="Ferry office")
    KitPromiseFactory(kit=kit, booking_name="Barn wedding", firm=False)
    said = "If the open quotes are accepted: arch frame is promised twice"
    assert said not in seen(owner_client.get("/stock/cover/"))
    assert said in seen(owner_client.get("/stock/cover/?with=open"))
    assert said not in seen(owner_client.get("/"))


def test_what_goes_out_next_is_listed_the_soonest_first(owner_client, now):
    KitPromiseFactory(kit=KitFactory(name="Ladder"), booking_name="Gala", out_on=dt.date(2026, 6, 12))
    KitPromiseFactory(
        kit=KitFactory(name="Pump"),
        booking_name="Fair",
        out_on=dt.date(2026, 6, 2),
        back_on=dt.date(2026, 6, 3),
        firm=False,
    )
    page = seen(owner_client.get(LIST))
    page = page[page.index("Going out next") :]
    assert page.index("Fair") < page.index("Gala")
    assert "not booked yet" in page


def test_new_kit_begins_as_one_with_a_day_of_cleaning(owner_client, now):
    form = owner_client.get(reverse("stock:kit-new")).content.decode()
    assert 'name="cleaning_days" value="1"' in form
    assert 'name="owned" value="1"' in form


@pytest.mark.parametrize("address", ["/", "/stock/cover/"])
def test_what_clashes_in_a_year_is_not_this_weeks_worry(crew_client, now, address):
    kit = KitFactory(name="Arch frame")
    for _ in range(2):
        KitPromiseFactory(kit=kit, out_on=dt.date(2027, 6, 1), back_on=dt.date(2027, 6, 2))
    assert "promised twice" not in seen(crew_client.get(address))
    assert "promised twice from Tue 1 to Wed 2 Jun" in seen(crew_client.get(LIST))
