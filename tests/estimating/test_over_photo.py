"""A garland over a photo: every balloon once, where and as large as it would be seen."""

import base64
import re
from collections import Counter
from decimal import Decimal

import pytest

from estimating.drawing import Swatch
from estimating.kinds import GarlandSpec
from estimating.kinds.garland import lay_out
from estimating.layout import Balloon, Layout
from estimating.over_photo import Backdrop, inside, svg_over_photo, svg_over_photo_for_paper
from estimating.plane import plane_of_length, plane_of_rectangle

PALETTE = {"1": Swatch("#1f2a44", "Ink"), "2": Swatch("#e6dac6", "Sand")}
SQUARELY = Backdrop(plane_of_length((0, 0), (0, 800), 80), 2000, 1500)
SLANTED = Backdrop(plane_of_rectangle([(900, 300), (1180, 260), (1200, 1210), (890, 1100)], 36, 80), 2000, 1500)


@pytest.fixture(scope="module")
def garland() -> Layout:
    spec = GarlandSpec(
        length_mm=Decimal(3048),
        width_mm=Decimal(406),
        mix=((5, 40), (11, 60)),
        colours=(("1", 60), ("2", 40)),
        shape="straight",
    )
    return lay_out(spec)


def two(*diameters: float) -> Layout:
    balloons = tuple(Balloon(40.0 * n, 10.0, 0.0, d, 11, "1", "base") for n, d in enumerate(diameters))
    return Layout(balloons, ((0.0, 0.0), (60.0, 0.0)), 60.0, 12.0)


def circles(drawn: str) -> list[tuple[float, float, float]]:
    found = re.findall(r'<circle[^>]*cx="([-\d.]+)" cy="([-\d.]+)" r="([\d.]+)"', drawn)
    return [(float(x), float(y), float(r)) for x, y, r in found]


@pytest.mark.parametrize("backdrop", [SQUARELY, SLANTED], ids=["squarely", "slanted"])
def test_as_many_balloons_are_drawn_as_are_counted(garland, backdrop):
    drawn = svg_over_photo(garland, PALETTE, backdrop, address="", title="Garland")
    assert len(circles(drawn)) == garland.counts().total()


@pytest.mark.parametrize("backdrop", [SQUARELY, SLANTED], ids=["squarely", "slanted"])
def test_the_paper_draws_the_same_balloons_of_each_size(garland, backdrop):
    drawn = svg_over_photo_for_paper(garland, PALETTE, backdrop, address="", title="Garland")
    counts: Counter[int] = Counter()
    for size, path in re.findall(r'data-size="(\d+)"[^>]* d="([^"]+)"', drawn):
        counts[int(size)] += path.count("M")
    expected = Counter(balloon.size for balloon in garland.balloons)
    assert counts == expected


def test_a_balloon_is_drawn_where_it_hangs_at_its_size():
    """Ten pixels to the inch, and half a unit of the drawing to the pixel."""
    (first, second) = sorted(circles(svg_over_photo(two(9.5, 9.5), PALETTE, SQUARELY, address="", title="Two")))
    assert first[:2] == pytest.approx((0, 50), abs=0.1)
    assert second[:2] == pytest.approx((200, 50), abs=0.1)
    assert first[2] == pytest.approx(9.5 / 2 * 5, rel=0.011)


def test_a_balloon_further_off_is_drawn_smaller():
    drawn = sorted(circles(svg_over_photo(two(9.5, 9.5), PALETTE, SLANTED, address="", title="Two")))
    assert drawn[1][2] > 1.04 * drawn[0][2]


def test_the_photo_is_inside_the_picture_and_fills_it(garland):
    drawn = svg_over_photo(garland, PALETTE, SQUARELY, address=inside(b"\xff\xd8picture"), title="Garland")
    kept = re.search(r'<image href="data:image/jpeg;base64,([^"]+)" width="1000.0" height="750.0"', drawn)
    assert kept is not None
    assert base64.b64decode(kept[1]) == b"\xff\xd8picture"
    assert 'viewBox="0 0 1000 750"' in drawn


def test_the_photo_lies_behind_every_balloon(garland):
    drawn = svg_over_photo(garland, PALETTE, SQUARELY, address="/photo.jpg", title="Garland")
    assert drawn.index("<image") < drawn.index("<circle")


def test_a_blank_wall_has_no_photo_and_an_overlay_has_no_wall(garland):
    wall = svg_over_photo(garland, PALETTE, SQUARELY, address="", title="Garland")
    alone = svg_over_photo(garland, PALETTE, SQUARELY, address=None, title="Garland")
    assert "<rect" in wall
    assert "<image" not in wall + alone
    assert "<rect" not in alone


def test_an_address_cannot_end_its_element(garland):
    drawn = svg_over_photo(garland, PALETTE, SQUARELY, address='/a"><script>', title="Garland")
    assert "<script" not in drawn


def test_fifteen_hundred_balloons_and_the_largest_photo_stay_below_250_kilobytes():
    balloons = tuple(
        Balloon(6.0 * (n % 50), 6.0 * (n // 50), n % 7 - 3.0, 9.5 if n % 3 else 4.75, 11 if n % 3 else 5, "1", "base")
        for n in range(1500)
    )
    layout = Layout(balloons, ((0.0, 0.0), (300.0, 0.0)), 300.0, 20.0)
    drawn = svg_over_photo(layout, PALETTE, SLANTED, address=inside(b"x" * 96 * 1024), title="Garland")
    assert len(drawn) <= 250_000
