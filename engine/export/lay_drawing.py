"""How do the pieces lie on the roll, to scale, with running measures from its cut end and one selvedge?"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from engine.bench.lay import Lay, Placement
from engine.bench.polygons import Outline, size_of
from engine.draw.letters import text_width_mm
from engine.draw.shapes import Drawing, Hatch, Line, Polygon, Shape, Text
from engine.draw.style import FOLD_DASH, HAIR_MM, LEAST_TEXT_MM, OUTLINE_MM, THIN_MM
from engine.export.piece_drawing import scale_for
from engine.units import MM

Measure = Callable[[float], str]
WIDTH_MM = 176.0
LEFT_MM, RIGHT_MM, ABOVE_MM, BELOW_MM = 2.0, 22.0, 6.0, 8.0
HIGH_MM = 75.0
ROW_MM = 4.4
HATCHES = (Hatch(2.2, 45.0), Hatch(2.2, 135.0), Hatch(1.4, 90.0), Hatch(1.4, 0.0), Hatch(3.2, 60.0))
"""For pieces too small for their name; a sixth kind is left plain."""
SAME_MM = 0.2


@dataclass(frozen=True)
class Stretch:
    """The roll or one offcut: what it is called, its size, and what lies on it."""

    name: str
    length_m: float
    width_m: float
    placements: tuple[Placement, ...]


def lay_drawings(lay: Lay, measure: Measure, width_mm: float = WIDTH_MM) -> tuple[Drawing, ...]:
    """The roll, as far as it is used, and each offcut that something lies on.

    `measure` says a length in m with its unit.

    Source  definition
    """
    on_roll = tuple(place for place in lay.placements if place.offcut is None)
    stretches = [Stretch("roll", lay.length_m, lay.roll.usable_m, on_roll)] if on_roll else []
    for number, offcut in enumerate(lay.offcuts):
        here = tuple(place for place in lay.placements if place.offcut == number)
        if here:
            name = f"offcut {number + 1}"
            stretches.append(Stretch(name, offcut.length_m, offcut.width_m, here))
    return tuple(_Drawn(lay, stretch, measure, width_mm).drawing() for stretch in stretches)


class _Drawn:
    """Paper coordinates of one stretch of cloth."""

    def __init__(self, lay: Lay, stretch: Stretch, measure: Measure, width_mm: float) -> None:
        self.lay, self.stretch, self.measure, self.width_mm = lay, stretch, measure, width_mm
        room_mm = width_mm - LEFT_MM - RIGHT_MM
        self.scale = scale_for(stretch.length_m, room_mm, stretch.width_m, HIGH_MM)
        self.long_mm, self.high_mm = (m / MM / self.scale for m in (stretch.length_m, stretch.width_m))
        self.selvedge_mm = lay.roll.selvedge_m / MM / self.scale if stretch.name == "roll" else 0.0
        self.top_mm = ABOVE_MM + self.selvedge_mm
        self.hatches = self._hatches()

    def at(self, x_m: float, y_m: float) -> tuple[float, float]:
        return LEFT_MM + x_m / MM / self.scale, self.top_mm + y_m / MM / self.scale

    def drawing(self) -> Drawing:
        bottom = self.top_mm + self.high_mm + self.selvedge_mm + BELOW_MM
        legend = tuple(self._legend(bottom))
        lines = len({shape.at[1] for shape in legend if isinstance(shape, Text)})
        told = ", ".join(f"{count} × {name}" for name, count in self._counts().items())
        name = f"{self.stretch.name} of {self.lay.roll.name}"
        return Drawing(
            self.width_mm,
            bottom + lines * ROW_MM + 1.0,
            f"Lay on the {name}, to scale",
            f"{told}, over {self.measure(self.stretch.length_m)}.",
            (*self._cloth(), *self._pieces(), *self._along(), *self._across(), *legend),
        )

    def _counts(self) -> dict[str, int]:
        counts: dict[str, int] = {}
        for place in self.stretch.placements:
            counts[place.piece.name] = counts.get(place.piece.name, 0) + 1
        return counts

    def _hatches(self) -> dict[str, Hatch | None]:
        small = [
            place.piece.name for place in self.stretch.placements if not self._fits(self._label(place), place)
        ]
        names = list(dict.fromkeys(small))
        return {name: HATCHES[n] if n < len(HATCHES) else None for n, name in enumerate(names)}

    def _label(self, place: Placement) -> str:
        return place.piece.name + (", turned over" if place.mirrored else "")

    def _fits(self, text: str, place: Placement) -> bool:
        long_mm, high_mm = (size / MM / self.scale for size in size_of(place.outline))
        return text_width_mm(text, LEAST_TEXT_MM) + 2 < long_mm and high_mm >= 4.0

    def _cloth(self) -> Iterator[Shape]:
        right = LEFT_MM + self.long_mm
        title = f"{self.stretch.name}, 1 : {self.scale:g}; grain runs this way →"
        yield Text((LEFT_MM, ABOVE_MM / 2 - 0.6), title, LEAST_TEXT_MM, "start")
        top, bottom = ABOVE_MM, self.top_mm + self.high_mm + self.selvedge_mm
        corners = ((LEFT_MM, top), (right, top), (right, bottom), (LEFT_MM, bottom))
        yield Polygon(corners, "quiet", width_mm=THIN_MM)
        if self.selvedge_mm:
            for y in (self.top_mm, self.top_mm + self.high_mm):
                yield Line((LEFT_MM, y), (right, y), "quiet", HAIR_MM, FOLD_DASH)

    def _pieces(self) -> Iterator[Shape]:
        for place in self.stretch.placements:
            outline = place.outline
            points = tuple(self.at(x, y) for x, y in outline)
            hatch = self.hatches.get(place.piece.name)
            yield Polygon(points, width_mm=OUTLINE_MM, hatch=hatch)
            if place.piece.name not in self.hatches:
                x, y = _middle(outline)
                yield Text(self.at(x, y), self._label(place), LEAST_TEXT_MM)
                yield from self._ends(place)

    def _ends(self, place: Placement) -> Iterator[Shape]:
        """HEAD at the end that is the head, where there is one."""
        if not any(mark.kind == "head" for mark in place.piece.marks):
            return
        box = place.outline
        x0, x1 = min(x for x, _ in box), max(x for x, _ in box)
        y0, y1 = min(y for _, y in box), max(y for _, y in box)
        (left, top), (right, bottom) = self.at(x0, y0), self.at(x1, y1)
        middle_x, middle_y = (left + right) / 2, (top + bottom) / 2
        # A piece is drawn with its head at x = 0; mirrored about x, it stays there.
        at, turn = {
            0: ((left + 3.0, middle_y), -90.0),
            90: ((middle_x, top + 3.0), 0.0),
            180: ((right - 3.0, middle_y), -90.0),
            270: ((middle_x, bottom - 3.0), 0.0),
        }[place.degrees]
        yield Text(at, "HEAD", LEAST_TEXT_MM, turned_deg=turn)

    def _along(self) -> Iterator[Shape]:
        """Running measures from the cut end, below the cloth; those that would overlap are left out."""
        y = self.top_mm + self.high_mm + self.selvedge_mm
        for place_m in _apart(self._edges(0), self._room(0)):
            x = self.at(place_m, 0.0)[0]
            yield Line((x, y), (x, y + 2.0), "quiet", HAIR_MM)
            text = self.measure(place_m)
            half = text_width_mm(text, LEAST_TEXT_MM) / 2
            yield Text((max(x, half), y + 4.2), text, LEAST_TEXT_MM)

    def _across(self) -> Iterator[Shape]:
        x = LEFT_MM + self.long_mm
        for place_m in _apart(self._edges(1), 3.6 * MM * self.scale):
            y = self.at(0.0, place_m)[1]
            yield Line((x, y), (x + 2.0, y), "quiet", HAIR_MM)
            yield Text((x + 3.0, y), self.measure(place_m), LEAST_TEXT_MM, "start")

    def _room(self, axis: int) -> float:
        widest = max(text_width_mm(self.measure(edge), LEAST_TEXT_MM) for edge in self._edges(axis))
        return (widest + 2.5) * MM * self.scale

    def _edges(self, axis: int) -> list[float]:
        """Where pieces begin and end, those of the larger pieces first; the whole length before all."""
        biggest = sorted(self.stretch.placements, key=lambda place: -place.piece.area_m2)
        whole = self.stretch.length_m if axis == 0 else self.stretch.width_m
        found = [whole, 0.0]
        for place in biggest:
            values = [point[axis] for point in place.outline]
            found += [max(values), min(values)]
        return found

    def _legend(self, y_mm: float) -> Iterator[Shape]:
        """What the hatches stand for, as many on a line as fit."""
        x_mm = LEFT_MM
        for name, hatch in self.hatches.items():
            count = self._counts()[name]
            text = f"{name}, {count} ×"
            needed = 8.0 + text_width_mm(text, LEAST_TEXT_MM) + 5.0
            if x_mm > LEFT_MM and x_mm + needed > self.width_mm:
                x_mm, y_mm = LEFT_MM, y_mm + ROW_MM
            box = ((x_mm, y_mm), (x_mm + 6.0, y_mm), (x_mm + 6.0, y_mm + 3.0), (x_mm, y_mm + 3.0))
            yield Polygon(box, width_mm=THIN_MM, hatch=hatch)
            yield Text((x_mm + 7.5, y_mm + 1.5), text, LEAST_TEXT_MM, "start")
            x_mm += needed


def _middle(outline: Outline) -> tuple[float, float]:
    xs, ys = [x for x, _ in outline], [y for _, y in outline]
    return (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2


def _apart(places: Sequence[float], least: float) -> list[float]:
    """Of places in order of their weight, those that are at least so far from the ones taken before."""
    taken: list[float] = []
    for place in places:
        if all(abs(place - other) >= least for other in taken):
            taken.append(place)
    return taken
