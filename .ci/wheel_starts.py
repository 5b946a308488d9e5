"""Does the installed wheel start, and does it bring all data files with it?

Run with the wheel's folder first on the path: `python wheel_starts.py SITE`.
"""

import os
import re
import subprocess
import sys
import tempfile
import time
import urllib.error
import urllib.request
from pathlib import Path

import dashboard

site = Path(sys.argv[1]).resolve()
checkout = Path(__file__).resolve().parents[1]
assert site in Path(dashboard.__file__).resolve().parents, f"{dashboard.__file__} is not in the wheel"

for package in ("dashboard", "engine", "sample_designs"):
    for file in sorted((checkout / package).rglob("*")):
        if file.is_file() and "__pycache__" not in file.parts:
            assert (site / file.relative_to(checkout)).is_file(), f"{file.name} is not in the wheel"

log = Path(tempfile.mkstemp(suffix=".log")[1])
with log.open("w") as sink:
    server = subprocess.Popen(
        [sys.executable, "-m", "dashboard", "--server.port=0", "--server.headless=true"],
        stdout=sink,
        stderr=subprocess.STDOUT,
        env=os.environ | {"PYTHONUNBUFFERED": "1"},
    )
try:
    for _ in range(120):
        time.sleep(0.5)
        found = re.search(r"http://127\.0\.0\.1:(\d+)", log.read_text())
        if server.poll() is not None:
            break
        if found:
            url = f"http://127.0.0.1:{found[1]}/_stcore/health"
            try:
                assert urllib.request.urlopen(url, timeout=5).read() == b"ok"
            except urllib.error.URLError:
                continue
            print("the installed wheel starts")
            sys.exit(0)
    sys.exit(f"the installed wheel did not start:\n{log.read_text()}")
finally:
    server.terminate()
    server.wait(10)
    log.unlink()
