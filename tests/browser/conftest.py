"""A real browser on a real server: what only they can show (address, layout, keyboard, outside requests)."""

import os
import re
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, ConsoleMessage, Page, expect, sync_playwright

from tests.browser.serving import served

QUIET = '[data-testid="stApp"][data-test-script-state="notRunning"][data-test-connection-state="CONNECTED"]'
SEEKS_ITS_ROOT = re.compile(r"/[a-z-]+/_stcore/(health|host-config)")
"""Opened below the root, Streamlit asks there for its server first and logs the 404 before it looks above."""
expect.set_options(timeout=40_000)
"""Two cores are shared by server, browser and tests."""


@pytest.fixture(scope="session")
def chromium_path() -> str:
    """Where the system's Chromium is; without one the browser tests skip, except where it is demanded."""
    found = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
    if found:
        return found
    reason = "no Chromium on this machine (Debian: apt install chromium)"
    if os.environ.get("LOFTWRIGHT_NEED_BROWSER") == "1" or os.environ.get("CI") == "true":
        pytest.fail(reason)
    pytest.skip(reason)


@pytest.fixture(scope="session")
def server_log(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """What the server printed."""
    return tmp_path_factory.mktemp("server") / "server.log"


@pytest.fixture(scope="session")
def server(chromium_path: str, server_log: Path) -> Iterator[str]:
    """The dashboard as its users start it, from a folder that is not the checkout; gives its address."""
    with served(["dashboard"], server_log) as address:
        yield address


@pytest.fixture(scope="session")
def browser(chromium_path: str) -> Iterator[Browser]:
    """One Chromium for all tests; each page gets a context of its own."""
    switches = (
        "--headless --no-sandbox --disable-gpu --disable-quic --no-first-run "
        "--disable-background-networking --disable-component-update --disable-sync"
    )
    with sync_playwright() as playwright:
        chromium = playwright.chromium.launch(executable_path=chromium_path, args=switches.split())
        yield chromium
        chromium.close()


@pytest.fixture
def settled(server_log: Path) -> Callable[[Page], Page]:
    """Call it with a page to wait until the app is still and shows no failure.

    It is also still before a rerun begins: after an action, wait for the text that it must bring.
    """

    def wait(page: Page) -> Page:
        expect(page.locator(QUIET)).to_have_count(1)
        expect(page.get_by_role("heading", level=1)).to_have_count(1)
        failures = page.get_by_test_id("stException")
        assert failures.count() == 0, f"{failures.all_inner_texts()}\n{server_log.read_text()[-4000:]}"
        return page

    return wait


@pytest.fixture
def open_page(
    browser: Browser, server: str, settled: Callable[[Page], Page]
) -> Iterator[Callable[..., Page]]:
    """Call it with a path, width, height and colour scheme to get a settled page in a fresh context.

    Whatever it did, no request may have left the machine and the console may hold no error.
    """
    contexts = []
    faults: list[str] = []

    def note_line(line: ConsoleMessage) -> None:
        if line.type == "error" and not SEEKS_ITS_ROOT.fullmatch(urlsplit(line.location["url"]).path):
            faults.append(f"console: {line.text} {line.location['url']}")

    def note_request(url: str) -> None:
        parts = urlsplit(url)
        if parts.scheme not in ("data", "blob", "about") and parts.hostname != "127.0.0.1":
            faults.append(f"request left the machine: {url}")

    def open_at(path: str = "/", width: int = 1280, height: int = 800, scheme: str = "light") -> Page:
        context = browser.new_context(
            viewport={"width": width, "height": height}, color_scheme=scheme, accept_downloads=True
        )
        contexts.append(context)
        page = context.new_page()
        page.on("request", lambda request: note_request(request.url))
        page.on("websocket", lambda socket: note_request(socket.url))
        page.on("pageerror", lambda error: faults.append(f"error in the page: {error}"))
        page.on("console", note_line)
        page.goto(server + path)
        return settled(page)

    yield open_at
    for context in contexts:
        context.close()
    assert not faults, "\n".join(faults)


@pytest.fixture
def grave_violations() -> Callable[[Page], list[str]]:
    """Call it with a page to get what axe finds serious or critical, as rule and place."""

    def run(page: Page) -> list[str]:
        found = Axe().run(page).response["violations"]
        return [
            f"{violation['id']}: {node['target']} {node['failureSummary']}"
            for violation in found
            if violation["impact"] in ("serious", "critical")
            for node in violation["nodes"]
        ]

    return run
