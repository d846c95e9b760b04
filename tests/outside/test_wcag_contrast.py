"""WCAG 2.2: relative luminance, contrast ratio (success criteria 1.4.3, 1.4.6, 1.4.11).

Ratios recomputed from the formula in the recommendation; the thresholds are the recommendation's own.
"""

import pytest

from stock.colour import contrast_ratio, relative_luminance


@pytest.mark.parametrize(
    ("swatch", "ratio"),
    [
        ("#000000", 21.00),
        ("#595959", 7.0047),
        ("#767676", 4.5422),
        ("#777777", 4.4781),
        ("#949494", 3.0335),
        ("#959595", 2.9953),
        ("#ff0000", 3.9985),
        ("#0000ff", 8.5925),
    ],
)
def test_contrast_on_white(swatch, ratio):
    assert contrast_ratio(swatch, "#ffffff") == pytest.approx(ratio, abs=0.00005)


@pytest.mark.parametrize(
    ("darkest_that_fails", "lightest_that_passes", "threshold"),
    [
        pytest.param("#777777", "#767676", 4.5, id="text, level AA"),
        pytest.param("#959595", "#949494", 3.0, id="large text and outlines"),
        pytest.param("#5a5a5a", "#595959", 7.0, id="text, level AAA"),
    ],
)
def test_neighbouring_greys_fall_on_either_side_of_a_threshold(darkest_that_fails, lightest_that_passes, threshold):
    assert contrast_ratio(darkest_that_fails, "#ffffff") < threshold
    assert contrast_ratio(lightest_that_passes, "#ffffff") >= threshold


def test_luminance_runs_from_0_for_black_to_1_for_white():
    assert relative_luminance("#000000") == 0
    assert relative_luminance("#ffffff") == pytest.approx(1)
