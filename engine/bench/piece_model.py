"""What is one piece of cloth of a quilt: its outline, its allowances, how it lies on the cloth, what to mark?

A piece is drawn as it is marked: x along the piece, from the head of the quilt or along a strip, y across,
with its box at 0, 0. Shells and their panels are drawn inside up, head at x = 0, as on the template: the left
edge has the smaller y on the inner shell and the larger on the outer.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Literal

from engine.bench.polygons import Outline, Point, area_of, size_of

Grain = Literal["along", "across", "either"]
RightSide = Literal["down", "either"]
MarkKind = Literal["head", "foot", "left", "right", "side", "datum", "dart", "channel", "footbox", "join"]

STRIPS = ("baffles", "edge walls", "end panels")
"""Parts that are strips between the shells; each is cut with its inner edge first."""
SAME_M = 1e-6


@dataclass(frozen=True)
class Allowance:
    """Cloth beyond the seam line at one edge, and what joins it there."""

    edge: str
    width_m: float
    joint: str
    method: str
    """Name of the method; nothing where the edge is cut at the seam line."""


@dataclass(frozen=True)
class PieceMark:
    """Something to mark: words at a point, or a line of two or more points."""

    kind: MarkKind
    text: str
    points: tuple[Point, ...]


@dataclass(frozen=True)
class Note:
    """A sentence for the maker; lengths in m stand at their {names}, for the reader's own unit."""

    text: str
    lengths_m: dict[str, float] = field(default_factory=dict)
    edge: str = ""
    """The edge that it is about; a panel without that edge does not need it."""

    def said(self, length: Callable[[float], str]) -> str:
        """The sentence with its lengths.

        Source  definition
        """
        return self.text.format(**{name: length(value) for name, value in self.lengths_m.items()})


@dataclass(frozen=True)
class Piece:
    """Pieces of one size. Outlines and area are of one piece."""

    name: str
    part: str
    """Name of its part in the bill."""
    group: str
    count: int
    mirrored: int
    """How many of the count are cut as mirror images."""
    goods: str | None
    """Id of its fabric or sheet; None for scraps of any strong cloth."""
    areal_kg_m2: float
    cut: Outline
    seam: Outline
    """The seam line, in the same place as the cut outline."""
    finished_m: tuple[float, float]
    """Length and width that it finishes at in the filled quilt: seam to seam, less draw-in."""
    grain: Grain
    """Which way of the piece lies along the roll. Across: turned, since the roll is too narrow. Either: a
    strip of cloth that stretches neither way, cut along the roll or from selvedge to selvedge."""
    right_side: RightSide
    allowances: tuple[Allowance, ...]
    marks: tuple[PieceMark, ...] = ()
    notes: tuple[Note, ...] = ()
    exact_area_m2: float | None = None
    """Area of a piece with a curved edge, which its outline only comes near to."""

    @property
    def cut_m(self) -> tuple[float, float]:
        """Length and width of the box that it is cut from."""
        return size_of(self.cut)

    @property
    def seam_m(self) -> tuple[float, float]:
        """Length and width from seam line to seam line, laid flat."""
        return size_of(self.seam)

    @property
    def long_edges_m(self) -> tuple[float, float]:
        """Inner and outer edge of a strip as it is cut, end allowances included; alike unless a trapezoid."""
        if not self.is_strip:
            return self.cut_m[0], self.cut_m[0]
        (a, _), (b, _), (c, _), (d, _) = self.cut
        return b - a, c - d

    @property
    def is_strip(self) -> bool:
        """It stands between the two shells."""
        return self.part in STRIPS

    @property
    def is_trapezoid(self) -> bool:
        """A strip whose outer edge is longer than its inner one."""
        inner, outer = self.long_edges_m
        return abs(outer - inner) > SAME_M

    @property
    def area_m2(self) -> float:
        """Cloth in one piece."""
        return area_of(self.cut) if self.exact_area_m2 is None else self.exact_area_m2

    @property
    def mass_kg(self) -> float:
        """Of all pieces."""
        return self.count * self.area_m2 * self.areal_kg_m2
