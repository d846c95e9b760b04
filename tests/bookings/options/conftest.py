"""A job with something to choose, and its quote."""

import datetime as dt

import pytest
from django.utils import timezone

from estimating.models import Rates
from tests.bookings.options.offer import offered
from tests.factories import BookingFactory


@pytest.fixture
def choosable(db, owner, add_garland):
    """A job with two options, a garland to tick and a charge to tick."""
    booking = BookingFactory(event_on=timezone.localdate() + dt.timedelta(days=30), created_by=owner)
    Rates.objects.create(pk=1, tax_percent="8.25", deposit_percent="50", minimum_minor=0)
    return offered(booking, owner, add_garland)


@pytest.fixture
def quote(choosable, issue):
    return issue(choosable, today=timezone.localdate(), at=timezone.now())
