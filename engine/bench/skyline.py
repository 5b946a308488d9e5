"""How are rectangles laid on a strip so that little of its length is used, none of them turned?

The lowest gap of the skyline takes the piece that fits it best: as wide as the gap and level with what stands
beside it first, then as wide, then level; among equals the first in the order of priority. A few orders are
tried; then two pieces change places in the order, as long as rounds are left, and a worse order is undone.
Sizes are whole numbers, so that fits are exact.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from random import Random
from time import perf_counter
from typing import TypeAlias

Size: TypeAlias = tuple[int, int]
"""Width across the strip, length along it."""
Entry: TypeAlias = tuple[int, int, int, int]
"""Width, length, which size, how many of it."""
FAR = 1 << 60
CHUNKS = 6
"""Many equal pieces are moved about in the order in at most so many lots."""
ORDERS: tuple[Callable[[Entry], tuple[int, int]], ...] = (
    lambda entry: (-entry[1], -entry[0]),
    lambda entry: (-entry[0], -entry[1]),
    lambda entry: (-entry[0] * entry[1], -entry[1]),
    lambda entry: (-entry[0] - entry[1], -entry[1]),
)
"""Longest first, widest first, largest first, largest half perimeter first."""


@dataclass(frozen=True)
class Packing:
    """Where each piece lies: which size, across, along; and how many of each size found no place."""

    places: tuple[tuple[int, int, int], ...]
    length: int
    left: dict[int, int]


def packed(
    sizes: Sequence[Size],
    counts: Sequence[int],
    width: int,
    rounds: int = 0,
    seconds: float = 2.0,
    ceiling: int = FAR,
    seed: int = 1,
) -> Packing:
    """The shortest lay found: first the orders by size, then `rounds` trials of changed orders.

    With a ceiling the strip is only so long, and the lay that covers the most of it is taken. The same
    rounds give the same lay; `seconds` only stops a search that takes too long on a slow machine.

    Units   any whole unit of length; seconds
    Raises  ValueError for a piece wider than the strip, when there is no ceiling
    Source  ours, after the skyline heuristics with best-fit scores: Leung and Zhang, Computers and
            Operations Research 38 (2011), from memory
    """
    start, random = perf_counter(), Random(seed)
    entries = _entries(sizes, counts)
    if ceiling == FAR and any(size[0] > width for size in sizes):
        raise ValueError(f"a piece is {max(size[0] for size in sizes)} wide; allowed: up to {width}")
    area = sum(w * h * n for w, h, _, n in entries)
    bound = max([-(-area // width), *(h for _, h, _, _ in entries)], default=0)
    tried = [_pass(sorted(entries, key=key), width, ceiling, FAR) for key in ORDERS]
    goals = [_goal(packing, sizes, ceiling) for packing in tried]
    chosen = min(range(len(tried)), key=goals.__getitem__)
    best, goal = tried[chosen], goals[chosen]
    order = sorted(entries, key=ORDERS[chosen])
    for _ in range(rounds if len(order) > 1 else 0):
        if (ceiling == FAR and best.length <= bound) or not best.places or _nothing_left(best, ceiling):
            break
        if perf_counter() - start > seconds:
            break
        changed = order.copy()
        one, other = random.randrange(len(order)), random.randrange(len(order))
        changed[one], changed[other] = changed[other], changed[one]
        # A lay that is longer than the best so far is not finished.
        found = _pass(changed, width, ceiling, goal[1] + 1 if ceiling == FAR else FAR)
        reached = _goal(found, sizes, ceiling)
        if reached <= goal:
            order, best, goal = changed, found, reached
    return best


def _entries(sizes: Sequence[Size], counts: Sequence[int]) -> list[Entry]:
    entries = list[Entry]()
    for index, ((w, h), count) in enumerate(zip(sizes, counts, strict=True)):
        lots = min(CHUNKS, count)
        for lot in range(lots):
            entries.append((w, h, index, count * (lot + 1) // lots - count * lot // lots))
    return entries


def _nothing_left(packing: Packing, ceiling: int) -> bool:
    return ceiling != FAR and not packing.left


def _goal(packing: Packing, sizes: Sequence[Size], ceiling: int) -> tuple[int, int]:
    """What is to be small: area left over of a strip with an end, then length."""
    left = sum(sizes[index][0] * sizes[index][1] * count for index, count in packing.left.items())
    return (left if ceiling != FAR or packing.left else 0, packing.length)


def _pass(order: list[Entry], width: int, ceiling: int, limit: int) -> Packing:
    """One lay in one order of priority; it is given up when it reaches the limit."""
    alive = [list(entry) for entry in order]
    at, level, run = [0], [0], [width]
    places, top = list[tuple[int, int, int]](), 0
    while alive and top < limit:
        low = min(level)
        if low >= ceiling:
            break
        gap = level.index(low)
        room = run[gap]
        left = level[gap - 1] - low if gap > 0 else FAR
        right = level[gap + 1] - low if gap + 1 < len(level) else FAR
        index = _best(alive, room, left, right, ceiling - low)
        if index < 0:
            _fill_up(at, level, run, gap, left, right)
            continue
        entry = alive[index]
        w, h = entry[0], entry[1]
        # A narrower piece stands by the wall that it is level with, else by the higher one.
        by_left = h == left or (h != right and left >= right)
        places.append((entry[2], at[gap] if by_left else at[gap] + room - w, low))
        entry[3] -= 1
        if entry[3] == 0:
            del alive[index]
        top = max(top, low + h)
        _put(at, level, run, gap, w, low + h, by_left)
    rest: dict[int, int] = {}
    for entry in alive:
        rest[entry[2]] = rest.get(entry[2], 0) + entry[3]
    return Packing(tuple(places), top, rest)


def _best(alive: list[list[int]], room: int, left: int, right: int, height: int) -> int:
    """The piece that fits the lowest gap best, or -1."""
    best, index, higher = -1, -1, max(left, right)
    for number, (w, h, _, _) in enumerate(alive):
        if w > room or h > height:
            continue
        if w < room:
            if best >= 1:
                continue
            fit = 1 if h in (left, right) else 0
        elif h in (left, right):
            return number
        else:
            fit = 3 if h < higher else 2
        if fit > best:
            best, index = fit, number
    return index


def _fill_up(at: list[int], level: list[int], run: list[int], gap: int, left: int, right: int) -> None:
    """Give the gap up to the lower of its two neighbours; a strip that is all one level has none."""
    if left == FAR and right == FAR:
        level[gap] = FAR
        return
    if left <= right:
        run[gap - 1] += run[gap]
        if left == right:
            run[gap - 1] += run[gap + 1]
            del at[gap + 1], level[gap + 1], run[gap + 1]
    else:
        at[gap + 1] = at[gap]
        run[gap + 1] += run[gap]
    del at[gap], level[gap], run[gap]


def _put(at: list[int], level: list[int], run: list[int], gap: int, w: int, top: int, by_left: bool) -> None:
    """The skyline with a piece of width w and its top in the gap, joined to neighbours of one level."""
    place = gap if by_left else gap + 1
    if w == run[gap]:
        place = gap
        level[gap] = top
    elif by_left:
        at.insert(gap, at[gap])
        level.insert(gap, top)
        run.insert(gap, w)
        at[gap + 1] += w
        run[gap + 1] -= w
    else:
        run[gap] -= w
        at.insert(gap + 1, at[gap] + run[gap])
        level.insert(gap + 1, top)
        run.insert(gap + 1, w)
    for right in (place + 1, place):
        if 0 < right < len(level) and level[right] == level[right - 1]:
            run[right - 1] += run[right]
            del at[right], level[right], run[right]
