"""Do the baffles and sewn lines of a layout make sense, and how narrow are the chambers between them?"""

from collections.abc import Sequence
from typing import TypeAlias

import numpy as np

from engine.fields.constraints import Lines
from engine.fields.grid import Array, Mask, Outline

Segment: TypeAlias = tuple[float, float, float, float]
"""x0, y0, x1, y1 in m."""

MOST_LINES = 2500
"""More than any design has: 40 mm baffles, 20 mm apart, all over 2.6 x 2 m, are 2,025."""
SHORTEST_M = 1e-3
SCANS = 257
"""Lines over the plan, off its middle, along which chambers are measured."""
_SAME_M = 1e-5
"""Two collinear lines this near to each other are one."""


def checked_lines(outline: Outline, baffles: Sequence[Segment], sewn: Sequence[Segment]) -> Lines:
    """All constraints inside the outline; what sticks out of it counts only as far as the edge.

    Collinear pieces of a kind that touch or overlap become one.

    Raises  ValueError naming the baffle or sewn line, its fault and what is allowed
    """
    count = len(baffles) + len(sewn)
    if count > MOST_LINES:
        raise ValueError(f"{count} baffles and sewn lines; a loft map takes {MOST_LINES} at most")
    names = [f"baffle {n + 1}" for n in range(len(baffles))]
    names += [f"sewn line {n + 1}" for n in range(len(sewn))]
    ends = np.array([*baffles, *sewn], dtype=float).reshape(count, 4)
    stands = np.arange(count) < len(baffles)
    unknown = np.nonzero(~np.all(np.isfinite(ends), axis=1))[0]
    if unknown.size:
        raise ValueError(f"{names[unknown[0]]} has an end that is not a number")
    length = np.hypot(ends[:, 2] - ends[:, 0], ends[:, 3] - ends[:, 1])
    short = np.nonzero(length < SHORTEST_M)[0]
    if short.size:
        raise ValueError(f"{names[short[0]]} is {1000 * length[short[0]]:g} mm long; allowed: 1 mm or more")
    _refuse_outside(outline, ends, names)
    _refuse_crossing(ends[stands], ends[~stands])
    return _merged(ends, stands, names)


def _refuse_outside(outline: Outline, ends: Array, names: list[str]) -> None:
    share = np.linspace(0.0, 1.0, 129)
    doubtful = np.nonzero(np.max(outline.depth(ends[:, 0::2], ends[:, 1::2]), axis=1) <= _SAME_M)[0]
    start, run = ends[doubtful, :2, None], (ends[doubtful, 2:] - ends[doubtful, :2])[:, :, None] * share
    depth = outline.depth(start[:, 0] + run[:, 0], start[:, 1] + run[:, 1])
    outside = doubtful[np.max(depth, axis=1) <= _SAME_M]
    if outside.size:
        raise ValueError(
            f"{names[outside[0]]} lies outside the outline or on its edge; move it inside or leave it out"
        )


def _refuse_crossing(baffles: Array, sewn: Array) -> None:
    """Faces cannot be held apart and sewn together at one place."""

    def side(of: Array, x: Array, y: Array) -> Array:
        run, rise = of[..., 2] - of[..., 0], of[..., 3] - of[..., 1]
        off: Array = run * (y - of[..., 1]) - rise * (x - of[..., 0])
        return off

    one, other = baffles[:, None, :], sewn[None, :, :]
    first = side(one, other[..., 0], other[..., 1]) * side(one, other[..., 2], other[..., 3])
    second = side(other, one[..., 0], one[..., 1]) * side(other, one[..., 2], one[..., 3])
    low = np.maximum(np.minimum(one[..., :2], one[..., 2:]), np.minimum(other[..., :2], other[..., 2:]))
    high = np.minimum(np.maximum(one[..., :2], one[..., 2:]), np.maximum(other[..., :2], other[..., 2:]))
    meet = np.argwhere((first <= 0) & (second <= 0) & np.all(low <= high + 1e-12, axis=-1))
    if meet.size:
        raise ValueError(
            f"baffle {meet[0, 0] + 1} meets sewn line {meet[0, 1] + 1}; the shells cannot be held apart and "
            "sewn together at one place"
        )


def _merged(ends: Array, stands: Mask, names: list[str]) -> Lines:
    """Collinear pieces that touch, as one, so that no corrected open ends face each other at the joint."""
    kept: dict[tuple[bool, int, int], list[list[float]]] = {}
    run, rise = ends[:, 2] - ends[:, 0], ends[:, 3] - ends[:, 1]
    back = (rise < 0) | ((rise == 0) & (run < 0))
    ends = np.where(back[:, None], ends[:, [2, 3, 0, 1]], ends)
    length = np.hypot(run, rise)
    direction = np.where(back, -1, 1)[:, None] * np.stack([run, rise], axis=-1) / length[:, None]
    offset = ends[:, 0] * direction[:, 1] - ends[:, 1] * direction[:, 0]
    start = np.sum(ends[:, :2] * direction, axis=1)
    angle = np.arctan2(direction[:, 1], direction[:, 0])
    order = np.argsort(start)
    rows: list[tuple[int, int, int]] = []
    for n in order:
        key = bool(stands[n]), round(angle[n] / 1e-5), round(offset[n] / _SAME_M)
        pieces = kept.setdefault(key, [])
        if pieces and start[n] <= pieces[-1][1] + _SAME_M:
            row, reach = int(pieces[-1][0]), pieces[-1][1]
            if start[n] + length[n] > reach:
                rows[row] = (rows[row][0], int(n), rows[row][2])
                pieces[-1][1] = float(start[n] + length[n])
        else:
            pieces.append([float(len(rows)), float(start[n] + length[n])])
            rows.append((int(n), int(n), int(n)))
    whole = np.array([[*ends[a, :2], *ends[b, 2:]] for a, b, _ in rows]).reshape(len(rows), 4)
    which = [n for _, _, n in rows]
    return Lines(whole, stands[which].astype(bool), tuple(names[n] for n in which))


def narrowest_chamber(outline: Outline, lines: Lines, along: bool) -> tuple[float, str]:
    """Width of the narrowest chamber measured across (or along), and between which lines it lies.

    Between two neighbours the widest place counts, so that lines may meet at an angle.
    """
    ends = lines.ends_m[:, [1, 0, 3, 2]] if along else lines.ends_m
    size = outline.width_m if along else outline.length_m
    scans = (np.arange(SCANS) + 0.4567) / SCANS * size
    low, high = _borders(outline, scans, along)
    rise = ends[:, 3] - ends[:, 1]
    flat = np.abs(rise) < 1e-12
    share = (scans[None, :] - ends[:, 1:2]) / np.where(flat, 1.0, rise)[:, None]
    place = ends[:, :1] + share * (ends[:, 2:3] - ends[:, :1])
    met = (share >= 0) & (share <= 1) & ~flat[:, None] & (place >= low - 1e-9) & (place <= high + 1e-9)
    # A slanted side is no border along the quilt: what lies between it and a baffle is a corner.
    half = outline.half_m - np.abs(scans[:, None] - outline.width_m / 2)
    first, last = (half[:, 0] >= 0, half[:, -1] >= 0) if along else (True, True)
    borders = np.where(first, low, np.inf), np.where(last, high, np.inf)
    place = np.stack([*np.where(met, place, np.inf), *borders])
    order = np.argsort(place, axis=0, kind="stable")
    place = np.take_along_axis(place, order, axis=0)
    pair = order[:-1] * place.shape[0] + order[1:]
    real = np.isfinite(place[1:]) & (high > low)[None, :]
    if not np.any(real):
        return (outline.length_m if along else outline.width_m), "the ends of the outline"
    pairs, inverse = np.unique(pair[real], return_inverse=True)
    widest = np.zeros(pairs.size)
    np.maximum.at(widest, inverse, (place[1:][real] - place[:-1][real]))
    least = int(np.argmin(widest))
    ends_named = ("the head end", "the foot end") if along else ("the left edge", "the right edge")
    names = (*lines.names, *ends_named)
    one, other = divmod(int(pairs[least]), place.shape[0])
    return float(widest[least]), f"{names[one]} and {names[other]}"


def _borders(outline: Outline, scans: Array, along: bool) -> tuple[Array, Array]:
    middle = outline.width_m / 2
    if not along:
        half = np.interp(scans, outline.position_m, outline.half_m)
        return middle - half, middle + half
    fine = np.linspace(0.0, outline.length_m, 513)
    within = np.interp(fine, outline.position_m, outline.half_m)[None, :] >= np.abs(scans - middle)[:, None]
    return fine[np.argmax(within, axis=1)], fine[fine.size - 1 - np.argmax(within[:, ::-1], axis=1)]
