"""What the loft map says of a layout, as numbers that stack: volumes, cloth, and how thickness is spread
over the body. Heights, fill and cut come later, so a sweep over them needs no new map.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from engine.units import Number


@dataclass(frozen=True)
class Plan:
    """Integrals of a loft map per plan area, and its bins over the sleeper.

    Thickness is heights . base + amplitude * bulge.
    """

    length_m: Number
    width_m: Number
    base: NDArray[np.float64]
    """(3,) mean base field of baffles, end panels, edge walls."""
    bulge_m2: Number
    """Mean bulge field."""
    peak_m2: Number
    """Largest bulge field."""
    cloth: NDArray[np.float64]
    """(3, 3) mean products of the base fields' slopes, 1/m2: what the base itself costs of cloth, twice."""
    means: NDArray[np.float64]
    """(32, 4) means of the fields in bins of what lies on the sleeper."""
    covariances: NDArray[np.float64]
    """(32, 4, 4)"""
    slopes: NDArray[np.float64]
    """(32, 4, 4) mean products of the fields' slopes, 1/m2."""
    on_body: NDArray[np.float64]
    """(32,) share of each bin in what lies on the sleeper, away from the edges."""
    at_edge: NDArray[np.float64]
    """(32,) the same near the edges; both sum to 1 together."""
    coarse: Number = 0.0
    """1 where some chamber is too narrow for the accuracy of the loft map."""
