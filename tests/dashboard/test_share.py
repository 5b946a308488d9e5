"""What goes into a shared link and file, and what is said beside them."""

import re
from pathlib import Path
from types import SimpleNamespace

import pytest
from streamlit.testing.v1 import AppTest

from dashboard import share_dialog
from dashboard.measures import (
    HOLDS,
    HOLDS_NONE,
    HOLDS_UNUSED,
    left_out_line,
    nearest_standard,
    without_measures,
)
from dashboard.share_dialog import is_this_computer, link_address, promise
from engine.comparison import LETTERS, Candidate, Comparison
from engine.design import Design
from engine.export.link import decode_link, encode_link
from engine.night import Night, Sleeper

APP = Path(__file__).resolve().parents[2] / "dashboard" / "app.py"
OWN = Sleeper(kind="own", height_mm=1870, mass_kg=91, girth_mm=1240)


def line_up(count: int, sleeper: Sleeper | None = None) -> Comparison:
    candidates = tuple(Candidate(letter=letter, design=Design()) for letter in LETTERS[:count])
    return Comparison(night=Night(sleeper=sleeper or Sleeper()), candidates=candidates)


def opened(comparison: Comparison, url: str = "https://quilts.example/close-up") -> AppTest:
    """The share dialog over this comparison."""

    def page() -> None:
        import streamlit as st

        from dashboard import session, share_dialog

        session.start()
        if st.button("Share"):
            share_dialog.open_share()
            st.session_state.opened = True
        elif "opened" in st.session_state:  # a browser runs the open dialog alone, this test the whole page
            share_dialog._share()

    at = AppTest.from_function(page, default_timeout=30)
    at.query_params["d"] = encode_link(comparison)
    at.context["url"] = url
    at.run()
    at.button[0].click().run()
    assert not at.exception
    return at


def words(at: AppTest) -> str:
    return " ".join(re.sub("<[^>]*>", " ", block.value) for block in at.get("html"))


@pytest.mark.parametrize(
    "url, expected",
    [
        ("https://quilts.example", "https://quilts.example/?d=1x-_"),
        ("https://quilts.example/close-up", "https://quilts.example/?d=1x-_"),
        ("http://127.0.0.1:8501/make", "http://127.0.0.1:8501/?d=1x-_"),
        (None, "/?d=1x-_"),
    ],
)
def test_the_address_is_always_that_of_the_line_up_page(url, expected):
    assert link_address("1x-_", url) == expected


def test_an_app_below_a_path_keeps_its_path(monkeypatch):
    options = SimpleNamespace(get_option=lambda name: "/quilts/" if name == "server.baseUrlPath" else None)
    monkeypatch.setattr(share_dialog, "st", options)
    assert link_address("1x", "https://club.example/quilts/make") == "https://club.example/quilts/?d=1x"


@pytest.mark.parametrize(
    "address, here",
    [
        ("http://localhost:8501/?d=1", True),
        ("http://127.0.0.1:8501/?d=1", True),
        ("http://127.1.2.3/?d=1", True),
        ("http://[::1]:8501/?d=1", True),
        ("http://192.168.1.20:8501/?d=1", False),
        ("https://localhost.example/?d=1", False),
    ],
)
def test_an_address_of_this_machine_is_told_from_others(address, here):
    # RFC 1122 section 3.2.1.3 (1989): all of 127/8 is the host itself; RFC 4291 section 2.5.3 (2006): ::1.
    assert is_this_computer(address) == here


@pytest.mark.parametrize(
    "count, quilts",
    [(1, "this one quilt"), (2, "these two quilts"), (4, "these four quilts"), (6, "these six quilts")],
)
def test_the_promise_counts_the_quilts(count, quilts):
    now = line_up(count)
    assert (
        promise(now, now)
        == f"Anyone with this sees exactly {quilts} and this night; later changes are not sent."
    )


def test_the_promise_for_no_quilt_is_a_sentence_too():
    now = line_up(0)
    assert promise(now, now).startswith("Anyone with this sees exactly this night, without a quilt;")
    local = promise(now, now, local=True)
    assert (
        local.startswith("This address opens on this computer only") and "on a shared server anyone" in local
    )


@pytest.mark.parametrize(
    "sleeper, nearest",
    [
        (OWN, "standard man"),
        (Sleeper(kind="own", height_mm=1580, girth_mm=1080), "standard woman"),
        (Sleeper(kind="own", height_mm=1730, girth_mm=1220), "standard man"),
        (Sleeper(kind="own", height_mm=1600, girth_mm=1100), "standard woman"),
    ],
)
def test_the_nearest_standard_sleeper_is_the_one_of_like_size(sleeper, nearest):
    assert nearest_standard(sleeper) == nearest


@pytest.mark.parametrize("kind", ["own", "standard woman", "standard man"])
def test_without_measures_none_are_left_even_if_they_are_not_in_use(kind):
    sent = without_measures(line_up(2, OWN.model_copy(update={"kind": kind})))
    kept = sent.night.sleeper.model_dump()
    assert {1870, 91, 1240}.isdisjoint(kept.values())
    assert kept["kind"] == ("standard man" if kind == "own" else kind)
    assert sent.measures_left_out == (kind == "own")
    assert sent.model_copy(update={"night": Night(), "measures_left_out": False}) == line_up(2)


def test_the_dialog_gives_a_link_to_exactly_what_is_open():
    now = line_up(3)
    at = opened(now)
    address = at.code[0].value
    assert address == f"https://quilts.example/?d={encode_link(now)}"
    assert decode_link(address.partition("?d=")[2]) == now
    assert f"{len(address)} characters, short: fits any chat." in words(at)
    assert "this computer only" not in words(at)


def test_on_this_machine_it_warns_that_nobody_else_can_open_the_link():
    assert "This address opens on this computer only" in words(opened(line_up(1), "http://localhost:8501"))


def test_a_short_address_has_a_qr_code_and_a_long_one_has_none():
    pictures = [block.value for block in opened(line_up(2)).get("html") if "<img" in block.value]
    assert len(pictures) == 1 and 'alt="QR code of the address above"' in pictures[0]
    note = "".join(chr(0x4E00 + (7919 * n * n) % 20000) for n in range(450))
    wordy = Comparison(candidates=(Candidate(letter="A", design=Design(note=note)),))
    at = opened(wordy)
    assert len(at.code[0].value) > 800
    assert "<img" not in "".join(block.value for block in at.get("html"))
    assert "long: some chats cut it" in words(at)
    assert "Too long for a QR code" in words(at)


def test_own_measures_are_sent_and_named_unless_the_box_is_ticked():
    now = line_up(2, OWN)
    at = opened(now)
    assert decode_link(at.code[0].value.partition("?d=")[2]) == now
    assert HOLDS.format("This link") in words(at)
    assert "in your place" not in words(at)
    at.checkbox[0].check().run()
    link = decode_link(at.code[0].value.partition("?d=")[2])
    assert link == without_measures(now)
    assert (link.night.sleeper, link.measures_left_out) == (Sleeper(kind="standard man"), True)
    assert HOLDS_NONE.format("This link") in words(at)
    assert HOLDS.format("This link") not in words(at)
    assert "with a standard man in your place" in words(at)


def test_measures_that_are_typed_but_not_in_use_can_be_left_out_and_nobody_stands_in():
    now = line_up(2, OWN.model_copy(update={"kind": "standard woman"}))
    at = opened(now)
    assert decode_link(at.code[0].value.partition("?d=")[2]) == now
    assert HOLDS_UNUSED.format("This link") in words(at)
    at.checkbox[0].check().run()
    assert decode_link(at.code[0].value.partition("?d=")[2]) == line_up(2)


def test_who_gets_it_reads_who_stands_in_and_no_longer_once_a_sleeper_is_chosen():
    sent = without_measures(line_up(2, OWN))
    told = "Own measures were left out: a standard man stands in, so fit and verdicts can differ."
    assert left_out_line(sent) == told
    assert left_out_line(line_up(2)) == left_out_line(line_up(2, OWN)) == ""
    at = AppTest.from_file(str(APP), default_timeout=60)
    at.query_params["d"] = encode_link(sent)
    at.run()
    assert f"You see a line-up as it was sent to you. {told}" in words(at)
    at.button(key="lu_copy").click().run()
    assert told in words(at)
    at.button(key="lu_night").click().run()
    at.selectbox(key="field-night-sleeper-kind").set_value("own").run()
    assert not at.session_state.comparison.measures_left_out
    assert told not in words(at)


def test_another_air_temperature_leaves_it_said_that_somebody_stands_in():
    sent = without_measures(line_up(1, OWN))
    at = AppTest.from_file(str(APP), default_timeout=60)
    at.query_params["d"] = encode_link(sent)
    at.run()
    at.button(key="lu_night").click().run()
    at.text_input(key="field-night-air_c").set_value("-9").run()
    assert at.session_state.comparison.night.air_c == -9
    assert at.session_state.comparison.measures_left_out


def test_who_has_no_measures_is_not_asked_about_them():
    at = opened(line_up(2))
    assert len(at.checkbox) == 0
    assert "measures" not in words(at)
