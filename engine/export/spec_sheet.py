"""What stands on the sheet that a group buys and sews by? Its content, before any unit, word or layout.

One content serves the screen, the printed page and, later, other papers.
"""

import zlib
from dataclasses import dataclass
from datetime import date
from importlib.metadata import PackageNotFoundError, version

from engine.cautions import Caution
from engine.evaluate import Evaluation, LineUp
from engine.export import sheet_tables
from engine.export.files import design_to_json
from engine.export.safety import Safety, safety_of
from engine.export.sheet_tables import Cell, Table


@dataclass(frozen=True)
class FillBox:
    """Weigh the empty quilt, and what is put in is what the full one weighs more."""

    tare_kg: float
    fill_kg: float
    full_kg: float


@dataclass(frozen=True)
class Sheet:
    """Everything on the sheet but the drawing, the sentences and the link."""

    name: str
    letter: str
    kind: str
    note: str
    day: date
    code: str
    version: str
    chosen: bool
    reason: str
    scores: Table
    line_up: Table
    goods: Table
    parts: Table
    joints: Table
    figures: tuple[tuple[str, Cell], ...]
    fill: FillBox
    stops: tuple[Caution, ...]
    cautions: tuple[Caution, ...]
    safety: tuple[Safety, ...]

    @property
    def tables(self) -> tuple[Table, ...]:
        """The tables in the order of the sheet."""
        return self.scores, self.line_up, self.goods, self.parts, self.joints


def spec_sheet(line_up: LineUp, letter: str, day: date) -> Sheet:
    """The sheet of one candidate; the others stand on it as compared with this one.

    Units   SI; prices of the catalogue
    Raises  KeyError when no candidate has the letter
    Source  definition
    """
    one, comparison = line_up[letter], line_up.comparison
    chosen = comparison.chosen == letter
    return Sheet(
        name=one.design.name,
        letter=letter,
        kind=one.design.kind,
        note=one.design.note,
        day=day,
        code=design_code(one),
        version=engine_version(),
        chosen=chosen,
        reason=comparison.reason if chosen else "",
        scores=sheet_tables.score_table(one),
        line_up=sheet_tables.line_up_table(line_up, letter),
        goods=sheet_tables.goods_table(one, line_up),
        parts=sheet_tables.part_table(one, line_up),
        joints=sheet_tables.joint_table(one, line_up),
        figures=sheet_tables.figures(one),
        fill=_fill_box(one),
        stops=tuple(caution for caution in one.cautions if caution.grade == "stop"),
        cautions=one.cautions,
        safety=safety_of(one, line_up.catalogue),
    )


def design_code(one: Evaluation) -> str:
    """Six signs that differ when designs differ: two sheets with one code are of one quilt.

    Source  CRC-32 as in ISO/IEC/IEEE 8802-3
    """
    return f"{zlib.crc32(design_to_json(one.design).encode()) & 0xFFFFFF:06X}"


def engine_version() -> str:
    """The version of the program, or 'unreleased' when it was not installed.

    Source  definition
    """
    try:
        return version("loftwright")
    except PackageNotFoundError:
        return "unreleased"


def _fill_box(one: Evaluation) -> FillBox:
    tare, fill = one.derived.tare_kg, one.derived.fill_kg
    return FillBox(tare, fill, tare + fill)
