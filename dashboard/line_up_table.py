"""What does the comparison table say? Candidates as rows, scores as columns; one table for every width."""

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

from dashboard.caution_text import counts_html, stop_of
from dashboard.line_up_facts import (
    covered,
    difference_text,
    in_order,
    out_of_question,
    summary,
    tags,
    too_cold,
)
from dashboard.palette import MARKS
from dashboard.style import phone_row
from dashboard.verdicts import estimate_caveat, night_words
from dashboard.words import SCORES, ScoreKey, ScoreWords
from engine.evaluate import Evaluation, LineUp
from engine.night import Night
from engine.units import GRAM

CAPTION = "The candidates as rows, their scores as columns; less is better in every column."
READ_STRIPS = "Left is better on every strip. The bar is where 9 in 10 outcomes should fall"
MARGIN = 0.04
"""Of a strip's width, kept free at each end so that no mark is cut off."""


@dataclass(frozen=True)
class StripScale:
    """One scale for a column: all bands of its candidates, and the brief's limit if it has one."""

    low: float
    high: float
    tick: float | None = None

    def percent(self, value: float) -> float:
        """How far from the left, in percent of the strip."""
        span = self.high - self.low
        share = (value - self.low) / span if span > 0 else 0.5
        return 100 * (MARGIN + (1 - 2 * MARGIN) * share)


def limit_of(night: Night, key: ScoreKey) -> float | None:
    """What the night's brief says about a score: its air, the weight budget, the purse."""
    if key in ("comfort_c", "limit_c"):
        return night.air_c
    if key == "weight_kg":
        return None if night.weight_budget_g is None else night.weight_budget_g * GRAM
    return night.cost_budget if key == "cost" else None


def strip_scale(evaluations: Sequence[Evaluation], key: ScoreKey, tick: float | None) -> StripScale:
    """The scale of one column; a limit far from every band is left off rather than squeezing them."""
    bands = [each.bands[key] for each in evaluations]
    low, high = min(band.low for band in bands), max(band.high for band in bands)
    reach = high - low
    if tick is None or not low - reach <= tick <= high + reach:
        return StripScale(low, high)
    return StripScale(min(low, tick), max(high, tick), tick)


def strip_html(evaluation: Evaluation, key: ScoreKey, scale: StripScale) -> str:
    """Bar from 5 to 95 %, the candidate's shape at the middle, a dashed tick for the limit."""
    band, letter = evaluation.bands[key], evaluation.letter
    left, right = scale.percent(band.low), scale.percent(band.high)
    tick = (
        ""
        if scale.tick is None
        else f'<span class="lw-tick" style="left:{scale.percent(scale.tick):.1f}%"></span>'
    )
    return (
        '<span class="lw-strip" aria-hidden="true">'
        f'<span class="lw-bar lw-{letter}" style="left:{left:.1f}%;width:{right - left:.1f}%"></span>{tick}'
        f'<span class="lw-mark lw-{letter}" style="left:{scale.percent(band.value):.1f}%">'
        f"{MARKS[letter].sign}</span></span>"
    )


def shape_html(letter: str) -> str:
    """The candidate's shape in its colour; the letter stands beside it for those who hear the page."""
    return f'<span class="lw-shape lw-{letter}" aria-hidden="true">{MARKS[letter].sign}</span>'


def comparison_html(line_up: LineUp, sort: ScoreKey | None = None) -> str:
    """The whole table, rows as added or from the least of one score; user text escaped."""
    rows = in_order(line_up, sort)
    if not rows:
        return ""
    columns = [_Column(line_up, words) for words in SCORES]
    head = "".join(
        '<th role="columnheader" scope="col" class="lw-head" '
        f'style="--r:{phone_row(len(rows), index, None)}">'
        f"{escape(column.words.title)}</th>"
        for index, column in enumerate(columns)
    )
    body = "".join(_row(line_up, each, place, columns) for place, each in enumerate(rows))
    return (
        '<div class="lw-lineup-box"><table role="table" class="lw-lineup">'
        f'<caption class="lw-hidden">{CAPTION}</caption>'
        '<thead role="rowgroup"><tr role="row">'
        '<th role="columnheader" scope="col" class="lw-corner">Candidate</th>'
        f'{head}</tr></thead><tbody role="rowgroup">{body}</tbody></table></div>'
    )


class _Column:
    """One score over all candidates."""

    def __init__(self, line_up: LineUp, words: ScoreWords) -> None:
        self.line_up, self.words, self.tags = line_up, words, tags(line_up, words.key)
        limit = limit_of(line_up.comparison.night, words.key)
        self.scale = strip_scale(line_up.evaluations, words.key, limit)

    def cell(self, evaluation: Evaluation, row: int) -> str:
        now, key, letter = self.line_up.comparison, self.words.key, evaluation.letter
        band = evaluation.bands[key]
        value = self.words.value(band.value, now.units, now.currency)
        span = self.words.band(band.low, band.high, now.units, now.currency)
        tag = self.tags.get(letter, "")
        tied = " lw-tag-tied" if tag.startswith("tied") else ""
        return (
            f'<td role="cell" class="lw-cell" data-score="{key}" style="--r:{row}">'
            f'<span class="lw-key" aria-hidden="true">{shape_html(letter)} {letter}</span>'
            f'<span class="lw-value">{escape(value)}'
            + (f' <span class="lw-tag{tied}">{tag}</span>' if tag else "")
            + "</span> "
            f'<span class="lw-diff">{escape(difference_text(self.line_up, letter, key))}</span> '
            f'<span class="lw-band">{escape(span)}</span>{strip_html(evaluation, key, self.scale)}</td>'
        )


def _row(line_up: LineUp, evaluation: Evaluation, place: int, columns: Sequence[_Column]) -> str:
    now, letter, count = line_up.comparison, evaluation.letter, len(line_up.evaluations)
    cells = "".join(
        column.cell(evaluation, phone_row(count, index, place)) for index, column in enumerate(columns)
    )
    tinted = ' class="lw-reference"' if letter == now.reference_letter and count > 1 else ""
    return (
        f'<tr role="row"{tinted}>{_candidate(line_up, evaluation, phone_row(count, None, place))}{cells}</tr>'
    )


def _candidate(line_up: LineUp, evaluation: Evaluation, row: int) -> str:
    now, letter, design = line_up.comparison, evaluation.letter, evaluation.design
    chosen = ' <span class="lw-tag">chosen</span>' if letter == now.chosen else ""
    fails = letter in too_cold(line_up)
    # The sentence above says how sure it is; in the table the row of one that fails must say so by itself.
    night = "too cold for the night" if fails else night_words(evaluation.p_comfort)
    if stop_of(evaluation.cautions):
        fails, night = True, "stopped: mend that first"
    counts = counts_html(evaluation.cautions)
    return (
        f'<th role="rowheader" scope="row" class="lw-cand" style="--r:{row}">'
        f'<span class="lw-name">{shape_html(letter)} {letter} {escape(design.name)}</span>{chosen}'
        f'<span class="lw-choices">{escape(summary(design, line_up.catalogue, now.units))}</span>'
        f'<span class="lw-choices"><span class="lw-{"fails" if fails else "night"}">{night}</span>'
        f"{' · ' + counts if counts else ''}</span></th>"
    )


def reading_html(line_up: LineUp) -> str:
    """How the strips are read and what the estimates rest on; once, under the table."""
    night = line_up.comparison.night
    kinds = [each.design.kind for each in line_up.evaluations]
    ticks = ["your night"]
    ticks += ["your weight budget"] if night.weight_budget_g is not None else []
    ticks += ["your purse"] if night.cost_budget is not None else []
    caveat = estimate_caveat(covered(night, kinds))
    tags = ""
    if out_of_question(line_up):
        tags = " Best is never said of one that is too cold, too small or has a Stop."
    return (
        f'<p class="lw-small lw-quiet lw-reading">{READ_STRIPS}; '
        f"the dashed tick is {' or '.join(ticks)}.{tags} "
        "Differences are the middle of common draws: their last digit may not match the values. "
        f"Both temperatures: {escape(caveat)}. The catalogue’s prices are invented.</p>"
    )
