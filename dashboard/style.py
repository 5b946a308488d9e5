"""How does the page look beyond the theme? Styles our own classes (`lw-…`) and keyed parts (`st-key-lw-…`).

The line-up table, which the view writes and this sheet lays out:

    div.lw-lineup-box                      the container whose width decides
      table.lw-lineup[role=table]          with role rowgroup, row, columnheader, rowheader, cell throughout
        thead > tr > th.lw-corner          "Candidate"
                     th.lw-head            a score's name              style="--r:…"
        tbody > tr[.lw-reference]          one candidate
          th.lw-cand[scope=row]            shape, name, choices        style="--r:…"
            .lw-shape.lw-A  .lw-name  .lw-choices
          td.lw-cell[data-score]           one score                   style="--r:…"
            .lw-key                        shape and letter, aria-hidden, seen on the phone only
            .lw-value (.lw-tag)  .lw-diff  .lw-band
            .lw-strip[aria-hidden] > .lw-bar .lw-mark.lw-A .lw-tick    placed by style="left:…%"

Below 860 px the same table is laid by score. `--r` is the row there, given by `phone_row`: first one legend
row a candidate, then for each score its head and one row a candidate.
"""

import streamlit as st

from dashboard.palette import MARKS, TOKENS


def phone_row(candidates: int, score: int | None, candidate: int | None) -> int:
    """The `--r` of a part of the line-up table: legend row (score None), head (candidate None) or cell."""
    if score is None:
        return (candidate or 0) + 1
    head = candidates + score * (candidates + 1) + 1
    return head if candidate is None else head + 1 + candidate


def style_sheet() -> str:
    """The whole style sheet, colours from the palette."""
    tokens = "".join(f"--lw-{name}:{tone.css};" for name, tone in TOKENS.items())
    marks = "".join(f".lw-{letter}{{color:{mark.tone.css}}}" for letter, mark in MARKS.items())
    return f":root{{{tokens}}}{marks}{_TEXT}{_TABLES}{_STRIP}{_LINEUP}{_LINEUP_PHONE}{_LINEUP_PAGE}"


def inject() -> None:
    """Put the style sheet on the page; it takes no room."""
    st.html(f"<style>{style_sheet()}</style>")


_TEXT = """
.lw-hidden{position:absolute;width:1px;height:1px;margin:-1px;padding:0;overflow:hidden;clip-path:inset(50%);
  white-space:nowrap;border:0}
.lw-verdict{font-size:1.125rem;line-height:1.45;max-width:75ch;margin:0}
.lw-budgets{font-size:15px;line-height:1.4;max-width:130ch;margin:.2rem 0}
.lw-quiet{color:var(--lw-quiet)}
.lw-small{font-size:13px;line-height:1.4}
.lw-stop{color:var(--lw-stop)} .lw-mind{color:var(--lw-mind)} .lw-note{color:var(--lw-note)}
.lw-warning{border-left:3px solid currentColor;padding:.1rem 0 .1rem .75rem;margin:.4rem 0;max-width:80ch}
.lw-warning>*{color:var(--lw-text)}
.lw-warning>.lw-grade{color:inherit;font-weight:600}
.lw-tag{display:inline-block;font-size:13px;line-height:1.3;font-weight:600;padding:0 .35em;border:1.5px solid
  currentColor;border-radius:3px;color:var(--lw-accent);white-space:nowrap;vertical-align:.1em}
.lw-tag-tied{border-style:dashed}
.lw-shape{font-family:"DejaVu Sans","Segoe UI Symbol","Apple Symbols",sans-serif;font-style:normal;
  display:inline-block;min-width:1.15em;text-align:center}
.lw-live{display:flex;flex-wrap:wrap;gap:.1rem 1.25rem;font-variant-numeric:tabular-nums;line-height:1.4}
details.lw-why{font-size:14px;line-height:1.5;max-width:80ch}
details.lw-why>summary{color:var(--lw-accent);cursor:pointer;min-height:24px}
:where(a,button,summary,[tabindex="0"]):focus-visible{outline:3px solid var(--lw-accent);outline-offset:2px}
.st-key-lw-pages a{min-height:32px}
/* A strip at the bottom covers what scrolls behind it: a focused box stops above, with room for a refusal. */
[data-testid="stMain"]{scroll-padding-bottom:11rem}
"""

_TABLES = """
/* A box that is wider than its place shows a shade at the edge behind which there is more, and says so. */
.lw-scroll{--lw-shade:color-mix(in srgb,var(--lw-border) 45%,transparent);overflow-x:auto;max-width:100%;
  background:
  linear-gradient(to right,var(--lw-ground) 40%,transparent) left/48px 100% no-repeat local,
  linear-gradient(to left,var(--lw-ground) 40%,transparent) right/48px 100% no-repeat local,
  linear-gradient(to right,var(--lw-shade),transparent) left/12px 100% no-repeat scroll,
  linear-gradient(to left,var(--lw-shade),transparent) right/12px 100% no-repeat scroll}
@supports (animation-timeline:scroll()){
.lw-scroll::after{content:"more to the right →";display:block;position:sticky;left:0;width:max-content;
  height:0;visibility:hidden;font-size:13px;line-height:1.4;color:var(--lw-quiet);
  animation:lw-more linear both;animation-timeline:scroll(nearest inline)}
@keyframes lw-more{from,98%{height:1.4em;visibility:visible} 99%,to{height:1.4em;visibility:hidden}}
}
table.lw-table,table.lw-lineup{border-collapse:collapse;color:var(--lw-text);font-variant-numeric:tabular-nums;
  margin:0}
table.lw-table :is(th,td){padding:.3rem .75rem;text-align:left;vertical-align:top;border:0;
  border-bottom:1px solid var(--lw-hairline)}
table.lw-table th{font-weight:600}
table.lw-table thead th{border-bottom:1px solid var(--lw-border)}
table.lw-table .lw-num{text-align:right;white-space:nowrap}
table.lw-table tr.lw-sum :is(th,td){border-top:1px solid var(--lw-border);font-weight:600}
table.lw-table tr>:first-child{position:sticky;left:0;padding-left:0;background:var(--lw-ground)}
table.lw-table caption{text-align:left;color:var(--lw-quiet);font-size:13px;padding:.3rem 0;
  caption-side:bottom}
"""

_STRIP = """
.lw-strip{position:relative;display:block;width:120px;height:14px;margin-top:4px}
.lw-strip::before{content:"";position:absolute;left:0;right:0;top:6.5px;height:1px;background:var(--lw-hairline)}
.lw-bar{position:absolute;top:5px;height:4px;border-radius:2px;background:currentColor;opacity:.55}
.lw-mark{position:absolute;z-index:1;top:0;height:14px;line-height:14px;font-size:13px;transform:translateX(-50%);
  font-family:"DejaVu Sans","Segoe UI Symbol","Apple Symbols",sans-serif;
  text-shadow:0 0 2px var(--lw-ground),0 0 2px var(--lw-ground)}
.lw-tick{position:absolute;top:-2px;height:18px;border-left:2px dashed var(--lw-text)}
"""

_LINEUP = """
.lw-lineup-box{container-type:inline-size;width:100%}
table.lw-lineup{width:100%}
table.lw-lineup :is(th,td){border:0;border-bottom:1px solid var(--lw-hairline);padding:.45rem .6rem .5rem 0;
  text-align:left;vertical-align:top;background:none}
table.lw-lineup thead th{font-size:14px;font-weight:600;line-height:1.25;vertical-align:bottom;
  border-bottom:1px solid var(--lw-border)}
table.lw-lineup th.lw-cand{font-weight:400;line-height:1.3;min-width:11rem;max-width:17rem;
  overflow-wrap:anywhere;padding-left:.4rem}
table.lw-lineup th.lw-corner{padding-left:.4rem}
table.lw-lineup tr.lw-reference>*{background:var(--lw-panel)}
.lw-name{font-weight:600;line-height:1.3}
.lw-choices,.lw-diff,.lw-band{display:block;font-size:13px;line-height:1.35}
.lw-choices,.lw-band{color:var(--lw-quiet)}
.lw-value{font-size:18px;line-height:1.3;font-weight:600;white-space:nowrap}
.lw-key{display:none}
"""

# The table's own roles keep it a table for a screen reader when `display` takes that away.
_LINEUP_PHONE = """
@container (max-width:860px){
table.lw-lineup{display:grid;grid-template-columns:minmax(0,1fr)}
table.lw-lineup :is(thead,tbody,tr){display:contents}
table.lw-lineup :is(th,td){grid-row:var(--r);grid-column:1;padding:.25rem .4rem;min-width:0}
table.lw-lineup th.lw-corner{position:absolute;width:1px;height:1px;padding:0;overflow:hidden;
  clip-path:inset(50%);border:0}
table.lw-lineup thead th.lw-head{font-size:16px;padding-top:1rem}
table.lw-lineup th.lw-cand{max-width:none}
table.lw-lineup td.lw-cell{display:grid;grid-template-columns:2.7em minmax(0,7.7em) minmax(0,1fr) 88px;
  align-items:center;column-gap:.3rem}
.lw-key{display:inline;white-space:nowrap;grid-area:1/1}
.lw-lineup .lw-value{grid-area:1/2;font-size:16px;white-space:normal}
.lw-lineup .lw-diff{grid-area:1/3}
.lw-lineup .lw-strip{grid-area:1/4;width:88px;margin:0}
.lw-lineup .lw-band{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)}
table.lw-lineup td.lw-cell{position:relative}
}
"""

# The parts of the Line-up round its table: what keeps four candidates on one screen.
_LINEUP_PAGE = """
.st-key-lw-top h1{padding:.25rem 0 1.1rem}
.st-key-lw-top .lw-verdict{font-size:17px;line-height:1.4;max-width:112ch}
.lw-bar-text,.lw-hint,.lw-night-line,.lw-reading{margin:0}
.lw-bar-text{font-weight:600}
.st-key-lu_hint_hide button{min-height:24px;padding:0 .5rem}
.st-key-lu_hint_hide button p{font-size:13px}
.st-key-lw-hint>:first-child{flex:0 1 auto;min-width:0}
.st-key-lw-bar{min-height:56px;padding:.1rem .75rem;background:var(--lw-panel);
  border-left:3px solid var(--lw-accent)}
.st-key-lw-view :is(.st-key-lu_reference,.st-key-lu_units,.st-key-lu_sort,.st-key-lu_currency)>*{
  display:flex;flex-direction:row;align-items:center;gap:.5rem}
.st-key-lw-view :is(.st-key-lu_sort,.st-key-lu_currency)>*>:last-child{flex:1;min-width:0}
.st-key-lw-view label{min-height:0;margin:0;white-space:nowrap;flex:none;width:auto}
@container (min-width:861px){table.lw-lineup th.lw-cand{width:20rem;max-width:20rem}}
.lw-fails{color:var(--lw-mind);font-weight:600}
table.lw-choice-table,table.lw-points{font-size:14px}
.st-key-lu_undo button :is(div,span,p){min-width:0;overflow:hidden;text-overflow:ellipsis;white-space:nowrap}
/* On a phone the table comes before what sorts it; nothing in it takes the focus, so its order stays true. */
@media (max-width:640px){
.st-key-lw-top>*{order:1}
.st-key-lw-top>:has(>.st-key-lw-table),.st-key-lw-top>.st-key-lw-table{order:2}
.st-key-lw-top>:has(>.st-key-lw-view),.st-key-lw-top>.st-key-lw-view{order:3}
.st-key-lw-night-buttons button{padding:0 .5rem}
}
table.lw-choice-table th[scope=row]{min-width:9rem}
table.lw-choice-table td{min-width:8rem}
ul.lw-same{margin:.3rem 0;padding-left:1.2rem;columns:18rem;font-size:14px}
.lw-candidate-head{padding:.6rem 0 0;margin:0;font-size:16px}
.lw-scroll{position:relative}
.lw-sum .lw-band{font-weight:400}
"""
