"""Which joints does this quilt have, what do they use up, what pulls at them, and do they hold?"""

from dataclasses import dataclass
from typing import Literal, TypeAlias

from engine.bench.joint_loads import (
    HANGING_SHARE,
    LoadCase,
    Pressed,
    cases_of,
    patch_cases,
    pressed,
)
from engine.bill import Joint
from engine.catalogue.load import Catalogue
from engine.cautions import Caution
from engine.design import Design
from engine.formulas.cost import TAPE_WASTE, THREAD_WASTE
from engine.joint_uses import PATCH_METHOD, use_of
from engine.layout import plan_baffles
from engine.quantities import Quantities, hardware_amounts
from engine.score import Score
from engine.shopping import Purchase, goods_beside_cloth
from engine.units import MM

Verdict: TypeAlias = Literal["nothing pulls at it", "gives way", "holds with little to spare", "holds"]
SPARE = 3.0
"""A margin below this leaves little for a bad metre of tape or a cold morning; ours."""

LET_AIR_OUT = (
    "Press the air out gently before it is stuffed, and stop when it goes hard: only cloth that no hand "
    "and no sack backs feels the pressure. Larger vents help."
)
STITCH_OR_FOLD = "Add a row of stitches, or fold and glue it: tape alone is weakest where it is pulled open."
OTHER_BOND = "Sew it, or take a bond that holds on this cloth; try it on a coupon first."
WIDER_PATCH = "Stitch it, or spread the pull with a larger patch."


@dataclass(frozen=True)
class JointRow:
    """One class of joint of the bill. Lengths in m, sealant in m3; `where` is the field of the design."""

    name: str
    where: str
    method: str | None
    method_name: str
    kind: str
    count: float
    each_m: float
    """Mean length of one; 0 where they are not counted."""
    shortest_m: float
    longest_m: float
    length_m: float
    width_m: float
    tape_m: float
    seam_m: float
    thread_m: float
    sealant_m3: float
    minutes: float
    cases: tuple[LoadCase, ...]
    own: bool

    @property
    def worst(self) -> LoadCase | None:
        """The load that it holds with the least to spare."""
        return min(self.cases, key=lambda case: case.margin, default=None)

    @property
    def verdict(self) -> Verdict:
        """In words, by the worst load."""
        if self.worst is None:
            return "nothing pulls at it"
        if self.worst.margin < 1:
            return "gives way"
        return "holds with little to spare" if self.worst.margin < SPARE else "holds"

    @property
    def remedy(self) -> str:
        """What to do about it; empty where it holds."""
        worst = self.worst
        if worst is None or worst.margin >= SPARE:
            return ""
        if worst.capacity == 0:
            return OTHER_BOND
        if worst.cause == "stuffing":
            return LET_AIR_OUT
        if worst.cause == "hanging":
            return WIDER_PATCH
        return STITCH_OR_FOLD if self.thread_m == 0 else OTHER_BOND


@dataclass(frozen=True)
class JointTotals:
    """Sums over all joints, net of waste, and what the shop sells for them. m, m3, counts, minutes."""

    count: float
    tape_m: float
    seam_m: float
    thread_m: float
    sealant_m3: float
    cord_m: float
    minutes: float
    waste_share: float
    """Of tape and sealant."""
    thread_waste_share: float
    packs: tuple[Purchase, ...]
    """Whole rolls, spools and tubes; waste included."""
    hardware: tuple[Purchase, ...]
    """Cord, webbing and zip in whole cuts, and pieces."""


@dataclass(frozen=True)
class JointSchedule:
    """All joints of one quilt, with the pressures that they were held against (Pa)."""

    rows: tuple[JointRow, ...]
    totals: JointTotals
    lofting_pa: float
    stuffing_pa: float
    squeeze_limit_pa: float
    """At which baffles let go of the shells where air is shut in; infinite without baffles."""
    hanging_share: float

    def row(self, name: str) -> JointRow:
        """The row of a class of the bill.

        Raises  KeyError for a class that the quilt does not have
        Source  definition
        """
        for row in self.rows:
            if row.name == name:
                return row
        raise KeyError(name)


def joint_schedule(design: Design, catalogue: Catalogue, q: Quantities, score: Score) -> JointSchedule:
    """The joints of one quilt (not an array of them), in the order of the bill; absent classes have no row.

    Units   m, m3, min, N/m (N at a tab), Pa
    Raises  Refusal for an unknown good
    Source  engine.bench.joint_loads; lengths and minutes are those of the bill
    """
    at = pressed(design, catalogue, q, score)
    rows = tuple(
        _row(joint, design, catalogue, q, at)
        for joint in score.bill.joints
        if float(joint.length_m) > 0 or float(joint.pieces) > 0
    )
    return JointSchedule(
        rows=rows,
        totals=_totals(rows, design, catalogue, score),
        lofting_pa=at.lofting_pa,
        stuffing_pa=at.stuffing_pa,
        squeeze_limit_pa=at.air.squeeze_limit_pa,
        hanging_share=HANGING_SHARE,
    )


def cautions_of_row(row: JointRow, cautions: tuple[Caution, ...]) -> tuple[Caution, ...]:
    """The warnings of a quilt that speak of one class of its joints.

    Source  definition
    """
    return tuple(caution for caution in cautions if caution.where == row.where)


def _row(joint: Joint, design: Design, catalogue: Catalogue, q: Quantities, at: Pressed) -> JointRow:
    use = use_of(joint, design, catalogue)
    method = use.method
    count, length_m = float(joint.pieces), float(joint.length_m)
    shortest_m, longest_m = _range(joint, design)
    each_m = length_m / count if count else 0.0
    common = (count, each_m, shortest_m or each_m, longest_m or each_m, length_m)
    if method is None or joint.name == "patches":
        cases = patch_cases(design, catalogue, at)
        own = catalogue.joint(PATCH_METHOD).own
        return JointRow(
            joint.name, "tabs", None, "stitched cloth patch", "patch", *common,
            0.0, 0.0, 0.0, use.thread_m, 0.0, float(joint.minutes), cases, own,
        )  # fmt: skip
    return JointRow(
        joint.name,
        f"joints.{_field(joint.name)}",
        method.id,
        method.name,
        method.kind,
        *common,
        method.width_mm * MM,
        use.tape_m,
        float(joint.seam_m),
        use.thread_m,
        use.sealant_m3,
        float(joint.minutes),
        cases_of(joint.name, design, catalogue, method, at, q),
        method.own,
    )


def _field(name: str) -> str:
    """Footbox and collar are joined as the edges are."""
    return "edges" if name == "footbox and collar" else name.replace(" ", "_")


def _range(joint: Joint, design: Design) -> tuple[float, float]:
    """Of baffles, which follow the outline and may be cut short by an edge; 0 where a mean says it."""
    lengths = [line.length_m for line in plan_baffles(design).lines]
    if joint.name != "baffles" or not lengths:
        return 0.0, 0.0
    return min(lengths), max(lengths)


def _totals(rows: tuple[JointRow, ...], design: Design, catalogue: Catalogue, score: Score) -> JointTotals:
    bought = goods_beside_cloth(design, score, catalogue)
    cords = {id: amount for id, amount in hardware_amounts(design).items() if id.startswith("cord-")}
    return JointTotals(
        count=sum(row.count for row in rows),
        tape_m=sum(row.tape_m for row in rows),
        seam_m=sum(row.seam_m for row in rows),
        thread_m=sum(row.thread_m for row in rows),
        sealant_m3=sum(row.sealant_m3 for row in rows),
        cord_m=sum(amount for id, amount in cords.items() if catalogue.hardware_item(id).sold_by == "m"),
        minutes=sum(row.minutes for row in rows),
        waste_share=TAPE_WASTE,
        thread_waste_share=THREAD_WASTE,
        packs=tuple(line for line in bought if line.kind == "joint"),
        hardware=tuple(line for line in bought if line.kind == "hardware"),
    )
