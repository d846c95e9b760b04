"""When air has too little oxygen, and what it takes to get there.

29 CFR 1910.134(d)(2)(iii) and 1910.146(b): air with less than 19.5 % of oxygen by volume is oxygen-deficient.
"""

import pytest

from bookings.site_check import LEAST_OXYGEN, OXYGEN, oxygen_left

LITRES_PER_FT3 = 28.316847


def test_the_limit_is_19_and_a_half_per_cent():
    assert LEAST_OXYGEN == 0.195


# Divided out: from 20.9 to 19.5 % takes 6.7 % of the room, 244 cubic feet of helium in a room of 3,642.
def test_helium_of_6_7_per_cent_of_a_room_reaches_the_limit():
    part = 1 - LEAST_OXYGEN / OXYGEN
    assert part == pytest.approx(0.067, abs=0.0005)
    cylinder = 244 * LITRES_PER_FT3
    assert oxygen_left(cylinder, 3_642 * LITRES_PER_FT3) == pytest.approx(LEAST_OXYGEN, abs=1e-5)
    assert oxygen_left(cylinder, 3_650 * LITRES_PER_FT3) > LEAST_OXYGEN
    assert oxygen_left(cylinder, 3_630 * LITRES_PER_FT3) < LEAST_OXYGEN
