"""Does the README tell the truth: its example runs, and prints what it says."""

import re
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")


def block(marker: str) -> str:
    """The fenced block behind an HTML comment."""
    found = re.search(rf"<!-- {marker} -->\n```\w*\n(.*?)```", README, re.DOTALL)
    assert found, f"README.md has no block marked {marker}"
    return found.group(1)


def test_the_example_prints_what_the_readme_says():
    run = subprocess.run(
        [sys.executable, "-X", "utf8", "-c", block("example")],
        cwd=ROOT,
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=True,
    )
    assert run.stdout == block("output")


def test_the_example_is_six_lines_of_code():
    assert len([line for line in block("example").splitlines() if line.strip()]) == 6


def test_the_commands_are_single_lines():
    assert len(block("run").strip().splitlines()) == 1
    assert len(block("tests").strip().splitlines()) == 1


def test_the_picture_is_there():
    pictures = re.findall(r"!\[[^\]]+\]\(([^)]+)\)", README)
    assert pictures
    assert all((ROOT / picture).is_file() for picture in pictures)
