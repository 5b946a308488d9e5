"""How fast air leaves and comes back through the vents of an airtight quilt, and what stuffing pulls at."""

import numpy as np

from engine.formulas.heat import RATED_AT_PA
from engine.formulas.refuse import refuse_negative, refuse_outside, refuse_unless_positive
from engine.units import Number

_PLACES, _WEIGHTS = np.polynomial.legendre.leggauss(48)
"""Of Gauss and Legendre; 1e-6 of the time at a share of 0.99."""


def squeeze_out_seconds(
    volume_m3: Number, vent_area_m2: Number, permeability_m_s: Number, gauge_pa: Number
) -> Number:
    """Time to press a volume of air out through vents, at a steady pressure.

    Units   m3, m2, m/s at 100 Pa, Pa -> s
    Range   tight cloth, where flow grows with pressure (Darcy)
    Raises  ValueError for a vent, permeability or pressure of zero
    Source  definition of air permeability, ISO 9237:1995
    """
    refuse_negative("volume_m3", volume_m3, "m3")
    for name, value, unit in (
        ("vent_area_m2", vent_area_m2, "m2"),
        ("permeability_m_s", permeability_m_s, "m/s"),
        ("gauge_pa", gauge_pa, "Pa"),
    ):
        refuse_unless_positive(name, value, unit)
    return volume_m3 * RATED_AT_PA / (permeability_m_s * vent_area_m2 * gauge_pa)


def reloft_seconds(
    volume_m3: Number,
    vent_area_m2: Number,
    permeability_m_s: Number,
    test_pressure_pa: Number,
    exponent: Number,
    share: float = 0.95,
) -> Number:
    """Time for fill to draw its air back in through vents, by its own spring, to a share of its loft.

    The spring follows the packing power law and is spent when the loft is back, so the last of it is
    slow. The air alone: down that has been squeezed for long needs hours more to straighten itself.

    Units   m3, m2, m/s at 100 Pa, Pa at fill-power loft, exponent of pressure over density, share -> s
    Range   from packed flat; tight cloth; shares up to 0.99
    Raises  ValueError for a vent, permeability or pressure of zero, or a share outside 0.01 to 0.99
    Source  ours: the spring P0 ((V0/V)^n - 1) against Darcy flow, summed over V
    """
    for name, value, unit in (
        ("vent_area_m2", vent_area_m2, "m2"),
        ("permeability_m_s", permeability_m_s, "m/s"),
        ("test_pressure_pa", test_pressure_pa, "Pa"),
    ):
        refuse_unless_positive(name, value, unit)
    refuse_outside("share", share, 0.01, 0.99, "")
    sum_of_steps: Number = 0.0
    for place, weight in zip(_PLACES, _WEIGHTS, strict=True):
        filled = share * (place + 1) / 2
        sum_of_steps = sum_of_steps + share * weight / 2 * filled**exponent / (1 - filled**exponent)
    return volume_m3 * RATED_AT_PA * sum_of_steps / (permeability_m_s * vent_area_m2 * test_pressure_pa)


def baffle_foot_load(gauge_pa: Number, tributary_m: Number) -> Number:
    """Pull on a metre of baffle foot when a closed quilt is pressed: pressure times the width it holds.

    Units   Pa, m -> N/m
    Range   a foot with one flange; half of it for two flanges or an edge
    Raises  ValueError for a negative pressure or width
    Source  definition (statics)
    """
    refuse_negative("gauge_pa", gauge_pa, "Pa")
    refuse_negative("tributary_m", tributary_m, "m")
    return gauge_pa * tributary_m


def squeeze_limit_pa(peel_n_m: Number, tributary_m: Number) -> Number:
    """Gauge pressure at which baffle feet of this peel strength let go.

    Units   N/m, m -> Pa
    Raises  ValueError for a width of zero
    Source  definition (statics)
    """
    refuse_unless_positive("tributary_m", tributary_m, "m")
    return peel_n_m / tributary_m
