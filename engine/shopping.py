"""What must be bought for one quilt: used and bought amounts of every good, whole cuts, rolls and bags."""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from engine.bill import Part
from engine.catalogue.load import Catalogue
from engine.catalogue.models import Fabric, GoodKind, JointMethod
from engine.design import Design
from engine.formulas import cost
from engine.quantities import hardware_amounts
from engine.score import Score
from engine.units import GRAM, MM

BuyUnit = Literal["m", "g", "rolls", "pieces"]


@dataclass(frozen=True)
class Purchase:
    """One line for the shop. Amounts in `unit`; for rolls, `used` is in metres of joint."""

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


def shopping_list(design: Design, score: Score, catalogue: Catalogue) -> tuple[Purchase, ...]:
    """Every good that one quilt needs (not an array of quilts).

    Lengths of cloth are an estimate before the lay: pieces side by side at 85 % yield.

    Units   m, g, counts, prices of the catalogue
    Raises  Refusal for an unknown good
    Source  definition; yield: ours
    """
    lines = [*_cloth(design, score, catalogue), *_filling(design, score, catalogue)]
    lines += [*_joint_goods(design, score, catalogue), *_hardware(design, catalogue)]
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


def method_of_joints(design: Design) -> dict[str, str | None]:
    """Which method each class of joint of the bill is made by, by the joint's name.

    Source  definition
    """
    joints = design.joints
    return {
        "baffles": joints.baffles,
        "edges": joints.edges,
        "ends": joints.ends,
        "panel joins": joints.panel_joins,
        "raw edges": joints.raw_edges,
        "footbox and collar": joints.edges,
    }


def _cloth(design: Design, score: Score, catalogue: Catalogue) -> list[Purchase]:
    wanted: dict[str, list[tuple[str, float]]] = {}
    goods = cloth_of_parts(design)
    lengths = {}
    for part in score.bill.parts:
        if part.name not in goods or float(part.area_m2) <= 0:
            continue
        fabric = catalogue.fabric(goods[part.name])
        wanted.setdefault(fabric.id, []).append((part.name, float(part.area_m2)))
        lengths[part.name] = _roll_length(part, fabric)
    purchases = []
    for good, parts in wanted.items():
        fabric = catalogue.fabric(good)
        usable = (fabric.roll_width_mm - 2 * fabric.selvedge_mm) * MM
        area = sum(m2 for _, m2 in parts)
        # Small parts come out of the offcuts beside the shells when there is room for them.
        shells = sum(lengths[name] for name, _ in parts if name.endswith("shell"))
        length = max(shells, area / usable / cost.CLOTH_YIELD)
        bought = float(cost.rounded_up(length, cost.SHOP_CUT_M))
        purchases.append(
            Purchase(
                "fabric",
                good,
                fabric.name,
                fabric.own,
                "m",
                area / usable,
                bought,
                area / usable * fabric.price_per_m,
                bought * fabric.price_per_m,
                ", ".join(name for name, _ in parts),
            )
        )
    return purchases


def _roll_length(part: Part, fabric: Fabric) -> float:
    """Length of roll that one shell takes, along or turned, in as many panels as it needs."""
    if not part.name.endswith("shell"):
        return 0.0
    usable = (fabric.roll_width_mm - 2 * fabric.selvedge_mm) * MM
    long, wide = float(part.cut_length_m), float(part.cut_width_m)
    return float(min(np.ceil(wide / usable) * long, np.ceil(long / usable) * wide))


def _filling(design: Design, score: Score, catalogue: Catalogue) -> list[Purchase]:
    fill = catalogue.fill(design.fill.good)
    if fill.form == "sheet":
        width = (fill.roll_width_mm or 1.0) * MM
        used = sum(float(p.area_m2) for p in score.bill.parts if p.name == "sheet insulation") / width
        bought = float(cost.rounded_up(used / cost.CLOTH_YIELD, cost.SHOP_CUT_M))
        price = fill.price_per_m or 0.0
        return [
            Purchase(
                "fill", fill.id, fill.name, fill.own, "m", used, bought, used * price, bought * price, "fill"
            )
        ]
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


def _joint_goods(design: Design, score: Score, catalogue: Catalogue) -> list[Purchase]:
    methods = method_of_joints(design)
    metres: dict[str, dict[str, float]] = {}
    purposes: dict[str, list[str]] = {}
    for joint in score.bill.joints:
        good = methods.get(joint.name)
        # Searing uses up nothing that a shop sells.
        if good and joint.name != "raw edges" and float(joint.length_m) > 0:
            method = catalogue.joint(good)
            pack = THREAD if _only_thread(method) else method.id
            used = float(joint.length_m) * (1 + cost.TAPE_WASTE)
            uses = metres.setdefault(pack, {})
            uses[method.id] = uses.get(method.id, 0.0) + used
            purposes.setdefault(pack, []).append(joint.name)
    return [_pack(pack, uses, purposes[pack], catalogue) for pack, uses in metres.items()]


THREAD = "fine polyester thread"
"""One spool serves every seam that takes nothing but thread."""


def _only_thread(method: JointMethod) -> bool:
    return method.thread_m_per_m > 0 and method.tape_m_per_m == 0 and method.sealant_ml_per_m == 0


def _pack(pack: str, uses: dict[str, float], purposes: list[str], catalogue: Catalogue) -> Purchase:
    """Rolls, spools or tubes for one or more methods that share them; the dearest pack price counts."""
    methods = [catalogue.joint(id) for id in uses]
    packs = float(np.ceil(sum(uses[method.id] / method.pack_m for method in methods) - 1e-9))
    return Purchase(
        "joint",
        methods[0].id,
        THREAD if pack == THREAD else methods[0].name,
        any(method.own for method in methods),
        "rolls",
        sum(uses.values()),
        packs,
        sum(uses[method.id] * method.price_per_m for method in methods),
        packs * max(method.pack_m * method.price_per_m for method in methods),
        ", ".join(purposes),
    )


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
