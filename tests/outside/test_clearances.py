"""What stays clear of a decoration, by codes as they are cited.

NFPA 25 (2011) 5.2.1.2, as cited by a life-safety consultancy: 18 in clear below sprinkler deflectors.
29 CFR 1926.1053(b)(13): the top of a stepladder is not a step. NIOSH 97-135: latex.
"""

from dataclasses import replace

import pytest

from bookings.site_check import LATEX_SOURCE, SPRINKLER_GAP, Figures, check_site
from estimating.site import LADDER_SOURCE, LADDERS


def test_eighteen_inches_below_a_sprinkler():
    assert SPRINKLER_GAP == 18.0


@pytest.mark.parametrize(
    ("gap", "state"), [pytest.param(17.99, "unmet", id="nearer"), pytest.param(18.0, "met", id="as far")]
)
def test_a_gap_under_eighteen_inches_is_not_met(gap, state):
    figures = replace(Figures(), sprinklers="some", sprinkler_gap=gap)
    found = {one.key: one for one in check_site(figures, measures="imperial")}
    assert found["sprinklers"].state == state
    assert "NFPA 25" in found["sprinklers"].source


def test_nobody_stands_on_the_top_of_a_stepladder():
    assert all(standing <= feet * 12 - 12 for feet, standing, _ in LADDERS)
    assert "1926.1053(b)(13)" in LADDER_SOURCE


def test_latex_allergy_has_its_source():
    assert "NIOSH 97-135" in LATEX_SOURCE
