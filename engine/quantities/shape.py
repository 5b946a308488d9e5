"""Size, cut and baffles of a design as numbers."""

import numpy as np
from numpy.typing import NDArray

from engine.design import Design
from engine.formulas import chamber, geometry
from engine.layout import BafflePlan
from engine.quantities.model import (
    CHANNEL_ALLOWANCE_M,
    DRAW_IN_ALLOWED,
    END_ALLOWANCE_M,
    SEWN_THROUGH_DRAW_IN,
    WRAP_IN_USE_RAD,
    Fields,
)
from engine.units import MM, Number

BOTH_WAYS = {"staggered": 0.5, "alternating": 0.5, "none": 0.5}
"""Layouts that draw in as much along as across: half of it goes each way."""


def stands(design: Design) -> bool:
    """Whether anything holds the shells apart: words decide it, for no height is 0.

    Source  definition
    """
    if design.baffles.layout == "none":
        return design.edges.kind != "pinched"
    return design.baffles.layout != "sewn-through"


def has_edge_walls(design: Design) -> bool:
    """Whether the edges hold the shells apart too.

    Source  definition
    """
    return stands(design) and design.edges.kind != "pinched"


def standing_height(design: Design) -> Number:
    """Height at which the baffles hold the shells apart; 0 for quilting lines.

    Units   m
    Source  definition
    """
    if design.baffles.layout == "sewn-through":
        return 0.0
    if design.baffles.layout == "none":
        return {
            "pinched": 0.0,
            "low edge wall": design.edges.low_wall_mm,
            "box edge": design.baffles.height_mm,
        }[design.edges.kind] * MM
    return design.baffles.height_mm * MM


def edge_height(design: Design) -> Number:
    """Height at which the edges hold the shells apart; 0 where they are pinched.

    Units   m
    Source  definition
    """
    walls = {
        "pinched": 0.0,
        "low edge wall": design.edges.low_wall_mm * MM,
        "box edge": standing_height(design),
    }
    return np.minimum(walls[design.edges.kind], standing_height(design))


def end_allowance(design: Design) -> float:
    """Cloth cut beyond the seam line at an end: more where it is folded to a cord channel.

    Units   m
    Source  common practice, no source
    """
    return CHANNEL_ALLOWANCE_M if design.ends.shape == "gathered" else END_ALLOWANCE_M


def outer_stretch_of(design: Design, wrap_rad: Number, size_m: float) -> Number:
    wrap = wrap_rad if design.cut.kind == "differential" else 0.0
    return geometry.outer_stretch(size_m, wrap, standing_height(design))


def cut_and_baffles(design: Design, plan: BafflePlan, width: NDArray[np.float64]) -> Fields:
    layout = design.baffles.layout
    differential = 1.0 if design.cut.kind == "differential" else 0.0
    draw_in = {"sewn-through": SEWN_THROUGH_DRAW_IN, "none": DRAW_IN_ALLOWED["none"]}.get(layout, 0.0)
    nominal = chamber.half_angle_of_excess(1 / (1 - draw_in) - 1)
    height, low = standing_height(design), edge_height(design)
    holds_cloth = layout not in ("none", "sewn-through")
    return {
        "wrap_across_rad": differential * design.cut.wrap_across_rad,
        "wrap_along_rad": differential * design.cut.wrap_along_rad,
        "end_allowance_m": end_allowance(design),
        "baffle_height_m": height,
        "arcs": 1.0 if layout == "sewn-through" else 0.0,
        "chamber_span_m": plan.chamber_width_m,
        "edge_height_m": low,
        "edge_walls": 1.0 if has_edge_walls(design) else 0.0,
        "baffle_count": float(len(plan.lines)),
        "baffle_length_m": sum(line.length_m for line in plan.lines),
        "baffle_across_m": sum(abs(line.x1_m - line.x0_m) for line in plan.lines),
        "baffle_cloth": 1.0 if holds_cloth else 0.0,
        "chamber_count": float(plan.chamber_count),
        "panel_count": 2.0 if design.end_panels.fitted and stands(design) else 0.0,
        "draw_in_allowed": DRAW_IN_ALLOWED[layout],
        "nominal_draw_in": draw_in,
        "nominal_half_angle_rad": float(nominal),
        "draws_across": {"full, crosswise": 0.0, **BOTH_WAYS}.get(layout, 1.0),
        "draws_along": {"full, crosswise": 1.0, **BOTH_WAYS}.get(layout, 0.0),
        "wrap_in_use_rad": WRAP_IN_USE_RAD[design.kind],
    }
