"""A quote that would be too long to print is refused with a sentence, and nothing is kept of it."""

import datetime as dt
import uuid

import pytest
from django.urls import reverse

from bookings.models import Quote
from bookings.paperwork import preparing
from bookings.paperwork.quote import MOST_LINES, PaperPiece, quote_pdf
from studio.pdf import PaperTooLarge
from tests.factories import NOON, TOLD


def printed(count):
    """A quote of so many pieces."""
    return quote_pdf(
        told=TOLD,
        pieces=[PaperPiece(f"Piece {n}", "garland", 1, [], 100, "") for n in range(count)],
        currency="USD",
        price_minor=100,
        tax_minor=0,
        total_minor=100,
        deposit_minor=0,
        made_at=dt.datetime(2026, 6, 1, tzinfo=dt.UTC),
    )


def test_one_line_more_than_there_may_be_is_refused_by_number():
    with pytest.raises(PaperTooLarge, match="a quote lists at most 500 pieces \\(this one 501\\)"):
        printed(MOST_LINES + 1)


@pytest.mark.django_db
def test_whoever_issues_it_reads_why_and_nothing_is_issued(owner_client, priced, monkeypatch):
    def too_large(**_):
        raise PaperTooLarge("it takes longer than 20 seconds")

    monkeypatch.setattr("django.utils.timezone.now", lambda: NOON)
    monkeypatch.setattr(preparing, "quote_pdf", too_large)
    answer = owner_client.post(reverse("bookings:quote-issue", args=[priced.pk]), {"form_key": str(uuid.uuid4())})
    assert answer.status_code == 422
    assert "The PDF was not made: the paper is too large: it takes longer than 20 seconds." in answer.content.decode()
    assert Quote.objects.count() == 0
