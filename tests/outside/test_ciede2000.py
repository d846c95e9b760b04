"""Colour differences against published ones, and against another library.

Sources: ciede2000.csv holds the 34 pairs of "The CIEDE2000 color-difference formula: implementation notes,
supplementary test data, and mathematical observations", Color Research & Application 30(1), 21–30, 2005,
doi 10.1002/col.20070: pairs 1 to 17 from the test data of open libraries, 18 to 34 from memory. The other library
reckons them all again. Of pair 14 the hues are exactly half a turn apart, so the last bit of an arctangent decides
between two values; both are right. The L*a*b* of six swatches are common values.
"""

import csv
import random
from pathlib import Path

import pytest
from coloraide import Color

from stock.colour import ciede2000, distance, lab

with (Path(__file__).parent / "ciede2000.csv").open(encoding="utf-8") as file:
    PAIRS = list(csv.DictReader(file))
OTHER_BRANCH = {"14": 4.7461}


def test_there_are_thirty_four_pairs():
    assert len(PAIRS) == 34


@pytest.mark.parametrize("row", PAIRS, ids=[f"pair {row['pair']}" for row in PAIRS])
def test_a_published_pair_to_four_decimals_in_both_directions(row):
    one = (float(row["L1"]), float(row["a1"]), float(row["b1"]))
    other = (float(row["L2"]), float(row["a2"]), float(row["b2"]))
    published = [float(row["dE00"]), OTHER_BRANCH.get(row["pair"], float(row["dE00"]))]
    for found in (ciede2000(one, other), ciede2000(other, one)):
        assert min(abs(found - value) for value in published) <= 0.00005 + 1e-9


@pytest.mark.parametrize("row", [row for row in PAIRS if row["pair"] not in OTHER_BRANCH])
def test_another_library_agrees_on_the_published_pairs(row):
    one, other = (Color("lab-d65", [float(row[f"{axis}{n}"]) for axis in "Lab"]) for n in (1, 2))
    assert one.delta_e(other, method="2000", space="lab-d65") == pytest.approx(float(row["dE00"]), abs=0.0001)


@pytest.mark.parametrize(
    ("swatch", "expected"),
    [
        ("#ff0000", (53.241, 80.092, 67.203)),
        ("#00ff00", (87.735, -86.183, 83.179)),
        ("#0000ff", (32.297, 79.188, -107.860)),
        ("#808080", (53.585, 0, 0)),
        ("#ffc0cb", (83.587, 24.144, 3.326)),
        ("#ffd700", (86.931, -1.924, 87.132)),
    ],
)
def test_the_lab_of_a_swatch(swatch, expected):
    assert lab(swatch) == pytest.approx(expected, abs=0.02)


def test_another_library_agrees_on_random_swatches():
    rng = random.Random(2000)
    for _ in range(400):
        one, other = (f"#{rng.randrange(1 << 24):06x}" for _ in range(2))
        theirs = Color(one).delta_e(Color(other), method="2000", space="lab-d65")
        assert distance(one, other) == pytest.approx(theirs, abs=0.011)


def test_a_colour_is_no_distance_from_itself():
    assert distance("#c79a3e", "#C79A3E") == 0
