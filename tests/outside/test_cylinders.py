"""What a cylinder of helium holds, fills and may weigh."""

import pytest

from estimating.afloat import (
    CYLINDERS,
    HEAVIEST_CYLINDER_LB,
    HEAVIEST_LOAD_LB,
    Cylinder,
    balloons_per_cylinder,
    cylinder_ft3,
    cylinders_needed,
    hours_afloat,
    vehicle_cautions,
)


# A speciality-gas page: 29.5 litres at 2,000 psig and 70 degrees Fahrenheit hold 134 cubic feet; ideal gas says 142.8.
def test_the_published_content_of_a_29_litre_cylinder():
    assert cylinder_ft3(29.5, 2000) == pytest.approx(134, abs=0.5)


# A trade letter quoting shoulder markings (common practice): marked psig, published cubic feet, and the water volume
# that real gas asks for.
@pytest.mark.parametrize(
    ("psig", "published", "water"),
    [
        (1800, 108, 26.2),
        (1980, 120, 26.7),
        (2015, 123, 26.9),
        (2216, 135, 27.0),
        (2015, 200, 43.7),
        (2216, 217, 43.4),
        (2265, 219, 43.0),
        (2491, 244, 43.8),
        (2400, 265, 49.3),
        (2640, 291, 49.6),
    ],
)
def test_the_published_contents_of_common_cylinders(psig, published, water):
    assert cylinder_ft3(water, psig) == pytest.approx(published, rel=0.003)


@pytest.mark.parametrize("cylinder", CYLINDERS, ids=lambda cylinder: cylinder.name)
def test_every_class_on_our_list_holds_what_it_is_sold_as(cylinder):
    assert cylinder_ft3(cylinder.water_litres, cylinder.psig) == pytest.approx(cylinder.content_ft3, rel=0.003)


# Divided out from the trade chart's volumes: 244 and 291 cubic feet, nothing lost.
@pytest.mark.parametrize(
    ("content", "each", "filled"),
    [
        (244, 0.25, 976),
        (244, 0.5, 488),
        (244, 1.5, 162),
        (244, 8, 30),
        (244, 15, 16),
        (291, 0.25, 1164),
        (291, 0.5, 582),
        (291, 1.5, 194),
        (291, 8, 36),
        (291, 15, 19),
    ],
)
def test_balloons_a_cylinder_fills(content, each, filled):
    assert balloons_per_cylinder(content, each) == filled


# Allow 10 to 15 % for purging, leaks and what no longer flows (common practice): 488 eleven-inch fills become 427.
def test_what_is_lost_in_filling_takes_a_second_cylinder():
    large = next(cylinder for cylinder in CYLINDERS if cylinder.name == "KH")
    litres_each = 0.5 * 28.316847
    assert cylinders_needed(425 * litres_each, large) == 1
    assert cylinders_needed(488 * litres_each, large) == 2


# 49 CFR 173.6: 100 kg (220 lb) gross a cylinder of Division 2.2, 200 kg (440 lb) of materials of trade a vehicle.
def test_the_law_on_carrying_gas_in_ones_own_vehicle():
    assert (HEAVIEST_CYLINDER_LB, HEAVIEST_LOAD_LB) == (220, 440)
    heavy, light = Cylinder("heavy", 50, 2640, 291, 221), Cylinder("light", 50, 2640, 291, 220)
    assert vehicle_cautions([light, light]) == ()
    assert "221 lb; in a vehicle of your own at most 220 lb each" in vehicle_cautions([heavy])[0]
    assert "3 cylinders weigh 660 lb" in vehicle_cautions([light] * 3)[0]


# Untreated 11-inch 8 to 12, 12 to 20 and about 18 hours by three texts; sealed 2 to 3 or 4 to 6 days; 18-inch foil 5 to
# 7 days and up to two weeks (common practice).
def test_how_long_balloons_float():
    assert hours_afloat(11) == (8, 20)
    assert hours_afloat(11, sealed=True) == (48, 144)
    assert hours_afloat(18, foil=True) == (5 * 24, 14 * 24)
