"""Panels of shells wider than their roll, by hand and by adding up thin strips.

A lap of 12 mm is common practice, no source.
"""

import numpy as np
import pytest

from engine.formulas.geometry import cut_area, cut_outline, outline_area
from engine.formulas.panels import area_before, area_beside, extent_at, panels_of, width_at

RECTANGLE = np.array([0.0, 0.5, 1.5, 2.0]), np.full(4, 1.6)
SIX_SIDED = np.array([-0.02, 0.0, 0.4, 1.5, 1.9, 1.92]), np.array([0.8, 0.8, 1.1, 1.1, 0.6, 0.6])
LAP = 0.012


def test_a_shell_that_fits_its_roll_is_one_piece():
    found = panels_of(RECTANGLE[0], np.full(4, 1.4), 1.4, LAP)
    assert (found.count, found.turned, found.join_m, found.lap_m2) == (1, 0, 0, 0)
    # Turned, its 1.0 m would take less roll than its 1.2 m, but then its grain would run across.
    narrow = panels_of(np.array([0.0, 0.4, 0.8, 1.2]), np.full(4, 1.0), 1.4, LAP)
    assert (narrow.turned, narrow.roll_m) == (0, 1.2)


def test_a_shell_wider_than_its_roll_is_turned_where_that_takes_less_roll():
    # By hand: 2.0 x 1.6 m on 1.4 m. Along, two lengths of 2.0; turned, two lengths of 1.6: 3.2 m.
    found = panels_of(*RECTANGLE, 1.4, LAP)
    assert (found.count, found.turned) == (2, 1)
    assert found.roll_m == pytest.approx(3.2)
    assert found.join_m == pytest.approx(1.6)
    assert found.lap_m2 == pytest.approx(1.6 * 0.012)


def test_a_maker_may_want_it_spliced_all_the_same():
    found = panels_of(*RECTANGLE, 1.4, LAP, "spliced")
    assert (found.count, found.turned) == (2, 0)
    assert found.roll_m == pytest.approx(4.0)
    assert found.join_m == pytest.approx(2.0)
    assert found.step_m + LAP == pytest.approx((1.6 + 0.012) / 2)


def test_a_shell_as_long_as_the_roll_is_wide_is_turned_without_a_join():
    found = panels_of(np.array([0.0, 0.4, 0.9, 1.3]), np.full(4, 1.5), 1.4, LAP)
    assert (found.count, found.turned, found.join_m) == (1, 1, 0)
    assert found.roll_m == pytest.approx(1.5)


def test_every_lap_takes_its_share_of_the_roll():
    # Two panels of 1.4 m lap by 12 mm and make 2.788 m; a millimetre more needs a third.
    along = [panels_of(RECTANGLE[0], np.full(4, wide), 1.4, LAP, "spliced").count for wide in (2.788, 2.789)]
    assert along == [2, 3]


def test_off_the_middle_a_join_is_as_long_as_the_outline_is_there():
    # By hand: beside the middle by 0.45 m the head end, 0.4 to 0.55 m of half width over 0.4 m, is met at
    # 0.4 x (0.45 - 0.4) / 0.15 = 0.1333 m; the foot, 0.55 to 0.3 m over 0.4 m, at 1.5 + 0.4 x 0.1 / 0.25.
    assert extent_at(*SIX_SIDED, 0.45) == pytest.approx(1.5 + 0.16 - 0.4 / 3)
    assert extent_at(*SIX_SIDED, -0.2) == pytest.approx(1.94)
    assert width_at(*SIX_SIDED, 0.02 + 0.2) == pytest.approx(0.95)


def test_areas_are_the_sums_of_thin_strips():
    """Midpoint rule, a tenth of a millimetre a strip: its error is far below a square millimetre here."""
    step = 1e-4
    beside = np.arange(step / 2, 0.5, step)
    assert area_beside(*SIX_SIDED, 0.5) == pytest.approx(
        np.sum(extent_at(*SIX_SIDED, beside)) * step, abs=1e-6
    )
    before = np.arange(step / 2, 1.7, step)
    assert area_before(*SIX_SIDED, 1.7) == pytest.approx(
        np.sum(width_at(*SIX_SIDED, before)) * step, abs=1e-6
    )


def test_both_halves_make_the_whole():
    halves = area_beside(*SIX_SIDED, 0.55) - area_beside(*SIX_SIDED, -0.55)
    assert halves == pytest.approx(outline_area(*SIX_SIDED))
    assert area_before(*SIX_SIDED, 1.94) == pytest.approx(outline_area(*SIX_SIDED))


def test_many_shells_at_once_give_what_single_ones_give():
    wide = np.array([1.0, 1.5, 2.0, 2.9, 4.1])
    position = np.array([0.0, 0.5, 1.5, 2.2])
    many = panels_of(position[:, np.newaxis] * np.ones(5), np.ones(4)[:, np.newaxis] * wide, 1.4, LAP)
    for number, width in enumerate(wide):
        one = panels_of(position, np.full(4, width), 1.4, LAP)
        for name in ("count", "turned", "step_m", "join_m", "lap_m2", "roll_m"):
            assert getattr(many, name)[number] == pytest.approx(getattr(one, name)), name


def test_a_roll_that_is_all_lap_is_refused():
    with pytest.raises(ValueError, match=r"usable roll width is 0\.02 m"):
        panels_of(*RECTANGLE, 0.02, LAP)


def shoelace(corners):
    x, y = corners.T
    return abs(np.sum(x * np.roll(y, -1) - y * np.roll(x, -1))) / 2


def test_a_cut_outline_lies_its_allowances_outside_every_seam():
    """Definition: half-planes moved out by the allowance; their crossings by linear equations."""
    position, width = np.array([0.0, 0.4, 1.5, 1.9]), np.array([0.8, 1.1, 1.1, 0.9])
    corners = np.vstack(
        [np.column_stack([position, width / 2]), np.column_stack([position, -width / 2])[::-1]]
    )
    moved = []
    for start, end in zip(corners, np.roll(corners, -1, 0), strict=True):
        way = (end - start) / np.hypot(*(end - start))
        normal = np.array([-way[1], way[0]])
        out = 0.035 if abs(way[0]) < 1e-9 else 0.013
        moved.append((normal, normal @ start + out))
    crossings = [
        np.linalg.solve([one[0], other[0]], [one[1], other[1]])
        for one, other in zip(moved, moved[1:] + moved[:1], strict=True)
    ]
    assert cut_area(position, width, 0.013, 0.035) == pytest.approx(shoelace(np.array(crossings)))


def test_a_hem_at_a_steep_end_keeps_some_width():
    # Sides that run in by 0.4 m over 0.05 m would cross before the cut end.
    place, width = cut_outline(np.array([0.0, 0.05, 1.0, 1.9]), np.array([0.2, 1.0, 1.0, 1.0]), 0.013, 0.035)
    assert place[0] == pytest.approx(-0.035)
    assert width[0] == pytest.approx(0.1)
    assert np.all(width > 0) and np.all(np.diff(place) >= 0)
