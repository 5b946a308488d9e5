"""What pulls at each class of joint of one quilt, which way, and for how long?

Three causes: the fill presses the shells apart for years (lofting); air that is shut in presses them when
the quilt is stuffed (stuffing), on cloth that neither a hand nor the sack backs; and the quilt hangs from
its tabs and cords for nights (hanging).
"""

from dataclasses import dataclass
from typing import Literal, TypeAlias

import numpy as np

from engine.air import STUFFING_PA, Air, air_of, holds_n_m, surface_share
from engine.catalogue.load import Catalogue
from engine.catalogue.models import Fabric, JointMethod
from engine.design import Design
from engine.formulas import bonding, packing
from engine.formulas.venting import baffle_foot_load
from engine.joint_uses import PATCH_METHOD
from engine.layout import plan_baffles
from engine.quantities import Quantities
from engine.score import Score
from engine.units import STANDARD_GRAVITY_M_S2

Cause: TypeAlias = Literal["lofting", "stuffing", "hanging"]
Direction: TypeAlias = Literal["peel", "shear"]

CORD_PULL_N = 20.0
"""A 3 mm shock cord drawn out by half of its length again; from memory, an order of magnitude."""
HANGING_SHARE = 0.5
"""Of the quilt's weight, what one tab or one end may have to hold while the others are slack; ours."""
PATCH_M = 0.040
"""The side of a tab's patch that faces the pull holds it; common practice, no source."""
LOFT_LASTS: dict[Cause, bool] = {"lofting": True, "stuffing": False, "hanging": True}
UNBOUNDED_M = 1e5
"""A spacing of quilting lines beyond this means none."""


@dataclass(frozen=True)
class LoadCase:
    """One cause at one joint: load and capacity in N/m, or in N at a single point."""

    cause: Cause
    direction: Direction
    lasting: bool
    unit: Literal["N/m", "N"]
    load: float
    capacity: float

    @property
    def margin(self) -> float:
        """Capacity over load; infinite where nothing pulls."""
        return float(bonding.margin(self.capacity, self.load))


@dataclass(frozen=True)
class Pressed:
    """One quilt under pressure: Pa, and m of quilt that hang on its joints."""

    air: Air
    lofting_pa: float
    stuffing_pa: float
    """0 where air can leave through a shell."""
    baffle_m: float
    """Width that a metre of baffle or quilting line holds together."""
    chamber_m: float
    """Width of the chamber beside an edge."""
    rise_m: float
    """Of one shell over its chord, with all of its cut in the bulge."""
    weight_kg: float

    @property
    def pressures(self) -> tuple[tuple[Cause, float], ...]:
        """Causes that press, with their pressures."""
        return ("lofting", self.lofting_pa), ("stuffing", self.stuffing_pa)


def pressed(design: Design, catalogue: Catalogue, q: Quantities, score: Score) -> Pressed:
    """The pressures in one quilt (not an array of them) and the widths that they act on.

    Raises  Refusal for an unknown good
    Source  engine.air, engine.formulas.bonding
    """
    air, loft = air_of(design, catalogue, q, score), score.loft
    quilting_m = float(q.quilting_spacing_m)
    sheet = float(loft.sheet_kg) > 0
    lines_m = quilting_m if sheet and quilting_m < UNBOUNDED_M else 0.0
    plan = plan_baffles(design)
    open_m = min(plan.chamber_width_m, float(q.station_position_m[-1]))
    exponent = packing.spring_exponent(1 / q.fill_power_m3_kg, q.pivot_density_kg_m3)
    # A sheet stands at its own loft between shells that are sewn to it: nothing presses.
    filled = float(loft.down_kg) > 0 and not sheet
    return Pressed(
        air=air,
        lofting_pa=float(bonding.lofting_pressure(loft.tightness, exponent)) if filled else 0.0,
        stuffing_pa=STUFFING_PA if air.shut_in else 0.0,
        baffle_m=air.tributary_m or lines_m,
        chamber_m=min(open_m, lines_m or open_m),
        rise_m=float(loft.bench_bulge_m) / 2,
        weight_kg=float(score.weight_kg - score.weight_parts_kg["beyond the quilt"]),
    )


def surfaces_of(name: str, design: Design, catalogue: Catalogue) -> list[Fabric]:
    """What a class of joint of the bill sticks to, by its name.

    Raises  Refusal for an unknown good
    Source  definition
    """
    shells, goods = [design.shells.inner, design.shells.outer], list[str]()
    if name == "baffles" and design.baffles.layout not in ("sewn-through", "none"):
        goods = [design.baffles.fabric]
    if name == "edges" and design.edges.kind != "pinched":
        goods = [design.baffles.fabric]
    if name == "ends" and design.end_panels.fitted:
        goods = [design.end_panels.fabric]
    if name == "footbox and collar":
        shells = [design.shells.outer, design.shells.inner]
    return [catalogue.fabric(good) for good in (*shells, *goods)]


def capacity_n_m(method: JointMethod, surfaces: list[Fabric], direction: Direction, lasting: bool) -> float:
    """What a metre of joint holds on its worst surface; tape and sealant alone creep under a lasting load.

    Units   N/m
    Source  common practice, no source
    """
    sheared = method.shear_n_m * surface_share(method, surfaces)
    strength = holds_n_m(method, surfaces) if direction == "peel" else sheared
    creeps = lasting and method.thread_m_per_m == 0
    return strength * (bonding.CREEP_SAFE_SHARE if creeps else 1.0)


def cases_of(name: str, design: Design, catalogue: Catalogue, method: JointMethod, at: Pressed,
             q: Quantities) -> tuple[LoadCase, ...]:  # fmt: skip
    """What pulls at one class of joint of the bill, by its name; nothing pulls at a raw edge.

    Source  engine.formulas.bonding
    """
    surfaces = surfaces_of(name, design, catalogue)

    def case(cause: Cause, direction: Direction, load: float) -> LoadCase:
        lasting = LOFT_LASTS[cause]
        holds = capacity_n_m(method, surfaces, direction, lasting)
        return LoadCase(cause, direction, lasting, "N/m", load, holds)

    found: list[LoadCase] = []
    if name == "baffles":
        found = [case(cause, "peel", float(baffle_foot_load(pa, at.baffle_m))) for cause, pa in at.pressures]
    elif name in ("edges", "footbox and collar", "ends"):
        # Where an edge wall stands, its allowance lies along the shell.
        lies = name != "ends" and design.edges.kind != "pinched"
        direction: Direction = "shear" if lies else "peel"
        found = [
            case(cause, direction, float(bonding.edge_pull(pa, at.chamber_m))) for cause, pa in at.pressures
        ]
        if name == "ends" and design.kind == "underquilt":
            found.append(case("hanging", "shear", _end_pull(design, at) / _end_width(q)))
    elif name == "panel joins":
        if at.rise_m > 0:
            found = [
                case(cause, "shear", float(bonding.shell_tension(pa, _chord(at, q), at.rise_m)))
                for cause, pa in at.pressures
            ]
        found.append(case("hanging", "shear", _weight_n(at) / float(np.min(q.station_width_m))))
    return tuple(one for one in found if one.load > 0)


def patch_cases(design: Design, catalogue: Catalogue, at: Pressed) -> tuple[LoadCase, ...]:
    """What pulls at one tab: half of the quilt and its cord, on one side of a stitched patch.

    Source  common practice, no source; shares as above
    """
    if not design.tabs:
        return ()
    holds = catalogue.joint(PATCH_METHOD).shear_n_m * PATCH_M
    return (LoadCase("hanging", "shear", True, "N", CORD_PULL_N + _weight_n(at), holds),)


def _weight_n(at: Pressed) -> float:
    return HANGING_SHARE * at.weight_kg * STANDARD_GRAVITY_M_S2


def _end_pull(design: Design, at: Pressed) -> float:
    """A cord in a channel leads out of the end on both sides; other ends carry the weight alone."""
    return _weight_n(at) + (2 * CORD_PULL_N if design.ends.shape == "gathered" else 0.0)


def _end_width(q: Quantities) -> float:
    return float(min(q.station_width_m[0], q.station_width_m[-1]))


def _chord(at: Pressed, q: Quantities) -> float:
    return min(float(q.chamber_span_m), at.chamber_m)
