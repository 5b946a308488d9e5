"""How thick does one filled quilt stand at each place of its plan? What every picture of it is drawn from.

Down: the loft map of the layout, at the heights and the amplitude that the scores use. Sheet insulation has
no chambers: it stands at one height and falls over its own thickness to its edges and quilting lines.
"""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from engine.design import Design
from engine.fields.constraints import Edges, Index
from engine.fields.grid import Array, Grid, Outline, grid_of, outline_of
from engine.fields.lines import Segment
from engine.fields.loft_map import RUN_OUT_M, LoftMap
from engine.loft import Loft
from engine.quantities.plan_map import Layout, layout_of, plan_map
from engine.units import MM

SHEET_STEP_M = 0.012
SAME_M = 1e-6
"""Nearer than this, a line lies on a row of nodes."""
HALVINGS = 40


@dataclass(frozen=True)
class ThicknessPlan:
    """Thickness over the flat plan; every baffle and sewn line has nodes of its own, so that none is lost."""

    x_m: Array
    """(nx,) across, from the left edge at the widest place; steps are uneven beside lines."""
    y_m: Array
    """(ny,) along, from the head end."""
    thickness_m: Array
    """(ny, nx), NaN outside."""
    baffles: tuple[Segment, ...]
    sewn: tuple[Segment, ...]
    """Lines on which both shells are stitched together; quilting lines of sheet insulation too."""
    outline: Outline
    mean_m: float
    sheet: bool

    def at(self, x_m: Array, y_m: Array) -> Array:
        """Thickness at places, straight between nodes; NaN where one of the four is outside.

        Shapes  any
        Units   m, m -> m
        Source  definition
        """
        column = np.clip(np.searchsorted(self.x_m, x_m, side="right") - 1, 0, self.x_m.size - 2)
        row = np.clip(np.searchsorted(self.y_m, y_m, side="right") - 1, 0, self.y_m.size - 2)
        right = (x_m - self.x_m[column]) / (self.x_m[column + 1] - self.x_m[column])
        down = (y_m - self.y_m[row]) / (self.y_m[row + 1] - self.y_m[row])
        t = self.thickness_m
        upper = (1 - right) * t[row, column] + right * t[row, column + 1]
        lower = (1 - right) * t[row + 1, column] + right * t[row + 1, column + 1]
        value: Array = (1 - down) * upper + down * lower
        beyond = (x_m < 0) | (x_m > self.x_m[-1]) | (y_m < 0) | (y_m > self.y_m[-1])
        return np.where(beyond, np.nan, value)

    @property
    def corners(self) -> Array:
        """(n, 2) corners of the outline, x and y, closed."""
        return corners_of(self.outline)


def corners_of(outline: Outline) -> Array:
    """Corners of an outline in one round, the first again at the end.

    Shapes  (n, 2)
    Units   m
    Source  definition
    """
    middle, half, y = outline.width_m / 2, outline.half_m, outline.position_m
    left, right = np.column_stack([middle - half, y]), np.column_stack([middle + half, y])
    return np.concatenate([left, right[::-1], left[:1]])


def thickness_plan(design: Design, loft: Loft) -> ThicknessPlan:
    """The plan of one quilt as it stands when filled.

    Source  engine.fields.loft_map; sheet insulation: engine.loft
    """
    layout = layout_of(design)
    outline = outline_of(np.array(layout.position_m), np.array(layout.width_m))
    if float(loft.sheet_kg) > 0:
        return _sheet(design, layout, outline, loft)
    plan = plan_map(design)
    heights, amplitude = _standing(design, loft, plan)
    thickness = np.tensordot(heights, plan.base, axes=1) + amplitude * plan.bulge_m2
    thickness = np.where(plan.inside, thickness, np.nan)
    ramp = min(RUN_OUT_M, outline.width_m / 4, outline.length_m / 4)
    edges = Edges(layout.sides, layout.ends, layout.ends, ramp)
    grid = Grid(outline, plan.x_m, plan.y_m, plan.inside)
    x, y, thickness = _with_lines(plan.x_m, plan.y_m, thickness, layout.baffles + layout.sewn)
    for segment in layout.baffles:
        rows, columns = _nodes_on(x, y, segment)
        at_x, at_y = np.broadcast_arrays(x[columns][None, :], y[rows][:, None])
        held = edges.baffle_values(grid, at_x.ravel(), at_y.ravel()) @ heights
        thickness[np.ix_(rows, columns)] = held.reshape(at_x.shape)
    _press(x, y, thickness, layout.sewn)
    return ThicknessPlan(x, y, thickness, layout.baffles, layout.sewn, outline, float(loft.mean_m), False)


def _standing(design: Design, loft: Loft, plan: LoftMap) -> tuple[Array, float]:
    """Heights in use of baffles, end panels and edge walls, and the amplitude of the bulge."""
    if design.baffles.layout == "sewn-through":
        # Sewn channels are arcs; drawn as the parabolas that hold as much.
        return np.zeros(3), float(loft.mean_m) * plan.area_m2 / plan.bulge_m4
    return np.asarray(loft.heights_m, dtype=float), float(loft.amplitude_per_m)


def _with_lines(
    x: Array, y: Array, thickness: Array, lines: tuple[Segment, ...]
) -> tuple[Array, Array, Array]:
    """The plan with a row or column of nodes on every line, filled in between its neighbours."""
    upright = sorted({round(x0, 9) for x0, _, x1, _ in lines if x0 == x1})
    level = sorted({round(y0, 9) for _, y0, _, y1 in lines if y0 == y1})
    more_x, more_y = (
        [value for value in wanted if np.min(np.abs(nodes - value)) > SAME_M]
        for nodes, wanted in ((x, upright), (y, level))
    )
    thickness = _refined(y, _refined(x, thickness.T, more_x).T, more_y)
    return np.sort([*x, *more_x]), np.sort([*y, *more_y]), thickness


def _refined(nodes: Array, rows: Array, more: list[float]) -> Array:
    """Rows of values with further ones put in at `more`, straight between their neighbours."""
    if not more:
        return rows.copy()
    place = np.array(more)
    after = np.clip(np.searchsorted(nodes, place), 1, nodes.size - 1)
    share = ((place - nodes[after - 1]) / (nodes[after] - nodes[after - 1]))[:, None]
    between = (1 - share) * rows[after - 1] + share * rows[after]
    order = np.argsort(np.concatenate([nodes, place]), kind="stable")
    refined: Array = np.concatenate([rows, between])[order]
    return refined


def _nodes_on(x: Array, y: Array, segment: Segment) -> tuple[Index, Index]:
    """Numbers of the rows and columns of nodes that a straight line covers."""
    x0, y0, x1, y1 = segment
    columns = np.flatnonzero((x >= min(x0, x1) - SAME_M) & (x <= max(x0, x1) + SAME_M))
    rows = np.flatnonzero((y >= min(y0, y1) - SAME_M) & (y <= max(y0, y1) + SAME_M))
    return rows, columns


def _press(x: Array, y: Array, thickness: Array, sewn: tuple[Segment, ...]) -> None:
    """Nothing stands where the shells are stitched together."""
    for segment in sewn:
        place = np.ix_(*_nodes_on(x, y, segment))
        thickness[place] = np.where(np.isnan(thickness[place]), np.nan, 0.0)


def quilting_lines(design: Design, outline: Outline) -> tuple[Segment, ...]:
    """The lines across that hold sheet insulation.

    Source  definition
    """
    if design.fill.quilting_mm <= 0:
        return ()
    step, middle = design.fill.quilting_mm * MM, outline.width_m / 2
    lines = []
    for y in np.arange(step, outline.length_m - 1e-9, step).tolist():
        half = float(np.interp(y, outline.position_m, outline.half_m))
        lines.append((middle - half, y, middle + half, y))
    return tuple(lines)


def _sheet(design: Design, layout: Layout, outline: Outline, loft: Loft) -> ThicknessPlan:
    """Sheet insulation: as high as the nearest edge or line is far, up to one height that keeps the mean."""
    lines = quilting_lines(design, outline) + layout.sewn
    cells = (max(6, round(size / SHEET_STEP_M)) for size in (outline.width_m, outline.length_m))
    grid = grid_of(outline, *cells)
    at_x, at_y = np.meshgrid(grid.x_m, grid.y_m)
    corners = corners_of(outline)
    held = [(*one, *other) for one, other in pairwise(corners)]
    far = np.min([_distance(at_x, at_y, segment) for segment in (*held, *lines)], axis=0)
    mean, cell_m2 = float(loft.mean_m), grid.step_x_m * grid.step_y_m
    low, high = mean, 10 * mean
    for _ in range(HALVINGS):
        flat = (low + high) / 2
        thin = cell_m2 * float(np.sum(np.minimum(flat, far)[grid.inside])) < mean * outline.area_m2
        low, high = (flat, high) if thin else (low, flat)
    inside = outline.depth(at_x, at_y) >= -1e-9
    thickness = np.where(inside, np.minimum((low + high) / 2, far), np.nan)
    x, y, thickness = _with_lines(grid.x_m, grid.y_m, thickness, lines)
    _press(x, y, thickness, lines)
    return ThicknessPlan(x, y, thickness, layout.baffles, lines, outline, mean, True)


def _distance(x_m: Array, y_m: Array, segment: Segment) -> Array:
    """From every point to a straight line with ends."""
    x0, y0, x1, y1 = segment
    run, rise = x1 - x0, y1 - y0
    square = max(run**2 + rise**2, 1e-18)
    share = np.clip(((x_m - x0) * run + (y_m - y0) * rise) / square, 0.0, 1.0)
    away: Array = np.hypot(x_m - x0 - share * run, y_m - y0 - share * rise)
    return away
