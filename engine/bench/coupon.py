"""Does the tape hold on this cloth? The peel coupon that a maker hangs at home, and how to read it.

After the manner of the T-peel (ASTM D1876) and of the 180 degree peel (ASTM D3330): their definition of
peel strength as force over width, from memory. A hung weight pulls steadily where a machine pulls at a set
speed, so the reading is for the maker's own quilt and compares with no data sheet.
"""

from dataclasses import dataclass

from engine.air import holds_n_m
from engine.bench.joint_loads import surfaces_of
from engine.bench.step_model import Line
from engine.bill import Joint
from engine.catalogue.load import Catalogue
from engine.catalogue.models import JointMethod
from engine.design import Design
from engine.formulas.bonding import CREEP_SAFE_SHARE, coupon_mass, peel_from_coupon
from engine.joint_uses import method_of_joints
from engine.score import Score
from engine.units import GRAM, MINUTE, MM

COUPON_WIDTH_M = 25 * MM
COUPON_LENGTH_M = 150 * MM
BOND_LENGTH_M = 50 * MM
LEG_M = 50 * MM
"""Strips of an inch, as the standards' narrow ones are; ours."""
STEP_KG = 20 * GRAM
WAIT_S = 1 * MINUTE
"""Weights are added in steps, with a wait between them; ours."""


@dataclass(frozen=True)
class Coupon:
    """One bond to try: a method on one of the cloths that it has to hold on."""

    method: str
    method_name: str
    cloth: str
    cloth_name: str
    width_m: float
    expected_n_m: float
    """As the catalogue (or the maker's own number) has it on this cloth."""
    expected_kg: float
    """The weight that a coupon of this width would just hold."""
    lasting_kg: float
    """What it has to hold through a night: the share that does not creep."""
    own: bool


def coupons(design: Design, catalogue: Catalogue, score: Score) -> tuple[Coupon, ...]:
    """The coupons that a design asks for: every bond without stitches on every cloth that it meets.

    Raises  Refusal for an unknown good
    Source  common practice, no source; strengths as catalogued
    """
    methods, found = method_of_joints(design), dict[tuple[str, str], Coupon]()
    for joint in score.bill.joints:
        id = methods.get(joint.name)
        if not id or not _bonds(catalogue.joint(id), joint):
            continue
        method = catalogue.joint(id)
        for fabric in surfaces_of(joint.name, design, catalogue):
            expected = holds_n_m(method, [fabric])
            kg = float(coupon_mass(expected, COUPON_WIDTH_M))
            found[method.id, fabric.id] = Coupon(
                method.id,
                method.name,
                fabric.id,
                fabric.name,
                COUPON_WIDTH_M,
                expected,
                kg,
                CREEP_SAFE_SHARE * kg,
                "peel_n_m" in method.own_numbers,
            )
    return tuple(found.values())


def _bonds(method: JointMethod, joint: Joint) -> bool:
    bonded = method.tape_m_per_m > 0 or method.sealant_ml_per_m > 0
    return bonded and method.thread_m_per_m == 0 and float(joint.length_m) > 0


def how_to() -> tuple[Line, ...]:
    """The trial itself, line by line.

    Source  common practice, no source; definition of peel strength: ASTM D1876 and D3330, from memory
    """
    return (
        Line(
            "For each bond cut two strips of the cloth, {width} wide and {length} long, and clean them as "
            "the quilt will be cleaned.",
            {"width": (COUPON_WIDTH_M, "bench_length"), "length": (COUPON_LENGTH_M, "bench_length")},
        ),
        Line(
            "Bond them face to face over {bond} from one end, across the whole strip; lay narrow tape side "
            "by side. Rub it down hard, and leave {leg} or more of both legs free.",
            {"bond": (BOND_LENGTH_M, "bench_length"), "leg": (LEG_M, "bench_length")},
        ),
        Line("Let it cure as long as the quilt will, in the same room."),
        Line(
            "Hang one leg from a clamp so that the other points straight down, and hang a bag from it. The "
            "bond stands out between them: a T. On a stiff plate, with one leg folded back, it is a peel of "
            "180°."
        ),
        Line(
            "Put {step} more into the bag every {wait}, until the bond opens and keeps opening.",
            {"step": (STEP_KG, "mass"), "wait": (WAIT_S, "seconds")},
        ),
        Line(
            "Weigh bag and clip. Peel strength is what that weight pulls with, over the width of the strip: "
            "{mass} on {width} is {peel}.",
            {
                "mass": (1.0, "mass"),
                "width": (COUPON_WIDTH_M, "bench_length"),
                "peel": (float(peel_from_coupon(COUPON_WIDTH_M, 1.0)), "peel"),
            },
        ),
        Line(
            "Take the weakest of three on the cloth that holds it least, and put it in as your own peel "
            "strength of that joint method: it then counts as it is, on every cloth."
        ),
        Line(
            "Hang a fresh one with {share} % of that weight through a night. If it has opened by the "
            "morning, that bond will creep in the quilt.",
            {"share": (100 * CREEP_SAFE_SHARE, "number")},
        ),
    )
