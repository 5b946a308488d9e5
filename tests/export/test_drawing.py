"""Are drawings to scale, readable, well-formed and safe, and does a QR code hold what it should?"""

import re
import xml.etree.ElementTree as ET

import pytest
import segno

from engine.design import Design
from engine.draw.shapes import Drawing, Line, Polygon, Text
from engine.draw.style import LEAST_TEXT_MM
from engine.draw.svg import to_svg
from engine.export.plan import plan_drawing
from engine.export.qr import LONGEST, QUIET_ZONE, qr_drawing, qr_matrix
from engine.layout import plan_baffles
from engine.samples import samples
from engine.units import INCH

SVG = "{http://www.w3.org/2000/svg}"
DESIGNS = [
    *(sample.design for sample in samples()),
    Design.model_validate({"baffles": {"layout": "full, crosswise"}, "outline": {"shape": "taper"}}),
    Design.model_validate({"outline": {"shape": "tapered ends"}, "ends": {"shape": "darted"}}),
    Design.model_validate({"outline": {"length_mm": 2600, "width_mm": 2000}}),
]
HOSTILE = "<script>alert(1)</script> & \"quoted\" 'too' ]]> \x00\x1b"


def texts(drawing: Drawing) -> list[str]:
    return [shape.text for shape in drawing.shapes if isinstance(shape, Text)]


@pytest.mark.parametrize("width_mm", [90.0, 100.0, 180.0])
@pytest.mark.parametrize("design", DESIGNS)
def test_the_plan_is_to_the_scale_that_it_names(design, width_mm):
    drawing = plan_drawing(design, width_mm=width_mm)
    scale = next(float(text.split("1 : ")[1]) for text in texts(drawing) if "1 : " in text)
    outline = next(shape for shape in drawing.shapes if isinstance(shape, Polygon))
    along = [x for x, _ in outline.points]
    across = [y for _, y in outline.points]
    assert (max(along) - min(along)) * scale == pytest.approx(design.outline.length_mm)
    assert (max(across) - min(across)) * scale == pytest.approx(design.outline.width_mm)


@pytest.mark.parametrize("width_mm", [90.0, 100.0, 180.0])
@pytest.mark.parametrize("design", DESIGNS)
def test_every_line_of_the_plan_stays_on_its_paper(design, width_mm):
    drawing = plan_drawing(design, width_mm=width_mm)
    for shape in drawing.shapes:
        points = {Line: lambda s: (s.start, s.end), Polygon: lambda s: s.points, Text: lambda s: (s.at,)}
        for x, y in points[type(shape)](shape):
            assert 0 <= x <= drawing.width_mm
            assert 0 <= y <= drawing.height_mm


@pytest.mark.parametrize("design", DESIGNS)
def test_the_plan_draws_each_baffle_once_and_says_head_foot_and_side(design):
    drawing = plan_drawing(design)
    solid = [s for s in drawing.shapes if isinstance(s, Line) and s.tone == "ink"]
    assert len(solid) == len(plan_baffles(design).lines)
    assert {"HEAD", "FOOT", "datum edge"} <= set(texts(drawing))
    assert any("INNER SHELL" in text for text in texts(drawing))


def test_running_measures_start_at_the_datum_edge_so_that_errors_do_not_add_up():
    design = Design.model_validate({"baffles": {"spacing_mm": 140, "end_chamber_percent": 100}})
    rows = [line.x0_m for line in plan_baffles(design).lines]
    said = texts(plan_drawing(design, lambda m: f"{m:.4f}"))
    assert [f"{x:.4f}" for x in rows] == [text for text in said if text in {f"{x:.4f}" for x in rows}]
    assert f"{design.outline.width_mm / 1000:.4f}" in said


def test_measures_are_said_as_the_caller_wants():
    said = texts(plan_drawing(Design(), lambda m: f"{m / INCH:.1f} in"))
    assert "74.8 in" in said  # 1900 mm, 25.4 mm an inch by definition
    assert not any(text.endswith("mm") for text in said)


def test_no_text_is_smaller_than_eight_points():
    # A point is 1/72 inch (PostScript Language Reference, 3rd edition, 1999).
    assert pytest.approx(8 / 72 * 25.4) == LEAST_TEXT_MM
    for design in DESIGNS:
        sizes = [s.size_mm for s in plan_drawing(design).shapes if isinstance(s, Text)]
        assert min(sizes) >= LEAST_TEXT_MM
    with pytest.raises(ValueError, match="size_mm is 2; allowed"):
        Text((0, 0), "too small", 2.0)


@pytest.mark.parametrize("design", DESIGNS)
def test_the_svg_is_well_formed_and_has_a_name_for_those_who_cannot_see_it(design):
    root = ET.fromstring(to_svg(plan_drawing(design)))
    drawing = plan_drawing(design)
    assert root.tag == f"{SVG}svg"
    assert root.get("viewBox") == f"0 0 {drawing.width_mm:g} {float(f'{drawing.height_mm:.2f}'):g}"
    assert root.findtext(f"{SVG}title") == f"Plan of {design.name}"
    assert "Inner shell from above" in (root.findtext(f"{SVG}desc") or "")


def test_a_hostile_name_stays_text_in_the_svg():
    drawing = Drawing(50, 50, HOSTILE, HOSTILE, (Text((1, 1), HOSTILE), Line((0, 0), (1, 1))))
    root = ET.fromstring(to_svg(drawing))
    assert {element.tag for element in root.iter()} == {
        f"{SVG}{tag}" for tag in ("svg", "title", "desc", "text", "line")
    }
    # U+0000 and U+001B are no characters of XML 1.0 (production 2).
    assert root.findtext(f"{SVG}text") == HOSTILE.replace("\x00", "\ufffd").replace("\x1b", "\ufffd")


def test_colours_are_the_callers_and_no_other():
    svg = to_svg(plan_drawing(Design()), ink="#111111", quiet="#222222", ground="#333333")
    assert set(re.findall(r"#[0-9a-f]{3,6}", svg)) <= {"#111111", "#222222", "#333333"}


def matrix_in(svg: str, count: int) -> tuple[tuple[bool, ...], ...]:
    """The modules that the path of a QR drawing fills."""
    path = ET.fromstring(svg).find(f"{SVG}path")
    rows = [[False] * count for _ in range(count)]
    for x, y, length in re.findall(r"M(\d+) (\d+)h(\d+)v1h-\d+z", path.get("d")):
        for place in range(int(x), int(x) + int(length)):
            rows[int(y)][place] = True
    return tuple(map(tuple, rows))


@pytest.mark.parametrize("length", [1, 120, 330, LONGEST])
def test_the_drawn_code_is_the_code_that_the_library_makes(length):
    text = ("http://127.0.0.1:8501/?d=" + "aZ09-_" * LONGEST)[:length]
    made = tuple(tuple(map(bool, row)) for row in segno.make_qr(text, error="l", boost_error=False).matrix)
    assert matrix_in(to_svg(qr_drawing(text)), len(made)) == made


def test_the_code_has_its_finder_and_timing_patterns_and_its_quiet_zone():
    # ISO/IEC 18004:2015, 6.3.3 finder, 6.3.5 timing, 6.3.8 quiet zone of four modules.
    matrix = qr_matrix("http://127.0.0.1:8501/?d=" + "aZ09-_" * 40)
    count = len(matrix)
    assert (count - 17) % 4 == 0
    ring = [[max(abs(x - 3), abs(y - 3)) != 2 for x in range(7)] for y in range(7)]
    for top, left in ((0, 0), (0, count - 7), (count - 7, 0)):
        assert [list(row[left : left + 7]) for row in matrix[top : top + 7]] == ring
    assert list(matrix[6][8 : count - 8]) == [place % 2 == 0 for place in range(8, count - 8)]
    drawing = qr_drawing("http://127.0.0.1:8501/?d=" + "aZ09-_" * 40)
    (modules,) = drawing.shapes
    assert QUIET_ZONE == 4
    assert modules.at[0] == pytest.approx(4 * modules.size_mm)
    assert drawing.width_mm == pytest.approx((count + 8) * modules.size_mm)


@pytest.mark.parametrize("text", ["", "x" * (LONGEST + 1)])
def test_what_a_phone_could_not_read_is_refused(text):
    with pytest.raises(ValueError, match=f"{len(text)} characters; allowed: 1 to 800"):
        qr_matrix(text)
