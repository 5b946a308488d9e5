"""Which fields of a design and of a night apply, given what else was chosen?

A field that does not apply is not shown; it keeps its value for when it comes back.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal, TypeAlias

from engine.design import SHORT_BAFFLES, Design
from engine.night import Night


@dataclass(frozen=True)
class Choices:
    """What the rules look at: a design, and which form its fill has."""

    design: Design
    form: Literal["down", "sheet"]

    @property
    def walled(self) -> bool:
        """Baffles or a box edge hold the shells apart at the baffle height."""
        layout = self.design.baffles.layout
        return layout not in ("none", "sewn-through") or (
            layout == "none" and self.design.edges.kind == "box edge"
        )

    @property
    def lines(self) -> bool:
        """Baffles or quilting lines divide the quilt into chambers."""
        return self.design.baffles.layout != "none"


Rule: TypeAlias = Callable[[Choices], bool]


def _taper(c: Choices) -> bool:
    return c.design.outline.shape == "taper"


def _tapered_ends(c: Choices) -> bool:
    return c.design.outline.shape == "tapered ends"


def _darted(c: Choices) -> bool:
    return c.design.ends.shape == "darted"


def _differential(c: Choices) -> bool:
    return c.design.cut.kind == "differential"


def _short_baffles(c: Choices) -> bool:
    return c.design.baffles.layout in SHORT_BAFFLES


def _staggered(c: Choices) -> bool:
    return c.design.baffles.layout == "staggered"


def _holds_cloth(c: Choices) -> bool:
    return c.design.baffles.layout not in ("none", "sewn-through") or c.design.edges.kind != "pinched"


def _down(c: Choices) -> bool:
    return c.form == "down"


def _sheet(c: Choices) -> bool:
    return c.form == "sheet"


def _panel(c: Choices) -> bool:
    return c.design.top.footbox == "sewn with end panel"


def _collar(c: Choices) -> bool:
    return c.design.top.collar


RULES: dict[str, Rule] = {
    "outline.foot_width_mm": _taper,
    "outline.taper_from_mm": _taper,
    "outline.end_run_mm": _tapered_ends,
    "outline.end_inset_mm": _tapered_ends,
    "ends.gathered_percent": lambda c: c.design.ends.shape == "gathered",
    "ends.dart_count": _darted,
    "ends.dart_width_mm": _darted,
    "ends.dart_length_mm": _darted,
    "ends.surplus": _differential,
    "cut.wrap_across_rad": _differential,
    "cut.wrap_along_rad": _differential,
    "baffles.height_mm": lambda c: c.walled,
    "baffles.spacing_mm": lambda c: c.lines,
    "baffles.end_chamber_percent": lambda c: c.lines,
    "baffles.fabric": _holds_cloth,
    "baffles.piece_length_mm": _short_baffles,
    "baffles.gap_mm": _staggered,
    "edges.low_wall_mm": lambda c: c.design.edges.kind == "low edge wall",
    "end_panels.fabric": lambda c: c.design.end_panels.fitted,
    "fill.rule": _down,
    "fill.overstuff_percent": lambda c: _down(c) and c.design.fill.rule == "overstuff",
    "fill.grams": lambda c: _down(c) and c.design.fill.rule == "grams",
    "fill.layers": _sheet,
    "fill.quilting_mm": _sheet,
    "top.footbox_length_mm": lambda c: c.design.top.footbox != "none",
    "top.panel_width_mm": _panel,
    "top.panel_height_mm": _panel,
    "top.panel_fill_g": lambda c: _panel(c) and _down(c),
    "top.collar_flat_mm": _collar,
    "top.collar_fill_g": lambda c: _collar(c) and _down(c),
}

NIGHT_RULES: dict[str, Callable[[Night], bool]] = {
    "wind_m_s": lambda night: night.wind == "own",
    "other_half_r_m2k_w": lambda night: night.other_half == "own R",
    "sleeper.height_mm": lambda night: night.sleeper.kind == "own",
    "sleeper.mass_kg": lambda night: night.sleeper.kind == "own",
    "sleeper.girth_mm": lambda night: night.sleeper.kind == "own",
}

GROUPS: dict[str, tuple[str, ...]] = {
    "Fabrics": ("shells.inner", "shells.outer", "baffles.fabric", "end_panels.fitted", "end_panels.fabric"),
    "Fill": (
        "fill.good",
        "fill.rule",
        "fill.overstuff_percent",
        "fill.grams",
        "fill.layers",
        "fill.quilting_mm",
    ),
    "Baffles and edges": (
        "baffles.layout",
        "baffles.height_mm",
        "baffles.spacing_mm",
        "baffles.end_chamber_percent",
        "baffles.piece_length_mm",
        "baffles.gap_mm",
        "edges.kind",
        "edges.low_wall_mm",
    ),
    "Size and cut": (
        "kind",
        "outline.shape",
        "outline.length_mm",
        "outline.width_mm",
        "outline.foot_width_mm",
        "outline.taper_from_mm",
        "outline.end_run_mm",
        "outline.end_inset_mm",
        "ends.shape",
        "ends.gathered_percent",
        "ends.dart_count",
        "ends.dart_width_mm",
        "ends.dart_length_mm",
        "cut.kind",
        "cut.wrap_across_rad",
        "cut.wrap_along_rad",
        "ends.surplus",
        "top.footbox",
        "top.footbox_length_mm",
        "top.panel_width_mm",
        "top.panel_height_mm",
        "top.panel_fill_g",
        "top.collar",
        "top.collar_flat_mm",
        "top.collar_fill_g",
    ),
    "Joints and attachment": (
        "joints.baffles",
        "joints.edges",
        "joints.ends",
        "joints.panel_joins",
        "joints.raw_edges",
        "top.neck_closure",
        "top.straps",
        "tabs",
        "suspension",
    ),
}
"""Every field of a design but its name and note, in the order in which a maker decides."""

NIGHT_GROUPS: dict[str, tuple[str, ...]] = {
    "The air": ("air_c", "wind", "wind_m_s", "fit", "humidity_percent", "hours"),
    "The sleeper": (
        "sleeper.kind",
        "sleeper.height_mm",
        "sleeper.mass_kg",
        "sleeper.girth_mm",
        "clothing_r_m2k_w",
        "head_r_m2k_w",
    ),
    "What covers the other half": ("other_half", "other_half_r_m2k_w"),
    "Where a short quilt does not reach": ("beyond.r_m2k_w", "beyond.grams", "beyond.price"),
    "Limits and the bench": ("weight_budget_g", "cost_budget", "first_quilt"),
}


def applies(path: str, choices: Choices) -> bool:
    """Whether a field of a design has any effect, and so is shown."""
    if path.startswith("top.") and choices.design.kind != "top quilt":
        return False
    return RULES[path](choices) if path in RULES else True


def applies_at_night(path: str, night: Night) -> bool:
    """Whether a field of the night has any effect, and so is shown."""
    return NIGHT_RULES[path](night) if path in NIGHT_RULES else True
