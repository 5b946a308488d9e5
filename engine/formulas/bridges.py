"""How much more heat goes where a layer is wedge-shaped: seams, edges, the foot of a bulge.

Taking each column of a quilt for itself misses the heat that runs slantwise to a thinner place. These
corrections need only the slopes of the faces, so they serve a whole loft map at once.
"""

import numpy as np

from engine.formulas.refuse import refuse_negative, refuse_unless_positive
from engine.units import Number

LEVEL = 1e-9


def wedge_share(inner_slope: Number, outer_slope: Number) -> Number:
    """Resistance across a wedge of fill over that of its upright thickness.

    Heat crosses a wedge along arcs about its tip: as long as the angle is, not its two tangents.

    Shapes  broadcast; floats give a float, arrays one value per variant
    Units   rise over run of each face away from the middle plane (1) -> factor (1)
    Range   exact for a wedge between two faces of even temperature; 1 for parallel level faces
    Raises  ValueError for a negative slope
    Source  conduction between two inclined planes, textbook heat transfer
    """
    refuse_negative("inner_slope", inner_slope, "")
    refuse_negative("outer_slope", outer_slope, "")
    # Two level faces have no tip; so small a slope stands for none.
    inner, outer = np.maximum(inner_slope, LEVEL), np.maximum(outer_slope, LEVEL)
    share: Number = (np.arctan(inner) + np.arctan(outer)) / (inner + outer)
    return share


def film_share(slope: Number) -> Number:
    """Resistance of a film on a slanted face over that on its plan: the face is larger than its plan.

    Shapes  broadcast; floats give a float, arrays one value per variant
    Units   rise over run (1) -> factor (1)
    Source  definition (length of a slanted line)
    """
    share: Number = 1 / np.sqrt(1 + np.square(slope))
    return share


def slanted_path_resistance(
    inner_r_m2k_w: Number,
    thickness_m: Number,
    conductivity_w_mk: Number,
    outer_r_m2k_w: Number,
    inner_slope: Number,
    outer_slope: Number,
) -> Number:
    """Resistance through a place whose faces slope away from each other, per plan area.

    Each film works on the slanted face, which is larger than its plan; the fill acts as a wedge.

    Shapes  broadcast; floats give a float, arrays one value per variant
    Units   m2 K/W, m, W/(m K), m2 K/W, rise over run -> m2 K/W
    Range   loss too high by 0.3 to 5 % for a sewn chamber with both faces bulging, up to 0.5 as high as
            wide; within 4 % with one face bulging, up to 0.33; 7 to 17 % too low at 0.5: solve the section
    Raises  ValueError for a negative resistance, thickness or slope, a conductivity of 0 or less
    Source  own, from conduction in a wedge; checked by sections solved in two dimensions
    """
    refuse_negative("inner_r_m2k_w", inner_r_m2k_w, "m2K/W")
    refuse_negative("thickness_m", thickness_m, "m")
    refuse_unless_positive("conductivity_w_mk", conductivity_w_mk, "W/(m K)")
    refuse_negative("outer_r_m2k_w", outer_r_m2k_w, "m2K/W")
    inner_film = inner_r_m2k_w * film_share(inner_slope)
    outer_film = outer_r_m2k_w * film_share(outer_slope)
    fill = thickness_m / conductivity_w_mk * wedge_share(inner_slope, outer_slope)
    resistance: Number = inner_film + fill + outer_film
    return resistance
