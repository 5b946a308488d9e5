"""Lines of equal value against fields whose lines are known."""

import numpy as np
import pytest

from engine.fields.contours import isolines


def plane(columns=9, rows=6):
    return np.meshgrid(np.linspace(0, 4, columns), np.linspace(0, 2, rows), indexing="ij")


def test_a_tilted_plane_has_one_straight_line_from_rim_to_rim():
    x, y = plane()
    lines = isolines(x, y, x + 2 * y, 3.1)
    assert len(lines) == 1
    np.testing.assert_allclose(lines[0][:, 0] + 2 * lines[0][:, 1], 3.1)
    ends = sorted(map(tuple, lines[0][[0, -1]]))
    assert ends[0] == pytest.approx((0, 1.55)) and ends[1] == pytest.approx((3.1, 0))


def test_a_round_hill_has_a_closed_line_of_the_right_length():
    x, y = np.meshgrid(np.linspace(-2, 2, 101), np.linspace(-2, 2, 81), indexing="ij")
    (line,) = isolines(x, y, x**2 + y**2, 1.0)
    np.testing.assert_array_equal(line[0], line[-1])
    assert np.sum(np.hypot(*np.diff(line, axis=0).T)) == pytest.approx(2 * np.pi, rel=1e-3)


def test_a_saddle_parts_on_the_side_of_its_middle():
    x, y = np.meshgrid([0.0, 1.0], [0.0, 1.0], indexing="ij")
    value = np.array([[1.0, 0.0], [0.0, 1.0]])
    for level, cut_off in ((0.4, [(0, 1), (1, 0)]), (0.6, [(0, 0), (1, 1)])):
        middles = {tuple(np.round(line.mean(axis=0)).astype(int)) for line in isolines(x, y, value, level)}
        assert middles == set(cut_off)


def test_a_level_outside_the_field_has_no_line():
    x, y = plane()
    assert isolines(x, y, x, 5.0) == () and isolines(x, y, x, -1.0) == ()


def test_a_hole_of_missing_values_ends_the_line():
    x, y = plane()
    value = x + 0 * y
    value[3:5, 2] = np.nan
    for line in isolines(x, y, value, 1.8):
        assert np.all(np.isfinite(line))
        np.testing.assert_allclose(line[:, 0], 1.8)


def test_arrays_of_other_shapes_are_refused():
    x, y = plane()
    with pytest.raises(ValueError, match="one shape"):
        isolines(x, y, x[1:], 1.0)
