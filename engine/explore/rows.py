"""What do many designs score that are given by their values on a few axes, all through the one `score`?

Rows are put in the order of their layouts, so that each loft map is solved once, and scored in chunks.
"""

from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, ThreadPoolExecutor, wait
from dataclasses import dataclass, field
from threading import Lock

import numpy as np
from numpy.typing import NDArray

from engine.catalogue.load import Catalogue
from engine.design import Design
from engine.explore.choices import Axis, changed, shapes_the_layout
from engine.explore.columns import Codes, joined, resolve_column
from engine.explore.stops import stopped
from engine.fit import covers
from engine.night import Night
from engine.quantities.plan_map import Layout, layout_of
from engine.recipe import Value
from engine.refusals import Refusal
from engine.score import SCORE_KEYS, five_scores
from engine.steep import section_share

KEYS = (*SCORE_KEYS, "limit_c")
CHUNK = 16_384
"""Rows scored at once: enough that Python's own time is lost among them, few enough for the caches."""
MOST_LAYOUTS = 2000
MOST_SHAPES = 5_000
"""Combinations of what shapes a layout: so many are looked through to count the layouts among them."""
WORKERS = 2

Progress = Callable[[int, int], None]


@dataclass(frozen=True)
class Scored:
    """Scores and checks of many designs, in the order they were given.

    Shapes  scores (n, 6) in the order of KEYS; all checks (n,)
    """

    scores: NDArray[np.float64]
    fits: NDArray[np.bool_]
    """Wide enough, and long enough unless a pad goes with it."""
    steep: NDArray[np.bool_]
    """Chambers steeper than the correction for slanted faces serves; their warmth is on the bright side."""
    stop: NDArray[np.bool_]
    """Something would stop the maker: down that comes through, tape that does not hold."""


@dataclass(frozen=True)
class _Group:
    """Rows that are resolved alike: one layout, one set of words."""

    rows: Codes
    layout: Layout
    kind: str


@dataclass(frozen=True)
class _Chunk:
    groups: tuple[Codes, ...]
    lock: Lock = field(repr=False)


def score_rows(
    design: Design,
    night: Night,
    catalogue: Catalogue,
    axes: Sequence[Axis],
    codes: Sequence[Codes],
    progress: Progress | None = None,
) -> Scored:
    """Scores of every row: the design with each axis' value of the row's code.

    `progress` is told how many of how many rows are done, in the caller's thread; whatever it raises ends
    the work and goes through to the caller, which is how to cancel.

    Shapes  codes (n,) for each axis; rows must be valid designs
    Raises  Refusal for more layouts than are worth solving
    Source  engine.score
    """
    count = len(codes[0])
    result = Scored(np.empty((count, len(KEYS))), *(np.zeros(count, dtype=bool) for _ in range(3)))
    groups = _groups(design, axes, codes)
    chunks = list(_chunks(groups))

    def work(chunk: _Chunk) -> int:
        return _score_chunk(design, night, catalogue, axes, codes, chunk, result)

    done = 0
    with ThreadPoolExecutor(WORKERS) as pool:
        waiting: set[Future[int]] = set()
        try:
            for chunk in chunks:
                waiting.add(pool.submit(work, chunk))
                if len(waiting) > 2 * WORKERS:
                    done, waiting = _collect(waiting, done, count, progress)
            while waiting:
                done, waiting = _collect(waiting, done, count, progress)
        finally:
            for future in waiting:
                future.cancel()
    return result


def _collect(
    waiting: set[Future[int]], done: int, count: int, progress: Progress | None
) -> tuple[int, set[Future[int]]]:
    finished, rest = wait(waiting, return_when=FIRST_COMPLETED)
    done += sum(future.result() for future in finished)
    if progress is not None:
        progress(done, count)
    return done, rest


def _score_chunk(
    design: Design,
    night: Night,
    catalogue: Catalogue,
    axes: Sequence[Axis],
    codes: Sequence[Codes],
    chunk: _Chunk,
    result: Scored,
) -> int:
    rows = np.concatenate(chunk.groups)
    # One thread solves a layout, the others that need it wait.
    with chunk.lock:
        columns = [
            resolve_column(design, night, catalogue, axes, [code[group] for code in codes])
            for group in chunk.groups
        ]
    q = joined(columns, [len(group) for group in chunk.groups])
    five = five_scores(q)
    for place, key in enumerate(KEYS):
        result.scores[rows, place] = getattr(five, key)
    result.fits[rows] = covers(q, five.loft)
    result.steep[rows] = section_share(five.loft) > 0
    result.stop[rows] = stopped(design, catalogue, axes, [code[rows] for code in codes], q.panel_joins.pieces)
    return len(rows)


def _groups(design: Design, axes: Sequence[Axis], codes: Sequence[Codes]) -> list[_Group]:
    """Rows by layout and words, those of one layout next to each other."""
    names = [_branches(axis)[code] for axis, code in zip(axes, codes, strict=True)]
    key = np.zeros(len(codes[0]), dtype=np.int64)
    for axis, name in zip(axes, names, strict=True):
        key = np.unique(key, return_inverse=True)[1] * len(axis.values) + name
    _, first, number = np.unique(key, return_index=True, return_inverse=True)
    order = np.argsort(number, kind="stable")
    ends = np.cumsum(np.bincount(number))
    found: dict[tuple[Value, ...], Layout] = {}
    layouts: dict[Layout, int] = {}
    groups: list[tuple[int, _Group]] = []
    shaping = [place for place, axis in enumerate(axes) if shapes_the_layout(axis.path)]
    for rows, row in zip(np.split(order, ends[:-1]), first, strict=True):
        values = tuple(axes[place].values[codes[place][row]] for place in shaping)
        if values not in found:
            if len(found) >= MOST_SHAPES:
                raise Refusal([_too_many(f"more than {MOST_SHAPES}", "shapes")])
            one = changed(design, zip((axes[place].path for place in shaping), values, strict=True))
            found[values] = layout_of(one)
        layout = found[values]
        # The part of the map that lies on the sleeper goes with the kind of quilt.
        kind = next((str(v) for p, v in zip(shaping, values, strict=True) if axes[p].path == "kind"), "")
        place = layouts.setdefault(layout, len(layouts))
        groups.append((place, _Group(rows, layout, kind)))
    if len(layouts) > MOST_LAYOUTS:
        raise Refusal([_too_many(str(len(layouts)), "layouts")])
    return [group for _, group in sorted(groups, key=lambda pair: (pair[0], pair[1].kind))]


def _too_many(count: str, what: str) -> str:
    return (
        f"These choices make {count} {what} of baffles and outlines, and each needs a loft map of its own; "
        f"allowed: {MOST_LAYOUTS} layouts. Take fewer values of length, width, taper or chamber width."
    )


def _branches(axis: Axis) -> Codes:
    """For each value, the number of its branch."""
    numbers: dict[object, int] = {}
    return np.array([numbers.setdefault((type(b), b), len(numbers)) for b in axis.branches], dtype=np.int64)


def _chunks(groups: Sequence[_Group]) -> Iterator[_Chunk]:
    """Chunks of one layout each; those of two layouts in turn, so that two threads solve one each."""
    queues: list[list[_Chunk]] = []
    begin = 0
    while begin < len(groups):
        end = begin
        while end < len(groups) and (groups[end].layout, groups[end].kind) == (
            groups[begin].layout,
            groups[begin].kind,
        ):
            end += 1
        queues.append(list(_of_one_layout(groups[begin:end])))
        begin = end
    for place in range(0, len(queues), WORKERS):
        beside = queues[place : place + WORKERS]
        for turn in range(max(len(queue) for queue in beside)):
            yield from (queue[turn] for queue in beside if turn < len(queue))


def _of_one_layout(groups: Sequence[_Group]) -> Iterator[_Chunk]:
    lock, held, size = Lock(), list[Codes](), 0
    for group in groups:
        for part in np.split(group.rows, range(CHUNK, len(group.rows), CHUNK)):
            if size + len(part) > CHUNK:
                yield _Chunk(tuple(held), lock)
                held, size = [], 0
            held.append(part)
            size += len(part)
    yield _Chunk(tuple(held), lock)
