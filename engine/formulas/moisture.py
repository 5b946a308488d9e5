"""Where a night's damp stays: vapour through layers, held down by the saturation pressure at each interface.

One path at a time: interfaces run from the warm side to the cold along the first axis.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from engine.formulas.refuse import refuse_negative, refuse_unless_positive
from engine.formulas.vapour import saturation_pressure
from engine.units import HOUR

AIR_PERMEABILITY_KG_MSPA = 2e-10
"""Water vapour permeability of still air: ISO 13788:2012."""
LARGEST_SLICE_M2K_W = 0.25
"""Layers of more resistance are cut into slices: ISO 13788:2012, clause 6."""


@dataclass(frozen=True)
class Damp:
    """Vapour through a stack of layers. Pressures at interfaces; fluxes in kg/(m2 s)."""

    pressure_pa: NDArray[np.float64]
    saturation_pa: NDArray[np.float64]
    condensing_kg_m2s: NDArray[np.float64]
    flux_in_kg_m2s: float
    flux_out_kg_m2s: float


def interface_temperatures(
    warm_c: float, cold_c: float, resistances_m2k_w: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Temperature at each interface of a stack of layers, the warm and the cold side included.

    Shapes  (n,) layers -> (n + 1,) interfaces
    Units   degC, degC, m2K/W -> degC
    Raises  ValueError for a negative resistance, or a stack without any
    Source  steady heat flow through plane layers, definition
    """
    refuse_negative("resistances_m2k_w", resistances_m2k_w, "m2K/W")
    depth = np.concatenate([[0.0], np.cumsum(resistances_m2k_w)])
    refuse_unless_positive("the sum of resistances_m2k_w", float(depth[-1]), "m2K/W")
    temperatures: NDArray[np.float64] = warm_c - (warm_c - cold_c) * depth / depth[-1]
    return temperatures


def night_damp(
    temperature_c: NDArray[np.float64],
    layer_sd_m: NDArray[np.float64],
    warm_pa: float,
    cold_pa: float,
) -> Damp:
    """Vapour pressures and condensation in a stack of layers, frost below freezing.

    The pressure line is a string pulled taut under the saturation pressures; where it touches, what
    flows in and does not flow out stays.

    Shapes  (n + 1,) interfaces, (n,) layers
    Units   degC, m of still air, Pa, Pa -> Pa and kg/(m2 s)
    Range   steady state; no air moves through or round the layers
    Raises  ValueError for a layer of negative vapour resistance, or a stack without any
    Source  ISO 13788:2012, clause 6 (Glaser's method)
    """
    refuse_negative("layer_sd_m", layer_sd_m, "m")
    depth = np.concatenate([[0.0], np.cumsum(layer_sd_m)])
    refuse_unless_positive("the sum of layer_sd_m", float(depth[-1]), "m")
    saturation = np.asarray(saturation_pressure(temperature_c), dtype=float)
    ceiling = saturation.copy()
    ceiling[0], ceiling[-1] = min(warm_pa, saturation[0]), min(cold_pa, saturation[-1])
    touching = _lower_hull(depth, ceiling)
    pressure = np.interp(depth, depth[touching], ceiling[touching])
    slope = np.diff(ceiling[touching]) / np.diff(depth[touching])
    flux = -AIR_PERMEABILITY_KG_MSPA * slope
    condensing = np.zeros_like(depth)
    condensing[touching[1:-1]] = flux[:-1] - flux[1:]
    return Damp(pressure, saturation, condensing, float(flux[0]), float(flux[-1]))


def _lower_hull(x: NDArray[np.float64], y: NDArray[np.float64]) -> list[int]:
    """Indices of the corners of the lower convex hull, both ends included; of points at one x the lowest."""
    hull: list[int] = []
    for index in range(len(x)):
        if hull and x[index] == x[hull[-1]]:
            if y[index] >= y[hull[-1]] and index != len(x) - 1:
                continue
            hull.pop()
        while len(hull) >= 2:
            before, last = hull[-2], hull[-1]
            turn = (x[last] - x[before]) * (y[index] - y[before]) - (y[last] - y[before]) * (
                x[index] - x[before]
            )
            if turn > 0:
                break
            hull.pop()
        hull.append(index)
    return hull


def mass_a_night(flux_kg_m2s: float, area_m2: float, hours: float) -> float:
    """Mass that a flux carries or leaves behind in a night.

    Units   kg/(m2 s), m2, h -> kg
    Raises  ValueError for a negative area or time
    Source  definition
    """
    refuse_negative("area_m2", area_m2, "m2")
    refuse_negative("hours", hours, "h")
    return flux_kg_m2s * area_m2 * hours * HOUR
