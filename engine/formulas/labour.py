"""How long a quilt takes at the bench: minutes by operation, from metres, pieces and areas."""

import numpy as np

from engine.formulas.refuse import refuse_negative
from engine.units import Number

MARK_AND_CUT_MIN = 30.0
MARK_AND_CUT_MIN_PER_M2 = 27.0
"""2.5 h for the two shells of a full-length quilt (1.5 to 4 h): common practice, no source."""
FILL_SETUP_MIN = 30.0
FILL_MIN_PER_CHAMBER = 10.0
FILL_STAGGERED_MIN = 75.0
"""Common practice, no source: 60 to 120 min for staggered baffles."""
SHEET_MIN_PER_LAYER = 12.0
PATCH_MIN = 4.0
CLOSE_AND_WEIGH_MIN = 25.0
EVENING_H = 2.5
FIRST_QUILT_FACTOR = 1.5
"""Common practice, no source: 1.3 to 2."""


def joint_minutes(
    length_m: Number, pieces: Number, minutes_per_m: Number, minutes_per_piece: Number
) -> Number:
    """Minutes for one class of joint.

    Units   m, count, min/m, min/piece -> min
    Raises  ValueError for a negative length or count
    Source  definition
    """
    refuse_negative("length_m", length_m, "m")
    refuse_negative("pieces", pieces, "pieces")
    return length_m * minutes_per_m + pieces * minutes_per_piece


def mark_and_cut_minutes(shell_area_m2: Number) -> Number:
    """Minutes to lay out, mark and cut.

    Units   m2 -> min
    Source  common practice, no source
    """
    return MARK_AND_CUT_MIN + MARK_AND_CUT_MIN_PER_M2 * shell_area_m2


def bench_hours(minutes: Number, factor: Number) -> Number:
    """Hours at the bench, with the first-quilt factor.

    Units   min, dimensionless -> h
    Source  definition; factor: common practice, no source
    """
    return minutes / 60.0 * factor


def evenings(hours: Number) -> Number:
    """Evenings of two and a half hours, begun ones counted whole.

    Units   h -> count
    Source  common practice, no source
    """
    return np.ceil(np.asarray(hours) / EVENING_H - 1e-9)
