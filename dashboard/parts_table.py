"""How are the scores made up? For each score its parts as rows, candidates as columns, and their sum."""

from collections.abc import Callable
from dataclasses import dataclass
from html import escape

from dashboard.line_up_table import shape_html
from dashboard.words import SCORE, ScoreKey, Units, cost, said
from engine.evaluate import Evaluation, LineUp
from engine.units import Number

SMALL = 1e-9
"""A part below this in every candidate is absent and not listed."""


@dataclass(frozen=True)
class Make:
    """How one score falls into parts: where they stand, how they are said, what their sum is called."""

    title: str
    parts: Callable[[Evaluation], dict[str, Number]]
    said: Callable[[float, Units, str], str]
    sum_of: ScoreKey | None
    note: str = ""


MAKES: tuple[Make, ...] = (
    Make("Weight", lambda e: e.score.weight_parts_kg, lambda v, u, _: said("mass", v, u), "weight_kg"),
    Make(
        "Packed volume", lambda e: e.score.volume_parts_m3, lambda v, u, _: said("volume", v, u), "volume_m3"
    ),
    Make(
        "Where the heat goes",
        lambda e: e.score.heat_parts_w,
        lambda v, u, _: said("power", v, u),
        None,
        "From the standard woman, neither warm nor cool, in the air of this night.",
    ),
    Make("Cost, used", lambda e: e.score.cost_parts, lambda v, _, c: cost(v, c), "cost"),
    Make(
        "Work",
        lambda e: e.score.work_parts_min,
        lambda v, u, _: said("minutes", v, u),
        "work_h",
        "Minutes by operation, to the nearest five; the sum has the first-quilt factor if it is set.",
    ),
)


def parts_html(line_up: LineUp) -> str:
    """One folded part a score; parts and sum come from unrounded numbers, so last digits may not add up."""
    return "".join(_make_html(line_up, make) for make in MAKES)


def _make_html(line_up: LineUp, make: Make) -> str:
    now, every = line_up.comparison, line_up.evaluations
    given = [make.parts(each) for each in every]
    names = list(dict.fromkeys(name for parts in given for name in parts))
    rows = []
    for name in names:
        values = [float(parts.get(name, 0.0)) for parts in given]
        if max(abs(value) for value in values) < SMALL:
            continue
        told = [make.said(v, now.units, now.currency) if abs(v) >= SMALL else "–" for v in values]
        cells = "".join(f'<td class="lw-num">{escape(text)}</td>' for text in told)
        rows.append(f'<tr><th scope="row">{escape(name.capitalize())}</th>{cells}</tr>')
    heads = "".join(
        f'<th scope="col" class="lw-num">{shape_html(each.letter)} {each.letter}</th>' for each in every
    )
    note = f'<p class="lw-small lw-quiet">{escape(make.note)}</p>' if make.note else ""
    return (
        f'<details class="lw-why lw-parts"><summary>{escape(make.title)}</summary>'
        f'<div class="lw-scroll" tabindex="0" role="region" aria-label="{escape(make.title)}, by part">'
        f'<table class="lw-table"><caption class="lw-hidden">{escape(make.title)}, by part</caption>'
        f'<thead><tr><th scope="col">Part</th>{heads}</tr></thead>'
        f"<tbody>{''.join(rows)}{_sum_html(line_up, make)}</tbody></table></div>{note}</details>"
    )


def _sum_html(line_up: LineUp, make: Make) -> str:
    if make.sum_of is None:
        return ""
    words, now = SCORE[make.sum_of], line_up.comparison
    cells = ""
    for each in line_up.evaluations:
        band = each.bands[make.sum_of]
        value = words.value(band.value, now.units, now.currency)
        span = words.band(band.low, band.high, now.units, now.currency)
        cells += f'<td class="lw-num">{escape(value)}<span class="lw-band">{escape(span)}</span></td>'
    return f'<tr class="lw-sum"><th scope="row">Sum, and 9 in 10</th>{cells}</tr>'
