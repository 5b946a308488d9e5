"""What is written beside the lines of one page, and where, so that no page is without names?"""

from dataclasses import replace
from math import atan2, cos, degrees, hypot, pi, sin

from engine.bench.marks import Cross, Mark
from engine.draw.compose import Box, clipped
from engine.draw.letters import text_width_mm
from engine.draw.shapes import Line, Point, Shape, Text, Ticks
from engine.draw.style import CROSS_MM, LEAST_TEXT_MM, THIN_MM

SIZE_MM = LEAST_TEXT_MM
CLEAR_MM = 3.0
"""What a label leaves free at both ends of its line."""
BESIDE_MM = SIZE_MM * 0.5 + 1.2
CROSS_LENGTH_MM = 12.0
WITH_ENDS = ("baffle", "sewn line")
EVERY_MM = 600.0
"""On one large page a long line is named so often."""


def lines_within(marks: tuple[Mark, ...], window: Box) -> list[Shape]:
    """The lines of a page, cut off at its window, with a stroke across each end of a baffle or sewn line.

    Source  definition
    """
    found = list[Shape]()
    for mark in marks:
        line = clipped(mark.line, window)
        if line is None:
            continue
        found.append(line)
        if mark.kind in WITH_ENDS:
            ends = tuple(point for point in (mark.line.start, mark.line.end) if inside(point, window))
            turn = degrees(atan2(line.end[1] - line.start[1], line.end[0] - line.start[0]))
            found.append(Ticks(ends, 4.0, turn, "ink", THIN_MM))
    return found


def crosses_within(crosses: tuple[Cross, ...], window: Box) -> list[Shape]:
    """Datum crosses, each with its measures on the side where the most of the shell is, if there is room.

    Source  definition
    """
    found = list[Shape]()
    middle = sum(cross.at[0] for cross in crosses) / max(len(crosses), 1)
    for cross in crosses:
        if not inside(cross.at, window):
            continue
        found += [Ticks((cross.at,), CROSS_LENGTH_MM, turn, "ink", CROSS_MM) for turn in (0.0, 90.0)]
        width, (x, y) = text_width_mm(cross.label, SIZE_MM), cross.at
        right = x + 2 + width <= window[2] and (x <= middle or x - 2 - width < window[0])
        below = y + 6 <= window[3]
        at = (x + 2 if right else x - 2, y + 4 if below else y - 4)
        found.append(Text(at, cross.label, SIZE_MM, "start" if right else "end", tone="quiet"))
    return found


def names_within(marks: tuple[Mark, ...], cell: Box) -> list[Shape]:
    """A label beside the part of each line that is in the cell, long where it fits, else short, else none.

    Source  definition
    """
    found = list[Shape]()
    for mark in marks:
        line = clipped(mark.line, cell)
        if line is None:
            continue
        label = _beside(mark, line)
        if label is not None:
            found.append(label)
    return found


def names_along(marks: tuple[Mark, ...]) -> list[Shape]:
    """The labels of one large page: a long line is named again and again.

    Source  definition
    """
    found = list[Shape]()
    for mark in marks:
        (x0, y0), (x1, y1) = mark.line.start, mark.line.end
        parts = max(round(hypot(x1 - x0, y1 - y0) / EVERY_MM), 1)
        for part in range(parts):
            first, last = part / parts, (part + 1) / parts
            line = replace(
                mark.line,
                start=(x0 + first * (x1 - x0), y0 + first * (y1 - y0)),
                end=(x0 + last * (x1 - x0), y0 + last * (y1 - y0)),
            )
            label = _beside(mark, line)
            if label is not None:
                found.append(label)
    return found


def _beside(mark: Mark, line: Line) -> Text | None:
    (x0, y0), (x1, y1) = line.start, line.end
    room = hypot(x1 - x0, y1 - y0) - 2 * CLEAR_MM
    for text in (mark.label, mark.name):
        if text and text_width_mm(text, SIZE_MM) <= room:
            break
    else:
        return None
    turn = atan2(y1 - y0, x1 - x0)
    if not -pi / 2 - 1e-9 <= turn <= pi / 2 - 1e-9:
        turn -= pi
    # Above the line as it is read.
    at = (x0 + x1) / 2 + sin(turn) * BESIDE_MM, (y0 + y1) / 2 - cos(turn) * BESIDE_MM
    return Text(at, text, SIZE_MM, "middle", degrees(turn))


def inside(point: Point, box: Box) -> bool:
    """Whether a point is in a box or on its border.

    Source  definition
    """
    return box[0] <= point[0] <= box[2] and box[1] <= point[1] <= box[3]
