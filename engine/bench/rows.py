"""In which rows do the baffles and sewn lines of a quilt stand, and what is each of them called?

Positions are those of engine.layout: on the inner shell, across from the left edge at the widest place and
along from the head end.
"""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from engine.catalogue.load import Catalogue
from engine.design import Design
from engine.layout import BaffleLine, plan_baffles, stations
from engine.units import MM

Run = Literal["lengthwise", "crosswise"]
LineKind = Literal["baffle", "sewn line"]
SAME_M = 1e-6
"""Positions closer than a thousandth of a millimetre are one row."""


@dataclass(frozen=True)
class Row:
    """Lines in one row, head or left end first; `place_m` is the row's distance from its datum edge."""

    name: str
    place_m: float
    lines: tuple[BaffleLine, ...]

    def name_of(self, index: int) -> str:
        """Row and piece, 3.2; the row alone where it is one piece."""
        return self.name if len(self.lines) == 1 else f"{self.name}.{index + 1}"


@dataclass(frozen=True)
class Group:
    """All rows of one kind that run one way."""

    kind: LineKind
    run: Run
    rows: tuple[Row, ...]


def row_groups(design: Design, catalogue: Catalogue) -> tuple[Group, ...]:
    """Baffles or sewn lines lengthwise, the same crosswise, and the quilting lines of sheet insulation.

    Units   m
    Source  definition
    """
    kind: LineKind = "sewn line" if design.baffles.layout == "sewn-through" else "baffle"
    lines = plan_baffles(design).lines
    runs: tuple[Run, ...] = ("lengthwise", "crosswise")
    by_run = {run: [line for line in lines if run_of(line) == run] for run in runs}
    quilting = quilting_lines(design, catalogue)
    both = all(by_run.values()) or bool(by_run["crosswise"] and quilting)
    groups = [
        Group(kind, run, _rows(found, run, run[0].upper() if both else ""))
        for run, found in by_run.items()
        if found
    ]
    if quilting:
        groups.append(Group("sewn line", "crosswise", _rows(quilting, "crosswise", "Q" if groups else "")))
    return tuple(groups)


def run_of(line: BaffleLine) -> Run:
    """Which way a line runs.

    Source  definition
    """
    return "lengthwise" if abs(line.x1_m - line.x0_m) < SAME_M else "crosswise"


def quilting_lines(design: Design, catalogue: Catalogue) -> list[BaffleLine]:
    """The lines across the quilt that hold sheet insulation, from the head end.

    Units   m
    Source  definition
    """
    step = design.fill.quilting_mm * MM
    if catalogue.fill(design.fill.good).form != "sheet" or step <= 0:
        return []
    position, width = stations(design.outline)
    middle = float(np.max(width)) / 2
    found = list[BaffleLine]()
    for place in np.arange(step, float(position[-1]) - 1e-9, step):
        half = float(np.interp(place, position, width)) / 2
        found.append(BaffleLine(middle - half, float(place), middle + half, float(place)))
    return found


def _rows(lines: list[BaffleLine], run: Run, prefix: str) -> tuple[Row, ...]:
    def place(line: BaffleLine) -> float:
        return line.x0_m if run == "lengthwise" else line.y0_m

    def along(line: BaffleLine) -> float:
        return line.y0_m if run == "lengthwise" else line.x0_m

    rows = list[list[BaffleLine]]()
    for line in sorted(lines, key=lambda each: (place(each), along(each))):
        if rows and place(line) - place(rows[-1][0]) < SAME_M:
            rows[-1].append(line)
        else:
            rows.append([line])
    return tuple(
        Row(f"{prefix}{number}", place(row[0]), tuple(sorted(row, key=along)))
        for number, row in enumerate(rows, 1)
    )
