"""Which goods are bought, line by line, for a spreadsheet?

UTF-8 with a byte-order mark, comma between cells, dot decimals, the unit in the name of the column, as in
the bill of materials.
"""

from collections.abc import Iterator, Mapping

from engine.evaluate import Evaluation
from engine.export.bench_tables import Row, number_cell, written

COLUMNS: dict[str, str] = {
    "good": "what it is",
    "for": "what it is used for",
    "used": "what goes in, waste included",
    "used_unit": "m, g, mL or pieces",
    "to_buy": "whole cuts, bags, rolls, spools and tubes, if no offcut is at hand",
    "to_buy_unit": "m, g, rolls, spools, tubes or pieces",
    "pack": "what one roll, spool or tube holds, in used_unit",
    "lay_m": "length of roll that the lay takes, for cloths",
    "lay_to_buy_m": "the same in whole cuts of the shop",
    "price_used": "of what goes in",
    "price_to_buy": "invented demo prices unless own_number is yes",
    "currency": "label that the maker gave",
    "own_number": "yes where the maker's own number was used",
}
"""Every column with what it holds; a cell that does not apply is empty."""


def goods_csv(
    one: Evaluation, currency: str = "", lays_m: Mapping[str, tuple[float, float]] | None = None
) -> str:
    """What to buy as CSV text; `lays_m` gives per cloth the length of its lay and what to buy of it.

    Units   m
    Source  RFC 4180 (2005) for the quoting
    """
    return written(COLUMNS, _goods(one, currency, lays_m or {}))


def _goods(one: Evaluation, currency: str, lays_m: Mapping[str, tuple[float, float]]) -> Iterator[Row]:
    for line in one.purchases:
        row = {
            "good": line.name,
            "for": line.purpose,
            "used": number_cell(round(line.used, 3)),
            "used_unit": line.used_unit,
            "to_buy": number_cell(line.to_buy),
            "to_buy_unit": line.unit,
            "pack": number_cell(round(line.pack, 3)) if line.pack else "",
            "price_used": number_cell(line.price_used),
            "price_to_buy": number_cell(line.price_to_buy),
            "currency": currency,
            "own_number": "yes" if line.own else "no",
        }
        if line.id in lays_m and line.unit == "m":
            used, bought = lays_m[line.id]
            row |= {"lay_m": number_cell(round(used, 3)), "lay_to_buy_m": number_cell(round(bought, 3))}
        yield row
