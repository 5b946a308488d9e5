"""What must be bought for one quilt: used and bought amounts of every good, whole cuts, rolls and bags."""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from engine.bench.lay import Roll, lay, roll_of
from engine.bench.pieces import Piece, pieces_of
from engine.catalogue.load import Catalogue
from engine.catalogue.models import GoodKind
from engine.design import Design
from engine.formulas import cost
from engine.joint_uses import Consumable, supplies
from engine.quantities import Quantities, hardware_amounts
from engine.refusals import Refusal
from engine.score import Score
from engine.units import GRAM

BuyUnit = Literal["m", "g", "rolls", "spools", "tubes", "pieces"]
UseUnit = Literal["m", "g", "mL", "pieces"]


@dataclass(frozen=True)
class Purchase:
    """One line for the shop: `used` in `used_unit`, `to_buy` in `unit`.

    `pack` is what one roll, spool or tube holds, in `used_unit`; 0 where the shop measures it out.
    """

    kind: GoodKind
    id: str
    name: str
    own: bool
    unit: BuyUnit
    used: float
    to_buy: float
    price_used: float
    price_to_buy: float
    purpose: str
    pack: float = 0.0

    @property
    def used_unit(self) -> UseUnit:
        """Tape and thread are used by the metre, sealant by the millilitre."""
        match self.unit:
            case "rolls" | "spools":
                return "m"
            case "tubes":
                return "mL"
            case "m" | "g" | "pieces":
                return self.unit


def shopping_list(design: Design, q: Quantities, score: Score, catalogue: Catalogue) -> tuple[Purchase, ...]:
    """Every good that one quilt needs (not an array of quilts).

    Lengths of cloth are those of the first lay that is found; a longer search may save a little.

    Units   m, g, counts, prices of the catalogue
    Raises  Refusal for an unknown good
    Source  definition; engine.bench.lay
    """
    lines = [*_cloth(design, q, score, catalogue), *_loose_fill(design, score, catalogue)]
    return (*(line for line in lines if line.used > 0), *goods_beside_cloth(design, score, catalogue))


def goods_beside_cloth(design: Design, score: Score, catalogue: Catalogue) -> tuple[Purchase, ...]:
    """What the joints use up, and the hardware.

    Units   m of tape, thread and cord, mL of sealant, counts, prices of the catalogue
    Raises  Refusal for an unknown good
    Source  definition
    """
    lines = [*_joint_goods(design, score, catalogue), *_hardware(design, catalogue)]
    return tuple(line for line in lines if line.used > 0)


def cloth_of_parts(design: Design) -> dict[str, str]:
    """Which fabric each part of the bill is cut from, by the part's name.

    Source  definition
    """
    return {
        "inner shell": design.shells.inner,
        "outer shell": design.shells.outer,
        "footbox panel and collar": design.shells.outer,
        "baffles": design.baffles.fabric,
        "edge walls": design.baffles.fabric,
        "end panels": design.end_panels.fabric,
    }


def _cloth(design: Design, q: Quantities, score: Score, catalogue: Catalogue) -> list[Purchase]:
    """Fabrics and sheet insulation: what the parts use, and the length of roll that their pieces take."""
    areas = {part.name: float(part.area_m2) for part in score.bill.parts}
    by_goods: dict[str, list[Piece]] = {}
    for piece in pieces_of(design, catalogue, q, score):
        if piece.goods is not None:
            by_goods.setdefault(piece.goods, []).append(piece)
    purchases = []
    for id, pieces in by_goods.items():
        sheet = id in catalogue.fills
        good = catalogue.fill(id) if sheet else catalogue.fabric(id)
        roll, price = roll_of(id, catalogue), good.price_per_m or 0.0
        names = dict.fromkeys(piece.part for piece in pieces)
        used = sum(areas[name] for name in names) / roll.usable_m
        bought = _roll_length(pieces, roll, used)
        purchases.append(
            Purchase(
                "fill" if sheet else "fabric",
                id,
                good.name,
                good.own,
                "m",
                used,
                bought,
                used * price,
                bought * price,
                "fill" if sheet else ", ".join(names),
            )
        )
    return purchases


def _roll_length(pieces: list[Piece], roll: Roll, used_m: float) -> float:
    """Whole cuts for the first lay; by the usual yield where a piece fits this roll no way."""
    try:
        return lay(pieces, roll, trials=0).to_buy_m
    except Refusal:
        return float(cost.rounded_up(used_m / cost.CLOTH_YIELD, cost.SHOP_CUT_M))


def _loose_fill(design: Design, score: Score, catalogue: Catalogue) -> list[Purchase]:
    fill = catalogue.fill(design.fill.good)
    if fill.form == "sheet":
        return []
    used = (float(score.loft.down_kg) + _extra_down(score)) * (1 + cost.FILL_LOSS) / GRAM
    bought = sum(size * count for size, count in bag_mix(used, fill.bag_sizes_g))
    price = (fill.price_per_100_g or 0.0) / 100
    return [
        Purchase(
            "fill", fill.id, fill.name, fill.own, "g", used, bought, used * price, bought * price, "fill"
        )
    ]


def _extra_down(score: Score) -> float:
    return sum(float(p.mass_kg) for p in score.bill.parts if p.name == "down in footbox and collar")


A_BAG_LESS_G = 5
"""Grams left over that a maker takes rather than open one more bag; ours."""


def bag_mix(grams: float, sizes_g: tuple[float, ...]) -> tuple[tuple[float, int], ...]:
    """Whole bags that hold the grams with little left over and few bags, the largest first.

    Units   g, g -> size in g and count of each
    Source  definition (every total is tried, in steps of a gram); the weight of a bag less: ours
    """
    sizes = sorted({round(size) for size in sizes_g} or {1}, reverse=True)
    need = max(int(np.ceil(grams - 1e-9)), 0)
    fewest: dict[int, tuple[int, int]] = {0: (0, 0)}
    for filled in range(1, need + sizes[0]):
        ways = [(fewest[filled - size][0] + 1, size) for size in sizes if filled - size in fewest]
        if ways:
            fewest[filled] = min(ways)
    left = min((t for t in fewest if t >= need), key=lambda total: total + A_BAG_LESS_G * fewest[total][0])
    counts: dict[float, int] = {}
    while left > 0:
        size = fewest[left][1]
        counts[float(size)] = counts.get(float(size), 0) + 1
        left -= size
    return tuple(sorted(counts.items(), reverse=True))


PACKS: dict[Consumable, BuyUnit] = {"tape": "rolls", "thread": "spools", "sealant": "tubes"}


def _joint_goods(design: Design, score: Score, catalogue: Catalogue) -> list[Purchase]:
    """Tape, thread and sealant for all joints: goods of a shop, not methods of joining."""
    return [
        Purchase(
            "joint",
            supply.id,
            supply.name,
            supply.own,
            PACKS[supply.kind],
            supply.used,
            supply.packs,
            supply.price_used,
            supply.price_to_buy,
            ", ".join(supply.purposes),
            supply.pack,
        )
        for supply in supplies(design, score, catalogue)
    ]


def _hardware(design: Design, catalogue: Catalogue) -> list[Purchase]:
    lines = []
    for good, amount in hardware_amounts(design).items():
        item = catalogue.hardware_item(good)
        bought = float(cost.rounded_up(amount, cost.SHOP_CUT_M if item.sold_by == "m" else 1.0))
        lines.append(
            Purchase(
                "hardware",
                good,
                item.name,
                item.own,
                "m" if item.sold_by == "m" else "pieces",
                amount,
                bought,
                amount * item.price,
                bought * item.price,
                item.use,
            )
        )
    return lines
