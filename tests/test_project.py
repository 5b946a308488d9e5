"""Is the project laid out as its readers are told, and does the start command say what we mean?"""

import shutil
import subprocess
import tomllib
from pathlib import Path

import pytest

from dashboard.__main__ import APP, arguments
from dashboard.palette import GROUND

ROOT = Path(__file__).resolve().parents[1]
TOP_LEVEL = {
    "README.md",
    "DEVELOPERS.md",
    "pyproject.toml",
    "dashboard",
    "engine",
    "tests",
    "sample_designs",
}


def tracked_files() -> list[str]:
    """What git tracks; skips where there is no git or nothing is tracked."""
    if shutil.which("git") is None or not (ROOT / ".git").exists():
        pytest.skip("not a git checkout")
    listed = subprocess.run(
        ["git", "-c", f"safe.directory={ROOT}", "ls-files", "-z"], cwd=ROOT, capture_output=True, check=True
    )
    files = [name for name in listed.stdout.decode().split("\0") if name]
    if not files:
        pytest.skip("git tracks nothing yet")
    return files


def test_the_top_level_holds_exactly_what_it_should():
    top = {name.split("/")[0] for name in tracked_files()}
    assert {name for name in top if not name.startswith(".")} == TOP_LEVEL


def test_no_lock_file_or_built_thing_is_tracked():
    built = [
        name
        for name in tracked_files()
        if name.endswith((".pyc", ".lock", ".egg-info", ".whl")) or ".venv" in name.split("/")
    ]
    assert not built


def test_the_console_script_and_the_packages_are_declared():
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    assert project["project"]["scripts"] == {"loftwright": "dashboard.__main__:main"}
    for package in project["tool"]["hatch"]["build"]["targets"]["wheel"]["packages"]:
        assert (ROOT / package).is_dir()


def test_what_is_typed_comes_last_so_that_it_wins():
    typed = ["--server.port=8600", "--server.address=0.0.0.0"]
    line = arguments(typed)
    assert line[:3] == ["streamlit", "run", str(APP)]
    assert line[-2:] == typed
    assert "--server.address=127.0.0.1" in line[:-2]


def test_the_start_command_carries_both_themes():
    line = arguments([])
    assert f"--theme.light.backgroundColor={GROUND.light}" in line
    assert f"--theme.dark.backgroundColor={GROUND.dark}" in line
