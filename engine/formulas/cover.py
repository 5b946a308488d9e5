"""Does it fit: least sizes for a sleeper, and the share of the body that a quilt covers.

All numbers here are common practice without a source, or ours; they are why a quilt that is too
small does not win by being light.
"""

import numpy as np

from engine.units import Number

UNDERSIDE_SHARE = 0.44
"""Share of the body's surface that a full-length underquilt covers (40 to 45 %)."""
BODY_SHARE = 0.924
"""All but the head."""
TOPSIDE_SHARE = BODY_SHARE - UNDERSIDE_SHARE
LOST_LENGTH_M = 0.30
"""Length of an underquilt lost to the diagonal lie, the gathers and the overhang at the shoulders."""
LYING_SHARE = 0.82
"""Shoulder to sole as a share of height."""
TOP_OVER_HEIGHT_M = 0.20
TUCK_M = 0.40
LYING_ON = 0.5
"""Share of the clothed girth that lies on an underquilt, or under a top quilt."""
WHOLE = 0.98
"""A cover share from which on nothing else is needed."""


def least_underquilt_length(height_m: Number) -> Number:
    """Length at which an underquilt covers shoulder to sole: 1.72 m for 1.73 m.

    Units   m -> m
    Source  common practice, no source
    """
    return LYING_SHARE * height_m + LOST_LENGTH_M


def least_underquilt_width(girth_m: Number) -> Number:
    """Width below which a shoulder stays out: 1.05 m for a girth of 1.17 m.

    Units   m (clothed shoulder girth) -> m
    Source  common practice, no source
    """
    return 0.9 * girth_m


def least_top_quilt_length(height_m: Number) -> Number:
    """Height and 20 cm.

    Units   m -> m
    Source  common practice, no source
    """
    return height_m + TOP_OVER_HEIGHT_M


def least_top_quilt_width(girth_m: Number) -> Number:
    """Two thirds of the clothed shoulder girth and 40 cm to tuck in.

    Units   m -> m
    Source  common practice, no source
    """
    return girth_m * 2 / 3 + TUCK_M


def length_cover(length_m: Number, lost_m: Number, needed_m: Number) -> Number:
    """Share of the lying length that is covered, at most 1.

    Units   m, m, m -> dimensionless
    Source  common practice, no source
    """
    return np.clip((length_m - lost_m) / (needed_m - lost_m), 0.0, 1.0)


def width_cover(width_m: Number, needed_m: Number) -> Number:
    """Share of the needed width that is there, at most 1.

    Units   m, m -> dimensionless
    Source  definition
    """
    return np.clip(width_m / needed_m, 0.0, 1.0)
