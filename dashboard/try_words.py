"""What does Try many say: its sentence, short list, what would pass, what matters. HTML, all text escaped."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from html import escape
from math import ceil

from dashboard.words import NBSP, SCORE, ScoreKey, ScoreWords, Units, number
from engine.explore.front import BEST_IN, Exclusion, Front, Pick
from engine.explore.matters import Reach, Shares
from engine.explore.rows import KEYS
from engine.explore.sweep import Sweep
from engine.recipe import Value

LIMIT_NAMES = {
    "weight_kg": "weight limit",
    "volume_m3": "limit on packed volume",
    "comfort_c": "limit on warmth",
    "limit_c": "limit on the limit",
    "cost": "limit on cost",
    "work_h": "limit on work",
    "covers": "demand that it covers the sleeper",
    "unstopped": "demand that no Stop warning stands",
    "in_range": "demand that chambers are no steeper than the model serves",
    "goods": "set of goods",
}
STEPS: dict[str, float] = {
    "weight_kg": 0.001,
    "volume_m3": 0.0001,
    "comfort_c": 0.5,
    "cost": 1.0,
    "work_h": 0.5,
}
"""What an offered limit is rounded up to, in the score's unit."""
ESTIMATES = (
    "Differences are those of the middle values; add a quilt to the line-up to see how sure they are. "
    "Temperatures are estimates, never a promise."
)
ALL_DO: dict[str, str] = {
    "weight_kg": "weigh",
    "volume_m3": "pack to",
    "comfort_c": "are comfortable down to",
    "cost": "cost",
    "work_h": "take",
}
PLACES, SAME = "abcdefghij", "the same"


@dataclass(frozen=True)
class Naming:
    """How fields and their values are called here, and in which units."""

    titled: Callable[[str], str]
    valued: Callable[[str, Value], str]
    units: Units
    currency: str

    def made(self, values: Mapping[str, Value]) -> str:
        """What a quilt is in all that varies: Baffle height 45 mm; Outer shell …"""
        return "; ".join(f"{self.titled(path)} {self.valued(path, value)}" for path, value in values.items())


@dataclass(frozen=True)
class Listed:
    """One row of the short list: its letter, all that it is best in, its row in the sweep."""

    mark: str
    best_in: tuple[str, ...]
    row: int
    against_start: Mapping[str, float]


def listed(picks: Sequence[Pick]) -> tuple[Listed, ...]:
    """The short list, each quilt once, lettered in its order."""
    by_row: dict[int, list[Pick]] = {}
    for pick in picks:
        by_row.setdefault(pick.row, []).append(pick)
    return tuple(
        Listed(PLACES[place], tuple(pick.best_in for pick in same), row, same[0].against_start)
        for place, (row, same) in enumerate(by_row.items())
    )


def told_apart(
    result: Sweep, front: Front, picks: Sequence[Pick], naming: Naming
) -> tuple[tuple[Pick, ...], str]:
    """The picks without those in a score that reads alike on the whole front, and which scores those are."""
    if len(front.rows) < 2:
        return tuple(picks), ""
    alike = {}
    for key in front.keys:
        scores = result.scored.scores[front.rows, KEYS.index(key)]
        least, most = (
            SCORE[key].value(float(each), naming.units, naming.currency)
            for each in (scores.min(), scores.max())
        )
        if least == most:
            alike[BEST_IN[key]] = f"{ALL_DO[key]} {least}"
    kept = tuple(pick for pick in picks if pick.best_in not in alike)
    told = f"No best is named where all on the front are the same: all {_and([*alike.values()])}."
    return kept, told if alike else ""


def count_words(possible: int, most_whole: int, sampled: int) -> str:
    """How many quilts will be scored, before any is."""
    if possible <= most_whole:
        return f"{number(possible)}{NBSP}{'quilt' if possible == 1 else 'quilts'} will be scored."
    return (
        f"{number(possible)}{NBSP}quilts are possible, more than {number(most_whole)}: up to "
        f"{number(sampled)}, spread evenly, will be scored."
    )


def difference(key: ScoreKey, by: float, units: Units, currency: str) -> str:
    """36 g lighter, 2 °C less warm, the same."""
    words = SCORE[key]
    amount = words.difference(by, units, currency)
    if amount == words.difference(0.0, units, currency):
        return SAME
    plain = words.direction(by).removeprefix("packs ").removesuffix(" at the limit")
    return f"{amount}{NBSP}{plain}"


def opening(result: Sweep, front: Front, rows: Sequence[Listed], start: str, naming: Naming) -> str:
    """How many are on the front, and what the first of the short list gains and gives up."""
    tried = number(len(result.numbers))
    of = f"{tried} that were tried of {number(result.possible)} possible" if result.sampled else tried
    one = len(front.rows) == 1
    are, keep = ("is", "keeps") if one else ("are", "keep")
    told = f"{number(len(front.rows))} of {of} {are} on the front and {keep} to your limits."
    if not rows:
        return told
    units, currency, first = naming.units, naming.currency, rows[0]
    key = _KEY_OF.get(first.best_in[0], front.keys[0])
    value = SCORE[key].value(float(result.scored.scores[first.row, KEYS.index(key)]), units, currency)
    gains, losses = [], []
    for each in front.keys:
        by = first.against_start[each]
        text = difference(each, by, units, currency)
        if text != SAME:
            (gains if by < 0 else losses).append(text)
    gained = f"is {_and(gains)}" if gains else "gains nothing"
    lost = f"gives up: {_and(losses)}" if losses else "gives up nothing"
    name = f"{first.best_in[0]}, {first.mark}"
    return f"{told} The {name}: {SCORE[key].title.lower()} {value}. Against {start} it {gained}, and {lost}."


_KEY_OF: dict[str, ScoreKey] = {name: key for key, name in BEST_IN.items()}


def _and(texts: Sequence[str]) -> str:
    return " and ".join([", ".join(texts[:-1]), texts[-1]]) if len(texts) > 1 else "".join(texts)


def before_words(result: Sweep, why: str, naming: Naming) -> str:
    """That a result is older than what the boxes ask for: what was scored, and why it no longer stands."""
    count = len(result.numbers)
    quilts = f"{number(count)}{NBSP}{'quilt' if count == 1 else 'quilts'}"
    varied = []
    for axis in result.axes:
        what, ends = naming.titled(axis.path).lower(), (axis.values[0], axis.values[-1])
        said = [naming.valued(axis.path, value) for value in ends]
        if axis.kind != "number" and len(axis.values) > 2:
            varied.append(f"{what} of {len(axis.values)} kinds")
        else:
            link = " to " if axis.kind == "number" else " or "
            varied.append(f"{what} {link.join(dict.fromkeys(said))}")
    return f"These are from before: {quilts} with {_and(varied)}. {why} Score again, or add one as it is."


def left_out(result: Sweep, front: Front) -> str:
    """What was not scored or not ranked, and why; empty where all was."""
    told = []
    if result.refused:
        are = "combination is no quilt" if result.refused == 1 else "combinations are no quilts"
        told.append(
            f"{number(result.refused)} {are} and were left out, the first because: {result.first_refusal}"
        )
    if front.dropped:
        told.append(f"{number(front.dropped)} had no finite score and were left out.")
    return " ".join(told)


def rounded_up(key: str, value: float) -> float:
    """A limit as it is offered: the next round number that lets as many through."""
    step = STEPS.get(key, 1.0)
    return round(ceil(value / step - 1e-9) * step, 9)


def nothing_passes(
    told: Sequence[Exclusion], value: float | None, would_pass: int, units: Units, currency: str
) -> str:
    """Which limit shuts out most, and at what value how many would pass."""
    if not told:
        return "No quilt meets all limits."
    most = told[0]
    text = f"No quilt meets all limits. The {LIMIT_NAMES[most.limit]} shuts out most, {number(most.excluded)}"
    if value is not None:
        words: ScoreWords = SCORE[most.limit]  # type: ignore[index]
        return f"{text}: at {words.value(value, units, currency)} there would be {number(would_pass)}."
    if most.would_pass:
        return f"{text}: without it there would be {number(most.would_pass)}."
    return f"{text}, and without it others still would."


def short_list_html(
    result: Sweep, rows: Sequence[Listed], start: str, scores: Mapping[str, float], naming: Naming
) -> str:
    """The short list as a table: what each is best in, what it is, its scores and what they differ by."""
    head = "".join(f'<th scope="col" class="lw-num">{escape(words.title)}</th>' for words in SCORE.values())
    body = "".join(_short_row(result, row, naming) for row in rows)
    own = "".join(
        f'<td class="lw-num">{escape(words.value(scores[words.key], naming.units, naming.currency))}</td>'
        for words in SCORE.values()
    )
    start_row = f'<tr><th scope="row">{escape(start)}{_second("the start")}</th>{own}</tr>'
    return _boxed("Short list", f'<th scope="col">Best in</th>{head}', body + start_row) + (
        f'<p class="lw-small lw-quiet">{ESTIMATES} The knee is nearest to being best in all.</p>'
    )


def _short_row(result: Sweep, row: Listed, naming: Naming) -> str:
    cells = ""
    for words in SCORE.values():
        value = float(result.scored.scores[row.row, KEYS.index(words.key)])
        by = difference(words.key, row.against_start[words.key], naming.units, naming.currency)
        shown = words.value(value, naming.units, naming.currency)
        cells += f'<td class="lw-num">{escape(shown)}{_second(by)}</td>'
    made = naming.made(result.values(row.row))
    return (
        f'<tr><th scope="row"><span class="lw-try-mark">{row.mark}</span> {escape(_and(row.best_in))}'
        f"{_second(made)}</th>{cells}</tr>"
    )


def _second(text: str) -> str:
    return f'<span class="lw-second">{escape(text)}</span>'


def _boxed(name: str, head: str, body: str) -> str:
    return (
        f'<div class="lw-scroll" role="region" tabindex="0" aria-label="{name}">'
        f'<table class="lw-table lw-try"><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table></div>'
    )


def matters_html(
    key: ScoreKey,
    shares: Shares | None,
    reaches: Sequence[Reach],
    paths: Sequence[str],
    start: str,
    naming: Naming,
) -> str:
    """A bar a choice, longest first: its share of all the spread, and how far it moves the start alone."""
    moved = {reach.path: reach for reach in reaches}
    lengths = {
        path: float(shares.total[place]) if shares is not None else _moved_by(moved.get(path), key)
        for place, path in enumerate(paths)
    }
    most = max([*lengths.values(), 1e-12])
    rows = ""
    for path in sorted(paths, key=lambda each: -lengths[each]):
        width = max(100 * lengths[path] / most, 0.0)
        share = "" if shares is None else _share_words(shares, list(paths).index(path))
        alone = _by_itself(key, moved.get(path), naming)
        rows += (
            f'<tr><th scope="row">{escape(naming.titled(path))}</th>'
            f'<td class="lw-num">{escape(share)}</td><td class="lw-heat-cell" aria-hidden="true">'
            f'<span class="lw-heat" style="width:{width:.1f}%"></span></td><td>{escape(alone)}</td></tr>'
        )
    column = "Share of the spread" if shares is not None else ""
    head = (
        f'<th scope="col">Choice</th><th scope="col" class="lw-num">{column}</th><td aria-hidden="true"></td>'
        f'<th scope="col">By itself it moves {escape(start)}</th>'
    )
    return _boxed("What matters", head, rows)


def _moved_by(reach: Reach | None, key: ScoreKey) -> float:
    return reach.most[key] - reach.least[key] if reach is not None else 0.0


def _share_words(shares: Shares, place: int) -> str:
    total, alone = (min(max(float(each[place]), 0.0), 1.0) for each in (shares.total, shares.first))
    return f"{number(100 * total)}{NBSP}% ({number(100 * alone)}{NBSP}% by itself)"


def _by_itself(key: ScoreKey, reach: Reach | None, naming: Naming) -> str:
    if reach is None:
        return "cannot be changed by itself"
    ends = [
        SCORE[key].value(value, naming.units, naming.currency)
        for value in (reach.least[key], reach.most[key])
    ]
    if ends[0] == ends[1]:
        return f"stays at {ends[0]}"
    at = [naming.valued(reach.path, value) for value in (reach.at_least[key], reach.at_most[key])]
    return f"{ends[0]} ({at[0]}) to {ends[1]} ({at[1]})"


def matters_sentence(
    key: ScoreKey, shares: Shares | None, paths: Sequence[str], titled: Callable[[str], str]
) -> str:
    """Which choice moves a score most."""
    what = SCORE[key].title.lower()
    if shares is None:
        return f"How far each choice moves “{what}” by itself."
    if not float(shares.total.max()) > 0:
        return f"None of the choices moves “{what}”."
    place = int(shares.total.argmax())
    share = number(100 * min(float(shares.total[place]), 1.0))
    return f"What moves “{what}” most is: {titled(paths[place]).lower()}, {share}{NBSP}% of all its spread."
