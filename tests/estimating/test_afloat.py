from dataclasses import replace

import pytest

from estimating.afloat import UNTREATED_HOURS, afloat_advice, afloat_sentences, hours_afloat, move_sentences, sealing
from estimating.layout import Balloon
from estimating.lines import Site, Task
from estimating.specs import SpecErrors


def test_larger_balloons_float_longer():
    least = [hours_afloat(size).least for size in sorted(UNTREATED_HOURS)]
    most = [hours_afloat(size).most for size in sorted(UNTREATED_HOURS)]
    assert (least, most) == (sorted(least), sorted(most))


@pytest.mark.parametrize(
    ("size", "foil"), [pytest.param(5, False, id="small latex"), pytest.param(24, True, id="a foil nobody sells")]
)
def test_what_does_not_float_is_refused(size, foil):
    with pytest.raises(SpecErrors, match=f"to float .got {size}-inch"):
        hours_afloat(size, foil=foil)


@pytest.mark.parametrize(
    ("latex", "foils", "hours", "sealed", "said"),
    [
        pytest.param([11], [18], 6, False, [], id="long enough"),
        pytest.param([11], [], 24, False, ["seal it inside, for 48 to 144"], id="sealing helps"),
        pytest.param([11], [], 24, True, [], id="sealed"),
        pytest.param([11, 36], [], 72, True, ["An 11-inch floats 48 to 144 hours sealed"], id="not even sealed"),
        pytest.param([], [18], 150, False, ["An 18-inch foil floats 120 to 336 hours"], id="foil"),
    ],
)
def test_it_is_said_which_sizes_come_down_too_early(latex, foils, hours, sealed, said):
    sentences = afloat_sentences(latex, foils, hours=hours, sealed=sealed)
    assert len(sentences) == len(said)
    assert all(part in sentence for part, sentence in zip(said, sentences, strict=True))


@pytest.mark.parametrize(
    ("before", "after", "said"),
    [
        pytest.param(5, 24, "grows to 11.2 in at 24 °C: fill it to 10.8 in", id="a cold van, a warm hall"),
        pytest.param(30, 4, "shrinks to 10.7 in at 4 °C", id="out into the frost"),
        pytest.param(20, 22, None, id="hardly"),
    ],
)
def test_a_move_to_another_temperature_is_warned_of(before, after, said):
    sentences = move_sentences(11, from_celsius=before, to_celsius=after)
    assert bool(sentences) == bool(said)
    assert said is None or said in sentences[0]


def test_latex_and_foil_are_told_apart_and_air_is_left_out():
    latex = Balloon(0, 0, 0, 10.75, 11, "a", "float", gas="helium")
    foil, air = replace(latex, size=18, in_foil=True), replace(latex, gas="air", size=16)

    assert afloat_advice([foil, air], Site(hours_afloat=100), sealed=False) == ()
    both = afloat_advice([latex, foil], Site(hours_afloat=130), sealed=False)
    assert both == afloat_sentences([11], [18], hours=130, sealed=False)
    assert len(both) == 2


def test_what_does_not_carry_itself_is_said_once_and_told_no_hours():
    foil = Balloon(0, 0, 0, 9, 9, "a", "float", gas="helium", in_foil=True)
    assert afloat_advice([foil, foil], Site(hours_afloat=400), sealed=False) == (
        "A 9-inch foil does not carry itself on helium: fill it with air, or take a larger one.",
    )


def test_only_latex_that_floats_is_sealed():
    latex = Balloon(0, 0, 0, 10.75, 11, "a", "float", gas="helium")
    assert sealing([latex, latex, replace(latex, in_foil=True), replace(latex, gas="air")]) == (Task("sealed", 2),)
    assert sealing([replace(latex, gas="air")]) == ()


def test_a_foil_of_a_size_nobody_has_published_floats_as_the_nearest():
    (said,) = afloat_sentences([], [24], hours=200, sealed=False)
    assert said == "A 24-inch foil floats 120 to 336 hours, and 200 are asked for: top it up."
