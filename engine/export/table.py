"""What is in this quilt, line by line, for a spreadsheet?

UTF-8 with a byte-order mark, comma between cells, dot decimals, the unit in the name of the column, one row a
part, joint, further work or purchase. Over the rows of parts, joints and work: mass_g adds up to the weight
(with the pad beyond the quilt, if one is counted), cost_used to the cost and minutes to the hours of the
scores. The rows of purchases tell the same goods once more as the shop sells them; they hold none of these.
"""

import csv
import io
from collections.abc import Iterator
from typing import TypeAlias

from engine.evaluate import Evaluation
from engine.units import GRAM, MM

COLUMNS: dict[str, str] = {
    "row": "part, joint, work or purchase",
    "design": "name of the design",
    "name": "what it is",
    "belongs_to": "group of the part in the scores, or what a purchase is for",
    "pieces": "how many; of patches as a joint: how many places, a patch inside and out each",
    "cut_length_mm": "of one piece, allowances included",
    "cut_width_mm": "of one piece, allowances included",
    "finished_length_mm": "of one piece",
    "finished_width_mm": "of one piece; of a baffle its finished height",
    "area_m2": "cloth in all pieces",
    "length_m": "metres of joint",
    "tape_m": "metres of tape, without waste",
    "seam_m": "metres of seam",
    "mass_g": "of all pieces",
    "cost_used": "what the pieces are worth, in your currency",
    "minutes": "at the bench; first-quilt factor included if the night asks for it",
    "used": "amount of a purchase that goes in, waste included",
    "used_unit": "m, g, mL or pieces",
    "to_buy": "whole cuts, bags, rolls, spools and tubes, if no offcut is at hand",
    "to_buy_unit": "m, g, rolls, spools, tubes or pieces",
    "pack": "what one roll, spool or tube holds, in used_unit",
    "price_used": "of a purchase",
    "price_to_buy": "of a purchase; invented demo prices unless own_number is yes",
    "own_number": "yes where the maker's own price or number was used",
    "currency": "label that the maker gave",
    "sleeper": "whom the quilt must fit; whether a standard sleeper stands in for own measures",
}
"""Every column with what it holds; a cell that does not apply is empty."""

Row: TypeAlias = dict[str, str]
_ACTS = ("=", "+", "-", "@", "\t", "\r", "\n")


def bill_of_materials(one: Evaluation, currency: str = "", measures_left_out: bool = False) -> str:
    """The bill of materials as CSV text, byte-order mark included.

    With `measures_left_out` each row says that the sleeper stands in for somebody's own measures.

    Source  RFC 4180 (2005) for the quoting; guard against formulas: common practice, no source
    """
    sink = io.StringIO()
    writer = csv.DictWriter(sink, fieldnames=list(COLUMNS), restval="", lineterminator="\r\n")
    writer.writeheader()
    kind = one.night.sleeper.kind
    shared = {
        "design": plain_text(one.design.name),
        "currency": plain_text(currency),
        "sleeper": f"{kind}, in place of own measures that were left out" if measures_left_out else kind,
    }
    for row in (*_parts(one), *_joints(one), *_work(one), *_purchases(one)):
        writer.writerow(row | shared)
    return "\ufeff" + sink.getvalue()


def plain_text(text: str) -> str:
    """Text that a spreadsheet will not take for a formula: an apostrophe before what would act.

    Source  common practice, no source
    """
    return "'" + text if text.lstrip(" ").startswith(_ACTS) else text


def _number(value: object) -> str:
    """Six decimals at most, so that sums agree with the scores to far below a gram."""
    return f"{float(value):.6f}".rstrip("0").rstrip(".")  # type: ignore[arg-type]


def _size(value: object) -> str:
    """Of millimetres, metres and millilitres three decimals at most, and nothing where there is none."""
    return _number(round(float(value), 3)) if float(value) > 0 else ""  # type: ignore[arg-type]


def _parts(one: Evaluation) -> Iterator[Row]:
    for part in one.score.bill.parts:
        if float(part.count) <= 0:
            continue
        row = {
            "row": "part",
            "name": part.name,
            "belongs_to": part.group,
            "pieces": _number(part.count),
            "mass_g": _number(part.mass_kg / GRAM),
            "cost_used": _number(part.cost),
        }
        if float(part.area_m2) > 0:
            row["area_m2"] = _number(part.area_m2)
        if float(part.cut_length_m) > 0:
            row |= {
                "cut_length_mm": _size(part.cut_length_m / MM),
                "cut_width_mm": _size(part.cut_width_m / MM),
                "finished_length_mm": _size(part.finished_length_m / MM),
                "finished_width_mm": _size(part.finished_width_m / MM),
            }
        yield row


def _joints(one: Evaluation) -> Iterator[Row]:
    factor = float(one.quantities.hours_factor)
    for joint in one.score.bill.joints:
        if float(joint.length_m) <= 0 and float(joint.minutes) <= 0:
            continue
        yield {
            "row": "joint",
            "name": joint.name,
            "belongs_to": "joints",
            "pieces": _size(joint.pieces),
            "length_m": _size(joint.length_m),
            "tape_m": _size(joint.tape_m),
            "seam_m": _size(joint.seam_m),
            "mass_g": _number(joint.mass_kg / GRAM),
            "cost_used": _number(joint.cost),
            "minutes": _number(joint.minutes * factor),
        }


def _work(one: Evaluation) -> Iterator[Row]:
    """The work that is no joint."""
    factor = float(one.quantities.hours_factor)
    joined = {f"join {joint.name}" for joint in one.score.bill.joints}
    for name, minutes in one.score.work_parts_min.items():
        if name not in joined and float(minutes) > 0:
            yield {"row": "work", "name": name, "belongs_to": "work", "minutes": _number(minutes * factor)}


def _purchases(one: Evaluation) -> Iterator[Row]:
    for line in one.purchases:
        yield {
            "row": "purchase",
            "name": plain_text(line.name),
            "belongs_to": line.purpose,
            "used": _size(line.used),
            "used_unit": line.used_unit,
            "to_buy": _number(line.to_buy),
            "to_buy_unit": line.unit,
            "pack": _size(line.pack),
            "price_used": _number(line.price_used),
            "price_to_buy": _number(line.price_to_buy),
            "own_number": "yes" if line.own else "no",
        }
