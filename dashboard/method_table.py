"""How is a check from outside written: one folded group a table, its rows beside ours? HTML, all escaped."""

from collections.abc import Sequence
from html import escape
from math import ceil, isfinite, log10

from dashboard.method_text import Model
from dashboard.words import NBSP, number
from engine.checks.rows import Row, Topic

STYLE = """<style>
details.lw-check{border-bottom:1px solid var(--lw-hairline);max-width:60rem}
details.lw-check>summary{cursor:pointer;padding:.45rem 0;min-height:24px}
details.lw-check>summary b{font-weight:600}
details.lw-check>summary .lw-gist{color:var(--lw-quiet)}
details.lw-check p{max-width:75ch;margin:.35rem 0}
details.lw-check[open]{padding-bottom:.6rem}
.lw-check .lw-scroll{max-height:26rem;overflow-y:auto;margin:.4rem 0}
table.lw-checks th[scope=row]{font-weight:400;min-width:9rem}
table.lw-checks thead th{position:sticky;top:0;z-index:1}
table.lw-checks thead th:first-child{z-index:2}
@media (max-width:640px){table.lw-checks :is(th,td){padding-right:.6rem}
table.lw-checks th[scope=row]{min-width:7rem}}
.lw-method dl{margin:.5rem 0;max-width:75ch}
.lw-method dt{font-weight:600;margin:0} .lw-method dd{margin:0 0 .5rem}
.lw-method p{max-width:75ch}
</style>"""


def counted(rows: Sequence[Row]) -> str:
    """28 of 28 inside; and how many are not."""
    inside = sum(row.inside for row in rows)
    outside = len(rows) - inside
    text = f"{number(inside)} of {number(len(rows))} inside"
    return f"{text}, {number(outside)} outside" if outside else text


def verdict(topics: Sequence[Topic]) -> str:
    """All tables in one sentence."""
    rows = [row for topic in topics for row in topic.rows]
    inside = sum(row.inside for row in rows)
    tables = "table" if len(topics) == 1 else "tables"
    whole = f"{number(len(rows))} numbers in {number(len(topics))} {tables}"
    if inside == len(rows):
        return f"All {whole} from outside lie inside what is allowed."
    return f"Of {whole} from outside {number(inside)} lie inside what is allowed; the others say “outside”."


def topic_html(topic: Topic) -> str:
    """One table, folded; its head says how many are inside."""
    rows = topic.rows
    mark = "lw-gist" if all(row.inside for row in rows) else "lw-stop"
    body = "".join(_row(row) for row in rows)
    heads = "".join(
        f'<th scope="col" class="lw-num">{name}</th>' for name in ("Published", "Ours", "Allowed")
    )
    sources = "; ".join(dict.fromkeys(row.source for row in rows))
    title = escape(topic.title)
    return (
        f'<details class="lw-check"><summary><b>{title}</b>: <span class="{mark}">{counted(rows)}</span>'
        f"</summary><p>{escape(topic.shows)}</p>"
        f'<div class="lw-scroll" tabindex="0" role="region" aria-label="{title}">'
        f'<table class="lw-table lw-checks"><caption class="lw-hidden">{title}</caption>'
        f'<thead><tr><th scope="col">What</th>{heads}<th scope="col">Inside?</th></tr></thead>'
        f"<tbody>{body}</tbody></table></div>"
        f'<p class="lw-small">How near, and why: {escape(topic.allowed_because)}</p>'
        f'<p class="lw-small lw-quiet">Source: {escape(sources)}.</p></details>'
    )


def _row(row: Row) -> str:
    places = decimals(row.allowed)
    unit = escape(NBSP + row.unit)
    ours = number(row.ours, places) + unit if isfinite(row.ours) else "no number"
    inside = "inside" if row.inside else '<strong class="lw-stop">outside</strong>'
    return (
        f'<tr><th scope="row">{escape(row.what)}</th>'
        f'<td class="lw-num">{number(row.published, places, trim=True)}{unit}</td>'
        f'<td class="lw-num">{ours}</td>'
        f'<td class="lw-num">±{NBSP}{number(row.allowed, places, trim=True)}{unit}</td><td>{inside}</td></tr>'
    )


def decimals(allowed: float) -> int:
    """Places that show what is allowed with two digits, and so whether ours is inside."""
    return max(0, ceil(-log10(allowed)) + 1)


def model_html(model: Model) -> str:
    """One model, folded; its head says what it answers."""
    parts = (
        ("What it says", model.says),
        ("How far it reaches", model.reach),
        ("Source", model.source),
        ("Left out", model.limits),
    )
    told = "".join(f"<dt>{name}</dt><dd>{escape(text)}</dd>" for name, text in parts)
    return (
        f'<details class="lw-check lw-method"><summary><b>{escape(model.title)}</b>: '
        f'<span class="lw-gist">{escape(model.question)}</span></summary><dl>{told}</dl></details>'
    )


def notes_html(notes: Sequence[tuple[str, str]]) -> str:
    """Paragraphs with a head each."""
    told = "".join(f"<p><strong>{escape(head)}.</strong> {escape(text)}</p>" for head, text in notes)
    return f'<div class="lw-method">{told}</div>'


def list_html(items: Sequence[str]) -> str:
    """A plain list."""
    return f'<ul class="lw-method">{"".join(f"<li><p>{escape(item)}</p></li>" for item in items)}</ul>'
