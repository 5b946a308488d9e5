"""How does a drawing become a page of a PDF? Each page has the size of its drawing, in grey."""

from collections.abc import Sequence
from io import BytesIO
from math import isfinite

from reportlab.pdfgen.canvas import Canvas

from engine.draw.compose import basics, placed
from engine.draw.letters import face, printable, text_width_mm
from engine.draw.shapes import Basic, Circle, Drawing, Line, Modules, Polygon, Polyline, Text
from engine.draw.style import GREYS, POINT_MM, Tone


def to_pdf(pages: Sequence[Drawing], title: str) -> bytes:
    """One page a drawing, at full size; the file asks the viewer not to scale it, and is the same each time.

    Raises  ValueError for no page, or for one without a size
    Source  ISO 32000-1:2008, 12.2 (viewer preferences)
    """
    if not pages:
        raise ValueError("pages is empty; a PDF has at least one page")
    target = BytesIO()
    canvas = Canvas(target, invariant=1, pageCompression=1, lang="en")
    canvas.setTitle(title)
    canvas.setCreator("Loftwright")
    canvas.setViewerPreference("PrintScaling", "None")
    for page in pages:
        if not (page.width_mm > 0 and page.height_mm > 0 and isfinite(page.width_mm * page.height_mm)):
            raise ValueError(f"a page is {page.width_mm:g} × {page.height_mm:g} mm; allowed: above 0")
        canvas.setPageSize((page.width_mm / POINT_MM, page.height_mm / POINT_MM))
        draw_on(canvas, page, page.height_mm)
        canvas.showPage()
    canvas.save()
    return target.getvalue()


def draw_on(
    canvas: Canvas,
    drawing: Drawing,
    page_height_mm: float,
    x_mm: float = 0.0,
    y_mm: float = 0.0,
    scale: float = 1.0,
) -> None:
    """Put a drawing on a page that holds other things; its top left corner goes to x, y from the page's.

    Units   mm of paper; letters and line widths are not scaled
    Source  definition
    """
    pen = _Pen(canvas, page_height_mm)
    for shape in basics(placed(drawing, x_mm, y_mm, scale)):
        pen.draw(shape)


class _Pen:
    """Turns millimetres from the top left into points from the bottom left."""

    def __init__(self, canvas: Canvas, height_mm: float) -> None:
        self.canvas, self.height_mm = canvas, height_mm

    def at(self, point: tuple[float, float]) -> tuple[float, float]:
        return point[0] / POINT_MM, (self.height_mm - point[1]) / POINT_MM

    def draw(self, shape: Basic) -> None:
        match shape:
            case Line():
                self._stroke(shape.tone, shape.width_mm, shape.dash_mm, shape.dash_from_mm)
                self.canvas.line(*self.at(shape.start), *self.at(shape.end))
            case Polyline():
                self._path(shape, close=False)
            case Polygon():
                self._path(shape, close=True)
            case Circle():
                self._stroke(shape.tone, shape.width_mm)
                filled, drawn = self._fill(shape.fill), shape.tone != "none"
                radius = shape.radius_mm / POINT_MM
                self.canvas.circle(*self.at(shape.centre), radius, stroke=drawn, fill=filled)
            case Text():
                self._text(shape)
            case Modules():
                self._modules(shape)

    def _stroke(
        self, tone: Tone, width_mm: float, dash_mm: tuple[float, ...] = (), dash_from_mm: float = 0.0
    ) -> None:
        self.canvas.setStrokeGray(GREYS.get(tone, 0.0))
        self.canvas.setLineWidth(width_mm / POINT_MM)
        pattern = [part / POINT_MM for part in dash_mm]
        self.canvas.setDash(pattern, (dash_from_mm % sum(dash_mm)) / POINT_MM if dash_mm else 0)

    def _fill(self, tone: Tone) -> bool:
        self.canvas.setFillGray(GREYS.get(tone, 1.0))
        return tone != "none"

    def _path(self, shape: Polyline | Polygon, close: bool) -> None:
        self._stroke(shape.tone, shape.width_mm, shape.dash_mm)
        path = self.canvas.beginPath()
        path.moveTo(*self.at(shape.points[0]))
        for point in shape.points[1:]:
            path.lineTo(*self.at(point))
        if close:
            path.close()
        filled = isinstance(shape, Polygon) and self._fill(shape.fill)
        self.canvas.drawPath(path, stroke=shape.tone != "none", fill=filled)

    def _text(self, shape: Text) -> None:
        text = printable(shape.text, shape.bold)
        width = text_width_mm(text, shape.size_mm, shape.bold)
        left = {"start": 0.0, "middle": -width / 2, "end": -width}[shape.anchor]
        canvas, size = self.canvas, shape.size_mm / POINT_MM
        canvas.saveState()
        canvas.translate(*self.at(shape.at))
        canvas.rotate(-shape.turned_deg)
        # A patch of the ground keeps a label readable where it crosses a line.
        self._fill("ground")
        canvas.rect(left / POINT_MM, -size / 2, width / POINT_MM, size, stroke=0, fill=1)
        self._fill(shape.tone)
        canvas.setFont(face(shape.bold), size)
        canvas.drawString(left / POINT_MM, -0.35 * size, text)
        canvas.restoreState()

    def _modules(self, shape: Modules) -> None:
        self._fill(shape.tone)
        (left, top), size = shape.at, shape.size_mm
        for row, modules in enumerate(shape.rows):
            for column, dark in enumerate(modules):
                if dark:
                    corner = self.at((left + column * size, top + (row + 1) * size))
                    self.canvas.rect(*corner, size / POINT_MM, size / POINT_MM, stroke=0, fill=1)
