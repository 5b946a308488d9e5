"""Where do all quilts that were tried lie in two scores? Cloud grey, front in ink, short list lettered."""

from collections.abc import Sequence

import numpy as np
import plotly.graph_objects as go

from dashboard.charts import HEIGHT_PX, MARGINS
from dashboard.figure_frame import look, score_axis
from dashboard.letter_places import places
from dashboard.numbers_in import shown_unit
from dashboard.palette import BORDER, GROUND, MARKS, TEXT, Scheme
from dashboard.trade_points import AXES
from dashboard.try_words import Listed
from dashboard.words import SCORE, ScoreKey, Units, number
from engine.explore.front import Front
from engine.explore.rows import KEYS
from engine.explore.sweep import Sweep

WEBGL_FROM, MOST_DRAWN = 2000, 100_000


def cloud(
    result: Sweep, front: Front, rows: Sequence[Listed], start: tuple[str, dict[str, float]],
    axes: tuple[ScoreKey, ScoreKey], units: Units, currency: str, scheme: Scheme,
) -> go.Figure:  # fmt: skip
    """The figure. Above 100,000 quilts every so-manieth is drawn, those of the front all the same.

    Raises ValueError when both axes are the same score.
    """
    if axes[0] == axes[1]:
        raise ValueError(f"y is {axes[1]}, as x is; allowed: another score")
    columns = [_shown(result.scored.scores[:, KEYS.index(key)], key, units) for key in axes]
    finite = np.flatnonzero(np.isfinite(columns[0]) & np.isfinite(columns[1]))
    every = -(-len(finite) // MOST_DRAWN) or 1
    figure = go.Figure()
    for name, picked, size, tone in (
        ("tried", finite[::every], 4, BORDER),
        ("front", front.rows[:MOST_DRAWN], 6, TEXT),
    ):
        kind = go.Scattergl if len(picked) >= WEBGL_FROM else go.Scatter
        xy = [column[picked].astype(np.float32) for column in columns]
        figure.add_trace(
            kind(
                x=xy[0],
                y=xy[1],
                mode="markers",
                name=name,
                hoverinfo="skip",
                marker={"size": size, "color": tone.on(scheme), "opacity": 0.45 if name == "tried" else 1.0},
            )
        )
    letter, scores = start
    here = [float(_shown(np.array(scores[key]), key, units)) for key in axes]
    mark = MARKS[letter]
    figure.add_trace(
        go.Scatter(
            x=here[:1],
            y=here[1:],
            mode="markers",
            name=letter,
            hoverinfo="skip",
            marker={"symbol": mark.symbol, "size": 13, "color": mark.tone.on(scheme)},
        )
    )
    spans = [_range(column[finite], own) for column, own in zip(columns, here, strict=True)]
    named = [(here[0], here[1], letter)]
    named += [(float(columns[0][row.row]), float(columns[1][row.row]), row.mark) for row in rows]
    shifts = places([(x, y, 1) for x, y, _ in named], *spans)
    for (x, y, text), shift in zip(named, shifts, strict=True):
        figure.add_annotation(**_label(x, y, text, shift, scheme))
    for axis, key, ends in zip(("xaxis", "yaxis"), axes, spans, strict=True):
        figure.update_layout({axis: _axis(key, ends, units, currency, scheme)})
    figure.update_layout(
        height=HEIGHT_PX,
        margin=MARGINS | {"t": 20},
        **look(scheme),
    )
    return figure


def alternative(result: Sweep, front: Front, rows: Sequence[Listed], axes: tuple[ScoreKey, ScoreKey]) -> str:
    """The figure in words."""
    return (
        f"{number(len(result.numbers))} quilts as dots, {SCORE[axes[1]].title.lower()} over "
        f"{SCORE[axes[0]].title.lower()}; the {number(len(front.rows))} of the front in ink, "
        f"{', '.join(row.mark for row in rows) or 'none'} of the short list lettered. "
        "The table above has the numbers."
    )


def _range(values: np.ndarray, own: float) -> tuple[float, float]:
    """All quilts and the start, with room round them."""
    low, high = min(float(values.min(initial=own)), own), max(float(values.max(initial=own)), own)
    room = 0.06 * (high - low or max(abs(high), 1.0))
    return low - room, high + room


def _shown(values: np.ndarray, key: ScoreKey, units: Units) -> np.ndarray:
    kind, si = AXES[key]
    unit = shown_unit(kind, units)
    shown: np.ndarray = (values / si - unit.offset) / unit.factor
    return shown


def _label(x: float, y: float, text: str, shift: tuple[float, float], scheme: Scheme) -> dict[str, object]:
    return {
        "x": x,
        "y": y,
        "text": f"<b>{text}</b>",
        "xshift": shift[0],
        "yshift": shift[1],
        "showarrow": False,
        "font": {"color": TEXT.on(scheme), "size": 14},
        "bgcolor": GROUND.on(scheme),
        "borderpad": 0,
    }


def _axis(
    key: ScoreKey, ends: tuple[float, float], units: Units, currency: str, scheme: Scheme
) -> dict[str, object]:
    unit = currency if key == "cost" else "L" if key == "volume_m3" else shown_unit(AXES[key][0], units).name
    plain = unit.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
    title = f"{SCORE[key].title}, {plain}" if plain else SCORE[key].title
    return score_axis(title, ends, scheme)
