"""On which pages does a document stand? The same pages are counted on the screen and printed as a PDF."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal, TypeAlias

from engine.draw.letters import shortened
from engine.draw.pdf import to_pdf
from engine.draw.shapes import Drawing, Line, Shape, Text
from engine.draw.style import HAIR_MM, LEAST_TEXT_MM
from engine.paper.blocks import Document, Section
from engine.paper.lines import broken, width_of
from engine.paper.part import QUIET_MM, SECTION_MM, TITLE_MM, Part, Room, height_of, moved, text_lines
from engine.paper.parts import parts_of
from engine.refusals import Refusal

Paper: TypeAlias = Literal["A4", "Letter"]
SIZES_MM: dict[Paper, tuple[float, float]] = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
"""ISO 216 and ANSI/ASME Y14.1."""
LEFT_MM, RIGHT_MM, TOP_MM, BOTTOM_MM = 18.0, 14.0, 14.0, 18.0
NOTES_MM = 34.0
"""Beside the text, for one's own notes; tables and drawings may reach into it."""
FOOT_MM = 9.0
MOST_PAGES = 400


@dataclass(frozen=True)
class Page:
    """Parts with the place of each from the top of the page."""

    places: tuple[tuple[float, Part], ...]


def room_of(paper: Paper) -> Room:
    """What a page holds.

    Units   mm
    Source  definition
    """
    width, height = SIZES_MM[paper]
    wide = width - LEFT_MM - RIGHT_MM
    return Room(wide - NOTES_MM, wide, height - TOP_MM - BOTTOM_MM)


def pages_of(document: Document, paper: Paper = "A4") -> tuple[Page, ...]:
    """The document on its pages.

    Raises  Refusal when it takes more than MOST_PAGES
    Source  definition
    """
    room = room_of(paper)
    pages: list[list[tuple[float, Part]]] = [[]]
    y_mm = 0.0
    for number, section in enumerate(document.sections):
        parts = [*((_title(document, room),) if number == 0 else ()), *_section(section, room)]
        if section.new_page and pages[-1]:
            pages.append([])
            y_mm = 0.0
        for group in _groups(parts):
            y_mm = _put(group, pages, y_mm, room.height_mm)
    if len(pages) > MOST_PAGES:
        raise Refusal([f"This document takes {len(pages)} pages; allowed: {MOST_PAGES} or fewer."])
    return tuple(Page(tuple(page)) for page in pages)


def page_count(document: Document, paper: Paper = "A4") -> int:
    """How many pages it takes: those that document_pdf prints.

    Raises  Refusal when it takes more than MOST_PAGES
    Source  definition
    """
    return len(pages_of(document, paper))


def document_pdf(document: Document, paper: Paper = "A4") -> bytes:
    """The document as a PDF, in grey; the same document gives the same file.

    Raises  Refusal when it takes more than MOST_PAGES
    Source  ISO 32000-1:2008
    """
    pages = pages_of(document, paper)
    width, height = SIZES_MM[paper]
    drawings = [
        Drawing(
            width, height, document.title, "", (*_body(page), *_foot(document, paper, number, len(pages)))
        )
        for number, page in enumerate(pages, 1)
    ]
    return to_pdf(drawings, document.title)


def _groups(parts: Sequence[Part]) -> Iterator[tuple[Part, ...]]:
    """Parts that stay on one page."""
    group: list[Part] = []
    for part in parts:
        group.append(part)
        if not part.keep:
            yield tuple(group)
            group = []
    if group:
        yield tuple(group)


def _put(
    group: tuple[Part, ...], pages: list[list[tuple[float, Part]]], y_mm: float, room_mm: float
) -> float:
    """Put a group on the last page, or on a new one where it does not fit; where it ends."""
    fits = y_mm + (group[0].gap_mm if pages[-1] else 0.0) + height_of(group) <= room_mm
    whole = height_of((*group[0].again, *group)) <= room_mm
    for place, part in enumerate(group):
        gap = part.gap_mm if pages[-1] else 0.0
        alone = y_mm + gap + part.height_mm <= room_mm
        # What no page holds in one piece is parted between its parts.
        if pages[-1] and ((place == 0 and not fits) or not (fits or whole or alone)):
            pages.append([])
            y_mm = gap = 0.0
            for again in part.again:
                pages[-1].append((y_mm, again))
                y_mm += again.height_mm
        y_mm += gap
        pages[-1].append((y_mm, part))
        y_mm += part.height_mm
    return y_mm


def _title(document: Document, room: Room) -> Part:
    height, shapes = text_lines(
        broken(document.title, room.wide_mm, TITLE_MM, bold=True), TITLE_MM, bold=True
    )
    under = broken(document.line, room.wide_mm, QUIET_MM) if document.line else ()
    more, below = text_lines(under, QUIET_MM, tone="quiet")
    return Part(height + more + 1.0, (*shapes, *moved(below, y_mm=height)), keep=True)


def _section(section: Section, room: Room) -> tuple[Part, ...]:
    lines = broken(section.title, room.wide_mm, SECTION_MM, bold=True)
    height, shapes = text_lines(lines, SECTION_MM, bold=True)
    rule = Line((0.0, height + 0.5), (room.wide_mm, height + 0.5), "ink", 0.5)
    head = Part(height + 1.5, (*shapes, rule), gap_mm=8.0, keep=True)
    inside = Room(room.wide_mm, room.wide_mm, room.height_mm) if section.wide else room
    return (head, *(part for block in section.blocks for part in parts_of(block, inside)))


def _body(page: Page) -> Iterator[Shape]:
    for y_mm, part in page.places:
        yield from moved(part.shapes, LEFT_MM, TOP_MM + y_mm)


def _foot(document: Document, paper: Paper, number: int, count: int) -> Iterator[Shape]:
    width, height = SIZES_MM[paper]
    y_mm, right = height - FOOT_MM, width - RIGHT_MM
    pages = f"page {number} of {count}"
    room = right - LEFT_MM - width_of(pages, LEAST_TEXT_MM) - 6.0
    yield Line((LEFT_MM, y_mm - 3.0), (right, y_mm - 3.0), "quiet", HAIR_MM)
    yield Text((LEFT_MM, y_mm), shortened(document.foot, room, LEAST_TEXT_MM), LEAST_TEXT_MM, "start")
    yield Text((right, y_mm), pages, LEAST_TEXT_MM, "end")
