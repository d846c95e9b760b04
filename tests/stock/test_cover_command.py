"""`manage.py cover`: what it prints, and what it ends with."""

import datetime as dt
import io
import json

import pytest
from django.core.management import CommandError, call_command

from stock.management.commands import cover as command
from studio.models import Studio
from tests.factories import (
    NOON,
    TODAY,
    ColourFactory,
    ItemFactory,
    KitFactory,
    KitPromiseFactory,
    MovementFactory,
    OfferFactory,
    OrderLineFactory,
    ReservationFactory,
    SupplierFactory,
)

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def fixed_clock(monkeypatch):
    """The command reads the clock itself: here it is noon in UTC on the first of June."""
    monkeypatch.setattr("django.utils.timezone.now", lambda: NOON)


@pytest.fixture
def short_item():
    """128 black 11-inch, 184 promised for the twelfth."""
    item = MovementFactory(item=ItemFactory(colour=ColourFactory(name="Black")), quantity=128).item
    for booking, name, after, quantity in ((1, "Ferry office", 4, 44), (2, "Film gala", 11, 140)):
        ReservationFactory(
            item=item,
            booking=booking,
            booking_name=name,
            needed_on=TODAY + dt.timedelta(days=after),
            quantity=quantity,
        )
    return item


def run(*words: str) -> tuple[int, str]:
    """The exit status, and what was printed."""
    out = io.StringIO()
    try:
        call_command("cover", *words, stdout=out)
    except SystemExit as end:
        return int(end.code or 0), out.getvalue()
    return 0, out.getvalue()


def test_a_shortage_is_told_with_whom_it_hits_and_what_to_buy(short_item):
    MovementFactory()
    OfferFactory(item=short_item, supplier=SupplierFactory(name="Pier Paper"), lead_days=3)
    assert run() == (
        1,
        "Black 11-inch runs short by 56 on Fri 12 Jun; order by Tue 9 Jun.\n"
        "  Film gala goes without 56 on Fri 12 Jun.\n"
        "  Buy 1 bag of 100 by Tue 9 Jun, from Pier Paper.\n"
        "The other 1 item covers the booked jobs over 8 weeks.\n",
    )


def test_what_is_on_the_planned_order_is_told(short_item):
    OfferFactory(item=short_item, lead_days=3)
    OrderLineFactory(item=short_item)
    status, told = run()
    assert status == 1
    assert "  100 are on an order not placed yet. Place the planned order by Tue 9 Jun.\n" in told


def test_a_covered_shelf_ends_well():
    MovementFactory()
    assert run() == (0, "The shelf covers the booked jobs over 8 weeks: 1 item checked.\n")


def test_an_empty_shelf_ends_well():
    assert run() == (0, "Nothing is listed on the shelf yet.\n")


def test_a_shortage_after_the_weeks_asked_for_is_none(short_item):
    assert run("--weeks", "1")[0] == 0
    assert run("--weeks=2")[0] == 1


def test_open_quotes_make_it_short_only_when_asked():
    item = MovementFactory(quantity=10).item
    ReservationFactory(item=item, quantity=30, firm=False)
    assert run()[0] == 0
    status, told = run("--with-open")
    assert status == 1
    assert "booked jobs and open quotes" in told


@pytest.mark.parametrize("weeks", ["0", "54", "-1", "x", "1.5", "²", "9" * 400])
def test_a_number_of_weeks_that_makes_no_sense_is_refused(weeks):
    with pytest.raises(CommandError, match="weeks must be a whole number from 1 to 53"):
        call_command("cover", f"--weeks={weeks}")


def test_json_is_all_that_is_printed_and_says_all_of_it(short_item):
    OfferFactory(item=short_item, supplier=SupplierFactory(name="Pier Paper"), lead_days=3, price_minor=791937)
    status, told = run("--json", "--weeks=2")
    assert status == 1
    assert json.loads(told) == {
        "today": "2026-06-01",
        "from": "2026-06-01",
        "until": "2026-06-14",
        "weeks": 2,
        "with_open": False,
        "items": 1,
        "covered": 0,
        "short": [
            {
                "item": short_item.pk,
                "label": "Black 11-inch",
                "on_hand": 128,
                "short_on": "2026-06-12",
                "short_by": 56,
                "order_by": "2026-06-09",
                "too_late": False,
                "planned": 0,
                "weekly": [84, -56],
                "bookings": [{"booking": 2, "name": "Film gala", "day": "2026-06-12", "quantity": 56}],
                "late": [],
                "buy": {
                    "supplier": "Pier Paper",
                    "packs": 1,
                    "pack_size": 100,
                    "quantity": 100,
                    "order_by": "2026-06-09",
                },
            }
        ],
        "kit": [],
    }


def test_kit_promised_twice_is_said_and_ends_as_what_runs_short_does():
    kit = KitFactory(name="Arch frame")
    for booking, name in ((1, "Ferry office"), (2, "Film gala")):
        KitPromiseFactory(kit=kit, booking=booking, booking_name=name)
    status, told = run("--json")
    assert status == 1
    (clash,) = json.loads(told)["kit"]
    assert clash == {
        "kit": kit.pk,
        "name": "Arch frame",
        "from": "2026-06-11",
        "until": "2026-06-13",
        "short_by": 1,
        "firm": True,
        "sentence": "Arch frame is promised twice from Thu 11 to Sat 13 Jun: Ferry office and Film gala.",
        "bookings": [{"booking": 2, "name": "Film gala", "quantity": 1}],
    }
    status, told = run()
    assert status == 1
    assert clash["sentence"] in told
    assert run("--weeks=1")[0] == 0


def test_json_of_a_covered_shelf_ends_well():
    status, told = run("--json")
    assert status == 0
    assert json.loads(told)["short"] == []


def test_the_help_names_every_key_of_the_json(short_item):
    found = json.loads(run("--json")[1])
    for key in [*found, *found["short"][0], *found["short"][0]["bookings"][0]]:
        assert key in command.Command.help


def test_neither_form_tells_a_price(short_item):
    OfferFactory(item=short_item, price_minor=791937)
    for words in ([], ["--json"]):
        told = run(*words)[1]
        assert not any(written in told for written in ("7919", "7,919"))


def test_the_day_is_the_studios_own(monkeypatch):
    Studio.objects.create(pk=1, time_zone="Pacific/Auckland")
    monkeypatch.setattr("django.utils.timezone.now", lambda: NOON + dt.timedelta(hours=6))
    assert json.loads(run("--json")[1])["today"] == "2026-06-02"


def test_the_help_lists_every_option(capsys):
    with pytest.raises(SystemExit):
        command.Command().create_parser("manage.py", "cover").parse_args(["--help"])
    told = capsys.readouterr().out
    for option in ("--with-open", "--weeks", "--json", "--demo"):
        assert option in told
