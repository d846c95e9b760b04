"""Latex outdoors: the figures decorators publish for their clients (common practice, policies; one for the sun)."""

from datetime import UTC

import pytest

from bookings.planning import SUN_CELSIUS, SUN_MINUTES, Batch, Standing, standing_outdoors
from bookings.run_steps import Work
from bookings.timetable import Said
from tests.factories import NOON, TODAY


def test_the_sun_is_hot_above_80_fahrenheit():
    """The policy: no more than 30 minutes in the sun above 80 °F. 80 °F is 26.67 °C."""
    assert pytest.approx(26.67, abs=0.005) == SUN_CELSIUS
    assert SUN_MINUTES == 30


def test_it_is_taken_out_of_the_sun_before_it_may_burst():
    """On a hot day it may burst within an hour (common practice)."""
    assert SUN_MINUTES < 60


def test_outdoors_is_the_same_day():
    """Five policies: made and put up on the day; not overnight."""
    evening = NOON.replace(hour=18, minute=0)
    said = Said(event_on=TODAY, install_at=evening.time(), ready_by=NOON.time())
    found = standing_outdoors([Batch("Arch", 60, outdoors=True)], said, Work(install=60), crew=1, zone=UTC)
    assert isinstance(found, Standing)
    assert found.is_overnight
