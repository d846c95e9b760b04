"""When a piece may be made, backwards from when the van is loaded."""

import datetime as dt
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from bookings.access import ANY_TIME, Access
from bookings.planning import (
    SUN_MINUTES,
    Batch,
    Making,
    PrepWork,
    Standing,
    Window,
    prep_works,
    standing_outdoors,
    together,
    window_of,
)
from bookings.run_steps import Work
from bookings.timetable import Said

NEW_YORK = ZoneInfo("America/New_York")
SATURDAY = dt.date(2026, 6, 20)
WORK = Work(travel=30, install=120, strike=60)


def day(n: int) -> dt.date:
    """So many days from the Saturday of the event."""
    return SATURDAY + dt.timedelta(days=n)


def said(**given) -> Said:
    usual: dict[str, Any] = {
        "event_on": SATURDAY,
        "prep_on": day(-1),
        "ready_by": dt.time(14),
        "starts_at": dt.time(18),
    }
    return Said(**usual | {"ends_at": dt.time(23)} | given)


def window(batch: Batch, **given) -> Window:
    return window_of(batch, said(**given), WORK, zone=NEW_YORK)


def days(batch: Batch, **given) -> tuple[dt.date, dt.date]:
    found = window(batch, **given)
    return found.first, found.last


AIR = Batch("Garland", 300)
ELEVEN = Batch("Bouquet", 60, floats=8, sealed=48)
GIANT = Batch("Big balloon", 60, floats=36, sealed=216)


def test_air_keeps_for_three_days():
    assert days(AIR) == (day(-3), day(-1))


def test_outdoors_is_done_on_the_day():
    assert days(Batch("Arch", 300, outdoors=True)) == (SATURDAY, SATURDAY)


def test_helium_is_filled_no_earlier_than_it_floats_until_the_end():
    """36 hours before 23:00 on Saturday is 11:00 on Friday."""
    found = window(GIANT)
    assert (found.first, found.last) == (day(-1), day(-1))
    assert found.not_before == dt.datetime(2026, 6, 19, 11, tzinfo=NEW_YORK)
    assert (
        found.why
        == "Helium: it floats 36 hours at least and must until 23:00 on Sat 20 Jun, so not before 11:00 on Fri 19 Jun."
    )


def test_sealed_it_may_be_begun_earlier_but_no_more_than_three_days():
    assert window(GIANT).earliest == day(-3)
    assert window(ELEVEN).earliest == day(-1)


def test_what_would_come_down_too_early_is_said():
    found = window(ELEVEN)
    assert (found.first, found.last) == (SATURDAY, SATURDAY)
    assert found.too_late == (
        "The van is loaded at 11:00 on Sat 20 Jun, before that: seal it inside, for 48 hours at least,"
        " or fill it there, or take foil or air."
    )


def test_a_job_without_a_time_floats_until_midnight():
    found = window(GIANT, ready_by=None, starts_at=None, ends_at=None)
    assert found.not_before == dt.datetime(2026, 6, 19, 12, tzinfo=NEW_YORK)
    assert found.too_late == ""


def test_an_event_past_midnight_floats_into_the_next_day():
    assert window(GIANT, ends_at=dt.time(2)).not_before == dt.datetime(2026, 6, 19, 14, tzinfo=NEW_YORK)


def test_hours_afloat_are_hours_that_pass_when_the_clocks_go_back():
    """From 14:00 on 31 October to 01:00 on 2 November are 36 hours that pass: one of them comes twice."""
    night = dt.date(2026, 11, 1)
    found = window(GIANT, event_on=night, prep_on=night - dt.timedelta(days=1), ends_at=dt.time(1))
    assert found.not_before == dt.datetime(2026, 10, 31, 14, tzinfo=NEW_YORK)


def test_an_install_on_the_evening_before_takes_its_days_with_it():
    """Ready by 09:00 with the install from 20:00: loaded on the day before the event."""
    assert days(AIR, install_at=dt.time(20), ready_by=dt.time(9), prep_on=day(-1)) == (day(-4), day(-1))


@pytest.mark.parametrize(
    ("prep", "first", "best", "last"),
    [
        pytest.param(-1, -3, -1, -1, id="the day before, as usual"),
        pytest.param(-2, -3, -2, -1, id="a day earlier"),
        pytest.param(-6, -6, -6, -1, id="earlier than balloons keep"),
        pytest.param(0, -3, 0, 0, id="the day of the event"),
    ],
)
def test_the_prep_day_is_the_best_one(prep, first, best, last):
    found = window(AIR, prep_on=day(prep))
    assert (found.first, found.best, found.last) == (day(first), day(best), day(last))


def test_the_best_day_for_helium_is_the_first_it_may_be_filled_on_after_the_prep_day():
    assert window(ELEVEN).best == SATURDAY
    assert window(GIANT).best == day(-1)


def test_pieces_that_may_be_made_on_the_same_days_are_one():
    pairs = [(batch, window(batch)) for batch in (AIR, GIANT, Batch("Column", 40))]
    assert [(making.minutes, making.names) for making in together(pairs)] == [
        (340, ("Garland", "Column")),
        (60, ("Big balloon",)),
    ]


def test_pieces_that_wait_for_decals_are_apart_from_those_that_do_not():
    pairs = [(batch, window(batch)) for batch in (AIR, Batch("Lettered balloon", 40, decals=2))]
    assert [(making.names, making.decals) for making in together(pairs)] == [
        (("Garland",), 0),
        (("Lettered balloon",), 2),
    ]


def works(*batches: Batch, prep: int = -1, gas: int = 45, decals: int = 10) -> dict[str, PrepWork]:
    """The work of a job by what is done; of what is inflated, the last."""
    makings: list[Making] = together([(batch, window(batch, prep_on=day(prep))) for batch in batches])
    found = prep_works(makings, prep_on=day(prep), gas_minutes=gas, decal_minutes=decals)
    return {work.what: work for work in found}


def test_gas_is_collected_the_day_before_it_is_filled():
    gas = works(Batch("Bouquet", 60, floats=8, litres=640))["Collect gas"]
    assert (gas.first, gas.best, gas.last) == (day(-2), day(-1), SATURDAY)
    assert (gas.minutes, gas.note) == (45, "640 litres of helium")


def test_all_decals_of_a_job_are_cut_together():
    decals = works(Batch("Lettered balloon", 40, decals=1), Batch("Another", 40, decals=2), decals=30)["Cut decals"]
    assert (decals.minutes, decals.note) == (30, "3 decals")


def test_nothing_is_best_done_before_the_prep_day():
    """Air-filled and lettered: it may be made from Wednesday on, and the shelf holds its vinyl for Friday."""
    assert works(Batch("Lettered balloon", 40, decals=1))["Cut decals"].best == day(-1)
    assert works(Batch("Lettered balloon", 40, decals=1), prep=-3)["Cut decals"].best == day(-3)


def test_what_is_filled_waits_for_its_gas_and_for_its_decals():
    found = works(Batch("Lettered balloon", 40, floats=36, litres=300, decals=1))
    assert set(found["Inflate and assemble"].after) == {found["Collect gas"].key, found["Cut decals"].key}


def test_what_needs_neither_waits_for_nothing():
    assert works(AIR)["Inflate and assemble"].after == ()


def test_what_takes_no_time_is_no_work():
    assert list(works(Batch("Bouquet", 60, floats=8, litres=640), gas=0)) == ["Inflate and assemble"]


def test_gas_for_two_pieces_is_there_for_the_first_of_them():
    gas = works(Batch("Bouquet", 60, floats=8, litres=640), Batch("Big balloon", 20, floats=36, litres=300))
    assert gas["Collect gas"].note == "940 litres of helium"
    assert gas["Collect gas"].last == day(-1)


def test_a_job_without_a_day_cannot_be_planned():
    with pytest.raises(ValueError, match="event_on"):
        window(AIR, event_on=None)


ARCH = Batch("Arch", 90, outdoors=True)


def standing(*batches: Batch, crew: int = 1, access: Access = ANY_TIME, **given) -> Standing | None:
    return standing_outdoors(batches or (ARCH,), said(**given), WORK, crew=crew, zone=NEW_YORK, access=access)


@pytest.mark.parametrize(
    ("given", "up", "minutes"),
    [
        pytest.param({}, "14:00", 0, id="nobody said when the install begins: it ends when it must be ready"),
        pytest.param({"install_at": dt.time(8)}, "11:30", 150, id="inflated for 90 minutes, put up for 120"),
        pytest.param({"install_at": dt.time(8), "crew": 3}, "10:30", 210, id="three inflate it"),
        pytest.param({"install_at": dt.time(13)}, "14:00", 0, id="no time to spare"),
        pytest.param({"install_at": dt.time(8), "ready_by": None}, "11:30", 390, id="ready for the event"),
        pytest.param({"access": Access(dt.time(9), dt.time(12))}, "12:00", 120, id="the place shuts before"),
    ],
)
def test_how_long_what_goes_outdoors_stands_before_it_must_be_ready(given, up, minutes):
    found = standing(**given)
    assert found is not None
    assert (f"{found.up:%H:%M}", found.minutes, found.is_overnight) == (up, minutes, False)


@pytest.mark.parametrize(
    ("batch", "given"),
    [
        pytest.param(AIR, {}, id="indoors"),
        pytest.param(Batch("Stars", 90, outdoors=True, latex=False), {}, id="foil"),
        pytest.param(ARCH, {"ready_by": None, "starts_at": None}, id="no time is known"),
    ],
)
def test_nothing_stands_in_the_sun(batch, given):
    assert standing(batch, **given) is None


def test_an_install_the_evening_before_leaves_it_overnight():
    found = standing(install_at=dt.time(18))
    assert found is not None
    assert (found.is_overnight, found.up) == (True, dt.datetime(2026, 6, 19, 21, 30, tzinfo=NEW_YORK))


def test_begun_when_it_is_best_it_stands_as_long_as_it_may():
    early = standing(install_at=dt.time(8))
    assert early is not None
    best = standing(install_at=early.best_begin.time())
    assert best is not None
    assert (f"{early.best_begin:%H:%M}", best.minutes) == ("10:00", SUN_MINUTES)


def test_the_minutes_of_a_night_in_which_the_clocks_change_are_those_that_pass():
    """On 8 March 2026 New York goes from 02:00 to 03:00."""
    spring: dict[str, Any] = {"event_on": dt.date(2026, 3, 8), "prep_on": None, "starts_at": None}
    found = standing(Batch("Arch", 30, outdoors=True), install_at=dt.time(0), ready_by=dt.time(6), **spring)
    assert found is not None
    assert (f"{found.up:%H:%M}", found.minutes) == ("03:30", 150)
