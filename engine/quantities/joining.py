"""Joints of a design as numbers: where each class runs, and what a metre or a piece of it takes."""

import numpy as np
from numpy.typing import NDArray

from engine.catalogue.load import Catalogue
from engine.catalogue.models import Fabric, JointMethod
from engine.design import Design
from engine.formulas import geometry
from engine.formulas.panels import Panels, WideWay, panels_of
from engine.layout import BafflePlan, stations
from engine.quantities.model import (
    LAP_M,
    SIDE_ALLOWANCE_M,
    STITCH_PUCKER,
    Fields,
    JointRates,
)
from engine.quantities.shape import end_allowance, has_edge_walls, stands
from engine.units import GRAM, MM, Number


def _rates(method: JointMethod | None, pieces: Number, length_m: Number) -> JointRates:
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
        seam_share=np.where(_stitched(method), 1.0, 0.0)[()],
        cure_h=method.cure_h,
    )


def _stitched(method: JointMethod) -> NDArray[np.bool_]:
    return np.asarray(method.thread_m_per_m) > 0


def panel_lap(method: JointMethod) -> Number:
    """How far two panels lap in their join: 12 mm, or the width of a wider joint.

    Units   m
    Source  common practice, no source
    """
    return np.maximum(LAP_M, np.asarray(method.width_mm) * MM)[()]


def shell_panels(
    design: Design,
    stretch_along: Number,
    stretch_across: Number,
    fabric: Fabric,
    method: JointMethod,
    way: WideWay = "least roll",
) -> Panels:
    """The panels of one shell on its roll, by how much longer and wider it is than the inner shell.

    Units   m
    Source  engine.formulas.panels
    """
    outline = geometry.stretched(*stations(design.outline), stretch_along, stretch_across)
    cut = geometry.cut_outline(*outline, SIDE_ALLOWANCE_M, end_allowance(design))
    usable = (fabric.roll_width_mm - 2 * fabric.selvedge_mm) * MM
    return panels_of(*cut, usable, panel_lap(method), way)


def joints_of(
    design: Design,
    catalogue: Catalogue,
    plan: BafflePlan,
    shells: tuple[Fabric, Fabric],
    stretches: tuple[Number, Number],
) -> Fields:
    (inner, outer), (stretch, stretch_along) = shells, stretches
    position, width = stations(design.outline)
    methods, walls = design.joints, has_edge_walls(design)
    fill = catalogue.fill(design.fill.good)
    lines_m, lines = sum(line.length_m for line in plan.lines), float(len(plan.lines))
    through = design.baffles.layout == "sewn-through"
    quilted: Number = 0.0
    if fill.form == "sheet":
        apart_mm = np.where(np.asarray(design.fill.quilting_mm) > 0, design.fill.quilting_mm, np.inf)
        quilted = np.maximum(np.floor(design.outline.length_mm / apart_mm - 1e-9), 0.0)
    sides = 2 * float(geometry.side_length(position, width))
    ends = float(width[0] + width[-1])
    both = 1 if through else 2
    baffle = _rates(
        catalogue.joint(methods.baffles),
        lines * both + quilted,
        lines_m * both + quilted * float(np.mean(width)),
    )
    edge = _rates(catalogue.joint(methods.edges), 4.0 if walls else 2.0, sides * (2 if walls else 1))
    panels = design.end_panels.fitted and stands(design)
    # Each dart is one short seam in each shell, at both ends.
    darts = 4.0 * design.ends.dart_count if design.ends.shape == "darted" else 0.0
    end = _rates(
        catalogue.joint(methods.ends),
        (4.0 if panels else 2.0) + darts,
        ends * (1 + stretch if panels else 1.0) + darts * design.ends.dart_length_mm * MM,
    )
    join = catalogue.joint(methods.panel_joins)
    inner_panels = shell_panels(design, 1.0, 1.0, inner, join)
    outer_panels = shell_panels(design, stretch_along, stretch, outer, join)
    raw = catalogue.joint(methods.raw_edges) if methods.raw_edges else None
    raw_m = sides * (1 + stretch_along) + ends * (1 + stretch) + (0 if through else 2 * lines_m)
    sewn = _stitched(catalogue.joint(methods.baffles)) | _stitched(catalogue.joint(methods.edges))
    return {
        "baffle_joints": baffle,
        "edge_joints": edge,
        "end_joints": end,
        "panel_joins": _rates(
            join, inner_panels.count + outer_panels.count - 2, inner_panels.join_m + outer_panels.join_m
        ),
        "raw_edges": _rates(raw, 0.0, raw_m),
        "inner_lap_m2": inner_panels.lap_m2,
        "outer_lap_m2": outer_panels.lap_m2,
        "pucker": np.where(sewn, STITCH_PUCKER, 0.0)[()],
    }
