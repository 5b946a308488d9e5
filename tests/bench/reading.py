"""Reads the pages of a template back, with a library that is not ours, into millimetres of the shell."""

from dataclasses import dataclass
from io import BytesIO

import numpy as np
import pdfplumber

from engine.bench.pages import template_pdf, window_of
from engine.bench.template import Template
from engine.bench.tiles import MARGIN_MM
from engine.draw.style import STROKES

POINT_MM = 25.4 / 72
"""ISO 32000-1:2008, 8.3.2.3."""
Ends = tuple[tuple[float, float], tuple[float, float]]


@dataclass(frozen=True)
class ReadPage:
    """One page: its size, text, and its lines as (ends in mm from the top left corner, width in mm)."""

    width_mm: float
    height_mm: float
    text: str
    lines: tuple[tuple[Ends, float], ...]

    def of_width(self, width_mm: float) -> list[Ends]:
        return [ends for ends, width in self.lines if abs(width - width_mm) < 1e-3]


def read(made: Template, text: bool = False) -> list[ReadPage]:
    with pdfplumber.open(BytesIO(template_pdf(made))) as pdf:
        return [
            ReadPage(
                float(page.width) * POINT_MM,
                float(page.height) * POINT_MM,
                page.extract_text() if text else "",
                tuple((_ends(line), line["linewidth"] * POINT_MM) for line in page.lines),
            )
            for page in pdf.pages
        ]


def _ends(line: dict) -> Ends:
    (x0, y0), (x1, y1) = line["pts"]
    return (x0 * POINT_MM, y0 * POINT_MM), (x1 * POINT_MM, y1 * POINT_MM)


def on_the_shell(made: Template, pages: list[ReadPage], kind: str) -> list[list[Ends]]:
    """Per tile the lines of a kind at their place on the shell, feet of the pages left out."""
    found = []
    for number, page in enumerate(pages, 1):
        window = window_of(made, number)
        if window is None:
            continue
        left, top = window[0] - MARGIN_MM, window[1] - MARGIN_MM
        placed = [
            ((x0 + left, y0 + top), (x1 + left, y1 + top))
            for (x0, y0), (x1, y1) in page.of_width(STROKES[kind].width_mm)
        ]
        found.append([ends for ends in placed if max(ends[0][1], ends[1][1]) <= window[3] + 1e-3])
    return found


def uncovered(wanted: list[Ends], given: list[Ends], within_mm: float) -> list[Ends]:
    """Those wanted lines of which some place, every few millimetres, is on none of the given lines."""
    if not wanted:
        return []
    starts = np.array([ends[0] for ends in given]).reshape(-1, 2)
    ways = np.array([ends[1] for ends in given]).reshape(-1, 2) - starts
    lengths = np.maximum((ways**2).sum(axis=1), 1e-12)
    missing = []
    for ends in wanted:
        a, b = np.array(ends[0]), np.array(ends[1])
        steps = np.linspace(0, 1, max(int(np.hypot(*(b - a)) / 7), 2))[:, None]
        points = a + steps * (b - a)
        share = np.clip(((points[:, None, :] - starts) * ways).sum(axis=2) / lengths, 0, 1)
        gaps = np.hypot(*np.moveaxis(points[:, None, :] - starts - share[..., None] * ways, 2, 0))
        if gaps.size == 0 or gaps.min(axis=1).max() > within_mm:
            missing.append(ends)
    return missing
