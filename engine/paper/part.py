"""What is one piece of a page, that its turn never cuts through, and how do pieces stand on one another?"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from engine.draw.compose import placed
from engine.draw.shapes import Drawing, Polygon, Shape, Text
from engine.draw.style import POINT_MM, THIN_MM, Tone

BODY_MM, TABLE_MM, QUIET_MM, SMALL_MM = (points * POINT_MM for points in (11, 10, 9.5, 8))
TITLE_MM, SECTION_MM, HEADING_MM, STRONG_MM, NUMBER_MM = (
    points * POINT_MM for points in (20, 15, 12, 12, 16)
)
LEADING = 1.3
TICK_MM = 3.8
HEAD_ROOM_MM = 22.0
"""Kept for the heading above what is held together, so that both find room on one page."""


@dataclass(frozen=True)
class Part:
    """Something in one piece; its shapes have their origin in its own top left corner.

    `keep`: it stays on the page of the next part. `gap_mm` goes before it, but not at the top of a page.
    `again` stands once more above it where it begins a page: heads of tables, titles of steps.
    """

    height_mm: float
    shapes: tuple[Shape, ...]
    gap_mm: float = 0.0
    keep: bool = False
    again: tuple["Part", ...] = ()


@dataclass(frozen=True)
class Room:
    """Width of text, which leaves a margin for notes; of tables and drawings; and the height of a page."""

    text_mm: float
    wide_mm: float
    height_mm: float

    def less(self, by_mm: float) -> "Room":
        """The same, indented."""
        return Room(self.text_mm - by_mm, self.wide_mm - by_mm, self.height_mm)


def height_of(parts: Sequence[Part]) -> float:
    """Of parts one under the other at the top of a page.

    Units   mm
    Source  definition
    """
    return sum(part.height_mm for part in parts) + sum(part.gap_mm for part in parts[1:])


def held_together(parts: Sequence[Part], room_mm: float) -> tuple[Part, ...]:
    """Parts that stay on one page, if one can hold them.

    Source  definition
    """
    if not parts or height_of(parts) > room_mm - HEAD_ROOM_MM:
        # At least a heading and what is said under it stay with what they are about.
        return (*(replace(part, keep=True) for part in parts[:2]), *parts[2:])
    return (*(replace(part, keep=True) for part in parts[:-1]), parts[-1])


def stacked(parts: Sequence[Part], x_mm: float, y_mm: float) -> tuple[float, tuple[Shape, ...]]:
    """Parts one under the other from a place: where they end, and their shapes.

    Units   mm
    Source  definition
    """
    shapes: list[Shape] = []
    for place, part in enumerate(parts):
        y_mm += part.gap_mm if place else 0.0
        shapes += moved(part.shapes, x_mm, y_mm)
        y_mm += part.height_mm
    return y_mm, tuple(shapes)


def moved(shapes: Sequence[Shape], x_mm: float = 0.0, y_mm: float = 0.0) -> tuple[Shape, ...]:
    """Shapes at another place.

    Units   mm
    Source  definition
    """
    return placed(Drawing(0.0, 0.0, "", "", tuple(shapes)), x_mm, y_mm)


def text_lines(
    lines: Sequence[str], size_mm: float, bold: bool = False, tone: Tone = "ink", x_mm: float = 0.0
) -> tuple[float, tuple[Shape, ...]]:
    """Height and shapes of lines of text, from their top.

    Units   mm
    Source  definition
    """
    step = size_mm * LEADING
    shapes = tuple(
        Text((x_mm, (place + 0.5) * step), line, size_mm, "start", bold=bold, tone=tone)
        for place, line in enumerate(lines)
        if line
    )
    return step * len(lines), shapes


def tick_box(x_mm: float, middle_mm: float) -> Polygon:
    """A box to tick, its left edge at x.

    Source  definition
    """
    top, bottom = middle_mm - TICK_MM / 2, middle_mm + TICK_MM / 2
    corners = ((x_mm, top), (x_mm + TICK_MM, top), (x_mm + TICK_MM, bottom), (x_mm, bottom))
    return Polygon(corners, width_mm=THIN_MM)
