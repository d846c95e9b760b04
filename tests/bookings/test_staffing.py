"""Who can work when, and nobody on two sites at once."""

import datetime as dt
from zoneinfo import ZoneInfo

import pytest

from bookings.diary import Work
from bookings.staffing import Person, Turn, cannot_go, names_of, who_goes, who_prepares
from bookings.timetable import moment

SATURDAY = dt.date(2026, 6, 20)
NEW_YORK = ZoneInfo("America/New_York")
WEEKDAYS = (480, 480, 480, 480, 270, 0, 0)


def jan(**given) -> Person:
    return Person(2, "Jan", **{"week": (480,) * 7} | given)


def out(
    begins: str | None = None,
    ends: str | None = None,
    *,
    day: dt.date = SATURDAY,
    until: dt.date | None = None,
    zone: ZoneInfo = NEW_YORK,
) -> Work:
    if begins is None or ends is None:
        return Work(day, people=1)
    first = moment(day, dt.time.fromisoformat(begins), zone)
    last = moment(until or day, dt.time.fromisoformat(ends), zone)
    return Work(day, people=1, begins=first, ends=last)


def said(*turns: tuple[int, str, Work], person: Person | None = None) -> list[str]:
    who = person or jan()
    return [one.sentence for one in cannot_go([Turn(who, booking, job, work) for booking, job, work in turns])]


def test_two_sites_at_once_name_both_jobs_and_when():
    assert said((1, "Gala", out("09:00", "13:00")), (2, "Wedding", out("12:00", "16:00"))) == [
        "Saturday 20 June: Jan is on two jobs at once: Gala (out 09:00 to 13:00) and Wedding (out 12:00 to 16:00)."
    ]


def test_one_site_after_the_other_is_fine():
    assert said((1, "Gala", out("09:00", "12:00")), (2, "Wedding", out("12:00", "16:00"))) == []


def test_two_people_may_be_on_two_sites():
    mo = Person(1, "Mo", (480,) * 7)
    turns = [Turn(jan(), 1, "Gala", out("09:00", "13:00")), Turn(mo, 2, "Wedding", out("09:00", "13:00"))]
    assert cannot_go(turns) == []


def test_install_and_strike_of_one_job_are_no_two_sites():
    assert said((1, "Gala", out()), (1, "Gala", out())) == []


def test_without_a_time_it_may_yet_turn_out_well():
    (one,) = cannot_go([Turn(jan(), 1, "Gala", out()), Turn(jan(), 2, "Wedding", out("12:00", "16:00"))])
    assert one.untimed
    assert one.sentence.endswith("Times would tell whether one can follow the other.")


def test_a_strike_past_midnight_meets_the_install_of_the_next_morning():
    sunday = SATURDAY + dt.timedelta(days=1)
    late = out("23:00", "03:00", until=sunday)
    assert said((1, "Gala", late), (2, "Brunch", out("02:30", "06:00", day=sunday))) == [
        "Sunday 21 June: Jan is on two jobs at once: Gala (out 23:00 to 03:00) and Brunch (out 02:30 to 06:00)."
    ]
    assert said((1, "Gala", late), (2, "Brunch", out("03:00", "06:00", day=sunday))) == []


def test_the_hour_that_comes_twice_is_told_by_moments():
    """On 1 November 2026 01:30 happens twice in New York; an hour after the first is the second."""
    night = dt.date(2026, 11, 1)
    first = moment(night, dt.time(1), NEW_YORK)
    again = (first.astimezone(dt.UTC) + dt.timedelta(minutes=60)).astimezone(NEW_YORK)
    late = (first.astimezone(dt.UTC) + dt.timedelta(minutes=120)).astimezone(NEW_YORK)
    one = Work(night, people=1, begins=first, ends=again)
    other = Work(night, people=1, begins=again, ends=late)
    assert said((1, "Gala", one), (2, "Brunch", other)) == []


@pytest.mark.parametrize(
    ("person", "sentence"),
    [
        pytest.param(jan(off=((SATURDAY, SATURDAY),)), "Saturday 20 June: Jan is off, and is on Gala.", id="off"),
        pytest.param(
            jan(week=WEEKDAYS), "Saturday 20 June: Jan does not work on Saturdays, and is on Gala.", id="no weekday"
        ),
    ],
)
def test_a_job_on_a_day_they_do_not_work_is_said(person, sentence):
    assert said((1, "Gala", out("09:00", "13:00")), person=person) == [sentence]


def test_nothing_is_said_of_the_hours_of_somebody_who_has_none_set():
    assert said((1, "Gala", out("09:00", "13:00")), person=jan(week=(0,) * 7)) == []


def test_a_strike_past_midnight_counts_for_the_evening_it_began_in():
    sunday = SATURDAY + dt.timedelta(days=1)
    off_on_sunday = jan(off=((sunday, sunday),))
    assert said((1, "Gala", out("23:00", "02:00", until=sunday)), person=off_on_sunday) == []


def test_days_off_count_both_ends_and_not_the_days_beside_them():
    day = dt.timedelta(days=1)
    person = jan(off=((SATURDAY, SATURDAY + day),))
    assert [person.minutes_on(SATURDAY + n * day) for n in (-1, 0, 1, 2)] == [480, 0, 0, 480]


def test_a_week_is_read_in_words():
    assert jan(week=WEEKDAYS).week_words == "Mon 8, Tue 8, Wed 8, Thu 8, Fri 4½ hours."
    assert jan(week=(0,) * 7).week_words == "No hours are written down."
    assert jan(week=(30, 465, 0, 0, 0, 0, 0)).week_words == "Mon ½, Tue 7.75 hours."


@pytest.mark.parametrize("week", [(480,) * 6, (1441,) * 7, (-1,) * 7], ids=["six days", "too long", "below nothing"])
def test_a_week_that_cannot_be_is_refused(week):
    with pytest.raises(ValueError, match="got"):
        jan(week=week)


MO = Person(1, "Mo", (480,) * 7)
OFF = Person(3, "Pia", (480,) * 7, ((SATURDAY, SATURDAY),))
NO_HOURS = Person(4, "Kim")


@pytest.mark.parametrize(
    ("on_job", "everybody", "who"),
    [
        pytest.param([jan()], [MO, jan()], ["Jan"], id="whoever is on the job and works"),
        pytest.param([OFF], [MO, OFF], ["Mo"], id="whoever works where those on the job are off"),
        pytest.param([], [MO, jan()], ["Mo", "Jan"], id="all who work where nobody is on it"),
        pytest.param([OFF], [OFF], [], id="nobody where everybody is off"),
        pytest.param([NO_HOURS], [NO_HOURS], ["Kim"], id="those on it where no hours are written down"),
    ],
)
def test_prep_is_for_those_on_the_job_who_work_that_day_or_else_for_whoever_works(on_job, everybody, who):
    assert [person.name for person in who_prepares(SATURDAY, on_job, everybody)] == who


@pytest.mark.parametrize(
    ("people", "wanted", "words"),
    [
        pytest.param([MO, jan()], 2, "Mo and Jan", id="as many as are wanted"),
        pytest.param([MO], 3, "Mo and 2 more", id="too few"),
        pytest.param([MO, jan(), OFF], 1, "Mo, Jan and Pia", id="more than are wanted"),
        pytest.param([], 1, "1 person, nobody is named yet", id="nobody"),
        pytest.param([], 2, "2 people, nobody is named yet", id="nobody of two"),
    ],
)
def test_who_goes_is_said_with_how_many_are_lacking(people, wanted, words):
    assert who_goes(people, wanted) == words


def test_one_of_several_may_do_it():
    assert names_of([MO, jan()], "or") == "Mo or Jan"
    assert names_of([], "or") == ""
