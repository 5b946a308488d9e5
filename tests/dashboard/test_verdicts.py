"""The opening sentence, tags and grades, against the wording that was agreed (definition, no source)."""

import itertools
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dashboard.verdicts import (
    ADD_A_SECOND,
    EMPTY,
    GRADE,
    GRADES,
    CandidateFacts,
    best_tags,
    covers,
    estimate_caveat,
    fails_night,
    grade_counts,
    night_words,
    verdict_sentence,
)
from dashboard.words import NBSP, SCORES

SHAPES = "●■◆▲✚⬢"
KEYS = [words.key for words in SCORES if words.key != "limit_c"]
SAME = dict.fromkeys(KEYS, (0.0, 0.5))


def facts(letter, p_comfort=0.97, p_limit=0.99, **more):
    return CandidateFacts(letter, p_comfort, p_limit, -5.0, (-11.0, 1.0), 256.0, **more)


def sentence(candidates, pairs=None, reference="A", **more):
    return verdict_sentence(candidates, pairs or {}, reference, **more).replace(NBSP, " ")


@pytest.mark.parametrize(
    "p, words",
    [
        (1.0, "almost surely comfortable"),
        (0.95, "almost surely comfortable"),
        (0.94, "probably comfortable"),
        (0.80, "probably comfortable"),
        (0.60, "perhaps comfortable"),
        (0.59, "an even bet"),
        (0.41, "an even bet"),
        (0.40, "perhaps too cold"),
        (0.20, "probably too cold"),
        (0.05, "almost surely too cold"),
        (0.0, "almost surely too cold"),
    ],
)
def test_the_night_is_judged_in_the_same_steps_both_ways(p, words):
    assert night_words(p) == words
    assert fails_night(p) == ("too cold" in words)


def test_an_empty_line_up_says_what_to_do_next():
    assert sentence([]) == EMPTY


def test_one_candidate_is_judged_on_the_night_and_asks_for_a_second():
    assert sentence([facts("A")]) == (
        "A is almost surely comfortable for the night (comfortable down to −5 °C; 9 in 10: −11 to 1 °C). "
        + ADD_A_SECOND
    )


def test_a_pair_is_one_sentence_of_at_most_three_facts_and_the_failing_come_last_together():
    candidates = [facts("A", 0.5), facts("C", 0.02), facts("B"), facts("D", 0.01)]
    pair = {**SAME, "weight_kg": (0.136, 0.0), "comfort_c": (-1.1, 0.7), "cost": (-44.0, 1.0)}
    assert sentence(candidates, {"B": pair, "C": pair, "D": pair}) == (
        "A is an even bet for the night (comfortable down to −5 °C; 9 in 10: −11 to 1 °C). "
        "Against A: B is almost surely cheaper (44) and perhaps warmer (1 °C), "
        "but almost surely heavier (136 g). C and D are almost surely too cold."
    )


def test_trade_units_and_the_currency_label_reach_the_sentence():
    pair = {"weight_kg": (0.136, 0.0), "cost": (-44.0, 1.0)}
    text = sentence([facts("A"), facts("B")], {"B": pair}, units="trade", currency="€")
    assert "down to 23 °F" in text and "cheaper (44 €)" in text and "heavier (4.8 oz)" in text


def test_packing_is_a_verb_and_the_rest_are_adjectives():
    pair = {"volume_m3": (-0.0005, 1.0), "work_h": (-1.0, 0.9), "weight_kg": (0.05, 0.1)}
    assert sentence([facts("A"), facts("B")], {"B": pair}).endswith(
        "Against A: B almost surely packs smaller (0.5 L) and is probably quicker (1 h), "
        "but probably heavier (50 g)."
    )


def test_doubt_about_warmth_is_told_with_both_bands():
    bands = {"comfort_c": (-9.0, -2.0)}
    pair = {"comfort_c": (-1.5, 0.55), "weight_kg": (-0.1, 1.0), "cost": (60.0, 0.0), "work_h": (3.0, 0.0)}
    text = sentence([facts("A", bands={"comfort_c": (-8.0, -3.0)}), facts("B", bands=bands)], {"B": pair})
    assert text.endswith(
        "B is almost surely lighter (100 g), but almost surely dearer (60); "
        "we can't tell which is warmer (A −8 to −3 °C, B −9 to −2 °C)."
    )


def test_two_alike_are_said_to_be_alike_with_the_numbers():
    text = sentence([facts("A"), facts("B")], {"B": {**SAME, "weight_kg": (0.004, 0.2)}})
    assert "B is about as warm (0 °C), about the same weight (4 g) and about the same cost (0)." in text


def test_only_doubt_is_a_sentence_too():
    text = sentence([facts("A"), facts("B")], {"B": {"comfort_c": (2.0, 0.5), "weight_kg": (0.1, 0.5)}})
    assert text.endswith("Against A: with B we can't tell which is warmer or which is lighter.")


def test_all_doubtful_limits_are_warned_of_once_at_the_end():
    everyone = [
        facts("A", p_limit=0.9),
        facts("B", p_limit=0.95),
        facts("C", 0.01, 0.99),
        facts("D", 0.01, 0.5),
    ]
    text = sentence(everyone, {"B": {"weight_kg": (0.136, 0.0)}})
    assert text.endswith("C and D are almost surely too cold. Do not count on A or D for this night.")
    assert text.count("count on") == 1
    assert "count on" not in sentence([facts("A", p_limit=0.95)])
    assert "Do not count on it for this night." in sentence([facts("A", p_limit=0.94)])
    both = [facts("A", p_limit=0.5), facts("B", p_limit=0.5)]
    assert sentence(both).endswith("Do not count on any of them for this night.")


STOP = "loose down slides"
MEND = "Mend that first; the estimate does not count until then."


def test_what_is_stopped_is_not_praised_and_not_compared():
    alone = sentence([facts("A", stop=STOP, p_limit=0.5)])
    assert alone == f"A is stopped: {STOP}. {MEND} {ADD_A_SECOND}"
    pair = {"comfort_c": (-2.0, 0.99), "weight_kg": (-0.1, 1.0)}
    text = sentence([facts("A"), facts("B", stop=STOP)], {"B": pair})
    assert text.endswith(f"B is stopped: {STOP}. {MEND}") and "Against" not in text


def test_nobody_is_warmer_than_a_reference_that_is_stopped():
    pair = {"comfort_c": (-2.0, 0.99), "weight_kg": (-0.1, 1.0)}
    text = sentence([facts("A", stop=STOP), facts("B")], {"B": pair})
    assert text.startswith(f"A is stopped: {STOP}. {MEND} B is almost surely comfortable for the night")
    assert text.endswith("Against A: B is almost surely lighter (100 g).") and "warm" not in text


def test_several_that_are_stopped_are_told_together():
    text = sentence([facts("A"), facts("B", stop="x"), facts("C", 0.01, stop="y")], {})
    assert text.endswith(
        "B is stopped: x; C is stopped: y. Mend those first; their estimates do not count until then."
    )
    assert "too cold" not in text


def test_the_one_that_is_chosen_comes_first():
    both = [facts("A"), facts("B", 0.7)]
    assert sentence(both, chosen="B").startswith("B, chosen, is perhaps comfortable for the night")
    assert sentence(both, chosen="A").startswith("A, chosen, is almost surely comfortable")
    assert "chosen" not in sentence(both)


def test_a_reference_that_is_not_there_is_refused():
    with pytest.raises(ValueError, match="reference is F; allowed: one of A"):
        sentence([facts("A")], reference="F")


chances = st.floats(0, 1)


@given(
    st.lists(st.tuples(chances, chances), min_size=1, max_size=6),
    st.dictionaries(st.sampled_from(KEYS), st.tuples(st.floats(-60, 60), chances), min_size=1),
)
def test_up_to_six_candidates_are_each_named_and_no_quilt_is_called_colder(ps, pair):
    candidates = [facts(letter, *p) for letter, p in zip("ABCDEF", ps, strict=False)]
    text = sentence(candidates, {each.letter: pair for each in candidates})
    for each in candidates:
        assert re.search(rf"\b{each.letter}\b", text)
    assert "colder" not in text and "  " not in text and " ." not in text and text.endswith(".")
    for part in text.split(". "):
        assert sum(part.count(word) for word in ("surely", "probably", "perhaps", "which")) <= 3


def test_the_caveat_says_what_covers_the_other_half():
    assert estimate_caveat() == "estimate, with the top side matched; people differ by more than the band"
    assert covers("top quilt", "matched", 0.9) == "the underside matched"
    assert covers("underquilt", "own R", 0.9).replace(NBSP, " ") == "the top side at R 0.90 m²K/W"


def test_warnings_are_counted_by_grade_gravest_first():
    assert grade_counts(["note", "mind", "stop", "mind"]).replace(NBSP, " ") == "1 Stop, 2 Mind, 1 Note"
    assert grade_counts([]) == ""
    assert list(GRADE) == [grade.key for grade in GRADES] == ["stop", "mind", "note"]


def test_no_sign_of_a_warning_is_the_shape_of_a_candidate():
    signs = [grade.icon for grade in GRADES]
    assert len(set(signs)) == 3
    assert not any(shape in sign for shape, sign in itertools.product(SHAPES, signs))


ORDER = [("A", 512.0), ("C", 431.0), ("B", 648.0)]


def test_best_is_one_that_beats_the_next_with_eight_in_ten():
    assert best_tags(ORDER, lambda a, b: 0.8) == {"C": "best"}


def test_those_that_the_leader_does_not_beat_are_tied_with_it():
    assert best_tags(ORDER, lambda a, b: 0.7 if b == "A" else 0.9) == {"C": "tied best", "A": "tied best"}


def test_a_candidate_that_fails_the_night_is_never_best():
    assert best_tags(ORDER, lambda a, b: 0.99, {"C"}) == {"A": "best"}


@pytest.mark.parametrize("order, failing", [([], ()), ([("A", 1.0)], ()), (ORDER, ("A", "C"))])
def test_a_single_runner_has_nobody_to_be_better_than(order, failing):
    assert best_tags(order, lambda a, b: 1.0, failing) == {}
