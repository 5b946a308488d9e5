"""Which lines and crosses are on a template, where on the cloth, and what is written beside each?"""

from dataclasses import dataclass, replace

import numpy as np

from engine.bench.measures import Ruler
from engine.bench.piece import CHANNEL_M, Piece, edges, is_end
from engine.bench.rows import Row, Run, row_groups
from engine.catalogue.load import Catalogue
from engine.design import Design
from engine.draw.compose import Box, clipped
from engine.draw.letters import NBSP
from engine.draw.shapes import Line, Point
from engine.draw.style import STROKES
from engine.layout import stations
from engine.units import MM

CROSS_EVERY_M = 0.5
"""Datum crosses along the shell, by which it is laid straight (common practice, no source)."""


@dataclass(frozen=True)
class Mark:
    """A straight line at full size; `label` is written beside it, `name` where there is no room for that."""

    kind: str
    line: Line
    label: str
    name: str = ""


@dataclass(frozen=True)
class Cross:
    """A place that is found again on the cloth by its measures from the datum edges."""

    at: Point
    label: str


def line_of(kind: str, start: Point, end: Point) -> Line:
    """A line drawn as lines of its kind are.

    Source  definition
    """
    stroke = STROKES[kind]
    return Line(start, end, stroke.tone, stroke.width_mm, stroke.dash_mm)


def all_marks(design: Design, piece: Piece, catalogue: Catalogue, ruler: Ruler) -> tuple[Mark, ...]:
    """Every line of one shell.

    Units   mm
    Source  definition
    """
    return (
        *outline_marks(piece),
        *row_marks(design, piece, catalogue, ruler),
        *_end_marks(design, piece),
    )


def outline_marks(piece: Piece) -> tuple[Mark, ...]:
    """Seam line and cut line.

    Source  definition
    """
    found = []
    for kind, outline in (("cut line", piece.cut), ("seam line", piece.seam)):
        for edge in edges(outline):
            found.append(Mark(kind, line_of(kind, *edge), _edge_label(kind, edge, piece), kind))
    return tuple(found)


def _edge_label(kind: str, edge: tuple[Point, Point], piece: Piece) -> str:
    """The seam line names its edge, so that no page is without a side to hold on to."""
    middle = (edge[0][0] + edge[1][0]) / 2, (edge[0][1] + edge[1][1]) / 2
    if is_end(edge):
        name = "HEAD" if middle[0] < piece.length_mm / 2 else "FOOT"
    else:
        name = "LEFT EDGE" if (middle[1] < piece.width_mm / 2) == piece.datum_is_up else "RIGHT EDGE"
    return f"{name}, {kind}"


def row_marks(design: Design, piece: Piece, catalogue: Catalogue, ruler: Ruler) -> tuple[Mark, ...]:
    """Baffles, sewn lines and quilting lines, each with its running measure on this shell.

    Units   mm
    Source  engine.layout
    """
    found = []
    for group in row_groups(design, catalogue):
        for row in group.rows:
            place = _place(row, group.run, piece)
            for index, line in enumerate(row.lines):
                ends = piece.at(line.x0_m, line.y0_m), piece.at(line.x1_m, line.y1_m)
                name = row.name_of(index)
                label = f"{group.kind} {name} at {ruler.text(place)}{NBSP}{ruler.unit}"
                found.append(Mark(group.kind, line_of(group.kind, *ends), label, name))
    return tuple(found)


def _place(row: Row, run: Run, piece: Piece) -> float:
    return row.place_m * (piece.stretch_across if run == "lengthwise" else piece.stretch_along)


def _end_marks(design: Design, piece: Piece) -> tuple[Mark, ...]:
    """Cord channels, darts and the start of the footbox."""
    ends, found = design.ends, list[Mark]()
    if ends.shape == "gathered":
        found += [
            _across("cord channel", u, design, piece)
            for u in (CHANNEL_M / MM, piece.length_mm - CHANNEL_M / MM)
        ]
    if ends.shape == "darted":
        found += [dart for at_head in (True, False) for dart in _darts(design, piece, at_head)]
    footbox_m = design.top.footbox_length_mm * MM
    if (
        design.kind == "top quilt"
        and design.top.footbox != "none"
        and footbox_m < design.outline.length_mm * MM
    ):
        start = (design.outline.length_mm * MM - footbox_m) / MM * piece.stretch_along
        found.append(_across("footbox", start, design, piece))
    return tuple(found)


def _half_width(u_mm: float, design: Design, piece: Piece) -> float:
    position, width = stations(design.outline)
    return float(np.interp(u_mm * MM / piece.stretch_along, position, width)) / MM * piece.stretch_across / 2


def _across(kind: str, u_mm: float, design: Design, piece: Piece) -> Mark:
    half, middle = _half_width(u_mm, design, piece), piece.width_mm / 2
    return Mark(kind, line_of(kind, (u_mm, middle - half), (u_mm, middle + half)), kind, kind)


def _darts(design: Design, piece: Piece, at_head: bool) -> list[Mark]:
    """Both legs of each dart of one end: the same size in both shells, at the same share of the width."""
    ends = design.ends
    end = 0.0 if at_head else piece.length_mm
    tip = end + (ends.dart_length_mm if at_head else -ends.dart_length_mm)
    half, found = _half_width(end, design, piece), list[Mark]()
    for index in range(ends.dart_count):
        place = piece.width_mm / 2 - half + 2 * half * (index + 1) / (ends.dart_count + 1)
        for side in (-ends.dart_width_mm / 2, ends.dart_width_mm / 2):
            found.append(Mark("dart", line_of("dart", (end, place + side), (tip, place)), "dart", "dart"))
    return found


def datum_crosses(piece: Piece, ruler: Ruler) -> tuple[Cross, ...]:
    """Crosses on both edges and the middle, every half metre of the inner shell along.

    Units   mm
    Source  common practice, no source
    """
    length_m = piece.length_mm * MM / piece.stretch_along
    width_m = piece.width_mm * MM / piece.stretch_across
    found = []
    for along in (*np.arange(0.0, length_m - 0.1, CROSS_EVERY_M), length_m):
        for across in (0.0, width_m / 2, width_m):
            found.append(cross_at(float(across), float(along), piece, ruler))
    return tuple(found)


def cross_at(across_m: float, along_m: float, piece: Piece, ruler: Ruler) -> Cross:
    """One cross by its measures on the inner shell, labelled with those on this one.

    Units   m
    Source  definition
    """
    along, across = along_m * piece.stretch_along, across_m * piece.stretch_across
    label = f"along {ruler.text(along)}, across {ruler.text(across)}{NBSP}{ruler.unit}"
    return Cross(piece.at(across_m, along_m), label)


def kept_within(marks: tuple[Mark, ...], box: Box) -> tuple[Mark, ...]:
    """The parts of lines inside a box.

    Source  definition
    """
    found = []
    for mark in marks:
        line = clipped(mark.line, box)
        if line is not None:
            found.append(replace(mark, line=line))
    return tuple(found)


def bounds_of(marks: tuple[Mark, ...], crosses: tuple[Cross, ...]) -> Box:
    """The smallest box round all lines and crosses.

    Units   mm
    Source  definition
    """
    points = [point for mark in marks for point in (mark.line.start, mark.line.end)]
    points += [cross.at for cross in crosses]
    across, down = [x for x, _ in points], [y for _, y in points]
    return min(across), min(down), max(across), max(down)


def is_symmetric(marks: tuple[Mark, ...], piece: Piece) -> bool:
    """Whether one half of a shell is the mirror image of the other about the centre line.

    Source  definition
    """

    def key(start: Point, end: Point) -> tuple[tuple[float, float], ...]:
        return tuple(sorted((round(x, 3) + 0.0, round(y, 3) + 0.0) for x, y in (start, end)))

    def turned(point: Point) -> Point:
        return point[0], piece.width_mm - point[1]

    here = {(mark.kind, key(mark.line.start, mark.line.end)) for mark in marks}
    there = {(mark.kind, key(turned(mark.line.start), turned(mark.line.end))) for mark in marks}
    return here == there
