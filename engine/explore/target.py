"""Which value of a choice makes a score what is wished, and where that cannot be, what comes nearest?

A score need not move one way with a choice, so all of its range is tried first; where the score passes the
wish, the place is narrowed down.
"""

import numpy as np

from engine.catalogue.load import Catalogue
from engine.design import Design
from engine.explore.choices import shapes_the_layout
from engine.explore.trial import TRIED, Answer, Array, Trial, check_wish, crossing, limits_of, spread
from engine.night import Night

PARTS, ROUNDS = 33, 7
"""Narrowings, each to one of so many parts: to 1e-12 of the range."""
TRIED_LAYOUTS, PARTS_OF_LAYOUTS = 25, 5
"""The same for what shapes the layout, to 1e-5: a new layout costs as much as ten thousand scores."""


def reach(design: Design, night: Night, catalogue: Catalogue, path: str, key: str, wished: float) -> Answer:
    """Change one choice until a score is what is wished; of several values, the one nearest the design's own.

    Units   the score's
    Raises  Refusal for a path that is no number of a design, or a score or a wish that is none
    Source  engine.score; subdivision of a bracket
    """
    low, high, whole = limits_of(path)
    check_wish(key, wished)
    scorer = Trial(design, night, catalogue, key)
    layouts = shapes_the_layout(path)
    values = spread(low, high, TRIED_LAYOUTS if layouts else TRIED, whole, scorer.own(path))
    values, scores = scorer.along(path, values)
    at = crossing(values, scores, wished, scorer.own(path))
    if at is None:
        best = int(np.argmin(np.abs(scores - wished)))
        return scorer.answer({path: float(values[best])}, False, scores)
    bracket, ends = values[at : at + 2], scores[at : at + 2]
    for _ in range(0 if whole else ROUNDS):
        parts = np.linspace(bracket[0], bracket[1], PARTS_OF_LAYOUTS if layouts else PARTS)
        parts, found = scorer.along(path, parts)
        place = crossing(parts, found, wished, float(bracket[0]))
        if place is None:
            break
        bracket, ends = parts[place : place + 2], found[place : place + 2]
    return scorer.answer({path: float(bracket[_better(ends, wished)])}, True, scores)


def in_steps(
    design: Design, night: Night, catalogue: Catalogue, answer: Answer, key: str, wished: float, step: float
) -> Answer:
    """The answer with its one value on a whole step: the nearer one that still meets the wish.

    As it was where neither does, as at a jump.

    Units   the choice's
    Source  definition
    """
    ((path, value),) = answer.values.items()
    low, high, _ = limits_of(path)
    near = np.array([np.floor(value / step) * step, np.ceil(value / step) * step])
    near = np.unique(np.clip(np.round(near, 9), low, high))
    scorer = Trial(design, night, catalogue, key)
    valid, scores = scorer.valid_scores([path], [near])
    meets = valid & (scores <= wished)
    if not answer.met or not meets.any():
        return answer
    best = near[meets][np.argmin(np.abs(near[meets] - value))]
    return scorer.answer({path: float(best)}, True, np.array([answer.least, answer.most]))


def _better(ends: Array, wished: float) -> int:
    """The end whose score is the wish or less; both are, within round-off, unless the score jumps."""
    return int(np.argmin(np.where(ends <= wished, wished - ends, np.inf))) if np.any(ends <= wished) else 0
