"""How well still air, fill and the air outside hold heat: conductivities and resistances of layers."""

import numpy as np

from engine.formulas.refuse import refuse_negative, refuse_outside, refuse_unless_positive
from engine.units import KELVIN_OFFSET, Number

STEFAN_BOLTZMANN_W_M2K4 = 5.670374419e-8
"""CODATA 2018."""
CLOTH_EMISSIVITY = 0.9
"""ISO 6946:2017, Annex C: surfaces that are not bare metal."""
BODY_DIAMETER_M = 0.40
"""A covered body seen by the wind, twice the 0.20 m radius of curvature; common practice, no source."""
STILL_AIR_W_M2K = 2.5
"""Convection at a surface without wind, horizontal heat flow: ISO 6946:2017, Annex C (from memory)."""
RISING_W_M2K, LEVEL_W_M2K = 1.95, 1.25
"""Convection in a closed gap whose heat goes up, or sideways: ISO 6946:2017, Annex D (from memory)."""


RATED_AT_PA = 100.0
"""Pressure at which air permeability is stated: ISO 9237:1995, apparel."""
AIR_DENSITY_KG_M3, AIR_HEAT_J_KGK = 1.29, 1006.0
"""Dry air at 0 degC and sea level."""
WINDWARD_SHARE, WARMED_SHARE = 0.5, 0.75
"""The second is set so that open wind on woven shells costs what makers find, 3 to 6 K (common practice, no
source)."""
DRAUGHT_M_S = 0.3
"""Warm air rising out of a gap without wind; ours."""
ORIFICE = 0.6
EPSILON = float(np.finfo(float).eps)
PASSING_SHARE = 0.035
"""Of the air that enters: set so that a loose end costs what makers find, 3 to 8 K (common practice, no
source)."""


def air_conductivity(temperature_c: Number) -> Number:
    """Thermal conductivity of dry, still air at sea-level pressure.

    Shapes  broadcast; floats give a float, arrays one value per variant
    Units   degC -> W/(m K)
    Range   a fit from -40 to 40 degC, within 0.01 % of the reference equation there
    Raises  ValueError below absolute zero or above 200 degC
    Source  fit to the reference equation for air, J. Phys. Chem. Ref. Data 29 (2000), Int. J.
            Thermophysics 25 (2004), tabulated with CoolProp 8.0.0
    """
    refuse_outside("temperature_c", temperature_c, -KELVIN_OFFSET, 200.0, "degC")
    return 0.0243605 + 7.659e-5 * temperature_c - 4.43e-8 * temperature_c**2


def fill_conductivity(mean_c: Number, density_kg_m3: Number, extinction_m2_kg: Number) -> Number:
    """Apparent conductivity of loose fill: still air, plus radiation that soaks through the fibres.

    Fibre conduction and moving air are left out: the first matters above about 15 kg/m3, the second
    below about 1.5 kg/m3.

    Shapes  broadcast; floats give a float, arrays one value per variant
    Units   degC, kg/m3, m2/kg -> W/(m K)
    Range   1.5 to 15 kg/m3; extinction of down 70 to 160 m2/kg (own judgement), above 46 by US patent 4588635
    Raises  ValueError for a density or an extinction of 0 or less
    Source  diffusion approximation of radiation (Rosseland), textbook heat transfer
    """
    refuse_unless_positive("density_kg_m3", density_kg_m3, "kg/m3")
    refuse_unless_positive("extinction_m2_kg", extinction_m2_kg, "m2/kg")
    kelvin = mean_c + KELVIN_OFFSET
    radiation = 16 * STEFAN_BOLTZMANN_W_M2K4 * kelvin**3 / (3 * extinction_m2_kg * density_kg_m3)
    return air_conductivity(mean_c) + radiation


def radiation_coefficient(mean_c: Number) -> Number:
    """Heat that a cloth surface gives off by radiation, per kelvin to its surroundings.

    Shapes  broadcast; floats give a float, arrays one value per variant
    Units   degC -> W/(m2 K)
    Range   surroundings within 20 K of the surface; a clear sky is colder and takes more
    Raises  ValueError below absolute zero
    Source  ISO 6946:2017, Annex C
    """
    refuse_outside("mean_c", mean_c, -KELVIN_OFFSET, 200.0, "degC")
    return CLOTH_EMISSIVITY * 4 * STEFAN_BOLTZMANN_W_M2K4 * (mean_c + KELVIN_OFFSET) ** 3


def crossflow_coefficient(wind_m_s: Number, diameter_m: Number) -> Number:
    """Heat that wind takes from a long round body lying across it, without radiation.

    Air as at 10 degC: between -40 and 20 degC colder air conducts less and is denser, and the two
    cancel within 2 %.

    Shapes  broadcast; floats give a float, arrays one value per variant
    Units   m/s, m -> W/(m2 K)
    Range   Reynolds x Prandtl above 0.2; scatter of the measurements about 20 %
    Raises  ValueError for a negative wind, a diameter of 0 or less
    Source  correlation of Churchill and Bernstein, J. Heat Transfer 99 (1977) 300
    """
    refuse_negative("wind_m_s", wind_m_s, "m/s")
    refuse_unless_positive("diameter_m", diameter_m, "m")
    prandtl, viscosity_m2_s = 0.70934, 1.42038e-5
    reynolds = wind_m_s * diameter_m / viscosity_m2_s
    laminar = 0.62 * reynolds**0.5 * prandtl ** (1 / 3) / (1 + (0.4 / prandtl) ** (2 / 3)) ** 0.25
    nusselt: Number = 0.3 + laminar * (1 + (reynolds / 282000) ** (5 / 8)) ** (4 / 5)
    return nusselt * air_conductivity(10.0) / diameter_m


def outside_film_resistance(wind_m_s: Number, air_c: Number) -> Number:
    """Resistance of the air film round a covered body lying across the wind.

    Shapes  broadcast; floats give a float, arrays one value per variant
    Units   m/s, degC -> m2 K/W
    Range   0 to 15 m/s, under a tarp; below about 0.2 m/s still-air convection takes over
    Raises  ValueError for a negative wind or a temperature below absolute zero
    Source  Churchill and Bernstein (1977) for convection, ISO 6946:2017 Annex C for still air and radiation
    """
    convection = np.maximum(crossflow_coefficient(wind_m_s, BODY_DIAMETER_M), STILL_AIR_W_M2K)
    film: Number = 1 / (convection + radiation_coefficient(air_c))
    return film


def surface_resistance(wind_m_s: Number, mean_c: Number) -> Number:
    """Resistance of the air film at the outside of a building, the standard's blunter rule.

    Shapes  broadcast; floats give a float, arrays one value per variant
    Units   m/s, degC -> m2 K/W
    Range   1 to 10 m/s
    Raises  ValueError for a negative wind or a temperature below absolute zero
    Source  ISO 6946:2017, Annex C
    """
    refuse_negative("wind_m_s", wind_m_s, "m/s")
    return 1 / (4 + 4 * wind_m_s + radiation_coefficient(mean_c))


def air_layer_resistance(wind_m_s: Number, walking_m_s: Number = 0.0) -> Number:
    """Resistance of the air layer round a clothed person, standing or walking.

    Shapes  broadcast; floats give a float, arrays one value per variant
    Units   m/s, m/s -> m2 K/W
    Range   0.4 to 18 m/s
    Raises  ValueError for a negative wind, or one above 18 m/s
    Source  ISO 11079:2007, Annex A
    """
    refuse_outside("wind_m_s", wind_m_s, 0.0, 18.0, "m/s")
    refuse_outside("walking_m_s", walking_m_s, 0.0, 1.2, "m/s")
    layer: Number = 0.092 * np.exp(-0.15 * wind_m_s - 0.22 * walking_m_s) - 0.0045
    return layer


def sinking_convection(thickness_m: Number) -> Number:
    """Convection in a closed gap whose heat goes down, as under an underquilt.

    Shapes  broadcast; floats give a float, arrays one value per variant
    Units   m -> W/(m2 K)
    Range   gaps to 0.3 m, 5 K across them or less
    Raises  ValueError for a thickness of 0 or less
    Source  ISO 6946:2017, Annex D (from memory)
    """
    refuse_unless_positive("thickness_m", thickness_m, "m")
    return 0.12 * thickness_m**-0.44


def air_gap_resistance(thickness_m: Number, mean_c: Number, convection_w_m2k: Number) -> Number:
    """Resistance of a gap of air closed all round, between two surfaces of cloth.

    The air conducts, or it turns over where that carries more; and the surfaces radiate at each other.
    What an open edge lets through is not in it.

    Shapes  broadcast; floats give a float, arrays one value per variant
    Units   m, degC, W/(m2 K) by the way the heat goes -> m2 K/W
    Range   gaps of 5 to 300 mm, 5 K across them or less
    Raises  ValueError for a thickness of 0 or less, a negative convection
    Source  ISO 6946:2017, Annex D (from memory)
    """
    refuse_unless_positive("thickness_m", thickness_m, "m")
    refuse_negative("convection_w_m2k", convection_w_m2k, "W/(m2 K)")
    carried = np.maximum(convection_w_m2k, air_conductivity(mean_c) / thickness_m)
    # Between two surfaces of one emissivity e radiation is e / (2 - e) of a black one's.
    exchanged = radiation_coefficient(mean_c) / (2 - CLOTH_EMISSIVITY)
    resistance: Number = 1 / (carried + exchanged)
    return resistance


def curved_path_resistance(
    inner_r_m2k_w: Number,
    thickness_m: Number,
    conductivity_w_mk: Number,
    outer_r_m2k_w: Number,
    radius_m: Number,
) -> Number:
    """Resistance through a layer bent round a body, per area of the body.

    The layer and the outer film are larger than the body they surround, so they hold less per area
    of body than when flat. A radius of infinity is a flat layer.

    Shapes  broadcast; floats give a float, arrays one value per variant
    Units   m2 K/W, m, W/(m K), m2 K/W, m -> m2 K/W
    Range   any thickness; radius round a sleeper about 0.15 to 0.25 m
    Raises  ValueError for a negative resistance or thickness, a conductivity or radius of 0 or less
    Source  steady radial conduction through a cylinder, textbook heat transfer
    """
    refuse_negative("inner_r_m2k_w", inner_r_m2k_w, "m2K/W")
    refuse_negative("thickness_m", thickness_m, "m")
    refuse_unless_positive("conductivity_w_mk", conductivity_w_mk, "W/(m K)")
    refuse_negative("outer_r_m2k_w", outer_r_m2k_w, "m2K/W")
    refuse_unless_positive("radius_m", radius_m, "m")
    narrowing, widening = bent_shares(thickness_m, radius_m)
    return inner_r_m2k_w + thickness_m / conductivity_w_mk * narrowing + outer_r_m2k_w * widening


def bent_shares(thickness_m: Number, radius_m: Number) -> tuple[Number, Number]:
    """What bending a layer round a body leaves of its own resistance, and of that of the film outside it.

    Both are larger than the body that they surround. A radius of infinity is a flat layer.

    Shapes  broadcast; floats give floats, arrays one value per variant
    Units   m, m -> shares (1)
    Raises  ValueError for a negative thickness, a radius of 0 or less
    Source  steady radial conduction through a cylinder, textbook heat transfer
    """
    refuse_negative("thickness_m", thickness_m, "m")
    refuse_unless_positive("radius_m", radius_m, "m")
    # ln(w) / (w - 1) keeps its digits however little w is above 1, as long as both take the same w.
    wider = np.maximum(1 + thickness_m / radius_m, 1 + EPSILON)
    narrowing: Number = np.log(wider) / (wider - 1)
    return narrowing, 1 / wider


def blown_through_conductance(permeability_m_s: Number, wind_m_s: Number) -> Number:
    """Heat that wind carries through a shell into the fill and out again, per area and per kelvin.

    The wind presses on one half of a body and sucks at the other: air enters by the first at the wind's
    own pressure, leaves by the second, and is taken to be warmed most of the way to the inner side.

    Shapes  broadcast; floats give a float, arrays one value per variant
    Units   m/s at 100 Pa, m/s -> W/(m2 K)
    Range   shells much tighter than the fill: up to about 0.1 m/s at 100 Pa
    Raises  ValueError for a negative permeability or wind
    Source  stagnation pressure and Darcy flow (definitions; air permeability: ISO 9237:1995); the shares
            are ours, no source
    """
    refuse_negative("permeability_m_s", permeability_m_s, "m/s")
    refuse_negative("wind_m_s", wind_m_s, "m/s")
    pressure_pa = AIR_DENSITY_KG_M3 * wind_m_s**2 / 2
    entering_m_s = permeability_m_s * pressure_pa / RATED_AT_PA
    blown: Number = AIR_DENSITY_KG_M3 * AIR_HEAT_J_KGK * entering_m_s * WINDWARD_SHARE * WARMED_SHARE
    return blown


def leak_conductance(opening_m2: Number, wind_m_s: Number, covered_m2: Number) -> Number:
    """Heat that air carries past a quilt which does not lie close, per area that it is for and per kelvin.

    Air flows through the opening at its own draught or at half the wind, whichever sums to more, and only
    a small part of it passes over the sleeper.

    Shapes  broadcast; floats give a float, arrays one value per variant
    Units   m2, m/s, m2 -> W/(m2 K)
    Range   openings up to about 0.1 m2
    Raises  ValueError for a negative opening or wind, a covered area of 0 or less
    Source  orifice flow, textbook; the share that passes over the sleeper is set so that daylight at the
            ends costs what makers find (common practice, no source)
    """
    refuse_negative("opening_m2", opening_m2, "m2")
    refuse_negative("wind_m_s", wind_m_s, "m/s")
    refuse_unless_positive("covered_m2", covered_m2, "m2")
    speed_m_s = np.sqrt(DRAUGHT_M_S**2 + (wind_m_s / 2) ** 2)
    flow_m3_s = ORIFICE * opening_m2 * speed_m_s
    leak: Number = AIR_DENSITY_KG_M3 * AIR_HEAT_J_KGK * flow_m3_s * PASSING_SHARE / covered_m2
    return leak
