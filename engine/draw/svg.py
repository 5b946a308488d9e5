"""How does a drawing become SVG, for a page or as a file that is true in millimetres?"""

import re
from html import escape
from itertools import groupby

from engine.draw.compose import basics
from engine.draw.shapes import Basic, Circle, Drawing, Line, Modules, Polygon, Polyline, Text
from engine.draw.style import on_paper

_NOT_IN_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def to_svg(
    drawing: Drawing,
    ink: str = on_paper("ink"),
    quiet: str = on_paper("quiet"),
    ground: str = on_paper("ground"),
    shade: str = on_paper("shade"),
    sized: bool = True,
) -> str:
    """The drawing as one SVG element, its viewBox in mm; `sized` also gives it its size on paper.

    Every text is escaped: a typed name cannot become markup.

    Source  Scalable Vector Graphics 1.1 (W3C, 2011)
    """
    colours = {"ink": ink, "quiet": quiet, "ground": ground, "shade": shade, "none": "none"}
    size = f' width="{_n(drawing.width_mm)}mm" height="{_n(drawing.height_mm)}mm"' if sized else ""
    box = f"0 0 {_n(drawing.width_mm)} {_n(drawing.height_mm)}"
    shapes = "".join(_shape(shape, colours) for shape in basics(drawing.shapes))
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


def _shape(shape: Basic, colours: dict[str, str]) -> str:
    match shape:
        case Line():
            (x0, y0), (x1, y1) = shape.start, shape.end
            place = f'<line x1="{_n(x0)}" y1="{_n(y0)}" x2="{_n(x1)}" y2="{_n(y1)}"'
            return f"{place}{_stroke(shape, colours)}/>"
        case Polygon():
            fill = escape(colours[shape.fill])
            return f'<polygon points="{_points(shape)}" fill="{fill}"{_stroke(shape, colours)}/>'
        case Polyline():
            return f'<polyline points="{_points(shape)}" fill="none"{_stroke(shape, colours)}/>'
        case Circle():
            x, y = shape.centre
            place = f'<circle cx="{_n(x)}" cy="{_n(y)}" r="{_n(shape.radius_mm)}"'
            return f'{place} fill="{escape(colours[shape.fill])}"{_stroke(shape, colours)}/>'
        case Text():
            return _text(shape, colours)
        case Modules():
            return _modules(shape, colours)


def _points(shape: Polyline | Polygon) -> str:
    return " ".join(f"{_n(x)},{_n(y)}" for x, y in shape.points)


def _stroke(shape: Line | Polyline | Polygon | Circle, colours: dict[str, str]) -> str:
    dash_mm = () if isinstance(shape, Circle) else shape.dash_mm
    dash = f' stroke-dasharray="{" ".join(_n(part) for part in dash_mm)}"' if dash_mm else ""
    if dash and isinstance(shape, Line) and shape.dash_from_mm:
        dash += f' stroke-dashoffset="{_n(shape.dash_from_mm)}"'
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
