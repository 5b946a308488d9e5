"""How warm would a group call a room? The index of ISO 7730, kept only to check what we share with it.

Breath and the vapour curve are the ones of our heat balance. Clothing, sweat and radiation are that
standard's own: no quilt is rated with them.
"""

from math import exp, sqrt

from engine.formulas.skin import respiratory_loss_iso7730, vapour_pressure
from engine.units import CLO

MET_W_M2 = 58.15
ZERO_K = 273.0
"""Of the melting point, as this standard rounds it."""
HALVINGS = 50


def predicted_vote(
    air_c: float, radiant_c: float, wind_m_s: float, humidity_percent: float, met: float, clo: float
) -> float:
    """Predicted mean vote: -3 cold, 0 neither, +3 hot; no work is done.

    Units   degC, degC, m/s, %, met, clo -> vote (1)
    Range   rooms: 10 to 30 degC, 0.8 to 4 met, up to 2 clo
    Raises  ValueError for a humidity outside 0 to 100
    Source  ISO 7730:2005, clause 4.1 (formulas from memory)
    """
    made, clothing = met * MET_W_M2, clo * CLO
    larger = 1 + 1.29 * clothing if clothing <= 0.078 else 1.05 + 0.645 * clothing

    def lost_dry(surface_c: float) -> float:
        radiated = (surface_c + ZERO_K) ** 4 - (radiant_c + ZERO_K) ** 4
        convection = max(2.38 * abs(surface_c - air_c) ** 0.25, 12.1 * sqrt(wind_m_s))
        return float(larger * (3.96e-8 * radiated + convection * (surface_c - air_c)))

    # The surface of the clothing lies where as much heat comes through as goes off.
    low, high = min(air_c, radiant_c) - 10, 45.0
    for _ in range(HALVINGS):
        surface = (low + high) / 2
        too_warm = surface > 35.7 - 0.028 * made - clothing * lost_dry(surface)
        low, high = (low, surface) if too_warm else (surface, high)
    vapour_pa = float(vapour_pressure(air_c, humidity_percent))
    skin = 3.05e-3 * (5733 - 6.99 * made - vapour_pa) + max(0.42 * (made - MET_W_M2), 0.0)
    breath = float(respiratory_loss_iso7730(made, air_c, humidity_percent))
    surplus = made - skin - breath - lost_dry((low + high) / 2)
    return (0.303 * exp(-0.036 * made) + 0.028) * surplus
