"""What skin and breath let go of in the cold, and how warm the skin of a sleeper is who feels well."""

from dataclasses import dataclass

from engine.formulas.refuse import refuse_outside, refuse_unless_positive
from engine.formulas.vapour import saturation_pressure_over_water
from engine.units import Number

VAPOUR_PA_PER_K = 60.0 / 0.38
"""Evaporative over dry resistance of clothing, permeability index 0.38: ISO 11079:2007."""


@dataclass(frozen=True)
class Criterion:
    """How a sleeper feels: skin temperature and skin wettedness as straight lines over metabolic rate."""

    name: str
    skin_c: float
    skin_c_per_w_m2: float
    wettedness: float
    wettedness_per_w_m2: float


NEUTRAL = Criterion("neutral", 35.7, -0.0285, 0.0, 0.001)
"""Neither warm nor cool: ISO 11079:2007, criterion of IREQ neutral."""
MINIMAL = Criterion("minimal", 33.34, -0.0354, 0.06, 0.0)
"""Cool, but in balance: ISO 11079:2007, criterion of IREQ min."""


def skin_temperature(metabolic_w_m2: Number, criterion: Criterion) -> Number:
    """Mean skin temperature at which a person feels as the criterion says.

    Shapes  broadcast; floats give a float, arrays one value per variant
    Units   W/m2 -> degC
    Range   58 to 175 W/m2 in the standard; sleepers lie below
    Raises  ValueError for a rate of 0 or less
    Source  ISO 11079:2007
    """
    refuse_unless_positive("metabolic_w_m2", metabolic_w_m2, "W/m2")
    return criterion.skin_c + criterion.skin_c_per_w_m2 * metabolic_w_m2


def skin_wettedness(metabolic_w_m2: Number, criterion: Criterion) -> Number:
    """Share of the skin that is wet when a person feels as the criterion says.

    Shapes  broadcast; floats give a float, arrays one value per variant
    Units   W/m2 -> share (1)
    Range   58 to 175 W/m2 in the standard; sleepers lie below
    Raises  ValueError for a rate of 0 or less
    Source  ISO 11079:2007
    """
    refuse_unless_positive("metabolic_w_m2", metabolic_w_m2, "W/m2")
    return criterion.wettedness + criterion.wettedness_per_w_m2 * metabolic_w_m2


def exhaled_temperature(air_c: Number) -> Number:
    """Temperature of the breath that leaves, which is cooler on a cold night.

    Shapes  broadcast; floats give a float, arrays one value per variant
    Units   degC -> degC
    Range   air below 30 degC
    Source  ISO 11079:2007
    """
    return 29.0 + 0.2 * air_c


def vapour_pressure(air_c: Number, humidity_percent: Number) -> Number:
    """Pressure of the vapour in air, humidity taken over liquid water also in frost.

    Shapes  broadcast; floats give a float, arrays one value per variant
    Units   degC, % -> Pa
    Range   for the heat balance of a body only, not for frost or condensation
    Raises  ValueError for a humidity below 0 or above 100
    Source  definition
    """
    refuse_outside("humidity_percent", humidity_percent, 0.0, 100.0, "%")
    return humidity_percent / 100 * saturation_pressure_over_water(air_c)


def respiratory_loss(metabolic_w_m2: Number, air_c: Number, humidity_percent: Number) -> Number:
    """Heat that leaves with the breath, warmth and vapour together, per area of the body.

    Shapes  broadcast; floats give a float, arrays one value per variant
    Units   W/m2, degC, % -> W/m2
    Range   air of 10 degC and colder, breathing that air; a face under the quilt loses less
    Raises  ValueError for a humidity below 0 or above 100
    Source  ISO 11079:2007
    """
    exhaled_c = exhaled_temperature(air_c)
    vapour = saturation_pressure_over_water(exhaled_c) - vapour_pressure(air_c, humidity_percent)
    return metabolic_w_m2 * (1.73e-5 * vapour + 0.0014 * (exhaled_c - air_c))


def respiratory_loss_iso7730(metabolic_w_m2: Number, air_c: Number, humidity_percent: Number) -> Number:
    """Heat that leaves with the breath, by the rule for rooms: breath leaves at 34 degC.

    For comparison only: it exceeds `respiratory_loss` by a third at 0 degC, by 58 % at -40 degC.

    Shapes  broadcast; floats give a float, arrays one value per variant
    Units   W/m2, degC, % -> W/m2
    Range   10 to 30 degC
    Raises  ValueError for a humidity below 0 or above 100
    Source  ISO 7730:2005
    """
    vapour = 5867.0 - vapour_pressure(air_c, humidity_percent)
    return metabolic_w_m2 * (1.7e-5 * vapour + 0.0014 * (34.0 - air_c))


def evaporative_resistance(total_r_m2k_w: Number) -> Number:
    """Resistance to vapour of all that lies between skin and air, from its resistance to heat.

    Shapes  broadcast; floats give a float, arrays one value per variant
    Units   m2 K/W -> m2 Pa/W
    Range   permeable clothing (index 0.38); an airtight layer lets less through
    Raises  ValueError for a resistance of 0 or less
    Source  ISO 11079:2007
    """
    refuse_unless_positive("total_r_m2k_w", total_r_m2k_w, "m2K/W")
    return VAPOUR_PA_PER_K * total_r_m2k_w


def evaporative_loss(
    wettedness: Number, skin_c: Number, air_c: Number, humidity_percent: Number, resistance_m2pa_w: Number
) -> Number:
    """Heat that leaves with the moisture of the skin, per area of the body.

    Shapes  broadcast; floats give a float, arrays one value per variant
    Units   share (1), degC, degC, %, m2 Pa/W -> W/m2
    Range   about a quarter of what a resting skin gives off by other sources: never add the two
    Raises  ValueError for a humidity below 0 or above 100
    Source  ISO 11079:2007
    """
    difference = saturation_pressure_over_water(skin_c) - vapour_pressure(air_c, humidity_percent)
    return wettedness * difference / resistance_m2pa_w
