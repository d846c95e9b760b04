from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimating.hours import Hours
from estimating.pricing import LABOUR, PieceCost, PriceRates, price
from estimating.specs import SpecErrors

USUAL = {
    "hourly": "25",
    "per_distance": "0.70",
    "overhead_percent": "15",
    "margin_percent": "30",
    "minimum": "150",
    "step": "5",
    "tax_percent": "8.25",
    "deposit_percent": "50",
}


def rates(**changed):
    figures: dict[str, Any] = {name: Decimal(value) for name, value in {**USUAL, **changed}.items()}
    return PriceRates(**figures)


def some_hours(person=240, crew=1, travel=0, ready=0):
    return Hours((), crew, person, person // crew, travel, ready)


def a_price(pieces=None, hours=None, charged=None, **changed):
    pieces = pieces or [PieceCost("1", "Garland", Decimal("60.00"), 180)]
    return price(pieces=pieces, hours=hours or some_hours(), rates=charged or rates(), **changed)


def test_every_figure_opens_to_what_it_came_from():
    """60 materials + 4 h at 25 + 30 mi at 0.70 = 181; 15 % = 27.15; 208.15 / 0.7 = 297.36; up to 300."""
    lines = [(line.label, line.amount, line.why) for line in a_price(distance=Decimal(30)).lines]
    assert lines == [
        ("Materials: Garland", Decimal("60.00"), "at pack cost"),
        ("Work", Decimal("100.00"), "240 person-minutes at 25 an hour, crew of 1"),
        ("Driving", Decimal("21.00"), "30 at 0.70 each"),
        ("Overhead", Decimal("27.15"), "15 % of 181.00"),
        ("Margin", Decimal("89.21"), "30 % of the price 297.36"),
        ("Rounding", Decimal("2.64"), "up to the next 5"),
    ]


def test_a_price_has_cost_margin_tax_total_deposit_and_earnings():
    reckoned = a_price(distance=Decimal(30))
    assert reckoned.cost == Decimal("208.15")
    assert reckoned.before_tax == Decimal(300)
    assert reckoned.margin == Decimal("91.85")
    assert reckoned.margin_percent == Decimal("30.6")
    assert reckoned.tax == Decimal("24.75")
    assert reckoned.total == Decimal("324.75")
    # Half of 324.75 is 162.375: up to the next 5.
    assert reckoned.deposit == Decimal(165)
    # 300 less 60, 21 and 27.15 that are not work, over 4 hours.
    assert reckoned.earnings_per_hour == Decimal("47.96")


def test_a_small_job_is_brought_up_to_the_minimum():
    """5.00 + 4.17 = 9.17; 15 % = 1.38; 10.55 / 0.7 = 15.07."""
    lines = {
        line.label: line.amount for line in a_price([PieceCost("1", "Bunch", Decimal(5), 10)], some_hours(10)).lines
    }
    assert lines["Up to the minimum"] == Decimal("134.93")
    assert sum(lines.values()) == 150


def test_a_minimum_between_steps_is_still_rounded_up():
    assert a_price(charged=rates(minimum="501")).before_tax == 505


def test_a_price_already_on_the_step_stays_and_has_no_rounding_line():
    exact = a_price(charged=rates(overhead_percent="0", margin_percent="20", minimum="0"))
    assert exact.before_tax == 200
    assert "Rounding" not in [line.label for line in exact.lines]


def test_a_deposit_is_never_more_than_the_total():
    whole = a_price(charged=rates(deposit_percent="100", tax_percent="8.25"))
    assert whole.deposit == whole.total


def test_everybody_on_the_way_is_paid():
    lines = {line.label: line.amount for line in a_price(hours=some_hours(240, crew=2, travel=30)).lines}
    assert (lines["Work"], lines["Time on the way"]) == (Decimal("75.00"), Decimal("25.00"))


def test_gas_and_decals_are_a_line_of_their_own_at_the_same_rate():
    """240 minutes, 65 of them one person's before: 175 at 25 an hour are 72.92, and 65 are 27.08."""
    lines = {line.label: (line.amount, line.why) for line in a_price(hours=some_hours(240, ready=65)).lines}
    assert lines["Gas and decals"] == (
        Decimal("27.08"),
        "65 minutes of one person at 25 an hour",
    )
    assert lines["Work"][0] == Decimal("72.92")


def test_gas_and_decals_are_paid_work_in_what_an_hour_earns():
    plain, with_gas = a_price(hours=some_hours(240)), a_price(hours=some_hours(240, ready=60))
    assert with_gas.earnings_per_hour == plain.earnings_per_hour


def test_without_time_there_are_no_earnings_an_hour():
    assert a_price(hours=some_hours(0)).earnings_per_hour is None


def test_a_job_that_costs_nothing_and_has_no_minimum_is_free():
    free = a_price([PieceCost("1", "Gift", Decimal(0), 0)], some_hours(0), rates(minimum="0"))
    assert (free.total, free.deposit, free.margin_percent, free.lines) == (0, 0, None, ())
    assert free.pieces == (("1", 0),)


@pytest.mark.parametrize(
    ("places", "step", "tax", "total"),
    [
        pytest.param(0, "100", "10", Decimal(330), id="no minor unit"),
        pytest.param(3, "0.250", "5", Decimal("312.375"), id="thousandths"),
    ],
)
def test_currencies_with_other_minor_units_come_out_in_their_own_places(places, step, tax, total):
    reckoned = a_price(charged=rates(step=step, tax_percent=tax), distance=Decimal(30), currency_places=places)
    assert reckoned.total == total
    assert reckoned.tax.as_tuple().exponent == -places


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        pytest.param({"margin_percent": "100"}, "margin_percent must be less than 100 (got 100)", id="all margin"),
        pytest.param({"step": "0"}, "step must be more than 0 (got 0)", id="no step"),
        pytest.param({"hourly": "-1"}, "hourly must be 0 or more (got -1)", id="negative pay"),
        pytest.param({"hourly": "NaN"}, "hourly must be 0 or more (got NaN)", id="no number"),
        pytest.param({"deposit_percent": "101"}, "deposit_percent must be at most 100 (got 101)", id="over the total"),
    ],
)
def test_rates_that_make_no_sense_are_refused(changed, said):
    with pytest.raises(SpecErrors) as refused:
        rates(**changed)
    assert str(refused.value) == said


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        pytest.param(
            {"pieces": [PieceCost("1", "Odd", Decimal(-1), 0)]}, "materials must cost 0 or more", id="materials"
        ),
        pytest.param({"pieces": [PieceCost("1", "Odd", Decimal(1), -1)]}, "minutes must be 0 or more", id="minutes"),
        pytest.param({"distance": Decimal(-1)}, "distance must be 0 or more (got -1)", id="distance"),
        pytest.param({"kit_wear": Decimal(-1)}, "kit_wear must be 0 or more (got -1)", id="kit wear"),
        pytest.param({"charged": rates(step="0.001")}, "step must have at most 2 decimals", id="tiny step"),
    ],
)
def test_costs_that_make_no_sense_are_refused(changed, said):
    with pytest.raises(SpecErrors) as refused:
        a_price(**changed)
    assert said in str(refused.value)


def test_a_job_without_pieces_is_refused():
    with pytest.raises(SpecErrors, match="pieces must be at least one"):
        price(pieces=[], hours=some_hours(), rates=rates())


amounts = st.decimals(0, 5000, places=3)


@given(
    st.lists(st.tuples(amounts, st.integers(0, 2000)), min_size=1, max_size=6),
    st.integers(0, 5000),
    st.decimals(0, 95, places=2),
    st.sampled_from(["0.01", "0.05", "1", "5", "25"]),
    amounts,
    st.integers(0, 900),
)
def test_lines_and_pieces_add_up_to_the_price_which_pays_for_everything(costs, minutes, margin, step, distance, ready):
    pieces = [PieceCost(str(n), f"Piece {n}", amount, work) for n, (amount, work) in enumerate(costs)]
    hours = some_hours(minutes + ready, ready=ready)
    reckoned = a_price(pieces, hours, rates(margin_percent=str(margin), step=step), distance=distance)
    assert sum(line.amount for line in reckoned.lines) == reckoned.before_tax
    assert sum(amount for _, amount in reckoned.pieces) == reckoned.before_tax
    assert reckoned.total == reckoned.before_tax + reckoned.tax
    assert 0 <= reckoned.deposit <= reckoned.total
    assert reckoned.before_tax % Decimal(step) == 0
    paid = sum(line.amount for line in reckoned.lines if line.label in LABOUR)
    assert abs(Fraction(paid) - Fraction(25 * (minutes + ready), 60)) <= Fraction(1, 100)
    kept = Fraction(reckoned.before_tax) * (1 - Fraction(margin) / 100)
    assert kept >= Fraction(reckoned.cost) - Fraction(1, 100)
    assert all(line.amount == line.amount.quantize(Decimal("0.01")) for line in reckoned.lines)


def test_tax_is_reckoned_on_the_whole_price_or_on_each_piece():
    """Three pieces of 3.35 at 7 %: 0.2345 each is 0.23, three times; on 10.05 it is 0.7035."""
    three = [PieceCost(str(n), "Bunch", Decimal("3.35"), 0) for n in range(3)]
    plain = dict.fromkeys(("overhead_percent", "margin_percent", "minimum"), "0") | {"step": "0.01", "tax_percent": "7"}
    on_the_total = a_price(three, some_hours(0), rates(**plain))
    on_each = a_price(three, some_hours(0), replace(rates(**plain), tax_on_each_piece=True))
    assert (on_the_total.tax, on_each.tax) == (Decimal("0.70"), Decimal("0.69"))
    assert on_each.total == on_each.before_tax + on_each.tax == Decimal("10.74")
