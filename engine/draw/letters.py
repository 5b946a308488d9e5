"""How wide is a text on paper, where does it break, and which signs can the shipped font print?"""

from functools import cache, lru_cache
from importlib.resources import files

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

PLAIN, BOLD = "DejaVuSans", "DejaVuSans-Bold"
FOLDER = files("engine.draw") / "typeface"
NBSP = "\u00a0"
MISSING = "?"
"""Stands, visibly, for a sign that the font does not have."""


@cache
def face(bold: bool = False) -> str:
    """The name of the font, made known to the PDF library on first use.

    Source  definition
    """
    name = BOLD if bold else PLAIN
    with (FOLDER / f"{name}.ttf").open("rb") as file:
        pdfmetrics.registerFont(TTFont(name, file))
    return name


@cache
def _known(bold: bool) -> frozenset[int]:
    return frozenset(pdfmetrics.getFont(face(bold)).face.charToGlyph)


@lru_cache(maxsize=4096)
def printable(text: str, bold: bool = False) -> str:
    """The text with MISSING for each sign that cannot be printed.

    Source  definition
    """
    known = _known(bold)
    return "".join(sign if _has_shape(sign) and ord(sign) in known else _instead(sign) for sign in text)


def _has_shape(sign: str) -> bool:
    return sign.isprintable() or sign == NBSP


def _instead(sign: str) -> str:
    return " " if sign.isspace() else MISSING


def text_width_mm(text: str, size_mm: float, bold: bool = False) -> float:
    """How wide a text is printed.

    Units   mm -> mm
    Source  the font's own widths
    """
    return float(pdfmetrics.stringWidth(printable(text, bold), face(bold), size_mm))


def wrapped(text: str, width_mm: float, size_mm: float, bold: bool = False) -> tuple[str, ...]:
    """The text in lines no wider than a column, broken at spaces but not at no-break ones.

    Units   mm, mm
    Source  the font's own widths
    """
    lines = [""]
    for word in printable(text, bold).split(" "):
        longer = f"{lines[-1]} {word}" if lines[-1] else word
        if lines[-1] and text_width_mm(longer, size_mm, bold) > width_mm:
            lines.append(word)
        else:
            lines[-1] = longer
    return tuple(lines)


def shortened(text: str, width_mm: float, size_mm: float, bold: bool = False) -> str:
    """The text, cut off with three dots where it is wider than its place.

    Units   mm, mm
    Source  the font's own widths
    """
    if text_width_mm(text, size_mm, bold) <= width_mm:
        return text
    while text and text_width_mm(f"{text}…", size_mm, bold) > width_mm:
        text = text[:-1]
    return f"{text.rstrip()}…"
