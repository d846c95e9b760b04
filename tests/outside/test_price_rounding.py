"""The third-decimal rule of the Streamlined Sales and Use Tax Agreement (section 324), as a whole price keeps it."""

from decimal import Decimal
from typing import Any

import pytest

from estimating.hours import Hours
from estimating.pricing import PieceCost, PriceRates, price

NOBODY = Hours((), 1, 0, 0, 0)


@pytest.mark.parametrize(
    ("amount", "percent", "tax"),
    [
        pytest.param("10.99", "6.25", "0.69", id="0.686875"),
        pytest.param("1.00", "4.5", "0.05", id="0.045, where half-even gives 0.04"),
        pytest.param("2.50", "5", "0.13", id="0.125, where half-even gives 0.12"),
        pytest.param("10.05", "7", "0.70", id="three of 3.35 on one invoice, where each alone gives 0.69"),
        pytest.param("7.45", "7", "0.52", id="five of 1.49"),
        pytest.param("4.24", "7", "0.30", id="four of 1.06"),
        pytest.param("1.00", "4.4449", "0.04", id="not rounded twice"),
    ],
)
def test_tax_is_rounded_once_on_the_whole_price(amount, percent, tax):
    figures: dict[str, Any] = dict.fromkeys(
        ("hourly", "per_distance", "overhead_percent", "margin_percent", "minimum", "deposit_percent"), Decimal(0)
    )
    rates = PriceRates(**figures, step=Decimal("0.01"), tax_percent=Decimal(percent))
    reckoned = price(pieces=[PieceCost("1", "Bunch", Decimal(amount), 0)], hours=NOBODY, rates=rates)
    assert reckoned.before_tax == Decimal(amount)
    assert reckoned.tax == Decimal(tax)
    assert reckoned.total == Decimal(amount) + Decimal(tax)
