"""Which nodes of a plan lie inside the quilt, and how fine must they be?

A plan is a symmetric outline with straight sides: x runs across from the left edge at the widest
place, y along from the head end, both in metres. Nodes form a rectangle round it, at even steps.
"""

from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

Array: TypeAlias = NDArray[np.float64]
Mask: TypeAlias = NDArray[np.bool_]

USUAL_CELLS = 144 * 72
"""Cells of the rectangle round the plan where no chamber asks for more."""
CELLS_A_CHAMBER = 8
FEWEST_CELLS_A_CHAMBER = 6
LARGEST_NODES = 40_000
"""But for rounding up."""
SMALLEST_M, LARGEST_M = 0.05, 5.0
_TOUCH = 1e-9
"""Share of a cell within which a node counts as lying on the edge."""


@dataclass(frozen=True)
class Outline:
    """Half widths at stations from the head end; straight in between, the same left and right."""

    position_m: Array
    half_m: Array

    @property
    def width_m(self) -> float:
        """Full width at the widest place."""
        return 2 * float(np.max(self.half_m))

    @property
    def length_m(self) -> float:
        """From head to foot end."""
        return float(self.position_m[-1])

    @property
    def area_m2(self) -> float:
        """Area inside."""
        return float(np.sum(np.diff(self.position_m) * (self.half_m[1:] + self.half_m[:-1])))

    def side_depth(self, x_m: Array, y_m: Array) -> Array:
        """How far inside the nearer long side a point lies, measured across; negative outside."""
        half: Array = np.interp(y_m, self.position_m, self.half_m) - np.abs(x_m - self.width_m / 2)
        return half

    def depth(self, x_m: Array, y_m: Array) -> Array:
        """Positive inside, zero on the outline, negative outside (not a distance on slanted sides)."""
        return np.minimum(self.side_depth(x_m, y_m), np.minimum(y_m, self.length_m - y_m))


def outline_of(position_m: Array, width_m: Array) -> Outline:
    """The outline through stations, checked.

    Shapes  (n,), (n,) with n from 2 up
    Units   m, m (full widths)
    Raises  ValueError naming the station or the size that is wrong
    """
    position, width = np.asarray(position_m, float), np.asarray(width_m, float)
    if position.ndim != 1 or position.shape != width.shape or position.size < 2:
        raise ValueError("an outline needs two or more stations, each with a position and a width")
    if not (np.all(np.isfinite(position)) and np.all(np.isfinite(width))):
        raise ValueError("a station of the outline is not a number")
    if position[0] != 0 or np.any(np.diff(position) <= 0):
        raise ValueError("the stations of an outline must start at 0 and run on from head to foot")
    if np.any(width < 0):
        raise ValueError(f"width_m is {np.min(width):g} m at a station; it cannot be negative")
    for name, size in (("length", position[-1]), ("width", np.max(width))):
        if not SMALLEST_M * (1 - _TOUCH) <= size <= LARGEST_M * (1 + _TOUCH):
            raise ValueError(
                f"the outline's {name} is {size:g} m; allowed: {SMALLEST_M:g} to {LARGEST_M:g} m"
            )
    if np.any(width[1:-1] <= 0):
        raise ValueError("the outline has no width at a station between its ends")
    return Outline(position, width / 2)


@dataclass(frozen=True)
class Grid:
    """Even steps over the rectangle round an outline; arrays of nodes have the shape (ny, nx)."""

    outline: Outline
    x_m: Array
    y_m: Array
    inside: Mask

    @property
    def step_x_m(self) -> float:
        """Between nodes across."""
        return float(self.x_m[1] - self.x_m[0])

    @property
    def step_y_m(self) -> float:
        """Between nodes along."""
        return float(self.y_m[1] - self.y_m[0])


def grid_of(outline: Outline, cells_across: int, cells_along: int) -> Grid:
    """A grid of so many cells.

    Raises  ValueError below 2 cells either way or when no node lies inside
    """
    if cells_across < 2 or cells_along < 2:
        raise ValueError(f"a grid of {cells_across} by {cells_along} cells is too coarse")
    x = np.linspace(0.0, outline.width_m, cells_across + 1)
    y = np.linspace(0.0, outline.length_m, cells_along + 1)
    depth = outline.depth(x[None, :], y[:, None])
    inside = depth > _TOUCH * min(x[1], y[1])
    if not np.any(inside):
        raise ValueError(f"a grid of {cells_across} by {cells_along} cells has no node inside the outline")
    return Grid(outline, x, y, inside)


def default_cells(
    outline: Outline, chamber_x: tuple[float, str], chamber_y: tuple[float, str]
) -> tuple[int, int]:
    """Cells across and along: 8 or more in the narrowest chamber each way, 40,000 nodes at most.

    `chamber_x` and `chamber_y` hold the narrowest chamber measured across and along, in m, and the
    names of what it lies between.

    Raises  ValueError when that would leave fewer than 6 cells in the narrowest chamber
    """
    usual = float(np.sqrt(outline.width_m * outline.length_m / USUAL_CELLS))
    wanted = [min(usual, max(width, _TOUCH) / CELLS_A_CHAMBER) for width, _ in (chamber_x, chamber_y)]
    across, along = outline.width_m / wanted[0], outline.length_m / wanted[1]
    coarser = max(1.0, float(np.sqrt((across + 1) * (along + 1) / LARGEST_NODES)))
    (width, between), step = min(
        zip((chamber_x, chamber_y), wanted, strict=True), key=lambda chamber: chamber[0][0] / chamber[1]
    )
    if width < (FEWEST_CELLS_A_CHAMBER - _TOUCH) * step * coarser:
        # Nodes go with 1 / width, or with its square where chambers are narrow both ways.
        power = 1 if max(wanted) < usual else 2
        least = max(width, _TOUCH) * (coarser * FEWEST_CELLS_A_CHAMBER / CELLS_A_CHAMBER) ** power
        raise ValueError(
            f"the chamber between {between} is {1000 * width:.3g} mm wide, too narrow for the loft map "
            f"of a quilt of this size; allowed: {1000 * least:.2g} mm or more"
        )
    # In steps of six, so that moving one line by millimetres seldom means another grid.
    return 6 * int(np.ceil(across / coarser / 6 - _TOUCH)), 6 * int(np.ceil(along / coarser / 6 - _TOUCH))
