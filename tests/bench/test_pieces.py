"""Do the pieces add up to the bill, are they as large as worked by hand, and does the cut list close?

Allowances 13 mm all round, 35 mm at a cord channel, 11 mm at a baffle, laps of 12 to 13 mm, and an outer
shell wider by wrap times baffle height: common practice, no source.
"""

from collections import defaultdict

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.bench.lay import roll_of
from engine.bench.marks import all_marks
from engine.bench.measures import MILLIMETRES
from engine.bench.piece import shell_piece
from engine.bench.pieces import pieces_of
from engine.bench.polygons import area_of
from engine.design import Design
from engine.formulas import geometry
from engine.layout import stations
from engine.night import Night
from engine.quantities import end_allowance, resolve, shell_panels
from engine.samples import samples
from engine.score import score
from engine.units import INCH
from tests.engine.made import ALL, CATALOGUE, FILM, FULL_SEWN, SHEET, TOP, changed
from tests.engine.strategies import designs

FLAT = changed(FULL_SEWN, "cut.kind", "flat")


def cut(design, way="least roll"):
    q = resolve(design, Night(), CATALOGUE)
    result = score(q)
    return pieces_of(design, CATALOGUE, q, result, way), result


def named(design, name, way="least roll"):
    return next(piece for piece in cut(design, way)[0] if piece.name == name)


def adds_up(design):
    pieces, result = cut(design)
    area, mass, count = defaultdict(float), defaultdict(float), defaultdict(int)
    for piece in pieces:
        area[piece.part] += piece.count * piece.area_m2
        mass[piece.part] += piece.mass_kg
        count[piece.part] += piece.count
    parts = {part.name: part for part in result.bill.parts if float(part.area_m2) > 0}
    assert set(area) == set(parts)
    for name, part in parts.items():
        assert area[name] == pytest.approx(float(part.area_m2), rel=1e-9), name
        assert mass[name] == pytest.approx(float(part.mass_kg), rel=1e-9), name
        if name.endswith("shell") or name == "sheet insulation":
            # The bill counts shells and layers whole; a piece more for each join.
            assert count[name] >= float(part.count), name
        else:
            assert count[name] == float(part.count), name
    shells = count["inner shell"] + count["outer shell"]
    joins = next(joint for joint in result.bill.joints if joint.name == "panel joins")
    assert shells == 2 + float(joins.pieces)


@pytest.mark.parametrize("design", [*ALL, *(sample.design for sample in samples())], ids=lambda d: d.name)
def test_pieces_add_up_to_the_parts_of_the_bill(design):
    adds_up(design)


@settings(max_examples=60)
@given(designs)
def test_pieces_of_any_design_add_up_to_the_parts_of_the_bill(design):
    adds_up(design)


def test_a_rectangle_is_cut_as_by_hand():
    # 1.90 x 1.12 m, 35 mm at each gathered end and 13 mm at each side: 1.970 x 1.146 m, twice.
    pieces = [piece for piece in cut(FLAT)[0] if piece.part.endswith("shell")]
    for piece in pieces:
        assert piece.cut_m == pytest.approx((1.970, 1.146))
        assert piece.seam_m == pytest.approx((1.900, 1.120))
        assert piece.area_m2 == pytest.approx(1.970 * 1.146)
    assert len(pieces) == 2


def test_44_inches_and_a_wrap_of_2_rad_round_baffles_of_two_and_a_half_make_49():
    design = changed(changed(FULL_SEWN, "outline.width_mm", 44 * 25.4), "baffles.height_mm", 2.5 * 25.4)
    outer = named(design, "outer shell")
    assert outer.seam_m[1] / INCH == pytest.approx(49.0)
    assert outer.cut_m[1] == pytest.approx(49 * INCH + 0.026)


def test_a_baffle_of_64_mm_is_cut_86_high():
    baffle = named(changed(FULL_SEWN, "baffles.height_mm", 64.0), "baffle")
    assert baffle.seam_m[1] == pytest.approx(0.064) and baffle.cut_m[1] == pytest.approx(0.086)
    said = " ".join(note.said(lambda metres: f"{1000 * metres:.0f} mm") for note in baffle.notes)
    assert "Height: finished 64 mm, cut 86 mm." in said
    # A lengthwise baffle stays a strip while the outer is no longer than the inner.
    assert baffle.area_m2 == pytest.approx(baffle.cut_m[0] * baffle.cut_m[1])


def test_a_crosswise_baffle_of_a_differential_cut_is_a_trapezoid():
    # Inner edge 1120, outer edge 1120 + 2 x 50 mm; 11 mm further out the slanting ends carry on.
    crosswise = changed(FULL_SEWN, "baffles.layout", "full, crosswise")
    baffle = named(crosswise, "baffle")
    x = sorted(point[0] for point in baffle.seam)
    assert x[-1] - x[0] == pytest.approx(1.220) and x[-2] - x[1] == pytest.approx(1.120)
    assert baffle.area_m2 == pytest.approx((1.120 + 1.220) / 2 * 0.072)
    assert {mark.text for mark in baffle.marks} == {"INNER", "OUTER"}


def test_alternating_baffles_are_trapezoids_across_and_strips_along():
    design = changed(FULL_SEWN, "baffles.layout", "alternating")
    baffles = [piece for piece in cut(design)[0] if piece.part == "baffles"]
    kinds = {
        ("crosswise" in piece.notes[1].text, piece.area_m2 < 0.999 * np.prod(piece.cut_m))
        for piece in baffles
    }
    assert kinds == {(True, True), (False, False)}


def test_what_the_outer_is_wider_goes_somewhere_stated():
    # By hand: 2 rad x 50 mm = 100 mm at an end as wide as the quilt.
    outer = named(changed(FULL_SEWN, "ends.surplus", "pleated"), "outer shell")
    head = next(note for note in outer.notes if note.edge == "head")
    assert head.lengths_m["surplus"] == pytest.approx(0.100) and "pleated" in head.text
    panelled = named(FILM, "outer shell")
    assert [note for note in panelled.notes if note.edge] == []
    assert any("end panels" in note.text for note in panelled.notes)
    assert all("surplus" not in note.lengths_m for note in named(FLAT, "outer shell").notes)


def test_end_panels_and_edge_walls_close_between_both_shells():
    # By hand, FILM: inner end 1120, outer 1120 + 2 x 64 = 1248 mm; 13 mm on every edge.
    panel = named(FILM, "end panel")
    assert panel.count == 2
    x = sorted(point[0] for point in panel.seam)
    assert x[-1] - x[0] == pytest.approx(1.248) and x[-2] - x[1] == pytest.approx(1.120)
    assert panel.area_m2 == pytest.approx(((1.120 + 1.248) / 2 + 0.026) * (0.064 + 0.026))
    walled = changed(changed(FULL_SEWN, "edges.kind", "low edge wall"), "cut.wrap_along_rad", 1.0)
    # Inner side 1900, outer 1900 + 1 x 50 mm.
    wall = named(walled, "edge wall")
    assert wall.area_m2 == pytest.approx((1.925 + 0.026) * 0.056)


def test_a_top_quilt_has_two_ovals_and_a_folded_collar():
    # By hand: oval 420 x 320, tube 160 flat on a head of 1300 mm, 13 mm on.
    oval, collar = named(TOP, "footbox end panel"), named(TOP, "draft collar")
    assert oval.count == 2 and oval.cut_m == pytest.approx((0.446, 0.346), rel=1e-3)
    assert oval.area_m2 == pytest.approx(np.pi / 4 * 0.446 * 0.346)
    # The outline is of chords outside the oval; 120 of them are 0.1 % too large at most.
    assert oval.area_m2 <= area_of(oval.cut) <= 1.001 * oval.area_m2
    assert collar.cut_m == pytest.approx((1.326, 0.346))
    assert collar.finished_m[1] == pytest.approx(0.160)


def test_sheet_insulation_is_cut_at_the_seam_line_in_its_layers():
    sheet = named(SHEET, "sheet insulation")
    assert sheet.count == 2 and sheet.cut_m == pytest.approx((1.9, 1.12))


@pytest.mark.parametrize("method, lap", [("sewn-seam", 0.012), ("tape-12", 0.012), ("sewn-double", 0.013)])
def test_a_spliced_shell_is_two_mirrored_halves_that_lap(method, lap):
    wide = changed(changed(FLAT, "outline.width_mm", 1600.0), "joints.panel_joins", method)
    half = named(wide, "inner shell, half", "spliced")
    assert (half.count, half.mirrored) == (2, 1)
    # By hand: 1600 and twice 13 mm, once the lap, in two.
    assert half.cut_m[1] == pytest.approx((1.626 + lap) / 2)
    assert next(edge.width_m for edge in half.allowances if edge.edge == "join") == pytest.approx(lap / 2)
    # From the middle of the lap to the seam of the edge.
    assert half.seam_m[1] == pytest.approx(0.8)
    edges = {edge.edge for edge in half.allowances}
    assert edges == {"head", "foot", "left edge", "join"}


def test_a_turned_shell_is_a_head_and_a_foot_panel_with_its_grain_across():
    wide = changed(FLAT, "outline.width_mm", 1600.0)
    panels = [piece for piece in cut(wide, "turned")[0] if piece.part == "inner shell"]
    assert [piece.name for piece in panels] == ["inner shell, head panel", "inner shell, foot panel"]
    assert {piece.grain for piece in panels} == {"across"}
    assert all(piece.cut_m == pytest.approx(((1.970 + 0.012) / 2, 1.626)) for piece in panels)
    texts = [{mark.text for mark in piece.marks} for piece in panels]
    assert "HEAD" in texts[0] - texts[1] and "FOOT" in texts[1] - texts[0]


@settings(max_examples=40)
@given(designs, st.sampled_from(["least roll", "spliced", "turned"]))
def test_panels_cut_out_of_the_outline_make_the_whole_and_their_laps(design, way):
    # Polygons cut apart at straight lines, against integrals of the outline's width.
    pieces, result = cut(design, way)
    method = CATALOGUE.joint(design.joints.panel_joins)
    for side, along, across in (
        ("inner", 1.0, 1.0),
        ("outer", float(result.loft.outer_stretch_along), float(result.loft.outer_stretch_across)),
    ):
        panels = [piece for piece in pieces if piece.part == f"{side} shell"]
        fabric = CATALOGUE.fabric(getattr(design.shells, side))
        found = shell_panels(design, along, across, fabric, method, way)
        outline = geometry.stretched(*stations(design.outline), along, across)
        whole = geometry.cut_area(*outline, 0.013, end_allowance(design))
        assert sum(piece.count for piece in panels) == found.count
        area = sum(piece.count * piece.area_m2 for piece in panels)
        assert area == pytest.approx(whole + found.lap_m2, rel=1e-9)
        seams = sum(piece.count * area_of(piece.seam) for piece in panels)
        assert seams == pytest.approx(geometry.outline_area(*outline), rel=1e-9)
        across_roll = [piece.cut_m[1 if piece.grain == "along" else 0] for piece in panels]
        assert max(across_roll) <= roll_of(fabric.id, CATALOGUE).usable_m + 1e-9


@settings(max_examples=40)
@given(designs)
def test_every_seam_lies_inside_its_cut_and_every_mark_on_its_piece(design):
    for piece in cut(design)[0]:
        length, width = piece.cut_m
        assert min(x for x, _ in piece.cut) == pytest.approx(0, abs=1e-9)
        assert min(y for _, y in piece.cut) == pytest.approx(0, abs=1e-9)
        for x, y in piece.seam:
            assert -1e-9 <= x <= length + 1e-9 and -1e-9 <= y <= width + 1e-9
        assert area_of(piece.seam) <= area_of(piece.cut) + 1e-12
        assert 0 <= piece.mirrored <= piece.count
        for note in piece.notes:
            assert "{" not in note.said(lambda metres: f"{metres:.3f}")


@pytest.mark.parametrize("shell", ["inner", "outer"])
def test_darts_and_channels_are_where_the_template_has_them(shell):
    design = changed(changed(FULL_SEWN, "ends.shape", "darted"), "outline.shape", "tapered ends")
    result = score(resolve(design, Night(), CATALOGUE))
    template = shell_piece(design, result.loft, shell)
    lines = [mark.line for mark in all_marks(design, template, CATALOGUE, MILLIMETRES) if mark.kind == "dart"]
    legs = {tuple(np.round((*line.start, *line.end), 3)) for line in lines}
    piece = named(design, f"{shell} shell")
    found = set()
    for mark in piece.marks:
        if mark.kind == "dart":
            # The template counts from the seam line, a piece from the corner of its box.
            one, tip, other = (((x - 0.013) * 1000, (y - 0.013) * 1000) for x, y in mark.points)
            found |= {tuple(np.round((*edge, *tip), 3)) for edge in (one, other)}
    assert found == legs and len(legs) == 8


def test_the_left_edge_is_up_on_the_inner_and_down_on_the_outer_and_the_datum_is_on_it():
    for name, left_y, width in (("inner", 0.0, 1.146), ("outer", 1.246, 1.246)):
        piece = named(FULL_SEWN, f"{name} shell")
        marks = {mark.kind: mark.points[0] for mark in piece.marks}
        assert marks["left"][1] == pytest.approx(left_y)
        assert marks["datum"] == pytest.approx((0.035, abs(left_y - 0.013)))
        assert piece.cut_m[1] == pytest.approx(width)


def test_patches_are_of_any_scrap_one_inside_and_one_outside_at_each_tab():
    patch = named(Design(tabs=7), "patch")
    assert patch.count == 14 and patch.goods is None and patch.cut_m == pytest.approx((0.040, 0.040))
