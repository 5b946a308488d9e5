"""Are hatching, ticks, dimensions, cutting off and placing what they say, worked by hand?"""

import re
import xml.etree.ElementTree as ET
from math import sqrt

import pytest

from engine.draw.compose import basics, clipped, hatching, placed
from engine.draw.shapes import (
    Circle,
    Dimension,
    Drawing,
    Hatch,
    Line,
    Modules,
    Polygon,
    Polyline,
    Shape,
    Text,
    Ticks,
)
from engine.draw.style import GREYS, LEAST_TEXT_MM, STROKES, on_paper
from engine.draw.svg import to_svg

SVG = "{http://www.w3.org/2000/svg}"
SQUARE = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0))
ONE_OF_EACH: tuple[Shape, ...] = (
    Line((0, 0), (10, 5)),
    Polyline(((1, 1), (2, 3), (4, 1))),
    Polygon(SQUARE, hatch=Hatch()),
    Circle((5, 5), 2.0, fill="shade"),
    Text((5, 20), "½ × − °C", anchor="end", turned_deg=30, bold=True),
    Modules((20, 20), 0.5, ((True, False), (False, True))),
    Ticks(((1, 1), (2, 2))),
    Dimension((0, 30), (40, 30), "40 mm", 5.0),
)


def drawing(*shapes: Shape) -> Drawing:
    return Drawing(100, 60, "Name", "What it shows", shapes)


def test_a_hatch_at_45_degrees_stays_inside_and_has_the_length_that_area_over_distance_gives():
    # Lines of distance d over an area A have the length A/d, but for what the border cuts off: at most
    # half a line at each end of the pack, a line being at most the diagonal.
    lines = hatching(Polygon(SQUARE, hatch=Hatch(0.5, 45.0)))
    for line in lines:
        for x, y in (line.start, line.end):
            assert -1e-9 <= x <= 10 + 1e-9 and -1e-9 <= y <= 10 + 1e-9
        assert line.end[0] - line.start[0] == pytest.approx(-(line.end[1] - line.start[1]))
    length = sum(sqrt((b.end[0] - b.start[0]) ** 2 + (b.end[1] - b.start[1]) ** 2) for b in lines)
    assert length == pytest.approx(100 / 0.5, abs=sqrt(200))


def test_a_hatch_leaves_the_notch_of_a_polygon_free():
    notched = Polygon(((0, 0), (10, 0), (10, 10), (5, 2), (0, 10)), hatch=Hatch(1.0, 0.0))
    for line in hatching(notched):
        y = line.start[1]
        if y > 2:  # the notch runs from (5, 2) to the lower corners: half width (y - 2) / 8 * 5
            free = 5 * (y - 2) / 8
            assert not (min(line.start[0], line.end[0]) < 5 < max(line.start[0], line.end[0]))
            assert abs(abs(line.end[0] - line.start[0]) - (5 - free)) < 1e-9


def test_a_hatch_without_distance_is_refused():
    with pytest.raises(ValueError, match="spacing_mm is 0; allowed: above 0"):
        Hatch(0.0)


@pytest.mark.parametrize(
    "line, kept",
    [
        (((-5, 5), (15, 5)), ((0, 5), (10, 5))),
        (((5, 5), (6, 6)), ((5, 5), (6, 6))),
        (((-10, 0), (10, 20)), None),  # touches the corner (0, 10) only
        (((0, 0), (10, 0)), ((0, 0), (10, 0))),  # on the border
        (((0, -1), (10, -1)), None),
        (((5, 15), (5, -15)), ((5, 10), (5, 0))),
    ],
)
def test_a_line_is_cut_off_at_its_box(line, kept):
    found = clipped(Line(*line), (0, 0, 10, 10))
    assert (found and (found.start, found.end)) == (kept and tuple(pytest.approx(p) for p in kept))


def test_dashes_stay_where_they_were_when_a_line_is_cut_off():
    found = clipped(Line((-7, 5), (15, 5), dash_mm=(6, 2)), (0, 0, 10, 10))
    assert found is not None and found.dash_from_mm == pytest.approx(7)
    assert 'stroke-dashoffset="7"' in to_svg(drawing(found))


def test_a_dimension_has_its_line_beside_ticks_at_its_ends_and_is_never_upside_down():
    for start, end in (((0, 30), (40, 30)), ((40, 30), (0, 30)), ((9, 50), (9, 10)), ((9, 10), (9, 50))):
        parts = list(basics([Dimension(start, end, "40 mm", 5.0)]))
        line, *_, text = parts
        assert sqrt((line.end[0] - line.start[0]) ** 2 + (line.end[1] - line.start[1]) ** 2) == 40
        assert sqrt((line.start[0] - start[0]) ** 2 + (line.start[1] - start[1]) ** 2) == pytest.approx(5)
        assert isinstance(text, Text) and -90 - 1e-6 <= text.turned_deg <= 90 + 1e-6
    below = next(basics([Dimension((0, 30), (40, 30), "40 mm", 5.0)]))
    assert below.start == (0, 35)  # right of the way from left to right is down


def test_placing_scales_places_but_neither_letters_nor_lines():
    line, *_, text = placed(drawing(Line((1, 2), (3, 4)), Text((5, 6), "a")), 10, 20, 0.5)
    assert (line.start, line.end, line.width_mm) == ((10.5, 21), (11.5, 22), Line((0, 0), (1, 1)).width_mm)
    assert (text.at, text.size_mm) == ((12.5, 23), Text((0, 0), "a").size_mm)


def test_what_is_composed_reaches_every_renderer_as_lines_and_text():
    found = {type(shape) for shape in basics(ONE_OF_EACH)}
    assert found == {Line, Polyline, Polygon, Circle, Text, Modules}
    root = ET.fromstring(to_svg(drawing(*ONE_OF_EACH)))
    tags = {element.tag.removeprefix(SVG) for element in root} - {"title", "desc"}
    assert tags == {"line", "polyline", "polygon", "circle", "text", "path"}


def test_the_svg_is_true_in_millimetres():
    root = ET.fromstring(to_svg(drawing(Line((0, 0), (100, 0)))))
    assert (root.get("width"), root.get("height"), root.get("viewBox")) == ("100mm", "60mm", "0 0 100 60")


def test_paper_is_grey_and_each_kind_of_line_is_its_own():
    assert all(re.fullmatch(r"#([0-9a-f]{2})\1\1", on_paper(tone)) for tone in GREYS)
    seen = [(stroke.width_mm, stroke.dash_mm) for stroke in STROKES.values()]
    assert len(set(seen)) == len(seen)
    with pytest.raises(ValueError, match="8 pt"):
        Text((0, 0), "small", LEAST_TEXT_MM - 0.01)
