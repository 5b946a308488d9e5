"""What becomes of an outline when it is cut apart, turned, mirrored, or laid against another?

Outlines are those of pieces: a line square to an axis goes in once and out once.
"""

from itertools import pairwise
from typing import Literal, TypeAlias

Point: TypeAlias = tuple[float, float]
Outline: TypeAlias = tuple[Point, ...]
Axis: TypeAlias = Literal[0, 1]
STRAIGHT = 1e-12
"""Twice the area, in m2, that a corner may span and still count as a point on a straight side."""


def area_of(outline: Outline) -> float:
    """Area inside a closed outline.

    Units   m -> m2
    Source  definition (shoelace formula)
    """
    ring = pairwise((*outline, outline[0]))
    return abs(sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in ring)) / 2


def size_of(outline: Outline) -> tuple[float, float]:
    """Length along x and width along y of the box round an outline.

    Source  definition
    """
    across = [point[0] for point in outline]
    down = [point[1] for point in outline]
    return max(across) - min(across), max(down) - min(down)


def moved(outline: Outline, x_m: float, y_m: float) -> Outline:
    """The outline shifted.

    Source  definition
    """
    return tuple((x + x_m, y + y_m) for x, y in outline)


def to_corner(outline: Outline) -> Outline:
    """The outline shifted so that its box starts at 0, 0.

    Source  definition
    """
    return moved(outline, -min(x for x, _ in outline), -min(y for _, y in outline))


def turned(outline: Outline, degrees: int) -> Outline:
    """The outline turned by a whole number of right angles, its box at 0, 0 again.

    Source  definition
    """
    quarters = degrees // 90 % 4
    for _ in range(quarters):
        outline = tuple((-y, x) for x, y in outline)
    return to_corner(outline)


def mirrored(outline: Outline) -> Outline:
    """The mirror image about the line along x, its box at 0, 0 again.

    Source  definition
    """
    return to_corner(tuple((x, -y) for x, y in reversed(outline)))


def between(outline: Outline, axis: Axis, low: float, high: float) -> Outline:
    """What of an outline lies between two lines square to an axis (0: x, 1: y).

    Source  Sutherland and Hodgman, Communications of the ACM 17 (1974), for one half-plane at a time
    """
    for line, keeps_above in ((low, True), (high, False)):
        kept = list[Point]()
        for start, end in pairwise((*outline, outline[0])):
            first, last = start[axis] - line, end[axis] - line
            if not keeps_above:
                first, last = -first, -last
            if first >= 0:
                kept.append(start)
            if first * last < 0:
                share = first / (first - last)
                kept.append((start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])))
        outline = tuple(kept)
    return corners_of(outline)


def corners_of(outline: Outline) -> Outline:
    """The outline without points that lie on a straight side, or on each other.

    Source  definition
    """
    apart = [
        here
        for before, here in zip((outline[-1], *outline[:-1]), outline, strict=True)
        if max(abs(before[0] - here[0]), abs(before[1] - here[1])) > 1e-9
    ]
    kept = []
    for before, here, after in zip([apart[-1], *apart[:-1]], apart, [*apart[1:], apart[0]], strict=True):
        turn = (here[0] - before[0]) * (after[1] - here[1]) - (here[1] - before[1]) * (after[0] - here[0])
        if abs(turn) > STRAIGHT:
            kept.append(here)
    return tuple(kept)


def reach(outline: Outline, axis: Axis, place: float) -> tuple[float, float]:
    """From where to where an outline reaches, square to an axis, at a place on that axis.

    Source  definition
    """
    other = 1 - axis
    found = list[float]()
    for start, end in pairwise((*outline, outline[0])):
        low, high = sorted((start[axis], end[axis]))
        if not low - 1e-12 <= place <= high + 1e-12:
            continue
        if high - low < 1e-12:
            found += [start[other], end[other]]
            continue
        share = min(max((place - start[axis]) / (end[axis] - start[axis]), 0.0), 1.0)
        found.append(start[other] + share * (end[other] - start[other]))
    return min(found), max(found)


def nesting(first: Outline, second: Outline, axis: Axis) -> float:
    """How far along an axis the second outline must be shifted to lie against the first, behind it.

    Both stay as they are across that axis. Where they meet their borders touch and nothing overlaps.

    Units   m
    Source  definition: a straight border against another is farthest in at a corner of one of them
    """
    other: Axis = 1 if axis == 0 else 0
    places = sorted({point[other] for outline in (first, second) for point in outline})
    ends = [(min(p[other] for p in outline), max(p[other] for p in outline)) for outline in (first, second)]
    low, high = max(start for start, _ in ends), min(end for _, end in ends)
    shared = [place for place in places if low <= place <= high]
    if not shared:
        return 0.0
    return max(reach(first, other, place)[1] - reach(second, other, place)[0] for place in shared)
