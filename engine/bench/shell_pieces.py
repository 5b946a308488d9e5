"""What are the two shells, whole or in panels, and the sheets of insulation, as pieces to cut?"""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from engine.bench.panel_pieces import EDGES, in_panels, side_marks
from engine.bench.piece_model import Allowance, Grain, Note, Piece, PieceMark
from engine.bench.polygons import Outline, Point, corners_of, size_of
from engine.bench.surplus import across_is, along_is, has_end_panels
from engine.catalogue.load import Catalogue
from engine.design import Design
from engine.formulas import geometry
from engine.formulas.panels import WideWay, panels_of
from engine.layout import stations
from engine.loft import Loft
from engine.quantities import SIDE_ALLOWANCE_M, Quantities, end_allowance, panel_lap, shell_panels
from engine.units import MM

ShellName = Literal["inner", "outer"]
CHANNEL_M = 0.016
"""Flat width of a cord channel, 15 to 20 mm (common practice, no source)."""
SAME_M = 1e-6


@dataclass(frozen=True)
class Shell:
    """One shell before it is cut apart; outlines share one place."""

    name: ShellName
    cut: Outline
    seam: Outline
    along: float
    across: float

    @property
    def middle_m(self) -> float:
        """Of its width."""
        return size_of(self.cut)[1] / 2


def shell_of(design: Design, loft: Loft, name: ShellName) -> Shell:
    """The outlines of a shell.

    Units   m
    Source  engine.formulas.geometry
    """
    outer = name == "outer"
    along = float(loft.outer_stretch_along) if outer else 1.0
    across = float(loft.outer_stretch_across) if outer else 1.0
    position, width = geometry.stretched(*stations(design.outline), along, across)
    end = end_allowance(design)
    cut_position, cut_width = geometry.cut_outline(position, width, SIDE_ALLOWANCE_M, end)
    middle = float(np.max(cut_width)) / 2
    return Shell(
        name,
        _ring(np.asarray(cut_position) + end, np.asarray(cut_width), middle),
        _ring(np.asarray(position) + end, np.asarray(width), middle),
        along,
        across,
    )


def _ring(position_m: NDArray[np.float64], width_m: NDArray[np.float64], middle_m: float) -> Outline:
    """Stations as a closed outline round a middle line."""
    places = [(float(x), float(w) / 2) for x, w in zip(position_m, width_m, strict=True)]
    upper = [(x, middle_m - half) for x, half in places]
    lower = [(x, middle_m + half) for x, half in reversed(places)]
    return corners_of((*upper, *lower))


def shell_pieces(
    design: Design, catalogue: Catalogue, q: Quantities, loft: Loft, way: WideWay
) -> tuple[Piece, ...]:
    """Inner and outer shell, each whole or in panels.

    Source  definition
    """
    method = catalogue.joint(design.joints.panel_joins)
    found = list[Piece]()
    names: tuple[ShellName, ShellName] = ("inner", "outer")
    for name in names:
        goods = design.shells.inner if name == "inner" else design.shells.outer
        areal = float(q.inner_kg_m2 if name == "inner" else q.outer_kg_m2)
        shell = shell_of(design, loft, name)
        fabric = catalogue.fabric(goods)
        panels = shell_panels(design, shell.along, shell.across, fabric, method, way)
        whole = Piece(
            name=f"{name} shell",
            part=f"{name} shell",
            group="shells",
            count=1,
            mirrored=0,
            goods=goods,
            areal_kg_m2=areal,
            cut=shell.cut,
            seam=shell.seam,
            finished_m=(
                float(loft.finished_length_m) * shell.along,
                float(loft.finished_width_m) * shell.across,
            ),
            grain="across" if panels.turned else "along",
            right_side="down",
            allowances=_allowances(design, catalogue),
            marks=(*_sides(shell), *_end_marks(design, shell)),
            notes=_notes(design, shell),
        )
        found += in_panels(whole, panels, float(panel_lap(method)), method)
    return tuple(found)


def _allowances(design: Design, catalogue: Catalogue) -> tuple[Allowance, ...]:
    edges, ends = catalogue.joint(design.joints.edges).name, catalogue.joint(design.joints.ends).name
    sides = [Allowance(f"{side} edge", SIDE_ALLOWANCE_M, "edges", edges) for side in ("left", "right")]
    return (
        *sides,
        *(Allowance(end, end_allowance(design), "ends", ends) for end in ("head", "foot")),
    )


def _sides(shell: Shell) -> tuple[PieceMark, ...]:
    """Which side is which, and the corner that running measures start from."""
    width = size_of(shell.cut)[1]
    datum = SIDE_ALLOWANCE_M if shell.name == "inner" else width - SIDE_ALLOWANCE_M
    return (
        *side_marks(size_of(shell.cut), EDGES, left_is_low=shell.name == "inner"),
        PieceMark("datum", "datum corner", ((min(x for x, _ in shell.seam), datum),)),
    )


def _half_width(design: Design, shell: Shell, along_m: float) -> float:
    position, width = stations(design.outline)
    return float(np.interp(along_m / shell.along, position, width)) * shell.across / 2


def _end_marks(design: Design, shell: Shell) -> tuple[PieceMark, ...]:
    """Cord channels, darts, the start of the footbox: measured from the seam lines."""
    ends, found = design.ends, list[PieceMark]()
    head = min(x for x, _ in shell.seam)
    length = max(x for x, _ in shell.seam) - head

    def across(at_m: float) -> tuple[Point, Point]:
        half = _half_width(design, shell, at_m)
        return (head + at_m, shell.middle_m - half), (head + at_m, shell.middle_m + half)

    if ends.shape == "gathered":
        for place in (CHANNEL_M, length - CHANNEL_M):
            found.append(PieceMark("channel", "cord channel", across(place)))
    if ends.shape == "darted":
        for end, inwards in ((0.0, 1), (length, -1)):
            half = _half_width(design, shell, end)
            for index in range(ends.dart_count):
                place = shell.middle_m - half + 2 * half * (index + 1) / (ends.dart_count + 1)
                legs = ends.dart_width_mm * MM / 2
                tip = head + end + inwards * ends.dart_length_mm * MM, place
                edge = head + end
                found.append(PieceMark("dart", "dart", ((edge, place - legs), tip, (edge, place + legs))))
    footbox = design.top.footbox_length_mm * MM
    inner_length = design.outline.length_mm * MM
    if design.kind == "top quilt" and design.top.footbox != "none" and footbox < inner_length:
        found.append(PieceMark("footbox", "footbox", across((inner_length - footbox) * shell.along)))
    return tuple(found)


def _notes(design: Design, shell: Shell) -> tuple[Note, ...]:
    """What the outlines do not say: hems, darts, and where the outer's surplus goes."""
    ends, found = design.ends, list[Note]()
    if ends.shape == "gathered":
        lengths = {"allowance": end_allowance(design), "channel": CHANNEL_M}
        found.append(Note("Each end: {allowance} folded to a cord channel, {channel} flat.", lengths))
    if ends.shape == "darted":
        sizes = {"width": ends.dart_width_mm * MM, "length": ends.dart_length_mm * MM}
        text = f"Darts at each end: {ends.dart_count}, {{width}} wide at the seam line, {{length}} long."
        found.append(Note(text, sizes))
    if shell.name == "inner":
        return tuple(found)
    position, width = stations(design.outline)
    panels = has_end_panels(design)
    for where, end in (("head", width[0]), ("foot", width[-1])):
        surplus = float(end) * (shell.across - 1)
        if surplus > SAME_M and not panels:
            found.append(
                Note(
                    f"At the {where} it is {{surplus}} wider than the inner shell: {across_is(design)}.",
                    {"surplus": surplus},
                    where,
                )
            )
    if shell.across - 1 > SAME_M and panels:
        found.append(Note(f"At the ends it is wider than the inner shell: {across_is(design)}."))
    longer = _side_surplus(position, width, shell)
    if longer > SAME_M:
        text = f"Each side is {{longer}} longer than the inner shell’s: {along_is(design)}."
        found.append(Note(text, {"longer": longer}))
    return tuple(found)


def _side_surplus(position: NDArray[np.float64], width: NDArray[np.float64], shell: Shell) -> float:
    outer = geometry.side_length(*geometry.stretched(position, width, shell.along, shell.across))
    return float(outer - geometry.side_length(position, width))


def sheet_pieces(
    design: Design, catalogue: Catalogue, q: Quantities, loft: Loft, way: WideWay
) -> tuple[Piece, ...]:
    """Sheet insulation, cut at the seam line; a sheet wider than its roll is butted, not lapped."""
    fill = catalogue.fill(design.fill.good)
    if fill.form != "sheet":
        return ()
    position, width = stations(design.outline)
    outline = _ring(np.asarray(position), np.asarray(width), float(np.max(width)) / 2)
    usable = (fill.roll_width_mm or 0.0) * MM
    panels = panels_of(position, width, usable, 0.0, way)
    grain: Grain = "across" if panels.turned else "along"
    flat = size_of(outline)
    whole = Piece(
        name="sheet insulation",
        part="sheet insulation",
        group="fill",
        count=design.fill.layers,
        mirrored=0,
        goods=fill.id,
        areal_kg_m2=float(q.sheet_kg_m2),
        cut=outline,
        seam=outline,
        finished_m=(float(loft.finished_length_m), float(loft.finished_width_m)),
        grain=grain,
        right_side="either",
        allowances=tuple(
            Allowance(edge, 0.0, "", "") for edge in ("left edge", "right edge", "head", "foot")
        ),
        marks=side_marks(flat, ("head", "foot"), left_is_low=True),
        notes=(Note("Cut at the seam line of the inner shell; held in the edge seams."),)
        if panels.count == 1
        else (Note("Cut at the seam line of the inner shell; panels are butted, not lapped."),),
    )
    return tuple(in_panels(whole, panels, 0.0, None))
