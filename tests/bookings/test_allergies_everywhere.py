"""Who must not come near latex, the client or somebody at the place: said wherever the job is shown, to everybody."""

import datetime as dt
import re
from collections.abc import Callable
from typing import Any

import pytest
from django.urls import reverse
from django.utils import timezone

from bookings.models import Booking, OnTheJob, Place
from bookings.queries.allergies import Allergies, allergies_of, with_latex_of_place
from studio.models import Studio, User
from tests.factories import BookingFactory, ClientFactory

pytestmark = pytest.mark.django_db

OF_A_JOB = ("detail", "pull-list", "run-sheet", "site-check", "strike", "job-plan")
LISTS = ("week", "bookings:plan", "bookings:my-days")
WHOSE = [
    pytest.param({"latex_allergy": True}, "", "Allergies: Latex.", id="the client's"),
    pytest.param({}, "some", "Latex: somebody at the place is allergic to it", id="the place's"),
    pytest.param({"allergies": "glue"}, "some", "Allergies: glue. Latex: somebody at the place", id="one of each"),
    pytest.param({"latex_allergy": True}, "some", "Allergies: Latex.", id="both the same"),
]


@pytest.fixture
def gala(crew: User, owner: User, add_garland: Callable[..., None]) -> Booking:
    """A booked garland in ten days, with one of the crew on it."""
    Studio.objects.create(pk=1, name="Tern & Tide")
    day = timezone.localdate() + dt.timedelta(days=10)
    booking: Booking = BookingFactory(
        client=ClientFactory(name="Ines Vale"), title="Winter gala", stage="booked", event_on=day, needed_on=day,
        ready_by=dt.time(14), created_by=owner,
    )  # fmt: skip
    add_garland(booking)
    OnTheJob.objects.create(booking=booking, person=crew)
    return booking


def know(booking: Booking, client: dict[str, Any], latex: str) -> None:
    """Write down what is known of its client and of its place."""
    for name, value in client.items():
        setattr(booking.client, name, value)
    booking.client.save()
    if latex:
        Place.objects.create(booking=booking, latex=latex)


def words(answer: Any) -> str:
    return " ".join(re.sub(r"<[^>]+>", " ", answer.content.decode()).split()).replace(" .", ".")


@pytest.mark.parametrize(("client", "latex", "said"), WHOSE)
@pytest.mark.parametrize("page", OF_A_JOB)
def test_every_page_of_the_job_says_it(crew_client, gala, page, client, latex, said):
    know(gala, client, latex)
    shown = words(crew_client.get(reverse(f"bookings:{page}", args=[gala.pk])))
    assert said in shown
    assert shown.count("Latex: somebody at the place") == int("Latex: somebody" in said)
    assert "doctor to say" in shown


@pytest.mark.parametrize(("client", "latex", "said"), WHOSE)
@pytest.mark.parametrize("page", LISTS)
def test_every_list_the_job_is_in_marks_it(crew_client, gala, page, client, latex, said):
    know(gala, client, latex)
    assert "latex allergy" in words(crew_client.get(reverse(page)))


@pytest.mark.parametrize("page", LISTS)
def test_another_allergy_is_marked_as_what_it_is(crew_client, gala, page):
    know(gala, {"allergies": "glue"}, "none")
    shown = words(crew_client.get(reverse(page)))
    assert "latex allergy" not in shown
    assert re.search(r"Winter gala allergy\b", shown)


@pytest.mark.parametrize("page", [*OF_A_JOB, *LISTS])
def test_where_nothing_is_known_nothing_is_said(crew_client, gala, page):
    know(gala, {}, "none")
    address = reverse(page) if page in LISTS else reverse(f"bookings:{page}", args=[gala.pk])
    shown = words(crew_client.get(address))
    assert "Winter gala" in shown
    assert "Allergies:" not in shown and "latex allergy" not in shown


def test_a_clients_latex_allergy_is_on_every_job_of_theirs(crew_client, gala, owner):
    other = BookingFactory(client=gala.client, title="Barn wedding", stage="quoted", created_by=owner)
    know(gala, {"latex_allergy": True}, "")
    for booking in (gala, other):
        assert "Allergies: Latex." in words(crew_client.get(reverse("bookings:detail", args=[booking.pk])))


def test_a_place_without_latex_has_its_pieces_checked_as_a_client_without_has(owner_client, gala):
    know(gala, {}, "some")
    shown = words(owner_client.get(reverse("bookings:detail", args=[gala.pk])))
    assert "nothing in this quote may be latex" in shown
    assert "latex balloons" in shown


@pytest.mark.parametrize("latex", ["", "none", "some"])
def test_read_with_the_booking_or_asked_for_it_is_the_same(gala, latex, django_assert_num_queries):
    know(gala, {"allergies": "glue"}, latex)
    read = with_latex_of_place(Booking.objects.select_related("client")).get(pk=gala.pk)
    with django_assert_num_queries(0):
        found = allergies_of(read)
    asked = allergies_of(Booking.objects.select_related("client").get(pk=gala.pk))
    assert found == asked == Allergies("glue", of_client=False, at_the_place=latex == "some")
