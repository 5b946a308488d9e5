"""Into which zones is a quilt filled, and which share of the down does each take?

A zone is a chamber between full baffles or sewn lines; of short baffles, a third of the strip between two
rows of them; without baffles, the whole quilt. Its share is that of its volume on the loft map.
"""

from dataclasses import dataclass
from typing import Literal, TypeAlias

import numpy as np
from numpy.typing import NDArray

from engine.design import SHORT_BAFFLES, Design
from engine.fields.loft_bins import Samples
from engine.formulas import chamber
from engine.layout import plan_baffles
from engine.loft import Loft
from engine.quantities import Quantities
from engine.quantities.plan_map import plan_map
from engine.score import Score
from engine.units import MM

ZoneKind: TypeAlias = Literal["chamber", "zone", "quilt", "footbox panel", "collar"]
POCKETS: tuple[ZoneKind, ...] = ("footbox panel", "collar")
"""Filled with grams that are given, whatever they hold."""
THIRDS = 3
SAME_M = 1e-6
EMPTY_M3 = 1e-9

Array: TypeAlias = NDArray[np.float64]


@dataclass(frozen=True)
class Zone:
    """One part to fill: its rectangle on the flat inner shell in m, from the left edge and the head."""

    kind: ZoneKind
    name: str
    row: int
    """Counted across (along, for crosswise chambers) from the left edge or the head."""
    third: int
    """Counted from the head; 0 where there are none."""
    x0_m: float
    y0_m: float
    x1_m: float
    y1_m: float
    edge: bool
    """First or last: its down slides to the edge of the quilt."""
    volume_m3: float
    weight_m3: float
    """Its volume with the overstuff that was asked for on top: what the down is shared out by."""


def zones_of(
    design: Design, q: Quantities, loft: Loft, edge_percent: float = 0.0, foot_percent: float = 0.0
) -> tuple[Zone, ...]:
    """The zones of one quilt of down (not an array of them), head to foot and left to right.

    The further overstuff of edge chambers and of a top quilt's foot is taken from the rest: the fill of
    the score stays the whole.

    Units   %, % -> m, m3
    Source  engine.fields.loft_map; arcs of sewn channels: engine.formulas.chamber
    """
    samples = plan_map(design).samples
    thickness = thickness_of(samples, q, loft)
    across, along = _borders(design, q)
    number_x = np.searchsorted(across, samples.place_m[0], side="right")
    number_y = np.searchsorted(along, samples.place_m[1], side="right")
    volume = samples.area_m2 * thickness
    cut_m3 = float(np.sum(volume))
    # Without down to speak of nothing stands: the little there is goes by area.
    volume = volume * float(loft.volume_m3) / cut_m3 if cut_m3 > EMPTY_M3 else samples.area_m2
    foot_m = float(q.station_position_m[-1]) - design.top.footbox_length_mm * MM
    at_foot = (samples.place_m[1] > foot_m) & (design.kind == "top quilt")
    weight = volume * np.where(at_foot, 1 + foot_percent / 100, 1.0)
    rows = len(across) + 1 if not _crosswise(design) else len(along) + 1
    found = []
    for j in range(len(along) + 1):
        for i in range(len(across) + 1):
            here = (number_x == i) & (number_y == j)
            row = j if _crosswise(design) else i
            edge = rows > 1 and row in (0, rows - 1)
            more = 1 + edge_percent / 100 if edge else 1.0
            found.append(_zone(design, q, (across, along), (i, j), edge, volume[here], weight[here] * more))
    return tuple(found)


def pockets_of(design: Design, score: Score) -> tuple[Zone, ...]:
    """Footbox panel and collar of a top quilt, which the bill counts in one part.

    Source  definition
    """
    if not any(p.name == "down in footbox and collar" and float(p.mass_kg) > 0 for p in score.bill.parts):
        return ()
    top, kinds = design.top, list[tuple[ZoneKind, str, float]]()
    if top.footbox == "sewn with end panel":
        kinds.append(("footbox panel", "footbox end panel", top.panel_fill_g))
    if top.collar:
        kinds.append(("collar", "draft collar", top.collar_fill_g))
    # Their grams are given, so their weight in sharing out is those grams.
    return tuple(
        Zone(kind, name, 1, 0, 0.0, 0.0, 0.0, 0.0, False, 0.0, grams) for kind, name, grams in kinds if grams
    )


def thickness_of(samples: Samples, q: Quantities, loft: Loft) -> Array:
    """Thickness at each sample of the loft map, as it was cut; sewn channels stand as arcs.

    Shapes  (n,)
    Units   m
    Source  engine.fields.loft_map, engine.formulas.chamber
    """
    bulge = samples.fields[-1]
    if float(q.arcs) > 0:
        # The field of a straight channel is a parabola: it tells the place across the arc.
        place = np.sqrt(np.clip(1 - 8 * bulge / float(q.chamber_span_m) ** 2, 0.0, 1.0))
        arcs = 2 * chamber.arc_height(q.chamber_span_m, loft.half_angle_rad, place)
        return np.asarray(arcs, dtype=float)
    base = np.tensordot(np.asarray(loft.heights_m, dtype=float), samples.fields[:-1], axes=1)
    thickness: Array = base + float(loft.amplitude_per_m) * bulge
    return thickness


def _crosswise(design: Design) -> bool:
    return design.baffles.layout == "full, crosswise"


def _borders(design: Design, q: Quantities) -> tuple[list[float], list[float]]:
    """Places of the lines between zones, across from the left edge and along from the head."""
    lines, layout = plan_baffles(design).lines, design.baffles.layout
    upright = _once([line.x0_m for line in lines if abs(line.x1_m - line.x0_m) < SAME_M])
    level = _once([line.y0_m for line in lines if abs(line.y1_m - line.y0_m) < SAME_M])
    if layout == "none" or not lines:
        return [], []
    if _crosswise(design):
        return [], level
    if layout in SHORT_BAFFLES:
        length = float(q.station_position_m[-1])
        return upright, [length * third / THIRDS for third in range(1, THIRDS)]
    return upright, []


def _once(places: list[float]) -> list[float]:
    """In order, each place once; places that differ by rounding are one."""
    return sorted({round(place / SAME_M): place for place in places}.values())


def _zone(
    design: Design,
    q: Quantities,
    borders: tuple[list[float], list[float]],
    at: tuple[int, int],
    edge: bool,
    volume: Array,
    weight: Array,
) -> Zone:
    size = float(np.max(q.station_width_m)), float(q.station_position_m[-1])
    (x0, x1), (y0, y1) = (
        ([0.0, *places, whole][n], [0.0, *places, whole][n + 1])
        for places, whole, n in zip(borders, size, at, strict=True)
    )
    short = design.baffles.layout in SHORT_BAFFLES and bool(borders[1])
    row = at[1] if _crosswise(design) else at[0]
    kind: ZoneKind = "zone" if short else "chamber" if borders[0] or borders[1] else "quilt"
    name = {
        "zone": f"strip {row + 1}, {('head', 'middle', 'foot')[at[1] % THIRDS]} third",
        "chamber": f"chamber {row + 1}",
        "quilt": "the whole quilt",
    }[kind]
    third = at[1] + 1 if short else 0
    return Zone(
        kind, name, row + 1, third, x0, y0, x1, y1, edge, float(np.sum(volume)), float(np.sum(weight))
    )
