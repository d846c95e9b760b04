"""The units of length in Pint's table, which follows NIST Special Publication 811 and the 1959 yard."""

from decimal import Decimal

import pint
import pytest

from studio.units import MILLIMETRES, from_inches, inches

NAMES = {"mm": "millimeter", "cm": "centimeter", "m": "meter", "in": "inch", "ft": "foot", "yd": "yard"}


@pytest.fixture(scope="module")
def registry():
    return pint.UnitRegistry(non_int_type=Decimal)


def test_every_unit_is_compared():
    assert set(NAMES) == set(MILLIMETRES)


@pytest.mark.parametrize("unit", MILLIMETRES)
def test_millimetres_in_a_unit(registry, unit):
    one = registry.Quantity(Decimal(1), NAMES[unit])
    assert one.to("millimeter").magnitude == MILLIMETRES[unit]


@pytest.mark.parametrize("length", ["1", "0.0625", "254", "12345.6789"])
def test_conversion_to_inches_and_back(registry, length):
    mm = registry.Quantity(Decimal(length), "inch").to("millimeter").magnitude
    assert from_inches(Decimal(length)) == pytest.approx(mm, abs=Decimal("0.00005"))
    assert inches(mm) == pytest.approx(float(length), rel=1e-15)
