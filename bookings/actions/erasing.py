"""A client who asks to be erased: everything that says who they are goes, and the books stay."""

from datetime import date, datetime

from django.conf import settings
from django.db import transaction

from bookings.actions.clients import with_keys
from bookings.actions.jobs import write_history
from bookings.links import hash_of, new_salt, token_for
from bookings.models import Acceptance, Booking, Client, Quote, QuoteExtra, QuoteOption, QuotePiece
from bookings.queries.erasing import DESCRIBES, open_quotes_of, rows_naming, why_not_erase
from stock import actions as stock
from studio.models import OutgoingMail, User

NOTHING_KNOWN = {"phone": "", "email": "", "notes": "", "latex_allergy": False, "allergies": "", "found_us": ""}


class EraseRefused(Exception):
    """They cannot be erased yet; the message is a sentence."""


@transaction.atomic
def erase_client(*, client: int, today: date, by: User, at: datetime) -> Client:
    """Blank everything that says who a client is, or what they wished for; amounts, numbers and days stay.

    An invoice and an accepted quote stay as they were issued: they are the record of a sale, which tax law has kept. A
    quote nobody accepted is blanked whole. Twice is once. Raises EraseRefused while a job is under way or money is
    between them and the studio.
    """
    bookings = list(Booking.objects.select_for_update().filter(client=client).order_by("pk"))
    found = Client.objects.select_for_update().get(pk=client)
    if found.erased_at is not None:
        return found
    if why_not := why_not_erase(found, today=today):
        raise EraseRefused(why_not)
    known = with_keys({"name": f"Erased client {found.pk}", **NOTHING_KNOWN})
    Client.objects.filter(pk=found.pk).update(**known, erased_at=at)
    found.refresh_from_db()
    _forget_quotes(found, at=at)
    _forget_jobs(bookings, found, by=by, at=at)
    return found


def _forget_quotes(client: Client, *, at: datetime) -> None:
    """Blank what nobody accepted, take the person out of what somebody did, and end every link."""
    gone = Quote.objects.filter(open_quotes_of(client))
    keys = list(gone.values_list("pk", flat=True))
    QuotePiece.objects.filter(quote__in=keys).update(
        name="", spec={}, layout={}, description="", colours=[], picture=""
    )
    QuoteOption.objects.filter(quote__in=keys).update(name="", reasons=[])
    QuoteExtra.objects.filter(quote__in=keys).update(name="", description="")
    Quote.objects.filter(pk__in=keys).update(told={}, reasons=[], changes=[], pdf=b"", erased_at=at)
    Acceptance.objects.filter(quote__booking__client=client).update(name="", address=None, browser="")
    for quote in Quote.objects.filter(booking__client=client).only("pk", "link_salt"):
        quote.link_salt = new_salt()
        quote.link_hash = hash_of(token_for(quote.link_salt, key=settings.LINK_KEY))
        quote.save(update_fields=["link_salt", "link_hash"])


def _forget_jobs(bookings: list[Booking], client: Client, *, by: User, at: datetime) -> None:
    """Take wishes, place, pieces, photos, letters and story out of the jobs, and their names out of what was held."""
    keys = [booking.pk for booking in bookings]
    for relation in rows_naming(Booking):
        if relation.related_model._meta.model_name in DESCRIBES:
            relation.related_model._base_manager.filter(**{f"{relation.field.name}__in": keys}).delete()
    OutgoingMail.objects.filter(about__in=keys).delete()
    Booking.objects.filter(pk__in=keys).update(title="", date_text="", place="", wants="", budget="")
    for booking in bookings:
        stock.forget_name(booking=booking.pk)
        write_history(booking, "What was known of the client was erased, as they asked.", at=at, by=by)
