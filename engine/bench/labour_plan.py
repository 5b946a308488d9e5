"""How long does each kind of work at the bench take, on how many evenings, and when is the quilt done?

The minutes are those of the work score, sorted by what the hands do. A metre and a piece of each joint
method have paces of their own, which the maker may replace; marking, filling and closing go at fixed ones.
"""

from dataclasses import dataclass
from math import ceil
from typing import Literal, TypeAlias

from engine.catalogue.load import Catalogue
from engine.catalogue.models import JointMethod
from engine.design import Design
from engine.formulas import labour
from engine.joint_uses import method_of_joints
from engine.quantities import Quantities
from engine.score import Score
from engine.units import HOUR, MINUTE

Operation: TypeAlias = Literal[
    "mark", "cut", "sear", "tape", "stitch", "fold and seal", "fill", "lay in the sheet", "close and weigh"
]
MARK_SHARE = 0.6
"""Of marking and cutting together; ours."""
TAPE_SHARE = 15 / 18
"""Of a metre that is taped and then stitched: 15 of 18 minutes (common practice, no source)."""
OF_KIND: dict[str, dict[Operation, float]] = {
    "tape": {"tape": 1.0},
    "tape and stitch": {"tape": TAPE_SHARE, "stitch": 1 - TAPE_SHARE},
    "glued fold": {"fold and seal": 1.0},
    "sewn": {"stitch": 1.0},
    "cord channel": {"stitch": 1.0},
    "seared edge": {"sear": 1.0},
}
DAY_H = 24.0
FULL_STRENGTH_H = 72.0
"""Before the first hard stuffing of what is taped or glued (common practice, no source)."""
REST_DAYS = 1
"""A night's rest of the down before the last of it goes in and the quilt is closed."""


@dataclass(frozen=True)
class Work:
    """One kind of work: minutes as the score counts them, first-quilt factor included."""

    operation: Operation
    minutes: float
    share: float


@dataclass(frozen=True)
class Pace:
    """What a joint method in use takes for a metre and for a piece; `own` if the maker timed either."""

    method: str
    name: str
    minutes_per_m: float
    minutes_per_piece: float
    own: bool


@dataclass(frozen=True)
class LabourPlan:
    """Work by operation in the order it is done, and the calendar. Hours in h."""

    works: tuple[Work, ...]
    minutes: float
    hours: float
    practised_hours: float
    first_quilt_factor: float
    """1 for a practised hand."""
    evenings: int
    cure_h: float
    waiting_days: int
    """Whole days between two evenings on which tape or sealant cures or down rests."""
    elapsed_days: int
    before_hard_stuffing_h: float
    paces: tuple[Pace, ...]

    @property
    def longest(self) -> Work:
        """The operation that takes the most."""
        return max(self.works, key=lambda work: work.minutes)


def labour_plan(design: Design, catalogue: Catalogue, q: Quantities, score: Score) -> LabourPlan:
    """The work on one quilt (not an array of them), sorted; it adds up to the work score.

    Units   min, h, days
    Raises  Refusal for an unknown good
    Source  engine.formulas.labour; calendar: common practice, no source
    """
    factor = float(q.hours_factor)
    practised = _by_operation(design, catalogue, q, score)
    minutes = {operation: value * factor for operation, value in practised.items()}
    whole = sum(minutes.values())
    evenings = int(score.evenings)
    waiting = cure_days(float(score.cure_h)) + (REST_DAYS if float(score.loft.down_kg) > 0 else 0)
    methods = _methods(design, catalogue, score)
    bonded = any(method.tape_m_per_m > 0 or method.sealant_ml_per_m > 0 for method in methods)
    return LabourPlan(
        works=tuple(Work(name, value, value / whole) for name, value in minutes.items() if value > 0),
        minutes=whole,
        hours=whole * MINUTE / HOUR,
        practised_hours=whole / factor * MINUTE / HOUR,
        first_quilt_factor=factor,
        evenings=evenings,
        cure_h=float(score.cure_h),
        waiting_days=waiting,
        elapsed_days=evenings + waiting,
        before_hard_stuffing_h=FULL_STRENGTH_H if bonded else 0.0,
        paces=tuple(_pace(method) for method in methods),
    )


def cure_days(cure_h: float) -> int:
    """Evenings that pass idle while a joint of the evening before cures.

    From the end of one evening to the start of the next are 24 h less an evening.

    Units   h -> count
    Source  definition
    """
    return max(ceil((cure_h + labour.EVENING_H) / DAY_H - 1 - 1e-9), 0)


def fixed_paces() -> dict[Operation, str]:
    """What goes at a pace of the program's own, that nobody can put in, and how that pace is counted.

    Source  common practice, no source
    """
    return {
        "mark": "by the area of the shells",
        "cut": "by the area of the shells",
        "fill": "by the chamber; short baffles in all",
        "lay in the sheet": "by the layer",
        "close and weigh": "once a quilt",
    }


def _by_operation(
    design: Design, catalogue: Catalogue, q: Quantities, score: Score
) -> dict[Operation, float]:
    """Minutes of a practised hand."""
    minutes: dict[Operation, float] = dict.fromkeys(
        ("mark", "cut", "sear", "tape", "stitch", "fold and seal", "fill", "lay in the sheet",
         "close and weigh"), 0.0)  # fmt: skip
    methods = method_of_joints(design)
    sheet = float(score.loft.sheet_kg) > 0
    for name, given in score.work_parts_min.items():
        value = float(given)
        match name:
            case "mark and cut":
                minutes["mark"] += MARK_SHARE * value
                minutes["cut"] += (1 - MARK_SHARE) * value
            case "fill":
                minutes["lay in the sheet" if sheet else "fill"] += value
            case "close and weigh":
                minutes["close and weigh"] += value
            case _:
                id = methods.get(name.removeprefix("join "))
                # Patches are stitched, and a class without a method takes no time.
                kind = catalogue.joint(id).kind if id else "sewn"
                for operation, share in OF_KIND[kind].items():
                    minutes[operation] += share * value
    return minutes


def _methods(design: Design, catalogue: Catalogue, score: Score) -> tuple[JointMethod, ...]:
    """Those of joints that the quilt has, each once."""
    methods = method_of_joints(design)
    used = [methods.get(joint.name) for joint in score.bill.joints if float(joint.length_m) > 0]
    return tuple(catalogue.joint(id) for id in dict.fromkeys(used) if id)


def _pace(method: JointMethod) -> Pace:
    timed = {"minutes_per_m", "minutes_per_piece"} & set(method.own_numbers)
    return Pace(method.id, method.name, method.minutes_per_m, method.minutes_per_piece, bool(timed))
