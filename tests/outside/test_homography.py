"""The homography behind a sketch, against OpenCV, and against a door rendered in perspective.

The algorithm is the direct linear transformation of Hartley and Zisserman's Multiple View Geometry; OpenCV's
`getPerspectiveTransform` and `findHomography` are implementations by other hands.
"""

from math import cos, hypot, pi, sin

import cv2
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimating.plane import homography, length_along, plane_of_length, plane_of_rectangle

DOOR = (36.0, 80.0)
"""A common inside door of the trade's drawings: 3 ft by 6 ft 8 in (common practice)."""

TRAPEZIA = [
    pytest.param([(200, 300), (480, 260), (500, 1210), (190, 1100)], id="from-the-right"),
    pytest.param([(600, 250), (900, 250), (930, 1000), (570, 1000)], id="from-below"),
    pytest.param([(100, 100), (460, 100), (460, 900), (100, 900)], id="squarely"),
    pytest.param([(300, 150), (700, 320), (640, 1300), (220, 1050)], id="held-askew"),
]


@pytest.mark.parametrize("corners", TRAPEZIA)
def test_the_wall_is_where_opencv_finds_it(corners):
    known = np.array([(0, 0), (DOOR[0], 0), DOOR, (0, DOOR[1])], dtype=np.float32)
    theirs = cv2.getPerspectiveTransform(np.array(corners, dtype=np.float32), known)
    plane = plane_of_rectangle(corners, *DOOR)
    asked = [(x, y) for x in range(120, 900, 130) for y in range(120, 1100, 140)]
    expected = cv2.perspectiveTransform(np.array([asked], dtype=np.float64), theirs)[0]

    assert np.allclose(plane.plane_of(asked), expected, rtol=1e-4, atol=1e-3)


@given(
    shift=st.lists(st.floats(-90, 90), min_size=8, max_size=8),
    noise=st.lists(st.floats(-0.5, 0.5), min_size=16, max_size=16),
)
@settings(max_examples=60, deadline=None)
def test_more_pairs_than_four_are_weighed_as_opencv_weighs_them(shift, noise):
    """Least squares of the linear equations; OpenCV then refines, so they agree to the noise, not beyond."""
    known = [(x, y) for y in (0.0, 80.0) for x in (0.0, 36.0)] + [(18.0, 0.0), (18.0, 80.0), (0.0, 40.0), (36.0, 40.0)]
    base = [(300.0, 250.0), (700.0, 250.0), (300.0, 1150.0), (700.0, 1150.0)]
    seen_corners = [(x + shift[2 * n], y + shift[2 * n + 1]) for n, (x, y) in enumerate(base)]
    exact = cv2.getPerspectiveTransform(np.array(known[:4], np.float32), np.array(seen_corners, np.float32))
    seen = cv2.perspectiveTransform(np.array([known]), exact)[0] + np.array(noise).reshape(8, 2)
    ours = homography([tuple(p) for p in seen], known)
    theirs, _ = cv2.findHomography(seen, np.array(known), 0)
    asked = np.array([[(500.0, 700.0), (400.0, 500.0), (620.0, 900.0)]])

    assert np.abs(cv2.perspectiveTransform(asked, ours) - cv2.perspectiveTransform(asked, theirs)).max() < 0.15


class Camera:
    """A pinhole camera turned by degrees about the upright and tipped, some inches in front of a wall."""

    def __init__(self, turned: float, tipped: float, away: float = 170.0) -> None:
        yaw, pitch = turned * pi / 180, tipped * pi / 180
        across = np.array([[cos(yaw), 0, sin(yaw)], [0, 1, 0], [-sin(yaw), 0, cos(yaw)]])
        down = np.array([[1, 0, 0], [0, cos(pitch), -sin(pitch)], [0, sin(pitch), cos(pitch)]])
        self.rotation = down @ across
        self.away = away

    def seen(self, wall: list[tuple[float, float]]) -> list[tuple[float, float]]:
        """Points of the wall (inches from a door's upper left corner) in a photo of 2,000 x 1,500 pixels."""
        found = []
        for x, y in wall:
            place = self.rotation @ np.array([x - 18, y - 40, 0.0]) + np.array([0, 0, self.away])
            found.append((1000 + 1500 * place[0] / place[2], 750 + 1500 * place[1] / place[2]))
        return found


def arch_over_a_door() -> list[tuple[float, float]]:
    """Up one side of a door, over it in half a circle, and down the other."""
    over = [(18 - 30 * cos(pi * n / 60), -8 - 30 * sin(pi * n / 60)) for n in range(61)]
    return [(-12.0, 60.0), *over, (48.0, 60.0)]


POSES = [pytest.param(0, 0, id="squarely"), pytest.param(35, 0, id="from-the-side"), pytest.param(-28, 14, id="askew")]


@pytest.mark.parametrize(("turned", "tipped"), POSES)
def test_a_path_round_a_door_has_its_true_length_from_anywhere(turned, tipped):
    """The true length is 68 in up, half a circle of 30 in, and 68 in down; its corners are marked to the pixel."""
    camera = Camera(turned, tipped)
    corners = [(round(x), round(y)) for x, y in camera.seen([(0, 0), (36, 0), (36, 80), (0, 80)])]
    drawn = [(round(x), round(y)) for x, y in camera.seen(arch_over_a_door())]
    true = 68 + 30 * pi + 68

    measured = length_along(plane_of_rectangle(corners, *DOOR).path_of(drawn))

    assert measured == pytest.approx(true, rel=0.02)


def test_one_known_length_misleads_where_a_rectangle_does_not():
    """Why four corners are asked for when the wall is not faced squarely."""
    camera = Camera(35, 0)
    top, right = camera.seen([(0, 0), (0, 80)])
    path = camera.seen([(40.0, -10.0), (160.0, -10.0)])
    by_length = length_along(plane_of_length(top, right, 80).path_of(path))

    assert abs(by_length - 120) > 12
    corners = camera.seen([(0, 0), (36, 0), (36, 80), (0, 80)])
    assert length_along(plane_of_rectangle(corners, *DOOR).path_of(path)) == pytest.approx(120, rel=1e-6)


@pytest.mark.parametrize(("turned", "tipped"), POSES)
def test_a_rendered_door_found_by_opencv_gives_the_painted_line_its_length(turned, tipped):
    """The door is painted on a canvas, warped by OpenCV, its corners found again in the pixels by OpenCV."""
    camera = Camera(turned, tipped)
    inch = 8
    canvas = np.full((160 * inch, 200 * inch), 255, np.uint8)
    left, top = 80 * inch, 50 * inch
    cv2.rectangle(canvas, (left, top), (left + 36 * inch, top + 80 * inch), 0, -1)
    wall = [(-80.0, -50.0), (120.0, -50.0), (120.0, 110.0), (-80.0, 110.0)]
    edges = np.array([(0, 0), (200 * inch, 0), (200 * inch, 160 * inch), (0, 160 * inch)], np.float32)
    warp = cv2.getPerspectiveTransform(edges, np.array(camera.seen(wall), np.float32))
    photo = cv2.warpPerspective(canvas, warp, (2000, 1500), borderValue=255)
    outlines, _ = cv2.findContours(255 - photo, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_SIMPLE)
    door = max(outlines, key=cv2.contourArea)
    found = [(float(x), float(y)) for x, y in cv2.approxPolyDP(door, 20, True).reshape(-1, 2)]
    assert len(found) == 4
    expected = camera.seen([(0, 0), (36, 0), (36, 80), (0, 80)])
    corners = [min(found, key=lambda c: hypot(c[0] - x, c[1] - y)) for x, y in expected]

    measured = length_along(plane_of_rectangle(corners, *DOOR).path_of(camera.seen(arch_over_a_door())))

    assert measured == pytest.approx(136 + 30 * pi, rel=0.02)
