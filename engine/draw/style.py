"""How thick are lines, how are they dashed, how large are letters, how dark are greys? The one place for it.

Millimetres of paper. No meaning is in colour: a line is known by its width, its dash and its name.
"""

from dataclasses import dataclass
from typing import Literal, TypeAlias

Tone: TypeAlias = Literal["ink", "quiet", "shade", "ground", "none"]

POINT_MM = 25.4 / 72
LEAST_TEXT_MM = 8 * POINT_MM
"""Eight points: smaller is not read at the bench."""
TEXT_MM = 3.2
BODY_TEXT_MM = 11 * POINT_MM
HEAD_TEXT_MM = 14 * POINT_MM
SIGN_TEXT_MM = 20 * POINT_MM
"""What is to be found from the other side of the table: the name of a page."""
LINE_STEP = 1.35
"""From one line of text to the next, in letter sizes."""

HAIR_MM = 0.2
THIN_MM = 0.3
LINE_MM = 0.35
CROSS_MM = 0.4
HEAVY_MM = 0.5
OUTLINE_MM = 0.6

SOLID: tuple[float, ...] = ()
SEWN_DASH = (2.0, 1.0)
FOLD_DASH = (3.0, 1.5)
SEAM_DASH = (6.0, 2.0)
CENTRE_DASH = (8.0, 1.5, 1.5, 1.5)
MATCH_DASH = (1.0, 2.0)

GREYS: dict[Tone, float] = {"ink": 0.0, "quiet": 1 / 3, "shade": 0.85, "ground": 1.0}
"""From 0, black, to 1, white: for paper, which is printed in grey."""


def on_paper(tone: Tone) -> str:
    """A tone on paper as it is written in SVG and CSS: #555555.

    Source  definition
    """
    return "#" + 3 * f"{round(255 * GREYS[tone]):02x}"


@dataclass(frozen=True)
class Stroke:
    """How one kind of line on the cloth is drawn."""

    width_mm: float
    dash_mm: tuple[float, ...] = SOLID
    tone: Tone = "ink"


STROKES: dict[str, Stroke] = {
    "cut line": Stroke(OUTLINE_MM),
    "seam line": Stroke(LINE_MM, SEAM_DASH),
    "baffle": Stroke(HEAVY_MM),
    "sewn line": Stroke(HEAVY_MM, SEWN_DASH),
    "dart": Stroke(THIN_MM),
    "cord channel": Stroke(HAIR_MM, FOLD_DASH),
    "footbox": Stroke(THIN_MM, FOLD_DASH),
    "centre line": Stroke(THIN_MM, CENTRE_DASH),
    "match line": Stroke(HAIR_MM, MATCH_DASH, "quiet"),
}
"""Lines of a template by what they are on the cloth."""
