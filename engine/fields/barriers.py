"""Which baffles bar the way on a plan, which of their ends stand free, and how narrow does it get there?"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot, inf
from typing import Literal, TypeAlias

import numpy as np

from engine.fields.grid import Array, Mask, Outline

Meets: TypeAlias = Literal["free", "rim", "square", "slanted"]
"""Nothing, the outline, a baffle that runs across or along the quilt, or one that runs aslant."""

TOUCH_M = 0.001
"""Nearer than this, a baffle's end is taken to meet the edge or the other baffle: closed."""
MOST_BAFFLES = 2500
_CHUNK = 128


@dataclass(frozen=True)
class Barrier:
    """A straight baffle and what its two ends meet."""

    x0_m: float
    y0_m: float
    x1_m: float
    y1_m: float
    start: Meets
    end: Meets


@dataclass(frozen=True)
class Barriers:
    """All baffles of a plan, overlaps joined."""

    lines: tuple[Barrier, ...]
    narrowest_m: float
    """Least distance from a free end to the rim or to a baffle not joined to its own; may be infinite."""


def barriers_of(outline: Outline, baffles: Sequence[tuple[float, float, float, float]]) -> Barriers:
    """Baffles checked, overlaps joined, and each end looked at.

    Units   m: x0, y0, x1, y1, x across from the left edge at the widest place, y along from the head
    Raises  ValueError for more than MOST_BAFFLES, a baffle without length, outside the outline or not a
            number
    """
    if len(baffles) > MOST_BAFFLES:
        raise ValueError(f"the plan has {len(baffles)} baffles; allowed: {MOST_BAFFLES} or fewer")
    if not baffles:
        return Barriers((), inf)
    lines = np.array(baffles, dtype=float)
    for number, line in enumerate(lines, start=1):
        _refuse_baffle(outline, number, line)
    lines = _joined(lines)
    count = len(lines)
    ends = np.concatenate([lines[:, :2], lines[:, 2:]])
    away = _distances(ends, lines)
    away[np.arange(2 * count), np.tile(np.arange(count), 2)] = inf
    to_rim = _to_rim(outline, ends)
    nearest = np.argmin(away, axis=1)
    slanted = np.all(np.abs(lines[:, :2] - lines[:, 2:]) > TOUCH_M, axis=1)
    met = np.where(slanted[nearest], "slanted", "square")
    touching = np.min(away, axis=1) <= TOUCH_M
    meets = np.where(to_rim <= TOUCH_M, "rim", np.where(touching, met, "free")).reshape(2, count)
    away[np.tile(_connected(lines, away), (2, 1))] = inf
    passage = np.minimum(to_rim, np.min(away, axis=1))[meets.ravel() == "free"]
    barriers = (
        Barrier(float(line[0]), float(line[1]), float(line[2]), float(line[3]), start, end)
        for line, start, end in zip(lines, *meets.tolist(), strict=True)
    )
    return Barriers(tuple(barriers), float(np.min(passage, initial=inf)))


def _connected(lines: Array, away: Array) -> Mask:
    """Which baffles touch or cross which: what stands out beyond a crossing is no passage."""
    touch = np.any(away.reshape(2, len(lines), -1) <= TOUCH_M, axis=0)
    start, run = lines[:, :2], lines[:, 2:] - lines[:, :2]

    def side(points: Array) -> Mask:
        reach = points[None, :, :] - start[:, None, :]
        left: Mask = run[:, None, 0] * reach[:, :, 1] - run[:, None, 1] * reach[:, :, 0] > 0
        return left

    parted: Mask = side(lines[:, :2]) != side(lines[:, 2:])
    joined: Mask = touch | touch.T | (parted & parted.T)
    return joined


def _refuse_baffle(outline: Outline, number: int, line: Array) -> None:
    if not np.all(np.isfinite(line)):
        raise ValueError(f"baffle {number} has an end that is not a number")
    if hypot(line[2] - line[0], line[3] - line[1]) <= TOUCH_M:
        raise ValueError(f"baffle {number} has no length; it needs more than {TOUCH_M * 1000:g} mm")
    outside = outline.depth(line[[0, 2]], line[[1, 3]]) < -TOUCH_M
    if np.any(outside):
        x, y = line[:2] if outside[0] else line[2:]
        raise ValueError(
            f"baffle {number} ends outside the quilt, at {x:g} m across and {y:g} m along; "
            "move or shorten it to lie inside the outline"
        )


def _joined(lines: Array) -> Array:
    """Baffles on one line across or along that overlap or touch become one."""
    kept: list[Array] = []
    for run, still in ((1, 0), (0, 1)):
        straight = np.abs(lines[:, still] - lines[:, still + 2]) <= TOUCH_M
        group = lines[straight]
        lines = lines[~straight]
        low = np.minimum(group[:, run], group[:, run + 2])
        high = np.maximum(group[:, run], group[:, run + 2])
        place = (group[:, still] + group[:, still + 2]) / 2
        # Lines less than a touch apart count as one; the key is the first of them.
        order = np.argsort(place, kind="stable")
        key = np.cumsum(np.diff(place[order], prepend=place[order][:1]) > TOUCH_M) if order.size else order
        for number in np.unique(key):
            chosen = order[key == number]
            at = float(np.mean(place[chosen]))
            for first, last in _merged(low[chosen], high[chosen]):
                kept.append(np.array([first, at, last, at] if run == 0 else [at, first, at, last]))
    return np.array([*kept, *lines])


def _merged(low: Array, high: Array) -> list[tuple[float, float]]:
    spans: list[tuple[float, float]] = []
    for index in np.argsort(low):
        if spans and low[index] <= spans[-1][1] + TOUCH_M:
            spans[-1] = (spans[-1][0], max(spans[-1][1], float(high[index])))
        else:
            spans.append((float(low[index]), float(high[index])))
    return spans


def _to_rim(outline: Outline, points: Array) -> Array:
    """Distance to the nearest side of the outline."""
    half, middle, along = outline.half_m, outline.width_m / 2, outline.position_m
    corners = [(middle - h, y) for h, y in zip(half, along, strict=True)]
    corners += [(middle + h, y) for h, y in zip(half[::-1], along[::-1], strict=True)]
    rim = np.array([(*a, *b) for a, b in zip(corners, corners[1:] + corners[:1], strict=True)])
    nearest: Array = np.min(_distances(points, rim), axis=1)
    return nearest


def _distances(points: Array, lines: Array) -> Array:
    """From each point (rows) to each line (columns), ends included; in chunks, to spare memory."""
    start, run = lines[:, :2], lines[:, 2:] - lines[:, :2]
    square = np.maximum(np.sum(run**2, axis=1), 1e-300)
    table = np.empty((len(points), len(lines)))
    for first in range(0, len(points), _CHUNK):
        reach = points[first : first + _CHUNK, None, :] - start
        share = np.clip(np.sum(reach * run, axis=2) / square, 0.0, 1.0)
        away = reach - share[:, :, None] * run
        table[first : first + _CHUNK] = np.hypot(away[:, :, 0], away[:, :, 1])
    return table
