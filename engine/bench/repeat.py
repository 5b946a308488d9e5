"""What least template serves for a whole quilt: one repeat of the pattern, laid again and again?"""

from dataclasses import dataclass, replace

from engine.bench.marks import Cross, Mark, cross_at, kept_within, outline_marks, row_marks
from engine.bench.measures import Ruler
from engine.bench.piece import Piece, edges, is_end
from engine.bench.rows import Group, Row, row_groups, run_of
from engine.catalogue.load import Catalogue
from engine.design import Design
from engine.draw.compose import Box
from engine.layout import BaffleLine, divide, plan_baffles
from engine.refusals import Refusal
from engine.units import MM

WANTED_M = 0.24
"""About how long and wide a repeat is: four sheets of A4."""
BEYOND_MM = 40.0
"""How much past the seam line is shown where a repeat begins at an edge: the cut line is on it."""
SAME_M = 1e-6
ON_LATTICE_M = 1e-4
TAKE_WHOLE = "Take the whole template."


@dataclass(frozen=True)
class Repeat:
    """Part of a shell, and where its first cross is laid: measures on the inner shell, in m."""

    marks: tuple[Mark, ...]
    crosses: tuple[Cross, ...]
    across_m: tuple[float, ...]
    along_m: tuple[float, ...]
    exceptions: tuple[str, ...]
    """Names of rows that stand otherwise: by the running measures."""


@dataclass(frozen=True)
class _Cell:
    """The part that repeats: its first corner, size and whether it goes on in each direction."""

    across_m: float
    along_m: float
    width_m: float
    length_m: float
    to_across_m: float
    to_along_m: float
    exceptions: tuple[str, ...] = ()


def repeat_of(design: Design, piece: Piece, catalogue: Catalogue, ruler: Ruler) -> Repeat:
    """One repeat of the pattern with datum crosses at its corners.

    Units   mm on the template, m for its places
    Raises  Refusal where nothing repeats
    Source  definition
    """
    groups = row_groups(design, catalogue)
    if not groups:
        raise Refusal((f"This quilt has no baffles and no sewn lines, so nothing repeats. {TAKE_WHOLE}",))
    short = design.baffles.layout not in ("sewn-through", "full, lengthwise", "full, crosswise", "none")
    cell = _short_cell(design, groups) if short else _full_cell(groups[0])
    # Numbers of rows hold for the first place only, so a repeat carries none.
    marks = tuple(
        replace(mark, label=mark.kind, name="") if mark.name else mark
        for mark in _marks_in(cell, short, design, piece, catalogue, ruler)
    )
    right, foot = cell.across_m + cell.width_m, cell.along_m + cell.length_m
    crosses = tuple(
        cross_at(across, along, piece, ruler)
        for along in (cell.along_m, foot)
        for across in (cell.across_m, right)
    )
    return Repeat(
        marks,
        crosses,
        _steps(cell.across_m, cell.width_m, cell.to_across_m),
        _steps(cell.along_m, cell.length_m, cell.to_along_m),
        cell.exceptions,
    )


def _steps(first: float, size: float, last: float) -> tuple[float, ...]:
    count = 1
    while first + count * size < last - SAME_M:
        count += 1
    return tuple(first + index * size for index in range(count))


def _full_cell(group: Group) -> _Cell:
    """Some rows that begin at the same edge; each is drawn on with a straightedge."""
    first = min(_start(row) for row in group.rows)
    regular = [row for row in group.rows if _start(row) - first < SAME_M]
    others = tuple(row.name for row in group.rows if _start(row) - first >= SAME_M)
    if len(regular) < 2:
        raise Refusal((f"Fewer than two rows begin at the same edge, so nothing repeats. {TAKE_WHOLE}",))
    pitch = regular[1].place_m - regular[0].place_m
    pitches = min(max(round(WANTED_M / pitch), 1), len(regular) - 1)
    place, size, last = regular[0].place_m, pitches * pitch, regular[-1].place_m
    if group.run == "lengthwise":
        return _Cell(place, 0.0, size, WANTED_M, last, 0.0, others)
    return _Cell(0.0, place, WANTED_M, size, 0.0, last, others)


def _start(row: Row) -> float:
    line = row.lines[0]
    return line.y0_m if line.x0_m == line.x1_m else line.x0_m


def _short_cell(design: Design, groups: tuple[Group, ...]) -> _Cell:
    """Short baffles on a lattice: every second place of a row, those of the next row between them."""
    lattice = _lattice(design)
    fits = [
        (row.name, anchor(line, lattice.staggered), lattice.holds(line))
        for group in groups
        if group.kind == "baffle"
        for row in group.rows
        for line in row.lines
    ]
    places = [place for _, place, held in fits if held]
    left, head = min(x for x, _ in places), min(y for _, y in places)
    right, foot = max(x for x, _ in places), max(y for _, y in places)
    across, along = 2 * lattice.across_m, 2 * lattice.along_m
    if right - left < across - SAME_M or foot - head < along - SAME_M:
        raise Refusal((f"The pattern does not come back once, so nothing repeats. {TAKE_WHOLE}",))
    exceptions = tuple(dict.fromkeys(name for name, _, held in fits if not held))
    width, length = across * _times(across, right - left), along * _times(along, foot - head)
    return _Cell(left, head, width, length, right, foot, exceptions)


@dataclass(frozen=True)
class _Lattice:
    """Where short baffles stand: steps across and along from one of them, every second place taken."""

    origin: tuple[float, float]
    across_m: float
    along_m: float
    staggered: bool

    def holds(self, line: BaffleLine) -> bool:
        """Whether a baffle stands on it: not if a tapered end pushed it on, or an edge cut it short."""
        x, y = anchor(line, self.staggered)
        right, down = (x - self.origin[0]) / self.across_m, (y - self.origin[1]) / self.along_m
        near = abs(right - round(right)) * self.across_m, abs(down - round(down)) * self.along_m
        lengthwise = run_of(line) == "lengthwise"
        return max(near) < ON_LATTICE_M and ((round(right) + round(down)) % 2 == 0) == lengthwise


def _lattice(design: Design) -> _Lattice:
    plan, baffles = plan_baffles(design), design.baffles
    staggered = baffles.layout == "staggered"
    if staggered:
        along = (baffles.piece_length_mm + baffles.gap_mm) / 2 * MM
    else:
        length = design.outline.length_mm * MM
        along = divide(length, baffles.spacing_mm * MM, baffles.end_chamber_percent / 100)[1]
    whole = [
        line
        for line in plan.lines
        if run_of(line) == "lengthwise" and line.length_m > baffles.piece_length_mm * MM - SAME_M
    ]
    if not whole:
        raise Refusal((f"No baffle has its full length, so nothing repeats. {TAKE_WHOLE}",))
    # Rows that a tapered end pushes back start elsewhere; the pattern is that of the earliest row.
    first = min(whole, key=lambda line: (round(line.y0_m, 6), line.x0_m))
    return _Lattice(anchor(first, staggered), plan.chamber_width_m, along, staggered)


def _times(period_m: float, room_m: float) -> int:
    return max(1, min(round(WANTED_M / period_m), int((room_m + SAME_M) / period_m)))


def anchor(line: BaffleLine, staggered: bool) -> tuple[float, float]:
    """The place by which a short baffle is laid: the start of a staggered one, the middle of any other.

    Units   m, across and along
    Source  definition
    """
    if staggered:
        return line.x0_m, line.y0_m
    return (line.x0_m + line.x1_m) / 2, (line.y0_m + line.y1_m) / 2


def _marks_in(
    cell: _Cell, short: bool, design: Design, piece: Piece, catalogue: Catalogue, ruler: Ruler
) -> tuple[Mark, ...]:
    box = _box(cell, piece)
    rows = row_marks(design, piece, catalogue, ruler)
    if not short:
        ends = tuple(
            mark
            for mark, edge in zip(outline_marks(piece), (*edges(piece.cut), *edges(piece.seam)), strict=True)
            if is_end(edge) == (cell.along_m == 0.0 and cell.to_along_m == 0.0)
        )
        return (*kept_within(rows, box), *kept_within(ends, _grown(box, BEYOND_MM)))
    lines = [line for group in row_groups(design, catalogue) for row in group.rows for line in row.lines]
    staggered = design.baffles.layout == "staggered"
    kept = []
    for mark, line in zip(rows, lines, strict=True):
        x, y = piece.at(*anchor(line, staggered))
        if box[0] - 0.01 <= x <= box[2] + 0.01 and box[1] - 0.01 <= y <= box[3] + 0.01:
            kept.append(mark)
    return tuple(kept)


def _box(cell: _Cell, piece: Piece) -> Box:
    (u0, v0), (u1, v1) = (
        piece.at(cell.across_m, cell.along_m),
        piece.at(cell.across_m + cell.width_m, cell.along_m + cell.length_m),
    )
    return min(u0, u1), min(v0, v1), max(u0, u1), max(v0, v1)


def _grown(box: Box, by_mm: float) -> Box:
    return box[0] - by_mm, box[1] - by_mm, box[2] + by_mm, box[3] + by_mm
