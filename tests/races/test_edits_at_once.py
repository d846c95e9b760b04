"""Two people change the same details: the second is told, whoever it is, and nothing of the first is lost."""

import uuid

import pytest
from django.db.models import QuerySet
from django.test import Client as Browser
from django.urls import reverse

from bookings import actions
from bookings.actions import StaleForm, edition_of_details
from bookings.models import Booking, HistoryEntry, MoneyTerms, Photo
from stock.models import Lot
from studio.models import Studio
from studio.photos import CleanPhoto
from tests.factories import NOON, TODAY, BookingFactory, ItemFactory, SupplierFactory
from tests.opened import edition_in

AT_ONCE = 8


def check_one_edit_wins(by, together):
    booking = BookingFactory(place="as it was", created_by=by)
    seen = edition_of_details(booking)

    def edit(number):
        mine = Booking.objects.select_related("client").get(pk=booking.pk)
        job = {"place": f"place {number}", "budget": f"budget {number}"}
        actions.edit_booking(booking=mine, client={}, job=job, by=by, at=NOON, seen=seen)
        return number

    answers = together([lambda n=n: edit(n) for n in range(AT_ONCE)])
    (won,) = [answer for answer in answers if isinstance(answer, int)]
    assert sum(isinstance(answer, StaleForm) for answer in answers) == AT_ONCE - 1, answers
    booking.refresh_from_db()
    assert (booking.place, booking.budget) == (f"place {won}", f"budget {won}")


def test_of_many_who_save_the_same_job_at_once_one_does_and_the_others_are_told(by, together):
    check_one_edit_wins(by, together)


@pytest.mark.postgresql
def test_without_the_edition_the_last_one_wins(by, together, monkeypatch):
    monkeypatch.setattr("bookings.actions.jobs.edition_of_details", lambda _: "always the same")
    monkeypatch.setattr("tests.races.test_edits_at_once.edition_of_details", lambda _: "always the same", raising=False)
    with pytest.raises((AssertionError, ValueError)):
        check_one_edit_wins(by, together)


def check_one_of_many_settings_wins(by, together, first):
    """Many owners send the money terms they opened: one is saved, and every other is told and shown its own again."""
    Studio.objects.get_or_create(pk=1, defaults={"name": "Tern & Tide"})
    address = reverse("bookings:money-terms")
    browsers = [Browser() for _ in range(AT_ONCE)]
    for browser in browsers:
        browser.force_login(by)
    seen = edition_in(browsers[0].get(address))

    def save(number):
        typed = {"form_key": str(uuid.uuid4()), "seen": seen, "balance_days": str(first + number), "pay_to": ""}
        return browsers[number].post(address, typed).status_code

    answers = together([lambda n=n: save(n) for n in range(AT_ONCE)])
    assert sorted(answers) == [302] + [422] * (AT_ONCE - 1), answers
    assert MoneyTerms.objects.get().balance_days == first + answers.index(302)


def test_of_many_owners_who_save_the_same_settings_at_once_one_does_and_the_others_are_told(by, together):
    for first in (20, 40, 60):
        check_one_of_many_settings_wins(by, together, first)


@pytest.mark.postgresql
def test_without_one_at_a_time_the_last_settings_win(by, together, monkeypatch):
    check_one_of_many_settings_wins(by, together, 80)
    monkeypatch.setattr(QuerySet, "select_for_update", lambda self, **how: self.all())
    with pytest.raises((AssertionError, TypeError)):
        for first in range(100, 360, 10):
            check_one_of_many_settings_wins(by, together, first)


def check_one_of_many_who_edit_a_row_wins(by, together, row, address, field, usual):
    """Many people send the form of a row they opened: one is saved, and every other is told."""
    browsers = [Browser() for _ in range(AT_ONCE)]
    for browser in browsers:
        browser.force_login(by)
    seen = edition_in(browsers[0].get(address))

    def save(number):
        typed = {"form_key": str(uuid.uuid4()), "seen": seen, **usual, field: f"Number {number}"}
        return browsers[number].post(address, typed).status_code

    answers = together([lambda n=n: save(n) for n in range(AT_ONCE)])
    assert sorted(answers) == [302] + [422] * (AT_ONCE - 1), answers
    row.refresh_from_db()
    assert getattr(row, field) == f"Number {answers.index(302)}"


def edited_supplier():
    row = SupplierFactory()
    return row, reverse("stock:supplier", args=[row.pk]), "phone", {"name": row.name}


def edited_lot():
    row = Lot.objects.create(item=ItemFactory(), received_on=TODAY)
    return row, reverse("stock:lot", args=[row.item_id, row.pk]), "place", {"best_before": ""}


@pytest.mark.parametrize("edited", [pytest.param(edited_supplier, id="supplier"), pytest.param(edited_lot, id="lot")])
def test_of_many_who_save_the_same_row_at_once_one_does_and_the_others_are_told(by, together, edited):
    for _ in range(3):
        check_one_of_many_who_edit_a_row_wins(by, together, *edited())


@pytest.mark.postgresql
def test_without_holding_the_row_the_last_one_wins(by, together, monkeypatch):
    check_one_of_many_who_edit_a_row_wins(by, together, *edited_supplier())
    monkeypatch.setattr(QuerySet, "select_for_update", lambda self, **how: self.all())
    with pytest.raises((AssertionError, TypeError)):
        for _ in range(26):
            check_one_of_many_who_edit_a_row_wins(by, together, *edited_supplier())


def test_a_photo_is_removed_and_told_once_however_many_remove_it(by, together):
    booking = BookingFactory(created_by=by)
    photo = actions.add_photo(booking=booking, photo=CleanPhoto(b"f", b"p", 4, 3), by=by, at=NOON)
    answers = together([lambda: actions.remove_photo(photo=photo, by=by, at=NOON)] * AT_ONCE)
    assert sum(answer is None for answer in answers) == 1
    assert sum(isinstance(answer, actions.PhotoIsGone) for answer in answers) == AT_ONCE - 1, answers
    assert not Photo.objects.filter(pk=photo.pk).exists()
    told = HistoryEntry.objects.filter(booking=booking, what="A photo of the place removed.")
    assert told.count() == 1
