"""What scoring needs to know of a quilt, as numbers, and the allowances that makers leave."""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from engine.quantities.plan import Plan
from engine.units import Number

SIDE_ALLOWANCE_M = 0.013
END_ALLOWANCE_M = 0.013
CHANNEL_ALLOWANCE_M = 0.035
BAFFLE_ALLOWANCE_M = 0.011
LAP_M = 0.012
"""Perimeter 10 to 15, cord channel 30 to 40, baffle 10 to 13, lap 12 mm (common practice, no source)."""
WIND_M_S = {"under a low tarp": 0.3, "under a high tarp": 1.0, "open": 2.5}
GAP_M = {
    "snug all round": 0.0,
    "one hand slips in at the ends": 0.015,
    "daylight at the ends": 0.040,
    "sags under the back": 0.023,
}
"""How far a quilt stands off at an end; a sag is taken to leave such a gap there. Ours, no source."""
FABRIC_R = 0.005
"""R of one thin shell; ours, within the 0.09 m2K/W of clothing and shells that the defaults are set with."""
DRAW_IN_ALLOWED = {
    "none": 0.02,
    "sewn-through": 0.09,
    "full, lengthwise": 0.03,
    "full, crosswise": 0.03,
    "staggered": 0.02,
    "alternating": 0.02,
}
"""Draw-in that makers allow: full 2 to 4, staggered 1 to 3, sewn-through 5 to 9 % (common practice)."""
SEWN_THROUGH_DRAW_IN = 0.07
STITCH_PUCKER = 0.01
"""Stitching pucker along and across sewn lines, 0.5 to 1.5 % (common practice)."""
NO_PAD = -1.0
"""A cover share that no quilt is below."""
WRAP_IN_USE_RAD = {"underquilt": 2.0, "top quilt": 0.75}
CURVATURE_RADIUS_M = 0.20


Fields = dict[str, Any]
"""Some of the fields of Quantities by name; the dataclass refuses a missing or unknown one."""


@dataclass(frozen=True)
class JointRates:
    """One class of joint: where it runs, and what a metre or a piece of it takes."""

    pieces: Number
    length_m: Number
    mass_kg_m: Number
    price_per_m: Number
    minutes_per_m: Number
    minutes_per_piece: Number
    tape_m_per_m: Number
    seam_share: Number
    cure_h: Number


@dataclass(frozen=True)
class Extras:
    """Parts that only some quilts have; zero where absent."""

    cloth_pieces: Number
    cloth_area_m2: Number
    cloth_kg: Number
    cloth_cost: Number
    fill_kg: Number
    seam_m: Number
    seam_pieces: Number
    suspension_kg: Number
    suspension_cost: Number
    patch_count: Number
    patch_kg: Number


@dataclass(frozen=True)
class Quantities:
    """All that scoring needs, as numbers: floats for one quilt, arrays for many."""

    station_position_m: NDArray[np.float64]
    station_width_m: NDArray[np.float64]
    plan: Plan
    wrap_across_rad: Number
    wrap_along_rad: Number
    end_allowance_m: Number
    baffle_height_m: Number
    arcs: Number
    """1 where straight sewn channels bulge as arcs, 0 where the loft map serves."""
    chamber_span_m: Number
    edge_height_m: Number
    edge_walls: Number
    baffle_count: Number
    baffle_length_m: Number
    baffle_across_m: Number
    """How much of it runs crosswise."""
    baffle_cloth: Number
    chamber_count: Number
    panel_count: Number
    draw_in_allowed: Number
    nominal_draw_in: Number
    nominal_half_angle_rad: Number
    draws_across: Number
    draws_along: Number
    pucker: Number
    wrap_in_use_rad: Number
    outer_permeability_m_s: Number
    inner_kg_m2: Number
    outer_kg_m2: Number
    baffle_kg_m2: Number
    panel_kg_m2: Number
    inner_price_m2: Number
    outer_price_m2: Number
    baffle_price_m2: Number
    panel_price_m2: Number
    inner_lap_m2: Number
    """Cloth that lies double in the panel joins of a shell wider than its roll."""
    outer_lap_m2: Number
    fill_power_m3_kg: Number
    overstuff: Number
    fill_given_kg: Number
    fill_price_kg: Number
    sheet_kg_m2: Number
    sheet_loft_m: Number
    sheet_price_m2: Number
    sheet_layers: Number
    quilting_spacing_m: Number
    extinction_m2_kg: Number
    pivot_density_kg_m3: Number
    shell_density_kg_m3: Number
    fill_minutes: Number
    baffle_joints: JointRates
    edge_joints: JointRates
    end_joints: JointRates
    panel_joins: JointRates
    raw_edges: JointRates
    extras: Extras
    needed_length_m: Number
    needed_width_m: Number
    lost_length_m: Number
    covers_underside: Number
    underside_share: Number
    pad_below_cover: Number
    beyond_r_m2k_w: Number
    beyond_kg: Number
    beyond_cost: Number
    other_matched: Number
    other_r_m2k_w: Number
    air_c: Number
    wind_m_s: Number
    humidity_percent: Number
    clothing_r_m2k_w: Number
    gap_m: Number
    gap_width_m: Number
    half_area_m2: Number
    head_r_m2k_w: Number
    head_share: Number
    film_factor: Number
    curvature_radius_m: Number
    section_factor: Number
    """Heat of a solved section over that of corrected paths; 1 but for very steep chambers."""
    comfort_w_m2: Number
    limit_w_m2: Number
    hours_factor: Number
