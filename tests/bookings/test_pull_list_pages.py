"""The pull list on a phone, shared by two, and on paper."""

import io
import re
from uuid import uuid4

import pypdf
import pytest
from django.urls import reverse
from django.utils import timezone

from bookings.models import Client, Place
from bookings.queries import pull_list
from bookings.queries.bringing import bring_list
from stock.actions import count
from stock.queries import on_hand, taken_for
from tests.factories import NOON, BookingFactory, ColourFactory, ItemFactory, MovementFactory, ReservationFactory

pytestmark = [pytest.mark.django_db, pytest.mark.paper]

HTMX = {"HX-Request": "true"}


@pytest.fixture
def gala(db):
    """A booked job that holds 40 black, which lie on shelf A, and 9 sand, of which 6 are there."""
    today = timezone.localdate()
    booking = BookingFactory(title="Gala", stage="booked", needed_on=today, event_on=today)
    booking.black = ItemFactory(colour=ColourFactory(name="Black"), place="Shelf A")
    booking.sand = ItemFactory(colour=ColourFactory(name="Sand"))
    for item, quantity, have in ((booking.black, 40, 60), (booking.sand, 9, 6)):
        MovementFactory(item=item, quantity=have)
        ReservationFactory(item=item, booking=booking.pk, quantity=quantity)
    return booking


def address(booking, name="pull-list"):
    return reverse(f"bookings:{name}", args=[booking.pk])


def seen(response):
    return " ".join(re.sub(r"<[^>]+>", " ", response.content.decode()).split())


def tick(browser, booking, item, *, form_key=None, **sent):
    form = {"form_key": form_key or str(uuid4()), "item": item.pk, "lot": 0} | sent
    return browser.post(address(booking, "pull-tick"), form, headers=HTMX, follow=True)


def issue(browser, booking):
    return browser.post(address(booking, "pull-issue"), {"form_key": str(uuid4())}, follow=True)


def test_crew_see_every_line_with_its_place(crew_client, gala):
    page = seen(crew_client.get(address(gala)))
    assert "Shelf A" in page
    assert "40 Black 11-inch of 60 there" in page
    assert "Not on the shelf" in page
    assert "3 missing" in page


def test_a_stranger_sees_nothing(client, gala):
    assert client.get(address(gala)).status_code == 302


def test_a_tick_answers_with_its_line_and_the_sum(crew_client, gala):
    answer = tick(crew_client, gala, gala.black)
    page = answer.content.decode()
    assert f'id="line-{gala.black.pk}-0"' in page
    assert f'id="line-{gala.sand.pk}-0"' not in page
    assert 'id="pull-sum" hx-swap-oob="true"' in page
    assert "Bo took 40" in seen(answer)
    assert "1 of 2 lines ticked" in seen(answer)


def test_every_form_shown_after_a_tick_has_a_key_of_its_own(crew_client, gala):
    key = str(uuid4())
    page = tick(crew_client, gala, gala.black, form_key=key).content.decode()
    assert key not in page


def test_a_tick_without_script_comes_back_to_its_line(crew_client, gala):
    form = {"form_key": str(uuid4()), "item": gala.black.pk, "lot": 0}
    answer = crew_client.post(address(gala, "pull-tick"), form)
    key = f"{gala.black.pk}-0"
    assert answer.headers["Location"] == f"{address(gala)}?line={key}#line-{key}"


def test_the_other_phone_is_told_what_changed_and_nothing_otherwise(owner_client, crew_client, gala):
    stamp = pull_list(gala).stamp + bring_list(gala).stamp
    assert owner_client.get(address(gala), {"seen": stamp}, headers=HTMX).status_code == 204
    tick(crew_client, gala, gala.black)
    answer = owner_client.get(address(gala), {"seen": stamp}, headers=HTMX)
    assert answer.status_code == 200
    assert "Bo took 40" in seen(answer)
    assert "<html" not in answer.content.decode()


def test_fewer_than_asked_are_said_with_their_number(crew_client, gala):
    answer = tick(crew_client, gala, gala.black, taken=38)
    assert "Still missing: 38 of 40 Black 11-inch taken; 6 Sand 11-inch not ticked; 3 Sand 11-inch not" in seen(answer)


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        pytest.param("61", "Black 11-inch: taken must be 0 to 60, what is there (got 61).", id="more than there is"),
        pytest.param("a bag", "Taken must be a whole number from 0 to 1000000 (got “a bag”).", id="words"),
    ],
)
def test_a_number_that_cannot_be_is_told_and_kept(crew_client, gala, typed, said):
    answer = tick(crew_client, gala, gala.black, taken=typed)
    assert answer.status_code == 422
    assert said in seen(answer)
    assert f'value="{typed}"' in answer.content.decode()
    assert answer.headers["HX-Retarget"] == "#pull"


@pytest.mark.parametrize(
    "sent",
    [{"item": ""}, {"item": "x"}, {"item": "9" * 40}, {"lot": "-4"}, {"lot": ""}, {"item": "0"}],
    ids=lambda sent: str(sent)[:24],
)
def test_a_line_nobody_could_mean_is_refused_in_words(crew_client, gala, sent):
    form = {"form_key": str(uuid4()), "item": gala.black.pk, "lot": 0} | sent
    answer = crew_client.post(address(gala, "pull-tick"), form)
    assert answer.status_code == 422
    assert "not on the list any more" in seen(answer)


def test_a_line_is_unticked(crew_client, gala):
    tick(crew_client, gala, gala.black)
    assert "0 of 2 lines ticked" in seen(tick(crew_client, gala, gala.black, undo="yes"))


def test_the_rest_is_ticked_and_taken_off_the_shelf(crew_client, gala):
    crew_client.post(address(gala, "pull-rest"), {"form_key": str(uuid4())})
    page = issue(crew_client, gala)
    assert "2 lines off the shelf, and on the road." in seen(page)
    assert taken_for(gala.pk) == {gala.black.pk: 40, gala.sand.pk: 6}
    assert "Off the shelf already: 2 lines" in seen(page)


def test_the_same_form_sent_twice_takes_once(crew_client, gala):
    crew_client.post(address(gala, "pull-rest"), {"form_key": str(uuid4())})
    form = {"form_key": str(uuid4())}
    for _ in range(2):
        assert crew_client.post(address(gala, "pull-issue"), form).status_code == 302
    assert on_hand([gala.black.pk])[gala.black.pk] == 20


def test_a_second_person_who_takes_it_too_is_told_so(owner_client, crew_client, gala):
    tick(crew_client, gala, gala.black)
    issue(crew_client, gala)
    assert "Nothing is ticked that is not off the shelf already." in seen(issue(owner_client, gala))


def test_what_the_ledger_does_not_have_is_told_and_the_ticks_stay(crew_client, owner, gala):
    tick(crew_client, gala, gala.black)
    count(item=gala.black, counted=12, by=owner, at=NOON)
    answer = issue(crew_client, gala)
    assert answer.status_code == 422
    assert "Black 11-inch has 12 on hand; 40 cannot be taken." in seen(answer)
    assert pull_list(gala).ticked == 1


@pytest.mark.parametrize(
    ("stage", "said"),
    [
        ("enquiry", "Nothing is held for this job yet."),
        ("quoted", "Nothing is held for this job yet."),
        ("done", "nothing is left to pull"),
        ("lost", "This job is lost: nothing is pulled for it."),
        ("cancelled", "This job is cancelled: nothing is pulled for it."),
    ],
)
def test_a_job_that_is_not_booked_says_why_there_is_no_list(crew_client, stage, said):
    booking = BookingFactory(stage=stage)
    assert said in seen(crew_client.get(address(booking)))


def test_a_job_that_takes_nothing_says_so(crew_client):
    booking = BookingFactory(stage="booked", needed_on=timezone.localdate())
    assert "This job takes nothing off the shelf." in seen(crew_client.get(address(booking)))


def test_the_list_on_paper_has_every_line_and_what_is_missing(crew_client, gala):
    tick(crew_client, gala, gala.black, taken=38)
    answer = crew_client.get(address(gala, "pull-list-pdf"))
    text = pypdf.PdfReader(io.BytesIO(answer.content)).pages[0].extract_text()
    assert answer.headers["Content-Type"] == "application/pdf"
    for words in ("Gala", "Shelf A", "Black 11-inch", "38 taken by Bo", "Not on the shelf", "3 Sand 11-inch"):
        assert words in text


@pytest.mark.parametrize(
    ("client", "latex", "said"),
    [
        pytest.param({"latex_allergy": True}, "", "Allergies: Latex.", id="the client's"),
        pytest.param({"latex_allergy": True}, "some", "Allergies: Latex.", id="the client's and the place's"),
        pytest.param({"allergies": "glue"}, "some", "Allergies: glue. Latex: somebody at the place", id="both, apart"),
        pytest.param({}, "some", "Latex: somebody at the place is allergic", id="the place's"),
        pytest.param({}, "none", "", id="nobody's"),
    ],
)
def test_who_must_not_come_near_latex_is_said_before_any_line(crew_client, gala, client, latex, said):
    Client.objects.filter(pk=gala.client_id).update(**client)
    Place.objects.create(booking=gala, latex=latex)
    paper = crew_client.get(address(gala, "pull-list-pdf")).content
    text = " ".join(pypdf.PdfReader(io.BytesIO(paper)).pages[0].extract_text().split())
    for list_read in (seen(crew_client.get(address(gala))).replace(" .", "."), text):
        if said:
            assert list_read.index(said) < list_read.index("Black 11-inch")
        assert ("doctor to say" in list_read) is bool(said)


def test_a_long_list_asks_the_database_as_few_things(crew_client, gala, django_assert_max_num_queries):
    crew_client.get(address(gala))
    with django_assert_max_num_queries(16) as few:
        crew_client.get(address(gala))
    for number in range(60):
        item = ItemFactory(colour=ColourFactory(name=f"Colour no. {number}"))
        MovementFactory(item=item, quantity=10)
        ReservationFactory(item=item, booking=gala.pk, quantity=10)
    with django_assert_max_num_queries(len(few)):
        assert seen(crew_client.get(address(gala))).count("Another number") == 62
