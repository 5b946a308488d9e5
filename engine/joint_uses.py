"""How much tape, thread and sealant do the joints of a quilt use up, and in what packs are they sold?"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from engine.bill import Joint
from engine.catalogue.load import Catalogue
from engine.catalogue.models import JointMethod
from engine.design import Design
from engine.formulas import cost
from engine.quantities import PATCH_SIDE_M
from engine.score import Score
from engine.units import MILLILITRE

Consumable = Literal["tape", "thread", "sealant"]

PATCH_METHOD = "sewn-seam"
"""One row of stitches all round holds both patches of a tab; common practice, no source."""
WASTE: dict[Consumable, float] = {
    "tape": cost.TAPE_WASTE,
    "thread": cost.THREAD_WASTE,
    "sealant": cost.TAPE_WASTE,
}


@dataclass(frozen=True)
class JointUse:
    """What one class of joint uses up, without waste: tape and thread in m, sealant in m3.

    `price` is what its goods cost in the score, waste included; `method` is None where nothing is joined.
    """

    name: str
    method: JointMethod | None
    tape_m: float
    thread_m: float
    sealant_m3: float
    price: float

    @property
    def amounts(self) -> dict[Consumable, float]:
        """As a shop sells them: tape and thread in m, sealant in mL."""
        return {"tape": self.tape_m, "thread": self.thread_m, "sealant": self.sealant_m3 / MILLILITRE}


@dataclass(frozen=True)
class Supply:
    """One good that joints use up: m of tape or thread, mL of sealant; `used` holds the waste.

    `id` is the plain method by which it is priced and packed; `pack` is what one roll, spool or tube holds.
    """

    kind: Consumable
    id: str
    name: str
    own: bool
    used: float
    pack: float
    packs: float
    price_used: float
    price_to_buy: float
    purposes: tuple[str, ...]


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


def use_of(joint: Joint, design: Design, catalogue: Catalogue) -> JointUse:
    """What one class of joint of the bill uses up; patches are stitched all round, both in one go.

    Units   m, m3, prices of the catalogue
    Raises  Refusal for an unknown good
    Source  definition; thread of patches: common practice, no source
    """
    if joint.name == "patches":
        method = catalogue.joint(PATCH_METHOD)
        row_m = float(joint.pieces) * 4 * PATCH_SIDE_M
        return JointUse(joint.name, method, 0.0, row_m * method.thread_m_per_m, 0.0, float(joint.cost))
    id, length_m = method_of_joints(design).get(joint.name), float(joint.length_m)
    if not id:
        return JointUse(joint.name, None, 0.0, 0.0, 0.0, 0.0)
    method = catalogue.joint(id)
    return JointUse(
        joint.name,
        method,
        float(joint.tape_m),
        length_m * method.thread_m_per_m,
        length_m * method.sealant_ml_per_m * MILLILITRE,
        float(joint.cost),
    )


def supplies(design: Design, score: Score, catalogue: Catalogue) -> tuple[Supply, ...]:
    """Tape by its width, thread and sealant for all joints and patches of one quilt, in whole packs.

    Units   m, mL, counts, prices of the catalogue
    Raises  Refusal for an unknown good
    Source  definition
    """
    shares: dict[tuple[Consumable, str], list[_Share]] = {}
    for joint in score.bill.joints:
        for share in _shares(use_of(joint, design, catalogue), catalogue):
            shares.setdefault((share.kind, share.plain.id), []).append(share)
    return tuple(_supply(each) for each in shares.values())


@dataclass(frozen=True)
class _Share:
    """One consumable of one class of joint: the net amount, and its part of the joint's price."""

    kind: Consumable
    plain: JointMethod
    use: str
    own: bool
    amount: float
    price: float

    @property
    def unit_price(self) -> float:
        """Of a metre or millilitre, by the method of this joint."""
        return self.price / (self.amount * (1 + cost.TAPE_WASTE))


def _shares(use: JointUse, catalogue: Catalogue) -> Iterator[_Share]:
    """Thread is priced as in a plain seam; the rest of the price is that of tape or sealant."""
    method = use.method
    if method is None:
        return
    amounts = {kind: amount for kind, amount in use.amounts.items() if amount > 0}
    plain = {kind: plain_method(kind, method, catalogue) for kind in amounts}
    rest = use.price
    if "thread" in amounts and len(amounts) > 1:
        metres = amounts["thread"] * (1 + cost.TAPE_WASTE)
        thread = min(rest, metres * _unit_price("thread", plain["thread"]))
        rest -= thread
        yield _Share("thread", plain["thread"], use.name, method.own, amounts.pop("thread"), thread)
    for kind, amount in amounts.items():
        yield _Share(kind, plain[kind], use.name, method.own, amount, rest)
        rest = 0.0


def plain_method(kind: Consumable, method: JointMethod, catalogue: Catalogue) -> JointMethod:
    """The method that takes nothing but this consumable: its pack and price are those of the shop.

    A joint with tape takes the widest tape that is no wider than the joint.

    Source  definition
    """
    if kind == "thread":
        return catalogue.joint(PATCH_METHOD)
    every = catalogue.joints.values()
    if kind == "sealant":
        return next((each for each in every if _content(kind, each) > 0), method)
    tapes = [each for each in every if each.kind == "tape" and each.width_mm <= method.width_mm]
    return max(tapes, key=lambda each: each.width_mm, default=method)


def _content(kind: Consumable, method: JointMethod) -> float:
    """Metres or millilitres that a metre of joint takes."""
    return {
        "tape": method.tape_m_per_m,
        "thread": method.thread_m_per_m,
        "sealant": method.sealant_ml_per_m,
    }[kind]


def _unit_price(kind: Consumable, plain: JointMethod) -> float:
    return plain.price_per_m / _content(kind, plain)


def _supply(shares: list[_Share]) -> Supply:
    """Whole packs at the dearest of the prices paid for it, the catalogue's among them unless one has own."""
    kind, plain = shares[0].kind, shares[0].plain
    used = sum(share.amount for share in shares) * (1 + WASTE[kind])
    pack = plain.pack_m * _content(kind, plain)
    # A patch has no price in the score.
    prices = [share.unit_price for share in shares if share.price > 0]
    if plain.own or not prices or not any(share.own for share in shares):
        prices.append(_unit_price(kind, plain))
    packs = float(cost.rounded_up(used, pack)) / pack
    return Supply(
        kind=kind,
        id=plain.id,
        name=f"double-sided tape, {plain.width_mm:g} mm" if kind == "tape" else NAMES[kind],
        own=plain.own or any(share.own for share in shares),
        used=used,
        pack=pack,
        packs=round(packs),
        price_used=sum(share.price for share in shares),
        price_to_buy=packs * pack * max(prices),
        purposes=tuple(dict.fromkeys(share.use for share in shares)),
    )


NAMES: dict[Consumable, str] = {"thread": "sewing thread", "sealant": "sealant"}
