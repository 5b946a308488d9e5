"""Are the factors between SI and the trade's units those of the published tables?"""

import numpy as np
import pytest

from engine import units
from engine.checks.trade import factors


@pytest.mark.parametrize("row", factors(), ids=lambda row: f"{row.what} to {row.unit}")
def test_a_factor_is_that_of_the_table(row):
    # The table prints at least seven significant digits of exact values.
    assert row.inside, row


def test_every_factor_that_the_trade_needs_is_compared():
    assert len(factors()) == 11


def test_the_pound_and_the_yard_are_those_of_1959():
    # NIST SP 811, Appendix B: 0.45359237 kg and 0.9144 m exactly; 16 ounces, 36 inches.
    assert pytest.approx(0.45359237, rel=1e-15) == 16 * units.OUNCE
    assert pytest.approx(units.YARD, rel=1e-15) == 36 * units.INCH


@pytest.mark.parametrize(
    "degrees_c, degrees_f", [(-40, -40), (0, 32), (100, 212), (37, 98.6), (-17.7777778, 0)]
)
def test_fixed_points_of_the_two_scales_agree(degrees_c, degrees_f):
    # NIST SP 811, Appendix B.9: t/F = 1.8 t/C + 32.
    assert units.fahrenheit(degrees_c) == pytest.approx(degrees_f, abs=1e-6)
    assert units.celsius(degrees_f) == pytest.approx(degrees_c, abs=1e-6)


def test_arrays_and_single_values_convert_alike():
    temperatures_c = np.linspace(-50, 40, 19)
    np.testing.assert_array_equal(
        units.fahrenheit(temperatures_c), [units.fahrenheit(float(t)) for t in temperatures_c]
    )
    np.testing.assert_allclose(units.celsius(units.fahrenheit(temperatures_c)), temperatures_c, atol=1e-12)
