"""What is written once has its triggers, after every migration, on either database."""

import pytest
from django.db import DatabaseError, connection, transaction

pytestmark = pytest.mark.django_db

WRITTEN_ONCE = [
    "stock_movement",
    "bookings_quote",
    "bookings_quotepiece",
    "bookings_quotematerial",
    "bookings_acceptance",
    "bookings_consententry",
    "bookings_clientmerge",
    "bookings_wrapupline",
    "bookings_payment",
    "bookings_refund",
    "bookings_creditmove",
    "bookings_invoice",
    "bookings_invoiceline",
    "bookings_creditnote",
    "bookings_books_sealed",
    "bookings_books_posting",
]


def triggers_of(table: str) -> set[str]:
    """The names of the triggers a table has."""
    asked = {
        "sqlite": "SELECT name FROM sqlite_master WHERE type = 'trigger' AND tbl_name = %s",
        "postgresql": "SELECT tgname FROM pg_trigger WHERE NOT tgisinternal AND tgrelid = %s::regclass",
    }
    with connection.cursor() as cursor:
        cursor.execute(asked[connection.vendor], [table])
        return {name for (name,) in cursor.fetchall()}


@pytest.mark.parametrize("table", WRITTEN_ONCE)
def test_a_table_that_is_written_once_still_has_its_triggers(table):
    assert triggers_of(table) >= {f"{table}_no_update", f"{table}_no_delete"}


@pytest.mark.postgresql
@pytest.mark.parametrize("table", WRITTEN_ONCE)
def test_a_table_that_is_written_once_cannot_be_emptied_at_a_stroke(table):
    with pytest.raises(DatabaseError, match=r"never|as it was|once"), transaction.atomic():
        connection.cursor().execute(f"TRUNCATE {table} CASCADE")
