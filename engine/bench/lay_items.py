"""What goes on the roll as one rectangle: a piece in its grain, or two equal ones laid head to foot?"""

from dataclasses import dataclass
from math import ceil

from engine.bench.piece_model import Piece
from engine.bench.polygons import Axis, Outline, area_of, mirrored, moved, nesting, size_of, to_corner, turned
from engine.refusals import Refusal
from engine.units import MM, Number

STEP_M = 1e-4
"""Lays are found in tenths of a millimetre, pieces rounded up to whole ones."""
WORTH_M = 1 * MM
"""Two pieces are laid as one when that is narrower or shorter by so much."""
DUST = 1e-6


@dataclass(frozen=True)
class Lain:
    """One piece as it lies in an item: turned by right angles, and shifted within the item's box."""

    piece: Piece
    mirrored: bool
    degrees: int
    x_m: float
    y_m: float

    def outline(self) -> Outline:
        """Its cut outline in the item's box; x along the roll, y across.

        Source  definition
        """
        return moved(oriented(self.piece, self.mirrored, self.degrees), self.x_m, self.y_m)


@dataclass(frozen=True)
class Item:
    """A rectangle on the roll with one or two pieces in it."""

    length_m: float
    width_m: float
    members: tuple[Lain, ...]

    @property
    def steps(self) -> tuple[int, int]:
        """Width across and length along, in steps rounded up."""
        return _steps(self.width_m), _steps(self.length_m)


def _steps(size_m: float) -> int:
    return ceil(size_m / STEP_M - DUST)


def whole_steps(room_m: Number) -> int:
    """How many whole steps a room holds.

    Source  definition
    """
    return int(float(room_m) / STEP_M + DUST)


def oriented(piece: Piece, is_mirrored: bool, degrees: int) -> Outline:
    """The cut outline as it lies on the roll, its box at 0, 0.

    Source  definition
    """
    outline = mirrored(piece.cut) if is_mirrored else to_corner(piece.cut)
    return turned(outline, degrees) if degrees else outline


def grain_degrees(piece: Piece, usable_m: float, goods: str, strips_across: bool = False) -> int:
    """How a piece is turned to lie in its grain: 0, or 90 where it must lie across.

    Strips that may lie either way lie along, or with `strips_across` across.

    Raises  Refusal for a piece that is too wide for the roll and too long to be turned
    Source  definition
    """
    length, width = piece.cut_m
    start = 90 if piece.grain == "across" or (strips_across and piece.grain == "either") else 0
    if start:
        length, width = width, length
    if _steps(width) <= whole_steps(usable_m):
        return start
    if _steps(length) <= whole_steps(usable_m):
        return 90 - start
    raise Refusal(
        [
            f"{piece.name} is cut {length / MM:.0f} x {width / MM:.0f} mm, but {goods} holds "
            f"{usable_m / MM:.0f} mm between its selvedges, along or turned; allowed: a wider roll."
        ]
    )


def items_of(
    piece: Piece, usable_m: float, goods: str, paired: bool = True, strips_across: bool = False
) -> list[tuple[Item, int]]:
    """The rectangles of all pieces of one size, each with its count; singles only if not `paired`.

    Raises  Refusal for a piece that fits no way
    Source  definition
    """
    degrees = grain_degrees(piece, usable_m, goods, strips_across)
    plain, flipped = piece.count - piece.mirrored, piece.mirrored
    found = list[tuple[Item, int]]()
    pairs = _pair_counts(plain, flipped) if paired and may_pair(piece) else {}
    for (one, other), count in pairs.items():
        item = _joined(piece, (one, other), degrees, usable_m) if count else None
        if item is None:
            continue
        found.append((item, count))
        plain -= count * ((not one) + (not other))
        flipped -= count * (one + other)
    for is_mirrored, count in ((False, plain), (True, flipped)):
        if count:
            found.append((_alone(piece, is_mirrored, degrees), count))
    return found


def _pair_counts(plain: int, flipped: int) -> dict[tuple[bool, bool], int]:
    """How many pairs of plain with plain, mirrored with mirrored, and one of each."""
    mixed = plain % 2 if flipped % 2 else 0
    return {(False, True): mixed, (False, False): plain // 2, (True, True): flipped // 2}


def may_pair(piece: Piece) -> bool:
    """Whether two of them laid head to foot may take less room: not rectangles, nor what is round.

    Source  definition
    """
    if piece.count < 2 or piece.exact_area_m2 is not None:
        return False
    length, width = piece.cut_m
    return length * width - area_of(piece.cut) > WORTH_M * (length + width)


def _alone(piece: Piece, is_mirrored: bool, degrees: int) -> Item:
    length, width = size_of(oriented(piece, is_mirrored, degrees))
    return Item(length, width, (Lain(piece, is_mirrored, degrees, 0.0, 0.0),))


def _joined(piece: Piece, flips: tuple[bool, bool], degrees: int, usable_m: float) -> Item | None:
    """Two pieces head to foot, side by side or one behind the other, if that saves anything."""
    first = oriented(piece, flips[0], degrees)
    found = list[tuple[float, Item]]()
    for more in (0, 180):
        second = oriented(piece, flips[1], degrees + more)
        axes: tuple[Axis, Axis] = (0, 1)
        for axis in axes:
            shift = nesting(first, second, axis)
            saved = size_of(first)[axis] - shift
            sizes = [max(a, b) for a, b in zip(size_of(first), size_of(second), strict=True)]
            sizes[axis] = shift + size_of(second)[axis]
            if saved < WORTH_M or _steps(sizes[1]) > whole_steps(usable_m):
                continue
            at = (shift, 0.0) if axis == 0 else (0.0, shift)
            pair = (
                Lain(piece, flips[0], degrees, 0.0, 0.0),
                Lain(piece, flips[1], degrees + more, at[0], at[1]),
            )
            found.append((sizes[0] * sizes[1], Item(sizes[0], sizes[1], pair)))
    return min(found, key=lambda each: each[0])[1] if found else None
