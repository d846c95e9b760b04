from django.db import migrations

from studio.write_once import refuse_changes

REASON = "an issued quote never changes"


class Migration(migrations.Migration):
    dependencies = [("bookings", "0012_options_and_extras")]

    operations = [
        refuse_changes("bookings_quoteoption", REASON),
        refuse_changes("bookings_quoteextra", REASON),
        # SQLite rebuilt these when they took columns, and lost their triggers.
        refuse_changes("bookings_quotepiece", REASON),
        refuse_changes("bookings_quotematerial", REASON),
        refuse_changes("bookings_acceptance", "an acceptance is kept as it was given"),
    ]
