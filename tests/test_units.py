"""Are the factors between SI and the trade's units those of the published tables?"""

import numpy as np
import pytest

from engine import units
from tests.published.reader import table

FACTORS = {(row["from"], row["to"]): float(row["factor"]) for row in table("unit_conversions.csv")}

# Ours lead to SI; the table's targets are not always SI, so what is left over stands beside each.
AGAINST_THE_TABLE = [
    ("clo", "m2 K/W", units.CLO),
    ("tog", "m2 K/W", units.TOG),
    ("clo", "tog", units.CLO / units.TOG),
    ("in3/oz", "cm3/g", units.CUBIC_INCH_PER_OUNCE / 1e-3),
    ("oz/yd2", "g/m2", units.OUNCE_PER_SQUARE_YARD / units.GSM),
    ("g/m2", "oz/yd2", units.GSM / units.OUNCE_PER_SQUARE_YARD),
    ("1/(clo/inch) i.e. k at 1 clo/in", "W/(m K)", units.INCH / units.CLO),
    ("clo per oz/yd2", "m2 K/W per g/m2", units.CLO / (units.OUNCE_PER_SQUARE_YARD / units.GSM)),
    ("ft3/min/ft2 (cfm)", "m/s = m3/(m2 s)", units.CUBIC_FOOT_PER_MINUTE_PER_SQUARE_FOOT),
    ("N/25 mm", "N/m", units.NEWTON_PER_25_MM),
]


@pytest.mark.parametrize(
    "source, target, ours", AGAINST_THE_TABLE, ids=lambda v: v if isinstance(v, str) else ""
)
def test_a_factor_is_that_of_the_table(source, target, ours):
    # The table prints at least seven significant digits of exact values.
    assert ours == pytest.approx(FACTORS[source, target], rel=5e-8)


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
