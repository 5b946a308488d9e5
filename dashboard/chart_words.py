"""What does the trade-off figure say, in rows of text and in one sentence? For all who cannot see it."""

from html import escape

from dashboard.line_up_table import limit_of, shape_html
from dashboard.trade_points import limit_label, third_score
from dashboard.words import SCORE, chance
from engine.evaluate import LineUp
from engine.score import ScoreKey

FILLS = (
    "Cross: where 9 in 10 outcomes should fall. Filled: gives nothing away in 9 of 10 outcomes or more; "
    "ring: in 1 to 9 of 10; thin outline: in fewer. Dotted: the front, which nobody beats in both."
)


def told_points(line_up: LineUp, x: ScoreKey, y: ScoreKey) -> list[tuple[str, ...]]:
    """The figure as rows of text: letter, both scores with their bands, and how often on the front."""
    now, shares = line_up.comparison, line_up.front_share((x, y))
    rows = []
    for each in line_up.evaluations:
        told = [each.letter]
        for key in (x, y):
            band, words = each.bands[key], SCORE[key]
            told += [
                words.value(band.value, now.units, now.currency),
                words.band(band.low, band.high, now.units, now.currency),
            ]
        rows.append((*told, chance(shares[each.letter])))
    return rows


def alternative(line_up: LineUp, x: ScoreKey, y: ScoreKey) -> str:
    """The figure in words for those who cannot see it."""
    titles = SCORE[x].title.lower(), SCORE[y].title.lower()
    each = [
        f"{letter} {x_said} ({x_band}) and {y_said} ({y_band}), on the front in {share}"
        for letter, x_said, x_band, y_said, y_band, share in told_points(line_up, x, y)
    ]
    lines = [
        limit_label(line_up, key) for key in (x, y) if limit_of(line_up.comparison.night, key) is not None
    ]
    drawn = f" Dashed: {', '.join(lines)}." if lines else ""
    return f"{titles[0].capitalize()} across and {titles[1]} up, less is better. {'; '.join(each)}.{drawn}"


def points_html(line_up: LineUp, x: ScoreKey, y: ScoreKey) -> str:
    """The figure as a table, and how its marks are read."""
    rows = "".join(
        f'<tr><th scope="row">{shape_html(letter)} {letter}</th>'
        + "".join(f"<td>{escape(cell)}</td>" for cell in (f"{a} ({a_band})", f"{b} ({b_band})", share))
        + "</tr>"
        for letter, a, a_band, b, b_band, share in told_points(line_up, x, y)
    )
    titles = (SCORE[x].title, SCORE[y].title, "On the front in")
    heads = "".join(f'<th scope="col">{title}</th>' for title in titles)
    beside = f"Beside each letter: {SCORE[third_score(x, y)].title.lower()}."
    return (
        '<div class="lw-scroll" tabindex="0" role="region" aria-label="The plot in numbers">'
        '<table class="lw-table lw-points"><caption class="lw-hidden">Both scores with their bands</caption>'
        f'<thead><tr><th scope="col">Candidate</th>{heads}</tr></thead><tbody>{rows}</tbody></table></div>'
        f'<p class="lw-small lw-quiet">{beside} {FILLS}</p>'
    )
