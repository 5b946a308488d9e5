"""How is a shell wider than its roll cut apart into panels that lap, and what is marked on each of them?"""

from dataclasses import replace

from engine.bench.piece_model import Allowance, MarkKind, Note, Piece, PieceMark
from engine.bench.polygons import Axis, Outline, Point, between, moved, size_of
from engine.catalogue.models import JointMethod
from engine.formulas.panels import Panels

LOADED_LAP_M = 0.025
"""A join that a cord pulls at laps so much (common practice, no source)."""
TURNED = Note("Turned on the roll: its grain runs across the quilt.")
SAME_M = 1e-6
EDGES = ("head", "foot", "left edge", "right edge")
BY_SIZE: tuple[MarkKind, ...] = ("head", "foot", "left", "right", "side")
"""Marks that each panel gets anew from its own size."""


def side_marks(
    size_m: tuple[float, float], edges: tuple[str, ...], left_is_low: bool
) -> tuple[PieceMark, ...]:
    """Names at the middle of the edges that a piece has, and which side is up.

    Units   m
    Source  definition
    """
    length, width = size_m
    left = 0.0 if left_is_low else width
    places: dict[str, tuple[MarkKind, str, Point]] = {
        "head": ("head", "HEAD", (0.0, width / 2)),
        "foot": ("foot", "FOOT", (length, width / 2)),
        "left edge": ("left", "LEFT EDGE", (length / 2, left)),
        "right edge": ("right", "RIGHT EDGE", (length / 2, width - left)),
    }
    found = [PieceMark(kind, text, (at,)) for kind, text, at in (places[e] for e in EDGES if e in edges)]
    if "left edge" in edges or "right edge" in edges:
        found.append(PieceMark("side", "INSIDE UP, RIGHT SIDE DOWN", ((length / 2, width / 2),)))
    return tuple(found)


def in_panels(whole: Piece, panels: Panels, lap_m: float, method: JointMethod | None) -> list[Piece]:
    """A piece cut apart where its panels lap; panels that are mirror images of each other are one entry.

    Source  definition
    """
    count, step, crosswise = int(panels.count), float(panels.step_m), bool(panels.turned)
    if whole.grain == "across":
        whole = replace(whole, notes=(*whole.notes, TURNED))
    if count == 1:
        return [whole]
    axis: Axis = 0 if crosswise else 1
    found = []
    for number in range(count if crosswise else (count + 1) // 2):
        low, high = number * step, (number + 1) * step + lap_m
        cut = between(whole.cut, axis, low, high)
        # Seam line of a join is the middle of its lap.
        first = low + lap_m / 2 if number else -1.0
        last = high - lap_m / 2 if number < count - 1 else 1e3
        seam = between(whole.seam, axis, first, last)
        pair = not crosswise and number != count - 1 - number
        origin = min(x for x, _ in cut), min(y for _, y in cut)
        found.append(
            _panel(
                whole,
                _panel_name(number, count, crosswise, pair),
                (moved(cut, -origin[0], -origin[1]), moved(seam, -origin[0], -origin[1])),
                [
                    _shifted(mark, origin)
                    for mark in whole.marks
                    if mark.kind not in BY_SIZE and _is_on(mark, axis, low, high)
                ],
                pair,
                _panel_edges(whole, number, count, crosswise, lap_m, method),
            )
        )
    return found


def _panel(
    whole: Piece,
    name: str,
    outlines: tuple[Outline, Outline],
    marks: list[PieceMark],
    pair: bool,
    allowances: tuple[Allowance, ...],
) -> Piece:
    cut, seam = outlines
    flat, part = size_of(whole.seam), size_of(seam)
    finished = whole.finished_m[0] * part[0] / flat[0], whole.finished_m[1] * part[1] / flat[1]
    edges = tuple(edge.edge for edge in allowances)
    notes = [note for note in whole.notes if not note.edge or note.edge in edges]
    if any(edge.width_m > 0 and edge.joint == "panel joins" for edge in allowances):
        notes.append(Note("Where a cord pulls at the join, lap it {lap}.", {"lap": LOADED_LAP_M}))
    if pair:
        notes.append(Note("Half of them are cut as mirror images: left and right change places."))
    named = side_marks(size_of(cut), edges, _across_names(whole)[0] == "left edge")
    sides = named if whole.right_side == "down" else tuple(m for m in named if m.kind in ("head", "foot"))
    return Piece(
        name=f"{whole.name}, {name}",
        part=whole.part,
        group=whole.group,
        count=whole.count * (2 if pair else 1),
        mirrored=whole.count if pair else 0,
        goods=whole.goods,
        areal_kg_m2=whole.areal_kg_m2,
        cut=cut,
        seam=seam,
        finished_m=finished,
        grain=whole.grain,
        right_side=whole.right_side,
        allowances=allowances,
        marks=(*sides, *marks),
        notes=tuple(notes),
    )


def _panel_name(number: int, count: int, crosswise: bool, pair: bool) -> str:
    if crosswise:
        return "head panel" if number == 0 else "foot panel" if number == count - 1 else f"panel {number + 1}"
    if count == 2:
        return "half"
    if not pair:
        return "middle panel"
    return "side panel" if number == 0 else f"panel {number + 1} from the side"


def _panel_edges(
    whole: Piece, number: int, count: int, crosswise: bool, lap_m: float, method: JointMethod | None
) -> tuple[Allowance, ...]:
    """The whole's edges that are the panel's too, and a half lap at each join."""
    gone = set[str]()
    first, last = ("head", "foot") if crosswise else _across_names(whole)
    if number > 0:
        gone.add(first)
    if number < count - 1:
        gone.add(last)
    kept = [edge for edge in whole.allowances if edge.edge not in gone]
    name = method.name if method else ""
    return (*kept, *(Allowance("join", lap_m / 2, "panel joins", name) for _ in gone))


def _across_names(whole: Piece) -> tuple[str, str]:
    """The side edges in the order of y."""
    left = next((mark.points[0][1] for mark in whole.marks if mark.kind == "left"), 0.0)
    return ("left edge", "right edge") if left < size_of(whole.cut)[1] / 2 else ("right edge", "left edge")


def _is_on(mark: PieceMark, axis: Axis, low: float, high: float) -> bool:
    return any(low - SAME_M <= point[axis] <= high + SAME_M for point in mark.points)


def _shifted(mark: PieceMark, origin: Point) -> PieceMark:
    return PieceMark(mark.kind, mark.text, moved(mark.points, -origin[0], -origin[1]))
