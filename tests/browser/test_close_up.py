"""The Close-up in a real browser: an edit moves the strip, Back undoes it, nothing typed is lost."""

import pytest
from playwright.sync_api import Locator, Page, TimeoutError, expect

WIDTHS = [(1280, 800), (390, 844)]
FOLDED = ("Baffles and edges", "Size and cut", "Joints and attachment", "Name and note")


def unfold(page: Page, *groups: str) -> None:
    for group in groups:
        page.locator("summary").get_by_text(group, exact=True).click()


def height_box(page: Page):
    return page.get_by_role("textbox", name="Baffle height, mm", exact=True)


def enter(box, typed: str) -> None:
    box.fill(typed)
    box.press("Enter")


def strip(page: Page):
    return page.locator(".lw-live")


def scores(page: Page) -> list[str]:
    """The five values of the strip and the limit, without their differences."""
    texts = strip(page).locator(":scope > .lw-strip-score").all_text_contents()
    return [text.partition(" (")[0] for text in texts]


def test_two_edits_move_all_five_scores_and_back_and_undo_take_them_back(open_page):
    page = open_page("/close-up")
    unfold(page, "Baffles and edges")
    expect(height_box(page)).to_have_value("64")
    before = scores(page)
    enter(height_box(page), "110")
    for word in ("heavier", "larger", "warmer", "dearer"):
        expect(strip(page)).to_contain_text(word)
    higher = scores(page)
    # Higher baffles take hardly longer; more of them do.
    enter(page.get_by_role("textbox", name="Chamber width, mm", exact=True), "100")
    expect(strip(page)).to_contain_text("slower")
    assert all(now != was for now, was in zip(scores(page), before, strict=True))
    page.go_back()
    expect(strip(page)).not_to_contain_text("slower")
    assert scores(page) == higher
    page.go_back()
    expect(height_box(page)).to_have_value("64")
    expect(strip(page)).not_to_contain_text("heavier")
    assert scores(page) == before
    page.go_forward()
    expect(height_box(page)).to_have_value("110")
    page.get_by_role("button", name="Undo", exact=True).click()
    expect(height_box(page)).to_have_value("64")
    expect(strip(page)).not_to_contain_text("heavier")
    assert scores(page) == before


def test_what_was_refused_stays_in_its_box_with_the_reason(open_page):
    page = open_page("/close-up")
    unfold(page, "Baffles and edges")
    enter(height_box(page), "900")
    told = page.get_by_role("alert").filter(has_text="Baffle height is 900")
    expect(told).to_contain_text("allowed: 5 to 300")
    expect(told).to_contain_text("The last good value, 64")
    width = page.get_by_role("textbox", name="Chamber width, mm", exact=True)
    enter(width, "5½ in")
    expect(width).to_have_value("139.7")
    expect(height_box(page)).to_have_value("900")
    # Away and back: the boxes of a page go with it, what was typed in them does not.
    page.get_by_role("link", name="Line-up", exact=True).click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Which quilt shall we make?")
    page.get_by_role("link", name="Close-up", exact=True).click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("A: ")
    unfold(page, "Baffles and edges")
    expect(height_box(page)).to_have_value("900")


def choose(box: Locator, option: Locator) -> None:
    """By keyboard; a page that settles once more closes an open list, so it may have to be opened again."""
    for last in (False, False, True):
        box.press("ArrowDown")
        try:
            option.click(timeout=30_000 if last else 5_000)
        except TimeoutError:
            if last:
                raise
            box.press("Escape")
        else:
            return


def test_sheet_insulation_and_back_keeps_the_choice_of_fill_power(open_page):
    page = open_page("/close-up")
    # The first drawing loads its library, and the page settles once more when that is there.
    expect(page.locator(".js-plotly-plot")).to_have_count(2)
    fill = page.get_by_role("combobox", name="Fill", exact=False).first
    choose(fill, page.get_by_role("option", name="900 fill-power down", exact=True))
    expect(strip(page)).to_contain_text("900 fill-power down")
    forms = page.locator(".st-key-field-A-fill-form")
    forms.get_by_role("radio", name="sheet").click()
    expect(page.get_by_role("textbox", name="Layers", exact=True)).to_be_visible()
    expect(page.get_by_role("textbox", name="Overstuff, %", exact=True)).to_have_count(0)
    forms.get_by_role("radio", name="down").click()
    expect(page.get_by_role("textbox", name="Overstuff, %", exact=True)).to_be_visible()
    expect(page.locator(".st-key-field-A-fill-good")).to_contain_text("Fill")
    expect(strip(page)).to_contain_text("→ 900 fill-power down")


def test_the_night_is_changed_in_a_dialog_and_the_page_behind_follows(open_page):
    page = open_page("/close-up")
    page.get_by_role("button", name="Change the night").click()
    dialog = page.get_by_role("dialog")
    expect(dialog).to_contain_text("All candidates are judged on this night.")
    air = dialog.get_by_role("textbox", name="Air temperature, °C", exact=True)
    enter(air, "-40,5")
    expect(air).to_have_value("−40.5")
    page.wait_for_function("location.search.includes('d=')")
    enter(air, "-400")
    expect(dialog.get_by_role("alert")).to_contain_text("Air temperature is −400")
    page.keyboard.press("Escape")
    expect(dialog).to_have_count(0)
    expect(page.locator(".lw-verdict")).to_contain_text("almost surely too cold")
    link = page.get_by_role("link", name="Line-up", exact=True).get_attribute("href")
    assert link is not None and page.url.split("?")[1] in link
    page.go_back()
    expect(page.locator(".lw-verdict")).not_to_contain_text("too cold")


def test_another_candidate_stays_open_over_a_visit_to_another_page(open_page):
    page = open_page("/close-up")
    page.locator(".st-key-close-up-pick").get_by_role("radio", name="C").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("C: ")
    page.get_by_role("link", name="Make", exact=True).click()
    expect(page.get_by_role("heading", level=1)).not_to_contain_text("C: ")
    page.get_by_role("link", name="Close-up", exact=True).click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("C: ")


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width, height", WIDTHS)
def test_with_everything_unfolded_it_is_clean_and_never_scrolls_sideways(
    open_page, grave_violations, width, height, scheme
):
    page = open_page("/close-up", width=width, height=height, scheme=scheme)
    unfold(page, *FOLDED)
    enter(height_box(page), "900")
    expect(page.get_by_role("alert")).to_be_visible()
    enter(page.get_by_role("textbox", name="Overstuff, %", exact=True), "60")
    expect(strip(page)).to_contain_text("60")
    for summary in page.locator("details.lw-why > summary").all():
        summary.click()
    assert grave_violations(page) == []
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    page.get_by_role("button", name="Change the night").click()
    expect(page.get_by_role("dialog")).to_be_visible()
    assert grave_violations(page) == []
    assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_on_a_phone_the_strip_takes_two_lines_at_most_beside_undo(open_page):
    page = open_page("/close-up", width=390, height=844)
    unfold(page, "Baffles and edges")
    enter(height_box(page), "110")
    expect(strip(page)).to_contain_text("heavier")
    line = float(strip(page).evaluate("e => parseFloat(getComputedStyle(e).lineHeight)"))
    box, undo = strip(page).bounding_box(), page.get_by_role("button", name="Undo", exact=True).bounding_box()
    assert box is not None and undo is not None
    assert box["height"] <= 2 * line + 4
    assert undo["x"] >= box["x"] + box["width"]
    assert undo["height"] >= 24


def test_what_can_be_changed_stands_left_on_a_desk_and_first_on_a_phone(open_page):
    for width, height in WIDTHS:
        page = open_page("/close-up", width=width, height=height)
        change = page.get_by_role("heading", name="Change it").bounding_box()
        loft = page.get_by_role("heading", name="Loft", exact=True).bounding_box()
        assert change is not None and loft is not None
        if width > 640:
            assert change["x"] + change["width"] <= loft["x"]
        else:
            assert change["y"] < loft["y"]


def test_only_the_plan_that_fits_is_shown(open_page):
    for (width, height), shown in zip(WIDTHS, ("lw-wide", "lw-narrow"), strict=True):
        page = open_page("/close-up", width=width, height=height)
        images = page.locator(".lw-plan img:visible")
        expect(images).to_have_count(1)
        expect(images).to_have_class(shown)
        assert images.evaluate("e => e.naturalWidth > 0")


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width, height", WIDTHS)
def test_two_candidates_are_drawn_beside_or_below_each_other_at_one_scale(
    open_page, grave_violations, width, height, scheme
):
    page = open_page("/close-up", width=width, height=height, scheme=scheme)
    drawings = page.locator(".js-plotly-plot")
    expect(drawings).to_have_count(2)
    before = page.url
    page.locator(".st-key-close_up_against").get_by_role("radio", name="B").click()
    expect(drawings).to_have_count(4)
    expect(page.get_by_text("B stands", exact=False)).to_be_visible()
    boxes = [drawings.nth(number).bounding_box() for number in range(2)]
    assert boxes[0] is not None and boxes[1] is not None
    assert boxes[0]["width"] == pytest.approx(boxes[1]["width"], abs=2)
    assert boxes[0]["height"] == boxes[1]["height"]
    if width > 640:
        assert boxes[0]["x"] + boxes[0]["width"] <= boxes[1]["x"]
    else:
        assert boxes[0]["y"] + boxes[0]["height"] <= boxes[1]["y"]
    assert page.url == before
    assert grave_violations(page) == []
    assert page.evaluate("document.documentElement.scrollWidth") <= width


@pytest.mark.parametrize("width, height", WIDTHS)
def test_a_refusal_at_the_edge_of_the_screen_comes_out_from_behind_the_strip(open_page, width, height):
    page = open_page("/close-up", width=width, height=height)
    box, row = (
        page.locator(".st-key-field-A-fill-overstuff_percent input"),
        page.locator(".st-key-lw-live-row"),
    )
    expect(box).to_have_value("25")
    edge = row.bounding_box()["y"]
    seen = box.bounding_box()
    by = seen["y"] + seen["height"] - (edge - 5)
    page.get_by_test_id("stMain").evaluate("(e, by) => e.scrollBy(0, by)", by)
    # A finger on it: the box is in sight, so nothing scrolls yet.
    seen = box.bounding_box()
    page.mouse.click(seen["x"] + 40, seen["y"] + 10)
    page.keyboard.press("Control+a")
    page.keyboard.type("900")
    page.keyboard.press("Enter")
    told = page.get_by_role("alert").filter(has_text="Overstuff is 900")
    expect(told).to_be_visible()
    place = told.bounding_box()
    assert place["y"] + place["height"] <= row.bounding_box()["y"]
