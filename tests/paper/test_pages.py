"""Documents on pages, read back with a general PDF library: nothing is split, lost, too small or coloured."""

from collections import Counter
from io import BytesIO

import pdfplumber
import pytest

from engine.draw.shapes import Drawing, Text
from engine.paper.blocks import (
    Beside,
    Box,
    Column,
    Columns,
    Document,
    Figures,
    FillIn,
    Heading,
    Item,
    Items,
    Paragraph,
    Section,
    Step,
    Stop,
    Table,
    Together,
)
from engine.paper.pages import MOST_PAGES, document_pdf, page_count
from engine.refusals import Refusal

POINTS = {"A4": (595.28, 841.89), "Letter": (612.0, 792.0)}
"""ISO 216: 210 by 297 mm; ANSI/ASME Y14.1: 8.5 by 11 in; a point is 1/72 in."""


def words_of(document: Document, paper="A4") -> list[list[str]]:
    with pdfplumber.open(BytesIO(document_pdf(document, paper))) as pdf:
        return [[word["text"] for word in page.extract_words()] for page in pdf.pages]


def only(*blocks, title="A") -> Document:
    return Document(title, "foot", (Section("one", "One", tuple(blocks)),))


def step(number: int, lines: int) -> Step:
    items = tuple(Item(f"s{number}l{line} is done with care and a steady hand") for line in range(lines))
    return Step(
        str(number),
        f"t{number}",
        (Stop(f"h{number}"), Items(items), FillIn(f"w{number}", "planned 12 g;", "g", "yours:")),
    )


@pytest.mark.parametrize("paper", POINTS)
def test_no_step_is_parted_by_the_turn_of_a_page(paper):
    lengths = [1 + (7 * number) % 19 for number in range(40)]
    pages = words_of(only(*(step(number, lines) for number, lines in enumerate(lengths))), paper)
    assert len(pages) > 5
    for number, lines in enumerate(lengths):
        wanted = {f"t{number}", f"h{number}", f"w{number}", *(f"s{number}l{line}" for line in range(lines))}
        assert sum(wanted <= set(page) for page in pages) == 1


def test_a_step_longer_than_a_page_goes_on_under_its_title_and_loses_no_line():
    pages = words_of(only(Paragraph("before"), step(3, 150)))
    assert len(pages) > 2
    for page in pages[1:]:
        assert page[:3] == ["3", "t3,", "continued"] or "t3" in page
    found = Counter(word for page in pages for word in page if word.startswith("s3l"))
    assert found == Counter(f"s3l{line}" for line in range(150))


def long_table(rows: int) -> Table:
    columns = (Column("Piece"), Column("Length", "number"), Column("Done", "tick"))
    return Table(
        "T", columns, tuple((f"r{row}", f"{row} mm", "tick") for row in range(rows)), ("Sum", "9", "")
    )


@pytest.mark.parametrize("paper", POINTS)
def test_a_table_longer_than_a_page_repeats_its_head_and_has_each_row_once(paper):
    pages = words_of(only(Paragraph("before"), long_table(200)), paper)
    holding = [page for page in pages if any(word.startswith("r") and word[1:].isdigit() for word in page)]
    assert len(holding) > 3
    assert all(page.count("Piece") == 1 for page in holding)
    found = Counter(word for page in pages for word in page if word.startswith("r") and word[1:].isdigit())
    assert found == Counter(f"r{row}" for row in range(200))
    assert "r199" in pages[-1] and "r198" in pages[-1] and "Sum" in pages[-1]


@pytest.mark.parametrize("before", range(5, 45, 5))
def test_a_table_that_a_page_can_hold_stays_whole(before):
    lines = tuple(Paragraph(f"p{number}") for number in range(before))
    pages = words_of(only(*lines, long_table(25)))
    assert sum({f"r{row}" for row in range(25)} <= set(page) for page in pages) == 1


@pytest.mark.parametrize("before", range(20, 45))
def test_a_heading_stands_on_the_page_of_what_follows_it(before):
    lines = tuple(Paragraph(f"p{number}") for number in range(before))
    pages = words_of(only(*lines, Heading("head"), Paragraph("after")))
    assert any("head" in page and "after" in page for page in pages)


def everything() -> Document:
    drawing = Drawing(60.0, 40.0, "drawn", "a drawing", (Text((30.0, 20.0), "label"),))
    tall = Drawing(100.0, 900.0, "tall", "a tall drawing", (Text((50.0, 890.0), "lowest"),))
    first = Section(
        "a",
        "First",
        (
            Box("heavy box", (Paragraph("in it", "lead"),), heavy=True, wide=True),
            Columns(((Paragraph("left"),), (long_table(4),))),
            Beside((Paragraph("text beside " * 30),), drawing),
            Together((Heading("held"), Paragraph("together"))),
            Figures((drawing,) * 5),
            Figures((tall,)),
            Paragraph(
                "word " * 400, "A lead that fills a line of the paper by itself, and more of the next one"
            ),
            Paragraph("x" * 900, manner="small"),
        ),
        wide=True,
    )
    return Document(
        "Łąka № 7 → été ½ × −5 °C 漢", "foot Ω", (first, Section("b", "Second", (step(1, 4),), True))
    )


@pytest.mark.parametrize("paper", POINTS)
def test_pages_have_the_size_of_the_paper_and_hold_all_that_is_on_them(paper):
    document = everything()
    with pdfplumber.open(BytesIO(document_pdf(document, paper))) as pdf:
        assert len(pdf.pages) == page_count(document, paper)
        for number, page in enumerate(pdf.pages, 1):
            assert (page.width, page.height) == pytest.approx(POINTS[paper], abs=0.01)
            assert f"page {number} of {len(pdf.pages)}" in page.extract_text()
            for char in page.chars:
                assert char["x0"] >= 0 and char["x1"] <= page.width
                assert char["top"] >= 0 and char["bottom"] <= page.height
        assert "lowest" in " ".join(page.extract_text() for page in pdf.pages)


def test_letters_are_eight_points_or_more_and_everything_is_grey():
    with pdfplumber.open(BytesIO(document_pdf(everything()))) as pdf:
        sizes = {round(char["size"], 2) for page in pdf.pages for char in page.chars}
        shades = {
            shade
            for page in pdf.pages
            for thing in (*page.chars, *page.lines, *page.rects, *page.curves)
            for shade in (thing["non_stroking_color"], thing["stroking_color"])
            if shade is not None
        }
    assert min(sizes) >= 8.0
    # Steps by number at 16, text 11, tables 10: what is read at arm's length.
    assert {16.0, 11.0, 10.0} <= sizes
    # A grey in PDF has one component (ISO 32000-1:2008, 8.6.4.2).
    assert all(isinstance(shade, float | int) or len(shade) == 1 for shade in shades)


def test_signs_of_many_languages_are_printed_and_an_unknown_one_shows_as_a_question_mark():
    text = " ".join(word for page in words_of(everything()) for word in page)
    assert "Łąka № 7 → été ½ × −5 °C ?" in text and "foot Ω" in text


def test_a_word_wider_than_its_line_is_broken_and_nothing_of_it_is_lost():
    pages = words_of(only(Paragraph("http://x/" + "0123456789" * 60)))
    joined = "".join(word for word in pages[0])
    assert "http://x/" + "0123456789" * 60 in joined


def test_more_pages_than_a_stapler_takes_are_refused():
    sections = tuple(Section(str(n), "s", (Paragraph("x"),), new_page=True) for n in range(MOST_PAGES + 1))
    assert page_count(Document("A", "f", sections[:-1])) == MOST_PAGES
    with pytest.raises(Refusal, match=rf"{MOST_PAGES + 1} pages; allowed: {MOST_PAGES}"):
        page_count(Document("A", "f", sections))


def test_a_row_with_a_cell_too_many_is_refused_when_it_is_written():
    with pytest.raises(ValueError, match="2 cells; allowed: 1"):
        Table("T", (Column("one"),), (("a", "b"),))
