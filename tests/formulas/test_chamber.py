"""Chambers under arcs against the closed forms of a circle, and what the trade sees in sewn tubes.

The table below holds an arc of cut length c over a chord s, with c/s - 1 = excess: half angle a from
a/sin a = c/s, lens of two arcs (c/s)^2 (a - sin a cos a) / (2 a^2) and its peak (c/s)(1 - cos a)/a,
solved apart from this project.
"""

import numpy as np
import pytest

from engine.formulas.chamber import (
    arc_height,
    chamber_volume,
    chord_share,
    fill_by_rule,
    fullest_half_angle,
    half_angle_of_excess,
    segment_area,
    settled_half_angle,
)
from engine.units import CUBIC_INCH_PER_OUNCE, INCH, OUNCE

ARCS = [
    (0.01, 0.2441, 0.0820, 0.1227),
    (0.05, 0.5384, 0.1867, 0.2759),
    (0.10, 0.7490, 0.2700, 0.3930),
    (0.20, 1.0267, 0.3988, 0.5638),
    (0.30, 1.2215, 0.5097, 0.7000),
]


@pytest.mark.parametrize("excess, half_angle, lens, peak", ARCS)
def test_an_arc_has_the_angle_area_and_peak_of_the_closed_form(excess, half_angle, lens, peak):
    # Printed to four decimals: half a unit of the last one.
    angle = half_angle_of_excess(excess)
    cut = 1 + excess  # over a chord of 1
    assert angle == pytest.approx(half_angle, abs=5.1e-5)
    assert cut * chord_share(angle) == pytest.approx(1.0, abs=1e-12)
    assert 2 * segment_area(cut, angle) == pytest.approx(lens, abs=5.1e-5)
    assert 2 * arc_height(cut, angle, 0.0) == pytest.approx(peak, abs=5.1e-5)


@pytest.mark.parametrize(
    "cut_mm, lens_mm2, chord_mm, peak_mm", [(100, 2000, 93.03, 31.53), (150, 4000, 142.03, 41.54)]
)
def test_a_sewn_tube_takes_the_shape_that_holds_its_fill(cut_mm, lens_mm2, chord_mm, peak_mm):
    # Closed form, printed to 0.01 mm. A metre of one tube: plan area is the cut length times 1 m.
    cut = cut_mm / 1000
    angle = settled_half_angle(lens_mm2 * 1e-6, np.pi / 2, cut, cut, 0.0, 1.0, 1.0)
    assert 1000 * cut * chord_share(angle) == pytest.approx(chord_mm, abs=0.0051)
    assert 2000 * arc_height(cut, angle, 0.0) == pytest.approx(peak_mm, abs=0.0051)


def test_no_tube_holds_more_than_the_full_circle():
    # Two arcs of 100 mm close to a circle of 200 mm round: c^2/pi. Asked for more, it stays there.
    assert 2 * segment_area(0.1, np.pi / 2) == pytest.approx(0.1**2 / np.pi, rel=1e-12)
    assert settled_half_angle(0.004, np.pi / 2, 0.1, 0.1, 0.0, 1.0, 1.0) == pytest.approx(np.pi / 2)


def test_a_tube_of_100_mm_holds_69_grams_a_square_metre_of_800_at_most():
    # Worked by hand: 100/pi mm of mean loft = 31.8 mm, over 0.4624 m3/kg = 68.8 g/m2.
    most = 2 * segment_area(0.1, np.pi / 2) / 0.1 / (800 * CUBIC_INCH_PER_OUNCE)
    assert 1000 * most == pytest.approx(68.8, abs=0.05)


def test_tubes_of_120_mm_with_55_grams_of_800_stand_40_mm_high_and_take_6_to_9_percent():
    # Common practice, no source.
    wanted = 0.055 * 800 * CUBIC_INCH_PER_OUNCE * 0.120
    angle = settled_half_angle(wanted, np.pi / 2, 0.120, 0.120, 0.0, 1.0, 1.0)
    assert 2000 * arc_height(0.120, angle, 0.0) == pytest.approx(40, abs=2)
    assert 0.06 <= 1 - chord_share(angle) <= 0.09


@pytest.mark.parametrize("half_angle", [0.01, 0.049, 0.051, 0.4, 1.0, 1.5])
def test_the_area_under_an_arc_is_the_integral_of_its_height(half_angle):
    # Gauss-Legendre over the angle on the arc, where the height is smooth.
    nodes, weights = np.polynomial.legendre.leggauss(40)
    on_arc = (nodes + 1) / 2 * half_angle
    place = np.sin(on_arc) / np.sin(half_angle)
    chord = 0.12 * chord_share(half_angle)
    step = chord * np.cos(on_arc) / np.sin(half_angle) * half_angle / 2
    integral = np.sum(weights * arc_height(0.12, half_angle, place) * step)
    assert segment_area(0.12, half_angle) == pytest.approx(integral, rel=1e-9)


def test_an_arc_meets_its_baffles():
    assert arc_height(0.12, 0.7, 1.0) == pytest.approx(0.0, abs=1e-15)
    assert arc_height(0.12, 0.0, 0.3) == 0.0


def test_fill_by_the_short_rule_is_that_of_the_trade():
    # Common practice, no source: 60 x 44 x 2 in at 800 in3/oz = 5280/800 = 6.6 oz.
    kilograms = fill_by_rule(60 * 44 * INCH**2, 2 * INCH, 800 * CUBIC_INCH_PER_OUNCE)
    assert kilograms / OUNCE == pytest.approx(6.6, rel=1e-12)


def test_a_flat_chamber_is_a_prism_less_its_edges():
    assert chamber_volume(2.0, 0.12, 0.05, 0.9, 0.95, 0.0) == pytest.approx(2.0 * 0.05 * 0.9, rel=1e-6)


def test_a_fill_that_does_not_fill_the_base_makes_no_bulge():
    assert settled_half_angle(0.05, 1.0, 2.0, 0.12, 0.05, 1.0, 1.0) == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("height", [0.0, 0.02, 0.05, 0.12, 0.3])
def test_the_fullest_angle_is_where_a_fine_table_of_volumes_peaks(height):
    # Steps of 0.1 mrad; sewn-through chambers go on to the half circle.
    angles = np.linspace(0, np.pi / 2, 15_709)
    peak = angles[np.argmax(chamber_volume(2.0, 0.12, height, 0.9, 0.95, angles))]
    assert fullest_half_angle(0.12, height, 0.9, 0.95) == pytest.approx(peak, abs=1e-4)


def test_a_settled_chamber_holds_what_the_fill_wants():
    shape = (2.0, 0.12, 0.05, 0.9, 0.95)
    wanted = np.linspace(0.0905, 0.115, 9)
    angle = settled_half_angle(wanted, np.pi / 2, *shape)
    np.testing.assert_allclose(chamber_volume(*shape, angle), wanted, rtol=1e-12)
    singles = [settled_half_angle(float(v), np.pi / 2, *shape) for v in wanted]
    np.testing.assert_array_equal(angle, singles)


@pytest.mark.parametrize(
    "call, message",
    [
        (lambda: half_angle_of_excess(-0.01), "excess is -0.01"),
        (lambda: settled_half_angle(-0.1, 1.0, 2.0, 0.12, 0.05, 1.0, 1.0), "fill_volume_m3 is -0.1 m3"),
        (lambda: settled_half_angle(0.1, 1.0, 2.0, 0.0, 0.05, 1.0, 1.0), "span_m is 0 m"),
        (lambda: fill_by_rule(2.0, 0.05, 0.0), "fill_power_m3_kg is 0 m3/kg"),
    ],
)
def test_impossible_input_is_refused_by_name(call, message):
    with pytest.raises(ValueError, match=message):
        call()
