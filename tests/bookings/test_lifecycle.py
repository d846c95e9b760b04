"""The stages of a booking: every pair of them, allowed or refused."""

import itertools

import pytest

from bookings.lifecycle import STAGES, check_move, may_be_quoted, may_move
from bookings.models import Booking
from studio.transitions import MoveRefused

ALLOWED = {
    ("enquiry", "quoted"),
    ("enquiry", "lost"),
    ("quoted", "booked"),
    ("quoted", "enquiry"),
    ("quoted", "lost"),
    ("booked", "done"),
    ("booked", "cancelled"),
    ("lost", "enquiry"),
}


@pytest.mark.parametrize(("now", "to"), list(itertools.product(STAGES, STAGES)))
def test_a_booking_moves_only_as_the_table_says(now, to):
    assert may_move(now, to) == ((now, to) in ALLOWED)


def test_every_stage_of_the_model_is_in_the_table():
    assert set(STAGES) == set(Booking.Stage.values)


def test_a_refused_move_says_where_the_booking_stands():
    with pytest.raises(MoveRefused, match="This is cancelled, which is final"):
        check_move("cancelled", "booked")


@pytest.mark.parametrize(
    ("stage", "may"),
    [("enquiry", True), ("quoted", True), ("booked", True), ("done", False), ("lost", False), ("cancelled", False)],
)
def test_quotes_are_sent_until_the_job_is_over(stage, may):
    assert may_be_quoted(stage) is may
