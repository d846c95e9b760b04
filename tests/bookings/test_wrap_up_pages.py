"""Wrapping up on a phone: what was likely is filled in, what cannot be is told by name, and once is enough."""

import datetime as dt
import re
from uuid import uuid4

import pytest
from django.urls import reverse
from django.utils import timezone

from bookings import actions
from bookings.models import WrapUp, WrapUpLine
from stock.queries import on_hand, taken_for
from tests.factories import NOON, BookingFactory, ColourFactory, ItemFactory, MovementFactory, ReservationFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def gala(owner):
    """A booked job of yesterday that took 100 black."""
    yesterday = timezone.localdate() - dt.timedelta(days=1)
    booking = BookingFactory(title="Gala", stage="booked", needed_on=yesterday, event_on=yesterday)
    booking.black = ItemFactory(colour=ColourFactory(name="Black"))
    MovementFactory(item=booking.black, quantity=120)
    ReservationFactory(item=booking.black, booking=booking.pk, quantity=100)
    actions.tick_rest(booking=booking, by=owner, at=NOON)
    actions.issue_materials(booking=booking, by=owner, at=NOON)
    return booking


def address(booking, name="wrap-up"):
    return reverse(f"bookings:{name}", args=[booking.pk])


def seen(response):
    return " ".join(re.sub(r"<[^>]+>", " ", response.content.decode()).split())


def typed(booking, *, form_key=None, **figures):
    item = booking.black.pk
    said = {"used": "80", "popped": "5", "home": "15"} | figures
    return {"form_key": form_key or str(uuid4())} | {f"{name}_{item}": figure for name, figure in said.items()}


def send(browser, booking, **figures):
    return browser.post(address(booking), typed(booking, **figures), follow=True)


def test_crew_wrap_a_job_up(crew_client, gala):
    page = seen(send(crew_client, gala))
    gala.refresh_from_db()
    assert gala.stage == "done"
    assert "Gala is wrapped up. What came home is on the shelf again." in page
    assert "Black 11-inch 100 taken: 80 used, 5 popped , 15 home" in page
    assert on_hand([gala.black.pk])[gala.black.pk] == 35


def test_the_form_says_what_was_taken_and_is_filled_in(crew_client, gala):
    page = crew_client.get(address(gala)).content.decode()
    assert "100 taken" in page
    for name, value in (("used", 0), ("popped", 0), ("home", 100)):
        assert re.search(rf'name="{name}_{gala.black.pk}" value="{value}"', page)


@pytest.mark.parametrize(
    ("figures", "said"),
    [
        pytest.param(
            {"used": "90", "popped": "6"},
            "Black 11-inch: used, popped and brought home must be at most 100 together, what was taken (got 111).",
            id="too many together",
        ),
        pytest.param(
            {"home": "101"},
            "Black 11-inch: brought home must be a whole number from 0 to 100 (got “101”).",
            id="too many home",
        ),
        pytest.param(
            {"popped": "some"}, "Black 11-inch: popped must be a whole number from 0 to 100 (got “some”).", id="words"
        ),
        pytest.param({"used": ""}, "Black 11-inch: used is needed; nothing was typed.", id="nothing"),
    ],
)
def test_figures_that_cannot_be_are_told_by_name_and_kept(crew_client, gala, figures, said):
    answer = send(crew_client, gala, **figures)
    gala.refresh_from_db()
    assert (answer.status_code, gala.stage, taken_for(gala.pk)) == (422, "booked", {gala.black.pk: 100})
    assert said in seen(answer)
    for name, value in figures.items():
        field = re.search(rf'<input[^>]*name="{name}_{gala.black.pk}"[^>]*>', answer.content.decode())
        assert field is not None
        assert f'value="{value}"' in field.group() or not value


def test_the_same_form_sent_twice_wraps_up_once(crew_client, gala):
    form = typed(gala)
    answers = [crew_client.post(address(gala), form) for _ in range(2)]
    assert [answer.status_code for answer in answers] == [302, 302]
    assert (WrapUp.objects.count(), on_hand([gala.black.pk])[gala.black.pk]) == (1, 35)


def test_a_second_person_is_told_who_was_first(owner_client, crew_client, gala):
    send(crew_client, gala)
    assert "Bo has wrapped this job up already." in seen(send(owner_client, gala, home="3"))
    assert on_hand([gala.black.pk])[gala.black.pk] == 35


def test_a_line_that_is_ticked_and_not_issued_has_to_be_issued_first(crew_client, owner, gala):
    ReservationFactory(item=gala.black, booking=gala.pk, quantity=4)
    actions.tick_rest(booking=gala, by=owner, at=NOON)
    assert "1 line on the pull list is ticked and not off the shelf yet" in seen(crew_client.get(address(gala)))
    assert send(crew_client, gala).status_code == 422


def test_a_cancelled_job_is_asked_to_bring_home_what_it_took(crew_client, owner, gala):
    actions.cancel_booking(booking=gala, why="", by=owner, at=NOON)
    assert "is still on the road. Bring it home" in seen(crew_client.get(reverse("bookings:detail", args=[gala.pk])))
    assert "Bring it home" in seen(crew_client.get(address(gala)))
    send(crew_client, gala, used="0", popped="0", home="100")
    gala.refresh_from_db()
    assert (gala.stage, on_hand([gala.black.pk])[gala.black.pk]) == ("cancelled", 120)
    assert "is still on the road" not in seen(crew_client.get(reverse("bookings:detail", args=[gala.pk])))


def test_a_job_that_was_cancelled_while_it_was_counted_is_counted_again(crew_client, owner, gala):
    form = typed(gala) | {"stage": "booked"}
    actions.cancel_booking(booking=gala, why="", by=owner, at=NOON)
    answer = crew_client.post(address(gala), form)
    assert (answer.status_code, WrapUp.objects.count()) == (422, 0)
    assert "The job was cancelled after you opened this. Nothing is put back yet" in seen(answer)
    assert f'name="home_{gala.black.pk}" value="15"' in answer.content.decode()
    assert 'name="stage" value="cancelled"' in answer.content.decode()
    again = crew_client.post(address(gala), typed(gala) | {"stage": "cancelled"}, follow=True)
    assert "Gala is brought home. What came home is on the shelf again." in seen(again)


def test_what_cannot_pop_is_spoiled(crew_client, owner, gala):
    hooks = ItemFactory(sort="hook", colour=None, size=None, name="Hooks")
    MovementFactory(item=hooks, quantity=20)
    ReservationFactory(item=hooks, booking=gala.pk, quantity=10)
    actions.tick_rest(booking=gala, by=owner, at=NOON)
    actions.issue_materials(booking=gala, by=owner, at=NOON)
    assert "Spoiled of Hooks" in seen(crew_client.get(address(gala)))
    figures = {f"used_{hooks.pk}": "4", f"popped_{hooks.pk}": "9", f"home_{hooks.pk}": "1"}
    wrong = crew_client.post(address(gala), typed(gala) | figures)
    assert "Hooks: used, spoiled and brought home must be at most 10 together" in seen(wrong)
    page = seen(crew_client.post(address(gala), typed(gala) | figures | {f"popped_{hooks.pk}": "5"}, follow=True))
    assert "Hooks 10 taken: 4 used, 5 spoiled , 1 home" in page
    assert "Wrapped up. 5 popped." in seen(crew_client.get(reverse("bookings:detail", args=[gala.pk])))


@pytest.mark.parametrize("stage", ["enquiry", "quoted", "lost", "cancelled"])
def test_a_job_with_nothing_to_count_says_so(crew_client, stage):
    page = seen(crew_client.get(address(BookingFactory(stage=stage))))
    assert ("Nothing was taken off the shelf" if stage == "cancelled" else f"this one is {stage}") in page


def test_a_job_that_took_nothing_says_what_it_held(crew_client):
    booking = BookingFactory(stage="booked", needed_on=timezone.localdate())
    ReservationFactory(booking=booking.pk, item=ItemFactory(colour=ColourFactory(name="Sand")), quantity=9)
    page = seen(crew_client.get(address(booking)))
    assert "Nothing was taken off the shelf for this job." in page
    assert "9 Sand 11-inch" in page


@pytest.mark.parametrize(
    ("way", "on_shelf"), [pytest.param("home", 39, id="came home"), pytest.param("gone", 31, id="is not here")]
)
def test_what_came_home_is_put_right_afterwards(crew_client, gala, way, on_shelf):
    send(crew_client, gala)
    form = {"form_key": str(uuid4()), "item": gala.black.pk, "way": way, "quantity": "4", "why": "In the van"}
    page = seen(crew_client.post(address(gala, "wrap-up-correct"), form, follow=True))
    assert "Black 11-inch is put right; what was counted stays as it was." in page
    assert on_hand([gala.black.pk])[gala.black.pk] == on_shelf
    assert WrapUpLine.objects.get().home == 15


def test_more_than_went_out_cannot_be_found_afterwards(crew_client, gala):
    send(crew_client, gala)
    form = {"form_key": str(uuid4()), "item": gala.black.pk, "way": "home", "quantity": "86", "why": ""}
    answer = crew_client.post(address(gala, "wrap-up-correct"), form)
    assert answer.status_code == 422
    assert "took 85 of Black 11-inch; 86 cannot come back" in seen(answer)


def test_the_week_asks_for_the_wrap_up_of_a_job_that_is_over(crew_client, gala):
    yesterday = timezone.localdate() - dt.timedelta(days=1)
    page = crew_client.get(reverse("week"))
    assert f"Wrap up {yesterday:%A}'s job" in seen(page).replace("&#x27;", "'")
    assert address(gala) in page.content.decode()
    send(crew_client, gala)
    assert "Just over" not in seen(crew_client.get(reverse("week")))


def test_a_long_wrap_up_asks_the_database_as_few_things(crew_client, owner, gala, django_assert_max_num_queries):
    crew_client.get(address(gala))
    with django_assert_max_num_queries(14) as few:
        crew_client.get(address(gala))
    for number in range(40):
        item = ItemFactory(colour=ColourFactory(name=f"Colour no. {number}"))
        MovementFactory(item=item, quantity=10)
        ReservationFactory(item=item, booking=gala.pk, quantity=10)
    actions.tick_rest(booking=gala, by=owner, at=NOON)
    actions.issue_materials(booking=gala, by=owner, at=NOON)
    with django_assert_max_num_queries(len(few)):
        assert seen(crew_client.get(address(gala))).count("Popped") == 41
