"""Does the Method page open in a real browser, tables and all, and does Close-up lead there?"""

import pytest
from playwright.sync_api import expect

CORNER = "Heat through a corner"


def opened(open_page, path="/method", **size):
    page = open_page(path, **size)
    expect(page.get_by_role("heading", level=2, name="What we do not know")).to_be_visible()
    return page


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width, height", [(1280, 800), (390, 844)])
def test_the_page_with_all_open_has_no_grave_fault_and_never_scrolls_sideways(
    open_page, grave_violations, width, height, scheme
):
    page = opened(open_page, width=width, height=height, scheme=scheme)
    page.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
    assert grave_violations(page) == []
    assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_a_table_opens_by_keyboard_and_scrolls_in_its_own_box_on_a_phone(open_page):
    page = opened(open_page, width=390, height=844)
    summary = page.locator("summary", has_text=CORNER)
    # ISO 10211, case 1, prints 28 temperatures.
    expect(summary).to_have_text(f"{CORNER}: 28 of 28 inside")
    summary.focus()
    page.keyboard.press("Enter")
    box = page.get_by_role("region", name=CORNER)
    expect(box).to_be_visible()
    expect(box.get_by_role("row")).to_have_count(1 + 28)
    page.keyboard.press("Tab")
    expect(box).to_be_focused()


def test_why_this_number_in_close_up_leads_here_and_keeps_the_link(open_page):
    page = open_page("/close-up?d=kept")
    page.locator("summary", has_text="Why this number?").first.click()
    link = page.get_by_role("link", name="Method (new tab)").first
    with page.context.expect_page() as coming:
        link.click()
    there = coming.value
    there.wait_for_url("**/method?d=kept")
    expect(there.get_by_role("heading", level=1)).to_have_text("Why should I believe these numbers?")
