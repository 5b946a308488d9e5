"""How long can a body go on losing more heat than it makes?"""

import numpy as np

from engine.formulas.refuse import refuse_negative
from engine.units import Number

ALLOWED_DEBT_WH_M2 = 40.0
"""144 kJ/m2: the heat debt at which an exposure to cold ends, ISO 11079:2007."""


def heat_debt(deficit_w_m2: Number, hours: Number) -> Number:
    """Heat that a body has lost beyond what it has made; nothing is owed where heat is to spare.

    Shapes  broadcast; floats give a float, arrays one value per variant
    Units   W/m2, h -> W h/m2
    Range   a steady deficit: nobody shivers, moves or gets up
    Raises  ValueError for negative hours
    Source  definition, as in ISO 11079:2007
    """
    refuse_negative("hours", hours, "h")
    debt: Number = np.maximum(deficit_w_m2, 0.0) * hours
    return debt


def limited_exposure_hours(deficit_w_m2: Number) -> Number:
    """Hours until the heat debt is all that is allowed; infinite where heat is to spare.

    Shapes  broadcast; floats give a float, arrays one value per variant
    Units   W/m2 -> h
    Range   that of ISO 11079, whose rates begin at 58 W/m2; sleepers lie below
    Source  ISO 11079:2007, duration limited exposure
    """
    lost = np.maximum(deficit_w_m2, 0.0)
    hours: Number = np.where(lost > 0, ALLOWED_DEBT_WH_M2 / np.where(lost > 0, lost, 1.0), np.inf)
    return hours
