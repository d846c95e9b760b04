"""A client who asks to be erased: what says who they are goes, the books stay, and nothing else may change."""

import datetime as dt
import json

import pytest
from django.db import DatabaseError, connection, transaction

from bookings import actions
from bookings.actions.clients import with_keys
from bookings.models import (
    Acceptance,
    AmountDue,
    Booking,
    Client,
    HistoryEntry,
    Invoice,
    Payment,
    Photo,
    Piece,
    Question,
    Quote,
    QuotePiece,
)
from bookings.queries.erasing import DESCRIBES, STAYS, erasure_of, rows_naming
from studio.models import OutgoingMail
from studio.transitions import MoveRefused
from tests.factories import (
    INVOICE_TOLD,
    NOON,
    TODAY,
    TOLD,
    BookingFactory,
    ClientFactory,
    InvoiceFactory,
    PaymentFactory,
    QuoteFactory,
    QuotePieceFactory,
    ReservationFactory,
)

pytestmark = pytest.mark.django_db

SECRET = "Xanthippe"
"""A word that is in every place something may be known of a client."""


@pytest.fixture
def forgotten_soon(owner):
    """A client of a job that was done and paid, and of one that came to nothing; the secret is in all of it."""
    client = ClientFactory(
        **with_keys({"name": SECRET, "phone": "555-0142", "email": f"{SECRET.lower()}@example.org"}),
        notes=SECRET, allergies=SECRET, found_us=SECRET, latex_allergy=True,
    )  # fmt: skip
    for stage in ("done", "lost"):
        booking = BookingFactory(
            client=client, stage=stage, title=f"Party of {SECRET}", place=SECRET, wants=SECRET, budget=SECRET,
            date_text=SECRET, event_on=TODAY - dt.timedelta(days=9), needed_on=TODAY - dt.timedelta(days=10),
            created_by=owner,
        )  # fmt: skip
        quote = QuoteFactory(
            booking=booking, issued_by=owner, told=TOLD | {"client": SECRET}, reasons=[SECRET], changes=[SECRET],
            pdf=f"%PDF {SECRET}".encode(),
        )  # fmt: skip
        QuotePieceFactory(
            quote=quote, name=SECRET, description=SECRET, spec={"words": SECRET}, picture=f"<svg>{SECRET}</svg>"
        )
        Piece.objects.create(booking=booking, name=SECRET, kind="garland", spec={"words": SECRET}, layout={})
        Photo.objects.create(
            booking=booking, name=f"{booking.pk:032x}", full=b"x", picture=b"x", width=1, height=1, added_at=NOON,
            added_by=owner,
        )  # fmt: skip
        HistoryEntry.objects.create(booking=booking, at=NOON, what=f"Accepted by {SECRET}.")
        ReservationFactory(booking=booking.pk, booking_name=SECRET, closed_at=NOON)
        Question.objects.create(booking=booking, quote=quote, text=SECRET, asked_at=NOON)
        OutgoingMail.objects.create(
            key=str(booking.pk), purpose="quote", about=booking.pk, to_address=f"{SECRET}@example.org", from_name="Us",
            subject=SECRET, text=SECRET, made_at=NOON, due_at=NOON,
        )  # fmt: skip
        if stage == "done":
            Acceptance.objects.create(quote=quote, name=SECRET, at=NOON, address="192.0.2.1", browser=SECRET)
            total = quote.total_minor
            AmountDue.objects.create(booking=booking, quote=quote, kind="balance", amount_minor=total, due_on=TODAY)
            InvoiceFactory(quote=quote, issued_by=owner, told=INVOICE_TOLD | {"client": SECRET})
            PaymentFactory(booking=booking, amount_minor=total, by=owner)
    return client


def erase(client, owner) -> Client:
    return actions.erase_client(client=client.pk, today=TODAY, by=owner, at=NOON)


def everywhere(word: str) -> set[str]:
    """The tables in which a word is anywhere, in any spelling."""
    found = set()
    with connection.cursor() as cursor:
        for table in connection.introspection.table_names(cursor):
            cursor.execute(f"SELECT * FROM {connection.ops.quote_name(table)}")
            for row in cursor.fetchall():
                values = [bytes(value) if isinstance(value, memoryview) else value for value in row]
                if word.lower() in repr(values).lower():
                    found.add(table)
    return found


def test_who_they_were_is_nowhere_but_in_what_was_sold_and_the_books(forgotten_soon, owner):
    assert len(everywhere(SECRET)) >= 11
    erase(forgotten_soon, owner)

    assert everywhere(SECRET) == {"bookings_quote", "bookings_quotepiece", "bookings_invoice"}
    assert {quote.booking.stage for quote in Quote.objects.all() if SECRET in json.dumps(quote.told)} == {"done"}
    assert everywhere("192.0.2.1") == set()


def test_every_number_and_amount_is_as_it_was(forgotten_soon, owner):
    def figures() -> list:
        return [
            list(model.objects.order_by("pk").values_list(*names))
            for model, names in (
                (Quote, ("number", "version", "total_minor", "deposit_minor", "pdf_sha256", "issued_at")),
                (QuotePiece, ("position", "price_minor", "balloons")),
                (Invoice, ("number", "total_minor", "told", "pdf_sha256", "client")),
                (Payment, ("number", "amount_minor", "client", "booking")),
                (Acceptance, ("quote", "at", "total_minor")),
                (AmountDue, ("amount_minor", "due_on", "void_at")),
                (Booking, ("stage", "event_on", "needed_on", "client")),
            )
        ]

    before = figures()
    erase(forgotten_soon, owner)
    assert figures() == before


def test_an_invoice_and_an_accepted_quote_keep_their_papers(forgotten_soon, owner):
    erase(forgotten_soon, owner)

    assert bytes(Invoice.objects.get().pdf).startswith(b"%PDF")
    assert bytes(Quote.objects.get(booking__stage="done").pdf) == f"%PDF {SECRET}".encode()
    assert bytes(Quote.objects.get(booking__stage="lost").pdf) == b""


def test_every_link_they_were_sent_is_dead(forgotten_soon, owner, client):
    from tests.factories import token_of

    links = [f"/q/{token_of(quote)}/" for quote in Quote.objects.all()]
    assert 404 not in [client.get(link).status_code for link in links]
    erase(forgotten_soon, owner)
    assert [client.get(link).status_code for link in links] == [404, 404]


def test_erasing_twice_is_once(forgotten_soon, owner):
    first = erase(forgotten_soon, owner)
    again = actions.erase_client(client=forgotten_soon.pk, today=TODAY, by=owner, at=NOON + dt.timedelta(days=3))
    assert again.erased_at == first.erased_at == NOON


@pytest.mark.parametrize("stage", ["enquiry", "quoted", "booked"])
def test_a_client_whose_job_is_under_way_is_not_erased(owner, stage):
    booking = BookingFactory(client=ClientFactory(name="Ines"), title="Gala", stage=stage, needed_on=TODAY)
    with pytest.raises(actions.EraseRefused, match=f"Gala, is still {stage}"):
        erase(booking.client, owner)
    assert Client.objects.get().name == "Ines"


def test_a_client_who_owes_is_not_erased(forgotten_soon, owner):
    done = Booking.objects.get(stage="done")
    AmountDue.objects.create(
        booking=done, quote=done.quotes.get(), kind="cancellation", amount_minor=5000, due_on=TODAY
    )
    with pytest.raises(actions.EraseRefused, match=r"still owe \$50.00"):
        erase(forgotten_soon, owner)


def test_a_client_with_credit_is_not_erased(forgotten_soon, owner):
    done = Booking.objects.get(stage="done")
    PaymentFactory(booking=done, amount_minor=700, surplus_minor=700, by=owner)
    with pytest.raises(actions.EraseRefused, match=r"\$7.00 of credit"):
        erase(forgotten_soon, owner)


def test_an_invoice_nobody_paid_keeps_a_client(owner):
    booking = BookingFactory(client=ClientFactory(name="Ines"), stage="cancelled")
    InvoiceFactory(quote=QuoteFactory(booking=booking))
    with pytest.raises(actions.EraseRefused, match="invoiced and not paid"):
        erase(booking.client, owner)


def test_nothing_can_be_written_down_of_an_erased_client(owner):
    client = erase(ClientFactory(name="Ines"), owner)
    with pytest.raises(DatabaseError, match="nothing_is_known_of_an_erased_client"), transaction.atomic():
        Client.objects.filter(pk=client.pk).update(phone="555-0142")
    with pytest.raises(actions.ClientIsGone):
        actions.edit_client(client=client, given={"name": "Ines"}, by=owner, at=NOON)
    with pytest.raises(actions.MergeRefused, match="erased"):
        actions.merge_clients(kept=ClientFactory().pk, gone=client.pk, taken=frozenset(), seen="", by=owner, at=NOON)


def test_a_lost_job_of_an_erased_client_stays_closed(owner):
    booking = BookingFactory(client=ClientFactory(name="Ines"), stage="lost")
    erase(booking.client, owner)
    with pytest.raises(MoveRefused, match="erased at their own request"):
        actions.reopen_booking(booking=booking, by=owner, at=NOON)


# What is frozen may become nothing, once, and nothing else.

BLANK = {"told": {}, "reasons": [], "changes": [], "pdf": b"", "erased_at": NOON}


@pytest.mark.parametrize(
    "change",
    [
        pytest.param({"told": {}}, id="part-of-it"),
        pytest.param({"erased_at": NOON}, id="marked-and-kept"),
        pytest.param(BLANK | {"told": {"client": "Somebody else"}}, id="another-word"),
        pytest.param(BLANK | {"pdf": b"%PDF another"}, id="another-paper"),
        pytest.param(
            BLANK | {"total_minor": 1, "price_minor": 1, "tax_minor": 0, "deposit_minor": 0}, id="another-price"
        ),
        pytest.param(BLANK | {"number": 999}, id="another-number"),
        pytest.param(BLANK | {"erased_at": None}, id="without-saying-so"),
    ],
)
def test_a_quote_cannot_be_half_forgotten_or_become_another(change):
    QuoteFactory()
    with pytest.raises(DatabaseError, match="an issued quote never changes"), transaction.atomic():
        Quote.objects.update(**change)


def test_a_forgotten_quote_never_comes_back():
    quote = QuoteFactory()
    Quote.objects.update(**BLANK)
    for change in ({"erased_at": None}, {"told": {"client": "Ines"}}, BLANK | {"erased_at": NOON + dt.timedelta(1)}):
        with pytest.raises(DatabaseError, match="an issued quote never changes"), transaction.atomic():
            Quote.objects.filter(pk=quote.pk).update(**change)


PIECE_BLANK = {"name": "", "spec": {}, "layout": {}, "description": "", "colours": [], "picture": ""}


@pytest.mark.parametrize(
    "change",
    [
        pytest.param({"picture": ""}, id="part-of-it"),
        pytest.param(PIECE_BLANK | {"picture": "<svg/>"}, id="another-picture"),
        pytest.param(PIECE_BLANK | {"price_minor": 1}, id="another-price"),
    ],
)
def test_a_quoted_piece_cannot_be_half_forgotten_or_become_another(change):
    QuotePieceFactory()
    with pytest.raises(DatabaseError, match="an issued quote never changes"), transaction.atomic():
        QuotePiece.objects.update(**change)


@pytest.mark.parametrize(
    "change",
    [
        pytest.param({"name": "Somebody else"}, id="another-name"),
        pytest.param({"name": ""}, id="part-of-it"),
        pytest.param({"name": "", "address": None, "browser": "", "at": NOON + dt.timedelta(1)}, id="another-moment"),
    ],
)
def test_a_yes_cannot_be_half_forgotten_or_become_anothers(change):
    Acceptance.objects.create(quote=QuoteFactory(), name="Ines", at=NOON, address="192.0.2.1", browser="x")
    with pytest.raises(DatabaseError, match="an acceptance is kept as it was given"), transaction.atomic():
        Acceptance.objects.update(**change)


def test_everything_that_hangs_on_a_booking_goes_or_stays_by_decision():
    """A model that names a booking is listed in one of two places: what describes a client must not be left behind."""
    named = {relation.related_model._meta.model_name for relation in rows_naming(Booking)}

    assert named - DESCRIBES - STAYS == set()
    assert set() == DESCRIBES & STAYS


def test_the_page_says_what_goes_and_what_stays(forgotten_soon):
    plan = erasure_of(forgotten_soon, today=TODAY)

    assert plan.why_not == ""
    assert "1 quote nobody accepted: its words, pictures and PDF; every link to a quote is dead." in plan.goes
    assert "2 photos of the place: and the sketches on it." in plan.goes
    assert any(said.startswith("1 invoice:") for said in plan.stays)
    assert any(said.startswith("1 accepted quote:") for said in plan.stays)
