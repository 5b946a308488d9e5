"""Does the Make page offer the template asked for, say its pages first, and give the measures?"""

import re
from html import unescape
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from dashboard.template_box import HALF, HALVES_DIFFER, MEASURES, measures_html, pages_in_words, ruler_of
from engine.bench.pages import template_pdf
from engine.bench.template import Choice, template
from engine.catalogue.load import load_catalogue
from engine.comparison import Candidate, Comparison
from engine.design import Design
from engine.evaluate import evaluate
from engine.export.link import encode_link
from engine.layout import plan_baffles
from engine.night import Night
from engine.samples import first_visit

APP = Path(__file__).resolve().parents[2] / "dashboard" / "app.py"
CATALOGUE = load_catalogue()
STAGGERED = Design.model_validate({"baffles": {"layout": "staggered"}, "shells": {"outer": "nylon-20d-38"}})


def page_with(*designs: Design, units: str = "metric") -> AppTest:
    candidates = tuple(Candidate(letter="ABCDEF"[i], design=design) for i, design in enumerate(designs))
    comparison = Comparison(candidates=candidates or first_visit().candidates, units=units)
    at = AppTest.from_file(str(APP), default_timeout=60)
    at.query_params["d"] = encode_link(comparison)
    at.run()
    at.switch_page("views/make.py").run()
    assert not at.exception
    return at


def shown(at: AppTest) -> str:
    return unescape(" ".join(str(block.proto.body) for block in at.get("html")))


def labels(at: AppTest) -> list[str]:
    return [button.proto.label for button in at.get("download_button")]


def choose(at: AppTest, **choices: str) -> AppTest:
    for key, value in choices.items():
        at.segmented_control(key=f"template_{key}").set_value(value)
    at.run()
    assert not at.exception
    return at


def test_the_pages_are_said_before_the_download_and_are_those_of_the_file():
    at = page_with(STAGGERED)
    one = evaluate(STAGGERED, Night(), CATALOGUE)
    for choices in (
        {"shell": "inner", "extent": "repeat", "paper": "A4"},
        {"shell": "outer", "extent": "whole", "paper": "A3"},
        {"shell": "outer", "extent": "whole", "paper": "roll"},
    ):
        made = template(one, CATALOGUE, Choice(**choices, half=True))
        assert pages_in_words(made) in shown(choose(at, **choices))
        pages = len(re.findall(rb"/Type /Page\b", template_pdf(made)))
        assert pages_in_words(made).startswith(f"{pages} page")
    assert {"Template as PDF", "Template as SVG"} <= set(labels(at))


def test_film_is_to_be_traced_and_opaque_cloth_to_be_measured():
    at = page_with(STAGGERED)
    assert "lets light through: lay the template under it and trace." in shown(choose(at, shell="inner"))
    assert "lets no light through: mark it by the running measures." in shown(choose(at, shell="outer"))


def test_half_is_offered_for_a_whole_shell_with_equal_halves_only():
    at = page_with(STAGGERED)
    assert not at.checkbox
    choose(at, extent="whole")
    assert [(tick.label, tick.value) for tick in at.checkbox] == [(HALF, True)]
    half = shown(at)
    at.checkbox(key="template_half").uncheck().run()
    assert shown(at) != half
    # 1120 less two end chambers of 98 leaves 6.6 of 140 mm: nine chambers, eight rows, no middle one.
    uneven = Design.model_validate({"baffles": {"layout": "staggered", "spacing_mm": 140}})
    at = choose(page_with(uneven), extent="whole")
    assert not at.checkbox and HALVES_DIFFER in shown(at)


def test_what_does_not_repeat_is_refused_in_words_and_the_whole_is_still_there():
    bare = Design.model_validate({"baffles": {"layout": "none"}, "edges": {"kind": "box edge"}})
    at = page_with(bare)
    assert at.segmented_control(key="template_extent").value == "whole"
    assert "Template as PDF" in labels(at)
    choose(at, extent="repeat")
    assert "nothing repeats. Take the whole template." in shown(at)
    assert "Template as PDF" not in labels(at)
    assert MEASURES not in shown(at)


def test_letter_is_the_paper_of_those_who_measure_in_inches():
    at = page_with(STAGGERED, units="trade")
    assert at.segmented_control(key="template_paper").value == "Letter"
    assert page_with(STAGGERED).segmented_control(key="template_paper").value == "A4"


@pytest.mark.parametrize("layout", ["full, lengthwise", "full, crosswise", "staggered", "alternating"])
@pytest.mark.parametrize("units", ["metric", "trade"])
def test_every_baffle_has_its_running_measures_in_one_unit(layout, units):
    design = Design.model_validate({"baffles": {"layout": layout}})
    html = measures_html(evaluate(design, Night(), CATALOGUE), CATALOGUE, ruler_of(units))
    assert html.count('<th scope="row">') == len(plan_baffles(design).lines)
    cells = re.findall(r"<td[^>]*>([^<]*)</td>", html)
    # Millimetres are whole; inches are whole or in eighths, which a ruler has.
    ruled = r"\d*" if units == "metric" else r"\d*[⅛¼⅜½⅝¾⅞]?"
    assert cells and all(re.fullmatch(ruled, cell) for cell in cells)


def test_inches_are_said_in_the_nearest_eighth():
    # 25.4 mm an inch by definition: 10 3/8 in is 263.525 mm.
    assert ruler_of("trade").text(0.263525) == "10⅜"
    assert ruler_of("trade").text(0.263525 + 0.0015) == "10⅜"
    assert ruler_of("trade").unit == "in"
    assert ruler_of("metric").text(0.2636) == "264"


def test_another_candidate_brings_its_own_template():
    at = page_with(Design(), STAGGERED)
    first = shown(at)
    at.segmented_control(key="make_pick").set_value("B").run()
    assert not at.exception and shown(at) != first
    assert "Lengthwise baffles, in millimetres." in shown(at)
