"""How fast does air leave a quilt and come back, and what may stuffing pull at?

Air goes through both shells and through the end panels. Where the shells are airtight it can be shut in,
and then a hard push pulls the baffles off the shells.
"""

from dataclasses import dataclass
from math import inf

from engine.catalogue.load import Catalogue
from engine.catalogue.models import Fabric, JointMethod
from engine.design import SHORT_BAFFLES, Design
from engine.formulas import packing
from engine.formulas.bonding import short_baffle_width
from engine.formulas.venting import baffle_foot_load, reloft_seconds, squeeze_limit_pa, squeeze_out_seconds
from engine.layout import plan_baffles
from engine.quantities import Quantities, standing_height
from engine.score import Score
from engine.units import HOUR, MM

GENTLE_HAND_PA = 1000.0
"""A forearm laid on the quilt, 10 kg on 0.1 m2; ours, no source."""
STUFFING_PA = 5000.0
"""A gentle push into a stuff sack; ours, no source."""
TO_THE_EYE, TO_THE_RULER = 0.90, 0.99
"""Shares of its loft at which a quilt looks and measures done; ours."""
TAPE_ON_WOVEN = 0.3
"""Of what tape holds on film, on woven cloth with a water-repellent finish (common practice, no source)."""

STRAIGHTENS_S = (1 * HOUR, 3 * HOUR)
"""Down that was squeezed for long takes so long to straighten (common practice, no source)."""


@dataclass(frozen=True)
class Air:
    """Air through one quilt: flows in m3/s at 100 Pa, times in s, loads in N/m, pressures in Pa."""

    airtight_sides: tuple[str, ...]
    shells_m3_s: float
    panels_m3_s: float
    panel_area_m2: float
    volume_m3: float
    squeeze_out_s: float
    """Infinite where no air can leave."""
    eye_s: float
    ruler_s: float
    tributary_m: float
    """Width of quilt that a metre of baffle holds together; 0 without baffles."""
    peel_n_m: float
    foot_load_n_m: float
    """On a metre of baffle when stuffing presses air that is shut in."""
    squeeze_limit_pa: float
    """Infinite without baffles."""

    @property
    def shut_in(self) -> bool:
        """Both shells are airtight: the vents alone let air out, and a fold in the sack can close them."""
        return len(self.airtight_sides) == 2

    @property
    def to_the_ruler_s(self) -> tuple[float, float]:
        """From when until when the loft is back in full: when the air is, and the down has straightened."""
        return max(self.ruler_s, STRAIGHTENS_S[0]), max(self.ruler_s, STRAIGHTENS_S[1])

    @property
    def no_way_out(self) -> bool:
        """Nothing lets air through."""
        return self.squeeze_out_s == inf

    @property
    def limit_matters(self) -> bool:
        """Air can be shut in, and baffles are there to be pulled off."""
        return self.shut_in and self.tributary_m > 0

    @property
    def passes_stuffing(self) -> bool:
        """The baffles hold when stuffing presses air that is shut in."""
        return self.squeeze_limit_pa >= STUFFING_PA


def air_of(design: Design, catalogue: Catalogue, q: Quantities, score: Score) -> Air:
    """Air through one quilt (not an array of them).

    Raises  Refusal for an unknown good
    Source  engine.formulas.venting
    """
    inner, outer = catalogue.fabric(design.shells.inner), catalogue.fabric(design.shells.outer)
    shell_m2 = float(score.loft.finished_area_m2)
    panel_m2 = _panel_area(design, q)
    panels = panel_m2 * catalogue.fabric(design.end_panels.fabric).air_permeability_mm_s * MM
    shells = shell_m2 * (inner.air_permeability_mm_s + outer.air_permeability_mm_s) * MM
    volume_m3 = float(score.loft.volume_m3)
    out_s, eye_s, ruler_s = _times(panels + shells, volume_m3, q, score)
    tributary_m = _tributary(design, q, score)
    peel = holds_n_m(catalogue.joint(design.joints.baffles), _surfaces(design, catalogue, q))
    return Air(
        airtight_sides=tuple(
            side for side, fabric in (("inner", inner), ("outer", outer)) if fabric.airtight
        ),
        shells_m3_s=shells,
        panels_m3_s=panels,
        panel_area_m2=panel_m2,
        volume_m3=volume_m3,
        squeeze_out_s=out_s,
        eye_s=eye_s,
        ruler_s=ruler_s,
        tributary_m=tributary_m,
        peel_n_m=peel,
        foot_load_n_m=float(baffle_foot_load(STUFFING_PA, tributary_m)),
        squeeze_limit_pa=float(squeeze_limit_pa(peel, tributary_m)) if tributary_m > 0 else inf,
    )


def _panel_area(design: Design, q: Quantities) -> float:
    """Both end panels as finished: as high as the baffles, as wide as the ends."""
    if not design.end_panels.fitted or standing_height(design) == 0:
        return 0.0
    return float(q.baffle_height_m * (q.station_width_m[0] + q.station_width_m[-1]))


def _times(flow_m3_s: float, volume_m3: float, q: Quantities, score: Score) -> tuple[float, float, float]:
    """Seconds to squeeze out and to loft again to the eye and to the ruler."""
    if flow_m3_s == 0:
        return inf, inf, inf
    if volume_m3 == 0:
        return 0.0, 0.0, 0.0
    out_s = float(squeeze_out_seconds(volume_m3, 1.0, flow_m3_s, GENTLE_HAND_PA))
    exponent = packing.spring_exponent(1 / q.fill_power_m3_kg, q.pivot_density_kg_m3)
    # The shells stop a tight fill before its spring is spent: they stand at a share of its free volume.
    tightness = max(float(score.loft.tightness), 1.0)
    eye_s, ruler_s = (
        float(
            reloft_seconds(
                volume_m3 * tightness,
                1.0,
                flow_m3_s,
                packing.TEST_PRESSURE_PA,
                exponent,
                share / tightness,
            )
        )
        for share in (TO_THE_EYE, TO_THE_RULER)
    )
    return out_s, eye_s, ruler_s


def _tributary(design: Design, q: Quantities, score: Score) -> float:
    """A full baffle holds a chamber's width; a short one its own area of quilt, over its length."""
    lines = plan_baffles(design).lines
    if not lines or design.baffles.layout == "none":
        return 0.0
    if design.baffles.layout in SHORT_BAFFLES:
        length_m = sum(line.length_m for line in lines)
        return float(short_baffle_width(float(score.loft.finished_area_m2), length_m))
    return float(score.loft.chamber_chord_m)


def _surfaces(design: Design, catalogue: Catalogue, q: Quantities) -> list[Fabric]:
    """What the baffles' joints stick to."""
    goods = [design.shells.inner, design.shells.outer]
    if design.baffles.layout != "sewn-through":
        goods.append(design.baffles.fabric)
    return [catalogue.fabric(good) for good in goods]


def holds_n_m(method: JointMethod, surfaces: list[Fabric]) -> float:
    """Peel strength of a joint on the surface that holds it least; stitches hold whatever tape does.

    The maker's own number was measured on the maker's own cloth, so it counts as it is.

    Units   N/m
    Source  common practice, no source
    """
    measured = "peel_n_m" in method.own_numbers
    return method.peel_n_m * (1.0 if measured else surface_share(method, surfaces))


def surface_share(method: JointMethod, surfaces: list[Fabric]) -> float:
    """What a joint holds on the surface that holds it least, over what it holds on film.

    Stitches hold whatever tape does; sealant cures on all but silicone-treated cloth.

    Source  common practice, no source
    """
    bonds = method.tape_m_per_m > 0 or method.sealant_ml_per_m > 0
    if not bonds or method.thread_m_per_m > 0:
        return 1.0
    on_woven = TAPE_ON_WOVEN if method.tape_m_per_m > 0 else 1.0
    share = {"holds": 1.0, "stitch too": on_woven, "refuses": 0.0}
    return min(share[surface.tape] for surface in surfaces)
