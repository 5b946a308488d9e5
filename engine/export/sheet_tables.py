"""Which tables stand on the sheet, and what is in their cells?

Values are SI with their kind; who prints them chooses units and rounding.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from engine.bench.surplus import across_is, along_is
from engine.evaluate import SHOWN_KEYS, Evaluation, LineUp
from engine.export.substitutes import substitute
from engine.joint_uses import method_of_joints
from engine.score import SCORE_KEYS
from engine.shopping import Purchase, cloth_of_parts
from engine.units import MM

LEAST_SURPLUS_M = 0.5 * MM
"""What the ruler of the sheet cannot show is no surplus."""

LOOSE = {"patches": "scraps of strong woven cloth"}
"""Pieces that no bought cloth is needed for."""

CellKind = Literal[
    "text",
    "count",
    "mass",
    "areal mass",
    "bench size",
    "cut length",
    "length",
    "percent",
    "minutes",
    "work",
    "price",
    "used",
    "to buy",
    "score",
    "versus",
    "substitute",
]


@dataclass(frozen=True)
class Cell:
    """One value: its kind, its numbers in SI, and the text or key that goes with them.

    bench size: length, width; used, to buy: the amount, `text` is its unit, and of rolls, spools and tubes
    what one holds; score: value, low, high, `text` is its key; versus: the score, and unless it is the one
    compared with: middle difference, share of draws below, the score compared with, width of the
    difference's band, `text` is the score's key;
    substitute: a range of areal masses (or nothing) that goes into `text` at {range}.
    """

    kind: CellKind
    values: tuple[float, ...] = ()
    text: str = ""


@dataclass(frozen=True)
class Table:
    """A table; the first cell of a row names the row."""

    key: str
    title: str
    columns: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]
    totals: tuple[Cell, ...] = ()


def _text(text: str) -> Cell:
    return Cell("text", text=text)


def score_table(one: Evaluation) -> Table:
    """The five scores and the limit, each with its band.

    Source  definition
    """
    rows = []
    for key in SHOWN_KEYS:
        band = one.bands[key]
        rows.append((_text(key), Cell("score", (band.value, band.low, band.high), key)))
    return Table("scores", "Scores", ("score", "value and band"), tuple(rows))


def line_up_table(line_up: LineUp, letter: str) -> Table:
    """All candidates, each score with its difference to one of them.

    Source  definition
    """
    rows = []
    for other in line_up.evaluations:
        cells = [_text(f"{other.letter} {other.design.name}")]
        for key in SCORE_KEYS:
            value = float(getattr(other.score, key))
            if other.letter == letter:
                cells.append(Cell("versus", (value,), key))
                continue
            gap = line_up.against(other.letter, letter, key)
            base = float(getattr(line_up[letter].score, key))
            cells.append(Cell("versus", (value, gap.middle, gap.p_less, base, gap.high - gap.low), key))
        rows.append(tuple(cells))
    return Table("line-up", f"The line-up, against {letter}", ("candidate", *SCORE_KEYS), tuple(rows))


def goods_table(one: Evaluation, line_up: LineUp) -> Table:
    """What to buy, with a line on what does as well.

    Source  definition
    """
    rows = tuple(_purchase(line, line_up) for line in one.purchases)
    used = sum(line.price_used for line in one.purchases)
    bought = sum(line.price_to_buy for line in one.purchases)
    blank = _text("")
    totals = (_text("Together"), blank, blank, Cell("price", (used,)), Cell("price", (bought,)))
    return Table(
        "goods", "Goods to buy", ("what", "used", "to buy", "price, used", "price, to buy"), rows, totals
    )


def _purchase(line: Purchase, line_up: LineUp) -> tuple[Cell, ...]:
    text, values = substitute(line, line_up.catalogue)
    own = "; own price or number" if line.own else ""
    return (
        Cell("substitute", values, f"{line.name}{own}\n{text}"),
        Cell("used", (line.used,), line.used_unit),
        Cell("to buy", (line.to_buy, *((line.pack,) if line.pack else ())), line.unit),
        Cell("price", (line.price_used,)),
        Cell("price", (line.price_to_buy,)),
    )


def part_table(one: Evaluation, line_up: LineUp) -> Table:
    """The pieces with their cut and finished sizes.

    Source  definition
    """
    design, catalogue = one.design, line_up.catalogue
    cloth = cloth_of_parts(design)
    rows = []
    for part in one.score.bill.parts:
        if float(part.count) <= 0:
            continue
        good = cloth.get(part.name)
        if part.group == "fill":
            name = catalogue.fill(design.fill.good).name
        else:
            name = catalogue.fabric(good).name if good else LOOSE.get(part.name, "")
        cut = float(part.cut_length_m), float(part.cut_width_m)
        finished = float(part.finished_length_m), float(part.finished_width_m)
        rows.append(
            (
                _text(part.name),
                _text(name),
                Cell("count", (float(part.count),)),
                Cell("bench size", cut) if min(cut) > 0 else _text(""),
                Cell("bench size", finished) if min(finished) > 0 else _text(""),
                Cell("mass", (float(part.mass_kg),)),
            )
        )
    columns = ("part", "of", "pieces", "cut, each", "finished, each", "weight, all")
    return Table("parts", "Parts", columns, tuple(rows))


def joint_table(one: Evaluation, line_up: LineUp) -> Table:
    """The joints with their methods.

    Source  definition
    """
    methods = method_of_joints(one.design)
    rows = []
    for joint in one.score.bill.joints:
        if float(joint.length_m) <= 0 and float(joint.minutes) <= 0:
            continue
        method = methods.get(joint.name)
        rows.append(
            (
                _text(joint.name),
                _text(
                    line_up.catalogue.joint(method).name
                    if method
                    else "stitched, a patch inside and out each"
                ),
                Cell("count", (float(joint.pieces),)) if joint.pieces else _text(""),
                Cell("length", (float(joint.length_m),)) if joint.length_m else _text(""),
                Cell("mass", (float(joint.mass_kg),)),
                Cell("minutes", (float(joint.minutes),)),
            )
        )
    return Table("joints", "Joints", ("joint", "how", "pieces", "length", "weight", "time"), tuple(rows))


def figures(one: Evaluation) -> tuple[tuple[str, Cell], ...]:
    """The numbers that a maker asks for.

    Source  definition
    """
    derived, score = one.derived, one.score
    found = [
        ("Finished loft, mean", Cell("cut length", (derived.loft_m,))),
        ("Finished loft, mid-chamber", Cell("cut length", (derived.loft_middle_m,))),
        ("Finished, inner shell", Cell("bench size", derived.inner_finished_m)),
        ("Finished, outer shell", Cell("bench size", derived.outer_finished_m)),
        ("Chambers", Cell("count", (float(derived.chamber_count),))),
        ("Chamber width, inner shell", Cell("cut length", (derived.chamber_inner_m,))),
        ("Chamber width, outer shell", Cell("cut length", (derived.chamber_outer_m,))),
        ("Fill over the covered area", Cell("areal mass", (derived.fill_per_area_kg_m2,))),
    ]
    for name, metres in (("Tape, without waste", score.tape_m), ("Seams", score.seam_m)):
        if float(metres) > 0:
            found.append((name, Cell("length", (float(metres),))))
    if float(score.cure_h) > 0:
        found.append(("Wait for tape or sealant", Cell("work", (float(score.cure_h),))))
    if derived.gathered_width_m is not None:
        found.insert(4, ("Ends gathered to", Cell("cut length", (derived.gathered_width_m,))))
    if derived.baffle_cut_width_m is not None:
        finished = derived.baffle_cut_width_m, float(one.quantities.baffle_height_m)
        found.insert(5, ("Baffles, cut, finished", Cell("cut length", finished)))
    if derived.overstuff_percent is not None:
        found.append(("Overstuff", Cell("percent", (derived.overstuff_percent,))))
    return (*found, *_at_the_ends(one))


def _at_the_ends(one: Evaluation) -> Iterator[tuple[str, Cell]]:
    """What does not lie flat there: how much longer the outer shell is and where that goes, and the darts.

    Both shells have the same allowances, so their cut sizes differ by what the seam has to take up.
    """
    derived, ends = one.derived, one.design.ends
    sides = zip(("along", "across"), derived.inner_cut_m, derived.outer_cut_m, strict=True)
    longer = {name: outer - inner for name, inner, outer in sides if outer - inner >= LEAST_SURPLUS_M}
    if longer:
        yield f"Outer longer, {', '.join(longer)}", Cell("cut length", tuple(longer.values()))
    for name, goes in (("along", along_is(one.design)), ("across", across_is(one.design))):
        if name in longer:
            yield f"Surplus of the outer, {name}", Cell("text", text=goes)
    if ends.shape == "darted":
        yield "Darts, each end, both shells", Cell("count", (float(ends.dart_count),))
        yield (
            "Dart, width at the edge, length",
            Cell("cut length", (ends.dart_width_mm * MM, ends.dart_length_mm * MM)),
        )
