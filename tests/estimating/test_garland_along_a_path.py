"""A garland along a path somebody drew: as long as the path, every balloon near it, and kept as it was."""

from dataclasses import replace
from decimal import Decimal
from itertools import pairwise
from math import hypot

import pytest

from estimating.kinds import GarlandSpec, SpecErrors
from estimating.kinds.garland import lay_out
from estimating.spines import length_of

ARCH = ((-20.0, 70.0), (-18.0, 0.0), (0.0, -22.0), (36.0, -26.0), (60.0, 4.0), (62.0, 30.0))


def along(path=ARCH, **changes) -> GarlandSpec:
    given = {
        "length_mm": (Decimal(str(length_of(path))) * Decimal("25.4")).quantize(Decimal("0.0001")),
        "width_mm": Decimal("406.4"),
        "mix": ((5, 40), (11, 60)),
        "colours": (("1", 100),),
        "shape": "sketched",
        "path": path,
    }
    return GarlandSpec(**given | changes)


def distance_to(path, x: float, y: float) -> float:
    nearest = []
    for (ax, ay), (bx, by) in pairwise(path):
        part = ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / ((bx - ax) ** 2 + (by - ay) ** 2)
        part = min(1.0, max(0.0, part))
        nearest.append(hypot(x - ax - part * (bx - ax), y - ay - part * (by - ay)))
    return min(nearest)


def test_the_balloons_lie_along_the_path():
    layout = lay_out(along())
    assert layout.spine == ARCH
    assert layout.length == pytest.approx(length_of(ARCH), abs=1e-3)
    assert max(distance_to(ARCH, balloon.x, balloon.y) for balloon in layout.balloons) < 16
    for x, y in ARCH:
        assert min(hypot(x - balloon.x, y - balloon.y) for balloon in layout.balloons) < 14


def test_every_balloon_of_a_path_is_counted():
    layout = lay_out(along())
    assert layout.counts().total() == len(layout.balloons)


def test_a_path_that_turns_back_on_itself_is_laid_out():
    back = ((0.0, 0.0), (120.0, 0.0), (120.0, 40.0), (0.0, 40.0), (0.0, 80.0), (120.0, 80.0))
    assert lay_out(along(back)).width == pytest.approx(16, rel=0.06)


def test_a_path_comes_back_from_json_and_lays_out_the_same():
    spec = along()
    again = GarlandSpec.from_json(spec.to_json())
    assert again == spec
    assert lay_out(again) == lay_out(spec)


def test_a_garland_kept_before_there_were_paths_is_as_it_was():
    spec = replace(along(), shape="swag", path=())
    assert "path" not in spec.to_json()
    assert GarlandSpec.from_json(spec.to_json()) == spec


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        pytest.param({"path": ()}, "path must have from 2 to 200 points (got 0)", id="no-path"),
        pytest.param({"path": ((0.0, 0.0),)}, "path must have from 2 to 200 points (got 1)", id="one-point"),
        pytest.param(
            {"path": tuple((float(n), 0.0) for n in range(201)), "length_mm": Decimal(5080)},
            "path must have from 2 to 200 points (got 201)",
            id="too-many",
        ),
        pytest.param({"path": ((0.0, 0.0), (float("nan"), 1.0))}, "path must be points of two finite", id="nowhere"),
        pytest.param({"path": ((0.0, 0.0), (0.0, 0.0), (9.0, 90.0))}, "elsewhere (got one twice)", id="repeated"),
        pytest.param({"length_mm": Decimal(3048)}, "length_mm must be the length of the path", id="another-length"),
        pytest.param({"shape": "swag"}, "path must be left out unless the shape is sketched", id="another-shape"),
    ],
)
def test_a_path_that_does_not_fit_its_garland_is_refused(changes, said):
    with pytest.raises(SpecErrors) as caught:
        along(**changes)
    assert said in str(caught.value)
