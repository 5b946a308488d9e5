"""How does a quilt look from above, to scale, with its baffles and measures?

The inner shell lies with its inside up, head end left, drawn on its seam lines. All measures run from one
datum edge, so that errors do not add up.
"""

from collections.abc import Callable

import numpy as np

from engine.bench.piece import CHANNEL_M
from engine.bench.rows import quilting_lines
from engine.catalogue.load import load_catalogue
from engine.design import Design
from engine.draw.shapes import Drawing, Line, Point, Polygon, Shape, Text
from engine.draw.style import (
    FOLD_DASH,
    HAIR_MM,
    LEAST_TEXT_MM,
    LINE_MM,
    OUTLINE_MM,
    SEWN_DASH,
    SOLID,
    TEXT_MM,
    THIN_MM,
)
from engine.layout import plan_baffles, stations
from engine.units import MM

SCALES = (2.0, 5.0, 7.5, 10.0, 12.5, 15.0, 17.5, 20.0, 25.0, 30.0, 40.0, 50.0, 75.0)
"""One to so many: numbers that a ruler and a head can follow."""
PLAN_WIDTH_MM = 180.0
"""Room for it on a page of A4 or Letter."""
ROOM_LEFT_MM, ROOM_RIGHT_MM, ROOM_ABOVE_MM, ROOM_BELOW_MM = 1.0, 20.0, 10.5, 13.0

Measure = Callable[[float], str]


def millimetres(length_m: float) -> str:
    """A length for a label: '1900 mm'.

    Units   m
    Source  definition
    """
    return f"{length_m / MM:.0f}\u00a0mm"


def plan_drawing(design: Design, measure: Measure = millimetres, width_mm: float = PLAN_WIDTH_MM) -> Drawing:
    """The inner shell from above with baffles or quilting lines, ends, running measures, HEAD and FOOT.

    `measure` says a length in m for a label; `width_mm` is the room on paper (for a narrow screen take
    less: the text keeps its size and the quilt shrinks).

    Source  definition
    """
    return _Plan(design, measure, width_mm).drawing()


class _Plan:
    """Paper coordinates of one quilt, and the shapes put on them."""

    def __init__(self, design: Design, measure: Measure, width_mm: float) -> None:
        self.design, self.measure, self.width_mm = design, measure, width_mm
        self.position, self.full_width = stations(design.outline)
        self.length_m, self.widest_m = float(self.position[-1]), float(np.max(self.full_width))
        room = width_mm - ROOM_LEFT_MM - ROOM_RIGHT_MM
        self.scale = next((n for n in SCALES if self.length_m / MM / n <= room), SCALES[-1])
        self.lines = plan_baffles(design).lines

    def at(self, along_m: float, across_m: float) -> Point:
        """A place on the shell, from the head end and the datum edge, on the paper."""
        return (
            ROOM_LEFT_MM + along_m / MM / self.scale,
            ROOM_ABOVE_MM + across_m / MM / self.scale,
        )

    def drawing(self) -> Drawing:
        shapes = [*self._outline(), *self._baffles(), *self._ends(), *self._measures(), *self._words()]
        _, bottom = self.at(0, self.widest_m)
        return Drawing(
            self.width_mm,
            bottom + ROOM_BELOW_MM,
            f"Plan of {self.design.name}",
            self._description(),
            tuple(shapes),
        )

    def _description(self) -> str:
        lines = f"{len(self.lines)} baffles" if self.lines else "no baffles"
        if self.design.baffles.layout == "sewn-through":
            lines = f"{len(self.lines)} sewn lines"
        return (
            f"Inner shell from above, head end left, {self.measure(self.length_m)} long and "
            f"{self.measure(self.widest_m)} wide on its seam lines, {lines} "
            f"({self.design.baffles.layout}), scale 1 to {self.scale:g}."
        )

    def _half(self, along_m: float) -> float:
        return float(np.interp(along_m, self.position, self.full_width)) / 2

    def _outline(self) -> list[Shape]:
        middle = self.widest_m / 2
        upper = [
            self.at(float(p), middle - float(w) / 2)
            for p, w in zip(self.position, self.full_width, strict=True)
        ]
        lower = [
            self.at(float(p), middle + float(w) / 2)
            for p, w in zip(self.position, self.full_width, strict=True)
        ]
        return [Polygon((*upper, *reversed(lower)), "ink", "ground", OUTLINE_MM)]

    def _across(self, along_m: float, width_mm: float, dash_mm: tuple[float, ...] = ()) -> Line:
        half, middle = self._half(along_m), self.widest_m / 2
        return Line(
            self.at(along_m, middle - half), self.at(along_m, middle + half), "quiet", width_mm, dash_mm
        )

    def _ends(self) -> list[Shape]:
        ends, found = self.design.ends, list[Shape]()
        if ends.shape == "gathered":
            found += [self._across(CHANNEL_M, HAIR_MM), self._across(self.length_m - CHANNEL_M, HAIR_MM)]
        if ends.shape == "darted":
            found += [dart for end in (0.0, self.length_m) for dart in self._darts(end)]
        if self.design.kind == "top quilt" and self.design.top.footbox != "none":
            start = self.length_m - self.design.top.footbox_length_mm * MM
            if start > 0:
                x, y = self.at(start, self.widest_m / 2)
                found.append(self._across(start, THIN_MM, FOLD_DASH))
                found.append(Text((x + 3, y), "footbox", LEAST_TEXT_MM, turned_deg=-90, tone="quiet"))
        return found

    def _darts(self, end_m: float) -> list[Shape]:
        ends, middle, half = self.design.ends, self.widest_m / 2, self._half(end_m)
        tip = end_m + (ends.dart_length_mm if end_m == 0 else -ends.dart_length_mm) * MM
        darts = list[Shape]()
        for index in range(ends.dart_count):
            place = middle - half + 2 * half * (index + 1) / (ends.dart_count + 1)
            side = ends.dart_width_mm * MM / 2
            corners = (self.at(end_m, place - side), self.at(tip, place), self.at(end_m, place + side))
            darts.append(Polygon(corners, "ink", "quiet", HAIR_MM))
        return darts

    def _baffles(self) -> list[Shape]:
        sewn = self.design.baffles.layout == "sewn-through"
        dash = SEWN_DASH if sewn else SOLID
        found: list[Shape] = [
            Line(self.at(b.y0_m, b.x0_m), self.at(b.y1_m, b.x1_m), "ink", LINE_MM, dash) for b in self.lines
        ]
        return found + [self._across(place, THIN_MM, SEWN_DASH) for place in self._quilting()]

    def _quilting(self) -> list[float]:
        """Where the lines that hold sheet insulation run across, from the head end."""
        return [line.y0_m for line in quilting_lines(self.design, load_catalogue())]

    def _rows(self) -> tuple[list[float], bool]:
        """Where rows of baffles stand from the datum, and whether they are measured along the quilt."""
        along = self.design.baffles.layout == "full, crosswise"
        places = sorted({round(b.y0_m if along else b.x0_m, 6) for b in self.lines})
        return places, along

    def _measures(self) -> list[Shape]:
        places, along = self._rows()
        found = list[Shape]()
        if not along:
            found += self._column([*places, self.widest_m])
            found += self._row([*self._quilting(), self.length_m])
        else:
            found += self._column([self.widest_m])
            found += self._row([*places, self.length_m])
        return found

    def _column(self, places: list[float]) -> list[Shape]:
        """Running measures across, right of the foot end, moved apart where they crowd.

        Where even that finds no room, crowded ones are left out, never the last.
        """
        right, _ = self.at(self.length_m, 0)
        room = TEXT_MM * 1.15
        if len(places) * room > self.widest_m / MM / self.scale + room:
            places = self._readable(places, room)
        found, lowest = list[Shape](), -room
        for place in places:
            _, y = self.at(0, place)
            lowest = max(y, lowest + room)
            found.append(Line((right + 1, y), (right + 4, lowest), "quiet", HAIR_MM))
            found.append(Text((right + 5, lowest), self.measure(place), TEXT_MM, "start"))
        return found

    def _row(self, places: list[float]) -> list[Shape]:
        """Running measures along, under the quilt."""
        _, bottom = self.at(0, self.widest_m)
        found = list[Shape]()
        widest_label = max(len(self.measure(place)) for place in places) * TEXT_MM * 0.66
        for place in self._readable(places, widest_label):
            x, _ = self.at(place, 0)
            found.append(Line((x, bottom + 1), (x, bottom + 3.5), "quiet", HAIR_MM))
            found.append(Text((x, bottom + 5.5), self.measure(place), TEXT_MM))
        return found

    def _readable(self, places: list[float], room_mm: float) -> list[float]:
        kept = [places[-1]]
        for place in reversed(places[:-1]):
            if (kept[-1] - place) / MM / self.scale >= room_mm:
                kept.append(place)
        return list(reversed(kept))

    def _words(self) -> list[Shape]:
        left, top = self.at(0, 0)
        right, bottom = self.at(self.length_m, self.widest_m)
        row = top - 2.6
        scale = f"seam lines · 1 : {self.scale:g}"
        return [
            Text((left, 3), "INNER SHELL, inside up", TEXT_MM, "start", bold=True),
            Text((left, row), "HEAD", TEXT_MM, "start", bold=True),
            Text(((left + right) / 2, row), "datum edge", LEAST_TEXT_MM, tone="quiet"),
            Text((right, row), "FOOT", TEXT_MM, "end", bold=True),
            Text((left, bottom + 10), scale, LEAST_TEXT_MM, "start", tone="quiet"),
        ]
