"""How much harder is it for the fill to wander through the quilt with its baffles than without any?

The fill is taken to creep as water seeps: through every free place alike, round the baffles and never
through them, driven from head to foot (along) or from one long side to the other (across). The index is
the resistance it meets, over that of the same outline without baffles.

Finite volumes on cells whose faces lie on the baffles; a baffle cuts the links that it crosses. A grid
makes a baffle act too long; its free ends are drawn back by 0.34 of a cell, and a link that is open by a
share c passes c / (2 - c). Against the closed
form for rows of slits: within 0.9 % from 6 cells to a gap, 1.8 % from 4, 4 % from 3. With 12,000 cells
both indices of a rectangle take about 0.1 s, a tapered outline twice that.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import inf, isfinite, pi, sqrt

import numpy as np
from scipy.sparse import coo_array, csc_array
from scipy.sparse.csgraph import connected_components
from scipy.sparse.linalg import splu

from engine.fields.barriers import Barrier, barriers_of
from engine.fields.grid import Array, Mask, Outline, outline_of

DRAWN_BACK = 1 / pi
"""Of the cell across the baffle; matches the closed form for cells from half to twice as wide as long."""
CELLS_A_PASSAGE = 6
FEWEST_CELLS_A_PASSAGE = 3
USUAL_CELLS, LARGEST_CELLS = 12_000, 120_000


@dataclass(frozen=True)
class Drift:
    """Resistance to creeping fill, 1 without baffles; infinite where baffles close the way altogether."""

    along: float
    """From head to foot."""
    across: float
    """From long side to long side."""
    cell_m: float

    @property
    def across_over_along(self) -> float | None:
        """How many times harder fill moves across than along; infinite when only across is closed.

        None when both ways are closed: there is nothing to compare.
        """
        if not isfinite(self.along):
            return 0.0 if isfinite(self.across) else None
        return self.across / self.along


@dataclass(frozen=True)
class _Plan:
    """Cell faces, which cells lie inside the outline, and how open each link between two cells is."""

    outline: Outline
    x_m: Array
    y_m: Array
    inside: Mask
    open_x: Array
    open_y: Array


def drift(
    position_m: Array,
    width_m: Array,
    baffles: Sequence[tuple[float, float, float, float]],
    cell_m: float | None = None,
) -> Drift:
    """Drift index of an outline with baffles given by their two ends.

    Baffles across or along the quilt count where they stand; slanted ones are stepped from cell to cell.
    Passages below 1 mm count as closed.

    Shapes  (n,), (n,) stations of the outline, full widths
    Units   m: x0, y0, x1, y1, x across from the left edge at the widest place, y along from the head
    Raises  ValueError for an outline or a baffle that cannot be, more than 2,500 baffles, a passage too
            narrow for the largest grid
    Source  Laplace flow, checked against a closed form (conformal map of slit rows); as a measure of
            drift: own judgement
    """
    outline = outline_of(position_m, width_m)
    barriers = barriers_of(outline, baffles)
    cell = _cell(outline, barriers.narrowest_m) if cell_m is None else cell_m
    plan = _plan(outline, barriers.lines, cell)
    along, across = _bare(plan)
    return Drift(_resistance(plan, along=True) / along, _resistance(plan, along=False) / across, cell)


def _cell(outline: Outline, narrowest_m: float) -> float:
    """Six cells to the narrowest passage, three where that would be too many cells."""
    usual, least = sqrt(outline.area_m2 / USUAL_CELLS), sqrt(outline.area_m2 / LARGEST_CELLS)
    if narrowest_m < FEWEST_CELLS_A_PASSAGE * least:
        raise ValueError(
            f"a passage beside a baffle's end is {narrowest_m * 1000:.0f} mm wide; allowed on a quilt of "
            f"this size: {FEWEST_CELLS_A_PASSAGE * least * 1000:.0f} mm or more, or closed (below 1 mm)"
        )
    return max(min(usual, narrowest_m / CELLS_A_PASSAGE), least)


def _plan(outline: Outline, barriers: Sequence[Barrier], cell_m: float) -> _Plan:
    """The grid with its links."""
    x = _lines(outline.width_m, [b.x0_m for b in barriers if b.x0_m == b.x1_m], cell_m)
    y = _lines(outline.length_m, [b.y0_m for b in barriers if b.y0_m == b.y1_m], cell_m)
    middle_x, middle_y = (x[1:] + x[:-1]) / 2, (y[1:] + y[:-1]) / 2
    inside = outline.side_depth(middle_x[:, None], middle_y) > 0
    open_x, open_y = np.ones((x.size - 2, y.size - 1)), np.ones((x.size - 1, y.size - 2))
    for barrier in barriers:
        start, end = _drawn_back(barrier, cell_m, _cell_across(barrier, x, y, cell_m))
        _cut(open_x, x, y, start, end)
        _cut(open_y.T, y, x, start[::-1], end[::-1])
    return _Plan(outline, x, y, inside, _passing(open_x), _passing(open_y))


def _bare(plan: _Plan) -> tuple[float, float]:
    """Resistance along and across without baffles, on the same grid."""
    outline = plan.outline
    if np.ptp(outline.half_m) == 0:
        return outline.length_m / outline.width_m, outline.width_m / outline.length_m
    bare = replace(plan, open_x=np.ones_like(plan.open_x), open_y=np.ones_like(plan.open_y))
    return _resistance(bare, along=True), _resistance(bare, along=False)


def _lines(size_m: float, wanted_m: Sequence[float], cell_m: float) -> Array:
    """Cell faces from 0 to the size that lie on every wanted line, or within a sixth of a cell of it."""
    marks = [0.0]
    for mark in sorted(wanted_m):
        if marks[-1] + cell_m / 3 < mark < size_m - cell_m / 3:
            marks.append(mark)
    marks.append(size_m)
    runs = [np.linspace(a, b, max(1, round((b - a) / cell_m)) + 1)[:-1] for a, b in pairwise(marks)]
    return np.concatenate([*runs, [size_m]])


def _cell_across(barrier: Barrier, x: Array, y: Array, cell_m: float) -> float:
    """How far apart the middles of the cells are between which a baffle stands."""
    for lines, start, end in ((x, barrier.x0_m, barrier.x1_m), (y, barrier.y0_m, barrier.y1_m)):
        if start == end and lines.size > 2:
            face = 1 + int(np.argmin(np.abs(lines[1:-1] - start)))
            return float(lines[face + 1] - lines[face - 1]) / 2
    return cell_m


def _drawn_back(barrier: Barrier, cell_m: float, across_m: float) -> tuple[Array, Array]:
    """The two ends as the grid takes them: a free end gives way, one that meets something reaches past."""
    reach = {"free": -DRAWN_BACK * across_m, "rim": cell_m, "square": 0.2 * cell_m, "slanted": cell_m}
    start, end = np.array([barrier.x0_m, barrier.y0_m]), np.array([barrier.x1_m, barrier.y1_m])
    length = float(np.hypot(*(end - start)))
    back, on = reach[barrier.start], reach[barrier.end]
    if length + back + on <= 0:
        return start, start
    way = (end - start) / length
    return start - back * way, end + on * way


def _cut(openness: Array, x: Array, y: Array, start: Array, end: Array) -> None:
    """Take from each link across x, row by row along y, the share of its face that a baffle covers."""
    if start[1] > end[1]:
        start, end = end, start
    low, high = np.clip(start[1], y[:-1], y[1:]), np.clip(end[1], y[:-1], y[1:])
    share = (high - low) / np.diff(y)
    rows = np.flatnonzero(share > 0)
    if rows.size == 0:
        return
    place = np.interp((low + high)[rows] / 2, [start[1], end[1]], [start[0], end[0]])
    middle = (x[1:] + x[:-1]) / 2
    link = np.searchsorted(middle, place) - 1
    between = (link >= 0) & (link < openness.shape[0])
    openness[link[between], rows[between]] -= share[rows[between]]


def _passing(openness: Array) -> Array:
    """What a link passes, of what it would pass if wholly open."""
    share = np.where(openness > 1e-9, openness, 0.0)
    passed: Array = share / (2 - share)
    return passed


def _resistance(plan: _Plan, along: bool) -> float:
    """Resistance between the two ends or the two sides; infinite when no way leads from one to the other."""
    width, height = np.diff(plan.x_m), np.diff(plan.y_m)
    middle_x, middle_y = (plan.x_m[1:] + plan.x_m[:-1]) / 2, (plan.y_m[1:] + plan.y_m[:-1]) / 2
    inside = plan.inside
    link_x = plan.open_x * height / np.diff(middle_x)[:, None] * (inside[1:] & inside[:-1])
    link_y = plan.open_y * width[:, None] / np.diff(middle_y) * (inside[:, 1:] & inside[:, :-1])
    source, sink = np.zeros(inside.shape), np.zeros(inside.shape)
    if along:
        source[:, 0] = width / (height[0] / 2) * inside[:, 0]
        sink[:, -1] = width / (height[-1] / 2) * inside[:, -1]
    else:
        rows = np.flatnonzero(np.any(inside, axis=0))
        first = np.argmax(inside, axis=0)[rows]
        last = inside.shape[0] - 1 - np.argmax(inside[::-1], axis=0)[rows]
        depth = plan.outline.side_depth(middle_x[:, None], middle_y)
        source[first, rows] = height[rows] / depth[first, rows]
        sink[last, rows] = height[rows] / depth[last, rows]
    return _between(link_x, link_y, source, sink)


def _between(link_x: Array, link_y: Array, source: Array, sink: Array) -> float:
    number = np.arange(source.size).reshape(source.shape)
    one = np.concatenate([number[:-1].ravel(), number[:, :-1].ravel()])
    other = np.concatenate([number[1:].ravel(), number[:, 1:].ravel()])
    link = np.concatenate([link_x.ravel(), link_y.ravel()])
    there = link > 0
    one, other, link = one[there], other[there], link[there]
    shape = (source.size, source.size)
    _, part = connected_components(coo_array((link, (one, other)), shape=shape), directed=False)
    # Only parts that touch both ends carry a flow; the rest would leave the matrix singular.
    fed, drained = np.unique(part[source.ravel() > 0]), np.unique(part[sink.ravel() > 0])
    carries = np.isin(part, np.intersect1d(fed, drained))
    if not np.any(carries):
        return inf
    one, other, link = (values[carries[one]] for values in (one, other, link))
    renumbered = np.cumsum(carries) - 1
    one, other = renumbered[one], renumbered[other]
    into, out = source.ravel()[carries], sink.ravel()[carries]
    count = into.size
    diagonal = into + out + np.bincount(one, link, count) + np.bincount(other, link, count)
    every = np.arange(count)
    rows, columns = np.concatenate([one, other, every]), np.concatenate([other, one, every])
    matrix = csc_array(coo_array((np.concatenate([-link, -link, diagonal]), (rows, columns))))
    options = {"SymmetricMode": True}
    level = splu(matrix, permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0, options=options).solve(into)
    return 1 / float(np.sum(out * level))
