"""What is on a drawing, in millimetres of paper, whatever it is later drawn with?

The origin is the top left corner, y runs down. Colours are named by their part (ink, quiet, shade, ground),
so that one drawing serves paper, a light and a dark screen.
"""

from dataclasses import dataclass
from typing import Literal, TypeAlias

from engine.draw.style import HAIR_MM, LEAST_TEXT_MM, LINE_MM, TEXT_MM, Tone

Anchor: TypeAlias = Literal["start", "middle", "end"]
Point: TypeAlias = tuple[float, float]


@dataclass(frozen=True)
class Line:
    """A straight line; `dash_mm` as stroke, gap, …, begun `dash_from_mm` into the pattern."""

    start: Point
    end: Point
    tone: Tone = "ink"
    width_mm: float = LINE_MM
    dash_mm: tuple[float, ...] = ()
    dash_from_mm: float = 0.0


@dataclass(frozen=True)
class Polyline:
    """Straight pieces end to end, open."""

    points: tuple[Point, ...]
    tone: Tone = "ink"
    width_mm: float = LINE_MM
    dash_mm: tuple[float, ...] = ()


@dataclass(frozen=True)
class Hatch:
    """Parallel lines inside a polygon: which is meant is told by their angle and distance."""

    spacing_mm: float = 2.0
    angle_deg: float = 45.0
    width_mm: float = HAIR_MM

    def __post_init__(self) -> None:
        if self.spacing_mm <= 0:
            raise ValueError(f"spacing_mm is {self.spacing_mm:g}; allowed: above 0 mm")


@dataclass(frozen=True)
class Polygon:
    """A closed outline of straight sides, filled with a grey, hatched, or empty."""

    points: tuple[Point, ...]
    tone: Tone = "ink"
    fill: Tone = "none"
    width_mm: float = LINE_MM
    dash_mm: tuple[float, ...] = ()
    hatch: Hatch | None = None


@dataclass(frozen=True)
class Circle:
    """A circle; with a fill, a disc."""

    centre: Point
    radius_mm: float
    tone: Tone = "ink"
    fill: Tone = "none"
    width_mm: float = LINE_MM


@dataclass(frozen=True)
class Text:
    """One line of text; `at` is the anchor on its middle height, `turned_deg` is clockwise about it."""

    at: Point
    text: str
    size_mm: float = TEXT_MM
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


@dataclass(frozen=True)
class Ticks:
    """Short strokes of equal length through places, turned clockwise from upright."""

    places: tuple[Point, ...]
    length_mm: float = 3.0
    turned_deg: float = 0.0
    tone: Tone = "ink"
    width_mm: float = HAIR_MM


@dataclass(frozen=True)
class Dimension:
    """A measured distance: a line beside it, a tick at each end, its value in the middle.

    `beside_mm` moves the line to the right of the way from start to end (y runs down).
    """

    start: Point
    end: Point
    text: str
    beside_mm: float = 0.0
    size_mm: float = TEXT_MM
    tone: Tone = "ink"


Basic: TypeAlias = Line | Polyline | Polygon | Circle | Text | Modules
Shape: TypeAlias = Basic | Ticks | Dimension


@dataclass(frozen=True)
class Drawing:
    """A sheet with shapes in drawing order. `title` and `description` serve those who cannot see it."""

    width_mm: float
    height_mm: float
    title: str
    description: str
    shapes: tuple[Shape, ...]
