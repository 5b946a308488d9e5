"""What is a composed shape made of, where does it go when a drawing is placed on another, what is cut off?

Hatching, ticks and dimensions become lines and text here, once, so that no renderer draws them its own way.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from math import atan2, cos, degrees, hypot, pi, radians, sin
from typing import TypeAlias

from engine.draw.shapes import (
    Basic,
    Circle,
    Dimension,
    Drawing,
    Hatch,
    Line,
    Modules,
    Point,
    Polygon,
    Polyline,
    Shape,
    Text,
    Ticks,
)
from engine.draw.style import HAIR_MM

Box: TypeAlias = tuple[float, float, float, float]
"""Left, top, right, bottom."""


def basics(shapes: Iterable[Shape]) -> Iterator[Basic]:
    """Shapes as lines, outlines, text and squares only.

    Source  definition
    """
    for shape in shapes:
        match shape:
            case Ticks():
                yield from _ticks(shape)
            case Dimension():
                yield from _dimension(shape)
            case Polygon(hatch=Hatch()):
                yield replace(shape, hatch=None, width_mm=0.0, tone="none")
                yield from hatching(shape)
                yield replace(shape, hatch=None, fill="none")
            case _:
                yield shape


def placed(drawing: Drawing, x_mm: float, y_mm: float, scale: float = 1.0) -> tuple[Shape, ...]:
    """The shapes of a drawing with its origin elsewhere; letters and line widths keep their size.

    Units   mm of paper
    Source  definition
    """

    def move(point: Point) -> Point:
        return x_mm + point[0] * scale, y_mm + point[1] * scale

    return tuple(_moved(shape, move, scale) for shape in drawing.shapes)


def _moved(shape: Shape, to: Callable[[Point], Point], scale: float) -> Shape:
    match shape:
        case Line() | Dimension():
            return replace(shape, start=to(shape.start), end=to(shape.end))
        case Polyline() | Polygon():
            return replace(shape, points=tuple(to(point) for point in shape.points))
        case Circle():
            return replace(shape, centre=to(shape.centre), radius_mm=shape.radius_mm * scale)
        case Text():
            return replace(shape, at=to(shape.at))
        case Modules():
            return replace(shape, at=to(shape.at), size_mm=shape.size_mm * scale)
        case Ticks():
            return replace(shape, places=tuple(to(place) for place in shape.places))


def clipped(line: Line, box: Box) -> Line | None:
    """The part of a line inside a box, its dashes where they were; None where nothing of it is inside.

    Source  Liang and Barsky, ACM Transactions on Graphics 3 (1984), 1-22
    """
    (x0, y0), (x1, y1) = line.start, line.end
    across, down = x1 - x0, y1 - y0
    first, last = 0.0, 1.0
    for slope, room in (
        (-across, x0 - box[0]),
        (across, box[2] - x0),
        (-down, y0 - box[1]),
        (down, box[3] - y0),
    ):
        if slope == 0:
            if room < 0:
                return None
        elif slope < 0:
            first = max(first, room / slope)
        else:
            last = min(last, room / slope)
    if first >= last:
        return None
    gone = line.dash_from_mm + first * hypot(across, down)
    start = (x0 + first * across, y0 + first * down) if first > 0 else line.start
    end = (x0 + last * across, y0 + last * down) if last < 1 else line.end
    return replace(line, start=start, end=end, dash_from_mm=gone)


def hatching(polygon: Polygon) -> tuple[Line, ...]:
    """The lines of a polygon's hatch, cut off at its outline.

    Source  definition (even-odd rule)
    """
    hatch = polygon.hatch
    if hatch is None:
        return ()
    turn = radians(hatch.angle_deg)
    along, beside = (cos(turn), -sin(turn)), (sin(turn), cos(turn))
    corners = [(x * along[0] + y * along[1], x * beside[0] + y * beside[1]) for x, y in polygon.points]
    lowest, highest = min(v for _, v in corners), max(v for _, v in corners)
    lines = list[Line]()
    level = (lowest // hatch.spacing_mm + 0.5) * hatch.spacing_mm
    while level < highest:
        cuts = sorted(_crossings(corners, level))
        for u0, u1 in zip(cuts[::2], cuts[1::2], strict=False):
            ends = tuple(
                (u * along[0] + level * beside[0], u * along[1] + level * beside[1]) for u in (u0, u1)
            )
            lines.append(Line(ends[0], ends[1], polygon.tone, hatch.width_mm))
        level += hatch.spacing_mm
    return tuple(lines)


def _crossings(corners: list[Point], level: float) -> Iterator[float]:
    for (u0, v0), (u1, v1) in zip(corners, [*corners[1:], corners[0]], strict=True):
        if (v0 <= level) != (v1 <= level):
            yield u0 + (level - v0) / (v1 - v0) * (u1 - u0)


def _ticks(ticks: Ticks) -> Iterator[Line]:
    turn = radians(ticks.turned_deg)
    x, y = sin(turn) * ticks.length_mm / 2, -cos(turn) * ticks.length_mm / 2
    for at_x, at_y in ticks.places:
        yield Line((at_x - x, at_y - y), (at_x + x, at_y + y), ticks.tone, ticks.width_mm)


def _dimension(d: Dimension) -> Iterator[Line | Text]:
    """Line, end ticks, thin lines back to what is measured, and the value above its middle."""
    (x0, y0), (x1, y1) = d.start, d.end
    length = hypot(x1 - x0, y1 - y0)
    if length == 0:
        return
    right = -(y1 - y0) / length, (x1 - x0) / length
    shift = right[0] * d.beside_mm, right[1] * d.beside_mm
    start, end = (x0 + shift[0], y0 + shift[1]), (x1 + shift[0], y1 + shift[1])
    yield Line(start, end, d.tone, HAIR_MM)
    turn = atan2(y1 - y0, x1 - x0)
    yield from _ticks(Ticks((start, end), 3.0, degrees(turn) % 180, d.tone))
    if d.beside_mm:
        yield Line(d.start, start, d.tone, HAIR_MM)
        yield Line(d.end, end, d.tone, HAIR_MM)
    # Readable from below or from the right: never upside down.
    read = turn if -pi / 2 - 1e-9 <= turn <= pi / 2 - 1e-9 else turn - pi
    up = sin(read) * 0.8 * d.size_mm, -cos(read) * 0.8 * d.size_mm
    middle = (start[0] + end[0]) / 2 + up[0], (start[1] + end[1]) / 2 + up[1]
    yield Text(middle, d.text, d.size_mm, "middle", degrees(read), tone=d.tone)
