"""How much water vapour air can hold: one curve for condensation, one for the heat balance of a body."""

import numpy as np

from engine.formulas.refuse import refuse_outside
from engine.units import Number


def saturation_pressure(temperature_c: Number) -> Number:
    """Pressure of saturated vapour over water, and over ice below freezing.

    This is the curve for condensation and frost in the layers of a quilt.

    Shapes  broadcast; floats give a float, arrays one value per variant
    Units   degC -> Pa
    Range   within 0.2 % of psychrometric tables from 0 to 40 degC, 0.6 % low at -20, 2 % low at -40
    Raises  ValueError below -200 or above 100 degC
    Source  ISO 13788:2012, Annex E (formulas from memory)
    """
    refuse_outside("temperature_c", temperature_c, -200.0, 100.0, "degC")
    # Each branch is kept on its own side, where its denominator cannot vanish.
    above, below = np.maximum(temperature_c, 0.0), np.minimum(temperature_c, 0.0)
    water = 17.269 * above / (237.3 + above)
    ice = 21.875 * below / (265.5 + below)
    pressure: Number = 610.5 * np.exp(np.where(np.asarray(temperature_c) >= 0.0, water, ice))
    return pressure


def saturation_pressure_over_water(temperature_c: Number) -> Number:
    """Pressure of saturated vapour over liquid water, at any temperature.

    Only for the heat balance of a body, whose equations were fitted with it. Over ice it is 20 %
    high at -20 degC and 41 % at -40: never use it for condensation or frost.

    Shapes  broadcast; floats give a float, arrays one value per variant
    Units   degC -> Pa
    Range   within 0.4 % of psychrometric tables from 0 to 40 degC; rises smoothly from -200 degC on
    Raises  ValueError below -200 or above 100 degC
    Source  ISO 7730:2005, program of Annex D; ISO 11079:2007 prints the same curve in other units
    """
    refuse_outside("temperature_c", temperature_c, -200.0, 100.0, "degC")
    pressure: Number = 1e3 * np.exp(16.6536 - 4030.183 / (temperature_c + 235.0))
    return pressure
