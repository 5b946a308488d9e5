"""Is a PDF true to the millimetre and complete, read back with a library that is not ours?

A point is 1/72 inch (ISO 32000-1:2008, 8.3.2.3); the library keeps six decimals of it.
"""

from io import BytesIO

import numpy as np
import pdfplumber
import pytest
from pdfminer.pdftypes import resolve1

from engine.draw.letters import face, printable, shortened, text_width_mm, wrapped
from engine.draw.pdf import to_pdf
from engine.draw.shapes import Circle, Drawing, Hatch, Line, Modules, Polygon, Polyline, Shape, Text
from engine.draw.style import GREYS

POINT_MM = 25.4 / 72


def page_of(*shapes: Shape, size: tuple[float, float] = (210.0, 297.0)):
    file = to_pdf([Drawing(*size, "", "", shapes)], "Test")
    return pdfplumber.open(BytesIO(file)).pages[0]


def test_a_page_has_the_size_of_its_drawing_and_lines_their_place_length_and_width():
    page = page_of(Line((10, 20), (110, 20), width_mm=0.5), Line((10, 20), (40, 60)))
    assert float(page.width) * POINT_MM == pytest.approx(210, abs=1e-4)
    assert float(page.height) * POINT_MM == pytest.approx(297, abs=1e-4)
    first, second = page.lines
    assert (first["x1"] - first["x0"]) * POINT_MM == pytest.approx(100, abs=1e-4)
    assert first["x0"] * POINT_MM == pytest.approx(10, abs=1e-4)
    assert first["top"] * POINT_MM == pytest.approx(20, abs=1e-4)
    assert first["linewidth"] * POINT_MM == pytest.approx(0.5, abs=1e-4)
    places = sorted((x * POINT_MM, 297 - y * POINT_MM) for x, y in second["pts"])
    # This library gives points with y from the top in newer and from the bottom in older versions.
    tops = {round(second["top"] * POINT_MM, 3), round(second["bottom"] * POINT_MM, 3)}
    assert [x for x, _ in places] == pytest.approx([10, 40], abs=1e-4) and tops == {20, 60}


def test_outlines_fills_hatching_and_discs_are_in_it_in_grey():
    triangle = ((10.0, 10.0), (50.0, 10.0), (30.0, 40.0))
    page = page_of(
        Polygon(triangle, fill="shade"),
        Polyline(((10, 60), (20, 70), (40, 60))),
        Polygon(((60, 10), (80, 10), (80, 30), (60, 30)), hatch=Hatch(2.0)),
        Circle((100, 100), 5.0, fill="ink"),
        Modules((120, 120), 1.0, ((True, False), (False, True))),
    )
    fills = [np.atleast_1d(curve["non_stroking_color"]) for curve in page.curves if curve["fill"]]
    assert [GREYS["shade"]] in [fill.tolist() for fill in fills]
    # Twenty millimetres square, hatched at 45 degrees every 2 mm: 20 sqrt(2) / 2 = 14 lines.
    assert len(page.lines) == 14
    colours = [
        shape["stroking_color"] if shape["stroke"] else shape["non_stroking_color"]
        for shape in (*page.lines, *page.curves, *page.rects)
    ]
    assert colours and all(np.size(colour) == 1 for colour in colours)
    squares = [rect for rect in page.rects if abs(rect["width"] * POINT_MM - 1) < 1e-3]
    assert [round(rect["x0"] * POINT_MM) for rect in squares] == [120, 121]


def test_text_comes_out_as_it_went_in_whatever_its_script():
    said = "Größe ½ × −5 °C g/m² ≥ → ✓ ąęśżźńřůőű кот ελ"
    page = page_of(Text((10, 20), said, anchor="start"), Text((10, 40), "羽毛 \x07!", anchor="start"))
    text = page.extract_text()
    assert said in text
    assert "?? ?!" in text


def test_text_stands_on_its_anchor():
    page = page_of(Text((100, 20), "Middle"), Text((100, 40), "End", anchor="end"))
    for word, wanted in (("Middle", lambda w: (w["x0"] + w["x1"]) / 2), ("End", lambda w: w["x1"])):
        found = next(each for each in page.extract_words() if each["text"] == word)
        assert wanted(found) * POINT_MM == pytest.approx(100, abs=0.05)
    turned = page_of(Text((100, 100), "up", turned_deg=-90))
    first, second = turned.chars
    assert first["top"] > second["top"] and abs(first["x0"] - second["x0"]) < 0.01


def test_the_file_asks_not_to_be_scaled_carries_its_font_and_is_the_same_each_time():
    drawing = Drawing(100, 100, "", "", (Text((50, 50), "a"), Text((50, 60), "b", bold=True)))
    file = to_pdf([drawing], "Title")
    assert file == to_pdf([drawing], "Title")
    pdf = pdfplumber.open(BytesIO(file))
    assert resolve1(pdf.doc.catalog["ViewerPreferences"])["PrintScaling"].name == "None"
    assert {char["fontname"].split("+")[1] for char in pdf.pages[0].chars} == {
        "DejaVuSans",
        "DejaVuSans-Bold",
    }
    assert pdf.metadata["Title"] == "Title"


@pytest.mark.parametrize("size", [(0.0, 10.0), (10.0, -1.0), (float("nan"), 10.0)])
def test_a_page_without_a_size_is_refused(size):
    with pytest.raises(ValueError, match="allowed: above 0"):
        to_pdf([Drawing(*size, "", "", ())], "")
    with pytest.raises(ValueError, match="at least one page"):
        to_pdf([], "")


def test_a_text_is_as_wide_as_its_letters_and_breaks_where_its_column_ends():
    # DejaVu Sans is 2048 units an em; "a" is 1255 and a space 651 of them wide (the font's hmtx table).
    assert text_width_mm("aa a", 10.0) == pytest.approx(10 * (3 * 1255 + 651) / 2048)
    lines = wrapped("one two three four five six seven", 30.0, 4.0)
    assert len(lines) > 1 and all(text_width_mm(line, 4.0) <= 30 for line in lines)
    assert " ".join(lines) == "one two three four five six seven"
    cut = shortened("W" * 60, 30.0, 4.0)
    assert cut.endswith("…") and text_width_mm(cut, 4.0) <= 30
    assert shortened("short", 30.0, 4.0) == "short"
    assert "100\u00a0mm" in wrapped("the line is 100\u00a0mm long", 20.0, 4.0)
    assert printable("a\u00a0b") == "a\u00a0b" and face() != face(bold=True)
