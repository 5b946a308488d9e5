"""The Line-up in a real browser: layout on desktop and phone, both grounds, and edits that move nothing."""

import pytest
from playwright.sync_api import expect

from engine.comparison import LETTERS, Candidate, Comparison
from engine.design import Design
from engine.export.link import encode_link
from engine.night import Night

LONG = "Sixty signs of a name that nobody would ever cut short here"
WIDTHS = [(1280, 800), (390, 844), (360, 740)]


def link(count, **more):
    designs = [Design(name=f"{LONG[:55]} {letter}", tabs=4 + place) for place, letter in enumerate(LETTERS)]
    candidates = tuple(
        Candidate(letter=letter, design=design)
        for letter, design in zip(LETTERS[:count], designs[:count], strict=True)
    )
    return "/?d=" + encode_link(Comparison(night=Night(air_c=2), candidates=candidates, **more))


WIDER = (
    "() => { const m = document.querySelector('[data-testid=stMain]');"
    "return Math.max(document.documentElement.scrollWidth, m.scrollWidth) - innerWidth; }"
)


def no_sideways_scroll(page):
    """Waits for it: before the plot has measured its place it may be wider for a moment."""
    page.wait_for_function(f"({WIDER})() <= 0", timeout=40_000)
    return True


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width, height", WIDTHS)
@pytest.mark.parametrize("count", [0, 1, 2, 6])
def test_no_number_of_candidates_scrolls_sideways_or_has_a_grave_fault(
    open_page, grave_violations, count, width, height, scheme
):
    page = open_page(link(count), width=width, height=height, scheme=scheme)
    expect(page.locator("table.lw-lineup tbody tr")).to_have_count(count)
    assert no_sideways_scroll(page)
    assert grave_violations(page) == []


def table_top(page):
    """How far the table stands below the page links; read when two looks half a second apart agree."""
    page.evaluate("document.fonts.ready")
    seen = None
    for _ in range(40):
        tops = [page.locator(place).bounding_box()["y"] for place in (".st-key-lw-pages", "table.lw-lineup")]
        if seen == tops:
            break
        seen = tops
        page.wait_for_timeout(500)
    return tops[1] - tops[0]


def test_four_candidates_end_on_the_first_screen(open_page):
    page = open_page("/")
    expect(page.locator("table.lw-lineup tbody tr")).to_have_count(4)
    box = page.locator("table.lw-lineup").bounding_box()
    assert box["y"] + box["height"] <= 800


@pytest.mark.parametrize("width, height", WIDTHS)
def test_the_table_stays_a_table_for_a_screen_reader(open_page, width, height):
    page = open_page(link(3), width=width, height=height)
    table = page.get_by_role("table").first
    expect(table.get_by_role("columnheader")).to_have_count(7)
    expect(table.get_by_role("rowheader")).to_have_count(3)
    expect(table.get_by_role("cell")).to_have_count(18)


def test_on_the_phone_the_cells_of_one_score_stand_under_one_another(open_page):
    page = open_page(link(3), width=390, height=844)
    boxes = [
        page.locator(f'td[data-score="{score}"]').nth(place).bounding_box()
        for score in ("weight_kg", "cost")
        for place in range(3)
    ]
    tops = [box["y"] for box in boxes]
    assert tops == sorted(tops) and len({box["x"] for box in boxes}) == 1


def test_on_the_phone_the_table_begins_on_the_first_screen_before_what_sorts_it(open_page):
    page = open_page("/", width=390, height=844)
    expect(page.locator("table.lw-lineup tbody tr")).to_have_count(4)
    top = page.locator("table.lw-lineup").bounding_box()["y"]
    assert page.get_by_role("button", name="Change the night").bounding_box()["y"] < top < 844 - 200
    assert page.locator(".st-key-lw-view").bounding_box()["y"] > top


def test_an_edit_moves_nothing_above_the_table_and_back_takes_it_back(open_page):
    page = open_page("/")
    before = table_top(page)
    page.get_by_role("button", name="Choose this one").click()
    expect(page.locator("th.lw-cand").first).to_contain_text("chosen")
    expect(page.get_by_role("button", name="Undo: choose A")).to_be_enabled()
    assert abs(table_top(page) - before) <= 1
    page.go_back()
    expect(page.locator("th.lw-cand").first).not_to_contain_text("chosen")


@pytest.mark.parametrize("width, height", WIDTHS)
def test_work_on_a_copy_leaves_the_page_where_it_was(open_page, width, height):
    page = open_page(link(2), width=width, height=height)
    before = table_top(page)
    page.get_by_role("button", name="Work on a copy").click()
    expect(page.get_by_text("You work on your own copy")).to_be_visible()
    assert abs(table_top(page) - before) <= 1


@pytest.mark.parametrize("scheme, ground", [("light", "rgb(251, 250, 247)"), ("dark", "rgb(23, 26, 34)")])
def test_the_plot_is_drawn_on_the_ground_of_the_page_and_has_words(open_page, scheme, ground):
    page = open_page("/", scheme=scheme)
    paper = page.locator(".js-plotly-plot .main-svg").first
    assert paper.evaluate("e => getComputedStyle(e).backgroundColor") == ground
    figure = page.get_by_role("figure").first
    assert "less is better" in figure.get_attribute("aria-label")


def test_a_candidate_is_renamed_in_the_menu_and_stays_inert(open_page):
    page = open_page(link(2))
    page.get_by_role("button", name="More").click()
    box = page.get_by_label("Name of A", exact=True)
    box.fill("<b>Bold</b> ![x](https://example.org/x.png)")
    box.press("Enter")
    expect(page.locator("th.lw-cand").first).to_contain_text("<b>Bold</b> ![x](https://example.org/x.png)")
    expect(page.locator("th.lw-cand b")).to_have_count(0)


@pytest.mark.parametrize("button, path", [("Close-up", "close-up"), ("Make", "make")])
def test_the_other_pages_open_on_the_picked_letter_and_the_link_goes_along(open_page, button, path):
    page = open_page(link(2))
    page.get_by_role("radiogroup", name="Candidate").get_by_text("B", exact=True).click()
    page.get_by_role("button", name=button, exact=True).click()
    page.wait_for_url(f"**/{path}?d=*")
    expect(page.get_by_text(f"{LONG[:55]} B").first).to_be_visible()
