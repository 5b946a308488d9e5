"""Masses worked by hand in the trade's units."""

import numpy as np
import pytest

from engine.formulas.mass import cloth_mass, fill_mass, joint_mass
from engine.units import CUBIC_INCH_PER_OUNCE, INCH, OUNCE, OUNCE_PER_SQUARE_YARD, YARD


def test_two_yards_of_film_weigh_an_ounce_and_a_half():
    # By hand: 2 yd x 54 in (1.5 yd) = 3 yd2, of 0.5 oz/yd2 film: 1.5 oz.
    area = 2 * YARD * 54 * INCH
    assert cloth_mass(area, 0.5 * OUNCE_PER_SQUARE_YARD) / OUNCE == pytest.approx(1.5, rel=1e-12)


def test_the_same_film_weighs_as_much_in_grams():
    # By hand: 1.8288 x 1.3716 m = 2.50838 m2; 0.5 oz/yd2 = 16.953 g/m2; 42.524 g, which is 1.5 oz.
    assert cloth_mass(1.8288 * 1.3716, 0.016953) == pytest.approx(0.042524, rel=2e-5)


def test_ten_metres_of_half_inch_tape_weigh_thirteen_grams():
    # Common practice, no source: 1.3 g a metre.
    assert joint_mass(10.0, 1.3e-3) == pytest.approx(0.013)


def test_a_quarter_more_down_fills_a_chamber_a_quarter_over():
    # Definition of fill power: 800 in3 of chamber take 1 oz of 800 down, and 1.25 oz at 25 % overstuff.
    for overstuff in (1.0, 1.25):
        down = fill_mass(800 * INCH**3, overstuff, 800 * CUBIC_INCH_PER_OUNCE)
        assert down / OUNCE == pytest.approx(overstuff, rel=1e-12)


def test_many_pieces_at_once_give_what_single_ones_give():
    areas = np.linspace(0.1, 3, 7)
    np.testing.assert_array_equal(cloth_mass(areas, 0.026), [cloth_mass(float(a), 0.026) for a in areas])


@pytest.mark.parametrize(
    "call, message",
    [
        (lambda: cloth_mass(-1.0, 0.026), "cut_area_m2 is -1 m2"),
        (lambda: cloth_mass(1.0, -0.026), "areal_mass_kg_m2 is -0.026"),
        (lambda: joint_mass(-1.0, 0.001), "length_m is -1 m"),
        (lambda: fill_mass(0.1, -0.5, 0.4), "overstuff is -0.5"),
    ],
)
def test_impossible_input_is_refused_by_name(call, message):
    with pytest.raises(ValueError, match=message):
        call()
