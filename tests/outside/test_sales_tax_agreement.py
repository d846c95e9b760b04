"""Streamlined Sales and Use Tax Agreement, section 324 (as enacted in R.I. Gen. Laws 44-18.1-25 and elsewhere).

Tax is computed to the third decimal and rounded up to the next cent when that decimal is above four; a seller may
work it out on each line or on the whole invoice.
"""

from decimal import Decimal

import pytest

from studio.money import tax


@pytest.mark.parametrize(
    ("amount", "percent", "expected"),
    [
        pytest.param("10.99", "6.25", "0.69", id="0.686875"),
        pytest.param("1.00", "4.5", "0.05", id="0.045, where half-even gives 0.04"),
        pytest.param("2.50", "5", "0.13", id="0.125, where half-even gives 0.12"),
        pytest.param("1.00", "4.4999", "0.04", id="0.044999, where rounding twice gives 0.05"),
    ],
)
def test_third_decimal_rule(amount, percent, expected):
    assert tax(Decimal(amount), Decimal(percent)) == Decimal(expected)


@pytest.mark.parametrize(
    ("lines", "price", "by_line", "by_invoice"),
    [(3, "3.35", "0.69", "0.70"), (5, "1.49", "0.50", "0.52"), (4, "1.06", "0.28", "0.30")],
)
def test_by_line_and_by_invoice_differ_at_7_per_cent(lines, price, by_line, by_invoice):
    assert lines * tax(Decimal(price), Decimal(7)) == Decimal(by_line)
    assert tax(lines * Decimal(price), Decimal(7)) == Decimal(by_invoice)
