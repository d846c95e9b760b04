"""How many statements each page asks the database: one bound a page, and the same for a few rows as for many."""

import datetime as dt
from collections import Counter
from collections.abc import Callable

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from bookings.models import Booking, Charge, OnTheJob, Piece, Question
from stock.models import Kit
from tests.factories import NOON, BookingFactory, ColourFactory, KitFactory
from tests.more_rows import fill_lists, promise, write

# How many statements there are is settled before a database is asked.
pytestmark = [pytest.mark.django_db, pytest.mark.once]
MOST_ALIKE = 2
"""How often a page may ask one and the same statement, whatever the values in it."""
FEW, MANY = 40, 400

LISTS = {
    "week": 22,
    "bookings:list": 5,
    "bookings:clients": 8,
    "bookings:money": 7,
    "bookings:calendar": 5,
    "bookings:plan": 18,
    "bookings:mail": 5,
    "stock:shelf": 6,
    "stock:kit": 5,
}
"""The most a list asks: session, person and studio are three of it. The week is eleven lists on one page."""
JOB, FULL_JOB, PIECE = 16, 21, 12
"""A job, one that has everything a job can have, and a piece of it while it is made. What a job has none of is not
asked for."""
PLAN = 18
"""Jobs with their places and pieces, people with their weeks and days off, the pace with what jobs taught, and the
weekly check."""
SHEETS = {"run-sheet": 18, "strike": 13, "site-check": 11, "place": 9, "pull-list": 13}
"""What whoever does a job opens on the day. None asks more for more pieces, kit or people."""
IN_THE_PLAN = {"run-sheet": 26, "job-plan": 19}
"""The same of a job that the plan of the weeks ahead has: the plan hands on what it read."""


def asked(browser, address: str) -> list[str]:
    """What a page asks, once what is kept between requests is kept."""
    assert browser.get(address).status_code == 200
    with CaptureQueriesContext(connection) as captured:
        browser.get(address)
    return [query["sql"] for query in captured.captured_queries]


def too_often(statements: list[str]) -> list[str]:
    """Statements that are asked more often than a page may."""
    return [sql for sql, times in Counter(statements).items() if times > MOST_ALIKE]


@pytest.mark.parametrize("page", LISTS)
def test_a_list_asks_few_things_and_no_more_for_ten_times_the_rows(owner_client, owner, page):
    fill_lists(FEW, by=owner)
    few = asked(owner_client, reverse(page))
    fill_lists(MANY - FEW, by=owner, start=FEW)
    many = asked(owner_client, reverse(page))
    assert len(many) == len(few)
    assert len(many) <= LISTS[page]
    assert too_often(many) == []


def test_the_week_asks_three_things_more_where_people_are_on_its_jobs(owner_client, owner):
    fill_lists(FEW, by=owner)
    without = len(asked(owner_client, reverse("week")))
    OnTheJob.objects.bulk_create(OnTheJob(booking=job, person=owner) for job in Booking.objects.all())
    found = asked(owner_client, reverse("week"))
    assert len(found) <= without + 3
    assert too_often(found) == []


@pytest.mark.parametrize("pieces", [1, 12])
@pytest.mark.parametrize("is_booked", [False, True], ids=["quoted", "booked"])
def test_a_job_asks_few_things_however_many_pieces_it_has(
    owner_client, priced, add_garland, issue, say_yes, pieces, is_booked
):
    for n in range(pieces - 1):
        add_garland(priced, name=f"Garland {n}")
        ColourFactory()
    quote = issue(priced)
    if is_booked:
        say_yes(quote)
    found = asked(owner_client, reverse("bookings:detail", args=[priced.pk]))
    assert len(found) <= JOB
    assert too_often(found) == []


@pytest.mark.parametrize("number", [1, 9])
def test_a_job_that_has_everything_asks_little_more(owner_client, owner, priced, add_garland, issue, say_yes, number):
    quote = issue(priced)
    say_yes(quote)
    for n in range(number):
        add_garland(priced, name=f"Garland {n}")
        Charge.objects.create(booking=priced, name=f"Delivery {n}", minutes=30)
        promise(priced, Kit.objects.create(name=f"Frame {n}"), on=priced.event_on, by=owner)
        Question.objects.create(booking=priced, quote=quote, text="How long does it last?", asked_at=NOON)
        write(priced)
    OnTheJob.objects.create(booking=priced, person=owner)
    found = asked(owner_client, reverse("bookings:detail", args=[priced.pk]))
    assert len(found) <= FULL_JOB
    assert too_often(found) == []


@pytest.mark.parametrize("page", SHEETS)
@pytest.mark.parametrize("number", [1, 7])
def test_a_sheet_for_the_day_asks_few_things_however_much_goes_along(
    owner_client, owner, priced, add_garland, issue, say_yes, page, number
):
    for n in range(number - 1):
        add_garland(priced, name=f"Garland {n}")
    for n in range(number):
        promise(priced, Kit.objects.create(name=f"Frame {n}"), on=priced.event_on, by=owner)
        KitFactory(sort="ladder", height_mm=1800 + 300 * n)
    say_yes(issue(priced))
    Booking.objects.filter(pk=priced.pk).update(hang_height_mm=2700)
    found = asked(owner_client, reverse(f"bookings:{page}", args=[priced.pk]))
    assert len(found) <= SHEETS[page]
    assert too_often(found) == []


def test_the_plan_reads_all_its_jobs_together(owner_client, owner, add_garland):
    asks = []
    for number in (1, 5):
        for n in range(number):
            day = timezone.localdate() + dt.timedelta(days=10 + n)
            job = BookingFactory(stage="booked", event_on=day, needed_on=day, created_by=owner)
            add_garland(job)
        asks.append(asked(owner_client, reverse("bookings:plan")))
    assert len(asks[1]) == len(asks[0]) <= PLAN
    assert too_often(asks[1]) == []


@pytest.mark.parametrize("page", IN_THE_PLAN)
def test_a_job_of_the_plan_asks_for_little_besides_the_plan(owner_client, many_made, page):
    many_made(4)
    address = reverse(f"bookings:{page}", args=[Booking.objects.filter(stage="booked").earliest("pk").pk])
    few = asked(owner_client, address)
    many_made(FEW)
    many = asked(owner_client, address)
    assert len(many) == len(few)
    assert len(many) <= IN_THE_PLAN[page]
    assert too_often(many) == []


@pytest.mark.parametrize("options", [2, 3])
def test_options_are_reckoned_from_what_is_read_once(owner_client, priced, add_garland, options):
    for n in range(options):
        add_garland(priced, name=f"Garland {n}")
        priced.pieces.filter(name=f"Garland {n}").update(goes_in=str(n + 1))
    found = asked(owner_client, reverse("bookings:detail", args=[priced.pk]))
    assert len(found) <= JOB
    assert too_often(found) == []


@pytest.fixture
def many_made(priced, owner) -> Callable[[int], None]:
    """Makes so many more booked jobs within the weeks that are planned, each with the same garland and its person."""
    piece = priced.pieces.get()

    def make(number: int) -> None:
        fill_lists(number, by=owner, start=Booking.objects.count())
        jobs = list(Booking.objects.filter(stage="booked", pieces__isnull=True))
        for n, job in enumerate(jobs):
            job.event_on = timezone.localdate() + dt.timedelta(days=3 + n % 50)
            job.needed_on = job.event_on - dt.timedelta(days=1)
            job.ready_by = dt.time(14)
        Booking.objects.bulk_update(jobs, ["event_on", "needed_on", "ready_by"])
        kept = {
            field.attname: getattr(piece, field.attname)
            for field in piece._meta.concrete_fields
            if field.name not in ("id", "booking")
        }
        Piece.objects.bulk_create(Piece(booking=job, **kept) for job in jobs)
        OnTheJob.objects.bulk_create(OnTheJob(booking=job, person=owner) for job in jobs)

    return make


@pytest.mark.parametrize("page", ["bookings:plan", "bookings:my-days"])
def test_what_is_planned_is_read_once_however_many_jobs_there_are(owner_client, many_made, page):
    many_made(4)
    few = asked(owner_client, reverse(page))
    many_made(FEW)
    many = asked(owner_client, reverse(page))
    assert len(many) == len(few)
    assert len(many) <= PLAN
    assert too_often(many) == []


def test_a_piece_being_made_asks_few_things(owner_client, priced):
    found = asked(owner_client, reverse("bookings:piece", args=[priced.pk, priced.pieces.get().pk]))
    assert len(found) <= PIECE
    assert too_often(found) == []
