"""Starts a page on a server of its own, as its users do, and stops it again by its own process."""

import os
import re
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
START_SECONDS = 60
LEAVE_SECONDS = 30
OURS_IN_A_TRACEBACK = re.compile(rf'^ *File "{re.escape(str(ROOT))}/(?:dashboard|engine)/', re.MULTILINE)
"""A failure of our own passes through one of our files; on a busy machine the web library also logs some of
its own, for a page that was closed while it was being answered."""


@contextmanager
def served(module: Sequence[str], log: Path) -> Iterator[str]:
    """The address of `python -m module`, run from a folder that is not the checkout; it writes to the log."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    command = [sys.executable, "-m", *module, f"--server.port={port}", "--server.headless=true"]
    paths = os.pathsep.join(filter(None, [str(ROOT), os.environ.get("PYTHONPATH")]))
    with log.open("w") as sink:
        process = subprocess.Popen(
            command,
            cwd=log.parent,
            env=os.environ | {"PYTHONPATH": paths, "PYTHONUNBUFFERED": "1"},
            stdout=sink,
            stderr=subprocess.STDOUT,
        )
    address = f"http://127.0.0.1:{port}"
    try:
        _wait_until_healthy(address, process, log)
        yield address
    finally:
        _wait_until_alone(address, process)
        process.terminate()
        try:
            process.wait(10)
        except subprocess.TimeoutExpired:
            process.kill()
            process.wait(10)
    assert not OURS_IN_A_TRACEBACK.search(log.read_text()), log.read_text()


def _wait_until_healthy(address: str, process: subprocess.Popen[bytes], log: Path) -> None:
    end = time.monotonic() + START_SECONDS
    while time.monotonic() < end and process.poll() is None:
        try:
            with urllib.request.urlopen(f"{address}/_stcore/health", timeout=2) as answer:
                if answer.read() == b"ok":
                    return
        except (urllib.error.URLError, TimeoutError, ConnectionError):
            pass
        time.sleep(0.2)
    raise AssertionError(f"the page did not start within {START_SECONDS} s:\n{log.read_text()}")


def _wait_until_alone(address: str, process: subprocess.Popen[bytes]) -> None:
    """Until the server has noticed that every page is closed.

    Stopped while it still holds a socket, the web library fails in its own code and fills the log.
    """
    end = time.monotonic() + LEAVE_SECONDS
    while time.monotonic() < end and process.poll() is None:
        try:
            with urllib.request.urlopen(f"{address}/_stcore/metrics", timeout=2) as answer:
                if b"\nactive_sessions 0\n" in answer.read() + b"\n":
                    return
        except (urllib.error.URLError, TimeoutError, ConnectionError):
            pass
        time.sleep(0.2)
