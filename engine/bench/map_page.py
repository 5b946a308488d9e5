"""How are the pages joined, and where is everything on cloth that light does not pass: map and measures?"""

from collections.abc import Iterator
from dataclasses import replace

from engine.bench.marks import line_of
from engine.bench.measures import RunningMeasures, measure_cells
from engine.bench.page_parts import FULL_SIZE, foot
from engine.bench.template import ROW_MM, Template
from engine.bench.tiles import FOOT_MM, MARGIN_MM
from engine.draw.compose import Box, placed
from engine.draw.letters import NBSP, text_width_mm, wrapped
from engine.draw.shapes import Anchor, Dimension, Drawing, Line, Polygon, Shape, Text
from engine.draw.style import (
    BODY_TEXT_MM,
    HAIR_MM,
    HEAD_TEXT_MM,
    LEAST_TEXT_MM,
    LINE_STEP,
    STROKES,
    TEXT_MM,
    THIN_MM,
)
from engine.units import MM

EXTENT = {"repeat": "one repeat", "whole": "whole shell"}
SAMPLE_MM = 14.0
LARGEST_SCALE = 0.5
"""Of the overview: nobody must take it for the template."""


def map_page(made: Template, count: int) -> Drawing:
    """The first page: what this is, how to use it, which page goes where.

    Units   mm
    Source  definition
    """
    paper = made.paper
    assert paper is not None
    width, height = paper.width_mm, paper.height_mm
    left, right = MARGIN_MM, width - MARGIN_MM
    extent = "half of the shell" if made.half else EXTENT[made.choice.extent]
    title = f"Baffle template, {made.choice.shell.upper()} SHELL: {extent}"
    shapes: list[Shape] = [Text((left, MARGIN_MM + 4), title, HEAD_TEXT_MM, "start", bold=True)]
    y = MARGIN_MM + 12
    for text in notes(made):
        for row in wrapped(text, right - left, BODY_TEXT_MM):
            shapes.append(Text((left, y), row, BODY_TEXT_MM, "start"))
            y += BODY_TEXT_MM * LINE_STEP
        y += 1.2
    legend, y = _legend(made, left, right, y + 2)
    shapes += legend
    below = height - MARGIN_MM - FOOT_MM - 2
    shapes += _overview(made, (left + 8, y + 12, right - 14, below - 10))
    shapes += foot(made, width, height, 1, count, "MAP")
    return Drawing(width, height, "Map", "", tuple(shapes))


def notes(made: Template) -> tuple[str, ...]:
    """How to print, join, lay and use it, in sentences.

    Source  common practice, no source
    """
    piece = made.piece
    cloth = made.cloth[0].upper() + made.cloth[1:]
    where = ", on the next page" if made.measure_pages else ""
    up = "upper" if piece.datum_is_up else "lower"
    found = [
        f"{FULL_SIZE} and measure both test lines before anything is marked.",
        f"The drawing shows the inside of the {piece.shell} shell: lay the cloth with its RIGHT SIDE down, "
        f"HEAD to the left. The {up} side is the LEFT EDGE, the datum edge; left and right are as seen from "
        "the sleeper’s side, head up.",
    ]
    if made.tile_count > 1:
        found.append(
            "Cut one page on the dotted match line, lay it over its neighbour so that lines, rings and "
            "slanting crosses meet, and tape. A page with no line on it is not printed."
        )
    if made.shows_light:
        found.append(f"{cloth}, lets light through: lay the template under it and trace.")
    else:
        found.append(
            f"{cloth}, lets no light through: mark by the running measures from the datum edge{where}."
        )
    if made.half:
        found.append(
            "Half piece: go over its lines on the back of the paper, turn it over on the centre line, and it "
            "is the other half."
        )
    return (*found, *_repeat_notes(made), "Try pen or tape on a scrap of the same cloth first.")


def _repeat_notes(made: Template) -> Iterator[str]:
    unit = NBSP + made.ruler.unit
    if made.laid_across_m:
        across, along = (
            ", ".join(made.ruler.text(place) for place in places)
            for places in (made.laid_across_m, made.laid_along_m)
        )
        yield (
            "One repeat: its corner cross towards HEAD and LEFT EDGE is laid at each of these places on "
            f"this shell, from the seam lines. Across from the LEFT EDGE: {across}{unit}. Along from "
            f"the HEAD: {along}{unit}. Leave out what the running measures do not have."
        )
    if made.exceptions:
        rows = ", ".join(made.exceptions)
        yield f"Rows with pieces that are not on the repeat: {rows}. Mark these by the running measures."


def _legend(made: Template, left: float, right: float, y: float) -> tuple[list[Shape], float]:
    """Each kind of line that is on this template, with its name; and where the rows of them end."""
    found, x = list[Shape](), left
    for kind in (kind for kind in STROKES if any(mark.kind == kind for mark in made.marks)):
        width = SAMPLE_MM + 2 + text_width_mm(kind, LEAST_TEXT_MM) + 6
        if x + width > right:
            x, y = left, y + 5
        found.append(line_of(kind, (x, y), (x + SAMPLE_MM, y)))
        found.append(Text((x + SAMPLE_MM + 2, y), kind, LEAST_TEXT_MM, "start"))
        x += width
    return found, y


def _overview(made: Template, room: Box) -> tuple[Shape, ...]:
    """The template made small, under the outlines of its pages."""
    tiling = made.tiling
    assert tiling is not None
    boxes = [tile.cell for tile in tiling.tiles]
    left, top = min(box[0] for box in boxes), min(box[1] for box in boxes)
    right, bottom = max(box[2] for box in boxes), max(box[3] for box in boxes)
    scale = min((room[2] - room[0]) / (right - left), (room[3] - room[1]) / (bottom - top), LARGEST_SCALE)
    thin = [replace(mark.line, width_mm=HAIR_MM, dash_mm=()) for mark in made.marks]
    cells = [
        Polygon(((x0, y0), (x1, y0), (x1, y1), (x0, y1)), "quiet", "none", THIN_MM)
        for x0, y0, x1, y1 in boxes
    ]
    names = [
        Text(((x0 + x1) / 2, (y0 + y1) / 2), tile.name, TEXT_MM, bold=True)
        for tile, (x0, y0, x1, y1) in zip(tiling.tiles, boxes, strict=True)
    ]
    sizes = _sizes(made, right, bottom)
    small = Drawing(0, 0, "", "", (*thin, *cells, *names, *sizes))
    x, y = room[0] - left * scale, room[1] - top * scale
    return (
        *placed(small, x, y, scale),
        *_sides(made, (x + left * scale, y + top * scale, x + right * scale)),
    )


def _sides(made: Template, box: tuple[float, float, float]) -> tuple[Text, ...]:
    """Which side of the overview is which, left, right and above it."""
    left, top, right = box
    above = "LEFT EDGE" if made.piece.datum_is_up else "RIGHT EDGE"
    if made.choice.extent == "repeat" or (made.half and not made.piece.datum_is_up):
        above = f"towards {above}"
    return (
        Text((left, top - 3.5), "HEAD", TEXT_MM, "start", bold=True),
        Text(((left + right) / 2, top - 3.5), above, TEXT_MM, bold=True),
        Text((right, top - 3.5), "FOOT", TEXT_MM, "end", bold=True),
    )


def _sizes(made: Template, right: float, bottom: float) -> tuple[Dimension, Dimension]:
    """Length and width between seam lines, of a half from the datum edge, of a repeat between its crosses."""
    ends = [cross.at for cross in made.crosses]
    (u0, v0), (u1, v1) = (
        (min(x for x, _ in ends), min(y for _, y in ends)),
        (
            max(x for x, _ in ends),
            max(y for _, y in ends),
        ),
    )

    def said(length_mm: float) -> str:
        return f"{made.ruler.text(length_mm * MM)}{NBSP}{made.ruler.unit}"

    return (
        Dimension((u0, bottom), (u1, bottom), said(u1 - u0), 7.0),
        Dimension((right, v1), (right, v0), said(v1 - v0), 7.0),
    )


def measure_pages(made: Template, count: int) -> tuple[Drawing, ...]:
    """The running measures on both shells, as many pages as they take.

    Units   mm
    Source  definition
    """
    pages = list[Drawing]()
    for table, (room, page_count) in zip(made.measures, made.measure_rows, strict=True):
        heads, rows = measure_cells(table, made.ruler)
        for page in range(page_count):
            part = rows[page * room : (page + 1) * room]
            pages.append(_measure_page(made, table, heads, part, len(pages) + 2, count))
    return tuple(pages)


def _measure_page(
    made: Template,
    table: RunningMeasures,
    heads: tuple[str, ...],
    rows: tuple[tuple[str, ...], ...],
    number: int,
    count: int,
) -> Drawing:
    assert made.paper is not None
    width, height = made.paper.width_mm, made.paper.height_mm
    left, right = MARGIN_MM, width - MARGIN_MM
    title = f"Running measures in {made.ruler.unit}, {table.run} {table.kind}s"
    shapes: list[Shape] = [Text((left, MARGIN_MM + 4), title, HEAD_TEXT_MM, "start", bold=True)]
    for index, text in enumerate(wrapped(_datum(table, made), right - left, TEXT_MM)):
        shapes.append(Text((left, MARGIN_MM + 11 + index * TEXT_MM * LINE_STEP), text, TEXT_MM, "start"))
    first = left + 24
    columns = [first + (right - first) * (index + 1) / (len(heads) - 1) for index in range(len(heads) - 1)]
    y = MARGIN_MM + 24
    for x, head in zip((left, *columns), heads, strict=True):
        anchor: Anchor = "start" if x == left else "end"
        for line, word in enumerate(head.split(" ", 1)):
            shapes.append(Text((x, y + line * 4), word, TEXT_MM, anchor, bold=True))
    y += 7
    shapes.append(Line((left, y), (right, y), "ink", THIN_MM))
    for row in rows:
        if row[1] and row is not rows[0]:  # a new row of the quilt: a line that the eye can follow
            shapes.append(Line((left, y), (right, y), "ink", THIN_MM))
        y += ROW_MM
        shapes.append(Text((left, y - ROW_MM / 2), row[0], TEXT_MM, "start"))
        shapes += [
            Text((x, y - ROW_MM / 2), cell, TEXT_MM, "end") for x, cell in zip(columns, row[1:], strict=True)
        ]
        shapes.append(Line((left, y), (right, y), "quiet", HAIR_MM))
    shapes += foot(made, width, height, number, count, "TABLE")
    return Drawing(width, height, "Running measures", "", tuple(shapes))


def _datum(table: RunningMeasures, made: Template) -> str:
    def both(what: str, inner_m: float, outer_m: float) -> str:
        return f"{what} INNER {made.ruler.text(inner_m)}, OUTER {made.ruler.text(outer_m)}"

    across = both("across", table.across.inner_m, table.across.outer_m)
    along = both("along", table.along.inner_m, table.along.outer_m)
    return (
        "Across from the LEFT EDGE seam line at the widest place, along from the HEAD seam line, each from "
        f"the datum edge so that errors do not add up. Whole shell, seam to seam: {across}; {along}."
    )
