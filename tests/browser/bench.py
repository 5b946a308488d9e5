"""Starts the page of share_bench.py on a server of its own, with the options that the app has."""

import os
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from dashboard.__main__ import arguments

PAGE = Path(__file__).with_name("share_bench.py")
ROOT = PAGE.parents[2]
START_SECONDS = 60


@contextmanager
def served(log: Path) -> Iterator[str]:
    """The address of the running page; what the server says goes to the log."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    options = arguments([f"--server.port={port}", "--server.headless=true"])[3:]
    paths = os.pathsep.join(filter(None, [str(ROOT), os.environ.get("PYTHONPATH")]))
    with log.open("w") as sink:
        process = subprocess.Popen(
            [sys.executable, "-m", "streamlit", "run", str(PAGE), *options],
            cwd=log.parent,
            env=os.environ | {"PYTHONPATH": paths, "PYTHONUNBUFFERED": "1"},
            stdout=sink,
            stderr=subprocess.STDOUT,
        )
    try:
        address = f"http://127.0.0.1:{port}"
        _wait(address, process, log)
        yield address
    finally:
        process.terminate()
        process.wait(20)
    assert "Traceback" not in log.read_text(), log.read_text()


def _wait(address: str, process: subprocess.Popen[bytes], log: Path) -> None:
    end = time.monotonic() + START_SECONDS
    while time.monotonic() < end and process.poll() is None:
        try:
            with urllib.request.urlopen(f"{address}/_stcore/health", timeout=2) as answer:
                if answer.read() == b"ok":
                    return
        except (urllib.error.URLError, TimeoutError, ConnectionError):
            pass
        time.sleep(0.2)
    raise AssertionError(f"the bench did not start within {START_SECONDS} s:\n{log.read_text()}")
