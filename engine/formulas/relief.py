"""How far may the shells bulge, and how thick does the fill make the quilt?

Thickness is base + a * bulge field: the base stands at the baffles' height, the amplitude a (1/m) grows
with the fill until the cut of the shells allows no more. The integrals come from a loft map.
"""

from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from engine.formulas.refuse import refuse_negative, refuse_unless_positive
from engine.units import Number

Array: TypeAlias = NDArray[np.float64]

FINITE_SLOPE = 0.9
"""Share of the excess by which small slopes fall short; see cloth_demand."""


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


def shared_relief(inner_excess: Number, outer_excess: Number) -> Number:
    """Relief that two faces can take between them when each may use up its cut.

    Relief is half the mean square of the thickness' slope; a face that takes the share s of the thickness
    needs cloth for s2 of it.

    Units   dimensionless (0.05: a shell 5 % larger than its plan) -> dimensionless
    Raises  ValueError for a negative excess
    Source  definition (area of a graph), see cloth_demand
    """
    return (np.sqrt(cloth_demand(inner_excess)) + np.sqrt(cloth_demand(outer_excess))) ** 2


def excess_for_relief(relief: Number, surplus: Number, excess: Number) -> Number:
    """By how much both faces must draw in so that they can take a relief, one being larger by a surplus.

    One step of a fixed point: call it again with what it returned, starting from 0. Each call leaves less
    than the surplus of the error, so five calls settle an outer shell 5 % larger to 1e-7.

    Units   dimensionless -> dimensionless
    Raises  ValueError for a negative relief, surplus or excess
    Source  definition, inverse of shared_relief
    """
    refuse_negative("relief", relief, "")
    refuse_negative("excess", excess, "")
    longer = cloth_demand(surplus) + 2 * FINITE_SLOPE * excess * surplus
    root = np.sqrt(np.maximum(relief, 1e-300))
    demand = (np.maximum(relief - longer, 0.0) / (2 * root)) ** 2
    drawn: Number = (np.sqrt(1 + 4 * FINITE_SLOPE * demand) - 1) / (2 * FINITE_SLOPE)
    return drawn


def outer_share(inner_excess: Number, outer_excess: Number) -> Number:
    """Share of the thickness that the outer face takes: 1/2 for faces cut alike, more where it is larger.

    Units   dimensionless -> dimensionless, 1/2 where neither has any excess
    Raises  ValueError for a negative excess
    Source  definition: each face uses up its cut
    """
    inner, outer = np.sqrt(cloth_demand(inner_excess)), np.sqrt(cloth_demand(outer_excess))
    both = inner + outer
    share: Number = np.where(both > 0, outer / np.where(both > 0, both, 1.0), 0.5)
    return share


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


def thickness_means(coefficients: Array, means: Array) -> Number:
    """Mean thickness of each bin of a loft map.

    Shapes  (4,) or (4, n): heights of baffles, end panels and edge walls, then the amplitude; means
            (bins, 4) or (bins, 4, n) -> (bins,) or (bins, n)
    Units   m, m, m, 1/m and dimensionless, m2 -> m
    Source  definition
    """
    if np.ndim(means) == 2:
        shared: Number = means @ coefficients
        return shared
    thickness: Number = np.einsum("bi...,i...->b...", means, coefficients)
    return thickness


def thickness_products(coefficients: Array, products: Array) -> Number:
    """Variance of the thickness within each bin, from covariances; or its mean square slope, from slopes.

    Shapes  (4,) or (4, n) as thickness_means; products (bins, 4, 4) or (bins, 4, 4, n) -> (bins,) or
            (bins, n)
    Source  definition (variance of a weighted sum)
    """
    if np.ndim(products) == 3:
        # One layout for all variants: its products times those of the coefficients, each pair once.
        first, second = np.triu_indices(len(coefficients))
        twice = np.where(first == second, 1.0, 2.0)
        shared: Number = (products[:, first, second] * twice) @ (coefficients[first] * coefficients[second])
        return shared
    half = np.einsum("bij...,j...->bi...", products, coefficients)
    variance: Number = np.einsum("bi...,i...->b...", half, coefficients)
    return variance


def two_places(mean: Number, variance: Number) -> NDArray[np.float64]:
    """Two thicknesses that stand for a bin in any smooth mean: one spread below its mean and one above.

    Exact for a mean of squares; f at both, halved, is f(mean) + f'' variance / 2 to the third order.

    Shapes  (bins,) or (bins, n) each -> (2 bins,) or (2 bins, n), all lower ones first
    Units   m, m2 -> m, not below 0
    Source  Gauss quadrature of two points
    """
    spread = np.sqrt(np.maximum(variance, 0.0))
    places: NDArray[np.float64] = np.concatenate([mean - spread, mean + spread])
    return np.maximum(places, 0.0, out=places)
