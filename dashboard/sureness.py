"""How sure are the scores of one quilt, or of two? A sentence, and every score with its band on one strip."""

from collections.abc import Sequence
from html import escape

from dashboard.caution_text import stop_of
from dashboard.line_up_table import StripScale, limit_of, shape_html, strip_html, strip_scale
from dashboard.verdicts import night_words
from dashboard.words import SCORE, SCORES, ScoreWords, Units, chance, said
from engine.evaluate import Evaluation, LineUp


def sure_sentence(e: Evaluation, units: Units) -> str:
    """What nine in ten outcomes are, and how likely the night is met."""
    weight, comfort = (
        SCORE[key].band(e.bands[key].low, e.bands[key].high, units) for key in ("weight_kg", "comfort_c")
    )
    if stop_of(e.cautions):
        return f"{e.letter} is stopped: no figure here counts before that is mended."
    return (
        f"In 9 of 10 outcomes {e.letter} weighs {weight} and is comfortable down to {comfort}. For the night "
        f"of {said('temperature', e.night.air_c, units)} it is {night_words(e.p_comfort)}: comfortable in "
        f"{chance(e.p_comfort)}."
    )


def sure_html(line_up: LineUp, shown: Sequence[Evaluation]) -> str:
    """Value, band and strip of each score; one scale a score over the whole line-up, less is left."""
    now = line_up.comparison
    body = ""
    for words in SCORES:
        scale = strip_scale(line_up.evaluations, words.key, limit_of(now.night, words.key))
        rows = [_row(words, e, scale, now.units, now.currency, len(shown) > 1) for e in shown]
        body += "".join(rows)
    night = said("temperature", now.night.air_c, now.units)
    return (
        '<table class="lw-table lw-sure"><caption class="lw-hidden">Scores with their bands</caption>'
        '<thead><tr><th scope="col">Score</th><th scope="col" class="lw-num">Value</th>'
        '<th scope="col" class="lw-num">9 in 10</th><td aria-hidden="true"></td></tr></thead>'
        f"<tbody>{body}</tbody></table>"
        '<p class="lw-small lw-quiet">Left is better on every strip; each spans the whole line-up. Dashed: '
        f"your night, {escape(night)}, or a limit that you gave.</p>"
    )


def _row(words: ScoreWords, e: Evaluation, scale: StripScale, units: Units, currency: str, many: bool) -> str:
    band = e.bands[words.key]
    who = f"{shape_html(e.letter)} {e.letter} " if many else ""
    return (
        f'<tr><th scope="row">{who}{escape(words.title)}</th>'
        f'<td class="lw-num">{escape(words.value(band.value, units, currency))}</td>'
        f'<td class="lw-num">{escape(words.band(band.low, band.high, units, currency))}</td>'
        f'<td class="lw-strip-cell">{strip_html(e, words.key, scale)}</td></tr>'
    )
