"""What is open and the address in a real browser: history, undo, links to others, files, the dialogs."""

import json
import re
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import parse_qs, urlsplit

import pytest
from playwright.sync_api import Page, expect

from engine.design import Design
from engine.export.files import design_to_json
from engine.export.link import decode_link
from tests.browser.bench import served

EDITS = ("Lower A", "Trade units", "Choose B", "Own price")
WHATS = ("baffle height 64 → 59 mm", "units", "choice", "price")


@pytest.fixture(scope="module")
def server_log(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A log of its own: the app's server of this run goes on writing in the other."""
    return tmp_path_factory.mktemp("bench") / "server.log"


@pytest.fixture(scope="module")
def server(chromium_path: str, server_log: Path) -> Iterator[str]:
    """A page of the tests' own instead of the app."""
    with served(server_log) as address:
        yield address


def document(page: Page) -> dict:
    return json.loads(page.locator(".st-key-bench-document").inner_text())


def everything(page: Page) -> tuple[str, str]:
    """All scores with their bands, and the whole document, as text."""
    return tuple(page.locator(f".st-key-bench-{part}").inner_text() for part in ("scores", "document"))


def token(page: Page) -> str:
    return parse_qs(urlsplit(page.url).query).get("d", [""])[0]


def says(page: Page, text: str) -> None:
    expect(page.get_by_text(text, exact=True)).to_have_count(1)


def press(page: Page, name: str, undo: str) -> None:
    """Press a button and wait until Undo names what it did."""
    page.get_by_role("button", name=name, exact=True).click()
    says(page, f"Undo says: {undo}")


def edit_all(page: Page) -> list[tuple[str, str]]:
    seen = [everything(page)]
    for name, what in zip(EDITS, WHATS, strict=True):
        press(page, name, f"Undo: {what}")
        seen.append(everything(page))
    return seen


def open_dialog(page: Page, name: str):
    page.get_by_role("button", name=name, exact=True).click()
    dialog = page.get_by_role("dialog")
    expect(dialog).to_be_visible()
    return dialog


def shared_address(page: Page) -> str:
    return page.get_by_role("dialog").get_by_test_id("stCode").locator("code").inner_text().replace("\n", "")


def test_a_first_visit_shows_the_samples_and_leaves_the_address_alone(open_page):
    page = open_page("/")
    assert [c["letter"] for c in document(page)["candidates"]] == ["A", "B", "C", "D"]
    says(page, "As sent: False. Samples: True.")
    assert token(page) == ""


def test_each_edit_makes_one_history_entry_and_back_and_forward_restore_exactly(open_page):
    page = open_page("/")
    entries = page.evaluate("history.length")
    seen = edit_all(page)
    assert len(set(seen)) == len(seen)
    assert page.evaluate("history.length") == entries + len(EDITS)
    undo = ["nothing", *(f"Undo: {what}" for what in WHATS)]
    for place in (3, 2, 1, 0):
        page.go_back()
        says(page, f"Undo says: {undo[place]}")
        assert everything(page) == seen[place]
    says(page, "As sent: False. Samples: True.")
    for place in (1, 2, 3, 4):
        page.go_forward()
        says(page, f"Undo says: {undo[place]}")
        assert everything(page) == seen[place]
    says(page, "As sent: False. Samples: False.")


def test_undo_takes_back_one_edit_at_a_time_down_to_the_samples_and_back_takes_undo_back(open_page):
    page = open_page("/")
    seen = edit_all(page)
    for place in (3, 2, 1, 0):
        press(page, "Undo it", f"Undo: {WHATS[place - 1]}" if place else "nothing")
        assert everything(page) == seen[place]
    assert token(page) == ""
    page.go_back()
    says(page, f"Undo says: Undo: {WHATS[0]}")
    assert everything(page) == seen[1]


def test_an_edit_after_back_goes_on_from_there(open_page):
    page = open_page("/")
    seen = edit_all(page)
    page.go_back()
    page.go_back()
    says(page, f"Undo says: Undo: {WHATS[1]}")
    press(page, "Compare with C", "Undo: reference")
    now = document(page)
    assert (now["reference"], now["chosen"], now["units"]) == ("C", None, "trade")
    press(page, "Undo it", f"Undo: {WHATS[1]}")
    assert everything(page) == seen[2]


def test_two_edits_that_cancel_each_other_leave_two_steps_to_undo(open_page):
    page = open_page("/")
    press(page, "Lower A", "Undo: baffle height 64 → 59 mm")
    press(page, "Raise A", "Undo: baffle height 59 → 64 mm")
    press(page, "Lower A", "Undo: baffle height 64 → 59 mm")
    press(page, "Undo it", "Undo: baffle height 59 → 64 mm")
    press(page, "Undo it", "Undo: baffle height 64 → 59 mm")
    press(page, "Undo it", "nothing")


def test_a_link_opened_elsewhere_shows_exactly_the_same_with_units_choice_reference_and_own_goods(open_page):
    first = open_page("/")
    edit_all(first)
    press(first, "Compare with C", "Undo: reference")
    second = open_page(f"/?d={token(first)}")
    assert everything(second) == everything(first)
    now = document(second)
    assert (now["units"], now["chosen"], now["reference"]) == ("trade", "B", "C")
    assert now["own_goods"][0]["price"] == 31.5
    says(second, "As sent: True. Samples: False.")
    says(second, "Undo says: nothing")
    assert token(second) == token(first)


@pytest.mark.parametrize(
    "name, undo", [("Work on a copy", "nothing"), ("Lower A", "Undo: baffle height 59 → 54 mm")]
)
def test_a_sent_line_up_is_as_sent_until_somebody_works_on_it(open_page, name, undo):
    first = open_page("/")
    press(first, "Lower A", "Undo: baffle height 64 → 59 mm")
    second = open_page(f"/?d={token(first)}")
    says(second, "As sent: True. Samples: False.")
    second.get_by_role("button", name=name, exact=True).click()
    says(second, "As sent: False. Samples: False.")
    says(second, f"Undo says: {undo}")
    assert document(first)["candidates"][0]["design"]["baffles"]["height_mm"] == 59


def test_a_reload_loses_nothing(open_page, settled):
    page = open_page("/")
    seen = edit_all(page)
    page.reload()
    settled(page)
    assert everything(page) == seen[-1]
    page.go_back()
    settled(page)
    expect(page.locator(".st-key-bench-document")).to_have_text(seen[-2][1])


def test_what_is_too_long_for_a_link_is_kept_and_the_notice_says_to_send_the_file(open_page):
    page = open_page("/")
    press(page, "Long notes", "Undo: long notes")
    expect(page.get_by_text("It is too long for a link: send the file.")).to_be_visible()
    assert len(document(page)["candidates"][0]["design"]["note"]) == 500
    assert token(page) == ""
    press(page, "Lower A", "Undo: baffle height 64 → 59 mm")
    assert len(document(page)["candidates"][0]["design"]["note"]) == 500
    dialog = open_dialog(page, "Share")
    expect(dialog.get_by_text("too long for a link: send the file")).to_be_visible()
    expect(dialog.get_by_role("button", name="Save to a file")).to_be_visible()
    page.keyboard.press("Escape")
    expect(dialog).to_have_count(0)
    press(page, "Undo it", "Undo: long notes")
    press(page, "Undo it", "nothing")
    says(page, "Notice says: nothing")


def test_the_share_dialog_gives_the_address_of_what_is_open_in_words_and_makes_no_history(open_page):
    first = open_page("/")
    entries = first.evaluate("history.length")
    dialog = open_dialog(first, "Share")
    address = shared_address(first)
    expect(dialog).to_contain_text(
        "on a shared server anyone with this sees exactly these four quilts and this night; "
        "later changes are not sent."
    )
    expect(dialog).to_contain_text("This address opens on this computer only")
    expect(dialog).to_contain_text(f"{len(address)} characters, short: fits any chat.")
    assert first.evaluate("history.length") == entries
    second = open_page(address.removeprefix(first.url.rstrip("/")))
    assert everything(second) == everything(first)


def test_body_measures_ride_in_the_link_unless_they_are_left_out(open_page):
    page = open_page("/")
    press(page, "Own body", "Undo: sleeper")
    dialog = open_dialog(page, "Share")
    expect(dialog).to_contain_text("This link holds your height, mass and girth.")
    expect(dialog.get_by_text("exactly these four quilts and this night; later changes")).to_be_visible()
    sent = decode_link(parse_qs(urlsplit(shared_address(page)).query)["d"][0])
    assert sent.model_dump(mode="json") == document(page)
    dialog.get_by_text("Leave my measures out").click()
    expect(dialog).to_contain_text("with a standard man in your place; later changes are not sent.")
    sent = decode_link(parse_qs(urlsplit(shared_address(page)).query)["d"][0])
    assert (sent.night.sleeper.kind, sent.measures_left_out) == ("standard man", True)
    assert {1870, 91, 1240}.isdisjoint(sent.night.sleeper.model_dump().values())


def test_a_saved_file_opens_elsewhere_as_the_same_line_up(open_page, tmp_path):
    first = open_page("/")
    edit_all(first)
    dialog = open_dialog(first, "Share")
    with first.expect_download() as caught:
        dialog.get_by_role("button", name="Save to a file").click()
    saved = tmp_path / caught.value.suggested_filename
    caught.value.save_as(saved)
    assert saved.name.startswith("line-up-20") and saved.suffix == ".json"
    second = open_page("/")
    dialog = open_dialog(second, "Share")
    dialog.locator("input[type=file]").set_input_files(saved)
    expect(dialog).to_have_count(0)
    says(second, f"Undo says: Undo: open {saved.name}")
    assert everything(second) == everything(first)
    press(second, "Undo it", "nothing")
    says(second, "As sent: False. Samples: True.")


def test_a_design_file_is_added_under_the_free_letter_and_a_bad_file_is_refused_in_words(open_page):
    page = open_page("/")
    before = everything(page)
    dialog = open_dialog(page, "Add a candidate")
    bad = {"name": "shopping.json", "mimeType": "application/json", "buffer": b'{"loftwright": "list"}'}
    dialog.locator("input[type=file]").set_input_files(bad)
    expect(dialog.get_by_role("alert")).to_contain_text("shopping.json was not opened; what was open stays.")
    expect(dialog.get_by_role("alert")).to_contain_text("loftwright is list")
    assert everything(page) == before
    expect(dialog.locator("input[type=file]")).to_have_count(1)  # the box that held the bad file has gone
    text = design_to_json(Design(name="From <b>afar</b>")).encode()
    good = {"name": "afar.json", "mimeType": "application/json", "buffer": text}
    dialog.locator("input[type=file]").set_input_files(good)
    expect(dialog).to_have_count(0)
    says(page, "Undo says: Undo: add From <b>afar</b>")
    added = document(page)["candidates"][-1]
    assert (added["letter"], added["design"]["name"]) == ("E", "From <b>afar</b>")


def test_the_line_up_takes_six_and_then_says_so(open_page):
    page = open_page("/")
    for name, added in (("blank underquilt", "New underquilt"), ("blank top quilt", "New top quilt")):
        dialog = open_dialog(page, "Add a candidate")
        dialog.get_by_role("button", name=f"Add a {name}").click()
        expect(dialog).to_have_count(0)
        says(page, f"Undo says: Undo: add {added}")
    dialog = open_dialog(page, "Add a candidate")
    expect(dialog).to_contain_text("Six is the most that can be compared at once.")
    for button in dialog.get_by_role("button", name=re.compile("^Add ")).all():
        expect(button).to_be_disabled()


def test_own_goods_are_edited_in_place_one_after_another_and_reach_the_page(open_page):
    page = open_page("/")
    dialog = open_dialog(page, "Goods")
    price = dialog.locator(".st-key-lw-goods-fill-down-850-price input")
    power = dialog.locator(".st-key-lw-goods-fill-down-850-fill_power_in3_oz input")
    expect(price).not_to_have_value("")
    catalogued = price.input_value()
    undo = page.get_by_text("Undo says: ")
    for box, typed, shown in ((price, "31,5", "31.5"), (price, "33", "33"), (power, "820", "820")):
        entries = page.evaluate("history.length")
        box.fill(typed)
        box.press("Enter")
        page.wait_for_function("n => history.length === n + 1", arg=entries)
        expect(box).to_have_value(shown)
        expect(dialog.get_by_text("own", exact=True)).to_have_count(1)
    expect(undo).to_have_text("Undo says: nothing")  # the page behind waits until the dialog ends
    power.fill("much")
    power.press("Enter")
    expect(dialog.get_by_role("alert")).to_contain_text(
        "Fill power of 850 fill-power down is much, which is not a number; allowed: 400 to 1050"
    )
    expect(dialog.get_by_role("alert")).to_contain_text(
        "The last good value, 820\u00a0in³/oz, is still in use."
    )
    expect(power).to_have_value("much")
    price.fill(catalogued)
    price.press("Enter")
    expect(dialog.get_by_text("In the catalogue: Fill power, in³/oz 850.")).to_be_visible()
    page.keyboard.press("Escape")
    expect(dialog).to_have_count(0)
    expect(page.get_by_text("Undo says: Undo: price of ")).to_be_visible()
    (own,) = document(page)["own_goods"]
    assert (own["id"], own["price"], own["fill_power_in3_oz"]) == ("down-850", None, 820)
    dialog = open_dialog(page, "Goods")
    dialog.get_by_role("button", name="Back to catalogue").click()
    expect(power).to_have_value("850")
    expect(dialog.get_by_text("own", exact=True)).to_have_count(0)
    expect(dialog.get_by_role("button", name="Back to catalogue")).to_be_focused()
    page.keyboard.press("Escape")
    expect(page.get_by_text("Undo says: Undo: ").filter(has_text="back to catalogue")).to_be_visible()
    assert document(page)["own_goods"] == []


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width, height", [(1280, 800), (390, 844)])
@pytest.mark.parametrize("name", ["Share", "Add a candidate", "Goods"])
def test_the_dialogs_have_no_grave_fault_and_do_not_scroll_sideways(
    open_page, grave_violations, name, width, height, scheme
):
    page = open_page("/", width=width, height=height, scheme=scheme)
    dialog = open_dialog(page, name)
    expect(dialog.get_by_role("heading", level=3).last).to_be_attached()
    page.wait_for_timeout(700)  # it fades in; half-way its contrast is none
    assert grave_violations(page) == []
    assert dialog.evaluate("d => d.scrollWidth <= d.clientWidth + 1")
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert dialog.evaluate("d => getComputedStyle(d).colorScheme") == scheme
