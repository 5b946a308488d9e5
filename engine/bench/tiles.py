"""On which sheets of paper does a full-size drawing go, how are they named, and where do they overlap?

The drawing is cut into equal cells; each page shows one cell and a strip of its neighbours all round, so that
the line on which two pages meet, and its crosses, are on both. Cells without a line are not printed.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, floor

from engine.draw.compose import Box, clipped
from engine.draw.shapes import Line

MARGIN_MM = 10.0
"""What a home printer may leave blank at each edge (from memory)."""
FOOT_MM = 20.0
"""Name, test lines and page number of each page."""
OVERLAP_MM = 12.0
ROOM_ROUND_MM = 4.0
"""Between the outermost line and the first match line."""
DUST_MM = 1e-6


@dataclass(frozen=True)
class Paper:
    """A sheet as sold, upright."""

    name: str
    width_mm: float
    height_mm: float


PAPERS = {
    paper.name: paper
    for paper in (
        Paper("A4", 210.0, 297.0),
        Paper("Letter", 215.9, 279.4),
        Paper("A3", 297.0, 420.0),
    )
}
"""ISO 216:2007; Letter is 8 1/2 by 11 inches (ANSI/ASME Y14.1)."""


@dataclass(frozen=True)
class Tile:
    """One page: `cell` is its own part of the drawing, `window` what is printed of it."""

    row: int
    column: int
    cell: Box
    window: Box

    @property
    def name(self) -> str:
        """Row letter and column number: B3."""
        return f"{letters(self.row)}{self.column + 1}"


@dataclass(frozen=True)
class Tiling:
    """The pages of one drawing, row by row, and the size of paper as it lies."""

    page_width_mm: float
    page_height_mm: float
    tiles: tuple[Tile, ...]

    def beside(self, tile: Tile, down: int, right: int) -> Tile | None:
        """The printed page so many rows below and columns to the right."""
        wanted = tile.row + down, tile.column + right
        return next((each for each in self.tiles if (each.row, each.column) == wanted), None)


def letters(number: int) -> str:
    """A to Z, then AA, AB, …

    Source  definition
    """
    text = ""
    number += 1
    while number:
        number, rest = divmod(number - 1, 26)
        text = chr(ord("A") + rest) + text
    return text


def tiling(lines: Sequence[Line], bounds: Box, paper: Paper) -> Tiling:
    """The pages that carry a line, upright or turned, whichever takes fewer.

    Units   mm
    Source  definition
    """
    upright = _tiled(lines, bounds, paper.width_mm, paper.height_mm)
    turned = _tiled(lines, bounds, paper.height_mm, paper.width_mm)
    return turned if len(turned.tiles) < len(upright.tiles) else upright


def _tiled(lines: Sequence[Line], bounds: Box, page_width: float, page_height: float) -> Tiling:
    step_x = page_width - 2 * MARGIN_MM - OVERLAP_MM
    step_y = page_height - 2 * MARGIN_MM - FOOT_MM - OVERLAP_MM
    left, top = bounds[0] - ROOM_ROUND_MM, bounds[1] - ROOM_ROUND_MM

    def cell(row: int, column: int) -> Box:
        x, y = left + column * step_x, top + row * step_y
        return x, y, x + step_x, y + step_y

    used = set[tuple[int, int]]()
    for line in lines:
        (x0, y0), (x1, y1) = line.start, line.end
        for row in _cells(min(y0, y1) - top, max(y0, y1) - top, step_y):
            for column in _cells(min(x0, x1) - left, max(x0, x1) - left, step_x):
                if (row, column) not in used and clipped(line, cell(row, column)) is not None:
                    used.add((row, column))
    half = OVERLAP_MM / 2
    tiles = []
    for row, column in sorted(used):
        x0, y0, x1, y1 = box = cell(row, column)
        tiles.append(Tile(row, column, box, (x0 - half, y0 - half, x1 + half, y1 + half)))
    return Tiling(page_width, page_height, tuple(tiles))


def _cells(low: float, high: float, step: float) -> range:
    """Cells that a stretch from low to high touches; a line on the border is on both sides of it."""
    first = max(ceil((low - DUST_MM) / step) - 1, 0)
    return range(first, floor((high + DUST_MM) / step) + 1)
