"""Do the files of the Make page come off a real browser whole, print on two pages, and open again?"""

import csv
import io
import json
import re
from datetime import date

import pandas as pd
import pdfplumber
import pytest
from playwright.sync_api import expect

from engine.catalogue.load import load_catalogue
from engine.comparison import Comparison
from engine.evaluate import evaluate_all
from engine.export.files import design_from_json
from engine.export.link import encode_link
from engine.export.spec_sheet import spec_sheet
from engine.samples import first_visit

SAFE_NAME = re.compile(r"[a-z0-9-]+-\d{4}-\d\d-\d\d[a-z-]*\.(html|csv|json|pdf)")


def saved(page, label: str) -> tuple[str, str]:
    with page.expect_download() as coming:
        page.get_by_role("button", name=label, exact=True).click()
    download = coming.value
    return download.suggested_filename, download.path().read_text(encoding="utf-8")


def opened(open_page, comparison: Comparison | None = None, **size):
    page = open_page(f"/make?d={encode_link(comparison)}" if comparison else "/make", **size)
    expect(page.get_by_text("10 Keep with the quilt", exact=True)).to_be_visible()
    return page


def read_back(page, label: str) -> tuple[str, list[str]]:
    """The text of each page of a PDF that a button gives."""
    with page.expect_download() as coming:
        page.get_by_role("button", name=label, exact=True).click()
    with pdfplumber.open(coming.value.path()) as pdf:
        return coming.value.suggested_filename, [sheet.extract_text() for sheet in pdf.pages]


def test_the_bench_sheet_has_the_pages_that_were_said_and_follows_what_is_picked(open_page):
    page = opened(open_page)
    for letter, paper in (("A", "A4"), ("B", "Letter")):
        page.get_by_role("radio", name=letter, exact=False).first.click()
        page.get_by_role("radio", name=paper, exact=True).first.click()
        said = page.get_by_text(re.compile(rf"Bench sheet: \d+\spages of {paper}"))
        expect(said).to_be_visible()
        expect(page.get_by_text(f"{letter} {first_visit().design(letter).name}", exact=True)).to_be_visible()
        name, pages = read_back(page, "Bench sheet as PDF")
        assert SAFE_NAME.fullmatch(name) and name.endswith("-bench-sheet.pdf")
        counts = re.search(r"Bench sheet: (\d+)\s.*Group sheet: (\d+)\s", said.inner_text())
        assert len(pages) == int(counts[1])
        assert first_visit().design(letter).name in pages[0]
        assert "STOP" in " ".join(pages)
        assert len(read_back(page, "Group sheet as PDF")[1]) == int(counts[2])


def test_each_table_opens_in_a_spreadsheet_and_the_web_page_holds_its_drawings(open_page):
    page = opened(open_page)
    for label, end in (
        ("Goods as CSV", "-goods.csv"),
        ("Cut list as CSV", "-cut-list.csv"),
        ("Joints as CSV", "-joints.csv"),
        ("Fill plan as CSV", "-fill-plan.csv"),
    ):
        name, text = saved(page, label)
        assert SAFE_NAME.fullmatch(name) and name.endswith(end)
        table = pd.read_csv(io.StringIO(text.removeprefix("\ufeff")))
        assert len(table) > 2 and len(table.columns) > 5
    name, text = saved(page, "Bench sheet as web page")
    assert SAFE_NAME.fullmatch(name) and text.endswith("</html>") and text.count("<svg") > 5


def test_a_box_is_ticked_with_a_thumb_and_drawings_scroll_in_their_own_place(open_page):
    page = opened(open_page, width=390)
    page.get_by_text("7 Steps", exact=True).click()
    label = page.locator(".lw-paper .lw-to-tick label").first
    label.scroll_into_view_if_needed()
    size = label.locator("input").bounding_box()
    assert size["width"] >= 24 and size["height"] >= 24
    label.click()
    expect(label.locator("input")).to_be_checked()
    page.get_by_text("4 Lay on the roll", exact=True).click()
    drawing = page.get_by_role("region", name=re.compile("^Lay on the roll")).first
    expect(drawing).to_be_visible()
    assert drawing.evaluate("e => e.scrollWidth > e.clientWidth")
    assert page.evaluate("document.documentElement.scrollWidth") <= 390


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [390, 1280])
def test_the_open_parts_have_no_grave_fault(open_page, grave_violations, width, scheme):
    page = opened(open_page, width=width, scheme=scheme)
    for title in ("3 Cut list", "6 Joints", "7 Steps", "9 How the scores are made up"):
        page.get_by_text(title, exact=True).click()
    expect(page.locator(".lw-paper .lw-step").first).to_be_visible()
    assert grave_violations(page) == []


def test_the_bench_sheet_as_a_web_page_prints_and_has_no_grave_fault(browser, grave_violations):
    from dashboard.bench_job import Bench
    from dashboard.bench_sheet import bench_sheet
    from engine.paper.html import document_html

    line_up = evaluate_all(first_visit(), load_catalogue())
    bench = Bench(line_up, spec_sheet(line_up, "B", date(2026, 11, 3)))
    page = browser.new_page(viewport={"width": 390, "height": 844})
    page.set_content(document_html(bench_sheet(bench)))
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    assert grave_violations(page) == []
    with pdfplumber.open(io.BytesIO(page.pdf(format="A4", prefer_css_page_size=True))) as printed:
        assert len(printed.pages) > 8
        assert f"page 2 of {len(printed.pages)}" in printed.pages[1].extract_text()
    page.close()


def test_the_files_of_the_group_come_whole_and_the_design_opens_with_equal_scores(open_page):
    chosen = first_visit().model_copy(update={"chosen": "B", "reason": "light"})
    page = opened(open_page, chosen)
    name, sheet = saved(page, "Group sheet to print")
    assert SAFE_NAME.fullmatch(name) and name.endswith("-group-sheet.html")
    assert sheet.endswith("</html>") and "<strong>Chosen</strong>: light" in sheet

    one = evaluate_all(chosen, load_catalogue())["B"]
    name, table = saved(page, "Materials as CSV")
    assert SAFE_NAME.fullmatch(name)
    rows = list(csv.DictReader(io.StringIO(table.removeprefix("\ufeff"))))
    grams = sum(float(row["mass_g"]) for row in rows if row["mass_g"])
    assert grams == pytest.approx(1000 * float(one.score.weight_kg), abs=1e-3)

    name, text = saved(page, "Design as a file")
    assert SAFE_NAME.fullmatch(name) and json.loads(text)["loftwright"] == "design"
    again = Comparison.model_validate(
        {"night": chosen.night, "candidates": [{"letter": "B", "design": design_from_json(text)}]}
    )
    assert evaluate_all(again, load_catalogue())["B"].bands == one.bands


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("units", ["metric", "trade"])
@pytest.mark.parametrize("letter", ["A", "B", "C", "D"])
def test_a_sheet_of_the_first_four_prints_on_two_pages(browser, tmp_path, letter, units, paper):
    from dashboard.sheet import group_sheet
    from dashboard.views.make import links_of

    comparison = first_visit().model_copy(update={"units": units})
    line_up = evaluate_all(comparison, load_catalogue())
    links = links_of(comparison, letter, "http://127.0.0.1:8501/make")
    page = browser.new_page()
    page.set_content(group_sheet(line_up, spec_sheet(line_up, letter, date(2026, 11, 3)), links))
    printed = page.pdf(format=paper, prefer_css_page_size=True)
    page.close()
    assert len(re.findall(rb"/Type\s*/Page\b(?!s)", printed)) == 2


@pytest.mark.parametrize("width", [390, 1280])
def test_the_sheet_on_a_screen_never_scrolls_sideways_and_has_no_grave_fault(
    browser, grave_violations, width
):
    from dashboard.sheet import group_sheet
    from dashboard.views.make import links_of

    line_up = evaluate_all(first_visit(), load_catalogue())
    links = links_of(first_visit(), "A", "http://127.0.0.1:8501/make")
    context = browser.new_context(viewport={"width": width, "height": 844})
    page = context.new_page()
    page.set_content(group_sheet(line_up, spec_sheet(line_up, "A", date(2026, 11, 3)), links))
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert grave_violations(page) == []
    context.close()


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width, height", [(1280, 800), (390, 844)])
def test_the_page_has_no_grave_fault_and_never_scrolls_sideways(
    open_page, grave_violations, width, height, scheme
):
    page = opened(open_page, width=width, height=height, scheme=scheme)
    assert grave_violations(page) == []
    assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_picking_another_candidate_shows_its_parts(open_page):
    page = opened(open_page)
    names = [candidate.design.name for candidate in first_visit().candidates]
    expect(page.get_by_text(f"A {names[0]}", exact=True)).to_be_visible()
    page.get_by_role("radio", name="B").click()
    expect(page.get_by_text(f"B {names[1]}", exact=True)).to_be_visible()


def test_a_hostile_name_runs_nothing_on_the_page(open_page):
    first = first_visit().candidates[0]
    design = first.design.model_copy(update={"name": "<img src=x onerror=document.title='ran'>"})
    page = opened(open_page, Comparison(candidates=(first.model_copy(update={"design": design}),)))
    expect(page.get_by_text("<img src=x onerror=document.title='ran'>").first).to_be_visible()
    assert page.title() == "Make · Loftwright"


@pytest.mark.parametrize("width, says", [(390, True), (1280, False)])
def test_a_table_wider_than_its_place_says_that_there_is_more_until_its_end_is_reached(
    open_page, width, says
):
    page = opened(open_page, width=width)
    page.get_by_text("3 Cut list", exact=True).click()
    parts = page.locator(".lw-scroll:has(.lw-cut)")
    sign = "e => getComputedStyle(e, '::after').visibility"
    first = parts.locator("tbody th").first
    assert (parts.evaluate("e => e.scrollWidth > e.clientWidth"), parts.evaluate(sign) == "visible") == (
        says,
        says,
    )
    left = first.bounding_box()["x"]
    parts.evaluate("e => e.scrollLeft = e.scrollWidth")
    box = "document.querySelector('.lw-scroll:has(.lw-cut)')"
    parts.page.wait_for_function(f"getComputedStyle({box}, '::after').visibility == 'hidden'")
    assert first.bounding_box()["x"] == left
