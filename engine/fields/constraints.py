"""How do baffles, sewn lines and edges hold the field between the nodes of a grid?

A line that crosses the link between two nodes cuts it: each node is tied to the line's value with the
conductance of its part of the link. So a line may lie anywhere, and the field changes smoothly as it moves.

An open end needs care, for the field has a square-root singularity there. On the even lattice the half
infinite line is solved exactly by Wiener-Hopf factorisation (own derivation): a line that cuts its last
link at 0 and no further acts as a line that ends `tip_reach` steps beyond; and tying the next point with
`tip_grip` moves the acting end by the share `covered` of a step. Both are used backwards here.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from engine.fields.grid import Array, Grid

Index = NDArray[np.intp]
KINDS = 3
"""Base fields: baffles, end panels, edge walls."""
EDGE_VALUES = {
    "closed": np.zeros(KINDS),
    "panel": np.array([0.0, 1.0, 0.0]),
    "wall": np.array([0.0, 0.0, 1.0]),
}
"""What an edge lends to each base field: stitched together, a panel, or a wall of its own height."""
FIRM = 1e12
"""Conductance of a tie that is as good as fixed."""
NEAREST = 1e-6
"""Share of a link that is kept between a line and a node, for finite conductances."""
LEFT, RIGHT, HEAD, FOOT = -1, -2, -3, -4


@dataclass(frozen=True)
class Lines:
    """Straight constraints from end to end: baffles that stand (value 1) and sewn lines (value 0)."""

    ends_m: Array
    """Shape (n, 4): x0, y0, x1, y1."""
    stands: NDArray[np.bool_]
    names: tuple[str, ...]


@dataclass(frozen=True)
class Edges:
    """What closes each edge, 'closed', 'panel' or 'wall', and over what length heights run out to it."""

    sides: str
    head: str
    foot: str
    ramp_m: float

    def end_values(self, grid: Grid, x_m: Array, y_m: Array) -> Array:
        """Values (n, 3) on the head and foot ends, falling to those of the sides at the corners."""
        head = (y_m < grid.outline.length_m / 2)[:, None]
        own = np.where(head, EDGE_VALUES[self.head], EDGE_VALUES[self.foot])
        full = np.clip(grid.outline.side_depth(x_m, y_m) / self.ramp_m, 0.0, 1.0)[:, None]
        values: Array = full * own + (1 - full) * EDGE_VALUES[self.sides]
        return values

    def end_energy(self, grid: Grid) -> Array:
        """(3, 3) energy in the half cells along both ends, which lie beyond the outermost links."""
        total = np.zeros((KINDS, KINDS))
        for kind, half in ((self.head, grid.outline.half_m[0]), (self.foot, grid.outline.half_m[-1])):
            rise = EDGE_VALUES[kind] - EDGE_VALUES[self.sides]
            total += np.outer(rise, rise) * grid.step_y_m * min(self.ramp_m, float(half)) / self.ramp_m**2
        return total

    def baffle_values(self, grid: Grid, x_m: Array, y_m: Array) -> Array:
        """Values (n, 3) on baffles, whose height runs out to that of the nearest edge."""
        outline = grid.outline
        slope = np.diff(outline.half_m) / np.diff(outline.position_m)
        piece = np.clip(np.searchsorted(outline.position_m, y_m) - 1, 0, slope.size - 1)
        away = np.stack(
            [outline.side_depth(x_m, y_m) / np.hypot(1.0, slope[piece]), y_m, outline.length_m - y_m]
        )
        nearest = np.stack([EDGE_VALUES[kind] for kind in (self.sides, self.head, self.foot)])
        full = np.clip(np.min(away, axis=0) / self.ramp_m, 0.0, 1.0)[:, None]
        values: Array = (1 - full) * nearest[np.argmin(away, axis=0)]
        values[:, :1] += full
        return values


def tip_reach(place: Array, squeeze: float) -> Array:
    """Steps by which a line acts too long beyond the last link it cuts.

    `place` is where it cuts that link, 0 to 1; `squeeze` the square of (link length / step along).
    A line on the nodes of square cells: sqrt(2) / 4 = 0.354, a quarter of the diagonal.

    Source  Wiener-Hopf factorisation of the five-point lattice, own derivation
    """
    between = np.sqrt(1 + 4 * place * (1 - place) * squeeze)
    reach: Array = np.sqrt(1 + squeeze) / 4 - (between - 1) / 2
    return reach


def tip_grip(covered: Array, place: Array, squeeze: float) -> Array:
    """Conductance that ties the next point of a line which covers it by a share, 0 free and 1 firm.

    Source  driving-point impedance beside a half-infinite line, as tip_reach
    """
    between = np.sqrt(1 + 4 * place * (1 - place) * squeeze)
    unit = (1 + np.sqrt(1 + squeeze)) / ((1 + between) / 2) ** 2
    open_share = np.maximum(1 - covered, unit / FIRM)
    grip: Array = unit * covered / open_share
    return grip


@dataclass(frozen=True)
class Crossings:
    """Points where lines cut links: which link, where on it, how firmly, at what value, whose."""

    row: Index
    cell: Index
    place: Array
    grip: Array
    values: Array
    owner: Index


def line_crossings(grid: Grid, lines: Lines, edges: Edges, turned: bool) -> Crossings:
    """Where lines cut the links across (or, turned, those along), open ends corrected."""
    step, row_step = grid.step_x_m, grid.step_y_m
    rows = grid.y_m.size
    ends = lines.ends_m
    if turned:
        step, row_step, rows, ends = row_step, step, grid.x_m.size, ends[:, [1, 0, 3, 2]]
    run, rise = ends[:, 2] - ends[:, 0], ends[:, 3] - ends[:, 1]
    length = np.hypot(run, rise)
    # Arc length from one cut link to the next, both directions of links together.
    stride = length / (np.abs(run) / step + np.abs(rise) / row_step)
    margin = stride * np.abs(rise) / length
    low = np.minimum(ends[:, 1], ends[:, 3]) - margin
    high = np.maximum(ends[:, 1], ends[:, 3]) + margin
    first = np.maximum(np.ceil(low / row_step), 1).astype(np.intp)
    last = np.minimum(np.floor(high / row_step), rows - 2).astype(np.intp)
    count = np.where(np.abs(rise) > 1e-9 * length, np.maximum(last - first + 1, 0), 0)
    line = np.repeat(np.arange(count.size), count)
    row = np.arange(line.size) - np.repeat(np.cumsum(count) - count, count) + first[line]
    share = (row * row_step - ends[line, 1]) / rise[line]
    across = ends[line, 0] + share * run[line]
    cells = (grid.y_m.size if turned else grid.x_m.size) - 1
    cell = np.clip(np.floor(across / step), 0, cells - 1).astype(np.intp)
    place = across / step - cell
    squeeze = (step / row_step) ** 2
    away = np.maximum(grid.outline.depth(lines.ends_m[:, 0::2], lines.ends_m[:, 1::2]), 0.0)
    # A line that runs into the edge has no open end there.
    reach = tip_reach(np.clip(place, 0, 1), squeeze)[:, None] * np.minimum(1.0, away / stride[:, None])[line]
    along = share * length[line] / stride[line]
    since, until = along - reach[:, 0] + 1, length[line] / stride[line] - reach[:, 1] - along + 1
    covered = np.clip(since, 0, 1) + np.clip(until, 0, 1) - 1
    keep = (covered > 0) & (place > -NEAREST) & (place < 1 + NEAREST)
    line, row, cell, place, across = line[keep], row[keep], cell[keep], place[keep], across[keep]
    level = row * row_step
    x, y = (level, across) if turned else (across, level)
    values = np.where(lines.stands[line][:, None], edges.baffle_values(grid, x, y), 0.0)
    place = np.clip(place, NEAREST, 1 - NEAREST)
    return Crossings(row, cell, place, tip_grip(covered[keep], place, squeeze), values, line + 1)


def edge_crossings(grid: Grid, edges: Edges, turned: bool) -> Crossings:
    """Where the outline cuts the links from a node inside to one outside."""
    outline, inside = grid.outline, grid.inside.T if turned else grid.inside
    row, cell = np.nonzero(inside[:, :-1] != inside[:, 1:])
    leaves = inside[row, cell]
    start, step, level = (
        (grid.y_m[cell], grid.step_y_m, grid.x_m[row])
        if turned
        else (grid.x_m[cell], grid.step_x_m, grid.y_m[row])
    )
    near, far = np.where(leaves, 0.0, 1.0), np.where(leaves, 1.0, 0.0)
    for _ in range(40):
        middle = (near + far) / 2
        at = start + middle * step
        within = outline.depth(level, at) > 0 if turned else outline.depth(at, level) > 0
        near, far = np.where(within, middle, near), np.where(within, far, middle)
    x, y = (level, start + near * step) if turned else (start + near * step, level)
    at_end = turned & (outline.side_depth(x, y) > NEAREST * grid.step_x_m)
    values = np.where(
        np.broadcast_to(at_end, x.shape)[:, None], edges.end_values(grid, x, y), EDGE_VALUES[edges.sides]
    )
    side = np.where(x < outline.width_m / 2, LEFT, RIGHT)
    owner = np.where(at_end, np.where(y < outline.length_m / 2, HEAD, FOOT), side)
    place = np.clip(near, NEAREST, 1 - NEAREST)
    return Crossings(row, cell, place, np.full(place.shape, FIRM), values, owner)
