"""How does heat cross a quilt? One chamber cut across as a figure, to scale, with lines of even temperature.

Two candidates beside each other are drawn at one scale and with the same isotherms: a SectionScale made
from both. Imports no Streamlit.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import plotly.graph_objects as go

from dashboard.figure_frame import label, to_scale
from dashboard.palette import ACCENT, PANEL, QUIET, TEXT, Scheme
from dashboard.words import Units, said
from engine.fields.grid import Array
from engine.picture.section import Section, isotherms
from engine.units import INCH, MM, celsius, fahrenheit

STEPS_DEGREE = (1, 2, 5, 10, 20)
MOST_ISOTHERMS = 6
SECTION_PX = 250
VIEW_M = 0.32
"""Of a wide section (sheet insulation, no baffles): what is drawn of it, from its left line."""
ROOM_M, SIDE_M = 0.030, 0.012
"""Round a section: for what is said above and below, and beside it."""
AT_SHARE = (0.5, 0.32, 0.68, 0.41, 0.59, 0.25, 0.75)
"""Where across a chamber the numbers of isotherms stand, one line after the other."""


@dataclass(frozen=True)
class SectionScale:
    """One scale for sections that stand beside each other, and the same isotherms."""

    width_m: float
    thick_m: float
    levels_c: tuple[float, ...]


def section_scale(sections: Sequence[Section], units: Units) -> SectionScale:
    """The scale that holds all of them; isotherms on round degrees, the same for all."""
    low, high = min(s.air_c for s in sections), max(s.skin_c for s in sections)
    there, back = (fahrenheit, celsius) if units == "trade" else (float, np.asarray)
    low, high = sorted((float(there(low)), float(there(high))))
    step = next((s for s in STEPS_DEGREE if (high - low) / s <= MOST_ISOTHERMS + 1), STEPS_DEGREE[-1])
    levels = np.arange(np.ceil(low / step), np.floor(high / step) + 1) * step
    return SectionScale(
        min(max(s.width_m for s in sections), VIEW_M),
        max(s.thickest_m for s in sections),
        tuple(np.asarray(back(levels)).tolist()),
    )


def section_figure(
    section: Section,
    scale: SectionScale,
    units: Units,
    body_above: bool,
    scheme: Scheme = "light",
) -> go.Figure:
    """One chamber cut across: faces, baffles or seams, isotherms with degrees; the body above or below."""
    view = min(section.width_m, scale.width_m)
    figure = go.Figure()
    figure.add_trace(_fill(section, view, scheme))
    lines = isotherms(section, scale.levels_c)
    figure.add_trace(_isotherms(lines, view, scheme))
    for face, name in ((section.inner_y_m, "inner face"), (section.outer_y_m, "outer face")):
        seen = section.x_m <= view
        line = {"color": TEXT.on(scheme), "width": 2.4}
        x, y = section.x_m[seen], face[seen]
        figure.add_trace(go.Scatter(x=x, y=y, mode="lines", line=line, hoverinfo="skip", name=name))
    figure.add_trace(_ends(section, view, scheme))
    for number, (level, pieces) in enumerate(lines):
        place = _on_isotherm(pieces, AT_SHARE[number % len(AT_SHARE)] * view)
        if place is not None:
            figure.add_annotation(label(*place, said("temperature", level, units), scheme, ACCENT))
    _say_sides(figure, section, units, body_above, scheme)
    _scale_bar(figure, units, scheme)
    room = scale.thick_m / 2 + ROOM_M
    side = SIDE_M + (scale.width_m - view) / 2
    # The inner face has the smaller y: turned round, the body is on top.
    reach = (room, -room) if body_above else (-room, room)
    return to_scale(figure, (-side, view + side), reach, SECTION_PX, scheme)


def _fill(section: Section, view: float, scheme: Scheme) -> go.Scatter:
    seen = section.x_m <= view
    x = np.concatenate([section.x_m[seen], section.x_m[seen][::-1]])
    y = np.concatenate([section.inner_y_m[seen], section.outer_y_m[seen][::-1]])
    return go.Scatter(
        x=x,
        y=y,
        fill="toself",
        fillcolor=PANEL.on(scheme),
        mode="lines",
        line={"width": 0},
        hoverinfo="skip",
        name="fill",
    )


def _isotherms(lines: Sequence[tuple[float, tuple[Array, ...]]], view: float, scheme: Scheme) -> go.Scatter:
    x: list[float | None] = []
    y: list[float | None] = []
    for _, pieces in lines:
        for piece in pieces:
            inside = piece[piece[:, 0] <= view + 1e-9]
            x += [*inside[:, 0].tolist(), None]
            y += [*inside[:, 1].tolist(), None]
    line = {"color": ACCENT.on(scheme), "width": 1.4}
    return go.Scatter(x=x, y=y, mode="lines", line=line, hoverinfo="skip", name="isotherms")


def _on_isotherm(pieces: tuple[Array, ...], wanted_x: float) -> tuple[float, float] | None:
    """The point of a line that is nearest to a place across."""
    points = np.concatenate(pieces) if pieces else np.empty((0, 2))
    if points.size == 0:
        return None
    nearest = points[int(np.argmin(np.abs(points[:, 0] - wanted_x)))]
    return float(nearest[0]), float(nearest[1])


def _ends(section: Section, view: float, scheme: Scheme) -> go.Scatter:
    """Baffles as lines from face to face; seams as points."""
    x: list[float | None] = []
    y: list[float | None] = []
    for at in (0, -1):
        if section.x_m[at] <= view + 1e-9:
            x += [float(section.x_m[at])] * 2 + [None]
            y += [float(section.inner_y_m[at]), float(section.outer_y_m[at]), None]
    return go.Scatter(
        x=x,
        y=y,
        mode="lines" if section.baffle else "markers",
        line={"color": TEXT.on(scheme), "width": 3.2},
        marker={"color": TEXT.on(scheme), "size": 8, "symbol": "x"},
        hoverinfo="skip",
        name="baffles" if section.baffle else "seams",
    )


def _say_sides(figure: go.Figure, section: Section, units: Units, body_above: bool, scheme: Scheme) -> None:
    """Skin and air with their temperatures, each on its side."""
    skin, air = (said("temperature", value, units) for value in (section.skin_c, section.air_c))
    above, below = (f"skin {skin}", f"air {air}") if body_above else (f"air {air}", f"skin {skin}")
    for text, y, anchor in ((above, 1.0, "top"), (below, 0.0, "bottom")):
        figure.add_annotation(
            text=text,
            x=0.5,
            xref="paper",
            y=y,
            yref="paper",
            yanchor=anchor,
            showarrow=False,
            font={"color": TEXT.on(scheme), "size": 14},
        )


def _scale_bar(figure: go.Figure, units: Units, scheme: Scheme) -> None:
    """A length that a ruler knows, at the foot of the figure."""
    length = INCH if units == "trade" else 20 * MM
    line = {"color": TEXT.on(scheme), "width": 2}
    figure.add_shape(type="line", x0=0, x1=length, y0=0.03, y1=0.03, yref="paper", line=line)
    figure.add_annotation(
        text=said("bench length", length, units),
        x=0,
        y=0.04,
        yref="paper",
        xanchor="left",
        yanchor="bottom",
        showarrow=False,
        font={"color": QUIET.on(scheme), "size": 12},
    )
