"""ISO 4217: the minor unit of every currency in use.

The exceptions are the standard's table A.1 as several public copies give it; every other currency in it has two
decimals. The list of codes is pycountry's copy of the standard, which carries no minor units of its own.
"""

import pycountry
import pytest

from studio.money import AmountError, minor_units

NONE = "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF"
THOUSANDTHS = "BHD IQD JOD KWD LYD OMR TND"
TEN_THOUSANDTHS = "CLF UYW"
NOT_APPLICABLE = "XAD XAG XAU XBA XBB XBC XBD XDR XPD XPT XSU XTS XUA XXX"

IN_USE = sorted({currency.alpha_3 for currency in pycountry.currencies} - set(NOT_APPLICABLE.split()))


def minor_unit_in_the_standard(code):
    exceptions = {0: NONE, 3: THOUSANDTHS, 4: TEN_THOUSANDTHS}
    return next((digits for digits, codes in exceptions.items() if code in codes.split()), 2)


@pytest.mark.parametrize("code", IN_USE)
def test_minor_unit(code):
    assert minor_units(code) == minor_unit_in_the_standard(code)


@pytest.mark.parametrize("code", NOT_APPLICABLE.split())
def test_a_code_without_a_minor_unit_is_refused(code):
    with pytest.raises(AmountError):
        minor_units(code)


@pytest.mark.parametrize("code", ["MGA", "MRU"])
def test_a_currency_of_fifths_is_listed_with_two_decimals(code):
    assert minor_units(code) == 2
