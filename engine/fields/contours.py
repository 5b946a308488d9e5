"""Where does a field on a mesh have a given value? Lines for a picture, such as isotherms.

Marching squares: a line enters and leaves each cell through sides whose ends lie on either side of the
level, at the place that straight interpolation gives.
"""

from collections.abc import Iterable
from typing import TypeAlias

import numpy as np

from engine.fields.grid import Array

Side: TypeAlias = tuple[int, int, int]
"""A side of cells: 0 along the first index, 1 along the second, then the node it starts from."""


def isolines(x_m: Array, y_m: Array, value: Array, level: float) -> tuple[Array, ...]:
    """Every line on which a field equals `level`; a closed line ends where it begins.

    Shapes  (m, n) nodes of a mesh of four-sided cells, bent or not -> each (k, 2) points, x and y
    Units   m, m, those of the field -> m
    Range   a node exactly on the level counts as above it; values that are not numbers end a line
    Raises  ValueError when the shapes differ or are not those of a mesh
    Source  linear interpolation (definition)
    """
    if value.ndim != 2 or x_m.shape != value.shape or y_m.shape != value.shape or min(value.shape) < 2:
        raise ValueError(
            f"x_m, y_m and value have shapes {x_m.shape}, {y_m.shape}, {value.shape}; "
            "allowed: one shape, 2 by 2 or more"
        )
    neighbours: dict[Side, list[Side]] = {}
    for one, other in _steps(value, level):
        neighbours.setdefault(one, []).append(other)
        neighbours.setdefault(other, []).append(one)
    nodes = np.stack([x_m, y_m], axis=-1)
    return tuple(
        np.array([_crossing(nodes, value, level, side) for side in chain]) for chain in _chains(neighbours)
    )


def _steps(value: Array, level: float) -> Iterable[tuple[Side, Side]]:
    """The two sides through which a line passes a cell, for each passage."""
    above = value >= level
    corners = np.stack([above[:-1, :-1], above[1:, :-1], above[1:, 1:], above[:-1, 1:]])
    whole = np.isfinite(value[:-1, :-1] + value[1:, :-1] + value[1:, 1:] + value[:-1, 1:])
    mixed = whole & np.any(corners != corners[0], axis=0)
    for i, j in np.argwhere(mixed).tolist():
        around: tuple[Side, ...] = ((0, i, j), (1, i + 1, j), (0, i, j + 1), (1, i, j))
        corner = corners[:, i, j].tolist()
        crossed = [side for at, side in enumerate(around) if corner[at] != corner[(at + 1) % 4]]
        if len(crossed) == 4 and (float(np.mean(value[i : i + 2, j : j + 2])) >= level) != corner[0]:
            # A saddle whose middle is unlike its first corner: that corner and the opposite one are cut off.
            crossed = [crossed[3], *crossed[:3]]
        for first in range(0, len(crossed), 2):
            yield crossed[first], crossed[first + 1]


def _chains(neighbours: dict[Side, list[Side]]) -> Iterable[list[Side]]:
    """Sides in the order in which a line meets them: open lines first, then closed ones."""
    ends = [side for side, near in neighbours.items() if len(near) == 1]
    seen: set[Side] = set()
    for start in (*ends, *neighbours):
        if start in seen:
            continue
        chain, here = [start], start
        seen.add(start)
        while onward := [side for side in neighbours[here] if side not in seen]:
            here = onward[0]
            seen.add(here)
            chain.append(here)
        if len(chain) > 2 and len(neighbours[start]) == 2:
            chain.append(start)
        yield chain


def _crossing(nodes: Array, value: Array, level: float, side: Side) -> Array:
    direction, i, j = side
    one, other = (i, j), (i + 1, j) if direction == 0 else (i, j + 1)
    share = (level - value[one]) / (value[other] - value[one])
    point: Array = nodes[one] + share * (nodes[other] - nodes[one])
    return point
