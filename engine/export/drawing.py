"""What is on a drawing, in millimetres of paper, whatever it is later drawn with? And the same as SVG.

The origin is the top left corner, y runs down. Colours are named by their part (ink, quiet, ground), so
that one drawing serves paper, a light and a dark screen.
"""

import re
from dataclasses import dataclass
from html import escape
from itertools import groupby
from typing import Literal, TypeAlias

Tone: TypeAlias = Literal["ink", "quiet", "ground", "none"]
Anchor: TypeAlias = Literal["start", "middle", "end"]
Point: TypeAlias = tuple[float, float]

POINT_MM = 25.4 / 72
LEAST_TEXT_MM = 8 * POINT_MM
"""Eight points: smaller is not read at the bench."""
_NOT_IN_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


@dataclass(frozen=True)
class Line:
    """A straight line; `dash_mm` as stroke, gap, …"""

    start: Point
    end: Point
    tone: Tone = "ink"
    width_mm: float = 0.35
    dash_mm: tuple[float, ...] = ()


@dataclass(frozen=True)
class Polygon:
    """A closed outline of straight sides."""

    points: tuple[Point, ...]
    tone: Tone = "ink"
    fill: Tone = "none"
    width_mm: float = 0.35
    dash_mm: tuple[float, ...] = ()


@dataclass(frozen=True)
class Text:
    """One line of text; `at` is the anchor on its middle height, `turned_deg` is clockwise about it."""

    at: Point
    text: str
    size_mm: float = 3.2
    anchor: Anchor = "middle"
    turned_deg: float = 0.0
    bold: bool = False
    tone: Tone = "ink"

    def __post_init__(self) -> None:
        if self.size_mm < LEAST_TEXT_MM:
            raise ValueError(f"size_mm is {self.size_mm:g}; allowed: {LEAST_TEXT_MM:.2f} or more (8 pt)")


@dataclass(frozen=True)
class Modules:
    """Equal squares in rows, filled where True: a QR code."""

    at: Point
    size_mm: float
    rows: tuple[tuple[bool, ...], ...]
    tone: Tone = "ink"


Shape: TypeAlias = Line | Polygon | Text | Modules


@dataclass(frozen=True)
class Drawing:
    """A sheet with shapes in drawing order. `title` and `description` serve those who cannot see it."""

    width_mm: float
    height_mm: float
    title: str
    description: str
    shapes: tuple[Shape, ...]


def to_svg(
    drawing: Drawing,
    ink: str = "#000000",
    quiet: str = "#555555",
    ground: str = "#ffffff",
    sized: bool = True,
) -> str:
    """The drawing as one SVG element, its viewBox in mm; `sized` also gives it its size on paper.

    Every text is escaped: a typed name cannot become markup.

    Source  Scalable Vector Graphics 1.1 (W3C, 2011)
    """
    colours = {"ink": ink, "quiet": quiet, "ground": ground, "none": "none"}
    size = f' width="{_n(drawing.width_mm)}mm" height="{_n(drawing.height_mm)}mm"' if sized else ""
    box = f"0 0 {_n(drawing.width_mm)} {_n(drawing.height_mm)}"
    shapes = "".join(_shape(shape, colours) for shape in drawing.shapes)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{box}"{size} role="img" '
        f'aria-label="{xml_text(drawing.title)}" font-family="sans-serif">'
        f"<title>{xml_text(drawing.title)}</title><desc>{xml_text(drawing.description)}</desc>{shapes}</svg>"
    )


def xml_text(text: str) -> str:
    """Text for XML or HTML, between tags or in quotes; signs that XML does not know become U+FFFD.

    Source  Extensible Markup Language 1.0, fifth edition, production 2 (W3C, 2008)
    """
    return escape(_NOT_IN_XML.sub("\ufffd", text))


def _shape(shape: Shape, colours: dict[str, str]) -> str:
    match shape:
        case Line():
            (x0, y0), (x1, y1) = shape.start, shape.end
            place = f'<line x1="{_n(x0)}" y1="{_n(y0)}" x2="{_n(x1)}" y2="{_n(y1)}"'
            return f"{place}{_stroke(shape, colours)}/>"
        case Polygon():
            points = " ".join(f"{_n(x)},{_n(y)}" for x, y in shape.points)
            fill = escape(colours[shape.fill])
            return f'<polygon points="{points}" fill="{fill}"{_stroke(shape, colours)}/>'
        case Text():
            return _text(shape, colours)
        case Modules():
            return _modules(shape, colours)


def _stroke(shape: Line | Polygon, colours: dict[str, str]) -> str:
    dash = f' stroke-dasharray="{" ".join(_n(part) for part in shape.dash_mm)}"' if shape.dash_mm else ""
    return f' stroke="{escape(colours[shape.tone])}" stroke-width="{_n(shape.width_mm)}"{dash}'


def _text(shape: Text, colours: dict[str, str]) -> str:
    x, y = shape.at
    turn = f' transform="rotate({_n(shape.turned_deg)} {_n(x)} {_n(y)})"' if shape.turned_deg else ""
    weight = ' font-weight="600"' if shape.bold else ""
    # A halo in the ground colour keeps a label readable where it crosses a line.
    halo = f' stroke="{escape(colours["ground"])}" stroke-width="1" paint-order="stroke"'
    return (
        f'<text x="{_n(x)}" y="{_n(y + 0.35 * shape.size_mm)}" font-size="{_n(shape.size_mm)}" '
        f'text-anchor="{shape.anchor}" fill="{escape(colours[shape.tone])}"{halo}{weight}{turn}>'
        f"{xml_text(shape.text)}</text>"
    )


def _modules(shape: Modules, colours: dict[str, str]) -> str:
    """One path of horizontal runs, in units of a module so that every edge is on a whole number."""
    runs = []
    for y, row in enumerate(shape.rows):
        x = 0
        for dark, group in groupby(row):
            length = len(list(group))
            if dark:
                runs.append(f"M{x} {y}h{length}v1h-{length}z")
            x += length
    (left, top), size = shape.at, shape.size_mm
    place = f"translate({_n(left)} {_n(top)}) scale({size:.6g})"
    fill = escape(colours[shape.tone])
    return f'<path transform="{place}" fill="{fill}" shape-rendering="crispEdges" d="{"".join(runs)}"/>'


def _n(value: float) -> str:
    """A coordinate to a hundredth of a millimetre, without a needless zero."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
