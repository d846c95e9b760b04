"""Details that somebody else has changed since the form was opened: nothing is lost, neither theirs nor yours."""

import re
import uuid

import pytest
from django.urls import reverse

from bookings.models import Booking
from tests.factories import BookingFactory, ClientFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(owner):
    """An enquiry."""
    return BookingFactory(client=ClientFactory(name="Ines Vale"), place="Corn Hall", created_by=owner)


def seen_in(answer) -> str:
    """The edition in the form on a page."""
    found = re.search(r'name="seen" value="([0-9a-f]{16})"', answer.content.decode())
    assert found is not None
    return found[1]


def opened(browser, job):
    """The edition the form was opened with."""
    return seen_in(browser.get(reverse("bookings:edit", args=[job.pk])))


def send(browser, job, seen, **typed):
    usual = {"name": "Ines Vale", "place": "The pier", "crew": "1", "distance": "0", "travel_minutes": "0"}
    form = {"form_key": str(uuid.uuid4()), "seen": seen} | usual | typed
    return browser.post(reverse("bookings:edit", args=[job.pk]), form)


def test_what_nobody_else_changed_is_saved(owner_client, job):
    assert send(owner_client, job, opened(owner_client, job)).status_code == 302
    assert Booking.objects.get().place == "The pier"


@pytest.mark.parametrize("whose", ["job", "client"])
def test_what_somebody_else_changed_is_not_overwritten_and_what_was_typed_is_still_there(owner_client, job, whose):
    seen = opened(owner_client, job)
    if whose == "job":
        Booking.objects.update(wants="a heart")
    else:
        job.client.phone = "555-0100"
        job.client.save()
    answer = send(owner_client, job, seen)
    assert answer.status_code == 422
    said = answer.content.decode()
    assert "This job was changed by somebody else since you opened it. Yours is still here" in said
    assert 'value="The pier"' in said
    assert Booking.objects.get().place == "Corn Hall"


def test_who_has_looked_may_save(owner_client, job):
    seen = opened(owner_client, job)
    Booking.objects.update(wants="a heart")
    again = seen_in(send(owner_client, job, seen))
    assert send(owner_client, job, again).status_code == 302


def test_a_slip_in_a_field_does_not_make_one_forget_what_was_seen(owner_client, job):
    seen = opened(owner_client, job)
    Booking.objects.update(wants="a heart")
    assert seen_in(send(owner_client, job, seen, crew="nobody")) == seen


def test_a_new_stage_is_not_somebody_elses_change_of_the_details(owner_client, job):
    seen = opened(owner_client, job)
    Booking.objects.update(stage=Booking.Stage.QUOTED)
    assert send(owner_client, job, seen).status_code == 302
