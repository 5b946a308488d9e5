"""What does the group take to the shop and the table? Two printed pages: one file, no script, no request."""

from dataclasses import dataclass, replace
from html import escape

from dashboard.budget_words import budgets_in_words
from dashboard.caution_text import told
from dashboard.line_up_facts import covered, night_line, verdict
from dashboard.measures import left_out_line
from dashboard.sheet_words import allowances_in_words, cell_lines, scroll_html
from dashboard.verdicts import GRADE, estimate_caveat
from dashboard.words import Units, evenings, said
from engine.cautions import Caution
from engine.draw.svg import to_svg
from engine.evaluate import LineUp
from engine.export.plan import plan_drawing
from engine.export.qr import LONGEST, qr_drawing
from engine.export.spec_sheet import Sheet

FIX_FIRST = "Fix these before you cut."
PRICES = "Prices are invented demo prices unless marked own. Lengths of cloth are those of a first lay."
STAND_IN = "In the link own measures are left out: a {} stands in, so fit and verdicts can differ."
MEASURES = "The link holds somebody’s height, mass and girth."
ONLY_HERE = "This link works only on the computer that it was made on, so no code is printed for a phone."
PLAN_WIDTH_MM = 100.0


@dataclass(frozen=True)
class Links:
    """The whole comparison and this quilt alone as addresses; empty where there is none."""

    whole: str = ""
    alone: str = ""
    local: bool = False
    stand_in: str = ""
    """Who sleeps there in place of the own measures; empty where the sleeper is the same."""
    measures: bool = False
    """Whether the addresses hold somebody's height, mass and girth."""


def group_sheet(line_up: LineUp, sheet: Sheet, links: Links) -> str:
    """The sheet as one self-contained HTML page that prints on A4 and on Letter."""
    units, currency = line_up.comparison.units, line_up.comparison.currency
    one = line_up[sheet.letter]
    plan = to_svg(plan_drawing(one.design, lambda m: said("sheet length", m, units), PLAN_WIDTH_MM))
    goods = scroll_html(sheet.goods, units, currency)
    others = scroll_html(sheet.line_up, units, currency) if len(line_up.evaluations) > 1 else ""
    beside = budgets_in_words([one], units, currency), left_out_line(line_up.comparison)
    body = [
        _head(sheet, line_up),
        _banner(sheet.stops, units),
        f'<p class="verdict">{escape(verdict_of(line_up, sheet.letter))}</p>',
        f"<p><strong>The night.</strong> {escape(night_of(line_up))}. "
        f"{escape(' '.join(filter(None, beside)))}</p>",
        _reason(sheet),
        _section("Scores", _scores(line_up, sheet)),
        _section(sheet.line_up.title, others) if others else "",
        _section("Plan and figures", f'<div class="side">{plan}{figures_html(sheet, units)}</div>'),
        _section("Goods to buy", goods, PRICES),
        _section("Parts", scroll_html(sheet.parts, units, currency), allowances_in_words(one.design, units)),
        _section("Mind these", cautions_text(sheet.cautions, units)) if sheet.cautions else "",
        _section("Take care", f'<div class="columns">{safety_html(sheet)}</div>'),
        _section("Link", _link(links)),
    ]
    title = f"{escape(sheet.letter)} {escape(sheet.name)}: group sheet"
    return (
        f'<!doctype html><html lang="en"><head><meta charset="utf-8"><title>{title}</title>'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<style>{_page_css(sheet, units)}{_CSS}</style></head>"
        f"<body><main>{''.join(body)}</main></body></html>"
    )


def verdict_of(line_up: LineUp, letter: str) -> str:
    """The opening sentences with this candidate as the one that the others are compared with."""
    comparison = line_up.comparison.model_copy(update={"reference": letter})
    return verdict(replace(line_up, comparison=comparison))


def night_of(line_up: LineUp) -> str:
    """The night in one line."""
    kinds = [each.design.kind for each in line_up.evaluations]
    return night_line(line_up.comparison.night, kinds, line_up.comparison.units)


def fill_box_html(sheet: Sheet, units: Units) -> str:
    """Tare, full and fill, with lines for one's own weights."""
    fill = sheet.fill
    rows = (
        ("Tare, empty and finished", fill.tare_kg),
        ("Full", fill.full_kg),
        ("Fill = full − tare", fill.fill_kg),
    )
    body = "".join(
        f'<tr><th scope="row">{name}</th><td class="lw-num">{said("mass", kg, units)}</td>'
        '<td class="lw-blank"></td></tr>'
        for name, kg in rows
    )
    return (
        '<div class="lw-fillbox"><table class="lw-table"><caption class="lw-hidden">Weigh and fill</caption>'
        '<thead><tr><th scope="col">Weigh</th><th scope="col" class="lw-num">planned</th>'
        f'<th scope="col">yours</th></tr></thead><tbody>{body}</tbody></table>'
        '<p class="lw-small">Weigh the empty quilt with all its cords before the fill goes in. Keep a '
        "tenth of loose down back, let the quilt rest a night, then top up where it is thin.</p></div>"
    )


def figures_html(sheet: Sheet, units: Units) -> str:
    """The derived numbers as a list of terms."""
    pairs = "".join(
        f"<div><dt>{escape(name)}</dt><dd>{escape(cell_lines(cell, units)[0])}</dd></div>"
        for name, cell in sheet.figures
    )
    return f'<dl class="lw-figures">{pairs}</dl>'


def safety_html(sheet: Sheet) -> str:
    """The cautions that the work itself calls for."""
    return "".join(
        f"<p><strong>{escape(each.subject)}.</strong> {escape(each.text)}</p>" for each in sheet.safety
    )


def cautions_text(cautions: tuple[Caution, ...], units: Units) -> str:
    """The warnings with their remedies, grade in a word, no meaning in colour."""
    lines = []
    for caution in cautions:
        what, remedy = told(caution, units)
        lines.append(f"<p><strong>{GRADE[caution.grade].word}.</strong> {escape(what)} {escape(remedy)}</p>")
    return "".join(lines)


def _head(sheet: Sheet, line_up: LineUp) -> str:
    day = f"{sheet.day.day} {sheet.day:%B} {sheet.day.year}"
    return (
        f"<h1>{escape(sheet.letter)} {escape(sheet.name)}</h1>"
        f'<p class="quiet">{escape(sheet.kind.capitalize())} · {day} · design code {sheet.code} · '
        f"made with Loftwright {escape(sheet.version)} · {line_up.comparison.units} units</p>"
    )


def _banner(stops: tuple[Caution, ...], units: Units) -> str:
    if not stops:
        return ""
    return f'<div class="banner"><p><strong>{FIX_FIRST}</strong></p>{cautions_text(stops, units)}</div>'


def _reason(sheet: Sheet) -> str:
    told_of = []
    if sheet.chosen:
        why = f": {sheet.reason}" if sheet.reason else "."
        told_of.append(f"<strong>Chosen</strong>{escape(why)}")
    if sheet.note:
        told_of.append(f"<strong>Note.</strong> {escape(sheet.note)}")
    return "".join(f"<p>{line}</p>" for line in told_of)


def _scores(line_up: LineUp, sheet: Sheet) -> str:
    one, comparison = line_up[sheet.letter], line_up.comparison
    caveat = estimate_caveat(covered(comparison.night, [one.design.kind]))
    nights = evenings(int(one.score.evenings))
    first = ", first quilt" if comparison.night.first_quilt else ""
    return (
        f'<div class="side"><div>{scroll_html(sheet.scores, comparison.units, comparison.currency)}</div>'
        f"{fill_box_html(sheet, comparison.units)}</div>"
        f'<p class="quiet">Temperatures: {escape(caveat)}. Limit: below it a standard man cools. '
        f"Work: about {nights} at the bench{first}. The second figure holds 9 draws in 10.</p>"
    )


def _section(title: str, content: str, note: str = "") -> str:
    quiet = f'<p class="quiet">{escape(note)}</p>' if note else ""
    return f"<section><h2>{escape(title)}</h2>{content}{quiet}</section>"


def _link(links: Links) -> str:
    """The link whose code fits, as text beside it; a longer one for the whole line-up to be clicked."""
    if not links.whole:
        return "<p>This line-up is too long for a link: send its file.</p>"
    warning = f"<p>{ONLY_HERE}</p>" if links.local else ""
    if links.measures:
        warning += f"<p>{MEASURES}</p>"
    if links.stand_in:
        warning += f"<p>{escape(STAND_IN.format(links.stand_in))}</p>"
    if links.local:
        return f"{warning}{_address(links.whole, links.whole)}"
    for address, what in (
        (links.whole, "the whole line-up"),
        (links.alone, "this quilt alone, on this night"),
    ):
        if 0 < len(address) <= LONGEST:
            code = to_svg(qr_drawing(address, f"QR code of the link to {what}"))
            text = f"<p>The code opens {what}.</p>{warning}{_address(address, address)}"
            if address != links.whole:
                text += _address(links.whole, "The whole line-up")
            return f'<div class="side">{code}<div>{text}</div></div>'
    return f"<p>Too long for a QR code: use the link.</p>{warning}{_address(links.whole, links.whole)}"


def _address(address: str, text: str) -> str:
    return f'<p class="link"><a href="{escape(address)}">{escape(text)}</a></p>'


def _page_css(sheet: Sheet, units: Units) -> str:
    """Margins and the foot of each page; letter and code are ours, so nothing typed gets into the style."""
    foot = f"{sheet.letter} · {sheet.code} · {units} units"
    return (
        "@page{margin:8mm 14mm 12mm;"
        f'@bottom-left{{content:"Loftwright group sheet · {foot}";font:8pt sans-serif}}'
        '@bottom-right{content:"page " counter(page) " of " counter(pages);font:8pt sans-serif}}'
    )


_CSS = """
:root{color-scheme:light}
*{box-sizing:border-box}
body{margin:0;background:#fff;color:#000;font:11pt/1.25 sans-serif}
main{max-width:182mm;margin:0 auto}
@media screen{main{padding:6mm}}
h1{font:600 17pt/1.2 serif;margin:0 0 1mm;overflow-wrap:anywhere}
h2{font:600 12pt/1.15 serif;margin:1.4mm 0 .3mm;break-after:avoid}
p{margin:0 0 1mm;overflow-wrap:anywhere}
section,.banner,tr,svg,.columns p{break-inside:avoid}
.quiet,.lw-small{font-size:9pt;line-height:1.25;color:#444;margin:.6mm 0}
.banner{border:1mm double #000;padding:2mm 3mm;margin:2mm 0}
.side{display:flex;flex-wrap:wrap;gap:5mm;align-items:flex-start}
.side>*{flex:1 1 50mm;min-width:0}
.side>svg{flex:none;max-width:100%;height:auto}
.columns{columns:2;column-gap:8mm;font-size:10pt;line-height:1.25}
.link{font-size:8pt;line-height:1.2;overflow-wrap:anywhere}
.link a{color:#000}
.lw-hidden{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%);white-space:nowrap}
table{border-collapse:collapse;width:100%;font-size:10pt;line-height:1.12;font-variant-numeric:tabular-nums}
th,td{text-align:left;vertical-align:top;padding:.25mm 2.5mm .25mm 0;border-bottom:.2mm solid #999}
thead th{border-bottom:.4mm solid #000;vertical-align:bottom}
tbody th{font-weight:400;overflow-wrap:anywhere}
.lw-line-up tbody th{width:30%}
.lw-parts tbody th{width:24%}
.lw-num{text-align:right;white-space:nowrap}
.lw-sum>*{border-top:.4mm solid #000;font-weight:600}
.lw-second{display:block;font-size:9pt;line-height:1.15;color:#444}
.lw-scores .lw-second{display:inline;margin-left:4mm}
.lw-fillbox{border:.5mm solid #000;padding:1mm 2.5mm}
.lw-blank{min-width:14mm}
.lw-figures{margin:0;font-size:10pt;line-height:1.2}
.lw-figures div{display:flex;justify-content:space-between;gap:3mm;border-bottom:.2mm solid #999;
padding:.3mm 0;break-inside:avoid}
.lw-figures dd{margin:0;text-align:right;white-space:nowrap}
@media screen and (max-width:640px){.columns{columns:1}.lw-scroll{overflow-x:auto}}
"""
