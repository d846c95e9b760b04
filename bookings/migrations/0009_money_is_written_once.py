from django.db import migrations

from studio.write_once import refuse_changes, seal_by_balance


class Migration(migrations.Migration):
    dependencies = [("bookings", "0008_invoices_payments_and_books")]

    operations = [
        refuse_changes("bookings_payment", "a payment is kept as it was written"),
        refuse_changes("bookings_refund", "a refund is kept as it was written"),
        refuse_changes("bookings_creditmove", "credit is kept as it was written"),
        refuse_changes("bookings_invoice", "an issued invoice never changes"),
        refuse_changes("bookings_invoiceline", "an issued invoice never changes"),
        refuse_changes("bookings_creditnote", "an issued credit note never changes"),
        refuse_changes("bookings_books_sealed", "the books are written once"),
        refuse_changes("bookings_books_posting", "the books are written once"),
        seal_by_balance("bookings_books_sealed", "bookings_books_posting", key="number", names="entry_id"),
    ]
