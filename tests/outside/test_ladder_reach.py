"""How high a person reaches from a stepladder: the table of a university's occupational health page.

University of Kentucky, for a person of 5 ft 9 in with 12 in of reach above the head.
"""

import pytest

from estimating.site import LADDERS, ladder_plus_four, ladder_reach, least_ladder

PUBLISHED = [
    pytest.param(4, (1, 11), (8, 6), id="4 ft"),
    pytest.param(6, (3, 9), (10, 4), id="6 ft"),
    pytest.param(8, (5, 8), (12, 3), id="8 ft"),
    pytest.param(10, (7, 7), (14, 2), id="10 ft"),
    pytest.param(12, (9, 6), (16, 1), id="12 ft"),
    pytest.param(16, (13, 4), (19, 11), id="16 ft"),
    pytest.param(18, (15, 3), (21, 10), id="18 ft"),
    pytest.param(20, (17, 2), (23, 8), id="20 ft"),
]


def inches(feet_and_inches):
    return feet_and_inches[0] * 12 + feet_and_inches[1]


@pytest.mark.parametrize(("ladder", "standing", "reach"), PUBLISHED)
def test_a_ladder_reaches_what_the_table_says(ladder, standing, reach):
    assert ladder_reach(ladder) == inches(reach)
    assert least_ladder(inches(reach)) == pytest.approx(ladder)
    assert {feet: low for feet, low, _ in LADDERS}[ladder] == inches(standing)


@pytest.mark.parametrize(
    ("ladder", "safe"),
    [
        pytest.param(4, True, id="4 ft reaches an 8 ft ceiling"),
        pytest.param(12, True, id="12 ft"),
        pytest.param(16, False, id="16 ft"),
        pytest.param(20, False, id="20 ft"),
    ],
)
def test_ladder_and_four_feet_holds_for_short_ladders_only(ladder, safe):
    """The ladder makers' rule of thumb against the table."""
    assert (ladder_plus_four(ladder) <= ladder_reach(ladder)) is safe
