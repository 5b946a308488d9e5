"""What have the scores come to since this edit began? One strip that stays in sight."""

from html import escape

from dashboard.words import MINUS, NBSP, SCORES, ScoreKey, ScoreWords, Units
from engine.score import Score

LABELS: dict[ScoreKey, tuple[str, str]] = {
    "weight_kg": ("weight", "wt"),
    "volume_m3": ("volume", "vol"),
    "comfort_c": ("comfort", "comfort"),
    "limit_c": ("limit", "limit"),
    "cost": ("cost", "cost"),
    "work_h": ("work", "work"),
}
"""What is seen before each value, on a desk and on a phone; who hears the page hears the full title."""
LIVE_STYLE = """<style>
[data-testid=stBottomBlockContainer]{padding-top:.6rem;padding-bottom:.8rem}
.lw-strip-short{display:none}
.lw-strip-score{white-space:nowrap}
@media (max-width:640px){
.st-key-lw-live-row .lw-live{display:grid;grid-template-rows:auto auto;grid-auto-flow:column;
  justify-content:start;gap:.1rem .5rem;font-size:13px}
.lw-live>:first-child{grid-row:1/3}
.lw-strip-short{display:inline}
.lw-strip-long{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%);white-space:nowrap}
.st-key-lw-live-row{gap:.4rem} .st-key-lw-live-row button{padding:0 .4rem}
}
</style>"""


def live_html(letter: str, now: Score, before: Score, units: Units, currency: str, last_edit: str) -> str:
    """Five scores and the limit with what has changed since this edit began, on two lines of a phone."""
    told = "".join(
        _live_score(words, float(getattr(now, words.key)), float(getattr(before, words.key)), units, currency)
        for words in SCORES
    )
    edit = f'<span class="lw-strip-long lw-quiet">last edit: {escape(last_edit)}</span>' if last_edit else ""
    since = "now, against when it was opened here" if last_edit else "now"
    head = f'<span><b>{escape(letter)}</b> <span class="lw-strip-long">{since}</span></span>'
    return f'<div class="lw-live" role="status">{head}{told}{edit}</div>'


def _live_score(words: ScoreWords, now: float, before: float, units: Units, currency: str) -> str:
    """One score; its change in words, or on a phone by sign, which says the same: less is better."""
    amount = words.difference(now - before, units, "").partition(NBSP)[0]
    value, change = words.value(now, units, currency), ""
    moved = bool(set(amount) - set("0."))
    if not moved and value != words.value(before, units, currency):
        # The shown value has stepped over by less than its step: say that it moved.
        amount, moved = "a little", True
    if moved:
        plain = words.direction(now - before).removeprefix("packs ").removesuffix(" at the limit")
        sign = (MINUS if now < before else "+") + ("" if amount == "a little" else amount)
        change = (
            f' <span class="lw-strip-long">({amount} {plain})</span>'
            f'<span class="lw-strip-short" aria-hidden="true">({sign})</span>'
        )
    wide, narrow = LABELS[words.key]
    label = (
        f'<span class="lw-hidden">{escape(words.title)}: </span><span class="lw-quiet" aria-hidden="true">'
        f'<span class="lw-strip-long">{wide}</span><span class="lw-strip-short">{narrow}</span> </span>'
    )
    # A phone has no room for a long label of the currency; "cost" says enough there.
    number, gap, unit = value.partition(NBSP)
    shown = escape(value)
    if words.key == "cost" and unit:
        shown = f'{escape(number)}<span class="lw-strip-long">{gap}{escape(unit)}</span>'
    return f'<span class="lw-strip-score">{label}{shown}{change}</span>'
