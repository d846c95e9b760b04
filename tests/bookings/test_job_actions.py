"""Logging, editing and ending a booking."""

import datetime as dt

import pytest

from bookings import actions
from bookings.models import AmountDue, Booking
from bookings.paperwork.billing import prepare_invoice
from stock.models import Reservation
from studio.models import Studio
from studio.transitions import MoveRefused
from tests.factories import NOON, TODAY, BookingFactory

WEEK = dt.timedelta(days=7)


def held(booking: Booking) -> list[Reservation]:
    return list(Reservation.objects.open().of_bookings([booking.pk]))


def test_an_enquiry_keeps_who_asked_and_what(owner):
    booking = actions.log_enquiry(client={"name": "Ines"}, job={"wants": "A garland"}, by=owner, at=NOON)
    assert (booking.client.name, booking.wants, booking.stage) == ("Ines", "A garland", "enquiry")


def test_logging_is_the_first_entry_of_the_history(owner):
    booking = actions.log_enquiry(client={"name": "Ines"}, job={}, by=owner, at=NOON)
    assert [(entry.what, entry.by) for entry in booking.history.all()] == [("Enquiry logged.", owner)]


def test_cancelling_releases_what_was_held(owner, priced, issue, say_yes):
    say_yes(issue(priced))
    assert held(priced)
    actions.cancel_booking(booking=priced, why="Rained off", by=owner, at=NOON)
    assert held(priced) == []


def test_cancelling_voids_what_was_due(owner, priced, issue, say_yes):
    say_yes(issue(priced))
    actions.cancel_booking(booking=priced, why="", by=owner, at=NOON)
    assert not AmountDue.objects.filter(booking=priced, void_at__isnull=True).exists()


def test_only_a_booked_job_is_cancelled(owner):
    with pytest.raises(MoveRefused, match="This is enquiry"):
        actions.cancel_booking(booking=BookingFactory(), why="", by=owner, at=NOON)


def test_losing_a_quoted_job_withdraws_its_quote_and_frees_its_materials(owner, priced, issue):
    quote = issue(priced)
    actions.lose_booking(booking=priced, why="Too dear", by=owner, at=NOON)
    quote.refresh_from_db()
    assert (quote.withdrawn_at, held(priced)) == (NOON, [])


def test_a_lost_job_can_be_opened_again(owner):
    booking = BookingFactory(stage="lost")
    assert actions.reopen_booking(booking=booking, by=owner, at=NOON).stage == "enquiry"


def test_moving_the_event_moves_what_is_held(owner, priced, issue, say_yes):
    say_yes(issue(priced))
    priced.refresh_from_db()
    later = TODAY + dt.timedelta(days=40)
    job = {"event_on": later, "needed_on": later - dt.timedelta(days=2)}
    actions.edit_booking(booking=priced, client={"name": "Ines"}, job=job, by=owner, at=NOON)
    assert {row.needed_on for row in held(priced)} == {later - dt.timedelta(days=2)}


def test_moving_the_event_moves_the_day_its_balance_is_due(owner, priced, issue, say_yes):
    say_yes(issue(priced))
    due = AmountDue.objects.get(booking=priced, kind="balance").due_on
    ahead = {"event_on": priced.event_on + WEEK}
    actions.edit_booking(booking=priced, client={}, job=ahead, by=owner, at=NOON)
    assert AmountDue.objects.get(booking=priced, kind="balance").due_on == due + WEEK
    said = priced.history.get(what__startswith="The balance is due on")
    assert said.money


def test_a_balance_that_is_invoiced_stays_due_on_the_day_its_paper_says(owner, priced, issue, say_yes):
    say_yes(issue(priced))
    priced.refresh_from_db()
    paper = prepare_invoice(priced, kind="whole", studio=Studio.objects.current(), today=TODAY, at=NOON)
    made = actions.issue_invoice(paper=paper, by=owner, at=NOON)
    due = AmountDue.objects.get(booking=priced, kind="balance").due_on
    actions.edit_booking(booking=priced, client={}, job={"event_on": priced.event_on + WEEK}, by=owner, at=NOON)
    assert AmountDue.objects.get(booking=priced, kind="balance").due_on == due
    assert priced.history.filter(what__endswith=f"{made} says so.").exists()
