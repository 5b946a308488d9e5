"""Where is each baffle marked on cloth that no template shows through: running measures from one datum edge.

Each place has two measures, since a differential cut stretches the outer shell: never take one for the other.
"""

from collections.abc import Callable
from dataclasses import dataclass

from engine.bench.rows import Group, LineKind, Run, row_groups
from engine.catalogue.load import Catalogue
from engine.evaluate import Evaluation
from engine.units import MM


@dataclass(frozen=True)
class Ruler:
    """How a length is said; the unit stands once, in the head of a table, never two in one column."""

    unit: str
    text: Callable[[float], str]


MILLIMETRES = Ruler("mm", lambda length_m: f"{length_m / MM:.0f}")


@dataclass(frozen=True)
class Place:
    """How far from the datum edge, on each shell."""

    inner_m: float
    outer_m: float


@dataclass(frozen=True)
class PieceMeasure:
    """One baffle or sewn line: where it starts and ends along its row."""

    name: str
    start: Place
    end: Place


@dataclass(frozen=True)
class RowMeasure:
    """One row: how far it is from the datum edge that it runs beside, and its pieces."""

    name: str
    place: Place
    pieces: tuple[PieceMeasure, ...]


@dataclass(frozen=True)
class RunningMeasures:
    """All rows that run one way.

    Lengthwise rows are placed across, from the left edge at the widest place, and their pieces along, from
    the head seam line; crosswise rows the other way round. `across` and `along` are the whole shell.
    """

    kind: LineKind
    run: Run
    rows: tuple[RowMeasure, ...]
    across: Place
    along: Place


HEADS = {
    "lengthwise": ("across", "start", "end"),
    "crosswise": ("along", "left end", "right end"),
}


def running_measures(one: Evaluation, catalogue: Catalogue) -> tuple[RunningMeasures, ...]:
    """Every baffle, sewn line and quilting line by its measures on both shells, seam lines as datum.

    Units   m
    Source  definition; the outer by engine.loft's stretch
    """
    loft = one.score.loft
    across, along = float(loft.outer_stretch_across), float(loft.outer_stretch_along)
    width_m, length_m = one.design.outline.width_mm * MM, one.design.outline.length_mm * MM
    return tuple(
        RunningMeasures(
            group.kind,
            group.run,
            _rows(group, across, along),
            Place(width_m, width_m * across),
            Place(length_m, length_m * along),
        )
        for group in row_groups(one.design, catalogue)
    )


def _rows(group: Group, across: float, along: float) -> tuple[RowMeasure, ...]:
    lengthwise = group.run == "lengthwise"
    beside, on = (across, along) if lengthwise else (along, across)
    rows = []
    for row in group.rows:
        pieces = []
        for index, line in enumerate(row.lines):
            start, end = (line.y0_m, line.y1_m) if lengthwise else (line.x0_m, line.x1_m)
            pieces.append(PieceMeasure(row.name_of(index), Place(start, start * on), Place(end, end * on)))
        rows.append(RowMeasure(row.name, Place(row.place_m, row.place_m * beside), tuple(pieces)))
    return tuple(rows)


def measure_cells(
    measures: RunningMeasures, ruler: Ruler = MILLIMETRES
) -> tuple[tuple[str, ...], tuple[tuple[str, ...], ...]]:
    """The table as text, a line a piece: its heads, then per line the name and INNER, OUTER of each place.

    The row's own place stands in its first line only.

    Source  definition
    """
    places = HEADS[measures.run]
    heads = (measures.kind, *(f"{shell} {place}" for place in places for shell in ("INNER", "OUTER")))
    lines = []
    for row in measures.rows:
        for index, piece in enumerate(row.pieces):
            first = (row.place.inner_m, row.place.outer_m) if index == 0 else ()
            rest = (piece.start.inner_m, piece.start.outer_m, piece.end.inner_m, piece.end.outer_m)
            cells = [ruler.text(value) for value in first] or ["", ""]
            lines.append((piece.name, *cells, *(ruler.text(value) for value in rest)))
    return heads, tuple(lines)
