"""What do we give up? Two scores of all candidates as a figure.

Less is better on both axes, so the better corner is always the lower left. Imports no Streamlit.
"""

from collections.abc import Sequence
from typing import Any

import plotly.graph_objects as go

from dashboard.figure_frame import look, score_axis
from dashboard.letter_places import MARK_PX, places
from dashboard.line_up_table import limit_of
from dashboard.palette import ACCENT, GROUND, MARKS, TEXT, Scheme
from dashboard.trade_points import Point, axis_title, front_of, limit_label, points_of, shown
from dashboard.words import SCORE
from engine.evaluate import LineUp
from engine.score import SCORE_KEYS, ScoreKey

SURE_FRONT, RARE_FRONT = 0.9, 0.1
HEIGHT_PX = 430
MARGINS = {"l": 62, "r": 14, "t": 58, "b": 56}


def trade_off(line_up: LineUp, x: ScoreKey, y: ScoreKey, scheme: Scheme = "light") -> go.Figure:
    """The figure: all crosses first, then the front, the lines of the brief, the marks and their letters.

    Raises ValueError when both axes are the same score.
    """
    if x == y:
        raise ValueError(f"y is {y}, as x is; allowed: {', '.join(key for key in SCORE_KEYS if key != x)}")
    points, units = points_of(line_up, x, y), line_up.comparison.units
    limits = {key: limit_of(line_up.comparison.night, key) for key in (x, y)}
    lines = {key: shown(key, value, units) for key, value in limits.items() if value is not None}
    x_range = _range([value for p in points for value in p.x_band], lines.get(x))
    y_range = _range([value for p in points for value in p.y_band], lines.get(y))
    figure = go.Figure()
    for point in points:
        figure.add_traces(_cross(point, scheme))
    figure.add_trace(_front(points, x_range[1], y_range[1], scheme))
    figure.add_traces([_mark(point, scheme) for point in points])
    if x in lines and x_range[0] <= lines[x] <= x_range[1]:
        _add_limit(figure, "x", lines[x], limit_label(line_up, x), scheme)
    if y in lines and y_range[0] <= lines[y] <= y_range[1]:
        _add_limit(
            figure, "y", lines[y], limit_label(line_up, y), scheme, _free_side(points, lines[y], x_range)
        )
    for point, (dx, dy) in zip(points, _shifts(points, x_range, y_range), strict=True):
        figure.add_annotation(**_letter(point, dx, dy, scheme))
    figure.add_annotation(_above(f"↙ {SCORE[x].better} and {SCORE[y].better}", scheme))
    _dress(figure, line_up, (x, y), (x_range, y_range), scheme)
    return figure


def _range(values: Sequence[float], limit: float | None) -> tuple[float, float]:
    """All bands with room round them; a limit too far away would squeeze them and stays outside."""
    low, high = min(values), max(values)
    reach = (high - low) or max(abs(high), 1.0) * 0.1
    if limit is not None and low - reach <= limit <= high + reach:
        low, high = min(low, limit), max(high, limit)
    room = 0.08 * (high - low or reach)
    return low - room, high + room


def _cross(point: Point, scheme: Scheme) -> list[go.Scatter]:
    line = {"color": MARKS[point.letter].tone.on(scheme), "width": 2}
    quiet: dict[str, Any] = {"mode": "lines", "line": line, "opacity": 0.5, "hoverinfo": "skip"}
    return [
        go.Scatter(x=list(point.x_band), y=[point.y, point.y], **quiet),
        go.Scatter(x=[point.x, point.x], y=list(point.y_band), **quiet),
    ]


def _front(points: Sequence[Point], right: float, top: float, scheme: Scheme) -> go.Scatter:
    xs, ys = front_of(points)
    line = {"color": TEXT.on(scheme), "width": 1.5, "dash": "dot", "shape": "hv"}
    return go.Scatter(
        x=[xs[0], *xs, right], y=[top, *ys, ys[-1]], mode="lines", line=line, hoverinfo="skip", name="front"
    )


def _mark(point: Point, scheme: Scheme) -> go.Scatter:
    """Filled: surely on the front; ring: in one to nine of ten draws; thin outline: hardly ever."""
    mark = MARKS[point.letter]
    colour, ground = mark.tone.on(scheme), GROUND.on(scheme)
    filled = point.share >= SURE_FRONT
    width = 1.2 if point.share < RARE_FRONT else 3.5
    return go.Scatter(
        x=[point.x],
        y=[point.y],
        mode="markers",
        name=point.letter,
        marker={
            "symbol": mark.symbol,
            "size": MARK_PX,
            "color": colour if filled else ground,
            "line": {"color": colour, "width": width},
        },
        hoverinfo="skip",
    )


def _letter(point: Point, dx: float, dy: float, scheme: Scheme) -> dict[str, Any]:
    return {
        "x": point.x,
        "y": point.y,
        "text": f"<b>{point.label[0]}</b>{_plain(point.label[1:])}",
        "xshift": dx,
        "yshift": dy,
        "showarrow": False,
        "font": {"color": TEXT.on(scheme), "size": 14},
        "bgcolor": GROUND.on(scheme),
        "borderpad": 0,
    }


def _plain(text: str) -> str:
    """A currency label is typed by somebody: Plotly would act on its tags."""
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


def _shifts(
    points: Sequence[Point], x_range: tuple[float, float], y_range: tuple[float, float]
) -> list[tuple[float, float]]:
    return places([(point.x, point.y, len(point.label)) for point in points], x_range, y_range)


def _free_side(points: Sequence[Point], level: float, x_range: tuple[float, float]) -> str:
    """Left or right: where the label of a level line has fewer marks near it."""
    middle = sum(x_range) / 2
    near = sorted(points, key=lambda point: abs(point.y - level))[:2]
    return "left" if sum(point.x > middle for point in near) > len(near) / 2 else "right"


def _add_limit(
    figure: go.Figure, axis: str, value: float, label: str, scheme: Scheme, side: str = "right"
) -> None:
    line = {"color": TEXT.on(scheme), "width": 1.5, "dash": "dash"}
    font = {"color": TEXT.on(scheme), "size": 13}
    if axis == "x":
        figure.add_shape(type="line", x0=value, x1=value, y0=0, y1=1, yref="paper", line=line, layer="below")
        place: dict[str, Any] = {
            "x": value,
            "y": 1,
            "yref": "paper",
            "yanchor": "bottom",
            "xanchor": "center",
        }
    else:
        figure.add_shape(type="line", y0=value, y1=value, x0=0, x1=1, xref="paper", line=line, layer="below")
        end = 1 if side == "right" else 0
        place = {"x": end, "xref": "paper", "y": value, "yanchor": "middle", "xanchor": side}
    figure.add_annotation(
        text=_plain(label), showarrow=False, font=font, bgcolor=GROUND.on(scheme), borderpad=2, **place
    )


def _above(text: str, scheme: Scheme) -> dict[str, Any]:
    """Words over the plot's upper left, clear of every mark."""
    return {
        "text": text,
        "x": 0,
        "y": 1,
        "xref": "paper",
        "yref": "paper",
        "xanchor": "left",
        "yanchor": "bottom",
        "yshift": 26,
        "showarrow": False,
        "font": {"color": ACCENT.on(scheme), "size": 14},
    }


def _dress(
    figure: go.Figure,
    line_up: LineUp,
    keys: tuple[ScoreKey, ScoreKey],
    ranges: tuple[tuple[float, float], tuple[float, float]],
    scheme: Scheme,
) -> None:
    for name, key, ends in zip(("xaxis", "yaxis"), keys, ranges, strict=True):
        figure.update_layout({name: _axis(line_up, key, ends, scheme)})
    figure.update_layout(
        height=HEIGHT_PX,
        margin=MARGINS,
        **look(scheme),
    )


def _axis(line_up: LineUp, key: ScoreKey, ends: tuple[float, float], scheme: Scheme) -> dict[str, Any]:
    return score_axis(_plain(axis_title(line_up, key)), ends, scheme)
