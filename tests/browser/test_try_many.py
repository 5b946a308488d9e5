"""Does Try many work in a real browser: score, cancel, add, the link, the keyboard, a phone?"""

import pytest
from playwright.sync_api import expect

from engine.comparison import Candidate, Comparison
from engine.design import Baffles, Design, Outline
from engine.export.link import encode_link
from engine.night import Night
from engine.recipe import Choice, Recipe, Span

START = Design(name="Start", outline=Outline(width_mm=1250), baffles=Baffles(height_mm=60))
HEIGHTS = Choice(path="baffles.height_mm", span=Span(start=40, stop=80, step=5))
SHELLS = Choice(path="shells.outer", values=("nylon-10d-26", "film-17", "nylon-7d-19"))
SMALL = Recipe(start="A", choices=(HEIGHTS, SHELLS))
# 300,000 quilts: long enough to be caught at it.
LARGE = Recipe(
    start="A",
    choices=(
        Choice(path="baffles.height_mm", span=Span(start=20, stop=219.8, step=0.2)),
        Choice(path="fill.overstuff_percent", span=Span(start=0, stop=99, step=1)),
        SHELLS,
    ),
)


def address(recipe):
    a = Candidate(letter="A", design=START)
    return f"/try-many?d={encode_link(Comparison(night=Night(air_c=5), candidates=(a,), recipe=recipe))}"


def scored(page):
    page.get_by_role("button", name="Score them").click()
    expect(page.get_by_role("heading", level=2, name="What matters")).to_be_visible()
    return page


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width, height", [(1280, 800), (390, 844)])
def test_the_page_with_results_has_no_grave_fault_and_never_scrolls_sideways(
    open_page, grave_violations, settled, width, height, scheme
):
    page = settled(scored(open_page(address(SMALL), width=width, height=height, scheme=scheme)))
    expect(page.get_by_role("region", name="Short list")).to_be_visible()
    assert grave_violations(page) == []
    assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_a_quilt_of_the_short_list_reaches_the_line_up_and_the_link_keeps_the_recipe(open_page, settled):
    page = settled(scored(open_page(address(SMALL))))
    page.get_by_role("button", name="a, lightest").click()
    expect(page.get_by_text("Added as B.")).to_be_visible()
    page.reload()
    expect(page.get_by_text("27 quilts will be scored.")).to_be_visible()
    page.get_by_role("link", name="Line-up").first.click()
    expect(page.get_by_role("rowheader", name="B Start, lightest")).to_be_visible()


def test_cancel_ends_the_work_and_leaves_the_page_as_it_was(open_page, settled):
    page = settled(open_page(address(LARGE)))
    page.get_by_role("button", name="Score them").click()
    expect(page.get_by_role("progressbar")).to_be_visible()
    page.get_by_role("button", name="Cancel").click()
    expect(page.get_by_role("progressbar")).to_have_count(0)
    settled(page)
    expect(page.get_by_role("heading", level=2, name="Which give nothing away?")).to_have_count(0)
    expect(page.get_by_role("button", name="Score them")).to_be_enabled()
