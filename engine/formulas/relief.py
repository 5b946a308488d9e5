"""How far may the shells bulge, and how thick does the fill make the quilt?

Thickness is base + a * bulge field: the base stands at the baffles' height, the amplitude a (1/m) grows
with the fill until the cut of the shells allows no more. The integrals come from a loft map.
"""

import numpy as np

from engine.formulas.refuse import refuse_negative, refuse_outside, refuse_unless_positive
from engine.units import Number

FINITE_SLOPE = 0.9
"""Share of the excess by which small slopes fall short; see cloth_demand."""
FILL_STATES = ("slack", "natural", "tight")


def cloth_demand(excess: Number) -> Number:
    """Excess that small slopes would need in place of the true one: excess (1 + 0.9 excess).

    Cloth that rises at slope s is longer by sqrt(1 + s2) - 1, and small slopes say s2 / 2. For a
    parabola over a channel the factor brings the area under it to within 0.2 % of the circular arc's
    up to an excess of 0.10, 0.6 % at 0.20 and 1.2 % at 0.30; its peak is high by 1.5, 2.9 and 5.6 % at
    0.05, 0.10 and 0.20.

    Units   dimensionless (0.05: the shell is 5 % larger than its plan)
    Raises  ValueError for a negative excess
    Source  own fit to the exact arc
    """
    refuse_negative("excess", excess, "")
    return excess * (1 + FINITE_SLOPE * excess)


def excess_needed(
    base_energy_m2: Number, bulge_m4: Number, amplitude_per_m: Number, area_m2: Number, face_share: Number
) -> Number:
    """Cloth that one face needs beyond its plan, per plan area, to take its share of the relief.

    Units   m2 (integral of the base's gradient squared), m4, 1/m, m2, share of the thickness that this
            face takes (1/2 for two free faces, 1 where the other lies smooth on a body) -> dimensionless
    Raises  ValueError for an area of zero or a share outside 0 to 1
    Source  definition (area of a graph), with the integral identity of Green for harmonic base and bulge
    """
    refuse_unless_positive("area_m2", area_m2, "m2")
    refuse_outside("face_share", face_share, 0.0, 1.0, "")
    demand = face_share**2 * (base_energy_m2 + amplitude_per_m**2 * bulge_m4) / (2 * area_m2)
    return (np.sqrt(1 + 4 * FINITE_SLOPE * demand) - 1) / (2 * FINITE_SLOPE)


def largest_amplitude(
    excess: Number, base_energy_m2: Number, bulge_m4: Number, area_m2: Number, face_share: Number
) -> Number:
    """Amplitude at which a face has used up its cut; 0 where the cut does not even let the baffles stand.

    Units   dimensionless, m2, m4, m2, share as in excess_needed -> 1/m
    Range   accuracy as in cloth_demand
    Raises  ValueError for a negative excess, an area or bulge of zero, or a share outside 0 to 1 (0 too)
    Source  definition, see excess_needed
    """
    refuse_unless_positive("bulge_m4", bulge_m4, "m4")
    refuse_unless_positive("area_m2", area_m2, "m2")
    refuse_unless_positive("face_share", face_share, "")
    refuse_outside("face_share", face_share, 0.0, 1.0, "")
    left = 2 * area_m2 * cloth_demand(excess) / face_share**2 - base_energy_m2
    amplitude: Number = np.sqrt(np.maximum(left, 0.0) / bulge_m4)
    return amplitude


def cut_excess(
    cut_wrap_rad: Number, height_m: Number, use_wrap_rad: Number, mean_thickness_m: Number, width_m: Number
) -> Number:
    """Surplus of an outer shell cut for one wrap and used at another, per width; negative where it is taut.

    On the bench (no wrap in use) all of the differential cut goes into the bulge.

    Units   rad, m, rad, m, m -> dimensionless
    Raises  ValueError for a width of zero
    Source  arc lengths of concentric circles (definition)
    """
    refuse_unless_positive("width_m", width_m, "m")
    return (cut_wrap_rad * height_m - use_wrap_rad * mean_thickness_m) / width_m


def wrapped_volume_factor(mean_thickness_m: Number, wrap_rad: Number, width_m: Number) -> Number:
    """By what a layer over an inner face holds more when wrapped round: 1 + t / 2r, r = width / wrap.

    Units   m, rad, m -> dimensionless
    Raises  ValueError for a width of zero
    Source  area of an annulus (definition)
    """
    refuse_unless_positive("width_m", width_m, "m")
    return 1 + mean_thickness_m * wrap_rad / (2 * width_m)


def tension_amplitude(pressure_pa: Number, tension_n_m: Number) -> Number:
    """Amplitude at which two shells under a pull stand against the push of the fill: 2 p / T.

    Units   Pa, N/m (in each shell) -> 1/m
    Raises  ValueError for a tension of zero
    Source  Young-Laplace equation at small slopes, both faces together
    """
    refuse_unless_positive("tension_n_m", tension_n_m, "N/m")
    return 2 * pressure_pa / tension_n_m


def standing_share(fill_m3: Number, base_m3: Number) -> Number:
    """Share of its full height at which the base stands: below 1 the fill is slack and free to drift.

    Units   m3 (mass times fill power), m3 -> dimensionless, 0 to 1
    Raises  ValueError for a negative fill or base
    Source  definition
    """
    refuse_negative("fill_m3", fill_m3, "m3")
    refuse_negative("base_m3", base_m3, "m3")
    return np.where(fill_m3 < base_m3, fill_m3 / np.maximum(base_m3, 1e-300), 1.0)


def settled_amplitude(fill_m3: Number, base_m3: Number, bulge_m4: Number, largest_per_m: Number) -> Number:
    """Amplitude at which the quilt holds the volume that the fill wants, as far as the cut allows.

    Units   m3, m3, m4, 1/m -> 1/m
    Raises  ValueError for a negative fill or a bulge of zero
    Source  definition
    """
    refuse_negative("fill_m3", fill_m3, "m3")
    refuse_unless_positive("bulge_m4", bulge_m4, "m4")
    return np.clip((fill_m3 - base_m3) / bulge_m4, 0.0, largest_per_m)


def held_volume(fill_m3: Number, base_m3: Number, bulge_m4: Number, largest_per_m: Number) -> Number:
    """Volume that the filled quilt takes: what the fill wants, or all that the cut allows.

    Mass over this is the density; what the fill wants over this is how tight it is, 1 or more.

    Units   m3, m3, m4, 1/m -> m3
    Raises  ValueError for a negative fill
    Source  definition
    """
    refuse_negative("fill_m3", fill_m3, "m3")
    return np.minimum(fill_m3, base_m3 + largest_per_m * bulge_m4)


def fill_state(fill_m3: Number, base_m3: Number, bulge_m4: Number, largest_per_m: Number) -> Number:
    """0 slack, 1 natural, 2 tight: the index into FILL_STATES.

    Units   m3, m3, m4, 1/m -> dimensionless
    Raises  ValueError for a negative fill
    Source  definition
    """
    refuse_negative("fill_m3", fill_m3, "m3")
    return np.where(fill_m3 < base_m3, 0.0, np.where(fill_m3 <= base_m3 + largest_per_m * bulge_m4, 1.0, 2.0))


def thickness_means(coefficients: Number, means: Number) -> Number:
    """Mean thickness of each bin of a loft map.

    Shapes  (4,) or (4, n): heights of baffles, end panels and edge walls, then the amplitude; means
            (bins, 4) -> (bins,) or (bins, n)
    Units   m, m, m, 1/m and dimensionless, m2 -> m
    Source  definition
    """
    thickness: Number = np.asarray(means) @ np.asarray(coefficients)
    return thickness


def thickness_variances(coefficients: Number, covariances: Number) -> Number:
    """Variance of the thickness within each bin of a loft map.

    Shapes  (4,) or (4, n) as thickness_means; covariances (bins, 4, 4) -> (bins,) or (bins, n)
    Source  definition (variance of a weighted sum)
    """
    variance: Number = np.einsum("i...,bij,j...->b...", coefficients, covariances, coefficients)
    return variance


def mean_with_spread(value: Number, second_derivative: Number, variance: Number, share: Number) -> Number:
    """Mean of a smooth function of thickness over all bins: each bin's value, plus f'' variance / 2.

    Shapes  (bins,) or (bins, n) each; share (bins,) sums to 1 -> float or (n,)
    Source  Taylor series to second order
    """
    mean: Number = np.tensordot(share, value + second_derivative * variance / 2, axes=1)
    return mean
