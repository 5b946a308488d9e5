"""How small down packs, against the pivot worked by hand and against what the trade measures."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.formulas.packing import (
    PIVOT_PRESSURE_PA,
    TEST_PRESSURE_PA,
    packed_density,
    packed_volume,
    spring_exponent,
)
from engine.units import CUBIC_INCH_PER_OUNCE

PIVOT = 110.0


def density(fill_power, pressure_pa):
    return packed_density(1 / (fill_power * CUBIC_INCH_PER_OUNCE), PIVOT, pressure_pa)


@pytest.mark.parametrize("fill_power, exponent", [(650, 2.09), (800, 1.98), (950, 1.90)])
def test_the_pressure_grows_with_the_power_worked_by_hand(fill_power, exponent):
    # By hand: n = ln(35000/14.5) / ln(110 fill power), printed to two decimals.
    doubled = density(fill_power, 10_000) / density(fill_power, 5_000)
    assert np.log(2) / np.log(doubled) == pytest.approx(exponent, abs=0.0051)
    free = 1 / (fill_power * CUBIC_INCH_PER_OUNCE)
    assert spring_exponent(free, PIVOT) == pytest.approx(exponent, abs=0.0051)


@pytest.mark.parametrize("fill_power", [650, 800, 950])
@pytest.mark.parametrize(
    "pressure_pa, low, high", [(5_000, 39, 43.5), (15_000, 70, 73.5), (35_000, 109.9, 110.1)]
)
def test_stuffed_down_is_as_dense_as_worked_by_hand(fill_power, pressure_pa, low, high):
    # By hand 39 to 43, 70 to 73 and 110 kg/m3 at 5, 15 and 35 kPa, to the whole number.
    assert low <= density(fill_power, pressure_pa) <= high


def test_firmly_stuffed_down_alone_is_at_the_loose_end_of_what_quilts_pack_to():
    # US patent 4588635 (1986): down under strong compression reaches 32 to 96 kg/m3 and more.
    assert density(800, 5_000) >= 32 and density(800, 35_000) >= 96


def test_at_the_test_pressure_down_has_its_fill_power():
    # Definition of fill power: 800 in3 to the ounce, under the lid of the test.
    assert density(800, TEST_PRESSURE_PA) == pytest.approx(1 / (800 * CUBIC_INCH_PER_OUNCE), rel=1e-12)


@given(st.floats(400, 1050), st.floats(400, 1050), st.floats(TEST_PRESSURE_PA, PIVOT_PRESSURE_PA))
def test_down_of_more_fill_power_never_packs_denser_below_the_pivot(one, other, pressure_pa):
    """Per gram it is never smaller: its lead shrinks with pressure and is gone at 35 kPa."""
    low, high = sorted((one, other))
    assert density(high, pressure_pa) <= density(low, pressure_pa) * (1 + 1e-12)


def test_the_lead_in_volume_of_better_down_is_small_in_the_stuff_sack():
    # 46 % more loft at rest is worth 4 % in a firmly stuffed sack: so fewer grams pack smaller.
    at_rest = density(650, TEST_PRESSURE_PA) / density(950, TEST_PRESSURE_PA)
    stuffed = density(650, 15_000) / density(950, 15_000)
    assert at_rest == pytest.approx(950 / 650)
    assert 1.0 < stuffed < 1.05


def test_a_volume_is_mass_over_density():
    assert packed_volume(0.25, 100.0) == pytest.approx(0.0025)


def test_many_at_once_give_what_single_ones_give():
    pressures = np.geomspace(20, 35_000, 9)
    np.testing.assert_allclose(
        density(800, pressures), [density(800, float(p)) for p in pressures], rtol=1e-13
    )


@pytest.mark.parametrize(
    "call, message",
    [
        (lambda: packed_density(0.0, 110.0, 15e3), "free_density_kg_m3 is 0"),
        (lambda: packed_density(2.0, -1.0, 15e3), "pivot_density_kg_m3 is -1"),
        (lambda: packed_density(2.0, 110.0, 0.0), "pressure_pa is 0 Pa"),
        (lambda: packed_volume(1.0, 0.0), "density_kg_m3 is 0"),
    ],
)
def test_impossible_input_is_refused_by_name(call, message):
    with pytest.raises(ValueError, match=message):
        call()
