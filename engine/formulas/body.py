"""At which air temperature a sleeper's heat balances what a quilt, the breath and the skin let go.

Sleeping rates of 40 to 46 W/m2 lie below the scope of ISO 11079 (58 W/m2 and more): the answers
compare quilts and estimate a night, they are no rating by any standard.
"""

from collections.abc import Sequence

import numpy as np

from engine.formulas.refuse import refuse_unless_positive
from engine.formulas.skin import MINIMAL as MINIMAL
from engine.formulas.skin import NEUTRAL as NEUTRAL
from engine.formulas.skin import Criterion as Criterion
from engine.formulas.skin import evaporative_loss as evaporative_loss
from engine.formulas.skin import evaporative_resistance as evaporative_resistance
from engine.formulas.skin import respiratory_loss as respiratory_loss
from engine.formulas.skin import skin_temperature as skin_temperature
from engine.formulas.skin import skin_wettedness as skin_wettedness
from engine.units import HOUR, Number

LARGE_CALORIE_J = 4184.0
HEAD_SHARE = 0.076
"""Share of the body's surface that the head makes up; common practice, no source."""
RATING_POINTS_C = (-45.0, -10.0, 25.0)
"""Air temperatures at which a quilt's conductance is asked for; a parabola serves between them."""
COLDEST_C = -200.0
"""The search for a temperature stops here: far beyond any quilt, inside the vapour curve."""
NEWTON_STEPS = 6
LONGEST_STEP_K = 30.0
SLOPE_STEP_K = 1e-3


def body_area(mass_kg: Number, height_m: Number) -> Number:
    """Surface of a human body.

    Shapes  broadcast; floats give a float, arrays one value per variant
    Units   kg, m -> m2
    Range   adults
    Raises  ValueError for a mass or a height of 0 or less
    Source  formula of DuBois (1916), as in ISO 8996
    """
    refuse_unless_positive("mass_kg", mass_kg, "kg")
    refuse_unless_positive("height_m", height_m, "m")
    return 0.202 * mass_kg**0.425 * height_m**0.725


def basal_rate_woman(mass_kg: Number, height_m: Number, age_years: Number = 25.0) -> Number:
    """Heat of a resting woman, per area of her body.

    Shapes  broadcast; floats give a float, arrays one value per variant
    Units   kg, m, years -> W/m2
    Range   adults; single people lie within about 10 %
    Raises  ValueError for a mass or a height of 0 or less
    Source  equations of Harris and Benedict (1918), from memory
    """
    daily = 655.0955 + 9.5634 * mass_kg + 184.96 * height_m - 4.6756 * age_years
    return daily * LARGE_CALORIE_J / (24 * HOUR) / body_area(mass_kg, height_m)


def basal_rate_man(mass_kg: Number, height_m: Number, age_years: Number = 25.0) -> Number:
    """Heat of a resting man, per area of his body.

    Shapes  broadcast; floats give a float, arrays one value per variant
    Units   kg, m, years -> W/m2
    Range   adults; single people lie within about 10 %
    Raises  ValueError for a mass or a height of 0 or less
    Source  equations of Harris and Benedict (1918), from memory
    """
    daily = 66.4730 + 13.7516 * mass_kg + 500.33 * height_m - 6.7550 * age_years
    return daily * LARGE_CALORIE_J / (24 * HOUR) / body_area(mass_kg, height_m)


STANDARD_WOMAN_KG_M = (60.0, 1.60)
"""The woman, aged 25, whose comfort the sleeping-bag standards rate: EN 13537:2012."""
STANDARD_MAN_KG_M = (73.0, 1.73)
"""The man, aged 25, whose lower limit they rate: EN 13537:2012 (some sources say 70 kg)."""
STANDARD_WOMAN_W_M2 = float(basal_rate_woman(*STANDARD_WOMAN_KG_M))
"""42.1 W/m2. The standards' own rates were not found, so basal rates stand in for them."""
STANDARD_MAN_W_M2 = float(basal_rate_man(*STANDARD_MAN_KG_M))
"""46.0 W/m2."""


def driving_difference(
    air_c: Number,
    surroundings_c: Number,
    metabolic_w_m2: Number,
    criterion: Criterion,
    humidity_percent: Number,
) -> Number:
    """Skin over surroundings in kelvin, plus what the skin's moisture adds: loss per conductance.

    Shapes  broadcast; floats give a float, arrays one value per variant
    Units   degC, degC, W/m2, -, % -> K
    Range   that of ISO 11079; surroundings differ from the air only where walls or sky do
    Raises  ValueError for a rate of 0 or less, a humidity outside 0 to 100
    Source  ISO 11079:2007
    """
    skin_c = skin_temperature(metabolic_w_m2, criterion)
    wettedness = skin_wettedness(metabolic_w_m2, criterion)
    # Dry and moist loss both go with 1/R, so a resistance of 1 m2K/W gives the loss per conductance.
    moist = evaporative_loss(wettedness, skin_c, air_c, humidity_percent, evaporative_resistance(1.0))
    return skin_c - surroundings_c + moist


def heat_deficit(
    air_c: Number,
    metabolic_w_m2: Number,
    criterion: Criterion,
    humidity_percent: Number,
    conductance_w_m2k: Number,
) -> Number:
    """How much more heat leaves a body than it makes: breath, skin moisture and dry loss, less the rate.

    Shapes  broadcast; floats give a float, arrays one value per variant
    Units   degC, W/m2, -, %, W/(m2 K) -> W/m2, above 0 when the body cools
    Range   air from -200 to 40 degC by the equations, 10 degC and colder by the standard
    Raises  ValueError for a rate or conductance of 0 or less, a humidity outside 0 to 100
    Source  ISO 11079:2007
    """
    refuse_unless_positive("conductance_w_m2k", conductance_w_m2k, "W/(m2 K)")
    driving_k = driving_difference(air_c, air_c, metabolic_w_m2, criterion, humidity_percent)
    breath = respiratory_loss(metabolic_w_m2, air_c, humidity_percent)
    return breath + conductance_w_m2k * driving_k - metabolic_w_m2


def required_resistance(
    air_c: Number,
    metabolic_w_m2: Number,
    criterion: Criterion,
    humidity_percent: Number,
    surroundings_c: Number | None = None,
) -> Number:
    """Resistance from skin to air at which the heat deficit is nil; exact, no search is needed.

    Shapes  broadcast; floats give a float, arrays one value per variant
    Units   degC, W/m2, -, %, degC (the air's when left out) -> m2 K/W
    Range   that of ISO 11079; sleepers lie below its rates
    Raises  ValueError for a rate of 0 or less, a humidity outside 0 to 100
    Source  ISO 11079:2007
    """
    around_c = air_c if surroundings_c is None else surroundings_c
    driving_k = driving_difference(air_c, around_c, metabolic_w_m2, criterion, humidity_percent)
    return driving_k / (metabolic_w_m2 - respiratory_loss(metabolic_w_m2, air_c, humidity_percent))


def lowest_air_temperature(
    metabolic_w_m2: Number,
    criterion: Criterion,
    humidity_percent: Number,
    conductance_at_w_m2k: Sequence[Number],
) -> Number:
    """The air temperature at which a covered sleeper just stays in balance.

    Always the same number of Newton steps, so that one design and a sweep get the same answer.

    Shapes  three conductances, at `RATING_POINTS_C`; each may hold one value per variant
    Units   W/m2, -, %, W/(m2 K) per area of body -> degC
    Range   0.3 to 30 W/(m2 K), changing by less than 20 % between points: settled to 1e-9 K, within
            1 mK of an outer point to 1e-5 K. Beyond the outer points the conductance stays level.
            Far below 0.3 W/(m2 K) the answer stops at -200 degC
    Raises  ValueError for a conductance or rate of 0 or less, a humidity outside 0 to 100
    Source  ISO 11079:2007 for the balance; the parabola is ours
    """
    for conductance in conductance_at_w_m2k:
        refuse_unless_positive("conductance_at_w_m2k", conductance, "W/(m2 K)")

    def deficit(air_c: Number) -> Number:
        conductance = _parabola(air_c, conductance_at_w_m2k)
        return heat_deficit(air_c, metabolic_w_m2, criterion, humidity_percent, conductance)

    # The start leaves a tenth of the heat to the breath; what it misses the steps mend.
    middle = conductance_at_w_m2k[1]
    start = skin_temperature(metabolic_w_m2, criterion) - 0.9 * metabolic_w_m2 / middle
    air_c: Number = np.maximum(start, COLDEST_C)
    for _ in range(NEWTON_STEPS):
        excess = deficit(air_c)
        slope = (deficit(air_c + SLOPE_STEP_K) - excess) / SLOPE_STEP_K
        air_c = np.maximum(air_c - np.clip(excess / slope, -LONGEST_STEP_K, LONGEST_STEP_K), COLDEST_C)
    return air_c


def _parabola(air_c: Number, conductance_at_w_m2k: Sequence[Number]) -> Number:
    """The curve through three conductances at the rating points, level beyond the outer two."""
    cold, middle, warm = RATING_POINTS_C
    at_cold, at_middle, at_warm = conductance_at_w_m2k
    t = np.clip(air_c, cold, warm)
    return (
        at_cold * ((t - middle) * (t - warm) / ((cold - middle) * (cold - warm)))
        + at_middle * ((t - cold) * (t - warm) / ((middle - cold) * (middle - warm)))
        + at_warm * ((t - cold) * (t - middle) / ((warm - cold) * (warm - middle)))
    )
