"""Is a printed template true to size, measured in the pixels of a program that did not write it?"""

import os
import re
import shutil
import subprocess

import numpy as np
import pytest

from engine.bench.pages import template_pdf
from engine.bench.tiles import MARGIN_MM
from engine.design import Design
from engine.layout import plan_baffles
from tests.bench.examples import (
    made,
)


@pytest.fixture
def pdftoppm() -> str:
    """The program that turns a page into pixels; without it the test skips, except where it is demanded."""
    found = shutil.which("pdftoppm")
    if found:
        return found
    reason = "no pdftoppm on this machine (Debian: apt install poppler-utils)"
    if os.environ.get("LOFTWRIGHT_NEED_BROWSER") == "1" or os.environ.get("CI") == "true":
        pytest.fail(reason)
    pytest.skip(reason)


def test_in_pixels_the_test_line_and_the_distance_of_baffles_are_true(pdftoppm, tmp_path):
    """At 300 dpi a pixel is 25.4/300 = 0.085 mm; a tick's middle is found to half a pixel."""
    pixel = 25.4 / 300
    design = Design.model_validate(
        {"baffles": {"layout": "full, crosswise", "spacing_mm": 60, "end_chamber_percent": 100}}
    )
    one = made(design, extent="whole", paper="A3")
    (tmp_path / "template.pdf").write_bytes(template_pdf(one))
    page = 2  # the first tile
    command = [pdftoppm, "-r", "300", "-gray", "-f", str(page), "-l", str(page), "-singlefile"]
    subprocess.run([*command, tmp_path / "template.pdf", tmp_path / "page"], check=True)
    dark = grey_map((tmp_path / "page.pgm").read_bytes()) < 128

    height_mm = dark.shape[0] * pixel
    runs = [longest_run(row) for row in dark[int((height_mm - MARGIN_MM - 16) / pixel) :]]
    lengths = sorted({run for run in runs if run * pixel > 90})
    # Half the width of the end strokes, 0.15 mm, is on either end of a line.
    assert min(lengths) * pixel == pytest.approx(100 + 0.3, abs=2 * pixel)
    assert any(run * pixel == pytest.approx(101.6 + 0.3, abs=2 * pixel) for run in lengths)

    pitch = design.outline.length_mm / (len(plan_baffles(design).lines) + 1)
    row = dark[int(60 / pixel)]  # above the labels, which stand in the middle
    middles = np.array(
        [middle for middle, width in strokes(row) if width * pixel == pytest.approx(0.5, abs=0.1)]
    )
    assert len(middles) >= 3
    steps = np.diff(middles) * pixel
    # The first stroke is the head's cut line, 35 mm before the seam line that the baffles are placed from.
    assert steps == pytest.approx([35 + pitch, *[pitch] * (len(steps) - 1)], abs=pixel)


def grey_map(file: bytes) -> np.ndarray:
    """A binary portable grey map (netpbm, pgm(5))."""
    head = re.match(rb"P5\s+(\d+)\s+(\d+)\s+255\s", file)
    width, height = int(head[1]), int(head[2])
    return np.frombuffer(file[-width * height :], np.uint8).reshape(height, width)


def strokes(row: np.ndarray) -> list[tuple[float, int]]:
    """Middle and width of each dark run of a row, in pixels."""
    change = np.flatnonzero(np.diff(np.concatenate([[0], row.astype(int), [0]])))
    return [((a + b) / 2, int(b - a)) for a, b in zip(change[::2], change[1::2], strict=True)]


def longest_run(row: np.ndarray) -> int:
    return max((width for _, width in strokes(row)), default=0)
