"""What does the line-up say in one breath? The opening sentences, the tags and the grades of warnings.

Plain text out, to be escaped; letters stand for candidates, so no quilt's typed name is in it.
"""

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal, TypeAlias

from dashboard.words import CAN_T_TELL, NBSP, SCORE, ScoreKey, Units, grade, graded, said, span

COUNT_ON_IT = 0.95
BEATS = 0.80
IMPORTANCE: tuple[ScoreKey, ...] = ("comfort_c", "weight_kg", "cost", "volume_m3", "work_h")
SURENESS = ("almost surely", "probably", "perhaps")
MOST_FACTS = 3

EMPTY = "Nothing in the line-up. Add a sample, open a file, or start from a blank quilt."
ADD_A_SECOND = "Add a second candidate to compare with."
MEND_FIRST = "Mend that first; the estimate does not count until then."
MEND_EACH = "Mend those first; their estimates do not count until then."
FULL = "Six is the most that can be compared at once. Remove one to add another."

Difference: TypeAlias = tuple[float, float]
"""Median of (candidate − reference) in SI; share of draws in which the candidate is lower, ties half."""


@dataclass(frozen=True)
class CandidateFacts:
    """What the sentence needs of one candidate; `bands` (SI, by score) are printed with "can't tell"."""

    letter: str
    p_comfort: float
    p_limit: float
    comfort_c: float
    comfort_band_c: tuple[float, float]
    cost: float
    bands: Mapping[ScoreKey, tuple[float, float]] = field(default_factory=dict)
    stop: str = ""
    """What stops it, without its full stop; empty for a candidate that nothing stops."""


@dataclass(frozen=True)
class Grade:
    """One grade of warning: its word, its sign, and what it means."""

    key: Literal["stop", "mind", "note"]
    word: str
    icon: str
    meaning: str


# None of the signs is a candidate's shape; U+FE0E keeps the last two in their text form.
GRADES: tuple[Grade, ...] = (
    Grade("stop", "Stop", "⊗", "it will fail or can hurt"),
    Grade("mind", "Mind", "⚠\ufe0e", "it may disappoint"),
    Grade("note", "Note", "ℹ\ufe0e", "know it"),
)
GRADE: dict[str, Grade] = {each.key: each for each in GRADES}


def grade_counts(keys: Iterable[str]) -> str:
    """Warnings counted by grade, gravest first: "1 Stop, 2 Mind"; empty for none."""
    given = list(keys)
    counts = [(given.count(each.key), each.word) for each in GRADES]
    return ", ".join(f"{count}{NBSP}{word}" for count, word in counts if count)


def fails_night(p_comfort: float) -> bool:
    """Whether the night's words say "too cold", however surely: such a candidate is never called best."""
    return bool(grade(1 - p_comfort))


def night_words(p_comfort: float) -> str:
    """From the share of draws with comfort at or below the night's air: "probably comfortable"."""
    if sure := grade(p_comfort):
        return f"{sure} comfortable"
    return f"{grade(1 - p_comfort)} too cold" if fails_night(p_comfort) else "an even bet"


def covers(kind: str, other_half: str, other_half_r_m2k_w: float) -> str:
    """What the estimate takes to cover the other half of the body."""
    side = "underside" if kind == "top quilt" else "top side"
    how = "matched" if other_half == "matched" else f"at R {said('resistance', other_half_r_m2k_w)}"
    return f"the {side} {how}"


def estimate_caveat(covered: str = "the top side matched") -> str:
    """What stands beside every temperature once per view."""
    return f"estimate, with {covered}; people differ by more than the band"


def verdict_sentence(
    facts: Sequence[CandidateFacts],
    pairs: Mapping[str, Mapping[ScoreKey, Difference]],
    reference: str,
    units: Units = "metric",
    currency: str = "",
    chosen: str | None = None,
) -> str:
    """The opening of the Line-up, for none to six candidates.

    The one that is chosen comes first, then the reference and the night, one sentence a pair, and those
    that fail the night.
    Raises ValueError when the reference is not among the candidates.
    """
    if not facts:
        return EMPTY
    by_letter = {each.letter: each for each in facts}
    if reference not in by_letter:
        raise ValueError(f"reference is {reference}; allowed: one of {', '.join(by_letter)}")
    base = by_letter[reference]
    said_so_far = []
    if chosen in by_letter and chosen != reference:
        said_so_far.append(_night_sentence(by_letter[chosen], units, ", chosen,"))
    said_so_far.append(_night_sentence(base, units, ", chosen," if chosen == reference else ""))
    others = [each for each in facts if each.letter != reference]
    stops = _stopped([each for each in others if each.letter != chosen])
    if not others:
        return " ".join([*said_so_far, *_warning(facts), ADD_A_SECOND])
    others = [each for each in others if not each.stop]
    opening = f"Against {reference}: "
    for each in others:
        if not fails_night(each.p_comfort) and each.letter in pairs:
            pair = pairs[each.letter]
            if base.stop:
                # Nobody is warmer or less warm than an estimate that does not count.
                pair = {key: gap for key, gap in pair.items() if key != "comfort_c"}
                said_so_far += [] if each.letter == chosen else [_night_sentence(each, units)]
            if pair:
                said_so_far.append(opening + _pair_sentence(each, base, pair, units, currency))
                opening = ""
    said_so_far += _too_cold([each for each in others if fails_night(each.p_comfort)])
    return " ".join([*said_so_far, *stops, *_warning(facts)])


def _stopped(stopped: Sequence[CandidateFacts]) -> list[str]:
    """The candidates beside the reference that a warning stops."""
    stopped = [each for each in stopped if each.stop]
    if not stopped:
        return []
    told = "; ".join(f"{each.letter} is stopped: {each.stop}" for each in stopped)
    return [f"{told}. {MEND_FIRST if len(stopped) == 1 else MEND_EACH}"]


def _night_sentence(one: CandidateFacts, units: Units, mark: str = "") -> str:
    if one.stop:
        return f"{one.letter}{mark} is stopped: {one.stop}. {MEND_FIRST}"
    middle = said("temperature", one.comfort_c, units)
    band = span("temperature", *one.comfort_band_c, units)
    return (
        f"{one.letter}{mark} is {night_words(one.p_comfort)} for the night "
        f"(comfortable down to {middle}; 9 in 10: {band})."
    )


def _warning(facts: Sequence[CandidateFacts]) -> list[str]:
    """One sentence at the end for all whose limit may be above the night, so that none goes unsaid."""
    doubtful = [each.letter for each in facts if each.p_limit < COUNT_ON_IT and not each.stop]
    if not doubtful:
        return []
    if len(doubtful) == len(facts):
        return [f"Do not count on {'it' if len(facts) == 1 else 'any of them'} for this night."]
    return [f"Do not count on {listed(doubtful, 'or')} for this night."]


def _too_cold(failing: Sequence[CandidateFacts]) -> list[str]:
    sentences = []
    for sure in SURENESS:
        group = [each for each in failing if grade(1 - each.p_comfort) == sure]
        if group:
            verb = "is" if len(group) == 1 else "are"
            letters = listed([each.letter for each in group])
            sentences.append(f"{letters} {verb} {sure} too cold.")
    return sentences


def listed(items: Sequence[str], word: str = "and") -> str:
    """A, B and C."""
    return items[0] if len(items) == 1 else f"{', '.join(items[:-1])} {word} {items[-1]}"


@dataclass(frozen=True)
class _Fact:
    key: ScoreKey
    sort: Literal["win", "loss", "untold", "same"]
    text: str
    rank: tuple[int, int]


def _fact(key: ScoreKey, pair: Difference, of: float | None, units: Units, currency: str) -> _Fact:
    middle, p_better = pair
    p = p_better if middle < 0 else 1 - p_better
    text = graded(key, middle, p, units, currency, of)
    importance = IMPORTANCE.index(key)
    if SCORE[key].is_small(middle, of):
        return _Fact(key, "same", text, (0, importance))
    if not grade(p):
        return _Fact(key, "untold", text, (len(SURENESS), importance))
    return _Fact(key, "win" if middle < 0 else "loss", text, (SURENESS.index(grade(p)), importance))


def _choose(facts: Sequence[_Fact]) -> list[_Fact]:
    """At most three: warmth whatever it is, a win and a loss, doubt about weight, then the surest rest."""
    ranked = sorted((fact for fact in facts if fact.sort != "same"), key=lambda fact: fact.rank)
    chosen = [fact for fact in ranked if fact.key == "comfort_c"]
    for sort in ("win", "loss"):
        if all(fact.sort != sort for fact in chosen):
            chosen += [fact for fact in ranked if fact.sort == sort][:1]
    chosen += [fact for fact in ranked if fact.key == "weight_kg" and fact.sort == "untold"]
    chosen += [fact for fact in ranked if fact not in chosen]
    return chosen[:MOST_FACTS] or list(facts[:MOST_FACTS])


def _pair_sentence(
    one: CandidateFacts,
    base: CandidateFacts,
    pair: Mapping[ScoreKey, Difference],
    units: Units,
    currency: str,
) -> str:
    facts = [
        _fact(key, pair[key], base.cost if key == "cost" else None, units, currency)
        for key in IMPORTANCE
        if key in pair
    ]
    chosen = sorted(_choose(facts), key=lambda fact: fact.rank)
    told = _told([[fact for fact in chosen if fact.sort == sort] for sort in ("win", "loss", "same")])
    untold = [fact for fact in chosen if fact.sort == "untold"]
    if not untold:
        return f"{one.letter} {told}."
    doubt = "we can't tell " + listed([_untold(fact, one, base, units, currency) for fact in untold], "or")
    return f"{one.letter} {told}; {doubt}." if told else f"with {one.letter} {doubt}."


def _told(groups: Sequence[Sequence[_Fact]]) -> str:
    """Wins but losses, joined so that "is" stands once before adjectives and not before "packs"."""
    parts: list[str] = []
    needs_is = True
    for group in filter(None, groups):
        pieces = []
        for fact in group:
            adjective = "packs" not in fact.text
            pieces.append(f"is {fact.text}" if adjective and needs_is else fact.text)
            needs_is = not adjective
        parts.append(listed(pieces))
    return ", but ".join(parts)


def _untold(fact: _Fact, one: CandidateFacts, base: CandidateFacts, units: Units, currency: str) -> str:
    text = "which" + fact.text.removeprefix(CAN_T_TELL)
    if fact.key not in one.bands or fact.key not in base.bands:
        return text
    words = SCORE[fact.key]
    bands = [f"{each.letter} {words.band(*each.bands[fact.key], units, currency)}" for each in (base, one)]
    return f"{text} ({', '.join(bands)})"


def best_tags(
    order: Sequence[tuple[str, float]],
    p_better: Callable[[str, str], float],
    failing: Collection[str] = (),
) -> dict[str, Literal["best", "tied best"]]:
    """Tags of one column from (letter, median); less is better.

    `p_better(a, b)` is the share of common draws in which a is below b. The leader is "best" if it beats
    the next with 0.8 or more; else it and all that it does not beat so are "tied best". Those that fail
    the night get no tag, and a single runner has nobody to be better than.
    """
    running = [letter for letter, _ in sorted(order, key=lambda pair: pair[1]) if letter not in failing]
    if len(running) < 2:
        return {}
    leader = running[0]
    tied = [letter for letter in running[1:] if p_better(leader, letter) < BEATS]
    if not tied:
        return {leader: "best"}
    return dict.fromkeys([leader, *tied], "tied best")
