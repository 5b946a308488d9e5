"""Areas, edges and cuts of shells against figures worked by hand and against integrals.

Outlines are four stations from head to foot. Steiner's formula says what a strip along the inside of
a polygon holds; the other way to know it is to cut the polygon smaller and subtract.
"""

import numpy as np
import pytest

from engine.formulas.geometry import (
    corner_sum,
    cut_area,
    ellipse_area,
    ellipse_perimeter,
    outer_stretch,
    outline_area,
    side_length,
    strip_area,
)
from engine.units import INCH

RECTANGLE = np.array([0.0, 0.6, 1.2, 1.8]), np.full(4, 1.0)
TRAPEZOID = np.array([0.0, 0.4, 0.8, 1.2]), np.array([1.2, 1.0, 0.8, 0.6])
SIX_SIDED = np.array([0.0, 0.4, 1.5, 1.9]), np.array([0.8, 1.1, 1.1, 0.8])


def perimeter(position, width):
    return 2 * side_length(position, width) + width[0] + width[-1]


def polygon(position, width):
    """The corners of an outline, once round: down the right side and up the left."""
    right = np.column_stack([width / 2, position])
    return np.vstack([right, (right * [-1, 1])[::-1]])


def shoelace(corners):
    x, y = corners.T
    return abs(np.sum(x * np.roll(y, -1) - y * np.roll(x, -1))) / 2


def shrunk(corners, strip):
    """The polygon whose sides lie `strip` inside: each corner is where two of them meet."""
    inner = []
    for before, here, after in zip(np.roll(corners, 1, 0), corners, np.roll(corners, -1, 0), strict=True):
        normals, offsets = [], []
        for start, end in ((before, here), (here, after)):
            along = (end - start) / np.hypot(*(end - start))
            normal = np.array([-along[1], along[0]])
            normal = normal if normal @ (corners.mean(axis=0) - start) > 0 else -normal
            normals.append(normal)
            offsets.append(normal @ start + strip)
        if abs(np.linalg.det(normals)) < 1e-12:  # stations on a straight side
            inner.append(here + normals[0] * strip)
        else:
            inner.append(np.linalg.solve(normals, offsets))
    return np.array(inner)


def test_a_rectangle_a_trapezoid_and_six_sides_have_the_area_worked_by_hand():
    assert outline_area(*RECTANGLE) == pytest.approx(1.8)
    assert outline_area(*TRAPEZOID) == pytest.approx((1.2 + 0.6) / 2 * 1.2)
    # Two ends of 0.4 m, 0.8 to 1.1 m wide, and 1.1 m between them: 2 x 0.38 + 1.21.
    assert outline_area(*SIX_SIDED) == pytest.approx(1.97)


def test_a_slanting_side_is_a_hypotenuse():
    # 3, 4, 5 in tenths of a metre: the trapezoid's side runs in by 0.3 m over 1.2 m, the six-sided
    # one's ends by 0.15 m over 0.4 m.
    assert side_length(*RECTANGLE) == pytest.approx(1.8)
    assert side_length(*TRAPEZOID) == pytest.approx(np.sqrt(1.2**2 + 0.3**2))
    assert side_length(*SIX_SIDED) == pytest.approx(1.1 + 2 * np.sqrt(0.4**2 + 0.15**2))


def test_the_corners_of_a_rectangle_sum_to_four():
    # Steiner: four right angles, tan 45 degrees each.
    assert corner_sum(*RECTANGLE) == pytest.approx(4.0)


@pytest.mark.parametrize("outline", [RECTANGLE, TRAPEZOID, SIX_SIDED], ids=["rectangle", "trapezoid", "six"])
@pytest.mark.parametrize("strip", [0.0, 0.02, 0.08, 0.15])
def test_a_strip_is_the_polygon_less_the_smaller_polygon_inside(outline, strip):
    corners = polygon(*outline)
    left = shoelace(corners) - shoelace(shrunk(corners, strip))
    assert strip_area(perimeter(*outline), corner_sum(*outline), strip) == pytest.approx(left, abs=1e-12)


def test_the_differential_cut_is_that_of_the_trade():
    # Common practice, no source: 44 in, baffles of 2 1/2 in, wrap of 2 rad -> outer shell 49 in.
    assert 44 * outer_stretch(44 * INCH, 2.0, 2.5 * INCH) == pytest.approx(49.0, abs=1e-9)
    assert outer_stretch(1.1, 0.0, 0.05) == 1.0


def test_the_outer_shell_of_a_half_circle_is_the_longer_arc():
    # Definition: arcs of pi radians round radii of 0.35 and 0.40 m.
    assert outer_stretch(np.pi * 0.35, np.pi, 0.05) == pytest.approx(0.40 / 0.35)


def test_a_cut_piece_is_the_larger_rectangle():
    # 1.9 x 1.1 m with 13 mm at the sides and 35 mm at the ends: 1.97 x 1.126 m.
    rectangle = np.array([0.0, 0.6, 1.2, 1.9]), np.full(4, 1.1)
    assert cut_area(*rectangle, 0.013, 0.035) == pytest.approx(1.97 * 1.126)


def arc_length(width, height):
    """Length of an ellipse by adding up a million chords."""
    angle = np.linspace(0, 2 * np.pi, 1_000_001)
    return np.sum(np.hypot(np.diff(width / 2 * np.cos(angle)), np.diff(height / 2 * np.sin(angle))))


@pytest.mark.parametrize("width, height", [(0.4, 0.4), (0.42, 0.32), (0.60, 0.15), (0.20, 0.50)])
def test_the_seam_of_an_oval_is_as_long_as_its_chords(width, height):
    # 0.01 % for the ovals of a footbox, as the docstring promises; the flattest that a design takes
    # (4 : 1) is no footbox and may be off by twice that.
    footbox = max(width, height) / min(width, height) < 2
    expected = pytest.approx(arc_length(width, height), rel=1e-4 if footbox else 2e-4)
    assert ellipse_perimeter(width, height) == expected


def test_an_oval_as_high_as_wide_is_a_circle():
    assert ellipse_perimeter(0.4, 0.4) == pytest.approx(np.pi * 0.4)
    assert ellipse_area(0.4, 0.4) == pytest.approx(np.pi * 0.04)


def test_many_outlines_at_once_give_what_single_ones_give():
    stacked = [np.stack(both, axis=1) for both in zip(RECTANGLE, SIX_SIDED, strict=True)]
    for formula in (outline_area, side_length, corner_sum):
        np.testing.assert_allclose(formula(*stacked), [formula(*RECTANGLE), formula(*SIX_SIDED)], rtol=1e-14)


@pytest.mark.parametrize(
    "call, message",
    [
        (lambda: outline_area(RECTANGLE[0], -RECTANGLE[1]), "width_m is -1 m"),
        (lambda: strip_area(5.0, 4.0, -0.1), "strip_m is -0.1 m"),
        (lambda: outer_stretch(0.0, 2.0, 0.05), "inner_size_m is 0 m"),
        (lambda: cut_area(*RECTANGLE, -0.01, 0.01), "side_allowance_m is -0.01 m"),
    ],
)
def test_impossible_input_is_refused_by_name(call, message):
    with pytest.raises(ValueError, match=message):
        call()
