"""Which template does a maker get for one shell: what is on it, on how many pages, and as which file?

Full size, in millimetres. Films that light passes are laid on it and traced; opaque cloth is marked by the
running measures, which come with it.
"""

from dataclasses import dataclass
from typing import Literal

from engine.bench.marks import (
    Cross,
    Mark,
    all_marks,
    bounds_of,
    datum_crosses,
    is_symmetric,
    kept_within,
    line_of,
)
from engine.bench.measures import MILLIMETRES, Ruler, RunningMeasures, running_measures
from engine.bench.piece import Piece, Shell, shell_piece
from engine.bench.repeat import Repeat, repeat_of
from engine.bench.tiles import PAPERS, Paper, Tiling, tiling
from engine.catalogue.load import Catalogue
from engine.draw.compose import Box
from engine.evaluate import Evaluation
from engine.refusals import Refusal

Extent = Literal["repeat", "whole"]
PaperName = Literal["A4", "Letter", "A3", "roll"]
MOST_PAGES = 400
"""More is a slip of the pen: nobody joins them."""
ROWS_LEFT_BLANK = 76.0
"""Of a page of running measures, mm: title, heads and foot."""
ROW_MM = 4.6


@dataclass(frozen=True)
class Choice:
    """What a maker asks for; `half` counts for a whole shell only, and where its halves are mirror images."""

    shell: Shell = "inner"
    extent: Extent = "repeat"
    paper: PaperName = "A4"
    half: bool = False


@dataclass(frozen=True)
class Template:
    """Everything on a template before it is drawn; `tiling` is None on a roll, where one page holds it."""

    name: str
    choice: Choice
    half: bool
    piece: Piece
    marks: tuple[Mark, ...]
    crosses: tuple[Cross, ...]
    bounds: Box
    paper: Paper | None
    tiling: Tiling | None
    cloth: str
    shows_light: bool
    ruler: Ruler
    measures: tuple[RunningMeasures, ...]
    laid_across_m: tuple[float, ...] = ()
    laid_along_m: tuple[float, ...] = ()
    exceptions: tuple[str, ...] = ()

    @property
    def tile_count(self) -> int:
        """Pages that carry lines of the template."""
        return len(self.tiling.tiles) if self.tiling else 1

    @property
    def measure_pages(self) -> int:
        """Pages of running measures."""
        return sum(count for _, count in self.measure_rows) if self.tiling else 0

    @property
    def measure_rows(self) -> tuple[tuple[int, int], ...]:
        """For each table: rows on a page, and how many pages it takes."""
        if self.paper is None:
            return ()
        room = int((self.paper.height_mm - ROWS_LEFT_BLANK) // ROW_MM)
        lines = [sum(len(row.pieces) for row in table.rows) for table in self.measures]
        return tuple((room, -(-count // room)) for count in lines)

    @property
    def page_count(self) -> int:
        """All pages: the tile map, the running measures and the tiles; counted without drawing any."""
        return self.tile_count + self.measure_pages + (1 if self.tiling else 0)


def template(
    one: Evaluation,
    catalogue: Catalogue,
    choice: Choice,
    ruler: Ruler = MILLIMETRES,
    paper: Paper | None = None,
    most_pages: int = MOST_PAGES,
) -> Template:
    """The template of one shell of a quilt; `paper` takes the place of the one that the choice names.

    Units   mm
    Raises  Refusal where nothing repeats, or for more than `most_pages` pages
    Source  engine.layout for the places, engine.loft for the stretch of the outer
    """
    design = one.design
    piece = shell_piece(design, one.score.loft, choice.shell)
    content, half = _content(one, catalogue, choice, piece, ruler)
    bounds = bounds_of(content.marks, content.crosses)
    sheet = paper or PAPERS.get(choice.paper)
    cloth = catalogue.fabric(getattr(design.shells, choice.shell))
    traced = choice.extent == "whole" and cloth.shows_light
    made = Template(
        name=design.name,
        choice=choice,
        half=half,
        piece=piece,
        marks=content.marks,
        crosses=content.crosses,
        bounds=bounds,
        paper=sheet,
        tiling=tiling([mark.line for mark in content.marks], bounds, sheet) if sheet else None,
        cloth=cloth.name,
        shows_light=cloth.shows_light,
        ruler=ruler,
        measures=() if traced else running_measures(one, catalogue),
        laid_across_m=tuple(place * piece.stretch_across for place in content.across_m),
        laid_along_m=tuple(place * piece.stretch_along for place in content.along_m),
        exceptions=content.exceptions,
    )
    if made.page_count > most_pages:
        raise Refusal((_too_many(made, most_pages),))
    return made


def _content(
    one: Evaluation, catalogue: Catalogue, choice: Choice, piece: Piece, ruler: Ruler
) -> tuple[Repeat, bool]:
    """What is on it, and whether that is a half; a whole shell is laid once, so it has no places."""
    if choice.extent == "repeat":
        return repeat_of(one.design, piece, catalogue, ruler), False
    marks = all_marks(one.design, piece, catalogue, ruler)
    crosses = datum_crosses(piece, ruler)
    half = choice.half and is_symmetric(marks, piece)
    if half:
        marks, crosses = _halved(marks, crosses, piece)
    return Repeat(marks, crosses, (), (), ()), half


def page_count(one: Evaluation, catalogue: Catalogue, choice: Choice) -> int:
    """How many pages the PDF will have, counted without drawing.

    Raises  Refusal where nothing repeats, or for too many pages
    Source  definition
    """
    return template(one, catalogue, choice).page_count


def can_be_halved(one: Evaluation, catalogue: Catalogue, shell: Shell) -> bool:
    """Whether half of a shell and its mirror image are the whole.

    Source  definition
    """
    piece = shell_piece(one.design, one.score.loft, shell)
    return is_symmetric(all_marks(one.design, piece, catalogue, MILLIMETRES), piece)


def _halved(
    marks: tuple[Mark, ...], crosses: tuple[Cross, ...], piece: Piece
) -> tuple[tuple[Mark, ...], tuple[Cross, ...]]:
    """The half with the datum edge, closed by the centre line."""
    left, top, right, bottom = bounds_of(marks, crosses)
    middle = piece.width_mm / 2
    box = (left, top, right, middle) if piece.datum_is_up else (left, middle, right, bottom)
    centre = Mark(
        "centre line", line_of("centre line", (left, middle), (right, middle)), "centre line", "centre"
    )
    kept = tuple(cross for cross in crosses if box[1] - 1e-6 <= cross.at[1] <= box[3] + 1e-6)
    return (*kept_within(marks, box), centre), kept


def _too_many(made: Template, most: int) -> str:
    half = "" if made.half else ", half of it"
    return (
        f"This template takes {made.page_count} pages of {made.paper.name if made.paper else 'the roll'}; "
        f"allowed: up to {most}. Take larger paper, a roll{half} or one repeat."
    )
