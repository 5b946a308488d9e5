"""How small a quilt packs: fill bulk by a power law through the fill-power test, plus shell bulk."""

import numpy as np

from engine.formulas.refuse import refuse_unless_positive
from engine.units import Number

TEST_PRESSURE_PA = 14.5
"""Lid pressure of the fill-power tests, 14 to 15 Pa (EN 12130 and the IDFB method, from lid and cylinder)."""
PIVOT_PRESSURE_PA = 35_000.0
STUFFED_BY_HAND_PA = 15_000.0
"""A firm push into a stuff sack; ours, no source. Gentle 5 kPa, hard 35 kPa."""
SHELL_DENSITY_KG_M3 = 475.0
"""Bulk density of crumpled shell cloth, 400 to 550; ours, no source."""


def packed_density(free_density_kg_m3: Number, pivot_density_kg_m3: Number, pressure_pa: Number) -> Number:
    """Bulk density of a fill under pressure, by a power law through test pressure and pivot.

    Units   kg/m3 at the test pressure, kg/m3 at 35 kPa, Pa -> kg/m3
    Range   14.5 Pa to 35 kPa
    Raises  ValueError unless all are above zero
    Source  exponent between two anchors (US patent 4588635 bounds the second); ours
    """
    refuse_unless_positive("free_density_kg_m3", free_density_kg_m3, "kg/m3")
    refuse_unless_positive("pivot_density_kg_m3", pivot_density_kg_m3, "kg/m3")
    refuse_unless_positive("pressure_pa", pressure_pa, "Pa")
    share = np.log(pressure_pa / TEST_PRESSURE_PA) / np.log(PIVOT_PRESSURE_PA / TEST_PRESSURE_PA)
    density: Number = free_density_kg_m3 ** (1 - share) * pivot_density_kg_m3**share
    return density


def spring_exponent(free_density_kg_m3: Number, pivot_density_kg_m3: Number) -> Number:
    """How steeply the pressure of a fill rises with its density: the power of the law above.

    Units   kg/m3 at the test pressure, kg/m3 at 35 kPa -> dimensionless
    Range   1.9 to 2.1 for down of 950 to 650 in3/oz
    Raises  ValueError unless both are above zero
    Source  that of `packed_density`
    """
    refuse_unless_positive("free_density_kg_m3", free_density_kg_m3, "kg/m3")
    refuse_unless_positive("pivot_density_kg_m3", pivot_density_kg_m3, "kg/m3")
    exponent: Number = np.log(PIVOT_PRESSURE_PA / TEST_PRESSURE_PA) / np.log(
        pivot_density_kg_m3 / free_density_kg_m3
    )
    return exponent


def packed_volume(mass_kg: Number, density_kg_m3: Number) -> Number:
    """Volume of a mass at a bulk density.

    Units   kg, kg/m3 -> m3
    Source  definition
    """
    refuse_unless_positive("density_kg_m3", density_kg_m3, "kg/m3")
    return mass_kg / density_kg_m3
