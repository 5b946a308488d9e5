"""How do the pages of a template look: the tiles, or one large sheet, and the file that holds them?"""

from engine.bench.labels import crosses_within, lines_within, names_along, names_within
from engine.bench.map_page import map_page, measure_pages
from engine.bench.page_parts import foot
from engine.bench.template import Template
from engine.bench.tiles import FOOT_MM, MARGIN_MM, ROOM_ROUND_MM, Tile, Tiling
from engine.draw.compose import Box, placed
from engine.draw.pdf import to_pdf
from engine.draw.shapes import Circle, Drawing, Line, Shape, Text, Ticks
from engine.draw.style import LEAST_TEXT_MM, STROKES, THIN_MM
from engine.draw.svg import to_svg

LEAST_SHEET_MM = 200.0
"""A foot with its test lines needs so much."""
SIGN = {"inner": "INNER", "outer": "OUTER"}


def template_pdf(made: Template) -> bytes:
    """The whole file: the map first, then running measures, then the tiles; on a roll one page.

    Source  definition
    """
    return to_pdf(template_pages(made), f"Baffle template, {made.choice.shell} shell: {made.name}")


def template_svg(made: Template) -> str:
    """The template in one piece, in millimetres.

    Source  definition
    """
    return to_svg(whole_sheet(made))


def template_pages(made: Template) -> tuple[Drawing, ...]:
    """Every page as a drawing of its own, at full size.

    Units   mm
    Source  definition
    """
    if made.tiling is None:
        return (whole_sheet(made),)
    count, first = made.page_count, 2 + made.measure_pages
    return (
        map_page(made, count),
        *measure_pages(made, count),
        *(_tile_page(made, made.tiling, tile, first + i, count) for i, tile in enumerate(made.tiling.tiles)),
    )


def whole_sheet(made: Template) -> Drawing:
    """All of it on one page, as large as it needs, for a plotter or a cutting program.

    Units   mm
    Source  definition
    """
    # Text lies on a patch of ground, so it comes first: no line of a template may have a gap.
    left, top, right, bottom = made.bounds
    room = MARGIN_MM + ROOM_ROUND_MM
    width = max(right - left + 2 * room, LEAST_SHEET_MM + 2 * MARGIN_MM)
    height = bottom - top + 2 * room + FOOT_MM
    shapes = (
        *names_along(made.marks),
        *crosses_within(made.crosses, made.bounds),
        *lines_within(made.marks, made.bounds),
    )
    on_page = placed(Drawing(width, height, "", "", shapes), room - left, room - top)
    return Drawing(
        width,
        height,
        f"Baffle template of {made.name}, {made.choice.shell} shell",
        f"Full size in millimetres, {made.choice.extent}: {len(made.marks)} lines.",
        (*on_page, *foot(made, width, height, 1, 1, SIGN[made.choice.shell])),
    )


def _tile_page(made: Template, tiling: Tiling, tile: Tile, number: int, count: int) -> Drawing:
    shapes = (
        *names_within(made.marks, tile.cell),
        *crosses_within(made.crosses, tile.window),
        *_meeting(tiling, tile),
        *lines_within(made.marks, tile.window),
    )
    width, height = tiling.page_width_mm, tiling.page_height_mm
    on_page = placed(
        Drawing(width, height, "", "", shapes), MARGIN_MM - tile.window[0], MARGIN_MM - tile.window[1]
    )
    return Drawing(
        width,
        height,
        f"Tile {tile.name}",
        "",
        (*on_page, *foot(made, width, height, number, count, tile.name)),
    )


def _meeting(tiling: Tiling, tile: Tile) -> list[Shape]:
    """Match lines towards printed neighbours, each with its name and a ring; slanting crosses at corners."""
    x0, y0, x1, y1 = tile.cell
    stroke = STROKES["match line"]
    found = list[Shape]()
    for down, right, start, end in (
        (-1, 0, (x0, y0), (x1, y0)),
        (1, 0, (x0, y1), (x1, y1)),
        (0, -1, (x0, y0), (x0, y1)),
        (0, 1, (x1, y0), (x1, y1)),
    ):
        other = tiling.beside(tile, down, right)
        if other is None:
            continue
        middle = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
        outside = middle[0] + 3.0 * right, middle[1] + 3.0 * down
        found += [
            Line(start, end, stroke.tone, stroke.width_mm, stroke.dash_mm),
            Circle(middle, 1.5, stroke.tone, "none", THIN_MM),
            Text(
                _aside(outside, right), other.name, LEAST_TEXT_MM, turned_deg=-90.0 * abs(right), tone="quiet"
            ),
        ]
    for down, corner_y in ((-1, y0), (1, y1)):
        for right, corner_x in ((-1, x0), (1, x1)):
            shared = ((down, 0), (0, right), (down, right))
            if any(tiling.beside(tile, *step) for step in shared):
                # Turned, so that nobody takes it for a datum cross.
                found += [Ticks(((corner_x, corner_y),), 6.0, turn, "ink", THIN_MM) for turn in (45.0, 135.0)]
    return found


def _aside(point: tuple[float, float], right: int) -> tuple[float, float]:
    """A little off the middle, so that the name is clear of the ring."""
    return (point[0], point[1] - 8) if right else (point[0] + 8, point[1])


def window_of(made: Template, page: int) -> Box | None:
    """Which part of the template the page with this number (from 1) shows; None for map and measures.

    Units   mm
    Source  definition
    """
    first = 2 + made.measure_pages
    if made.tiling is None or page < first:
        return None
    return made.tiling.tiles[page - first].window
