"""Where the baffles stand on the inner shell: running measures across from the left edge at the widest
place and along from the head end, in metres.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from engine.design import Design, Outline
from engine.units import MM

LENGTHWISE_STOP_M = 0.062
"""Full lengthwise baffles stop 50 to 75 mm short of the ends (common practice, no source)."""
FIRST_PIECE_M = 0.090
"""First staggered baffle from the end, 75 to 120 mm (common practice, no source)."""
NO_PIECE_WITHIN_M = 0.070
"""No short baffle nearer to a closed edge: the corner could not be filled."""
SHORTEST_PIECE_M = 0.040
"""A short baffle that an edge would leave less of is left out; the least that a baffle may be cut to."""


@dataclass(frozen=True)
class BaffleLine:
    """One baffle or sewn line, from one end to the other."""

    x0_m: float
    y0_m: float
    x1_m: float
    y1_m: float

    @property
    def length_m(self) -> float:
        """Its length on the inner shell."""
        return float(np.hypot(self.x1_m - self.x0_m, self.y1_m - self.y0_m))


@dataclass(frozen=True)
class BafflePlan:
    """All baffles of a design, and the chambers between them."""

    lines: tuple[BaffleLine, ...]
    chamber_count: int
    chamber_width_m: float
    """Flat width of a full chamber on the inner shell; the first and last are narrower."""


def stations(outline: Outline) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Positions from the head and full widths of the four stations that draw an outline.

    Shapes  (4,), (4,)
    Units   m, m
    Source  definition
    """
    length, width = outline.length_mm * MM, outline.width_mm * MM
    if outline.shape == "taper":
        turn = max(outline.taper_from_mm * MM, 1e-3)
        foot = outline.foot_width_mm * MM
        middle = (turn + length) / 2
        return np.array([0.0, turn, middle, length]), np.array([width, width, (width + foot) / 2, foot])
    if outline.shape == "tapered ends":
        # Ends that meet in the middle leave a sliver of full width, so that the stations run on.
        run = min(outline.end_run_mm * MM, length / 2 - 0.5e-3)
        end = width - 2 * outline.end_inset_mm * MM
        return np.array([0.0, run, length - run, length]), np.array([end, width, width, end])
    return length * np.array([0.0, 1 / 3, 2 / 3, 1.0]), np.full(4, width)


def divide(size_m: float, pitch_m: float, end_share: float) -> tuple[int, float]:
    """How many chambers fit across, and the width of a full one, so that the row closes.

    The first and the last chamber are `end_share` of a full one.

    Units   m, m, share -> count (at least 1), m
    Source  definition
    """
    full = max(round((size_m - 2 * end_share * pitch_m) / pitch_m), 0)
    if full == 0:
        count = 2 if size_m > pitch_m else 1
        return count, size_m / count
    return full + 2, size_m / (full + 2 * end_share)


def _edges_between(count: int, pitch_m: float, end_share: float, size_m: float) -> list[float]:
    if count == 1:
        return []
    first = size_m / 2 if count == 2 else end_share * pitch_m
    return [first + index * pitch_m for index in range(count - 1)]


def plan_baffles(design: Design) -> BafflePlan:
    """Every baffle of a design, from its layout, chamber width and outline.

    Units   m
    Source  definition
    """
    position, width = stations(design.outline)
    widest, length = float(np.max(width)), float(position[-1])
    baffles = design.baffles
    share, pitch = baffles.end_chamber_percent / 100, baffles.spacing_mm * MM
    if baffles.layout == "none":
        return BafflePlan((), 1, widest)
    if baffles.layout == "full, crosswise":
        count, actual = divide(length, pitch, share)
        rows = _edges_between(count, actual, share, length)
        halves = [float(np.interp(y, position, width)) / 2 for y in rows]
        lines = tuple(
            BaffleLine(widest / 2 - h, y, widest / 2 + h, y) for y, h in zip(rows, halves, strict=True)
        )
        return BafflePlan(lines, count, actual)
    count, actual = divide(widest, pitch, share)
    columns = _edges_between(count, actual, share, widest)
    lengthwise = [_inside(x - widest / 2, position, width) for x in columns]
    if baffles.layout == "staggered":
        return BafflePlan(_staggered(design, columns, lengthwise), count, actual)
    if baffles.layout == "alternating":
        along_count, along_pitch = divide(length, pitch, share)
        rows = _edges_between(along_count, along_pitch, share, length)
        return BafflePlan(_alternating(design, columns, rows, lengthwise), count, actual)
    stop = 0.0 if baffles.layout == "sewn-through" else LENGTHWISE_STOP_M
    lines = tuple(
        BaffleLine(x, start + stop, x, end - stop)
        for x, (start, end) in zip(columns, lengthwise, strict=True)
        if end - start > 2 * stop + 0.02
    )
    return BafflePlan(lines, count, actual)


def _inside(
    offset_m: float, position: NDArray[np.float64], width: NDArray[np.float64]
) -> tuple[float, float]:
    """From where to where a lengthwise line at this distance from the middle lies inside the outline."""
    fine = np.linspace(0.0, position[-1], 2001)
    inside = fine[np.interp(fine, position, width) / 2 >= abs(offset_m) - 1e-9]
    return (float(inside[0]), float(inside[-1])) if inside.size else (0.0, 0.0)


def _staggered(
    design: Design, columns: list[float], spans: list[tuple[float, float]]
) -> tuple[BaffleLine, ...]:
    piece, gap = design.baffles.piece_length_mm * MM, design.baffles.gap_mm * MM
    lines = []
    for row, (x, (start, end)) in enumerate(zip(columns, spans, strict=True)):
        y = start + FIRST_PIECE_M + (row % 2) * (piece + gap) / 2
        while y + piece <= end - NO_PIECE_WITHIN_M + 1e-9:
            lines.append(BaffleLine(x, y, x, y + piece))
            y += piece + gap
    return tuple(lines)


def _alternating(
    design: Design, columns: list[float], rows: list[float], spans: list[tuple[float, float]]
) -> tuple[BaffleLine, ...]:
    """Short baffles round the crossings of a lattice, lengthwise and crosswise in turn."""
    position, width = stations(design.outline)
    half, widest = design.baffles.piece_length_mm * MM / 2, float(np.max(width))
    lines = []
    for row, y in enumerate(rows):
        inner = float(np.interp(y, position, width)) / 2 - NO_PIECE_WITHIN_M
        for column, (x, (start, end)) in enumerate(zip(columns, spans, strict=True)):
            lengthwise = (row + column) % 2 == 0
            middle, low, high = (
                (y, start + NO_PIECE_WITHIN_M, end - NO_PIECE_WITHIN_M)
                if lengthwise
                else (x, widest / 2 - inner, widest / 2 + inner)
            )
            first, last = max(middle - half, low), min(middle + half, high)
            if last - first < SHORTEST_PIECE_M or abs(x - widest / 2) > inner + NO_PIECE_WITHIN_M:
                continue
            lines.append(BaffleLine(x, first, x, last) if lengthwise else BaffleLine(first, y, last, y))
    return tuple(lines)
