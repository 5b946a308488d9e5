"""How much harder is it for the fill of one design to wander, with its baffles than without?"""

from functools import lru_cache
from math import sqrt

import numpy as np

from engine.design import Design
from engine.fields.barriers import barriers_of
from engine.fields.drift import FEWEST_CELLS_A_PASSAGE, USUAL_CELLS, Drift, drift
from engine.fields.grid import outline_of
from engine.loft import Loft
from engine.quantities.plan_map import KEPT, Layout, layout_of

MOST_CELLS = 24_000
"""What a page that is being worked on can wait for: about 0.2 s, once for a layout."""


def drift_of(design: Design, loft: Loft) -> Drift | None:
    """The drift index of a design's layout; None for sheet insulation, which does not wander.

    Range   within 4 % while passages beside a baffle's end are 25 mm wide or more; narrower ones are
            taken roughly. A sewn line is closed.
    Source  engine.fields.drift
    """
    return None if float(loft.sheet_kg) > 0 else _solved(layout_of(design))


@lru_cache(maxsize=KEPT)
def _solved(layout: Layout) -> Drift:
    outline = outline_of(np.array(layout.position_m), np.array(layout.width_m))
    lines = layout.baffles + layout.sewn
    narrowest = barriers_of(outline, lines).narrowest_m / FEWEST_CELLS_A_PASSAGE
    least, usual = sqrt(outline.area_m2 / MOST_CELLS), sqrt(outline.area_m2 / USUAL_CELLS)
    return drift(outline.position_m, 2 * outline.half_m, lines, cell_m=max(least, min(usual, narrowest)))
