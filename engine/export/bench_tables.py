"""Which joints and which portions of down does a quilt have, line by line, for a spreadsheet?

UTF-8 with a byte-order mark, comma between cells, dot decimals, the unit in the name of the column, as in
the bill of materials. Joints: one row a class and a load that pulls at it; what a class takes stands in its
first row only, so that columns add up. Fill: one row a zone in the order of filling, then one a bag.
"""

import csv
import io
from collections.abc import Iterable, Iterator
from typing import TypeAlias

from engine.bench.fill_plan import FillPlan
from engine.bench.joints import JointRow, JointSchedule
from engine.export.table import plain_text
from engine.units import GRAM, MILLILITRE, MM

Row: TypeAlias = dict[str, str]

JOINT_COLUMNS: dict[str, str] = {
    "joint": "class of joint",
    "method": "how it is made",
    "count": "how many",
    "each_mm": "mean length of one",
    "shortest_mm": "of one",
    "longest_mm": "of one",
    "length_m": "in all",
    "width_mm": "of the joint: of tape its width",
    "tape_m": "without waste",
    "thread_m": "without waste",
    "sealant_ml": "without waste",
    "minutes": "of a practised hand",
    "load": "what pulls at it: lofting, stuffing or hanging",
    "direction": "peel or shear",
    "lasting": "yes where it pulls for nights and years",
    "load_n_m": "on a metre of joint",
    "capacity_n_m": "what a metre holds",
    "load_n": "on a single point",
    "capacity_n": "what a single point holds",
    "margin": "capacity over load",
    "verdict": "in words, for the class",
    "remedy": "what to do about it",
    "own_number": "yes where the maker's own number was used",
}
FILL_COLUMNS: dict[str, str] = {
    "row": "zone or bag",
    "order": "of filling, or number of the bag",
    "name": "which zone",
    "share_percent": "of all down",
    "mass_g": "that stays in the zone",
    "first_g": "put in before the night's rest",
    "kept_back_g": "for topping up",
    "bags": "numbers of the bags to take the first fill from",
    "together_g": "down in the quilt after this zone's first fill",
    "bag_label_g": "on the bag",
    "bag_before_g": "to write in: weighed before it is opened",
    "bag_after_g": "to write in: weighed when its zones are filled",
    "bag_left_g": "should be left in it when its zones have their first fill",
    "bag_end_g": "should be left in it after topping up",
}
"""Every column with what it holds; a cell that does not apply, or is for the pen, is empty."""


def joint_table_csv(schedule: JointSchedule) -> str:
    """The joint schedule as CSV text, byte-order mark included.

    Source  RFC 4180 (2005) for the quoting
    """
    return written(JOINT_COLUMNS, (row for joint in schedule.rows for row in _joint(joint)))


def fill_table_csv(plan: FillPlan) -> str:
    """The fill plan as CSV text, byte-order mark included.

    Source  RFC 4180 (2005) for the quoting
    """
    return written(FILL_COLUMNS, _fills(plan))


def written(columns: dict[str, str], rows: Iterable[Row]) -> str:
    """Rows as CSV text under their heads, byte-order mark included; no text acts as a formula.

    Source  RFC 4180 (2005) for the quoting; guard against formulas: common practice, no source
    """
    sink = io.StringIO()
    writer = csv.DictWriter(sink, fieldnames=list(columns), restval="", lineterminator="\r\n")
    writer.writeheader()
    for row in rows:
        writer.writerow({name: plain_text(cell) for name, cell in row.items()})
    return "\ufeff" + sink.getvalue()


def number_cell(value: float) -> str:
    """Six decimals at most, and never a minus sign before nothing.

    Source  definition
    """
    text = f"{value:.6f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _joint(row: JointRow) -> Iterator[Row]:
    taken = {
        "count": number_cell(row.count) if row.count else "",
        "each_mm": number_cell(row.each_m / MM) if row.each_m else "",
        "shortest_mm": number_cell(row.shortest_m / MM) if row.shortest_m else "",
        "longest_mm": number_cell(row.longest_m / MM) if row.longest_m else "",
        "length_m": number_cell(row.length_m),
        "width_mm": number_cell(row.width_m / MM) if row.width_m else "",
        "tape_m": number_cell(row.tape_m),
        "thread_m": number_cell(row.thread_m),
        "sealant_ml": number_cell(row.sealant_m3 / MILLILITRE),
        "minutes": number_cell(row.minutes),
    }
    shared = {
        "joint": row.name,
        "method": row.method_name,
        "verdict": row.verdict,
        "remedy": row.remedy,
        "own_number": "yes" if row.own else "no",
    }
    if not row.cases:
        yield shared | taken
    for place, case in enumerate(row.cases):
        unit = "n_m" if case.unit == "N/m" else "n"
        yield (
            shared
            | (taken if place == 0 else {})
            | {
                "load": case.cause,
                "direction": case.direction,
                "lasting": "yes" if case.lasting else "no",
                f"load_{unit}": number_cell(case.load),
                f"capacity_{unit}": number_cell(case.capacity),
                "margin": number_cell(case.margin),
            }
        )


def _fills(plan: FillPlan) -> Iterator[Row]:
    for one in plan.fills:
        yield {
            "row": "zone",
            "order": str(one.order),
            "name": one.zone.name,
            "share_percent": number_cell(100 * one.share),
            "mass_g": number_cell(one.mass_kg / GRAM),
            "first_g": number_cell(one.first_kg / GRAM),
            "kept_back_g": number_cell(one.back_kg / GRAM),
            "bags": " ".join(str(number) for number, _ in one.bags),
            "together_g": number_cell(one.together_kg / GRAM),
        }
    for bag in plan.bags:
        yield {
            "row": "bag",
            "order": str(bag.number),
            "name": ", ".join(bag.zones),
            "bag_label_g": number_cell(bag.size_kg / GRAM),
            "bag_left_g": number_cell(bag.left_kg / GRAM),
            "bag_end_g": number_cell(bag.end_kg / GRAM),
        }
