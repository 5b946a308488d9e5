"""Where chambers bulge so steeply that the correction for slanted faces fails, what does the section say?

The correction serves sections up to half as high as wide, a third where one face bulges alone. Beyond, one
chamber is solved in two dimensions, and what it loses over the corrected paths becomes a factor.
"""

from dataclasses import replace

import numpy as np

from engine.fields.section import Chamber, Layers, chamber_loss, faces, half_angle_of_rise
from engine.formulas import bridges, heat
from engine.loft import Loft
from engine.quantities import FABRIC_R, Quantities
from engine.score import RESISTANCE_AIR_C, SKIN_C
from engine.units import Number

STEEP, STEEPER = 0.50, 0.58
"""Bulge over chamber width from which the section counts, and from which it counts alone."""
STEEP_ALONE, STEEPER_ALONE = 0.33, 0.40
"""The same for one face."""
STATIONS = 2000


def section_share(loft: Loft) -> Number:
    """How far the solved section replaces the correction: 0 within the correction's range, 1 well beyond.

    Shapes  () or (n,)
    Source  range of engine.formulas.bridges; blended, so that no result jumps
    """
    ratio = loft.bulge_m / loft.chamber_chord_m
    alone = ratio * np.maximum(loft.outer_share, 1 - loft.outer_share)
    both = (ratio - STEEP) / (STEEPER - STEEP), (alone - STEEP_ALONE) / (STEEPER_ALONE - STEEP_ALONE)
    share: Number = np.clip(np.maximum(*both), 0.0, 1.0)
    return share


def with_section(q: Quantities, loft: Loft) -> Quantities:
    """The quantities of one quilt with its section factor, 1 where its chambers are not steep.

    Source  engine.fields.section
    """
    share = float(section_share(loft))
    return replace(q, section_factor=1 + share * (_section_over_paths(q, loft) - 1)) if share > 0 else q


def _section_over_paths(q: Quantities, loft: Loft) -> float:
    chord, bulge, outer = float(loft.chamber_chord_m), float(loft.bulge_m), float(loft.outer_share)
    angles = [half_angle_of_rise(chord, min(share * bulge, chord / 2)) for share in (1 - outer, outer)]
    mean_c = (SKIN_C + RESISTANCE_AIR_C) / 2
    layers = Layers(
        float(heat.fill_conductivity(mean_c, loft.density_kg_m3, q.extinction_m2_kg)),
        float(q.clothing_r_m2k_w) + FABRIC_R,
        float(heat.outside_film_resistance(q.wind_m_s, RESISTANCE_AIR_C) * q.film_factor) + FABRIC_R,
    )
    chamber = Chamber(chord, float(np.asarray(loft.heights_m)[0]), *angles)
    true = chamber_loss(chamber, layers, SKIN_C, RESISTANCE_AIR_C).u_w_m2k
    x = (np.arange(STATIONS) + 0.5) / STATIONS * chord
    inner_y, outer_y = faces(chamber, x)
    slopes = [np.abs(np.gradient(face, x)) for face in (inner_y, outer_y)]
    # As engine.warmth has it: clothes lie on the sleeper, not on the slanted face.
    paths = float(q.clothing_r_m2k_w) + bridges.slanted_path_resistance(
        FABRIC_R, outer_y - inner_y, layers.fill_w_mk, layers.outer_r_m2k_w, *slopes
    )
    return true / float(np.mean(1 / paths))
