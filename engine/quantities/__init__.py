"""Where names become numbers: a design, a night and a catalogue resolved into SI quantities.

Every choice becomes a number here: what is absent has length, count or mass zero, and is no branch
further on. So the quantities of many variants stack into arrays, and one path scores them all.
"""

from engine.quantities.brief import sleeper_size
from engine.quantities.contents import (
    PATCH_AREA_M2,
    PATCH_KG_M2,
    PATCH_SIDE_M,
    fill_free_volume,
    hardware_amounts,
)
from engine.quantities.joining import panel_lap, shell_panels
from engine.quantities.model import (
    BAFFLE_ALLOWANCE_M,
    CHANNEL_ALLOWANCE_M,
    END_ALLOWANCE_M,
    FABRIC_R,
    LAP_M,
    NO_PAD,
    SIDE_ALLOWANCE_M,
    WIND_M_S,
    Extras,
    Fields,
    JointRates,
    Quantities,
)
from engine.quantities.resolve import resolve
from engine.quantities.shape import edge_height, end_allowance, standing_height

__all__ = [
    "BAFFLE_ALLOWANCE_M",
    "CHANNEL_ALLOWANCE_M",
    "END_ALLOWANCE_M",
    "FABRIC_R",
    "LAP_M",
    "NO_PAD",
    "PATCH_AREA_M2",
    "PATCH_KG_M2",
    "PATCH_SIDE_M",
    "SIDE_ALLOWANCE_M",
    "WIND_M_S",
    "Extras",
    "Fields",
    "JointRates",
    "Quantities",
    "edge_height",
    "end_allowance",
    "fill_free_volume",
    "hardware_amounts",
    "panel_lap",
    "resolve",
    "shell_panels",
    "sleeper_size",
    "standing_height",
]
