"""Joints of a design as numbers: where each class runs, and what a metre or a piece of it takes."""

import numpy as np
from numpy.typing import NDArray

from engine.catalogue.load import Catalogue
from engine.catalogue.models import Fabric, JointMethod
from engine.design import Design
from engine.formulas import geometry
from engine.layout import BafflePlan, stations
from engine.quantities.model import (
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


def panel_joins(cut_width_m: Number, cut_length_m: Number, fabric: Fabric) -> tuple[Number, Number]:
    """How many joins a shell needs on its roll, and how long each is; turned round where that saves them.

    Units   m, m -> count, m
    Source  definition
    """
    usable = (fabric.roll_width_mm - 2 * fabric.selvedge_mm) * MM
    across, along = (np.maximum(np.ceil(cut_m / usable) - 1, 0.0) for cut_m in (cut_width_m, cut_length_m))
    straight = across * cut_length_m <= along * cut_width_m
    return np.where(straight, across, along)[()], np.where(straight, cut_length_m, cut_width_m)[()]


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
    wide, long = float(np.max(width)), float(position[-1])
    joins = [
        panel_joins(wide * across + 2 * SIDE_ALLOWANCE_M, long * along + 2 * end_allowance(design), fabric)
        for across, along, fabric in ((1.0, 1.0, inner), (stretch, stretch_along, outer))
    ]
    raw = catalogue.joint(methods.raw_edges) if methods.raw_edges else None
    raw_m = sides * (1 + stretch_along) + ends * (1 + stretch) + (0 if through else 2 * lines_m)
    sewn = _stitched(catalogue.joint(methods.baffles)) | _stitched(catalogue.joint(methods.edges))
    return {
        "baffle_joints": baffle,
        "edge_joints": edge,
        "end_joints": end,
        "panel_joins": _rates(
            catalogue.joint(methods.panel_joins), sum(c for c, _ in joins), sum(c * m for c, m in joins)
        ),
        "raw_edges": _rates(raw, 0.0, raw_m),
        "splice_m": sum(c * m for c, m in joins),
        "pucker": np.where(sewn, STITCH_PUCKER, 0.0)[()],
    }
