"""Are the running measures those of a hand with a ruler, from one datum edge, on both shells?"""

import numpy as np
import pytest

from engine.bench.measures import Ruler, measure_cells, running_measures
from engine.bench.rows import row_groups
from engine.catalogue.load import load_catalogue
from engine.design import Design
from engine.evaluate import evaluate
from engine.layout import plan_baffles
from engine.night import Night

CATALOGUE = load_catalogue()


def measured(**fields):
    return running_measures(evaluate(Design.model_validate(fields), Night(), CATALOGUE), CATALOGUE)


def test_lengthwise_baffles_are_measured_across_by_hand():
    # Eight chambers of 140 mm in 1120; the outer 1120 + 2 rad × 56 mm = 1232, so 154 mm a chamber.
    (table,) = measured(
        outline={"width_mm": 1120},
        baffles={"spacing_mm": 140, "end_chamber_percent": 100, "height_mm": 56},
        cut={"wrap_across_rad": 2.0},
    )
    assert table.run == "lengthwise" and table.kind == "baffle"
    assert [row.place.inner_m * 1000 for row in table.rows] == pytest.approx([140 * n for n in range(1, 8)])
    assert [row.place.outer_m * 1000 for row in table.rows] == pytest.approx([154 * n for n in range(1, 8)])
    assert (table.across.inner_m, table.across.outer_m) == pytest.approx((1.120, 1.232))
    # Baffles stop 62 mm short of both ends of 1900; without a wrap along both shells are as long.
    for row in table.rows:
        (piece,) = row.pieces
        assert (piece.start.inner_m, piece.end.inner_m) == pytest.approx((0.062, 1.838))
        assert (piece.start.outer_m, piece.end.outer_m) == pytest.approx((0.062, 1.838))


def test_crosswise_baffles_are_measured_along_and_their_ends_across():
    # A top quilt 1200 wide to 900 mm, tapering to 900 at 2000: at 1450 half of the taper, 1050 wide.
    (table,) = measured(
        kind="top quilt",
        outline={
            "shape": "taper",
            "length_mm": 2000,
            "width_mm": 1200,
            "foot_width_mm": 900,
            "taper_from_mm": 900,
        },
        baffles={"layout": "full, crosswise", "spacing_mm": 200, "end_chamber_percent": 100},
        cut={"kind": "flat"},
    )
    assert table.run == "crosswise"
    assert [row.place.inner_m * 1000 for row in table.rows] == pytest.approx([200 * n for n in range(1, 10)])
    for row in table.rows:
        y = row.place.inner_m * 1000
        inset = max(y - 900, 0) / 1100 * 150
        (piece,) = row.pieces
        assert piece.start.inner_m * 1000 == pytest.approx(inset)
        assert piece.end.inner_m * 1000 == pytest.approx(1200 - inset)
        assert piece.start == type(piece.start)(piece.start.inner_m, piece.start.inner_m)


def test_staggered_baffles_are_measured_row_by_row_and_piece_by_piece():
    # 150 mm long, 90 mm apart, the first 90 mm from the end; every second row is half of 240 mm on.
    (table,) = measured(
        baffles={"layout": "staggered", "piece_length_mm": 150, "gap_mm": 90},
        cut={"wrap_along_rad": 1.0},
    )
    stretch = 1 + 1.0 * 50 / 1900
    for number, row in enumerate(table.rows):
        first = 90 + 120 * (number % 2)
        for index, piece in enumerate(row.pieces):
            start = first + 240 * index
            assert piece.name == f"{number + 1}.{index + 1}"
            assert (piece.start.inner_m * 1000, piece.end.inner_m * 1000) == pytest.approx(
                (start, start + 150)
            )
            assert piece.start.outer_m * 1000 == pytest.approx(start * stretch)
            assert piece.end.outer_m * 1000 == pytest.approx((start + 150) * stretch)


@pytest.mark.parametrize("layout", ["full, lengthwise", "full, crosswise", "staggered", "alternating"])
def test_every_baffle_has_one_line_of_the_table(layout):
    design = Design.model_validate({"baffles": {"layout": layout}})
    tables = running_measures(evaluate(design, Night(), CATALOGUE), CATALOGUE)
    lines = [line for table in tables for line in measure_cells(table)[1]]
    assert len(lines) == len(plan_baffles(design).lines)
    assert len({line[0] for line in lines}) == len(lines)


def test_lines_across_sheet_insulation_have_their_table():
    # Every 400 mm in 1900: at 400, 800, 1200 and 1600.
    (table,) = measured(baffles={"layout": "none"}, fill={"good": "sheet-100", "quilting_mm": 400})
    assert table.kind == "sewn line" and table.run == "crosswise"
    assert [row.place.inner_m for row in table.rows] == pytest.approx([0.4, 0.8, 1.2, 1.6])


def test_a_table_has_one_unit_in_a_column_and_inner_beside_outer():
    inches = Ruler("in", lambda length_m: f"{length_m / 0.0254:.3f}")
    (table,) = measured(baffles={"layout": "staggered"})
    heads, lines = measure_cells(table, inches)
    assert heads == (
        "baffle",
        "INNER across",
        "OUTER across",
        "INNER start",
        "OUTER start",
        "INNER end",
        "OUTER end",
    )
    first = table.rows[0]
    assert lines[0][1] == f"{first.place.inner_m / 0.0254:.3f}"
    assert not any("in" in cell or "mm" in cell for line in lines for cell in line)
    # The place of a row stands once.
    assert lines[1][1:3] == ("", "")


def test_rows_are_counted_from_the_datum_edges():
    for layout in ("full, lengthwise", "full, crosswise", "staggered", "alternating"):
        design = Design.model_validate({"baffles": {"layout": layout}, "outline": {"shape": "tapered ends"}})
        for group in row_groups(design, CATALOGUE):
            assert (np.diff([row.place_m for row in group.rows]) > 0).all()
            for row in group.rows:
                starts = [line.y0_m if group.run == "lengthwise" else line.x0_m for line in row.lines]
                assert starts == sorted(starts)
