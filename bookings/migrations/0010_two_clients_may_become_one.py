from django.db import migrations

from studio.write_once import refuse_changes

# Everything but whose it is: a client who was written down twice becomes one, and their money goes with them.
KEPT = {
    "payment": (
        "number", "booking_id", "currency", "amount_minor", "surplus_minor", "left_minor", "method", "received_on",
        "note", "by_id", "at",
    ),
    "refund": (
        "booking_id", "currency", "from_credit_minor", "from_booking_minor", "method", "refunded_on", "note", "by_id",
        "at",
    ),
    "creditmove": ("booking_id", "kind", "amount_minor", '"on"', "by_id", "at"),
    "invoice": (
        "number", "currency", "issued_on", "issued_at", "issued_by_id", "net_minor", "tax_minor", "total_minor", "told",
        "pdf", "pdf_sha256", "booking_id", "quote_id", "kind", "deposits_minor",
    ),
    "books_sealed": (
        "number", '"on"', "at", "by_id", "what", "currency", "booking_id", "invoice_id", "credit_note_id",
        "payment_id", "refund_id", "credit_move_id",
    ),
}  # fmt: skip
REASONS = {
    "payment": "a payment is kept as it was written",
    "refund": "a refund is kept as it was written",
    "creditmove": "credit is kept as it was written",
    "invoice": "an issued invoice never changes",
    "books_sealed": "the books are written once",
}


class Migration(migrations.Migration):
    dependencies = [("bookings", "0009_money_is_written_once")]

    operations = [
        refuse_changes(f"bookings_{table}", REASONS[table], columns=columns) for table, columns in KEPT.items()
    ]
