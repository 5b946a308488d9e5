"""Where names become numbers: a design, a night and a catalogue resolved into SI quantities.

Every choice becomes a number here: what is absent has length, count or mass zero, and is no branch
further on. So the quantities of many variants stack into arrays, and one path scores them all.
"""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from engine.catalogue.load import Catalogue
from engine.catalogue.models import Fabric, Fill, JointMethod
from engine.design import Design
from engine.formulas import body, chamber, cost, cover, geometry, labour, packing
from engine.layout import BafflePlan, plan_baffles, stations
from engine.night import Night, Sleeper
from engine.units import CUBIC_INCH_PER_OUNCE, GRAM, GSM, MM, Number

SIDE_ALLOWANCE_M = 0.013
END_ALLOWANCE_M = 0.013
CHANNEL_ALLOWANCE_M = 0.035
BAFFLE_ALLOWANCE_M = 0.011
LAP_M = 0.012
"""Perimeter 10 to 15, cord channel 30 to 40, baffle 10 to 13, lap 12 mm (common practice, no source)."""
EDGE_TAPER_M = 0.080
"""The outer 60 to 100 mm of a pinched edge fall to nothing (common practice, no source)."""
WIND_M_S = {"under a low tarp": 0.3, "under a high tarp": 1.0, "open": 2.5}
FABRIC_R = 0.005
"""R of one thin shell; ours, within the 0.09 m2K/W of clothing and shells that the defaults are set with."""
STAGGERED_SUPPORT = 0.88
"""Share of the baffle height held between open-ended baffles, from one converged loft map; ours."""
DRAW_IN_ALLOWED = {
    "none": 0.02,
    "sewn-through": 0.09,
    "full, lengthwise": 0.03,
    "full, crosswise": 0.03,
    "staggered": 0.02,
}
"""Draw-in that makers allow: full 2 to 4, staggered 1 to 3, sewn-through 5 to 9 % (common practice)."""
CLOSEST_QUILTING_MM = 1.0
"""Lines closer than a needle is thick are one line: it keeps their count finite."""
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
    wrap_across_rad: Number
    wrap_along_rad: Number
    end_allowance_m: Number
    baffle_height_m: Number
    chamber_span_m: Number
    support_share: Number
    edge_height_m: Number
    edge_walls: Number
    baffle_count: Number
    baffle_length_m: Number
    baffle_cloth: Number
    chamber_count: Number
    panel_count: Number
    draw_in_allowed: Number
    nominal_half_angle_rad: Number
    draws_across: Number
    draws_along: Number
    pucker: Number
    wrap_in_use_rad: Number
    inner_kg_m2: Number
    outer_kg_m2: Number
    baffle_kg_m2: Number
    panel_kg_m2: Number
    inner_price_m2: Number
    outer_price_m2: Number
    baffle_price_m2: Number
    panel_price_m2: Number
    splice_m: Number
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
    head_r_m2k_w: Number
    head_share: Number
    film_factor: Number
    curvature_radius_m: Number
    comfort_w_m2: Number
    limit_w_m2: Number
    hours_factor: Number


def sleeper_size(sleeper: Sleeper) -> tuple[float, float]:
    """Height and clothed shoulder girth of a sleeper.

    Units   m, m
    Source  heights of the standard woman and man: EN 13537:2012 and ISO 23537-1:2016, second-hand;
            girths: common practice, no source
    """
    if sleeper.kind == "standard woman":
        return 1.60, 1.10
    if sleeper.kind == "standard man":
        return 1.73, 1.22
    return sleeper.height_mm * MM, sleeper.girth_mm * MM


def resolve(design: Design, night: Night, catalogue: Catalogue) -> Quantities:
    """One design on one night, as numbers.

    Raises  Refusal for a good that the catalogue does not have
    Source  definition
    """
    plan = plan_baffles(design)
    position, width = stations(design.outline)
    inner, outer = catalogue.fabric(design.shells.inner), catalogue.fabric(design.shells.outer)
    wall, panel = catalogue.fabric(design.baffles.fabric), catalogue.fabric(design.end_panels.fabric)
    fill = catalogue.fill(design.fill.good)
    stretch = _stretch(design, design.cut.wrap_across_rad, float(np.max(width)))
    stretch_along = _stretch(design, design.cut.wrap_along_rad, float(position[-1]))
    return Quantities(
        station_position_m=position,
        station_width_m=width,
        inner_kg_m2=inner.areal_mass_g_m2 * GSM,
        outer_kg_m2=outer.areal_mass_g_m2 * GSM,
        baffle_kg_m2=wall.areal_mass_g_m2 * GSM,
        panel_kg_m2=panel.areal_mass_g_m2 * GSM,
        inner_price_m2=_price_m2(inner),
        outer_price_m2=_price_m2(outer),
        baffle_price_m2=_price_m2(wall),
        panel_price_m2=_price_m2(panel),
        **_cut_and_baffles(design, plan, width),
        **_fill(design, fill, plan),
        **_joints(design, catalogue, plan, (inner, outer), (stretch, stretch_along)),
        extras=_extras(design, catalogue),
        **_on_the_night(design, night),
    )


def _price_m2(fabric: Fabric) -> Number:
    return cost.price_per_area(fabric.price_per_m, fabric.roll_width_mm * MM, fabric.selvedge_mm * MM)


def _stretch(design: Design, wrap_rad: float, size_m: float) -> float:
    wrap = wrap_rad if design.cut.kind == "differential" else 0.0
    return float(geometry.outer_stretch(size_m, wrap, standing_height(design)))


def standing_height(design: Design) -> float:
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


def edge_height(design: Design) -> float:
    """Height at which the edges hold the shells apart; 0 where they are pinched.

    Units   m
    Source  definition
    """
    walls = {
        "pinched": 0.0,
        "low edge wall": design.edges.low_wall_mm * MM,
        "box edge": standing_height(design),
    }
    return min(walls[design.edges.kind], standing_height(design))


def _cut_and_baffles(design: Design, plan: BafflePlan, width: NDArray[np.float64]) -> Fields:
    baffles, layout = design.baffles, design.baffles.layout
    differential = 1.0 if design.cut.kind == "differential" else 0.0
    # Between open-ended baffles the shells span a little further than from row to row: this
    # reproduces the bulge of the one layout whose loft map was solved (159 mm for 124 and 82 mm).
    span = plan.chamber_width_m
    if layout == "staggered":
        span = float(np.hypot(span, np.sqrt(1.5) * baffles.gap_mm * MM))
    draw_in = {"sewn-through": SEWN_THROUGH_DRAW_IN, "none": DRAW_IN_ALLOWED["none"]}.get(layout, 0.0)
    nominal = chamber.half_angle_of_excess(1 / (1 - draw_in) - 1)
    holds_cloth = layout not in ("none", "sewn-through")
    return {
        "wrap_across_rad": differential * design.cut.wrap_across_rad,
        "wrap_along_rad": differential * design.cut.wrap_along_rad,
        "end_allowance_m": CHANNEL_ALLOWANCE_M if design.ends.shape == "gathered" else END_ALLOWANCE_M,
        "baffle_height_m": standing_height(design),
        "chamber_span_m": span,
        "support_share": STAGGERED_SUPPORT if layout == "staggered" else 1.0,
        "edge_height_m": edge_height(design),
        "edge_walls": 1.0 if edge_height(design) > 0 else 0.0,
        "baffle_count": float(len(plan.lines)),
        "baffle_length_m": sum(line.length_m for line in plan.lines),
        "baffle_cloth": 1.0 if holds_cloth else 0.0,
        "chamber_count": float(plan.chamber_count),
        "panel_count": 2.0 if design.end_panels.fitted and standing_height(design) > 0 else 0.0,
        "draw_in_allowed": DRAW_IN_ALLOWED[layout],
        "nominal_half_angle_rad": float(nominal),
        "draws_across": {"full, crosswise": 0.0, "staggered": 0.5, "none": 0.5}.get(layout, 1.0),
        "draws_along": {"full, crosswise": 1.0, "staggered": 0.5, "none": 0.5}.get(layout, 0.0),
        "wrap_in_use_rad": WRAP_IN_USE_RAD[design.kind],
    }


def _fill(design: Design, fill: Fill, plan: BafflePlan) -> Fields:
    filling = design.fill
    common: Fields = {
        "extinction_m2_kg": fill.extinction_m2_kg,
        "pivot_density_kg_m3": fill.pivot_density_kg_m3,
    }
    if fill.form == "sheet":
        areal, width, price = fill.areal_mass_g_m2 or 0.0, fill.roll_width_mm or 1.0, fill.price_per_m or 0.0
        lines = max(filling.quilting_mm, CLOSEST_QUILTING_MM) * MM if filling.quilting_mm > 0 else 0.0
        return common | {
            "fill_power_m3_kg": fill_free_volume(fill),
            "overstuff": 0.0,
            "fill_given_kg": 0.0,
            "fill_price_kg": 0.0,
            "sheet_kg_m2": areal * GSM,
            "sheet_loft_m": filling.layers * (fill.loft_mm or 0.0) * MM,
            "sheet_price_m2": price / (width * MM),
            "sheet_layers": float(filling.layers),
            "quilting_spacing_m": lines if lines > 0 else 1e6,
            "fill_minutes": labour.SHEET_MIN_PER_LAYER * filling.layers,
        }
    by_grams = filling.rule == "grams"
    staggered = design.baffles.layout == "staggered"
    by_chamber = labour.FILL_SETUP_MIN + labour.FILL_MIN_PER_CHAMBER * plan.chamber_count
    return common | {
        "fill_power_m3_kg": fill_free_volume(fill),
        "overstuff": 0.0 if by_grams else 1 + filling.overstuff_percent / 100,
        "fill_given_kg": filling.grams * GRAM if by_grams else 0.0,
        "fill_price_kg": (fill.price_per_100_g or 0.0) * 10.0,
        "sheet_kg_m2": 0.0,
        "sheet_loft_m": 0.0,
        "sheet_price_m2": 0.0,
        "sheet_layers": 0.0,
        "quilting_spacing_m": 1e6,
        "fill_minutes": labour.FILL_STAGGERED_MIN if staggered else by_chamber,
    }


def fill_free_volume(fill: Fill) -> float:
    """Volume of a kilogram of fill at rest: fill power of down, loft over areal mass of a sheet.

    Units   m3/kg
    Source  definition
    """
    if fill.form == "down":
        return (fill.fill_power_in3_oz or 0.0) * CUBIC_INCH_PER_OUNCE
    return (fill.loft_mm or 0.0) * MM / ((fill.areal_mass_g_m2 or 1.0) * GSM)


def _rates(method: JointMethod | None, pieces: float, length_m: float) -> JointRates:
    if method is None:
        return JointRates(*(0.0 for _ in range(9)))
    return JointRates(
        pieces=pieces,
        length_m=length_m,
        mass_kg_m=method.mass_g_m * GRAM,
        price_per_m=method.price_per_m,
        minutes_per_m=method.minutes_per_m,
        minutes_per_piece=method.minutes_per_piece,
        tape_m_per_m=method.tape_m_per_m,
        seam_share=1.0 if method.thread_m_per_m > 0 else 0.0,
        cure_h=method.cure_h,
    )


def panel_joins(cut_width_m: float, cut_length_m: float, fabric: Fabric) -> tuple[int, float]:
    """How many joins a shell needs on its roll, and how long each is; turned round where that saves them.

    Units   m, m -> count, m
    Source  definition
    """
    usable = (fabric.roll_width_mm - 2 * fabric.selvedge_mm) * MM
    across, along = (
        max(int(np.ceil(cut_width_m / usable)) - 1, 0),
        max(int(np.ceil(cut_length_m / usable)) - 1, 0),
    )
    return (across, cut_length_m) if across * cut_length_m <= along * cut_width_m else (along, cut_width_m)


def _joints(
    design: Design,
    catalogue: Catalogue,
    plan: BafflePlan,
    shells: tuple[Fabric, Fabric],
    stretches: tuple[float, float],
) -> Fields:
    (inner, outer), (stretch, stretch_along) = shells, stretches
    position, width = stations(design.outline)
    methods, walls = design.joints, edge_height(design) > 0
    fill = catalogue.fill(design.fill.good)
    lines_m, lines = sum(line.length_m for line in plan.lines), float(len(plan.lines))
    through = design.baffles.layout == "sewn-through"
    quilted = 0.0
    if fill.form == "sheet" and design.fill.quilting_mm > 0:
        apart_mm = max(design.fill.quilting_mm, CLOSEST_QUILTING_MM)
        quilted = float(np.floor(design.outline.length_mm / apart_mm - 1e-9))
    sides = 2 * float(geometry.side_length(position, width))
    ends = float(width[0] + width[-1])
    both = 1 if through else 2
    baffle = _rates(
        catalogue.joint(methods.baffles),
        lines * both + quilted,
        lines_m * both + quilted * float(np.mean(width)),
    )
    edge = _rates(catalogue.joint(methods.edges), 4.0 if walls else 2.0, sides * (2 if walls else 1))
    panels = design.end_panels.fitted and standing_height(design) > 0
    # Each dart is one short seam in each shell, at both ends.
    darts = 4.0 * design.ends.dart_count if design.ends.shape == "darted" else 0.0
    end = _rates(
        catalogue.joint(methods.ends),
        (4.0 if panels else 2.0) + darts,
        ends * (1 + stretch if panels else 1.0) + darts * design.ends.dart_length_mm * MM,
    )
    wide, long = float(np.max(width)), float(position[-1])
    end_allowance = CHANNEL_ALLOWANCE_M if design.ends.shape == "gathered" else END_ALLOWANCE_M
    joins = [
        panel_joins(wide * across + 2 * SIDE_ALLOWANCE_M, long * along + 2 * end_allowance, fabric)
        for across, along, fabric in ((1.0, 1.0, inner), (stretch, stretch_along, outer))
    ]
    raw = catalogue.joint(methods.raw_edges) if methods.raw_edges else None
    raw_m = sides * (1 + stretch_along) + ends * (1 + stretch) + (0 if through else 2 * lines_m)
    sewn = any(catalogue.joint(m).thread_m_per_m > 0 for m in (methods.baffles, methods.edges))
    return {
        "baffle_joints": baffle,
        "edge_joints": edge,
        "end_joints": end,
        "panel_joins": _rates(
            catalogue.joint(methods.panel_joins), sum(c for c, _ in joins), sum(c * m for c, m in joins)
        ),
        "raw_edges": _rates(raw, 0.0, raw_m),
        "splice_m": sum(c * m for c, m in joins),
        "pucker": STITCH_PUCKER if sewn else 0.0,
    }


def _extras(design: Design, catalogue: Catalogue) -> Extras:
    """Suspension and patches of any quilt; footbox, collar and closures of a top quilt."""
    outer = catalogue.fabric(design.shells.outer)
    top = design.top
    is_top = design.kind == "top quilt"
    panel = is_top and top.footbox == "sewn with end panel"
    seam = is_top and top.footbox != "none"
    collar = is_top and top.collar
    oval = float(geometry.ellipse_area(top.panel_width_mm * MM, top.panel_height_mm * MM)) if panel else 0.0
    round_m = (
        float(geometry.ellipse_perimeter(top.panel_width_mm * MM, top.panel_height_mm * MM)) if panel else 0.0
    )
    width = design.outline.width_mm * MM
    area = 2 * oval + (2 * top.collar_flat_mm * MM * width if collar else 0.0)
    items = [(catalogue.hardware_item(good), amount) for good, amount in hardware_amounts(design).items()]
    patches = float(design.tabs)
    # A quilt of sheet insulation has no loose down, in its footbox and collar neither.
    down = catalogue.fill(design.fill.good).form == "down"
    loose_g = (top.panel_fill_g if panel and down else 0.0) + (top.collar_fill_g if collar and down else 0.0)
    return Extras(
        cloth_area_m2=area,
        cloth_kg=area * outer.areal_mass_g_m2 * GSM,
        cloth_cost=area * _price_m2(outer),
        fill_kg=loose_g * GRAM,
        seam_m=round_m + (top.footbox_length_mm * MM if seam else 0.0) + (2 * width if collar else 0.0),
        seam_pieces=float(panel) + float(seam) + float(collar),
        suspension_kg=sum(good.mass_g * amount for good, amount in items) * GRAM,
        suspension_cost=sum(good.price * amount for good, amount in items),
        patch_count=patches,
        patch_kg=patches * PATCH_AREA_M2 * PATCH_KG_M2,
    )


def hardware_amounts(design: Design) -> dict[str, float]:
    """Metres or pieces of each cord, lock and closure: the suspension, and what a top quilt closes with.

    Source  common practice, no source
    """
    items = [(item.good, item.amount) for item in design.suspension]
    if design.kind == "top quilt":
        top = design.top
        if top.neck_closure:
            items += [("cord-2", NECK_CORD_M), ("cord-lock", 1.0), ("snap", 1.0)]
        if top.straps:
            items.append(("strap-set", 1.0))
        if top.footbox == "drawn and zipped":
            items.append(("zip", FOOTBOX_ZIP_M))
        if top.footbox in ("drawn and zipped", "gathered"):
            items.append(("cord-2", NECK_CORD_M))
    amounts: dict[str, float] = {}
    for good, amount in items:
        amounts[good] = amounts.get(good, 0.0) + amount
    return amounts


NECK_CORD_M, FOOTBOX_ZIP_M = 1.2, 0.6
"""Neck cord 1.0 to 1.3 m, zip 50 to 70 cm (common practice, no source)."""
PATCH_AREA_M2 = 2 * 0.040 * 0.040
PATCH_KG_M2 = 0.045
"""A 40 x 40 mm cloth patch inside and out at each tab (common practice, no source)."""


def _on_the_night(design: Design, night: Night) -> Fields:
    height, girth = sleeper_size(night.sleeper)
    under = design.kind == "underquilt"
    needed = cover.least_underquilt_length(height) if under else cover.least_top_quilt_length(height)
    lost = cover.LOST_LENGTH_M if under else 0.0
    return {
        "needed_length_m": needed,
        "needed_width_m": cover.least_underquilt_width(girth)
        if under
        else cover.least_top_quilt_width(girth),
        "lost_length_m": lost,
        "covers_underside": 1.0 if under else 0.0,
        "underside_share": cover.UNDERSIDE_SHARE,
        # The pad lies under the legs: it goes with a short underquilt, and helps no other gap.
        "pad_below_cover": cover.WHOLE if under else NO_PAD,
        "beyond_r_m2k_w": night.beyond.r_m2k_w,
        "beyond_kg": night.beyond.grams * GRAM,
        "beyond_cost": night.beyond.price,
        "other_matched": 1.0 if night.other_half == "matched" else 0.0,
        "other_r_m2k_w": night.other_half_r_m2k_w,
        "air_c": night.air_c,
        "wind_m_s": WIND_M_S.get(night.wind, night.wind_m_s),
        "humidity_percent": night.humidity_percent,
        "clothing_r_m2k_w": night.clothing_r_m2k_w,
        "head_r_m2k_w": night.head_r_m2k_w,
        "head_share": body.HEAD_SHARE,
        "film_factor": 1.0,
        "curvature_radius_m": CURVATURE_RADIUS_M,
        "comfort_w_m2": body.STANDARD_WOMAN_W_M2,
        "limit_w_m2": body.STANDARD_MAN_W_M2,
        "hours_factor": labour.FIRST_QUILT_FACTOR if night.first_quilt else 1.0,
        "shell_density_kg_m3": packing.SHELL_DENSITY_KG_M3,
    }
