"""How much clothing ISO 11079 asks for: the published side of the balance that also serves sleepers."""

import numpy as np

from engine.formulas.body import required_resistance, skin_temperature
from engine.formulas.heat import STEFAN_BOLTZMANN_W_M2K4, air_layer_resistance
from engine.formulas.refuse import refuse_unless_positive
from engine.formulas.skin import Criterion
from engine.units import KELVIN_OFFSET, Number

RADIATING = 0.97 * 0.77
"""Emissivity of clothing times the radiating share of a standing body: ISO 11079:2007."""
AREA_PER_M2K_W = 1.97
"""Growth of the clothed area with insulation: ISO 11079:2007."""


def clothing_area_factor(insulation_m2k_w: Number) -> Number:
    """Clothed over naked area.

    Shapes  broadcast; floats give a float, arrays one value per variant
    Units   m2 K/W -> ratio (1)
    Range   garments, up to about 4 clo
    Source  ISO 11079:2007
    """
    return 1 + AREA_PER_M2K_W * insulation_m2k_w


def required_clothing_insulation(
    air_c: Number,
    radiant_c: Number,
    wind_m_s: Number,
    walking_m_s: Number,
    metabolic_w_m2: Number,
    humidity_percent: Number,
    criterion: Criterion,
) -> Number:
    """Insulation of clothing in use that keeps a person in balance (IREQ), without the air layer.

    Shapes  broadcast; floats give a float, arrays one value per variant
    Units   degC, degC, m/s, m/s, W/m2, %, - -> m2 K/W
    Range   58 to 175 W/m2, air of 10 degC and colder, wind 0.4 to 18 m/s
    Raises  ValueError for a rate of 0 or less, a negative wind, a humidity outside 0 to 100
    Source  ISO 11079:2007
    """
    layer = air_layer_resistance(wind_m_s, walking_m_s)
    skin_c = skin_temperature(metabolic_w_m2, criterion)
    surface_c: Number = air_c
    insulation: Number = 0.0
    # The surface sets the radiation, the radiation the surface: settled to 1e-6 m2K/W in eight rounds.
    for _ in range(8):
        radiation = _radiation_coefficient(surface_c, radiant_c)
        # What is felt: the air, shifted towards the walls by the share of heat that goes by radiation.
        felt_c = air_c + radiation * layer * (radiant_c - air_c)
        total = required_resistance(air_c, metabolic_w_m2, criterion, humidity_percent, felt_c)
        insulation = _without_air_layer(total, layer)
        surface_c = skin_c - (skin_c - felt_c) * insulation / total
    return insulation


def required_basic_insulation(
    required_m2k_w: Number, wind_m_s: Number, walking_m_s: Number, permeability_l_m2s: Number
) -> Number:
    """Insulation as measured in still air (ICL) that gives the required one in wind and walking.

    Shapes  broadcast; floats give a float, arrays one value per variant
    Units   m2 K/W, m/s, m/s, L/(m2 s) -> m2 K/W
    Range   permeability 1 to 1000 L/(m2 s), wind 0.4 to 18 m/s, walking to 1.2 m/s
    Raises  ValueError for a permeability of 0 or less, a negative wind
    Source  ISO 11079:2007
    """
    refuse_unless_positive("permeability_l_m2s", permeability_l_m2s, "L/(m2 s)")
    area = clothing_area_factor(required_m2k_w)
    pumping = 0.54 * permeability_l_m2s**0.075 * np.exp(-0.15 * wind_m_s - 0.22 * walking_m_s)
    kept = pumping - 0.06 * np.log(permeability_l_m2s) + 0.5
    layer = air_layer_resistance(wind_m_s, walking_m_s)
    basic: Number = (required_m2k_w + layer / area) / kept - 0.085 / area
    return basic


def _radiation_coefficient(surface_c: Number, radiant_c: Number) -> Number:
    """Radiation per kelvin between clothing and its surroundings, W/(m2 K)."""
    surface, radiant = surface_c + KELVIN_OFFSET, radiant_c + KELVIN_OFFSET
    return RADIATING * STEFAN_BOLTZMANN_W_M2K4 * (surface**2 + radiant**2) * (surface + radiant)


def _without_air_layer(total_m2k_w: Number, layer_m2k_w: Number) -> Number:
    """The insulation x in total = x + layer / (1 + 1.97 x), the larger root."""
    a, b, c = AREA_PER_M2K_W, 1 - AREA_PER_M2K_W * total_m2k_w, layer_m2k_w - total_m2k_w
    insulation: Number = (np.sqrt(b**2 - 4 * a * c) - b) / (2 * a)
    return insulation
