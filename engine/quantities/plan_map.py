"""The loft map of a design: where its baffles, sewn lines and edges hold the shells, solved once and kept."""

from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from engine.design import Design
from engine.fields.grid import LARGEST_NODES
from engine.fields.lines import Segment
from engine.fields.loft_map import EndEdge, LoftMap, SideEdge, loft_map
from engine.layout import plan_baffles, stations
from engine.quantities.shape import has_edge_walls, stands

KEPT = 16
"""Maps kept whole, about 9 MB each: a comparison of six, twice over."""


@dataclass(frozen=True)
class Layout:
    """All that a loft map depends on; equal layouts share one map."""

    position_m: tuple[float, ...]
    width_m: tuple[float, ...]
    baffles: tuple[Segment, ...]
    sewn: tuple[Segment, ...]
    sides: SideEdge
    ends: EndEdge


def layout_of(design: Design) -> Layout:
    """Outline, lines and edges of a design, without heights, goods or fill.

    Source  definition
    """
    position, width = stations(design.outline)
    through = design.baffles.layout == "sewn-through"
    lines = tuple((line.x0_m, line.y0_m, line.x1_m, line.y1_m) for line in plan_baffles(design).lines)
    panels = design.end_panels.fitted and stands(design)
    return Layout(
        tuple(position.tolist()),
        tuple(width.tolist()),
        () if through else lines,
        lines if through else (),
        "wall" if has_edge_walls(design) else "closed",
        "panel" if panels else "closed",
    )


def plan_map(design: Design) -> LoftMap:
    """The loft map of a design's layout, from the cache if it has been solved before.

    Source  engine.fields.loft_map
    """
    return solved(layout_of(design))


@lru_cache(maxsize=KEPT)
def solved(layout: Layout) -> LoftMap:
    """The loft map of a layout; chambers too narrow for its grid are solved on the finest one allowed.

    Source  engine.fields.loft_map
    """
    try:
        return _map(layout)
    except ValueError:
        length_m, width_m = layout.position_m[-1], max(layout.width_m)
        share = float(np.sqrt(LARGEST_NODES / (width_m * length_m)))
        return replace(_map(layout, (int(width_m * share), int(length_m * share))), coarse=True)


def _map(layout: Layout, cells: tuple[int, int] | None = None) -> LoftMap:
    return loft_map(
        np.array(layout.position_m),
        np.array(layout.width_m),
        layout.baffles,
        layout.sewn,
        sides=layout.sides,
        head=layout.ends,
        foot=layout.ends,
        cells=cells,
    )
