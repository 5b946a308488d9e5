"""Which part of a quilt lies on the sleeper, and what of its loft map is there."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from engine.design import Design
from engine.fields.loft_bins import Bins, Samples, bins_of
from engine.fields.loft_map import LoftMap
from engine.formulas import cover
from engine.quantities.plan import Plan
from engine.quantities.plan_map import Layout, layout_of, solved

PLANS_KEPT = 512
"""Layouts kept as numbers: a comparison of six, its undo history, and sweeps over layouts."""
EDGE_ZONE_M = 0.10
"""Thin places within this of the outline are named the edge's, those further in the baffles' and seams'."""


@dataclass(frozen=True)
class Window:
    """Which part of the plan lies on the sleeper; see over_body."""

    whole_half_m: float
    none_half_m: float
    lost_m: float


def window_of(girth_m: float, needed_width_m: float, lost_length_m: float) -> Window:
    """The part of a quilt that lies on the sleeper: all of it within half the girth, fading to nothing at
    the least width that covers the shoulders, without the length that is lost at the ends.

    Units   m
    Source  ours; needed width and lost length: common practice, no source
    """
    return Window(girth_m * cover.LYING_ON / 2, needed_width_m / 2, lost_length_m / 2)


def plan_of(design: Design, window: Window) -> Plan:
    """The loft map of a design as numbers, for a sleeper.

    Source  engine.fields.loft_map
    """
    return _plan(layout_of(design), window)


@lru_cache(maxsize=PLANS_KEPT)
def _plan(layout: Layout, window: Window) -> Plan:
    found = solved(layout)
    area = found.area_m2
    bins, edge = over_body(found, window)
    share = bins.area_m2 / np.sum(bins.area_m2)
    return Plan(
        length_m=layout.position_m[-1],
        width_m=max(layout.width_m),
        base=found.base_m2 / area,
        bulge_m2=found.bulge_m4 / area,
        peak_m2=float(np.max(found.bulge_m2)),
        cloth=found.energies / area,
        means=bins.means,
        covariances=bins.covariances,
        slopes=bins.slopes,
        on_body=share * (1 - edge),
        at_edge=share * edge,
        coarse=float(found.coarse),
    )


def over_body(found: LoftMap, window: Window) -> tuple[Bins, NDArray[np.float64]]:
    """The fields over what lies on the sleeper, in bins, and the share of each bin that is near an edge.

    A quilt so small that nothing of it lies on the sleeper is taken whole.

    Shapes  as Bins; (32,)
    Source  definition
    """
    samples, length_m = found.samples, float(found.y_m[-1])
    x, y = samples.place_m
    off = np.abs(x - found.x_m[-1] / 2)
    fade = (window.none_half_m - off) / max(window.none_half_m - window.whole_half_m, 1e-6)
    inside = (y >= window.lost_m) & (y <= length_m - window.lost_m)
    weight = np.clip(fade, 0.0, 1.0) * inside
    if not np.any(weight > 0):
        weight = np.ones(x.size)
    there = weight > 0
    depth = found.outline.depth(x[there], y[there])
    on_body = Samples(
        (samples.area_m2 * weight)[there],
        samples.fields[:, there],
        samples.slopes[:, :, there],
        samples.place_m[:, there],
        samples.beside[there],
    )
    bins, number = bins_of(on_body)
    near = np.bincount(number, on_body.area_m2 * (depth < EDGE_ZONE_M), bins.area_m2.size)
    return bins, near / np.where(bins.area_m2 > 0, bins.area_m2, 1.0)
