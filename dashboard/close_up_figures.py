"""Where is a quilt thick and thin? Its plan as a figure, to scale, head on top.

Two candidates beside each other are drawn at one scale and in one range of colours: a PlanScale made from
both. Imports no Streamlit.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import plotly.graph_objects as go

from dashboard.figure_frame import label, to_scale
from dashboard.palette import GROUND, LOFT_STEPS, QUIET, TEXT, Scheme
from dashboard.words import Units, said
from engine.fields.grid import Array
from engine.fields.lines import Segment
from engine.picture.cold_spots import ColdSpot, thinnest_under_sleeper
from engine.picture.plan import ThicknessPlan
from engine.units import INCH, MM

STEPS_MM = (2, 3, 4, 5, 8, 10, 12, 15, 20, 25, 30, 40, 50, 75, 100, 150, 200)
STEPS_IN = (1 / 8, 1 / 4, 3 / 8, 1 / 2, 3 / 4, 1, 1.5, 2, 3, 4, 6, 8)
PLAN_PX = 500
MARGIN_M = 0.09
"""Round a plan."""
LABELS_A_LEVEL = 2
LABEL_ROWS = (0.10, 0.22, 0.35, 0.48, 0.61, 0.74, 0.87)
"""Where along the quilt the numbers of contour lines may stand, as a share of its length."""


@dataclass(frozen=True)
class PlanScale:
    """One scale and one range of colours for plans that stand beside each other; sizes in m."""

    width_m: float
    length_m: float
    step_m: float
    """Of thickness, from one colour to the next."""
    first_m: float
    """Where the thinnest colour ends: falling edges may share it, what lies under the sleeper differs."""

    @property
    def levels_m(self) -> tuple[float, ...]:
        """Where one colour ends and the next begins."""
        return tuple(self.first_m + n * self.step_m for n in range(len(LOFT_STEPS) - 1))


def plan_scale(plans: Sequence[ThicknessPlan], units: Units) -> PlanScale:
    """The scale that holds all of them, in even steps that a ruler knows."""
    thickest = max(float(np.nanmax(plan.thickness_m)) for plan in plans)
    thinnest = min(thinnest_under_sleeper(plan) for plan in plans)
    unit, steps = (INCH, STEPS_IN) if units == "trade" else (MM, STEPS_MM)
    for step in (size * unit for size in steps):
        first = max(float(np.floor(thinnest / step)), 1.0) * step
        if first + (len(LOFT_STEPS) - 1) * step >= thickest:
            break
    return PlanScale(
        max(plan.outline.width_m for plan in plans),
        max(plan.outline.length_m for plan in plans),
        step,
        first,
    )


def plan_figure(
    plan: ThicknessPlan, spots: Sequence[ColdSpot], scale: PlanScale, units: Units, scheme: Scheme = "light"
) -> go.Figure:
    """Thickness over the plan, head on top: colour in even steps, contour lines with numbers, all lines."""
    figure = go.Figure()
    figure.add_trace(_colours(plan, scale, scheme))
    # Ground under ink: a line must be seen on the darkest and on the lightest colour.
    figure.add_trace(_lines("under lines", (*plan.baffles, *plan.sewn), GROUND.on(scheme), 4.5))
    figure.add_trace(_lines("baffles", plan.baffles, TEXT.on(scheme), 1.8))
    figure.add_trace(_lines("sewn lines", plan.sewn, TEXT.on(scheme), 1.8, dash="dash"))
    figure.add_traces(_numbers(spots, scheme))
    for shape in _frame(plan, scheme):
        figure.add_shape(shape)
    for x, y, level in _contour_places(plan, scale, spots):
        figure.add_annotation(label(x, y, said("bench length", level, units), scheme))
    middle = plan.outline.width_m / 2
    figure.add_annotation(label(middle, -0.05, "<b>HEAD</b>", scheme, backed=False))
    figure.add_annotation(label(middle, plan.outline.length_m + 0.05, "<b>FOOT</b>", scheme, backed=False))
    across, along = (scale.width_m - plan.outline.width_m) / 2, scale.length_m - plan.outline.length_m
    x_span = -MARGIN_M - across, plan.outline.width_m + MARGIN_M + across
    y_span = plan.outline.length_m + MARGIN_M + along, -MARGIN_M
    return to_scale(figure, x_span, y_span, PLAN_PX, scheme)


def _colours(plan: ThicknessPlan, scale: PlanScale, scheme: Scheme) -> go.Contour:
    steps = [tone.on(scheme) for tone in LOFT_STEPS]
    last = len(steps) - 1
    return go.Contour(
        name="thickness",
        x=plan.x_m,
        y=plan.y_m,
        z=_carried_out(plan),
        autocontour=False,
        # Plotly takes the colour of a step from the middle between its two lines.
        contours={
            "start": scale.first_m,
            "end": scale.first_m + scale.step_m * (last - 1 + 0.01),
            "size": scale.step_m,
            "coloring": "fill",
            "showlines": True,
        },
        colorscale=[[place / last, colour] for place, colour in enumerate(steps)],
        line={"color": QUIET.on(scheme), "width": 0.7},
        showscale=False,
        hoverinfo="skip",
    )


def _carried_out(plan: ThicknessPlan) -> Array:
    """Each row carried on beyond a slanted side, so that the outline and not the mesh ends the colour."""
    drawn = plan.thickness_m.astype(np.float32)
    for row in drawn:
        known = np.isfinite(row)
        if np.any(known) and not np.all(known):
            row[~known] = np.interp(plan.x_m[~known], plan.x_m[known], row[known])
    return np.where(np.isfinite(drawn), drawn, 0.0).astype(np.float32)


def _lines(
    name: str, segments: Sequence[Segment], colour: str, width_px: float, dash: str = "solid"
) -> go.Scatter:
    x: list[float | None] = []
    y: list[float | None] = []
    for x0, y0, x1, y1 in segments:
        x += [x0, x1, None]
        y += [y0, y1, None]
    line = {"color": colour, "width": width_px, "dash": dash}
    return go.Scatter(x=x, y=y, mode="lines", line=line, hoverinfo="skip", name=name)


def _numbers(spots: Sequence[ColdSpot], scheme: Scheme) -> list[go.Scatter]:
    """A number at every cold spot and its mirror images."""
    return [
        go.Scatter(
            x=[x for x, _ in spot.places_m],
            y=[y for _, y in spot.places_m],
            mode="markers+text",
            name=f"cold spot {number}",
            text=[f"<b>{number}</b>"] * len(spot.places_m),
            textfont={"size": 12, "color": TEXT.on(scheme)},
            marker={
                "size": 19,
                "color": GROUND.on(scheme),
                "line": {"color": TEXT.on(scheme), "width": 1.5},
            },
            hoverinfo="skip",
        )
        for number, spot in enumerate(spots, start=1)
    ]


def _frame(plan: ThicknessPlan, scheme: Scheme) -> list[dict[str, Any]]:
    """The outline, and ground colour over all that the mesh has drawn outside it."""
    corners = " L ".join(f"{x:.4f},{y:.4f}" for x, y in plan.corners)
    width, length = plan.outline.width_m, plan.outline.length_m
    room = 0.02
    box = (
        f"M {-room},{-room} L {width + room},{-room} L {width + room},{length + room} L {-room},"
        f"{length + room} Z"
    )
    outside = {
        "type": "path",
        "path": f"{box} M {corners} Z",
        "fillrule": "evenodd",
        "fillcolor": GROUND.on(scheme),
        "line": {"width": 0},
    }
    edge = {"type": "path", "path": f"M {corners} Z", "line": {"color": TEXT.on(scheme), "width": 2}}
    return [outside, edge] if np.any(np.isnan(plan.thickness_m)) else [edge]


def _contour_places(
    plan: ThicknessPlan, scale: PlanScale, spots: Sequence[ColdSpot]
) -> list[tuple[float, float, float]]:
    """Where the numbers of contour lines stand: on their line, as far from one another as may be."""
    taken = [place for spot in spots for place in spot.places_m]
    found: list[tuple[float, float, float]] = []
    rows = sorted({int(np.argmin(np.abs(plan.y_m - s * plan.outline.length_m))) for s in LABEL_ROWS})
    for level in scale.levels_m:
        crossings = [(x, float(plan.y_m[row])) for row in rows for x in _crossings(plan, row, level)]
        for _ in range(LABELS_A_LEVEL):
            if not crossings:
                break
            best = max(crossings, key=lambda at: min((_apart(at, other) for other in taken), default=9.0))
            if min((_apart(best, other) for other in taken), default=9.0) < 1.0:
                break
            taken.append(best)
            found.append((*best, level))
    return found


def _apart(one: tuple[float, float], other: tuple[float, float]) -> float:
    """Distance in sizes of a label, which is wider than high: below 1 they meet."""
    return float(max(abs(one[0] - other[0]) / 0.20, abs(one[1] - other[1]) / 0.075))


def _crossings(plan: ThicknessPlan, row: int, level: float) -> list[float]:
    """Where a row of nodes crosses a level, by straight interpolation."""
    z, x = plan.thickness_m[row], plan.x_m
    with np.errstate(invalid="ignore"):
        crossed = np.flatnonzero((z[:-1] >= level) != (z[1:] >= level))
    crossed = crossed[np.isfinite(z[crossed]) & np.isfinite(z[crossed + 1])]
    share = (level - z[crossed]) / (z[crossed + 1] - z[crossed])
    places: list[float] = (x[crossed] + share * (x[crossed + 1] - x[crossed])).tolist()
    return places
