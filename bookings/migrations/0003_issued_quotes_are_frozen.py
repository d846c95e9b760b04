from django.db import migrations

from studio.write_once import refuse_changes

REASON = "an issued quote never changes"

FROZEN = (
    "booking_id", "number", "version", "issued_at", "issued_by_id", "valid_until", "needed_on", "currency",
    "price_minor", "tax_minor", "total_minor", "deposit_minor", "cost_minor", "person_minutes", "told",
    "reasons", "changes", "pdf", "pdf_sha256",
)  # fmt: skip


class Migration(migrations.Migration):
    dependencies = [("bookings", "0002_initial")]

    operations = [
        refuse_changes("bookings_quote", REASON, columns=FROZEN),
        refuse_changes("bookings_quotepiece", REASON),
        refuse_changes("bookings_quotematerial", REASON),
        refuse_changes("bookings_acceptance", "an acceptance is kept as it was given"),
    ]
