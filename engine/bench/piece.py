"""What does one shell look like laid flat at full size: seam line, cut line, and where is each place of it?

Millimetres; inside up and head end left, so that the right side of the cloth lies down. Seen so, the two
shells are mirror images: the left edge, where measures start, is on top on the inner and below on the outer.
"""

from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from engine.bench.polygons import size_of
from engine.bench.shell_pieces import CHANNEL_M, shell_of
from engine.design import Design
from engine.draw.shapes import Point
from engine.loft import Loft
from engine.quantities import SIDE_ALLOWANCE_M, end_allowance
from engine.units import MM

Shell = Literal["inner", "outer"]


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
    piece = shell_of(design, loft, shell)
    # The template counts from the seam line at the head and at the widest place of the side.
    seam, cut = (
        tuple(((x - end_allowance(design)) / MM, (y - SIDE_ALLOWANCE_M) / MM) for x, y in outline)
        for outline in (piece.seam, piece.cut)
    )
    length_m, width_m = size_of(piece.seam)
    return Piece(shell, piece.across, piece.along, length_m / MM, width_m / MM, seam, cut)


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


__all__ = ["CHANNEL_M", "Piece", "Shell", "edges", "is_end", "shell_piece"]
