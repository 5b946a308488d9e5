"""What does a printed table say? Reads a CSV of this folder, whose first line names its source."""

import csv
from pathlib import Path


def table(name: str) -> list[dict[str, str]]:
    """The rows of a table as written, without the line that names the source."""
    lines = (Path(__file__).parent / name).read_text("utf-8").splitlines()
    assert lines[0].startswith("# Source: "), f"{name} does not open with its source"
    return list(csv.DictReader(lines[1:]))
