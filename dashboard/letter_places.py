"""Where does a letter stand beside its mark, so that it covers no other mark and no other letter?"""

from collections.abc import Sequence
from typing import TypeAlias

Box: TypeAlias = tuple[float, float, float, float]

MARK_PX, LETTER_PX, LINE_PX = 16, 8.5, 18
NARROW_PX = (270.0, 300.0)
"""The plot on the narrowest phone: letters that do not collide there do not collide on anything wider."""
NEAR = ((1, 1), (-1, 1), (1, -1), (-1, -1), (1, 0), (-1, 0), (0, 1), (0, -1))
FAR = ((1, 2), (-1, 2), (1, -2), (-1, -2))
PLACES = NEAR + FAR
"""Round the mark, right and up first; a line further off where marks lie in a heap."""


def places(
    points: Sequence[tuple[float, float, int]], x_range: tuple[float, float], y_range: tuple[float, float]
) -> list[tuple[float, float]]:
    """For each point (x, y, signs in its text) the shift of its text in px: the first free place."""
    across = NARROW_PX[0] / (x_range[1] - x_range[0])
    up = NARROW_PX[1] / (y_range[1] - y_range[0])
    centres = [((x - x_range[0]) * across, (y - y_range[0]) * up) for x, y, _ in points]
    taken = [_box(centre, MARK_PX, MARK_PX) for centre in centres]
    shifts = []
    for (_, _, signs), centre in zip(points, centres, strict=True):
        width = LETTER_PX * signs
        tried = [_shift(place, width) for place in PLACES]
        boxes = [_box((centre[0] + dx, centre[1] + dy), width, LINE_PX) for dx, dy in tried]
        faults = [_faults(box, taken) for box in boxes]
        best = faults.index(min(faults))
        taken.append(boxes[best])
        shifts.append(tried[best])
    return shifts


def _shift(place: tuple[int, int], width: float) -> tuple[float, float]:
    side, level = place
    off = LINE_PX / 2 + (3 if side else MARK_PX / 2) + LINE_PX * (abs(level) - 1)
    return side * (width / 2 + MARK_PX / 2 + 1), off * ((level > 0) - (level < 0))


def _box(centre: tuple[float, float], width: float, height: float) -> Box:
    return centre[0] - width / 2, centre[1] - height / 2, centre[0] + width / 2, centre[1] + height / 2


def _faults(box: Box, taken: Sequence[Box]) -> float:
    """Overlaps, an end outside the plot weighing more."""
    outside = box[0] < 0 or box[1] < 0 or box[2] > NARROW_PX[0] or box[3] > NARROW_PX[1]
    meets = sum(
        box[0] < other[2] and other[0] < box[2] and box[1] < other[3] and other[1] < box[3] for other in taken
    )
    return meets + 10.0 * outside
