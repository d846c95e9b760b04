"""Clients: known again, changed, agreed, made one; and what an allergy says."""

import pytest
from django.db import DatabaseError, IntegrityError, transaction

from bookings import actions
from bookings.actions.clients import with_keys
from bookings.models import Booking, Client, ClientMerge, ConsentEntry, Entry, Invoice, Payment
from bookings.queries.allergies import latex_check, with_latex_of_place
from bookings.queries.client_card import consents_of
from bookings.queries.clients import (
    clients_list,
    digest_of_clients,
    known_again,
    written_down_again,
    written_down_twice,
)
from bookings.queries.money import credit_of
from stock.models import Reservation
from studio.models import Studio
from tests.factories import (
    NOON,
    TODAY,
    BookingFactory,
    ClientFactory,
    ColourFactory,
    InvoiceFactory,
    PaymentFactory,
    QuoteFactory,
    ReservationFactory,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def studio():
    return Studio.objects.create(pk=1, phone="+44 20 7946 0000", currency="USD")


def a_client(name="Ines Varela", phone="", email="", **known) -> Client:
    return ClientFactory(**with_keys({"name": name, "phone": phone, "email": email}), **known)


def merge(kept: Client, gone: Client, owner, *, taken=frozenset(), seen=None) -> Client:
    return actions.merge_clients(
        kept=kept.pk,
        gone=gone.pk,
        taken=frozenset(taken),
        seen=seen or digest_of_clients(kept, gone),
        by=owner,
        at=NOON,
    )


def log(owner, known=None, **client) -> Booking:
    typed = {"name": "", "phone": "", "email": ""} | client
    return actions.log_enquiry(client=typed, job={}, known=known, by=owner, at=NOON)


def test_an_enquiry_is_known_again_by_its_number_in_another_spelling(studio, owner):
    before = log(owner, name="Ines Varela", phone="020 7946 0018")
    BookingFactory(client=before.client)

    (found,) = known_again(phone="+44 20 7946 0018", email="")
    assert found.words == "Ines Varela, 2 jobs before"


def test_an_enquiry_is_known_again_by_its_address_in_capitals(studio, owner):
    log(owner, name="Ines Varela", email="ines@example.org")

    assert [found.words for found in known_again(phone="", email="INES@example.org")] == ["Ines Varela, 1 job before"]


def test_nobody_is_known_by_having_no_number(studio, owner):
    log(owner, name="Ines")
    assert known_again(phone="", email="") == []


def test_an_enquiry_of_somebody_known_is_theirs_and_adds_what_was_not_known(studio, owner):
    ines = a_client(phone="020 7946 0018", notes="Likes navy.")
    booking = log(owner, known=ines.pk, name="Ines V.", phone="02079460018", email="ines@example.org")

    ines.refresh_from_db()
    assert booking.client == ines
    assert (ines.name, ines.phone, ines.email, ines.email_key) == (
        "Ines Varela", "020 7946 0018", "ines@example.org", "ines@example.org",
    )  # fmt: skip
    assert ines.notes == "Likes navy.\nWith the enquiry of 2026-06-01: name Ines V."


def test_an_enquiry_for_somebody_merged_meanwhile_is_of_who_was_kept(studio, owner):
    kept, gone = a_client(), a_client("Ines V.")
    merge(kept, gone, owner)

    assert log(owner, known=gone.pk, name="Ines").client == kept


def test_an_enquiry_for_somebody_erased_meanwhile_is_refused(studio, owner):
    ines = a_client()
    actions.erase_client(client=ines.pk, today=TODAY, by=owner, at=NOON)
    with pytest.raises(actions.ClientIsGone, match="erased at their own request"):
        log(owner, known=ines.pk, name="Ines")


def test_changing_a_name_changes_what_is_held_for_a_job_without_a_title(studio, owner):
    booking = BookingFactory(client=a_client("Ines"), stage="booked", event_on=TODAY, needed_on=TODAY)
    held = ReservationFactory(booking=booking.pk, booking_name="Ines")
    actions.edit_client(client=booking.client, given={"name": "Ines Varela"}, by=owner, at=NOON)

    assert Reservation.objects.get(pk=held.pk).booking_name == "Ines Varela"


def test_numbers_are_compared_anew_once_the_studio_is_in_another_country(studio, owner):
    ines = a_client(phone="020 7946 0018")
    Studio.objects.filter(pk=1).update(phone="+31 20 000 0000")
    actions.compare_phones_again()

    ines.refresh_from_db()
    assert ines.phone_key.startswith("+3120")


# Finding them.


@pytest.mark.parametrize(
    "search",
    [
        "ines",
        "INÉS",
        "varela",
        "ines varela",
        "0018",
        "020 7946",
        "+44 20 7946 0018",
        "(020) 79460018",
        "ines@",
        "EXAMPLE.org",
    ],
)
def test_a_client_is_found_by_name_number_and_address(studio, search):
    ines = a_client("Inés Varela", "020 7946 0018", "ines@example.org")
    a_client("Tobias Renn", "0161 496 0555")

    assert list(clients_list("all", search, today=TODAY, shows_money=True)) == [ines]


def test_crew_find_only_those_with_a_job_under_way(studio):
    ines = BookingFactory(client=a_client("Ines"), stage="booked", needed_on=TODAY).client
    BookingFactory(client=a_client("Inez"), stage="done")

    assert list(clients_list("all", "ine", today=TODAY, shows_money=False)) == [ines]
    assert clients_list("all", "ine", today=TODAY, shows_money=True).count() == 2


def test_who_shares_a_number_or_an_address_is_written_down_twice_and_said_once(studio):
    one = a_client("Ines", "020 7946 0018", "ines@example.org")
    other = a_client("I. Varela", "+442079460018", "INES@example.org")
    a_client("Tobias", "", "tobias@example.org")

    assert [same.clients for same in written_down_twice()] == [(one, other)]
    assert [same.others for same in written_down_again(one)] == [(other,)]


# Two who are one.


def test_everything_of_both_is_the_one_clients(studio, owner):
    kept, gone = a_client(), a_client("Ines V.")
    job = BookingFactory(client=gone)
    invoice = InvoiceFactory(quote=QuoteFactory(booking=job))
    payment = PaymentFactory(booking=job, surplus_minor=500)
    consent = actions.note_consent(client=gone, what="photos", is_given=True, how="said", on=TODAY, by=owner, at=NOON)
    merge(kept, gone, owner)

    assert not Client.objects.filter(pk=gone.pk).exists()
    for row in (job, invoice, payment, consent):
        row.refresh_from_db()
        assert row.client == kept
    assert credit_of(kept.pk) == 500
    assert Payment.objects.count() == Invoice.objects.count() == 1
    record = ClientMerge.objects.get()
    assert (record.kept, record.gone) == (kept, gone.pk)
    assert record.moved == {"booking": 1, "invoice": 1, "payment": 1, "consententry": 1}


def test_what_is_not_kept_of_them_is_in_the_notes(studio, owner):
    kept = a_client("Ines", "020 7946 0018", notes="Navy.", allergies="nuts", found_us="a fair")
    gone = a_client(
        "Ines Varela", "020 7946 0019", "ines@example.org", notes="Sand.", latex_allergy=True, allergies="glue"
    )
    one = merge(kept, gone, owner, taken={"name"})

    one.refresh_from_db()
    assert (one.name, one.phone, one.email, one.found_us) == (
        "Ines Varela",
        "020 7946 0018",
        "ines@example.org",
        "a fair",
    )
    assert (one.latex_allergy, one.allergies) == (True, "nuts; glue")
    assert one.notes == "Navy.\n\nSand.\n\nBefore they were merged, also: name Ines, phone 020 7946 0019."
    assert (one.name_key, one.email_key) == ("ines varela", "ines@example.org")


def test_the_same_address_in_capitals_is_not_kept_twice(studio, owner):
    kept, gone = a_client("Ines", email="ines@example.org"), a_client("Ines", email="INES@example.org")
    one = merge(kept, gone, owner)

    one.refresh_from_db()
    assert (one.email, one.notes) == ("ines@example.org", "")


def test_a_client_cannot_be_merged_with_themselves(studio, owner):
    ines = a_client()
    with pytest.raises(actions.MergeRefused, match="with themselves"):
        merge(ines, ines, owner)


def test_merging_the_same_two_again_changes_nothing(studio, owner):
    kept, gone = a_client(), a_client("Ines V.")
    seen = digest_of_clients(kept, gone)
    assert merge(kept, gone, owner, seen=seen) == merge(kept, gone, owner, seen=seen) == kept
    assert ClientMerge.objects.count() == 1


def test_somebody_merged_already_is_not_merged_into_a_third(studio, owner):
    kept, gone, third = a_client(), a_client("Ines V."), a_client("Tobias")
    merge(kept, gone, owner)
    with pytest.raises(actions.MergeRefused, match="merged into Ines Varela"):
        merge(third, gone, owner, seen="x")


def test_a_chain_of_merges_leads_to_the_last(studio, owner):
    first, second, third = a_client("A"), a_client("B"), a_client("C")
    merge(second, first, owner)
    second.refresh_from_db()
    merge(third, second, owner)

    assert log(owner, known=first.pk).client == third
    assert {record.kept for record in ClientMerge.objects.all()} == {third}


def test_a_client_changed_since_it_was_looked_at_is_not_merged(studio, owner):
    kept, gone = a_client(), a_client("Ines V.")
    seen = digest_of_clients(kept, gone)
    actions.edit_client(client=gone, given={"phone": "020 7946 0018"}, by=owner, at=NOON)
    with pytest.raises(actions.MergeRefused, match="changed since"):
        merge(kept, gone, owner, seen=seen)


def test_notes_too_long_for_one_are_refused_before_anything_moves(studio, owner):
    kept, gone = a_client(notes="n" * 3000), a_client("Ines V.", notes="m" * 3000)
    BookingFactory(client=gone)
    with pytest.raises(actions.MergeRefused, match=r"at most 4,000 fit"):
        merge(kept, gone, owner)
    assert Booking.objects.get().client == gone


@pytest.mark.parametrize("change", [{"gone": 99}, {"taken": ["name"]}, {"moved": {}}])
def test_the_record_of_a_merge_is_never_changed(studio, owner, change):
    merge(a_client(), a_client("Ines V."), owner)
    with pytest.raises(DatabaseError, match="a merge is kept as it was done"), transaction.atomic():
        ClientMerge.objects.update(**change)
    with pytest.raises(DatabaseError, match="a merge is kept as it was done"), transaction.atomic():
        ClientMerge.objects.all()._raw_delete("default")


def test_the_books_of_a_merged_client_still_add_up(studio, owner):
    kept, gone = a_client(), a_client("Ines V.")
    PaymentFactory(booking=BookingFactory(client=gone))
    assert Entry.objects.filter(client=gone).count() == 0
    merge(kept, gone, owner)
    assert Payment.objects.get().client == kept


# What they agreed to.


def test_what_was_said_last_holds(studio, owner):
    ines = a_client()
    say = {"client": ines, "what": "photos", "how": "said", "by": owner, "at": NOON}
    actions.note_consent(is_given=False, on=TODAY, **say)
    actions.note_consent(is_given=True, on=TODAY.replace(day=1, month=5), **say)

    offers, photos = consents_of(ines)
    assert not offers.is_given
    assert offers.latest is None
    assert not photos.is_given
    assert [entry.is_given for entry in photos.entries] == [False, True]


def test_a_word_of_consent_is_never_changed(studio, owner):
    actions.note_consent(client=a_client(), what="offers", is_given=True, how="wrote", on=TODAY, by=owner, at=NOON)
    for change in ({"is_given": False}, {"what": "photos"}, {"on": TODAY.replace(day=2)}):
        with pytest.raises(DatabaseError, match="consent is kept as it was given"), transaction.atomic():
            ConsentEntry.objects.update(**change)
    with pytest.raises(DatabaseError, match="consent is kept as it was given"), transaction.atomic():
        ConsentEntry.objects.all()._raw_delete("default")


@pytest.mark.parametrize("said", [{"what": "cakes"}, {"how": "dreamt"}])
def test_consent_to_what_nobody_asks_is_refused(studio, owner, said):
    with pytest.raises(IntegrityError), transaction.atomic():
        ConsentEntry.objects.create(
            **{"client": a_client(), "what": "offers", "how": "said"} | said, is_given=True, on=TODAY, by=owner, at=NOON
        )


# Latex.


def test_a_latex_allergy_names_the_pieces_of_latex_and_what_they_take(studio, priced):
    Client.objects.update(latex_allergy=True)
    booking = Booking.objects.select_related("client").get(pk=priced.pk)
    check = latex_check(booking, list(booking.pieces.all()), "USD")

    assert check
    ((name, takes),) = check.pieces
    assert name == "Garland"
    assert "latex balloons" in takes
    assert "latex ties" in takes


def test_a_piece_of_foil_alone_is_no_latex(studio, owner, priced):
    Client.objects.update(latex_allergy=True)
    booking = Booking.objects.select_related("client").get(pk=priced.pk)
    foil = ColourFactory(name="Gold foil", finish="foil")
    from estimating.kinds import KINDS, CountedSpec

    spec = CountedSpec(lines=((foil.key, 18, 6),))
    piece = booking.pieces.get()
    piece.kind, piece.spec, piece.layout = "counted", spec.to_json(), KINDS["counted"].lay_out(spec).to_json()
    piece.save()
    check = latex_check(booking, [piece], "USD")

    assert check
    assert [takes for _, takes in check.pieces if "balloon" in takes] == []


def test_a_piece_that_is_not_offered_is_not_checked(studio, priced):
    Client.objects.update(latex_allergy=True)
    booking = Booking.objects.select_related("client").get(pk=priced.pk)
    booking.pieces.update(goes_in="none")
    assert latex_check(booking, list(booking.pieces.all()), "USD") is None


def test_without_a_latex_allergy_nothing_is_checked(studio, priced, django_assert_num_queries):
    booking = with_latex_of_place(Booking.objects.select_related("client")).get(pk=priced.pk)
    pieces = list(booking.pieces.all())
    with django_assert_num_queries(0):
        assert latex_check(booking, pieces, "USD") is None
