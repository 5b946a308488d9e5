"""The frame in a real browser, on desktop and phone, light and dark."""

from itertools import pairwise

import pytest
from playwright.sync_api import expect

WIDTHS = [(1280, 800), (390, 844)]
QUESTIONS = {"/": "Which quilt shall we make?"}


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width, height", WIDTHS)
@pytest.mark.parametrize("path", ["/", "/close-up", "/make", "/method"])
def test_each_page_has_one_question_and_no_grave_fault(
    open_page, grave_violations, path, width, height, scheme
):
    page = open_page(path, width=width, height=height, scheme=scheme)
    heading = page.get_by_role("heading", level=1)
    expect(heading).to_have_count(1)
    if path in QUESTIONS:
        expect(heading).to_have_text(QUESTIONS[path])
    assert grave_violations(page) == []
    assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_heading_levels_never_skip_a_step(open_page):
    page = open_page("/")
    levels = page.evaluate(
        "[...document.querySelectorAll('h1,h2,h3,h4,h5,h6')].map(h => Number(h.tagName[1]))"
    )
    assert levels[0] == 1
    assert all(after <= before + 1 for before, after in pairwise(levels)), levels


def test_the_ground_follows_the_colour_scheme(open_page):
    grounds = {}
    for scheme in ("light", "dark"):
        page = open_page("/", scheme=scheme)
        grounds[scheme] = page.get_by_test_id("stApp").evaluate("e => getComputedStyle(e).backgroundColor")
    assert grounds == {"light": "rgb(251, 250, 247)", "dark": "rgb(23, 26, 34)"}


@pytest.mark.parametrize("width, height", WIDTHS)
def test_going_to_another_page_keeps_the_link_in_the_address(open_page, width, height):
    page = open_page("/?d=kept", width=width, height=height)
    page.get_by_role("link", name="Make", exact=True).click()
    page.wait_for_url("**/make?d=kept")


def test_the_first_tab_stop_skips_to_the_content(open_page):
    page = open_page("/")
    page.keyboard.press("Tab")
    assert "Skip to main content" in page.evaluate("document.activeElement.textContent")
