"""What balloons weigh: a trade chart of lift (common practice, one chart), a trade FAQ's laboratory balance, and a
kitchen scale.
"""

import pytest

from estimating.gas import FOILS, LATEX_GRAMS, lift_per_litre, net_lift
from estimating.layout import Balloon, Form
from estimating.lines import Site
from estimating.load import GRAMS, TIE_GRAMS

LITRES = 28.316847
ROOM = Site(celsius=20)

# Nominal size, cubic feet and net lift in grams as charted.
CHART = [(9, 0.25, 6), (11, 0.50, 10), (12, 0.55, 11), (16, 1.5, 34), (30, 8, 184), (36, 15, 339)]


@pytest.mark.parametrize(("size", "cubic_feet", "lift"), CHART)
def test_a_load_counts_at_least_what_the_chart_leaves_room_for(size, cubic_feet, lift):
    """Gross lift of the charted volume less the charted lift, in whole grams, is the most the rubber can weigh."""
    most = cubic_feet * LITRES * lift_per_litre(ROOM) - lift
    assert GRAMS[size] >= most - 0.5


@pytest.mark.parametrize(("size", "cubic_feet", "lift"), CHART)
def test_what_floats_is_never_thought_heavier_than_the_chart_allows(size, cubic_feet, lift):
    assert LATEX_GRAMS[size] <= cubic_feet * LITRES * lift_per_litre(ROOM) - lift + 0.1


def test_a_kitchen_scale_gave_three_grams_for_an_eleven_inch_and_less_for_a_light_ten():
    assert LATEX_GRAMS[11] == LATEX_GRAMS[12] == 3.0
    assert LATEX_GRAMS[10] == 1.8


def test_a_260_weighs_what_the_balance_said():
    assert TIE_GRAMS == 1.688


@pytest.mark.parametrize(
    ("form", "size", "cubic_feet", "lift"),
    [
        pytest.param("round", 18, 0.5, 4.2, id="18-inch circle"),
        pytest.param("heart", 18, 0.4, 3.7, id="18-inch heart"),
        pytest.param("star", 18, 0.4, 3.4, id="19-inch star"),
        pytest.param("round", 36, 2.7, 51.6, id="jumbo circle"),
        pytest.param("heart", 36, 2.3, 45.9, id="jumbo heart"),
        pytest.param("star", 36, 2.5, 42.0, id="jumbo star"),
    ],
)
def test_a_foil_lifts_what_the_chart_says(form: Form, size: int, cubic_feet: float, lift: float):
    foil = Balloon(0, 0, 0, 14, size, "a", "float", form=form, gas="helium", in_foil=True)
    assert FOILS[form, size][0] == cubic_feet
    assert net_lift(foil, ROOM) == pytest.approx(lift, abs=0.1)
