"""Which of many designs would be stopped by a warning, without drawing up the warnings of each?"""

from collections.abc import Callable, Sequence

import numpy as np
from numpy.typing import NDArray

from engine.catalogue.load import Catalogue
from engine.cautions.goods import lets_down_through, refuses_tape
from engine.design import Design
from engine.explore.choices import Axis
from engine.recipe import Value
from engine.units import Number

Test = Callable[[Value], bool]
Flags = NDArray[np.bool_]
FABRICS = ("shells.inner", "shells.outer", "baffles.fabric", "end_panels.fabric")
TAPED = ("joints.baffles", "joints.edges", "joints.ends", "joints.panel_joins")


def stopped(
    design: Design,
    catalogue: Catalogue,
    axes: Sequence[Axis],
    codes: Sequence[NDArray[np.int64]],
    splice_m: Number,
) -> Flags:
    """Whether engine.cautions would stop each: down through a shell, tape on a surface that refuses it,
    loose down without baffles.

    Shapes  codes (n,) for each axis -> (n,)
    Source  engine.cautions
    """
    places = {axis.path: place for place, axis in enumerate(axes)}

    def each(path: str, test: Test) -> Flags:
        """A test of the value at a path, for every row."""
        if path in places:
            axis = axes[places[path]]
            return np.array([test(value) for value in axis.values])[codes[places[path]]]
        group, _, name = path.partition(".")
        return np.array(test(getattr(getattr(design, group), name)))

    down = each("fill.good", lambda id: catalogue.fill(str(id)).form == "down")
    none = each("baffles.layout", lambda layout: layout == "none")
    cloth = ~none & each("baffles.layout", lambda layout: layout != "sewn-through")
    leaks = [each(path, lambda id: lets_down_through(catalogue.fabric(str(id)))) for path in FABRICS[:2]]
    smooth = {path: each(path, lambda id: refuses_tape(catalogue.fabric(str(id)))) for path in FABRICS}
    taped = {path: each(path, lambda id: catalogue.joint(str(id)).tape_m_per_m > 0) for path in TAPED}
    shells = smooth["shells.inner"] | smooth["shells.outer"]
    panels = each("end_panels.fitted", bool) & smooth["end_panels.fabric"]
    slips = (
        taped["joints.baffles"] & (shells | (cloth & smooth["baffles.fabric"]))
        | taped["joints.edges"] & shells
        | taped["joints.ends"] & (shells | panels)
        | taped["joints.panel_joins"] & shells & (np.asarray(splice_m) > 0)
    )
    flags: Flags = np.broadcast_to(down & (none | leaks[0] | leaks[1]) | slips, len(codes[0]))
    return flags
