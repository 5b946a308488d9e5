"""Links that cannot be read, in a real browser: one plain sentence, the samples, the address as it came."""

import json
import zlib
from base64 import urlsafe_b64encode
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import parse_qs, quote, urlsplit

import pytest
from playwright.sync_api import expect

from engine.catalogue.models import OwnGood
from engine.comparison import Candidate, Comparison
from engine.design import Design, Shells
from engine.export.link import encode_link, packed
from engine.samples import first_visit
from tests.browser.bench import served

INSTEAD = "You see the samples; what you had open before is one Back away."
SENT = encode_link(first_visit())


def bomb() -> str:
    squeeze = zlib.compressobj(9, zlib.DEFLATED, -15)
    data = squeeze.compress(b"[" + b"0," * 2_000_000) + squeeze.flush()
    return "1" + urlsafe_b64encode(data).decode().rstrip("=")


def with_design(design: Design) -> str:
    return encode_link(Comparison(candidates=(Candidate(letter="A", design=design),)))


UNREADABLE = {
    "garbage": ("kept", "it is not a Loftwright link"),
    "cut short": (SENT[: len(SENT) // 2], "it is cut short"),
    "one sign changed": (SENT[:40] + ("A" if SENT[40] != "A" else "B") + SENT[41:], ""),
    "of a future version": ("2" + SENT[1:], "it was made by a newer version"),
    "a bomb": (bomb(), "it is not a Loftwright link"),
    "ten kilobytes": ("1" + "A" * 10_000, "it is not a Loftwright link"),
    "not a number": (packed('{"night": {"air_c": NaN}}'), "it holds something that is not allowed"),
    "a deep nest": (packed("[" * 3000 + "]" * 3000), "it holds something that is not allowed"),
    "mark-up for a value": (packed('{"units": "<img src=x onerror=alert(1)>"}'), "it holds something"),
    "an unknown fabric": (with_design(Design(shells=Shells(inner="silk"))), "Inner shell"),
    "an own number that the good has not": (
        encode_link(Comparison(own_goods=(OwnGood(kind="joint", id="tape-6", fill_power_in3_oz=800),))),
        "fill_power_in3_oz of tape-6",
    ),
    "signs of another script": ("…–“kept”", "it is not a Loftwright link"),
}


@pytest.fixture(scope="module")
def server_log(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A log of its own: the app's server of this run goes on writing in the other."""
    return tmp_path_factory.mktemp("bench") / "server.log"


@pytest.fixture(scope="module")
def server(chromium_path: str, server_log: Path) -> Iterator[str]:
    """A page of the tests' own instead of the app."""
    with served(server_log) as address:
        yield address


@pytest.mark.parametrize("kind", UNREADABLE)
def test_an_unreadable_link_gives_one_plain_sentence_and_the_samples_and_keeps_its_address(open_page, kind):
    token, reason = UNREADABLE[kind]
    page = open_page(f"/?d={quote(token)}")
    notice = page.get_by_text("Notice says: ")
    expect(notice).to_contain_text("This link could not be read")
    told = notice.inner_text().removeprefix("Notice says: ")
    assert told.startswith("This link could not be read: ") and told.endswith(INSTEAD)
    assert reason in told
    assert "Traceback" not in told and "Error" not in told and len(told) < 500
    assert json.loads(page.locator(".st-key-bench-document").inner_text()) == first_visit().model_dump(
        mode="json"
    )
    assert parse_qs(urlsplit(page.url).query)["d"] == [token]
    assert page.evaluate("document.querySelectorAll('img[src=x]').length") == 0


def test_back_returns_from_an_unreadable_link_to_what_was_open(open_page, server, settled):
    page = open_page("/")
    page.get_by_role("button", name="Lower A").click()
    expect(page.get_by_text("Undo says: Undo: baffle height 64 → 59 mm")).to_be_visible()
    before = page.locator(".st-key-bench-document").inner_text()
    address = page.url
    page.goto(f"{server}/?d=garbage")
    settled(page)
    expect(page.get_by_text("This link could not be read")).to_be_visible()
    page.go_back()
    page.wait_for_url(address)
    settled(page)
    expect(page.locator(".st-key-bench-document")).to_have_text(before)


def test_after_an_unreadable_link_edits_go_on_and_back_leads_to_its_sentence_again(open_page):
    page = open_page("/?d=garbage")
    page.get_by_role("button", name="Lower A").click()
    expect(page.get_by_text("Notice says: nothing")).to_be_visible()
    page.go_back()
    expect(page.get_by_text("This link could not be read")).to_be_visible()
    assert page.url.endswith("?d=garbage")
    page.go_forward()
    expect(page.get_by_text("Undo says: Undo: baffle height 64 → 59 mm")).to_be_visible()


def test_what_a_chat_glues_to_a_link_is_overlooked(open_page):
    page = open_page(f"/?d={quote(SENT + ').')}")
    expect(page.get_by_text("Notice says: nothing")).to_be_visible()
    expect(page.get_by_text("As sent: True. Samples: False.")).to_be_visible()


def test_mark_up_in_names_and_notes_stays_text(open_page):
    name = "<img src=x onerror=alert(1)> **b** [a](http://example.org) $x$"
    design = Design(name=name[:60], note='"><script>document.title="taken"</script>')
    page = open_page(f"/?d={with_design(design)}")
    for opener in ("Share", "Add a candidate", "Goods"):
        page.get_by_role("button", name=opener, exact=True).click()
        dialog = page.get_by_role("dialog")
        expect(dialog.get_by_role("heading").first).to_be_visible()
        assert page.evaluate("document.querySelectorAll('[role=dialog] :is(img[src=x], script)').length") == 0
        page.keyboard.press("Escape")
        expect(dialog).to_have_count(0)
    assert page.title() == "Bench"
    assert (
        json.loads(page.locator(".st-key-bench-document").inner_text())["candidates"][0]["design"]["name"]
        == name[:60]
    )
