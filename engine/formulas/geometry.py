"""How large the shells are: an outline by stations, its allowances, and the differential cut.

An outline is straight-sided and symmetric: four stations from head to foot, each with a position
and a full width. Stations run along the first axis; further axes hold one value per variant.
"""

import numpy as np

from engine.formulas.refuse import refuse_negative, refuse_unless_positive
from engine.units import Number


def outline_area(position_m: Number, width_m: Number) -> Number:
    """Area inside an outline.

    Shapes  (4,) or (4, n), the last station at the foot
    Units   m, m -> m2
    Raises  ValueError for a negative width
    Source  definition (trapezoids between stations)
    """
    refuse_negative("width_m", width_m, "m")
    position, width = np.asarray(position_m), np.asarray(width_m)
    area: Number = np.sum(np.diff(position, axis=0) * (width[1:] + width[:-1]) / 2, axis=0)
    return area


def side_length(position_m: Number, width_m: Number) -> Number:
    """Length of one long side, head corner to foot corner.

    Shapes  (4,) or (4, n)
    Units   m, m -> m
    Source  definition
    """
    length: Number = np.sum(np.hypot(np.diff(position_m, axis=0), np.diff(width_m, axis=0) / 2), axis=0)
    return length


def corner_sum(position_m: Number, width_m: Number) -> Number:
    """Sum of tan(turn / 2) over the corners: how a convex outline's inner parallel loses area.

    The parallel at distance d has the area A - P d + corner_sum d2; a rectangle has 4.

    Shapes  (4,) or (4, n)
    Units   m, m -> dimensionless
    Range   exact for convex outlines, as long as the parallel keeps every side
    Source  Steiner's formula for inner parallel bodies of polygons (definition)
    """
    slope = np.arctan2(np.diff(width_m, axis=0) / 2, np.diff(position_m, axis=0))
    head = np.tan((np.pi / 2 - slope[0]) / 2)
    foot = np.tan((np.pi / 2 + slope[-1]) / 2)
    between = np.sum(np.tan((slope[:-1] - slope[1:]) / 2), axis=0)
    total: Number = 2 * (head + between + foot)
    return total


def strip_area(perimeter_m: Number, corners: Number, strip_m: Number) -> Number:
    """Area within `strip_m` of the outline.

    Units   m, dimensionless, m -> m2
    Raises  ValueError for a negative strip
    Source  Steiner's formula (definition)
    """
    refuse_negative("strip_m", strip_m, "m")
    return perimeter_m * strip_m - corners * strip_m**2


def outer_stretch(inner_size_m: Number, wrap_rad: Number, height_m: Number) -> Number:
    """By what factor the outer shell is larger than the inner: 1 + wrap * height / size.

    44 in with 2 1/2 in baffles and 2 rad gives 49 in.

    Units   m, rad, m -> dimensionless
    Raises  ValueError for a size of zero
    Source  common practice, no source (arc length of concentric circles: definition)
    """
    refuse_unless_positive("inner_size_m", inner_size_m, "m")
    return 1 + wrap_rad * height_m / inner_size_m


def stretched(position_m: Number, width_m: Number, along: Number, across: Number) -> tuple[Number, Number]:
    """An outline made longer and wider by factors, as the outer shell of a differential cut is.

    Shapes  (4,) or (4, n), factors floats or (n,) -> two of (4,), (4, 1) or (4, n)
    Units   m, dimensionless
    Source  definition
    """
    position, width = np.asarray(position_m), np.asarray(width_m)
    if position.ndim == 1 and (np.ndim(along) or np.ndim(across)):
        position, width = position[:, np.newaxis], width[:, np.newaxis]
    return position * along, width * across


def cut_outline(
    position_m: Number, width_m: Number, side_allowance_m: Number, end_allowance_m: Number
) -> tuple[Number, Number]:
    """An outline as it is cut: sides and ends moved out by their allowances.

    A side is carried on to the cut end, but no hem runs in to less than half of the seam that it is folded
    at. The first and last stations of the six are the cut ends, so the first position is negative.

    Shapes  (4,) or (4, n) -> two of (6,) or (6, n)
    Units   m
    Range   convex outlines
    Raises  ValueError for a negative allowance
    Source  definition (parallel of each side; the least of them in each place)
    """
    refuse_negative("side_allowance_m", side_allowance_m, "m")
    refuse_negative("end_allowance_m", end_allowance_m, "m")
    position, half = np.asarray(position_m), np.asarray(width_m) / 2
    slope = np.arctan2(np.diff(half, axis=0), np.diff(position, axis=0))
    out = half[:-1] + side_allowance_m / np.cos(slope)
    # Parallels of two sides meet beside the corner, at its mean slope.
    beside = np.tan((slope[:-1] + slope[1:]) / 2) * side_allowance_m
    foot = position[-1]
    first = np.clip(position[1] - beside[0], position[0], foot)
    second = np.clip(position[2] - beside[1], first, foot)
    cut = position[0] - end_allowance_m, first, second, foot + end_allowance_m
    places = np.stack(np.broadcast_arrays(cut[0], position[0], *cut[1:3], foot, cut[3]))
    sides = [out[side] + np.tan(slope[side]) * (places - position[side]) for side in range(3)]
    halves = np.minimum(np.minimum(sides[0], sides[1]), sides[2])
    halves[0], halves[-1] = np.maximum(halves[0], half[0] / 2), np.maximum(halves[-1], half[-1] / 2)
    return places, 2 * halves


def cut_area(
    position_m: Number, width_m: Number, side_allowance_m: Number, end_allowance_m: Number
) -> Number:
    """Area of cloth cut for a shell: what is inside the seams plus its allowances.

    Shapes  (4,) or (4, n)
    Units   m -> m2
    Raises  ValueError for a negative allowance
    Source  definition
    """
    return outline_area(*cut_outline(position_m, width_m, side_allowance_m, end_allowance_m))


def ellipse_area(width_m: Number, height_m: Number) -> Number:
    """Area of an oval end panel.

    Units   m, m -> m2
    Source  definition
    """
    return np.pi / 4 * width_m * height_m


def ellipse_perimeter(width_m: Number, height_m: Number) -> Number:
    """Length of the seam round an oval end panel, within 0.01 % for the ovals of a footbox.

    Units   m, m -> m
    Source  Ramanujan's first approximation (1914)
    """
    a, b = width_m / 2, height_m / 2
    return np.pi * (3 * (a + b) - np.sqrt((3 * a + b) * (a + 3 * b)))
