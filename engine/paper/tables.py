"""How is a table set on paper: how wide are its columns, what is in its rows, where may it be parted?"""

from collections.abc import Sequence
from dataclasses import replace

from engine.draw.shapes import Line, Shape, Text
from engine.draw.style import HAIR_MM, LINE_MM, POINT_MM, Tone
from engine.paper.blocks import Column, Table
from engine.paper.lines import broken, widest_word, width_of
from engine.paper.part import (
    HEAD_ROOM_MM,
    LEADING,
    TABLE_MM,
    TICK_MM,
    Part,
    Room,
    height_of,
    held_together,
    tick_box,
)

SECOND_MM = 8.5 * POINT_MM
BETWEEN_MM = 3.5
BLANK_MM = 18.0
ABOVE_MM, BELOW_MM = 0.9, 0.9
LEAST_ROWS = 2
"""Under a head before a page may be turned, and above a sum."""


def table_parts(table: Table, room: Room) -> tuple[Part, ...]:
    """A table in rows: in one piece where a page can hold it, otherwise with its head on each page.

    Source  definition
    """
    widths = column_widths(table, room)
    head = replace(_row(table.columns, [column.head for column in table.columns], widths, True), gap_mm=3.0)
    rows = [_row(table.columns, row, widths) for row in table.rows]
    if table.totals:
        rows.append(_row(table.columns, table.totals, widths, True, above=True))
    whole = (head, *rows)
    if height_of(whole) <= room.height_mm - HEAD_ROOM_MM:
        return held_together(whole, room.height_mm)
    last = len(rows) - LEAST_ROWS
    kept = [
        replace(row, keep=place < LEAST_ROWS - 1 or last <= place < len(rows) - 1, again=(head,))
        for place, row in enumerate(rows)
    ]
    return (replace(head, keep=True), *kept)


def column_widths(table: Table, room: Room) -> tuple[float, ...]:
    """As wide as they need where that fits; else text columns give way, as far as their longest word.

    Units   mm
    Source  definition
    """
    natural = [_needed(table, place, whole=True) for place in range(len(table.columns))]
    least = [_needed(table, place, whole=False) for place in range(len(table.columns))]
    between = BETWEEN_MM * (len(table.columns) - 1)
    if sum(natural) + between <= room.wide_mm:
        return tuple(natural)
    space = room.wide_mm - between
    if sum(least) >= space:
        return tuple(width * space / sum(least) for width in least)
    wish = [most - few for most, few in zip(natural, least, strict=True)]
    share = (space - sum(least)) / sum(wish)
    return tuple(few + more * share for few, more in zip(least, wish, strict=True))


def _needed(table: Table, place: int, whole: bool) -> float:
    column = table.columns[place]
    head = widest_word(column.head, TABLE_MM, bold=True)
    if column.kind == "tick":
        return max(head, TICK_MM)
    if column.kind == "blank":
        return max(head, BLANK_MM)
    measure = width_of if whole or column.kind == "number" else widest_word
    found = [head]
    for row in (*table.rows, *((table.totals,) if table.totals else ())):
        first, _, second = row[place].partition("\n")
        bold = row is table.totals
        found.append(measure(first, TABLE_MM, bold))
        if second:
            found.append(
                widest_word(second, SECOND_MM)
                if not whole
                else min(width_of(second, SECOND_MM), max(60.0, width_of(first, TABLE_MM)))
            )
    return max(found)


def _row(
    columns: Sequence[Column],
    cells: Sequence[str],
    widths: Sequence[float],
    bold: bool = False,
    above: bool = False,
) -> Part:
    """One row with its rule; a head and a sum are bold, a sum has its rule above it too."""
    shapes: list[Shape] = []
    x_mm, height = 0.0, TABLE_MM * LEADING
    first_step = TABLE_MM * LEADING
    for column, cell, width in zip(columns, cells, widths, strict=True):
        if column.kind == "tick" and cell and not bold:
            shapes.append(tick_box(x_mm + (width - TICK_MM) / 2, ABOVE_MM + first_step / 2))
            x_mm += width + BETWEEN_MM
            continue
        first, _, second = cell.partition("\n")
        y_mm = ABOVE_MM
        lines = [
            *((line, TABLE_MM) for line in broken(first, width, TABLE_MM, bold)),
            *((line, SECOND_MM) for line in (broken(second, width, SECOND_MM) if second else ())),
        ]
        right = column.kind == "number"
        for line, size in lines:
            at = (x_mm + (width if right else 0.0), y_mm + size * LEADING / 2)
            heavy = bold and size == TABLE_MM
            tone: Tone = "ink" if size == TABLE_MM else "quiet"
            if line:
                shapes.append(Text(at, line, size, "end" if right else "start", bold=heavy, tone=tone))
            y_mm += size * LEADING
        height = max(height, y_mm - ABOVE_MM)
        x_mm += width + BETWEEN_MM
    total = ABOVE_MM + height + BELOW_MM
    end = x_mm - BETWEEN_MM
    rule = LINE_MM if bold and not above else HAIR_MM
    shapes.append(Line((0.0, total), (end, total), "ink" if bold else "quiet", rule))
    if above:
        shapes.append(Line((0.0, 0.0), (end, 0.0), "ink", LINE_MM))
    return Part(total, tuple(shapes))
