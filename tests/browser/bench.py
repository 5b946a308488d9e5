"""Starts the page of share_bench.py on a server of its own, with the options that the app has."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from dashboard.__main__ import arguments
from tests.browser import serving

PAGE = Path(__file__).with_name("share_bench.py")


@contextmanager
def served(log: Path) -> Iterator[str]:
    """The address of the running page; what the server says goes to the log."""
    options = arguments([])[3:]
    with serving.served(["streamlit", "run", str(PAGE), *options], log) as address:
        yield address
