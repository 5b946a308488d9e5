"""What stands on every page of a template besides its lines: name, shell, page, how to lay it, test lines?"""

from engine.bench.piece import Piece
from engine.bench.template import Template
from engine.bench.tiles import FOOT_MM, MARGIN_MM
from engine.draw.letters import shortened, text_width_mm
from engine.draw.shapes import Line, Shape, Text, Ticks
from engine.draw.style import HEAVY_MM, LEAST_TEXT_MM, SIGN_TEXT_MM, THIN_MM
from engine.units import INCH, MM

TEST_LINES_MM = (("100\u00a0mm", 100.0), ("4\u00a0in", 4 * INCH / MM))
"""To be measured on the first print: a scaled print ruins both shells."""
TEXT_STEP_MM = 4.2
FULL_SIZE = "Print at 100\u00a0% (actual size)"


def shell_words(piece: Piece) -> str:
    """Which shell, and which face of the cloth is down.

    Source  definition
    """
    return f"{piece.shell.upper()} SHELL, RIGHT SIDE down"


def way_words(piece: Piece) -> str:
    """How the drawing lies.

    Source  definition
    """
    return f"HEAD left · LEFT EDGE (datum) {'up' if piece.datum_is_up else 'down'}"


def foot(
    made: Template, width_mm: float, height_mm: float, number: int, count: int, sign: str
) -> list[Shape]:
    """The foot of one page; `sign` is its name in large letters.

    Units   mm
    Source  definition
    """
    left, right = MARGIN_MM, width_mm - MARGIN_MM
    top = height_mm - MARGIN_MM - FOOT_MM + 1.5
    page = f"page {number} of {count}"
    room = right - left - text_width_mm(page, LEAST_TEXT_MM) - 6
    rows = [top + 2.5 + index * TEXT_STEP_MM for index in range(4)]
    column = left + text_width_mm(sign, SIGN_TEXT_MM, bold=True) + 4
    lines = ((shell_words(made.piece), True), (way_words(made.piece), False), (FULL_SIZE, False))
    said = [
        Text((column, y), text, LEAST_TEXT_MM, "start", bold=bold)
        for y, (text, bold) in zip(rows[1:], lines, strict=True)
    ]
    return [
        Line((left, top), (right, top), "quiet", THIN_MM),
        Text((left, rows[0]), shortened(made.name, room, LEAST_TEXT_MM), LEAST_TEXT_MM, "start"),
        Text((right, rows[0]), page, LEAST_TEXT_MM, "end"),
        Text((left, rows[2]), sign, SIGN_TEXT_MM, "start", bold=True),
        *said,
        *ruler_lines(right, rows[2] - 0.5, rows[3] + 2.0),
    ]


def ruler_lines(right_mm: float, *rows_mm: float) -> list[Shape]:
    """The two test lines, ending at the right margin, each with its length above it.

    Units   mm
    Source  the inch is 25.4 mm by definition
    """
    found = list[Shape]()
    for y, (text, length) in zip(rows_mm, TEST_LINES_MM, strict=True):
        start = right_mm - length
        found.append(Line((start, y), (right_mm, y), "ink", HEAVY_MM))
        found.append(Ticks(((start, y), (right_mm, y)), 3.0, 0.0, "ink", THIN_MM))
        found.append(Text((right_mm - length / 2, y - 2.2), f"test line {text}", LEAST_TEXT_MM))
    return found
