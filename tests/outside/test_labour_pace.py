"""How fast decorators work: trade figures (common practice) against the usual rates."""

import pytest

from estimating.hours import HourRates, job_hours, work
from estimating.layout import Balloon, Layout
from estimating.materials import MaterialRules, materials
from estimating.spines import straight

INFLATING = HourRates(seconds_per_foot=0, seconds_per_attachment=0, setup_minutes=0, strike_minutes=0)


def a_garland(number, feet):
    balloons = tuple(Balloon(n, 0, 0, 9.5, 11, "a", "base") for n in range(number))
    layout = Layout(balloons, straight(feet * 12), feet * 12, 20)
    return materials(layout, rules=MaterialRules(), outdoors=False), layout


@pytest.mark.parametrize(
    ("crew", "minutes"), [pytest.param(1, 20, id="an expert alone"), pytest.param(2, 12, id="two together")]
)
def test_a_hundred_are_inflated_and_tied_in_the_published_minutes(crew, minutes):
    assert job_hours([work(*a_garland(100, 10), rates=INFLATING)], rates=INFLATING, crew=crew).clock_minutes == minutes


def test_making_a_mixed_garland_takes_three_to_seven_minutes_a_foot():
    """First-hand account: 35 ft and 300 balloons in 4 hours the first time, half that with practice."""
    steps = {step.name: step.minutes for step in work(*a_garland(300, 35), rates=HourRates())}
    assert 3.4 <= (steps["Inflate"] + steps["Assemble"]) / 35 <= 7


def test_hanging_eleven_feet_takes_half_an_hour_to_an_hour():
    """From memory: 30 to 60 minutes for 10 to 12 ft, set-up included."""
    steps = {step.name: step.minutes for step in work(*a_garland(110, 11), rates=HourRates())}
    assert 30 <= steps["Hang"] + HourRates().setup_minutes <= 60
