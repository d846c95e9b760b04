"""The pages of clients: finding, writing down, asking who it is, merging, erasing; and what crew do not see."""

import datetime as dt
import json
import uuid

import pytest
from django.urls import reverse
from django.utils import timezone

from bookings.actions.clients import with_keys
from bookings.models import AmountDue, Booking, Client, ClientMerge, ConsentEntry
from bookings.queries.clients import digest_of_clients
from studio.models import Studio
from tests.factories import NOON, BookingFactory, ClientFactory, QuoteFactory
from tests.opened import send_opened

pytestmark = pytest.mark.django_db

CANARY = 791_937


@pytest.fixture(autouse=True)
def studio():
    return Studio.objects.create(pk=1, name="Tern & Tide Balloons", phone="+1 206 555 0100")


def a_client(name="Ines Varela", phone="", email="", **known) -> Client:
    return ClientFactory(**with_keys({"name": name, "phone": phone, "email": email}), **known)


def send(browser, name, /, *args, **typed):
    return browser.post(reverse(f"bookings:{name}", args=args), {"form_key": str(uuid.uuid4()), **typed})


def said(answer) -> str:
    return answer.content.decode()


# Who is it?


def test_a_known_number_is_asked_about_and_nothing_is_kept_yet(owner_client):
    ines = a_client(phone="206-555-0142")
    BookingFactory.create_batch(2, client=ines)
    answer = send(owner_client, "enquiry", name="I.", phone="(206) 555 0142", wants="A garland")

    assert answer.status_code == 422
    assert "This is Ines Varela, 2 jobs before" in said(answer)
    assert "A garland" in said(answer)
    assert Booking.objects.count() == 2


def test_saying_that_it_is_them_makes_it_their_job(owner_client):
    ines = a_client(phone="206-555-0142")
    answer = send(owner_client, "enquiry", name="I.", phone="(206) 555 0142", who=str(ines.pk))

    assert answer.status_code == 302
    assert Booking.objects.get().client == ines
    assert Client.objects.count() == 1


def test_saying_that_it_is_somebody_else_makes_a_new_client(owner_client):
    a_client(phone="206-555-0142")
    send(owner_client, "enquiry", name="Her brother", phone="(206) 555 0142", who="new")

    assert Booking.objects.get().client.name == "Her brother"


@pytest.mark.parametrize("who", ["99999", "x", "0"])
def test_nobody_but_those_asked_about_can_be_chosen(owner_client, who):
    a_client(phone="206-555-0142")
    assert send(owner_client, "enquiry", phone="206 555 0142", who=who).status_code == 422
    assert not Booking.objects.exists()


def test_somebody_unknown_is_asked_nothing(owner_client):
    assert send(owner_client, "enquiry", name="Ines", phone="206 555 0142").status_code == 302


def test_the_question_comes_while_the_number_is_typed(crew_client):
    a_client(phone="206-555-0142")
    answer = crew_client.post(reverse("bookings:client-known"), {"phone": "+1 206 555 0142", "email": ""})

    assert "This is Ines Varela, no job before" in said(answer)
    assert "This is" not in said(crew_client.post(reverse("bookings:client-known"), {"phone": "1", "email": ""}))


def test_a_new_client_who_is_known_leads_to_who_they_are(owner_client):
    ines = a_client(email="ines@example.org")
    asked = send(owner_client, "client-new", name="Ines", email="INES@example.org")
    assert asked.status_code == 422

    answer = send(owner_client, "client-new", name="Ines", email="INES@example.org", who=str(ines.pk))
    assert answer.headers["Location"] == reverse("bookings:client-edit", args=[ines.pk])
    assert Client.objects.count() == 1


# Writing down.


def test_a_client_is_written_down_and_changed(owner_client):
    send(owner_client, "client-new", name="Ines", phone="206 555 0142", latex_allergy="on", notes="Likes navy.")
    ines = Client.objects.get()
    assert (ines.phone, ines.phone_key, ines.latex_allergy) == ("206 555 0142", "+12065550142", True)

    send(owner_client, "client-edit", ines.pk, name="Ines Varela", phone="", email="", allergies="nuts")
    ines.refresh_from_db()
    assert (ines.name, ines.phone_key, ines.latex_allergy, ines.allergies) == ("Ines Varela", "", False, "nuts")


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        pytest.param({}, "one of them is enough", id="nothing"),
        pytest.param({"name": "Ines", "email": "ines at home"}, "email address", id="no-address"),
        pytest.param({"name": "I" * 121}, "120", id="too-long"),
    ],
)
def test_bad_details_are_refused_with_what_was_typed(owner_client, typed, sentence):
    answer = send(owner_client, "client-new", notes="Kept here.", **typed)

    assert answer.status_code == 422
    assert sentence in said(answer)
    assert "Kept here." in said(answer)


def test_a_yes_and_its_taking_back_are_written_down(owner_client):
    ines = a_client()
    today = f"{timezone.localdate():%Y-%m-%d}"
    for word in ("yes", "no"):
        send(owner_client, "client-consent", ines.pk, what="photos", is_given=word, how="wrote", on=today)

    assert [entry.is_given for entry in ConsentEntry.objects.order_by("pk")] == [True, False]
    page = said(owner_client.get(reverse("bookings:client-page", args=[ines.pk])))
    assert "withdrawn, in a message" in page


def test_consent_of_a_day_to_come_is_refused(owner_client):
    ines = a_client()
    day = f"{timezone.localdate() + dt.timedelta(days=1):%Y-%m-%d}"
    answer = send(owner_client, "client-consent", ines.pk, what="photos", is_given="yes", how="said", on=day)

    assert answer.status_code == 422
    assert "today or before" in said(answer)


# An allergy is on every job.


@pytest.mark.parametrize("page", ["detail", "pull-list"])
def test_an_allergy_is_said_to_everybody_on_the_job(owner_client, crew_client, page):
    booking = BookingFactory(
        client=a_client(latex_allergy=True, allergies="nuts"), stage="booked", needed_on=timezone.localdate()
    )
    for browser in (owner_client, crew_client):
        shown = said(browser.get(reverse(f"bookings:{page}", args=[booking.pk])))
        assert "Latex; nuts" in shown
        assert "client’s doctor" in shown
        assert "venue’s" in shown


def test_the_owner_is_warned_before_sending_a_quote_of_latex(owner_client, priced):
    Client.objects.update(latex_allergy=True)
    booking = priced
    Booking.objects.filter(pk=booking.pk).update(event_on=timezone.localdate() + dt.timedelta(days=20))
    shown = said(owner_client.get(reverse("bookings:quote-issue", args=[booking.pk])))

    assert "Latex allergy: nothing in this quote may be latex." in shown
    assert "latex balloons" in shown


# Merging.


def merge(browser, kept, gone, **typed):
    seen = digest_of_clients(kept, gone)
    return send(browser, "client-merge", kept.pk, gone.pk, **({"seen": seen} | typed))


def test_two_are_compared_side_by_side_and_become_one(owner_client):
    kept, gone = a_client("Ines", phone="206 555 0142"), a_client("Ines Varela", phone="+1 206 555 0142")
    BookingFactory(client=gone, title="Winter gala")
    shown = said(owner_client.get(reverse("bookings:client-merge", args=[kept.pk, gone.pk])))
    assert "It cannot be undone" in shown
    assert "Winter gala" in shown

    answer = merge(owner_client, kept, gone, name="gone", phone="kept")
    assert answer.headers["Location"] == reverse("bookings:client-page", args=[kept.pk])
    kept.refresh_from_db()
    assert (kept.name, kept.phone) == ("Ines Varela", "206 555 0142")


def test_which_value_to_keep_has_to_be_said(owner_client):
    kept, gone = a_client("Ines"), a_client("Ines Varela")
    assert merge(owner_client, kept, gone).status_code == 422
    assert Client.objects.count() == 2


def test_the_address_of_who_is_no_more_leads_to_who_was_kept(owner_client):
    kept, gone = a_client("Ines"), a_client("Ines Varela")
    merge(owner_client, kept, gone, name="kept")

    answer = owner_client.get(reverse("bookings:client-page", args=[gone.pk]))
    assert answer.headers["Location"] == reverse("bookings:client-page", args=[kept.pk])
    again = owner_client.get(reverse("bookings:client-merge", args=[kept.pk, gone.pk]))
    assert again.headers["Location"] == reverse("bookings:client-page", args=[kept.pk])


def test_a_client_is_not_compared_with_themselves(owner_client):
    ines = a_client()
    assert merge(owner_client, ines, ines).status_code == 302
    assert not ClientMerge.objects.exists()


# Erasing, and their data.


def test_erasing_takes_two_steps(owner_client):
    ines = a_client(phone="206 555 0142")
    shown = said(owner_client.get(reverse("bookings:client-erase", args=[ines.pk])))
    assert "This goes" in shown
    assert "Backups made before today" in shown
    assert send(owner_client, "client-erase", ines.pk).status_code == 422
    assert Client.objects.get().phone

    send(owner_client, "client-erase", ines.pk, sure="on")
    assert Client.objects.get().name == f"Erased client {ines.pk}"
    assert "Erased on" in said(owner_client.get(reverse("bookings:client-page", args=[ines.pk])))


def test_the_page_says_why_somebody_cannot_be_erased_and_offers_no_button(owner_client):
    booking = BookingFactory(client=a_client(), title="Gala", stage="enquiry")
    shown = said(owner_client.get(reverse("bookings:client-erase", args=[booking.client.pk])))

    assert "Gala, is still enquiry" in shown
    assert 'name="sure"' not in shown
    send(owner_client, "client-erase", booking.client.pk, sure="on")
    assert Client.objects.get().name == "Ines Varela"


def test_an_erased_quote_says_so_and_has_no_paper(owner_client):
    quote = QuoteFactory(booking=BookingFactory(client=a_client(), stage="lost"))
    send(owner_client, "client-erase", quote.booking.client.pk, sure="on")

    assert "nobody accepted it" in said(owner_client.get(reverse("bookings:quote", args=[quote.pk])))
    assert owner_client.get(reverse("bookings:quote-pdf", args=[quote.pk])).status_code == 404
    assert owner_client.get(reverse("bookings:detail", args=[quote.booking.pk])).status_code == 200


def test_an_erased_clients_job_cannot_be_given_a_name_again(owner_client):
    booking = BookingFactory(client=a_client(), stage="lost")
    send(owner_client, "client-erase", booking.client.pk, sure="on")
    answer = owner_client.get(reverse("bookings:edit", args=[booking.pk]))

    assert answer.headers["Location"] == reverse("bookings:detail", args=[booking.pk])


def test_a_client_gets_everything_kept_of_them(owner_client):
    ines = a_client(phone="206 555 0142", notes='=HYPERLINK("x")')
    quote = QuoteFactory(booking=BookingFactory(client=ines, wants="A garland"))
    answer = owner_client.get(reverse("bookings:client-export", args=[ines.pk]))
    kept = json.loads(answer.content)

    assert kept["client"]["phone"] == "206 555 0142"
    assert kept["client"]["notes"] == '=HYPERLINK("x")'
    assert kept["jobs"][0]["wants"] == "A garland"
    assert kept["jobs"][0]["quotes"][0]["total_minor"] == quote.total_minor
    assert answer.headers["Content-Type"] == "application/json"


# Crew.


def test_crew_see_neither_money_nor_notes_nor_what_does_not_concern_them(crew_client):
    ines = a_client(phone="206 555 0142", notes="Secret note", found_us="Secret source")
    booking = BookingFactory(client=ines, stage="done", needed_on=timezone.localdate(), title="Gala")
    quote = QuoteFactory(booking=booking, price_minor=CANARY, tax_minor=0, deposit_minor=0)
    AmountDue.objects.create(booking=booking, quote=quote, kind="balance", amount_minor=CANARY, due_on=NOON.date())
    shown = said(crew_client.get(reverse("bookings:client-page", args=[ines.pk])))

    assert "Gala" in shown
    for secret in ("7,919", "Secret note", "Secret source", "206 555 0142", "Erase", "offers"):
        assert secret not in shown, secret


def test_crew_reach_a_client_whose_job_is_under_way(crew_client):
    ines = a_client(phone="206 555 0142")
    BookingFactory(client=ines, stage="booked", needed_on=timezone.localdate())

    assert "206 555 0142" in said(crew_client.get(reverse("bookings:client-page", args=[ines.pk])))
    assert "Ines Varela" in said(crew_client.get(reverse("bookings:clients")))


# The list.


def test_a_list_of_nobody_says_what_to_do(owner_client):
    assert "Nobody yet." in said(owner_client.get(reverse("bookings:clients")))


def test_a_search_that_fits_nobody_says_so(owner_client):
    a_client()
    assert "No client fits that." in said(owner_client.get(reverse("bookings:clients"), {"q": "Tobias"}))


def test_the_list_says_who_owes_and_shows_them_alone_when_asked(owner_client):
    a_client("Tobias")
    booking = BookingFactory(client=a_client(), stage="booked", needed_on=timezone.localdate())
    quote = QuoteFactory(booking=booking)
    AmountDue.objects.create(booking=booking, quote=quote, kind="balance", amount_minor=CANARY, due_on=NOON.date())
    shown = said(owner_client.get(reverse("bookings:clients"), {"show": "owing"}))

    assert "owes $7,919.37" in shown
    assert "Tobias" not in shown


def test_searching_answers_with_the_rows_alone(owner_client):
    a_client()
    shown = said(owner_client.get(reverse("bookings:clients"), {"q": "ines"}, headers={"HX-Request": "true"}))
    assert "Ines Varela" in shown
    assert "<html" not in shown


def test_two_hundred_clients_are_paged_and_ask_as_much_as_ten(owner_client, owner, django_assert_max_num_queries):
    day = timezone.localdate()
    for n in range(200):
        client = a_client(f"Client {n:03}")
        BookingFactory(client=client, event_on=day + dt.timedelta(days=n - 100), created_by=owner)
    with django_assert_max_num_queries(16):
        shown = said(owner_client.get(reverse("bookings:clients")))

    assert shown.count('class="row-title"') == 50
    assert "Page 1 of 4" in shown
    assert "Client 199" in said(owner_client.get(reverse("bookings:clients"), {"page": 4}))


def test_a_client_of_many_jobs_asks_as_much_as_one_of_few(owner_client, owner, django_assert_max_num_queries):
    ines = a_client()
    for booking in BookingFactory.create_batch(30, client=ines, created_by=owner):
        QuoteFactory(booking=booking, issued_by=owner)
    with django_assert_max_num_queries(22):
        owner_client.get(reverse("bookings:client-page", args=[ines.pk]))


def test_moving_the_studio_to_another_country_compares_numbers_anew(owner_client, studio):
    ines = a_client(phone="020 7946 0018")
    names = ("name", "email", "address", "currency", "measures", "quote_days", "terms")
    details = {name: getattr(studio, name) for name in names}
    answer = send_opened(
        owner_client,
        reverse("settings-studio"),
        details | {"form_key": str(uuid.uuid4()), "phone": "+44 20 7946 0000", "time_zone": "Europe/London"},
    )

    assert answer.status_code == 302
    ines.refresh_from_db()
    assert ines.phone_key == "+442079460018"
