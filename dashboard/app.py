"""Which pages there are, and the frame round them; nothing else."""

import gc

import streamlit as st

from dashboard import session
from dashboard.style import inject

PAGES = {
    "Line-up": st.Page("views/line_up.py", title="Line-up · Loftwright", default=True),
    "Close-up": st.Page("views/close_up.py", title="Close-up · Loftwright", url_path="close-up"),
    "Try many": st.Page("views/try_many.py", title="Try many · Loftwright", url_path="try-many"),
    "Make": st.Page("views/make.py", title="Make · Loftwright", url_path="make"),
    "Method": st.Page("views/method.py", title="Method · Loftwright", url_path="method"),
}


def show_page_links() -> None:
    """One row that wraps on a phone; the page in view is marked by Streamlit."""
    with st.container(horizontal=True, gap="small", key="lw-pages"):
        for label, page in PAGES.items():
            st.page_link(page, label=label, query_params=session.link_params())


@st.cache_resource
def settle_memory() -> None:
    """Take what is loaded by now out of the collector's sight, once.

    Streamlit collects after every run; walking all loaded modules each time costs more than our page.
    """
    gc.collect()
    gc.freeze()


# An icon given as a sign is drawn by the browser; a named icon would be fetched from outside.
st.set_page_config(page_icon="🪶", layout="wide")
inject()
session.start()
page = st.navigation(list(PAGES.values()), position="hidden")
show_page_links()
page.run()
settle_memory()
