"""How do the pieces of one cloth lie on its roll and on offcuts at hand, and how much of it must be bought?

x runs along the roll from its cut end, y across it from the selvedge. Every piece lies in its grain, so it is
never turned but by half a turn; only what is wider than the roll is turned across it, or cut apart (see
engine.formulas.panels). Offcuts at hand are filled first, the largest first.
"""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import product
from math import isfinite

from engine.bench.lay_items import STEP_M, Item, Lain, items_of, may_pair, whole_steps
from engine.bench.piece_model import Piece
from engine.bench.polygons import Outline
from engine.bench.skyline import FAR, packed
from engine.catalogue.load import Catalogue
from engine.formulas import cost
from engine.refusals import Refusal
from engine.units import MM

TRIALS = 20_000
"""Pieces that are laid in search of a shorter lay, all rounds together: some 0.05 s."""
SECONDS = 2.0


@dataclass(frozen=True)
class Roll:
    """A cloth as it lies on the table."""

    goods: str
    name: str
    usable_m: float
    selvedge_m: float


@dataclass(frozen=True)
class Offcut:
    """A rest of the same cloth, selvedge off: width across the grain, length along it."""

    width_m: float
    length_m: float


@dataclass(frozen=True)
class Placement:
    """Where one piece lies: on the roll, or on offcut number so and so, counted from 0."""

    piece: Piece
    mirrored: bool
    degrees: int
    """Turned so far from the way the piece is drawn: 0 or 180 in its grain, 90 or 270 turned across."""
    x_m: float
    y_m: float
    offcut: int | None

    @property
    def outline(self) -> Outline:
        """Its cut outline on the roll or offcut."""
        return Lain(self.piece, self.mirrored, self.degrees, self.x_m, self.y_m).outline()


@dataclass(frozen=True)
class Lay:
    """All pieces of one cloth in their places."""

    roll: Roll
    offcuts: tuple[Offcut, ...]
    placements: tuple[Placement, ...]
    length_m: float
    """Of the roll, from its cut end to the end of the last piece."""
    to_buy_m: float
    """The same in whole cuts of the shop."""
    yield_share: float
    """Cloth in the pieces on the roll, over usable width times length; 1 where nothing lies on it."""

    def went(self) -> tuple[tuple[int | None, str, int], ...]:
        """What went where: offcut number or None for the roll, name of the piece, how many.

        Source  definition
        """
        counts = Counter((place.offcut, place.piece.name) for place in self.placements)
        return tuple((where, name, count) for (where, name), count in counts.items())


def roll_of(goods: str, catalogue: Catalogue) -> Roll:
    """The roll of a fabric or of sheet insulation.

    Raises  Refusal for an unknown good
    Source  definition
    """
    if goods in catalogue.fills:
        fill = catalogue.fill(goods)
        return Roll(goods, fill.name, (fill.roll_width_mm or 0.0) * MM, 0.0)
    fabric = catalogue.fabric(goods)
    usable = (fabric.roll_width_mm - 2 * fabric.selvedge_mm) * MM
    return Roll(goods, fabric.name, usable, fabric.selvedge_mm * MM)


def lays_of(
    pieces: Iterable[Piece],
    catalogue: Catalogue,
    offcuts: Mapping[str, Sequence[Offcut]] | None = None,
    trials: int = TRIALS,
    seconds: float = SECONDS,
) -> tuple[Lay, ...]:
    """A lay for every cloth that the pieces are of, in their order; scraps lie on none.

    Raises  Refusal for an unknown good, an offcut without size, or a piece that fits no way
    Source  engine.bench.skyline
    """
    by_goods: dict[str, list[Piece]] = {}
    for piece in pieces:
        if piece.goods is not None:
            by_goods.setdefault(piece.goods, []).append(piece)
    given = offcuts or {}
    return tuple(
        lay(some, roll_of(goods, catalogue), given.get(goods, ()), trials, seconds)
        for goods, some in by_goods.items()
    )


def lay(
    pieces: Sequence[Piece],
    roll: Roll,
    offcuts: Sequence[Offcut] = (),
    trials: int = TRIALS,
    seconds: float = SECONDS,
) -> Lay:
    """The pieces of one cloth on offcuts and on its roll.

    The same trials give the same lay on every machine, unless `seconds` end the search before.

    Units   m, s
    Raises  Refusal for an offcut without size, or a piece that fits neither along nor turned
    Source  engine.bench.skyline
    """
    _refuse_empty(offcuts)
    pairs = (False, True) if any(may_pair(piece) for piece in pieces) else (False,)
    turns = (False, True) if any(piece.grain == "either" for piece in pieces) else (False,)
    ways = list(product(pairs, turns))
    found = [_lay(pieces, roll, offcuts, way, 0, seconds) for way in ways]
    best = min(range(len(ways)), key=lambda number: found[number].length_m)
    if trials <= 0:
        return found[best]
    searched = _lay(pieces, roll, offcuts, ways[best], trials, seconds)
    return min(searched, found[best], key=lambda each: each.length_m)


def _lay(
    pieces: Sequence[Piece],
    roll: Roll,
    offcuts: Sequence[Offcut],
    way: tuple[bool, bool],
    trials: int,
    seconds: float,
) -> Lay:
    """One lay: tapered pieces in pairs or not, strips of either grain along or across."""
    items, counts = list[Item](), list[int]()
    for piece in pieces:
        for item, count in items_of(piece, roll.usable_m, roll.name, *way):
            items.append(item)
            counts.append(count)
    rounds = trials // max(sum(counts), 1)
    placements = list[Placement]()
    by_size = sorted(range(len(offcuts)), key=lambda k: -offcuts[k].width_m * offcuts[k].length_m)
    for number in by_size:
        room = whole_steps(offcuts[number].width_m), whole_steps(offcuts[number].length_m)
        counts = _laid(items, counts, room, rounds, seconds, number, placements)[0]
    _, length = _laid(items, counts, (whole_steps(roll.usable_m), FAR), rounds, seconds, None, placements)
    length_m = length * STEP_M
    area = sum(place.piece.area_m2 for place in placements if place.offcut is None)
    return Lay(
        roll,
        tuple(offcuts),
        tuple(placements),
        length_m,
        float(cost.rounded_up(length_m, cost.SHOP_CUT_M)),
        area / (roll.usable_m * length_m) if length_m > 0 else 1.0,
    )


def _laid(
    items: list[Item],
    counts: list[int],
    room: tuple[int, int],
    rounds: int,
    seconds: float,
    offcut: int | None,
    placements: list[Placement],
) -> tuple[list[int], int]:
    """Lay what is left on one stretch of cloth; what is left then, and the length it took."""
    some = [index for index, count in enumerate(counts) if count > 0]
    sizes = [items[index].steps for index in some]
    found = packed(sizes, [counts[index] for index in some], room[0], rounds, seconds, room[1])
    left = counts.copy()
    for place, across, along in found.places:
        index = some[place]
        left[index] -= 1
        for member in items[index].members:
            placements.append(
                Placement(
                    member.piece,
                    member.mirrored,
                    member.degrees % 360,
                    along * STEP_M + member.x_m,
                    across * STEP_M + member.y_m,
                    offcut,
                )
            )
    return left, found.length


def _refuse_empty(offcuts: Sequence[Offcut]) -> None:
    faults = [
        f"offcut {number}: {name} is {size / MM:g} mm; allowed: above 0 mm."
        for number, offcut in enumerate(offcuts, 1)
        for name, size in (("width", offcut.width_m), ("length", offcut.length_m))
        if not (isfinite(size) and size > 0)
    ]
    if faults:
        raise Refusal(faults)
