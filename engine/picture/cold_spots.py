"""Where under the sleeper is a quilt thin, and what makes it so?

With fill at or above its own loft nothing is thinner than its surroundings except on a line that holds
the shells: base and bulge are superharmonic in between, and such a field has no least value inside. So
baffles, sewn lines and the gaps between pieces of one row are looked at, and no others. Where a line is
equally thin all along, the place is the one round which a palm feels least.
"""

from dataclasses import dataclass
from itertools import pairwise
from typing import Literal, TypeAlias

import numpy as np

from engine.fields.grid import Array
from engine.fields.lines import Segment
from engine.picture.plan import ThicknessPlan

CLEAR_OF_SIDE_M, CLEAR_OF_END_M = 0.100, 0.150
"""Nearer to an edge a quilt lies beside the sleeper and falls anyway (own judgement)."""
PALM_M = 0.050
"""Radius over which thickness is felt: about that of a palm."""
NEAR_TIP_M = 0.025
STEP_M = 0.010
THIN_SHARE = 0.95
"""Of the mean: what is as thick or thicker is no cold spot (own judgement)."""
ALIKE_M = 0.0005
"""Half a millimetre: no tape tells less, so equal places are put in order by their place instead."""
SAME_PLACE_M = 0.010
MOST = 5

Kind: TypeAlias = Literal[
    "along the seam", "along a quilting line", "along a baffle", "at a baffle's open end", "between baffles"
]


@dataclass(frozen=True)
class ColdSpot:
    """One thin place with its mirror images."""

    kind: Kind
    places_m: tuple[tuple[float, float], ...]
    """Across from the left edge, along from the head; the nearest to left and head first."""
    off_middle_m: float
    """Across, from the middle line; its sign is kept when there is only one side: negative is left."""
    from_head_m: float
    both_sides: bool
    both_ends: bool
    all_along: bool
    """The line runs on to both ends of what the sleeper lies on, and is thin all the way."""
    crosswise: bool
    thickness_m: float
    share_of_mean: float


@dataclass(frozen=True)
class _Place:
    kind: Kind
    x_m: float
    y_m: float
    all_along: bool
    crosswise: bool
    thickness_m: float
    palm_m: float


def cold_spots(plan: ThicknessPlan) -> tuple[ColdSpot, ...]:
    """Thin places under the sleeper, the thinnest first, mirror images as one, five at most.

    Under the sleeper: 100 mm or more from a side, 150 mm or more from an end.

    Source  own judgement of what is thin; thickness as in engine.picture.plan
    """
    found = [place for segment in plan.sewn for place in _on_line(plan, segment, sewn=True)]
    found += [place for segment in plan.baffles if not plan.sheet for place in _on_line(plan, segment)]
    found += [] if plan.sheet else _between(plan)
    thin = [place for place in found if place.thickness_m < THIN_SHARE * plan.mean_m]
    return tuple(_merged(plan, sorted(thin, key=lambda place: _order(plan, place)))[:MOST])


def thinnest_under_sleeper(plan: ThicknessPlan) -> float:
    """The least thickness of what lies under the sleeper, on a line or not; of all, if nothing does.

    Units   m
    Source  definition
    """
    x, y = np.meshgrid(plan.x_m, plan.y_m)
    under = _under_sleeper(plan, x, y) & np.isfinite(plan.thickness_m)
    return float(np.nanmin(plan.thickness_m[under] if np.any(under) else plan.thickness_m))


def _order(plan: ThicknessPlan, place: _Place) -> tuple[float, ...]:
    """Thinnest, then thinnest under a palm, then nearest to the middle; left and head break ties."""
    off, along = place.x_m - plan.outline.width_m / 2, place.y_m - plan.outline.length_m / 2
    grains = round(place.thickness_m / ALIKE_M), round(place.palm_m / ALIKE_M)
    near = round(float(np.hypot(off, along)) / SAME_PLACE_M)
    return (*grains, near, round(off / SAME_PLACE_M), round(along / SAME_PLACE_M))


def _on_line(plan: ThicknessPlan, segment: Segment, sewn: bool = False) -> list[_Place]:
    """The thinnest place on one line, if any of it lies under the sleeper."""
    x0, y0, x1, y1 = segment
    count = max(2, round(float(np.hypot(x1 - x0, y1 - y0)) / STEP_M) + 1)
    x, y = np.linspace(x0, x1, count), np.linspace(y0, y1, count)
    under = np.flatnonzero(_under_sleeper(plan, x, y))
    if under.size == 0:
        return []
    first, last = int(under[0]), int(under[-1])
    starts, ends = first == 0, last == count - 1
    x, y = x[first : last + 1], y[first : last + 1]
    palm = _palm(plan, x, y)
    at = int(np.argmin(np.round(palm / ALIKE_M)))
    # Towards an edge everything falls: that is no place of its own, so such a line is taken as a whole.
    whole = (at == 0 and not starts) or (at == x.size - 1 and not ends)
    if whole or np.ptp(palm) < ALIKE_M:
        x, y = np.array([(x[0] + x[-1]) / 2]), np.array([(y[0] + y[-1]) / 2])
        palm, at, to_tip = _palm(plan, x, y), 0, float("inf")
    else:
        to_tip = min(at if starts else count, x.size - 1 - at if ends else count) * STEP_M
    kind: Kind = "at a baffle's open end" if to_tip <= NEAR_TIP_M and not sewn else "along a baffle"
    if sewn:
        kind = "along a quilting line" if plan.sheet else "along the seam"
    thickness = 0.0 if sewn else float(plan.at(x[at : at + 1], y[at : at + 1])[0])
    through = not starts and not ends
    return [_Place(kind, float(x[at]), float(y[at]), through, y0 == y1, thickness, float(palm[at]))]


def _between(plan: ThicknessPlan) -> list[_Place]:
    """The middles of the gaps between one piece and the next in its row, where the shells hang through."""
    rows: dict[tuple[bool, float], list[tuple[float, float]]] = {}
    for x0, y0, x1, y1 in plan.baffles:
        level = y0 == y1
        run = (min(x0, x1), max(x0, x1)) if level else (min(y0, y1), max(y0, y1))
        rows.setdefault((level, round(y0 if level else x0, 6)), []).append(run)
    found = []
    for (level, at), runs in rows.items():
        runs.sort()
        for (_, end), (start, _) in pairwise(runs):
            place = (end + start) / 2
            x, y = np.array([place if level else at]), np.array([at if level else place])
            if _under_sleeper(plan, x, y)[0]:
                thickness, palm = float(plan.at(x, y)[0]), float(_palm(plan, x, y)[0])
                found.append(
                    _Place("between baffles", float(x[0]), float(y[0]), False, level, thickness, palm)
                )
    return found


def _under_sleeper(plan: ThicknessPlan, x_m: Array, y_m: Array) -> Array:
    outline = plan.outline
    to_end = np.minimum(y_m, outline.length_m - y_m)
    clear = (outline.side_depth(x_m, y_m) >= CLEAR_OF_SIDE_M - 1e-9) & (to_end >= CLEAR_OF_END_M - 1e-9)
    return np.asarray(clear)


def _palm(plan: ThicknessPlan, x_m: Array, y_m: Array) -> Array:
    """Mean thickness within a palm of each place."""
    radius = PALM_M * np.sqrt((np.arange(3) + 0.5) / 3)
    turn = np.arange(16) * np.pi / 8
    off_x = (radius[:, None] * np.cos(turn)).ravel()
    off_y = (radius[:, None] * np.sin(turn)).ravel()
    around: Array = np.nanmean(plan.at(x_m[:, None] + off_x, y_m[:, None] + off_y), axis=1)
    return around


def _merged(plan: ThicknessPlan, places: list[_Place]) -> list[ColdSpot]:
    """Places in order, each with those of its mirror images that are as thin and of its kind."""
    left, spots = list(places), []
    while left:
        first = left.pop(0)
        images = [first]
        for flip_x, flip_y in ((True, False), (False, True), (True, True)):
            image = next((p for p in left if _is_image(plan, first, p, flip_x, flip_y)), None)
            if image is not None:
                left.remove(image)
                images.append(image)
        spots.append(_spot(plan, images))
    return spots


def _is_image(plan: ThicknessPlan, one: _Place, other: _Place, flip_x: bool, flip_y: bool) -> bool:
    x = plan.outline.width_m - one.x_m if flip_x else one.x_m
    y = plan.outline.length_m - one.y_m if flip_y else one.y_m
    near = abs(other.x_m - x) <= SAME_PLACE_M and abs(other.y_m - y) <= SAME_PLACE_M
    return near and other.kind == one.kind and abs(other.thickness_m - one.thickness_m) <= 2 * ALIKE_M


def _spot(plan: ThicknessPlan, images: list[_Place]) -> ColdSpot:
    places = sorted(((p.x_m, p.y_m) for p in images), key=lambda at: (round(at[1], 3), round(at[0], 3)))
    first, (x, y) = images[0], places[0]
    off = x - plan.outline.width_m / 2
    both_sides = any(abs(other - x) > SAME_PLACE_M for other, _ in places)
    return ColdSpot(
        kind=first.kind,
        places_m=tuple(places),
        off_middle_m=abs(off) if both_sides else off,
        from_head_m=y,
        both_sides=both_sides,
        both_ends=any(abs(other - y) > SAME_PLACE_M for _, other in places),
        all_along=first.all_along,
        crosswise=first.crosswise,
        thickness_m=first.thickness_m,
        share_of_mean=first.thickness_m / plan.mean_m,
    )
