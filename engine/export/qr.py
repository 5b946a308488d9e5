"""How does a link get off the paper and into a phone? A QR code, drawn like any other drawing."""

from typing import TypeAlias

import segno

from engine.draw.shapes import Drawing, Modules

LONGEST = 800
"""Characters; a longer link makes modules that a phone no longer reads off a creased sheet (ours)."""
QUIET_ZONE = 4
MODULE_MM = 0.42
LEAST_SIZE_MM = 28.0

Matrix: TypeAlias = tuple[tuple[bool, ...], ...]


def qr_matrix(text: str) -> Matrix:
    """The modules of the QR code of a text, True where dark, without the quiet zone.

    Shapes  n rows of n
    Raises  ValueError when the text is longer than LONGEST
    Source  ISO/IEC 18004, through the library segno
    """
    if not 0 < len(text) <= LONGEST:
        raise ValueError(f"text has {len(text)} characters; allowed: 1 to {LONGEST}")
    code = segno.make_qr(text, error="l", boost_error=False)
    return tuple(tuple(bool(module) for module in row) for row in code.matrix)


def qr_drawing(text: str, title: str = "Link as a QR code") -> Drawing:
    """The QR code of a text with its quiet zone of four modules, each module at least 0.42 mm.

    Raises  ValueError when the text is longer than LONGEST
    Source  ISO/IEC 18004
    """
    matrix = qr_matrix(text)
    count = len(matrix) + 2 * QUIET_ZONE
    module = max(MODULE_MM, LEAST_SIZE_MM / count)
    size, edge = count * module, QUIET_ZONE * module
    return Drawing(
        size,
        size,
        title,
        "Opens the link that is printed beside it.",
        (Modules((edge, edge), module, matrix),),
    )
