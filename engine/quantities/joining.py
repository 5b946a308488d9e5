"""Joints of a design as numbers: where each class runs, and what a metre or a piece of it takes."""

import numpy as np

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
from engine.quantities.shape import edge_height, end_allowance, standing_height
from engine.units import GRAM, MM


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


def joints_of(
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
        quilted = float(np.floor(design.outline.length_mm / design.fill.quilting_mm - 1e-9))
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
    joins = [
        panel_joins(wide * across + 2 * SIDE_ALLOWANCE_M, long * along + 2 * end_allowance(design), fabric)
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
