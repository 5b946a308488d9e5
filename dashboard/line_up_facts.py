"""What does the Line-up know of its candidates, put as its sentences and tables need it?"""

from collections.abc import Sequence

from dashboard.caution_text import stop_of
from dashboard.verdicts import CandidateFacts, Difference, best_tags, covers, fails_night, verdict_sentence
from dashboard.words import NBSP, SCORE, ScoreKey, Units, difference_words, number, said
from engine.catalogue.load import Catalogue
from engine.catalogue.models import Fabric
from engine.design import SHORT_BAFFLES, Design
from engine.evaluate import Evaluation, LineUp
from engine.night import Night
from engine.quantities import sleeper_size
from engine.score import SCORE_KEYS
from engine.units import GSM, MM

FINE_BELOW_K = 2.0
"""Half degrees are said of a difference in temperature whose own band is narrower than this."""
CLOTH_WORDS = {
    "laminate film": "film",
    "calendered ripstop": "ripstop",
    "uncoated ripstop": "uncoated ripstop",
    "coated ripstop": "coated ripstop",
    "mesh": "mesh",
}


def facts_of(evaluation: Evaluation, units: Units = "metric") -> CandidateFacts:
    """What the opening sentence needs of one candidate."""
    comfort = evaluation.bands["comfort_c"]
    return CandidateFacts(
        letter=evaluation.letter,
        p_comfort=evaluation.p_comfort,
        p_limit=evaluation.p_limit,
        comfort_c=comfort.value,
        comfort_band_c=(comfort.low, comfort.high),
        cost=evaluation.bands["cost"].value,
        bands={key: (evaluation.bands[key].low, evaluation.bands[key].high) for key in SCORE_KEYS},
        stop=stop_of(evaluation.cautions, units),
    )


def verdict(line_up: LineUp) -> str:
    """The opening sentences of the whole line-up."""
    now = line_up.comparison
    reference = now.reference_letter
    pairs: dict[str, dict[ScoreKey, Difference]] = {}
    for each in line_up.evaluations:
        if reference is None or each.letter == reference:
            continue
        against = {key: line_up.against(each.letter, reference, key) for key in SCORE_KEYS}
        pairs[each.letter] = {key: (gap.middle, gap.p_less) for key, gap in against.items()}
    facts = [facts_of(each, now.units) for each in line_up.evaluations]
    return verdict_sentence(facts, pairs, reference or "", now.units, now.currency, now.chosen)


def difference_text(line_up: LineUp, letter: str, key: ScoreKey) -> str:
    """One cell's difference to the reference, in words; "reference" for itself, empty for a single one."""
    now, reference = line_up.comparison, line_up.comparison.reference_letter
    if reference is None or len(line_up.evaluations) < 2:
        return ""
    if letter == reference:
        return "reference"
    pair = line_up[letter], line_up[reference]
    if key in ("comfort_c", "limit_c") and any(stop_of(each.cautions) for each in pair):
        return "does not count yet"
    gap = line_up.against(letter, reference, key)
    of = line_up[reference].bands["cost"].value if key == "cost" else None
    return gap_in_words(key, (gap.middle, gap.p_less, of, gap.high - gap.low), now.units, now.currency)


def gap_in_words(
    key: ScoreKey, gap: tuple[float, float, float | None, float], units: Units, currency: str
) -> str:
    """A difference in words: its middle, how often it is less, what costs are taken of, its spread."""
    middle, p_less, of, spread = gap
    fine = SCORE[key].kind == "temperature" and spread < FINE_BELOW_K
    p = p_less if middle < 0 else 1 - p_less
    return difference_words(key, middle, p, units, currency, of, fine)


def too_cold(line_up: LineUp) -> frozenset[str]:
    """The candidates that fail the night."""
    return frozenset(each.letter for each in line_up.evaluations if fails_night(each.p_comfort))


def tags(line_up: LineUp, key: ScoreKey) -> dict[str, str]:
    """Who is "best" or "tied best" in one column; nobody in the check beside it."""
    if key == "limit_c":
        return {}
    order = [(each.letter, each.bands[key].value) for each in line_up.evaluations]
    return dict(
        best_tags(order, lambda one, other: line_up.against(one, other, key).p_less, out_of_question(line_up))
    )


def out_of_question(line_up: LineUp) -> frozenset[str]:
    """Candidates that are never called best: too cold, stopped by a warning, or too small for the sleeper."""
    return too_cold(line_up) | {each.letter for each in line_up.evaluations if not each.worth_comparing}


def in_order(line_up: LineUp, key: ScoreKey | None) -> tuple[Evaluation, ...]:
    """The candidates as they were added, or from the least of one score."""
    if key is None:
        return line_up.evaluations
    return tuple(sorted(line_up.evaluations, key=lambda each: each.bands[key].value))


def summary(design: Design, catalogue: Catalogue, units: Units = "metric") -> str:
    """A candidate in a few words: kind, shells, fill, baffles."""
    inner, outer = catalogue.fabric(design.shells.inner), catalogue.fabric(design.shells.outer)
    cloth = (
        _cloth(inner, units)
        if inner.id == outer.id
        else f"{_cloth(inner, units)} in, {_cloth(outer, units)} out"
    )
    return ", ".join(
        filter(None, [design.kind, cloth, _fill(design, catalogue, units), _baffles(design, units)])
    )


def _cloth(fabric: Fabric, units: Units) -> str:
    return f"{CLOTH_WORDS[fabric.construction]} {said('areal mass', fabric.areal_mass_g_m2 * GSM, units)}"


def _fill(design: Design, catalogue: Catalogue, units: Units) -> str:
    fill = catalogue.fill(design.fill.good)
    if fill.form == "down":
        return f"{number(fill.fill_power_in3_oz or 0)}{NBSP}fill"
    sheet = said("areal mass", (fill.areal_mass_g_m2 or 0) * GSM, units)
    layers = design.fill.layers
    return f"sheet {sheet}" if layers == 1 else f"{layers} × sheet {sheet}"


def _baffles(design: Design, units: Units) -> str:
    layout = design.baffles.layout
    if layout == "none":
        return ""
    if layout == "sewn-through":
        return layout
    height = said("bench length", design.baffles.height_mm * MM, units)
    return f"{layout if layout in SHORT_BAFFLES else 'full baffles'} {height}"


def covered(night: Night, kinds: Sequence[str]) -> str:
    """What the estimate takes to cover the other half, for all kinds in the line-up."""
    said_of = list(dict.fromkeys(covers(k, night.other_half, night.other_half_r_m2k_w) for k in kinds))
    if len(said_of) == 1:
        return said_of[0]
    return said_of[0].replace("top side", "other half").replace("underside", "other half") if said_of else ""


def night_line(
    night: Night, kinds: Sequence[str], units: Units = "metric", with_measures: bool = False
) -> str:
    """The night in one line: air, wind, damp, hours, sleeper, the other half.

    Own measures only where they are asked for: paper goes to others.
    """
    wind = said("speed", night.wind_m_s, units) if night.wind == "own" else night.wind
    air = [
        said("temperature", night.air_c, units),
        f"wind {wind}" if night.wind == "own" else wind,
        f"{said('percent', night.humidity_percent)} damp",
        said("work", night.hours),
        *(() if night.fit == "snug all round" else (night.fit,)),
    ]
    sleeper = "own sleeper" if night.sleeper.kind == "own" else night.sleeper.kind
    if with_measures and night.sleeper.kind == "own":
        height, girth = sleeper_size(night.sleeper)
        sleeper += f", {said('bench length', height, units)}, {said('bench length', girth, units)} girth"
    parts = [", ".join(air), sleeper, covered(night, kinds).removeprefix("the ")]
    return " · ".join(filter(None, parts))
