"""What do figures have in common? Ground, type and axes; drawings of Close-up also size and scale.

Drawings have a fixed width that a telephone and half a desk column hold: so millimetres come out alike across
and along, and two drawings beside each other have one scale, whatever the window does.
"""

from typing import Any

import plotly.graph_objects as go

from dashboard.palette import BORDER, GROUND, HAIRLINE, QUIET, TEXT, Scheme, Tone

WIDTH_PX = 288
Span = tuple[float, float]


def look(scheme: Scheme) -> dict[str, Any]:
    """Ground and type of any figure; nothing moves under a finger."""
    return {
        "showlegend": False,
        "dragmode": False,
        "hovermode": False,
        "paper_bgcolor": GROUND.on(scheme),
        "plot_bgcolor": GROUND.on(scheme),
        "font": {"family": '"Source Sans", sans-serif', "color": TEXT.on(scheme), "size": 13},
    }


def score_axis(title: str, ends: Span, scheme: Scheme) -> dict[str, Any]:
    """An axis of a score, with its title."""
    return {
        "title": {"text": title, "font": {"color": TEXT.on(scheme), "size": 14}},
        "range": list(ends),
        "fixedrange": True,
        "zeroline": False,
        "showline": True,
        "linecolor": BORDER.on(scheme),
        "gridcolor": HAIRLINE.on(scheme),
        "tickfont": {"color": QUIET.on(scheme), "size": 13},
        "nticks": 7,
    }


def to_scale(figure: go.Figure, x: Span, y: Span, height_px: int, scheme: Scheme) -> go.Figure:
    """Give a figure its size and dress; both spans are widened about their middle to the same scale.

    A span that runs from large to small turns its direction round.
    """
    per_m = min(WIDTH_PX / abs(x[1] - x[0]), height_px / abs(y[1] - y[0]))
    figure.update_layout(
        xaxis=_axis(x, WIDTH_PX / per_m),
        yaxis=_axis(y, height_px / per_m),
        width=WIDTH_PX,
        height=height_px,
        autosize=False,
        margin={"l": 0, "r": 0, "t": 0, "b": 0},
        **look(scheme),
    )
    return figure


def _axis(ends: Span, span: float) -> dict[str, Any]:
    middle, half = (ends[0] + ends[1]) / 2, span / 2 if ends[1] > ends[0] else -span / 2
    return {"range": [middle - half, middle + half], "visible": False, "fixedrange": True}


def label(
    x: float, y: float, text: str, scheme: Scheme, tone: Tone = TEXT, backed: bool = True
) -> dict[str, Any]:
    """A number or word at a place of the drawing, on a backing of ground colour."""
    return {
        "x": x,
        "y": y,
        "text": text,
        "showarrow": False,
        "font": {"color": tone.on(scheme), "size": 12},
        "bgcolor": GROUND.on(scheme) if backed else None,
        "borderpad": 1,
    }
