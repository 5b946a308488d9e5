"""What does one shell look like laid flat at full size: seam line, cut line, and where is each place of it?

Millimetres; inside up and head end left, so that the right side of the cloth lies down. Seen so, the two
shells are mirror images: the left edge, where measures start, is on top on the inner and below on the outer.
"""

from dataclasses import dataclass
from itertools import pairwise
from math import hypot
from typing import Literal

import numpy as np

from engine.design import Design
from engine.draw.shapes import Point
from engine.layout import stations
from engine.loft import Loft
from engine.quantities import SIDE_ALLOWANCE_M, end_allowance
from engine.units import MM

Shell = Literal["inner", "outer"]
CHANNEL_M = 0.016
"""Flat width of a cord channel, 15 to 20 mm (common practice, no source)."""


@dataclass(frozen=True)
class Piece:
    """One shell; `seam` and `cut` are closed, clockwise from the top left corner."""

    shell: Shell
    stretch_across: float
    stretch_along: float
    length_mm: float
    width_mm: float
    seam: tuple[Point, ...]
    cut: tuple[Point, ...]

    def at(self, across_m: float, along_m: float) -> Point:
        """A place of the quilt, by its measures on the inner shell, on this shell.

        Units   m, m -> mm
        Source  definition
        """
        across = across_m / MM * self.stretch_across
        return along_m / MM * self.stretch_along, across if self.shell == "inner" else self.width_mm - across

    @property
    def datum_is_up(self) -> bool:
        """Whether the left edge is the upper one."""
        return self.shell == "inner"


def shell_piece(design: Design, loft: Loft, shell: Shell) -> Piece:
    """The inner shell as designed, or the outer one with every position moved by the differential cut.

    Units   mm
    Source  definition; allowances as in the bill of parts
    """
    outer = shell == "outer"
    across = float(loft.outer_stretch_across) if outer else 1.0
    along = float(loft.outer_stretch_along) if outer else 1.0
    position, width = stations(design.outline)
    places = position / MM * along
    halves = width / MM * across / 2
    middle = float(np.max(halves))
    upper = [(float(u), middle - float(h)) for u, h in zip(places, halves, strict=True)]
    lower = [(float(u), middle + float(h)) for u, h in zip(places, halves, strict=True)]
    seam = _corners([*upper, *reversed(lower)])
    cut = _outside(seam, SIDE_ALLOWANCE_M / MM, end_allowance(design) / MM)
    return Piece(shell, across, along, float(places[-1]), 2 * middle, seam, cut)


def edges(outline: tuple[Point, ...]) -> tuple[tuple[Point, Point], ...]:
    """The sides of a closed outline.

    Source  definition
    """
    return tuple(pairwise((*outline, outline[0])))


def is_end(edge: tuple[Point, Point]) -> bool:
    """Whether an edge is the head or foot end and not a side.

    Source  definition
    """
    return abs(edge[0][0] - edge[1][0]) < 1e-6


def _corners(points: list[Point]) -> tuple[Point, ...]:
    """The outline without points that lie on a straight edge."""
    kept = []
    for before, here, after in zip([points[-1], *points[:-1]], points, [*points[1:], points[0]], strict=True):
        turn = (here[0] - before[0]) * (after[1] - here[1]) - (here[1] - before[1]) * (after[0] - here[0])
        if abs(turn) > 1e-6 * hypot(here[0] - before[0], here[1] - before[1]):
            kept.append(here)
    return tuple(kept)


def _outside(seam: tuple[Point, ...], side_mm: float, end_mm: float) -> tuple[Point, ...]:
    """The outline with each edge moved outwards by its allowance; moved edges meet where they cross."""
    moved = []
    for edge in edges(seam):
        (x0, y0), (x1, y1) = edge
        away = end_mm if is_end(edge) else side_mm
        length = hypot(x1 - x0, y1 - y0)
        out = (y1 - y0) / length * away, -(x1 - x0) / length * away
        moved.append(((x0 + out[0], y0 + out[1]), (x1 + out[0], y1 + out[1])))
    return tuple(
        _crossing(before, here) for before, here in zip([moved[-1], *moved[:-1]], moved, strict=True)
    )


def _crossing(one: tuple[Point, Point], other: tuple[Point, Point]) -> Point:
    (x0, y0), (x1, y1) = one
    (x2, y2), (x3, y3) = other
    cross = (x1 - x0) * (y3 - y2) - (y1 - y0) * (x3 - x2)
    t = ((x2 - x0) * (y3 - y2) - (y2 - y0) * (x3 - x2)) / cross
    return x0 + t * (x1 - x0), y0 + t * (y1 - y0)
