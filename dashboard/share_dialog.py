"""How does a line-up get to somebody else: by a link, or by a file?"""

from datetime import date
from functools import lru_cache, partial
from html import escape
from urllib.parse import urlencode, urlsplit

import segno
import streamlit as st

from dashboard import dialogs, file_box, measures, session
from dashboard.add_dialog import open_add
from engine.comparison import Comparison
from engine.export.files import comparison_to_json, file_stem
from engine.export.link import LONG, encode_link, link_length_word
from engine.export.qr import LONGEST
from engine.refusals import Refusal

__all__ = ["open_add", "open_share"]

QUILTS = ("", "this one quilt", "these two quilts", "these three quilts", "these four quilts",
          "these five quilts", "these six quilts")  # fmt: skip
IN_THE_LINK = (
    "The night, the designs with their names and notes, your own numbers for goods, which one is chosen and "
    "why, the units and the currency label. About you, "
)
LOCAL = "This address opens on this computer only, because Loftwright runs here and nowhere else;"
NO_BODY = "nothing but what you wrote into names and notes."
BODY = "your height, mass and girth, and what you wrote into names and notes."
ADDRESS_BAR = " The browser’s own address bar holds your body measures: send the address above instead."


def open_share() -> None:
    """Show the share dialog; call it once, in the run after the click."""
    dialogs.begin()
    _share()


@st.dialog("Share this line-up", width="medium", on_dismiss="rerun")
def _share() -> None:
    dialogs.open_body()
    now = session.comparison()
    dialogs.heading("Send the link")
    sent = measures.to_send(now, "lw-without-measures")
    try:
        token = encode_link(sent)
    except Refusal as refusal:
        dialogs.say(refusal.messages, "mind", "No link.")
    else:
        _show_link(sent, now, link_address(token, st.context.url))
    dialogs.heading("Or send a file")
    own = ", your body measures too" if measures.has_measures(now) else ""
    dialogs.small(f"The file holds the whole line-up{own}. It opens here again, on any computer.")
    # Built at the click: nothing is left for the browser to fetch when the dialog closes.
    st.download_button(
        "Save to a file",
        data=partial(comparison_to_json, now),
        file_name=f"{file_stem('line-up', date.today())}.json",
        mime="application/json",
        on_click="ignore",
        key="lw-save-file",
    )
    file_box.show_file_box("Open a file")


def _show_link(sent: Comparison, now: Comparison, address: str) -> None:
    # A box that scrolls inside could not be reached by keyboard, so a very long address is folded away.
    with st.container() if len(address) <= LONG else st.expander("Show the address"):
        st.code(address, language=None, wrap_lines=True)
    local = is_this_computer(address)
    dialogs.small(promise(sent, now, local))
    if local:
        dialogs.small("To send the line-up to another computer, save it to a file.")
    length = f"{len(address)} characters, {link_length_word(address)}."
    if len(address) < LONGEST:
        dialogs.small(length)
        st.html(
            f'<img src="{escape(qr_picture(address), quote=True)}" width="264" height="264" '
            'style="max-width:100%" alt="QR code of the address above">'
        )
    else:
        dialogs.small(f"{length} Too long for a QR code that a phone can read off a screen: use the link.")
    st.html(
        '<details class="lw-why"><summary>What is in the link?</summary>'
        f"{IN_THE_LINK}{BODY if measures.has_measures(sent) else NO_BODY}"
        f"{ADDRESS_BAR if measures.has_measures(now) and not measures.has_measures(sent) else ''}</details>"
    )


def promise(sent: Comparison, now: Comparison, local: bool = False) -> str:
    """What the one who gets the link will see; `local` where it leads to nobody else's computer."""
    kind = sent.night.sleeper.kind
    but = f", with a {kind} in your place" if kind != now.night.sleeper.kind else ""
    quilts = QUILTS[len(sent.candidates)]
    seen = f"exactly {quilts} and this night" if quilts else "exactly this night, without a quilt"
    told = f"nyone with this sees {seen}{but}; later changes are not sent."
    return f"{LOCAL} on a shared server a{told}" if local else f"A{told}"


def link_address(token: str, url: str | None) -> str:
    """The address of the Line-up page with this link, whichever page is open; `url` is the browser's."""
    parts = urlsplit(url or "")
    below = str(st.get_option("server.baseUrlPath") or "").strip("/")
    root = f"{parts.scheme}://{parts.netloc}" if parts.netloc else ""
    return f"{root}/{below + '/' if below else ''}?{urlencode({'d': token})}"


def is_this_computer(address: str) -> bool:
    """Whether an address means the machine on which it is opened."""
    host = urlsplit(address).hostname or ""
    return host in ("localhost", "::1", "0.0.0.0") or host.startswith("127.")


@lru_cache(maxsize=32)
def qr_picture(address: str) -> str:
    """The QR code as the source of an `<img>`: dark on white with its quiet zone, on any ground."""
    return str(segno.make_qr(address, error="l").svg_data_uri(scale=4, border=4, dark="#000", light="#fff"))
