"""What a number may be, and the factors between SI and the units of the trade.

Multiply by a factor to enter SI, divide by it to leave.
"""

from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

Number: TypeAlias = float | NDArray[np.float64]
"""One value, or one value per variant: every formula takes both."""

MM = 1e-3
INCH = 0.0254
YARD = 0.9144
GRAM = 1e-3
OUNCE = 0.45359237 / 16
GSM = 1e-3
OUNCE_PER_SQUARE_YARD = OUNCE / YARD**2
CUBIC_INCH_PER_OUNCE = INCH**3 / OUNCE
LITRE = 1e-3
MILLILITRE = 1e-6
MINUTE = 60.0
HOUR = 3600.0
CLO = 0.155
TOG = 0.1
KELVIN_OFFSET = 273.15
KELVIN_PER_FAHRENHEIT = 1 / 1.8
FAHRENHEIT_AT_0_C = 32.0
CUBIC_FOOT_PER_MINUTE_PER_SQUARE_FOOT = 0.3048 / MINUTE
NEWTON_PER_25_MM = 1 / 0.025
STANDARD_GRAVITY_M_S2 = 9.80665
POUND_FORCE_PER_INCH = 16 * OUNCE * STANDARD_GRAVITY_M_S2 / INCH


def fahrenheit(temperature_c: Number) -> Number:
    """Degrees Celsius as degrees Fahrenheit.

    Units   degC -> degF
    Source  definition
    """
    return temperature_c / KELVIN_PER_FAHRENHEIT + FAHRENHEIT_AT_0_C


def celsius(temperature_f: Number) -> Number:
    """Degrees Fahrenheit as degrees Celsius.

    Units   degF -> degC
    Source  definition
    """
    return (temperature_f - FAHRENHEIT_AT_0_C) * KELVIN_PER_FAHRENHEIT
