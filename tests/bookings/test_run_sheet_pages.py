"""The run sheet, the place, the site check and the strike: on a phone and on paper, and never an amount."""

import datetime as dt
import io
import re
import uuid
from collections.abc import Callable
from decimal import Decimal
from typing import Any

import pypdf
import pytest
from django.db import Error, connection, transaction
from django.urls import reverse

from bookings.actions.site import AcknowledgeRefused, acknowledge, keep_place
from bookings.models import Acknowledgement, Booking, DayLimits, Place, Strike
from bookings.queries.site import made_job, points_of, site_rows
from bookings.site_check import Check
from estimating.models import Rates
from studio.models import Studio, User
from tests.factories import NOON, TODAY, BookingFactory, ClientFactory, KitFactory, KitPromiseFactory
from tests.opened import send_opened

pytestmark = [pytest.mark.django_db, pytest.mark.paper]

PAGES = ("run-sheet", "run-sheet-pdf", "site-check", "place", "strike")
FOOT = Decimal("304.8")


@pytest.fixture
def gala(owner: User, add_garland: Callable[..., None]) -> Booking:
    """A booked garland at 9 ft, on a day of its own."""
    booking = BookingFactory(
        client=ClientFactory(name="Ines Vale", phone="+1 555 0142"),
        title="Winter gala",
        stage="booked",
        event_on=TODAY + dt.timedelta(days=12),
        needed_on=TODAY + dt.timedelta(days=11),
        ready_by=dt.time(14),
        starts_at=dt.time(18),
        ends_at=dt.time(1),
        travel_minutes=35,
        hang_height_mm=FOOT * 9,
        place="Corn Hall",
        budget="about 7,919.37",
        created_by=owner,
    )
    add_garland(booking)
    return booking


def address(booking: Booking, name: str) -> str:
    return reverse(f"bookings:{name}", args=[booking.pk])


def seen(response: Any) -> str:
    """A page's words."""
    return " ".join(re.sub(r"<[^>]+>", " ", response.content.decode()).split())


def printed(response: Any) -> str:
    """The words of a PDF."""
    return " ".join(
        " ".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(response.content)).pages).split()
    )


def known(booking: Booking, owner: User, **changes: Any) -> None:
    """Write down a place of which all is known and fine."""
    KitFactory(sort="ladder", height_mm=FOOT * 8)
    fine = {"sprinklers": "none", "exits": "clear", "latex": "none", "point_grams": 4000} | changes
    keep_place(booking=booking, place=fine, by=owner, at=NOON)


def check_of(booking: Booking, key: str) -> Check:
    rows = site_rows(
        booking,
        made_job(booking, currency="USD"),
        Place.objects.of(booking),
        rates=Rates.objects.current(),
        usual=DayLimits().usual,
        measures="imperial",
        zone=dt.UTC,
    )
    return next(row.check for row in rows if row.check.key == key)


def go_ahead(browser: Any, booking: Booking, check: Check, **typed: str) -> Any:
    form = {"form_key": str(uuid.uuid4()), "key": check.key, "stamp": check.stamp, "name": "Mo", "reason": "They know"}
    return browser.post(address(booking, "go-ahead"), form | typed)


@pytest.mark.parametrize("page", PAGES)
def test_a_stranger_sees_none_of_it(client, gala, page):
    assert client.get(address(gala, page)).status_code == 302


@pytest.mark.parametrize("page", PAGES)
def test_crew_see_all_of_it_and_no_amount(crew_client, gala, page):
    Rates.objects.create(pk=1, hourly_minor=791_937, minimum_minor=791_937)
    answer = crew_client.get(address(gala, page))
    assert answer.status_code == 200
    words = printed(answer) if page.endswith("pdf") else answer.content.decode()
    for written in ("7919", "7,919", "$", "budget"):
        assert written not in words, written
    assert not any("7919" in value for value in answer.headers.values())


def test_the_steps_of_the_day_go_past_midnight(crew_client, gala):
    page = seen(crew_client.get(address(gala, "run-sheet")))
    assert "Friday 12 June" in page and "Saturday 13 June" in page and "Sunday 14 June" in page
    assert "Drive there" in page
    assert "18:00 to 01:00 on Sun 14 Jun" in page


def test_the_map_opens_elsewhere_and_says_nothing_of_us(crew_client, gala, owner):
    known(gala, owner, address="Corn Hall\n11 Market Row & Quay")
    page = crew_client.get(address(gala, "run-sheet")).content.decode()
    assert "search?query=Corn%20Hall%2011%20Market%20Row%20%26%20Quay" in page
    assert 'rel="noreferrer noopener"' in page


def test_a_contact_is_called_with_one_tap(crew_client, gala, owner):
    known(gala, owner, contact_name="Odile", contact_phone="555-0171")
    page = crew_client.get(address(gala, "run-sheet")).content.decode()
    assert page.index('href="tel:555-0171"') < page.index('href="tel:+1 555 0142"')


def test_every_point_is_on_the_picture_with_what_it_bears(crew_client, gala):
    page = crew_client.get(address(gala, "run-sheet")).content.decode()
    numbers = re.findall(r'data-point="(\d+)"', page)
    assert numbers and numbers == [str(n) for n in range(1, len(numbers) + 1)]
    assert "nobody has said what it is rated for" in page


def test_an_allergy_comes_before_everything_else(crew_client, gala):
    gala.client.latex_allergy = True
    gala.client.save()
    for page in (
        seen(crew_client.get(address(gala, "run-sheet"))),
        printed(crew_client.get(address(gala, "run-sheet-pdf"))),
    ):
        assert page.index("Allergies: Latex") < page.index("Times")


def test_what_is_not_cleared_stands_across_the_top(crew_client, gala):
    paper = printed(crew_client.get(address(gala, "run-sheet-pdf")))
    assert "Not cleared: Ladder" in paper
    assert paper.index("Not cleared") < paper.index("Times")


def test_a_cleared_job_prints_clean(crew_client, gala, owner):
    known(gala, owner)
    assert "Not cleared" not in printed(crew_client.get(address(gala, "run-sheet-pdf")))
    assert "Not cleared" not in seen(crew_client.get(address(gala, "run-sheet")))


def test_the_last_page_of_the_paper_is_the_strike(crew_client, gala):
    pages = pypdf.PdfReader(io.BytesIO(crew_client.get(address(gala, "run-sheet-pdf")).content)).pages
    assert "Strike" in pages[-1].extract_text() and "Never let a balloon go" in pages[-1].extract_text()


@pytest.mark.parametrize(("measures", "size"), [("imperial", (612, 792)), ("metric", (595, 842))])
def test_the_paper_is_the_studios_own(crew_client, gala, measures, size):
    Studio.objects.update_or_create(pk=1, defaults={"measures": measures})
    box = pypdf.PdfReader(io.BytesIO(crew_client.get(address(gala, "run-sheet-pdf")).content)).pages[0].mediabox
    assert (round(box.width), round(box.height)) == size


def test_a_cancelled_job_says_so_first_and_loses_nothing(crew_client, gala, owner):
    known(gala, owner, address="Corn Hall")
    gala.stage = "cancelled"
    gala.save()
    page, paper = (
        seen(crew_client.get(address(gala, "run-sheet"))),
        printed(crew_client.get(address(gala, "run-sheet-pdf"))),
    )
    for words in (page, paper):
        assert words.index("This job was cancelled: nobody goes.") < words.index("Times")
        assert "Corn Hall" in words and "Garland" in words


def test_a_job_of_nothing_yet_has_its_pages_too(crew_client, owner):
    booking = BookingFactory(created_by=owner)
    for page in PAGES:
        assert crew_client.get(address(booking, page)).status_code == 200, page
    assert "nothing is checked" in seen(crew_client.get(address(booking, "run-sheet")))


def test_the_page_asks_the_database_the_same_however_many_points(
    crew_client, gala, add_garland, django_assert_max_num_queries
):
    with django_assert_max_num_queries(60):
        crew_client.get(address(gala, "run-sheet"))


def test_who_goes_ahead_is_kept_with_the_sentence_as_it_was(crew_client, gala, crew):
    check = check_of(gala, "ladder")
    assert go_ahead(crew_client, gala, check).status_code == 302
    kept = Acknowledgement.objects.get()
    assert (kept.key, kept.sentence, kept.name, kept.reason, kept.by) == (
        "ladder",
        check.sentence,
        "Mo",
        "They know",
        crew,
    )
    page = seen(crew_client.get(address(gala, "run-sheet")))
    assert "Mo goes ahead: They know" in page
    assert "Not cleared: Points" in page


def test_a_changed_figure_opens_it_again(crew_client, gala):
    go_ahead(crew_client, gala, check_of(gala, "ladder"))
    gala.hang_height_mm = FOOT * 12
    gala.save()
    page = seen(crew_client.get(address(gala, "site-check")))
    assert "A figure has changed since, so it is open again" in page
    assert "Not cleared: Ladder" in seen(crew_client.get(address(gala, "run-sheet")))


def test_a_figure_that_changed_while_somebody_read_is_not_acknowledged(crew_client, gala):
    check = check_of(gala, "ladder")
    gala.hang_height_mm = FOOT * 12
    gala.save()
    answer = go_ahead(crew_client, gala, check, reason="Borrowed one")
    assert answer.status_code == 422
    assert "has changed since you opened it" in seen(answer)
    assert 'value="Borrowed one"' in answer.content.decode()
    assert not Acknowledgement.objects.exists()


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        pytest.param({"name": " "}, "Your name is needed", id="nobody"),
        pytest.param({"reason": ""}, "Why you go ahead is needed", id="no reason"),
    ],
)
def test_who_and_why_are_both_needed(crew_client, gala, typed, said):
    answer = go_ahead(crew_client, gala, check_of(gala, "ladder"), **typed)
    assert answer.status_code == 422
    assert said in seen(answer)
    assert not Acknowledgement.objects.exists()


def test_what_is_met_needs_nobodys_word(gala, owner):
    known(gala, owner)
    with pytest.raises(AcknowledgeRefused, match="this is met now"):
        acknowledge(booking=gala, check=check_of(gala, "ladder"), name="Mo", reason="so", by=owner, at=NOON)


def test_the_first_word_stands(gala, owner, crew):
    check = check_of(gala, "ladder")
    first = acknowledge(booking=gala, check=check, name="Mo", reason="borrowed", by=owner, at=NOON)
    assert acknowledge(booking=gala, check=check, name="Bo", reason="too", by=crew, at=NOON) == first
    assert Acknowledgement.objects.count() == 1


@pytest.mark.parametrize(
    "statement", ["UPDATE bookings_acknowledgement SET name = 'x'", "DELETE FROM bookings_acknowledgement"]
)
def test_an_acknowledgement_is_written_once(gala, owner, statement):
    acknowledge(booking=gala, check=check_of(gala, "ladder"), name="Mo", reason="so", by=owner, at=NOON)
    with pytest.raises(Error, match="kept as it was written"), transaction.atomic(), connection.cursor() as cursor:
        cursor.execute(statement)


def place_form(**typed: str) -> dict[str, str]:
    return {"form_key": str(uuid.uuid4())} | typed


def test_crew_write_the_place_down(crew_client, gala):
    typed = place_form(
        address="Corn Hall", access_from="09:00", exits="clear", point_grams="5 lb", room_length_mm="60 ft"
    )
    assert send_opened(crew_client, address(gala, "place"), typed).status_code == 302
    kept = Place.objects.of(gala)
    assert (kept.address, kept.access_from, kept.exits, kept.point_grams) == ("Corn Hall", dt.time(9), "clear", 2268)
    assert kept.room_length_mm == FOOT * 60


def test_one_weak_point_is_rated_by_itself(crew_client, gala, owner):
    known(gala, owner)
    key = gala.pieces.get().pk
    typed = place_form(sprinklers="none", exits="clear", latex="none", point_grams="9 lb") | {f"rating_{key}_2": "1 oz"}
    assert send_opened(crew_client, address(gala, "place"), typed).status_code == 302
    check = check_of(gala, f"points-{key}")
    assert check.state == "unmet"
    assert check.sentence.startswith("Point 2 bears")


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        pytest.param({"room_height_mm": "0"}, "Height of the room must be", id="a room of no height"),
        pytest.param(
            {"point_grams": "0 lb"}, "What a point is rated for must be from", id="a point that holds nothing"
        ),
        pytest.param({"point_grams": "lots"}, "must be a number", id="words"),
        pytest.param({"access_until": "12:00"}, "Say from when too", id="until without from"),
        pytest.param({"access_from": "09:00", "access_until": "09:00"}, "must be another time than from", id="no time"),
        pytest.param(
            {"sprinklers": "none", "sprinkler_gap_mm": "12 in"}, "must be left empty where there are none", id="gap"
        ),
        pytest.param({"exits": "maybe"}, "maybe", id="no such word"),
    ],
)
def test_what_cannot_be_is_refused_and_stays_typed(crew_client, gala, typed, said):
    answer = send_opened(crew_client, address(gala, "place"), place_form(address="Corn Hall", **typed))
    assert answer.status_code == 422
    assert said in seen(answer)
    assert "Corn Hall</textarea>" in answer.content.decode()
    assert not Place.objects.filter(booking=gala).exists()


def test_the_strike_says_what_comes_home_and_when_kit_is_due(crew_client, gala):
    KitPromiseFactory(
        kit=KitFactory(name="Arch frame", place="loft"),
        booking=gala.pk,
        out_on=TODAY,
        back_on=TODAY + dt.timedelta(days=13),
    )
    page = seen(crew_client.get(address(gala, "strike")))
    assert "1 Arch frame" in page
    assert "due back Sun 14 Jun, to loft" in page
    assert "Never let a balloon go" in page


def test_the_strike_has_people_of_its_own(crew_client, gala):
    typed = {"form_key": str(uuid.uuid4()), "people": "3", "who": "Mo, Jan and Bo", "notes": "The lift stops at one."}
    assert send_opened(crew_client, address(gala, "strike"), typed).status_code == 302
    assert Strike.objects.of(gala).people == 3
    assert "3 people: Mo, Jan and Bo" in seen(crew_client.get(address(gala, "strike")))


def test_no_crew_is_of_thirty(crew_client, gala):
    answer = send_opened(
        crew_client, address(gala, "strike"), {"form_key": str(uuid.uuid4()), "people": "30", "who": "All"}
    )
    assert answer.status_code == 422
    assert "People must be a whole number from 1 to 12" in seen(answer)
    assert 'value="All"' in answer.content.decode()


@pytest.mark.parametrize(
    ("page", "theirs", "mine", "field"),
    [
        pytest.param("place", {"parking": "In the yard"}, {"parking": "On the street"}, "parking", id="the place"),
        pytest.param("strike", {"who": "Mo"}, {"who": "Jan"}, "who", id="the strike"),
    ],
)
def test_who_writes_over_somebody_is_told_and_may_save_then(crew_client, owner_client, gala, page, theirs, mine, field):
    def opened(answer: Any) -> str:
        return re.findall(r'name="seen" value="(\w+)"', answer.content.decode())[0]

    seen_first = opened(crew_client.get(address(gala, page)))
    assert owner_client.post(address(gala, page), place_form(seen=seen_first, **theirs)).status_code == 302
    answer = crew_client.post(address(gala, page), place_form(seen=seen_first, **mine))
    assert answer.status_code == 422
    assert "was changed by somebody else since you opened it" in seen(answer)
    assert f'value="{mine[field]}"' in answer.content.decode()
    again = crew_client.post(address(gala, page), place_form(seen=opened(answer), **mine))
    assert again.status_code == 302
    kept = Place.objects.of(gala) if page == "place" else Strike.objects.of(gala)
    assert getattr(kept, field) == mine[field]


def test_outdoors_a_point_bears_its_share_of_the_wind_on_the_sheet_and_in_the_check(gala, owner):
    piece = gala.pieces.get()
    piece.spec["outdoors"] = True
    piece.save()
    place, rates = Place.objects.of(gala), Rates.objects.current()

    def borne(mph: int) -> float:
        gala.gusts_mph = Decimal(mph)
        made = made_job(gala, currency="USD")
        assert made is not None
        return points_of(gala, made, place, rates=rates)[0].grams[0]

    assert borne(20) - borne(0) == pytest.approx(4 * (borne(10) - borne(0)))
    assert borne(20) > borne(0) > 0
