"""What clients are compared by, for those there are; and the one change to what is frozen: being forgotten.

Where a client asks to be erased, what describes them may become nothing, all of it at once, and nothing else: no word
of a quote, of its pieces or of a yes to it can become another word, and no number can change at all. The conditions
look at the row alone, because on SQLite a trigger that names another table stands in the way of that table's next
migration.
"""

from django.db import migrations
from django.db.backends.base.schema import BaseDatabaseSchemaEditor
from django.db.migrations.state import StateApps

from bookings.reaching import country_of, mail_key, name_key, phone_key
from studio.write_once import refuse_changes


def compare(apps: StateApps, _editor: BaseDatabaseSchemaEditor) -> None:
    studio = apps.get_model("studio", "Studio").objects.filter(pk=1).first()
    country = country_of(phone=studio.phone, time_zone=studio.time_zone) if studio else ""
    clients = apps.get_model("bookings", "Client").objects.order_by("pk")
    for client in clients.iterator():
        client.name_key = name_key(client.name)
        client.phone_key, client.email_key = phone_key(client.phone, country), mail_key(client.email)
        client.save(update_fields=["name_key", "phone_key", "email_key"])


QUOTE = (
    "id", "booking_id", "number", "version", "issued_at", "issued_by_id", "valid_until", "needed_on", "currency",
    "price_minor", "tax_minor", "total_minor", "deposit_minor", "cost_minor", "person_minutes", "pdf_sha256",
)  # fmt: skip
PIECE = ("id", "quote_id", "position", "kind", "balloons", "price_minor", '"option"', "extra", "prices")
FIGURES = ("price_minor", "tax_minor", "total_minor", "deposit_minor", "cost_minor", "person_minutes")
OPTION = ("id", "quote_id", "number", *FIGURES)
EXTRA = ("id", "quote_id", "number", "is_ticked", "made_from", *FIGURES)
YES = ("id", "quote_id", "at", '"option"', "extras", "price_minor", "tax_minor", "total_minor", "deposit_minor")


def same(columns: tuple[str, ...]) -> str:
    return "".join(f" AND NEW.{column} IS NOT DISTINCT FROM OLD.{column}" for column in columns)


QUOTE_IS_FORGOTTEN = (
    "OLD.erased_at IS NULL AND NEW.erased_at IS NOT NULL AND NEW.told = '{}' AND NEW.reasons = '[]' "
    "AND NEW.changes = '[]' AND length(NEW.pdf) = 0" + same(QUOTE)
)
PIECE_IS_FORGOTTEN = (
    "NEW.name = '' AND NEW.spec = '{}' AND NEW.layout = '{}' AND NEW.description = '' AND NEW.colours = '[]' "
    "AND NEW.picture = ''" + same(PIECE)
)
OPTION_IS_FORGOTTEN = "NEW.name = '' AND NEW.reasons = '[]'" + same(OPTION)
EXTRA_IS_FORGOTTEN = "NEW.name = '' AND NEW.description = ''" + same(EXTRA)
YES_IS_FORGOTTEN = "NEW.name = '' AND NEW.address IS NULL AND NEW.browser = ''" + same(YES)

FROZEN = "an issued quote never changes"


class Migration(migrations.Migration):
    dependencies = [("bookings", "0014_clients_known_again")]

    operations = [
        migrations.RunPython(compare, migrations.RunPython.noop),
        refuse_changes("bookings_consententry", "consent is kept as it was given", columns=(
            "what", "is_given", "how", '"on"', "at", "by_id",
        )),
        refuse_changes("bookings_clientmerge", "a merge is kept as it was done", columns=(
            "gone", "taken", "moved", "at", "by_id",
        )),
        refuse_changes(
            "bookings_quote", FROZEN, but_update=QUOTE_IS_FORGOTTEN,
            columns=(*QUOTE, "told", "reasons", "changes", "pdf", "erased_at"),
        ),
        refuse_changes("bookings_quotepiece", FROZEN, but_update=PIECE_IS_FORGOTTEN),
        refuse_changes("bookings_quoteoption", FROZEN, but_update=OPTION_IS_FORGOTTEN),
        refuse_changes("bookings_quoteextra", FROZEN, but_update=EXTRA_IS_FORGOTTEN),
        refuse_changes("bookings_acceptance", "an acceptance is kept as it was given", but_update=YES_IS_FORGOTTEN),
    ]  # fmt: skip
