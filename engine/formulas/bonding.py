"""What pulls at a joint and what a joint holds: pressures, widths, coupons and weights."""

import numpy as np

from engine.formulas.packing import TEST_PRESSURE_PA
from engine.formulas.refuse import refuse_negative, refuse_unless_positive
from engine.units import STANDARD_GRAVITY_M_S2, Number

CREEP_SAFE_SHARE = 0.10
"""Of what tape or sealant holds for minutes, what it holds for years (common practice, no source)."""


def peel_from_coupon(width_m: Number, mass_kg: Number) -> Number:
    """Peel strength of a strip that a hung weight just does not open.

    Force over width, whatever the angle: two limp legs pulled apart make a T (ASTM D1876), one leg folded
    back along a stiff plate makes 180 degrees (ASTM D3330). The mass is all that hangs, clip included.

    Units   m, kg -> N/m
    Raises  ValueError for a strip without width or a negative mass
    Source  ASTM D1876 and D3330, definitions only, from memory; standard gravity: ISO 80000-3:2019
    """
    refuse_unless_positive("width_m", width_m, "m")
    refuse_negative("mass_kg", mass_kg, "kg")
    return mass_kg * STANDARD_GRAVITY_M_S2 / width_m


def coupon_mass(peel_n_m: Number, width_m: Number) -> Number:
    """The weight that a strip of this peel strength holds: what to have on the table for a coupon.

    Units   N/m, m -> kg
    Raises  ValueError for a strip without width or a negative strength
    Source  the other way round of `peel_from_coupon`
    """
    refuse_negative("peel_n_m", peel_n_m, "N/m")
    refuse_unless_positive("width_m", width_m, "m")
    return peel_n_m * width_m / STANDARD_GRAVITY_M_S2


def lofting_pressure(tightness: Number, exponent: Number) -> Number:
    """What a fill presses its shells with: that of the fill-power test at its own loft, more when denser.

    Units   density over that at fill power, power of pressure over density -> Pa
    Range   up to what a hand stuffs with; down at its own loft presses less than in the test
    Raises  ValueError for a negative tightness
    Source  the power law of engine.formulas.packing, read the other way round
    """
    refuse_negative("tightness", tightness, "")
    return TEST_PRESSURE_PA * tightness**exponent


def short_baffle_width(area_m2: Number, baffles_m: Number) -> Number:
    """Width of quilt that a metre of short baffles holds together: the area of each over its length.

    Units   m2 of quilt, m of baffle in all -> m
    Raises  ValueError without baffles
    Source  definition (statics)
    """
    refuse_unless_positive("baffles_m", baffles_m, "m")
    return area_m2 / baffles_m


def edge_pull(pressure_pa: Number, chamber_m: Number) -> Number:
    """What opens a metre of edge when the chamber beside it is pressed: half of the chamber hangs on it.

    Units   Pa, m -> N/m
    Range   the most along the edge: a chamber that ends there pulls less towards its sides
    Raises  ValueError for a negative pressure or width
    Source  definition (statics)
    """
    refuse_negative("pressure_pa", pressure_pa, "Pa")
    refuse_negative("chamber_m", chamber_m, "m")
    return pressure_pa * chamber_m / 2


def shell_tension(pressure_pa: Number, chord_m: Number, rise_m: Number) -> Number:
    """Pull along a shell that stands as an arc under pressure: pressure times radius.

    Units   Pa, m (between baffles), m (of one shell over its chord) -> N/m
    Raises  ValueError for an arc without rise
    Source  definition (thin cylinder; radius of an arc from chord and rise)
    """
    refuse_negative("pressure_pa", pressure_pa, "Pa")
    refuse_unless_positive("rise_m", rise_m, "m")
    radius_m = chord_m**2 / (8 * rise_m) + rise_m / 2
    return pressure_pa * radius_m


def margin(capacity: Number, load: Number) -> Number:
    """How many times a joint holds its load; infinite where nothing pulls.

    Units   the same for both -> dimensionless
    Raises  ValueError for a negative capacity or load
    Source  definition
    """
    refuse_negative("capacity", capacity, "")
    refuse_negative("load", load, "")
    pulled = np.asarray(load) > 0
    return np.where(pulled, capacity / np.where(pulled, load, 1.0), np.inf)
