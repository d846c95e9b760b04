from dataclasses import replace

import pytest

from estimating.hours import LARGEST_CREW, HourRates, Step, getting_ready, hours, job_hours, with_crew, work
from estimating.layout import Balloon, Layout
from estimating.lines import Task
from estimating.materials import MaterialRules, materials
from estimating.specs import OwnFigures, SpecErrors
from estimating.spines import straight

RATES = HourRates()


def a_piece(number=100, size=11, length=120.0):
    balloons = tuple(Balloon(n, 0, 0, 9, size, "navy", "base") for n in range(number))
    layout = Layout(balloons, straight(length), length, 20.0)
    return materials(layout, rules=MaterialRules(), outdoors=False), layout


def test_a_piece_is_inflated_assembled_and_hung():
    """100 balloons at 12 s; 10 ft at 3 min; 5 points at 3 min."""
    assert [(step.name, step.minutes) for step in work(*a_piece(), rates=RATES)] == [
        ("Inflate", 20),
        ("Assemble", 30),
        ("Hang", 15),
    ]


def test_every_step_says_why():
    assert [step.why for step in work(*a_piece(), rates=RATES)] == [
        "100 balloons, 1200 seconds in all",
        "10 ft at 180 seconds a foot",
        "5 points at 180 seconds each",
    ]


@pytest.mark.parametrize(("size", "minutes"), [(5, 20), (11, 20), (16, 50), (18, 50), (24, 200), (36, 200)])
def test_larger_balloons_take_longer(size, minutes):
    assert work(*a_piece(size=size), rates=RATES)[0].minutes == minutes


def test_the_decorators_own_estimate_stands_for_making_and_hanging():
    steps = work(*a_piece(), rates=RATES, own=OwnFigures(minutes=75))
    assert steps == (Step("Make and hang", 75, "the decorator's own estimate"),)


def test_alone_the_clock_and_the_person_agree():
    reckoned = hours(*a_piece(), rates=RATES, travel_minutes=40)
    assert reckoned.clock_minutes == reckoned.person_minutes == 20 + 30 + 15 + 30 + 30 + 40
    assert sum(step.minutes for step in reckoned.steps) == reckoned.clock_minutes


def test_a_crew_is_faster_but_not_as_many_times_as_it_has_heads_and_all_of_it_travels():
    """125 min of work for two: 125 / 2^0.74 = 74.8, so 75 and 40 on the way, each."""
    reckoned = hours(*a_piece(), rates=RATES, travel_minutes=40, crew=2)
    assert reckoned.clock_minutes == 75 + 40
    assert reckoned.person_minutes == 2 * (75 + 40)


def test_several_pieces_are_set_up_and_struck_once():
    piece = work(*a_piece(), rates=RATES)
    assert job_hours([piece, piece], rates=RATES).clock_minutes == 2 * 65 + 60


def test_a_crew_of_none_and_time_running_backwards_are_refused_together():
    with pytest.raises(SpecErrors) as refused:
        job_hours([], rates=RATES, crew=0, travel_minutes=-5)
    assert str(refused.value) == ("crew must be from 1 to 20 (got 0); travel_minutes must be 0 or more (got -5)")


def test_a_pace_below_zero_is_refused():
    with pytest.raises(SpecErrors, match=r"seconds_per_foot must be 0 or more \(got -1\)"):
        HourRates(seconds_per_foot=-1)


@pytest.mark.parametrize(
    ("task", "step"),
    [
        pytest.param(Task("foot", 4), Step("Assemble", 12, "4 ft at 180 seconds each"), id="feet"),
        pytest.param(Task("ribbon", 9), Step("Tie ribbons", 5, "9 ribbons at 30 seconds each"), id="ribbons"),
        pytest.param(Task("letter", 1), Step("Letter", 1, "1 letter at 60 seconds each"), id="a letter"),
        pytest.param(Task("sealed", 20), Step("Seal", 5, "20 balloons at 15 seconds each"), id="sealing"),
    ],
)
def test_what_a_kind_adds_is_a_step_of_its_own(task, step):
    assert step in work(*a_piece(), rates=RATES, tasks=[task])


def test_a_task_at_no_pace_is_no_step():
    rates = HourRates(seconds_per_ribbon=0)
    assert [step.name for step in work(*a_piece(), rates=rates, tasks=[Task("ribbon", 9)])][1:] == ["Assemble", "Hang"]


def test_a_double_stuffed_balloon_is_inflated_twice():
    listed, layout = a_piece()
    assert work(listed, layout.double_stuffed((("navy", "sand"),)), rates=RATES)[0].minutes == 40


# A 20 ft helium arch of about 120 balloons takes 30 to 40 minutes with sealant in place of 10: common practice.
def test_sealing_takes_ten_to_fifteen_seconds_a_balloon():
    seconds = RATES.seconds_of(Task("sealed", 120))
    assert 20 * 60 <= seconds <= 30 * 60


@pytest.mark.parametrize(
    ("size", "minutes"), [pytest.param(18, 34, id="an 18-inch"), pytest.param(36, 100, id="a large one")]
)
def test_foil_is_filled_through_its_valve_and_not_tied(size, minutes):
    """100 at 20 or 60 seconds."""
    made, layout = a_piece(size=size)
    assert work(made, layout.in_foil({"navy": "round"}), rates=RATES)[0].minutes == minutes


def test_latex_and_foil_of_one_piece_each_take_their_own_time():
    made, layout = a_piece(size=18)
    mixed = Layout(
        tuple(replace(b, colour="gold") if n < 40 else b for n, b in enumerate(layout.balloons)),
        layout.spine,
        layout.length,
        layout.width,
    ).in_foil({"gold": "round"})
    assert work(made, mixed, rates=RATES)[0].why == "100 balloons, 2600 seconds in all"


@pytest.mark.parametrize("crew", [1, 2, 5, LARGEST_CREW])
def test_the_same_job_with_another_crew_is_as_if_it_had_been_reckoned_with_it(crew):
    one = job_hours([work(*a_piece(), rates=RATES)], rates=RATES, travel_minutes=50)
    assert with_crew(one, crew, crew_exponent=RATES.crew_exponent) == job_hours(
        [work(*a_piece(), rates=RATES)], rates=RATES, travel_minutes=50, crew=crew
    )


@pytest.mark.parametrize("crew", [0, LARGEST_CREW + 1])
def test_no_crew_and_too_large_a_one_are_refused(crew):
    one = job_hours([work(*a_piece(), rates=RATES)], rates=RATES)
    with pytest.raises(SpecErrors, match="crew"):
        with_crew(one, crew, crew_exponent=RATES.crew_exponent)


READY = getting_ready(litres=640, decals=2, rates=RATES)


def test_gas_is_collected_once_and_each_decal_cut():
    assert (
        Step("Collect gas", 45, "640 litres of helium, one person, each job"),
        Step("Cut decals", 20, "2 decals at 10 minutes each, one person"),
    ) == READY


@pytest.mark.parametrize(
    ("needed", "rates"),
    [
        pytest.param({"litres": 0, "decals": 0}, RATES, id="nothing needed"),
        pytest.param(
            {"litres": 640, "decals": 2}, HourRates(gas_minutes=0, decal_minutes=0), id="brought and ready-cut"
        ),
    ],
)
def test_what_takes_no_time_is_no_step_before_the_job(needed, rates):
    assert getting_ready(**needed, rates=rates) == ()


@pytest.mark.parametrize("crew", [1, 2, 5])
def test_what_one_person_gets_ready_is_no_faster_with_a_crew(crew):
    piece = work(*a_piece(), rates=RATES)
    plain, ready = (job_hours([piece], rates=RATES, travel_minutes=40, crew=crew, ready=steps) for steps in ((), READY))
    assert ready.person_minutes - plain.person_minutes == 65
    assert ready.clock_minutes - plain.clock_minutes == 65
    assert ready.steps == (*READY, *plain.steps)


def test_gas_and_decals_with_another_crew_stay_as_they_are():
    one = job_hours([work(*a_piece(), rates=RATES)], rates=RATES, travel_minutes=50, ready=READY)
    assert with_crew(one, 3, crew_exponent=RATES.crew_exponent) == job_hours(
        [work(*a_piece(), rates=RATES)], rates=RATES, travel_minutes=50, crew=3, ready=READY
    )
