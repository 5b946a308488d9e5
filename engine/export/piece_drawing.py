"""How does one piece of cloth look, to scale, with its cut size and what is written on it?"""

from collections.abc import Callable, Iterator

from engine.bench.piece_model import Piece, PieceMark
from engine.bench.polygons import Point
from engine.draw.letters import text_width_mm
from engine.draw.shapes import Dimension, Drawing, Line, Polygon, Polyline, Shape, Text
from engine.draw.style import FOLD_DASH, HAIR_MM, LEAST_TEXT_MM, LINE_MM, OUTLINE_MM, THIN_MM
from engine.units import MM

Measure = Callable[[float], str]
SCALES = (2.0, 2.5, 5.0, 7.5, 10.0, 15.0, 20.0, 25.0, 30.0, 40.0, 50.0, 75.0, 100.0, 150.0)
"""One to so many."""
WIDTH_MM = 84.0
LEFT_MM, RIGHT_MM, BELOW_MM = 2.0, 9.0, 7.0
TITLE_MM = LEAST_TEXT_MM + 0.4
LINE_STEP_MM = 4.2
THIN_PIECE_MM = 12.0
"""On paper: what is lower has its words outside."""


def scale_for(length_m: float, room_mm: float, width_m: float = 0.0, high_mm: float = 1.0) -> float:
    """The largest drawing of a round scale that fits a room of some length and height.

    Units   m, mm -> 1 : n
    Source  definition
    """
    fitting = (n for n in SCALES if length_m / MM / n <= room_mm and width_m / MM / n <= high_mm)
    return next(fitting, SCALES[-1])


def piece_drawing(piece: Piece, measure: Measure, width_mm: float = WIDTH_MM) -> Drawing:
    """The cut outline with its seam line, size, marks and edges, its name and count above.

    `measure` says a length in m with its unit.

    Source  definition
    """
    return _Drawn(piece, measure, width_mm).drawing()


class _Drawn:
    """Paper coordinates of one piece."""

    def __init__(self, piece: Piece, measure: Measure, width_mm: float) -> None:
        self.piece, self.measure, self.width_mm = piece, measure, width_mm
        self.size_m = piece.cut_m
        self.scale = scale_for(self.size_m[0], width_mm - LEFT_MM - RIGHT_MM)
        self.long_mm, self.high_mm = (size / MM / self.scale for size in self.size_m)
        self.thin = self.high_mm < THIN_PIECE_MM
        self.heads = self._title_lines()
        self.top_mm = len(self.heads) * LINE_STEP_MM + 1.0 + (3.5 if self._outside() else 0.0)

    def _title_lines(self) -> list[str]:
        piece = self.piece
        heads = [f"{piece.name}, {piece.count} ×, 1 : {self.scale:g}"]
        if piece.mirrored:
            heads.append(f"{piece.mirrored} of them turned over")
        return heads

    def _outside(self) -> list[PieceMark]:
        return [mark for mark in self.piece.marks if mark.kind == "side"] if self.thin else []

    def at(self, point: Point) -> Point:
        return LEFT_MM + point[0] / MM / self.scale, self.top_mm + point[1] / MM / self.scale

    def drawing(self) -> Drawing:
        below = self.top_mm + self.high_mm + (3.5 if self._outside() else 0.0)
        length, width = (self.measure(size) for size in self.size_m)
        return Drawing(
            self.width_mm,
            below + BELOW_MM,
            f"{self.piece.name}, to scale",
            f"Cut {length} by {width}, {self.piece.count} of them.",
            (*self._titles(), *self._outlines(), *self._marks(), *self._sizes(below)),
        )

    def _titles(self) -> Iterator[Shape]:
        for place, line in enumerate(self.heads):
            at = (0.0, (place + 0.5) * LINE_STEP_MM)
            yield Text(at, line, TITLE_MM, "start", bold=place == 0)

    def _outlines(self) -> Iterator[Shape]:
        yield Polygon(tuple(self.at(point) for point in self.piece.cut), width_mm=OUTLINE_MM)
        if self.piece.seam != self.piece.cut:
            seam = tuple(self.at(point) for point in self.piece.seam)
            yield Polygon(seam, "quiet", width_mm=HAIR_MM, dash_mm=FOLD_DASH)

    def _marks(self) -> Iterator[Shape]:
        middle = self.top_mm + self.high_mm / 2
        for mark in self.piece.marks:
            points = tuple(self.at(point) for point in mark.points)
            if len(points) > 1:
                dash = FOLD_DASH if mark.kind in ("channel", "footbox", "join") else ()
                yield Polyline(points, width_mm=THIN_MM, dash_mm=dash)
                continue
            (x, y) = points[0]
            if mark.kind == "datum":
                yield Line((x - 1.6, y), (x + 1.6, y), width_mm=LINE_MM)
                yield Line((x, y - 1.6), (x, y + 1.6), width_mm=LINE_MM)
            elif mark.kind in ("head", "foot"):
                inside = 4.6 if mark.kind == "head" else -4.6
                yield Text((x + inside, y), mark.text, LEAST_TEXT_MM, turned_deg=-90.0)
            elif self.thin:
                out = -2.2 if y < middle else 2.2
                yield Text((x, y + out), mark.text, LEAST_TEXT_MM)
            elif mark.text in ("INNER", "OUTER", "LEFT EDGE", "RIGHT EDGE"):
                yield Text((x, y + (2.6 if y < middle else -2.6)), mark.text, LEAST_TEXT_MM)
            else:
                yield from self._words(mark.text, x, y)

    def _words(self, text: str, x: float, y: float) -> Iterator[Shape]:
        """In the middle of the piece, part by part where it is too wide for one line."""
        parts = [text]
        if text_width_mm(text, LEAST_TEXT_MM) > self.long_mm - 12.0:
            parts = text.split(", ")
        for place, part in enumerate(parts):
            yield Text((x, y + (place - (len(parts) - 1) / 2) * 3.6), part, LEAST_TEXT_MM)

    def _sizes(self, below: float) -> Iterator[Shape]:
        length, width = (self.measure(size) for size in self.size_m)
        start, end = (LEFT_MM, below + 2.0), (LEFT_MM + self.long_mm, below + 2.0)
        right = LEFT_MM + self.long_mm + 2.0
        if text_width_mm(length, LEAST_TEXT_MM) < self.long_mm:
            yield Line(start, end, "quiet", HAIR_MM)
            for x, y in (start, end):
                yield Line((x, y - 1.0), (x, y + 1.0), "quiet", HAIR_MM)
        middle = max(LEFT_MM + self.long_mm / 2, text_width_mm(length, LEAST_TEXT_MM) / 2)
        yield Text((middle, below + 4.9), length, LEAST_TEXT_MM)
        if text_width_mm(width, LEAST_TEXT_MM) < self.high_mm:
            edge = LEFT_MM + self.long_mm
            top, bottom = (edge, self.top_mm), (edge, self.top_mm + self.high_mm)
            yield Dimension(top, bottom, width, -5.5, LEAST_TEXT_MM, "ink")
        else:
            yield Text((right, self.top_mm + self.high_mm / 2), width, LEAST_TEXT_MM, "start")
