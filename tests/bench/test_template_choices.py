"""Does a maker get what was asked for: repeat or whole, half, paper, words on each page, and reasons?

A repeat or a half must give the whole again when it is laid as its page says.
"""

import re

import numpy as np
import pytest

from engine.bench.pages import template_pages, template_pdf, window_of
from engine.bench.template import Choice, can_be_halved, page_count, template
from engine.bench.tiles import Paper, letters
from engine.design import Design
from engine.draw.shapes import Text
from engine.layout import plan_baffles
from engine.refusals import Refusal
from engine.samples import samples
from tests.bench.examples import CATALOGUE, DESIGNS, SHELLS, WITHIN_MM, evaluated, expected, made
from tests.bench.reading import read, uncovered


def test_tiles_are_named_by_row_letter_and_column_number():
    # As spreadsheets name columns: Z is followed by AA, ZZ by AAA.
    assert [letters(n) for n in (0, 25, 26, 51, 52, 701, 702)] == ["A", "Z", "AA", "AZ", "BA", "ZZ", "AAA"]


def test_each_page_says_what_it_is():
    one = made(DESIGNS["staggered, tapered ends"], shell="outer", extent="whole")
    pages = read(one, text=True)
    names = {tile.name for tile in one.tiling.tiles}
    for number, page in enumerate(pages, 1):
        assert "OUTER SHELL, RIGHT SIDE down" in page.text
        assert f"page {number} of {len(pages)}" in page.text
        assert re.search(r"Print at 100.% \(actual size\)", page.text)
        assert "HEAD left" in page.text and "LEFT EDGE (datum) down" in page.text
        assert re.search(r"100.mm", page.text) and re.search(r"4.in", page.text)
        assert "Untitled quilt" in page.text
    tiles = [page for number, page in enumerate(pages, 1) if window_of(one, number)]
    assert all(tile.name in page.text for tile, page in zip(one.tiling.tiles, tiles, strict=True))
    assert all(name in pages[0].text for name in names)
    # The library reads text that stands upright letter by letter, so labels are asked of the drawing.
    words = " ".join(
        shape.text for page in template_pages(one) for shape in page.shapes if isinstance(shape, Text)
    )
    for wanted in ("HEAD, seam line", "FOOT, cut line", "LEFT EDGE", "RIGHT EDGE", "baffle 3.2 at"):
        assert wanted in words


@pytest.mark.parametrize("name", ["Größe ½ → ✓ ąęśżźńřůőű", "кот ελ −5 °C", "x" * 60, "W" * 60, "羽毛 \x07"])
def test_a_name_in_any_script_prints_and_stays_on_its_page(name):
    one = made(Design.model_validate({"name": name, "baffles": {"layout": "staggered"}}))
    text = read(one, text=True)[0].text
    first = name.split("\x07")[0].strip()
    if len(name) < 60 and "羽" not in name:
        assert first in text
    elif "羽" in name:
        assert "??" in text
    else:
        assert name[:20] in text
    assert "page 1 of" in text


@pytest.mark.parametrize("extent", ["repeat", "whole"])
@pytest.mark.parametrize("paper", ["A4", "Letter", "A3", "roll"])
def test_the_pages_are_counted_right_before_any_is_drawn(paper, extent):
    for sample in samples():
        for shell in SHELLS:
            choice = Choice(shell, extent, paper, half=True)
            one = evaluated(sample.design)
            file = template_pdf(template(one, CATALOGUE, choice))
            # ISO 32000-1:2008, 7.7.3.3: each page is an object of the type Page.
            assert page_count(one, CATALOGUE, choice) == len(re.findall(rb"/Type /Page\b", file))


def test_one_repeat_takes_a_few_pages_of_a4_and_the_whole_many_more():
    # With the map four to seven; the running measures come on top.
    for name in ("lengthwise", "staggered, tapered ends", "sewn through", "alternating"):
        for shell in SHELLS:
            assert 3 <= made(DESIGNS[name], shell=shell).tile_count <= 6
            assert made(DESIGNS[name], shell=shell, extent="whole").tile_count > 20


def test_too_many_pages_are_refused_with_the_reason():
    card = Paper("A6", 105.0, 148.0)  # ISO 216
    large = Design.model_validate({"outline": {"length_mm": 2600, "width_mm": 2000}})
    with pytest.raises(Refusal, match=r"takes \d{3,} pages of A6; allowed: up to 400\. Take larger paper"):
        template(evaluated(large), CATALOGUE, Choice(extent="whole"), paper=card)


def test_what_does_not_repeat_is_refused_with_the_reason():
    bare = Design.model_validate({"baffles": {"layout": "none"}, "edges": {"kind": "box edge"}})
    with pytest.raises(Refusal, match="no baffles and no sewn lines"):
        made(bare)
    assert made(bare, extent="whole").tile_count > 10
    few = Design.model_validate({"baffles": {"layout": "full, crosswise", "spacing_mm": 600}})
    few = few.model_copy(update={"outline": few.outline.model_copy(update={"length_mm": 700})})
    with pytest.raises(Refusal, match="nothing repeats"):
        made(few)


@pytest.mark.parametrize("shell", SHELLS)
@pytest.mark.parametrize("name", ["lengthwise", "crosswise taper", "staggered, tapered ends", "sewn through"])
def test_a_half_and_its_mirror_image_are_the_whole(name, shell):
    design = DESIGNS[name]
    assert can_be_halved(evaluated(design), CATALOGUE, shell)
    half, whole = (made(design, shell=shell, extent="whole", half=is_half) for is_half in (True, False))
    assert half.half and half.tile_count < whole.tile_count
    width = whole.piece.width_mm
    for kind in {mark.kind for mark in whole.marks}:
        halves = [(m.line.start, m.line.end) for m in half.marks if m.kind == kind]
        mirrored = [tuple((x, width - y) for x, y in ends) for ends in halves]
        wholes = [(m.line.start, m.line.end) for m in whole.marks if m.kind == kind]
        assert uncovered(wholes, [*halves, *mirrored], 1e-6) == []
    assert "Half piece" in read(half, text=True)[0].text


def test_an_even_number_of_staggered_rows_is_no_mirror_image_and_is_not_halved():
    design = DESIGNS["staggered, even rows"]
    rows = {round(line.x0_m, 6) for line in plan_baffles(design).lines}
    assert len(rows) % 2 == 0
    assert not can_be_halved(evaluated(design), CATALOGUE, "inner")
    assert not made(design, extent="whole", half=True).half


@pytest.mark.parametrize("shell", SHELLS)
@pytest.mark.parametrize("name", ["staggered, tapered ends", "staggered, even rows", "alternating"])
def test_the_repeat_laid_at_its_places_gives_every_baffle_that_it_promises(name, shell):
    design = DESIGNS[name]
    one = made(design, shell=shell)
    origin_u, origin_v = one.crosses[0].at
    sign = 1 if shell == "inner" else -1
    laid = [
        tuple(
            (x - origin_u + 1000 * along, y - origin_v + datum + sign * 1000 * across)
            for x, y in (mark.line.start, mark.line.end)
        )
        for across in one.laid_across_m
        for along in one.laid_along_m
        for mark in one.marks
        for datum in [0.0 if shell == "inner" else one.piece.width_mm]
    ]
    promised = [
        ends
        for ends, mark in zip(expected(design, shell), whole_marks(design, shell), strict=True)
        if mark.split(".")[0] not in one.exceptions
    ]
    assert len(promised) > 0.4 * len(expected(design, shell))
    assert uncovered(promised, laid, WITHIN_MM) == []


def whole_marks(design: Design, shell: str) -> list[str]:
    """Names of the baffles in the order of the layout, by their place."""
    marks = [m for m in made(design, shell=shell, extent="whole").marks if m.kind == "baffle"]
    by_place = {tuple(np.round([*m.line.start, *m.line.end], 3) + 0.0): m.name for m in marks}
    return [by_place[tuple(np.round([*a, *b], 3) + 0.0)] for a, b in expected(design, shell)]


def test_film_is_traced_and_opaque_cloth_is_measured():
    design = DESIGNS["staggered, tapered ends"]
    film, cloth = (made(design, shell=shell, extent="whole") for shell in SHELLS)
    assert film.shows_light and not cloth.shows_light
    assert "lay the template under it and trace" in read(film, text=True)[0].text
    first, second = read(cloth, text=True)[:2]
    assert "mark by the running measures" in first.text.replace("\n", " ")
    assert "Running measures in mm" in second.text
    assert film.measure_pages == 0 < cloth.measure_pages
