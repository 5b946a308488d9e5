"""The app itself: links, pages and dialogs together, from one visitor to another."""

from urllib.parse import parse_qs, urlsplit

from playwright.sync_api import Page, expect

TABLE = "table.lw-lineup"
PAGES = ("Line-up", "Close-up", "Make")


def token(page: Page) -> str:
    return parse_qs(urlsplit(page.url).query).get("d", [""])[0]


def everything(page: Page) -> list[str]:
    """Every text of the page from its question down that a link must bring along."""
    parts = ("h1", ".lw-verdict", ".lw-night-line", TABLE, "table.lw-table", ".lw-warning")
    return [text for part in parts for text in page.locator(part).all_text_contents()]


def choose_b(page: Page) -> None:
    page.get_by_role("radiogroup", name="Candidate").get_by_text("B", exact=True).click()
    page.get_by_role("button", name="Choose this one").click()
    expect(page.locator("th.lw-cand").nth(1)).to_contain_text("chosen")


def test_a_link_opened_elsewhere_shows_every_text_of_the_line_up_as_it_was_sent(open_page, settled):
    first = open_page("/")
    choose_b(first)
    first.get_by_role("radiogroup", name="Compare with").get_by_text("C", exact=True).click()
    expect(first.locator("tr.lw-reference")).to_contain_text("three-quarter")
    first.get_by_role("radiogroup", name="Units").get_by_text("trade", exact=True).click()
    expect(first.locator(TABLE)).to_contain_text("°F")
    cost = first.locator('td[data-score="cost"]').nth(1)
    before = cost.text_content()
    first.get_by_role("button", name="Prices and weights").click()
    dialog = first.get_by_role("dialog")
    price = dialog.locator(".st-key-lw-goods-fabric-film-17-price input")
    price.fill("90")
    price.press("Enter")
    expect(dialog.get_by_text("own", exact=True)).to_have_count(1)
    first.keyboard.press("Escape")
    expect(dialog).to_have_count(0)
    expect(cost).not_to_have_text(before)
    second = open_page(f"/?d={token(settled(first))}")
    expect(second.get_by_text("You see a line-up as it was sent to you.")).to_be_visible()
    assert everything(second) == everything(first)
    assert len(everything(first)) > 5


def test_page_links_carry_what_was_just_changed_and_every_page_keeps_it(open_page):
    page = open_page("/")
    choose_b(page)
    chosen = token(page)
    assert chosen
    for name in (*PAGES[1:], PAGES[0]):
        page.get_by_role("link", name=name, exact=True).click()
        path = "" if name == PAGES[0] else name.lower()
        page.wait_for_url(lambda url, path=path: urlsplit(url).path == f"/{path}")
        expect(page.get_by_role("heading", level=1)).to_have_count(1)
        assert token(page) == chosen
    expect(page.locator("th.lw-cand").nth(1)).to_contain_text("chosen")
    expect(page.get_by_role("button", name="Undo: choose B")).to_be_enabled()


def test_an_edit_in_a_dialog_is_in_the_page_links_once_it_is_closed(open_page):
    page = open_page("/")
    choose_b(page)
    before = token(page)
    page.get_by_role("button", name="Prices and weights").click()
    dialog = page.get_by_role("dialog")
    price = dialog.locator(".st-key-lw-goods-fabric-film-17-price input")
    price.fill("29")
    price.press("Enter")
    expect(dialog.get_by_text("own", exact=True)).to_have_count(1)
    page.keyboard.press("Escape")
    expect(page.get_by_role("button", name="Undo: price of laminate…")).to_be_enabled()
    page.get_by_role("link", name="Make", exact=True).click()
    page.wait_for_url("**/make?d=*")
    assert token(page) != before
    page.get_by_role("link", name="Line-up", exact=True).click()
    expect(page.get_by_role("button", name="Undo: price of laminate…")).to_be_enabled()


def test_duplicating_lands_in_close_up_with_the_copy_in_its_address_and_back_undoes_it(open_page, settled):
    page = open_page("/")
    choose_b(page)
    page.get_by_role("button", name="Duplicate", exact=True).click()
    page.wait_for_url("**/close-up?d=*")
    copied = open_page(f"/?d={token(page)}")
    expect(copied.locator(f"{TABLE} tbody tr")).to_have_count(5)
    page.go_back()
    page.wait_for_url(lambda url: urlsplit(url).path == "/")
    expect(page.locator(f"{TABLE} tbody tr")).to_have_count(5)
    settled(page)
    page.go_back()
    expect(page.locator(f"{TABLE} tbody tr")).to_have_count(4)
    expect(page.get_by_role("button", name="Undo: choose B")).to_be_enabled()


def test_a_garbage_link_gives_a_sentence_and_the_samples_on_every_page_and_back_returns(open_page, settled):
    page = open_page("/")
    choose_b(page)
    before, address = everything(page), page.url
    page.goto(address.partition("?")[0] + "?d=garbage%3Cb%3E")
    settled(page)
    expect(page.get_by_text("This link could not be read: it is not a Loftwright link.")).to_be_visible()
    expect(page.locator(f"{TABLE} tbody tr")).to_have_count(4)
    assert token(page) == "garbage<b>"
    page.go_back()
    page.wait_for_url(address)
    expect(page.locator("th.lw-cand").nth(1)).to_contain_text("chosen")
    assert everything(settled(page)) == before
    for path in ("/close-up", "/make"):
        open_page(f"{path}?d=garbage")


def test_a_saved_line_up_opened_from_the_share_dialog_comes_back_whole(open_page, settled, tmp_path):
    first = open_page("/")
    choose_b(first)
    first.get_by_role("button", name="Share", exact=True).click()
    with first.expect_download() as caught:
        first.get_by_role("dialog").get_by_role("button", name="Save to a file").click()
    saved = tmp_path / "line-up.json"
    caught.value.save_as(saved)
    first.keyboard.press("Escape")
    second = open_page("/")
    second.get_by_role("button", name="Share", exact=True).click()
    second.get_by_role("dialog").locator("input[type=file]").set_input_files(saved)
    expect(second.get_by_role("dialog")).to_have_count(0)
    expect(second.locator("th.lw-cand").nth(1)).to_contain_text("chosen")
    expect(second.get_by_role("button", name="Undo: open line-up.json")).to_be_enabled()
    assert everything(settled(second)) == everything(settled(first))


def test_the_dialog_adds_a_sample_to_the_table(open_page):
    page = open_page("/")
    page.get_by_role("button", name="Add a candidate").click()
    page.get_by_role("dialog").get_by_role("button", name="Add Midsummer").first.click()
    expect(page.get_by_role("dialog")).to_have_count(0)
    expect(page.locator("th.lw-cand").nth(4)).to_contain_text("E Midsummer")
