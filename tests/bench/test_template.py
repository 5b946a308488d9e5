"""Is the baffle template true to size, complete, and safe to lay under a shell?

Everything is read back from the finished PDF with a general PDF library, or from its pixels. Places are
worked in the test from the design: on the outer shell each position is larger by 1 + wrap × height / size.
"""

import xml.etree.ElementTree as ET

import numpy as np
import pytest

from engine.bench.page_parts import way_words
from engine.bench.pages import template_svg
from engine.bench.piece import shell_piece
from engine.bench.tiles import MARGIN_MM, PAPERS, tiling
from engine.design import Design
from engine.draw.shapes import Line
from engine.draw.style import STROKES
from engine.layout import plan_baffles
from tests.bench.examples import DESIGNS, FILM_OVER_CLOTH, SHELLS, WITHIN_MM, evaluated, expected, made
from tests.bench.reading import Ends, on_the_shell, read, uncovered


@pytest.mark.parametrize("shell", SHELLS)
@pytest.mark.parametrize("name", DESIGNS)
def test_every_baffle_of_the_layout_is_on_the_template_at_its_place_and_no_other(name, shell):
    design = DESIGNS[name]
    kind = "sewn line" if design.baffles.layout == "sewn-through" else "baffle"
    one = made(design, shell=shell, extent="whole")
    given = [ends for tile in on_the_shell(one, read(one), kind) for ends in tile]
    wanted = expected(design, shell)
    assert len(wanted) == len(plan_baffles(design).lines) > 0
    assert uncovered(wanted, given, WITHIN_MM) == []
    assert uncovered(given, wanted, WITHIN_MM) == []


def test_the_outer_shell_is_larger_as_the_worked_example_of_the_trade_says():
    # 44 in, 2 rad, 2 1/2 in high: 49 in (arc length of concentric circles: 44 + 2 × 2.5).
    inch = 25.4
    design = Design.model_validate(
        {
            "outline": {"width_mm": 44 * inch},
            "baffles": {"height_mm": 2.5 * inch},
            "cut": {"wrap_across_rad": 2.0},
        }
    )
    one = made(design, shell="outer", extent="whole", paper="A3")
    seams = [ends for tile in on_the_shell(one, read(one), "seam line") for ends in tile]
    places = [y for ends in seams for _, y in ends]
    assert max(places) - min(places) == pytest.approx(49 * inch, abs=WITHIN_MM)


@pytest.mark.parametrize("shell", SHELLS)
def test_the_cloth_is_cut_its_allowance_beyond_the_seam(shell):
    # 13 mm at the sides; 35 mm at a gathered end, 13 mm at any other.
    for name, end in (("lengthwise", 35), ("crosswise taper", 13), ("staggered, tapered ends", 35)):
        piece = shell_piece(DESIGNS[name], evaluated(DESIGNS[name]).score.loft, shell)
        cut = np.array(piece.cut)
        for start, stop in zip(piece.seam, (*piece.seam[1:], piece.seam[0]), strict=True):
            way = np.subtract(stop, start)
            outwards = np.array([way[1], -way[0]]) / np.hypot(*way)
            beyond = ((cut - start) @ outwards).max()
            assert beyond == pytest.approx(end if abs(way[0]) < 1e-6 else 13, abs=1e-6)


@pytest.mark.parametrize("paper", ["A4", "Letter", "A3"])
def test_pages_have_the_size_of_their_paper_and_two_true_test_lines_each(paper):
    # ISO 216:2007, table 1; Letter is 8 1/2 × 11 in. The inch is 25.4 mm.
    size = {"A4": (210, 297), "Letter": (8.5 * 25.4, 11 * 25.4), "A3": (297, 420)}[paper]
    one = made(DESIGNS["staggered, tapered ends"], shell="outer", extent="whole", paper=paper)
    for page in read(one):
        assert sorted((page.width_mm, page.height_mm)) == pytest.approx(size, abs=0.01)
        foot = [
            abs(x1 - x0)
            for (x0, y0), (x1, _) in page.of_width(STROKES["baffle"].width_mm)
            if y0 > page.height_mm - MARGIN_MM - 16
        ]
        assert sorted(foot) == pytest.approx([100, 4 * 25.4], abs=WITHIN_MM)


@pytest.mark.parametrize("shell", SHELLS)
@pytest.mark.parametrize("kind", ["baffle", "cut line", "seam line"])
def test_tiles_agree_where_they_overlap(kind, shell):
    one = made(DESIGNS["staggered, tapered ends"], shell=shell, extent="whole")
    tiles = on_the_shell(one, read(one), kind)
    windows = [tile.window for tile in one.tiling.tiles]
    met = 0
    for here, lines in zip(windows, tiles, strict=True):
        for there, others in zip(windows, tiles, strict=True):
            shared = (
                max(here[0], there[0]),
                max(here[1], there[1]),
                min(here[2], there[2]),
                min(here[3], there[3]),
            )
            if here is there or shared[0] >= shared[2] or shared[1] >= shared[3]:
                continue
            ours = [part for ends in lines if (part := inside(ends, shared))]
            assert uncovered(ours, others, WITHIN_MM) == []
            met += len(ours)
    assert met > 10


def inside(ends: Ends, box: tuple[float, float, float, float]) -> Ends | None:
    """The part of a line within a box, by trying places a tenth of a millimetre apart."""
    a, b = np.array(ends[0]), np.array(ends[1])
    steps = np.linspace(0, 1, int(np.hypot(*(b - a)) * 10) + 2)[:, None]
    points = a + steps * (b - a)
    kept = points[((points >= box[:2]) & (points <= box[2:])).all(axis=1)]
    return (tuple(kept[0]), tuple(kept[-1])) if len(kept) > 1 else None


def test_a_page_without_a_line_is_not_printed_and_none_with_one_is_left_out():
    bounds = (0.0, 0.0, 1000.0, 1000.0)
    lines = [Line((0, 0), (1000, 0)), Line((0, 1000), (1000, 1000))]
    pages = tiling(lines, bounds, PAPERS["A4"])
    rows = {tile.row for tile in pages.tiles}
    assert len(rows) == 2 < max(rows) + 1
    by_name = {tile.name for tile in pages.tiles}
    assert "A1" in by_name and len(by_name) == len(pages.tiles)


def test_the_two_shells_are_mirror_images_with_the_left_edge_up_on_the_inner():
    # Both lie inside up: sewn together, inside on inside, their left edges must meet.
    flat = Design.model_validate({"cut": {"kind": "flat"}, "baffles": {"layout": "staggered"}})
    one = evaluated(flat)
    inner, outer = (shell_piece(flat, one.score.loft, shell) for shell in SHELLS)
    x, y = inner.at(0.2, 0.3)
    assert outer.at(0.2, 0.3) == pytest.approx((x, flat.outline.width_mm - y))
    assert way_words(inner).endswith("up") and way_words(outer).endswith("down")


def test_the_whole_on_a_roll_is_one_page_and_the_svg_is_the_same_in_millimetres():
    one = made(DESIGNS["crosswise taper"], extent="whole", paper="roll")
    (page,) = read(one)
    root = ET.fromstring(template_svg(one))
    assert root.get("width") == f"{round(page.width_mm, 2):g}mm"
    assert root.get("viewBox") == f"0 0 {round(page.width_mm, 2):g} {round(page.height_mm, 2):g}"
    drawn = [
        tuple(float(line.get(key)) for key in ("x1", "y1", "x2", "y2"))
        for line in root.iter("{http://www.w3.org/2000/svg}line")
        if line.get("stroke-width") == "0.5"
    ]
    # SVG keeps hundredths of a millimetre.
    wanted = [(*start, *end) for start, end in page.of_width(STROKES["baffle"].width_mm)]
    assert np.allclose(sorted(drawn), sorted(wanted), atol=0.0051)


@pytest.mark.parametrize("layout", ["staggered"])
def test_three_hundred_baffles_and_more_print(layout):
    busy = Design.model_validate(
        {
            "outline": {"length_mm": 2600, "width_mm": 2000},
            "baffles": {"layout": layout, "spacing_mm": 66, "piece_length_mm": 100, "gap_mm": 100},
            "shells": FILM_OVER_CLOTH,
        }
    )
    if layout == "staggered":
        assert len(plan_baffles(busy).lines) >= 300
    one = made(busy, shell="outer", extent="whole")
    assert one.tile_count > 80
    given = [ends for tile in on_the_shell(one, read(one), "baffle") for ends in tile]
    assert uncovered(expected(busy, "outer"), given, WITHIN_MM) == []
