"""How much down goes into which chamber, in which order, out of which bag? In steps of the maker's scale."""

from dataclasses import dataclass
from typing import Literal, TypeAlias

from engine.bench.bags import Bag, ZoneFill, filled
from engine.bench.scale_steps import shared_out, whole_steps
from engine.bench.zones import POCKETS, Zone, pockets_of, zones_of
from engine.catalogue.load import Catalogue
from engine.design import SHORT_BAFFLES, Design
from engine.formulas.cost import FILL_LOSS
from engine.formulas.refuse import refuse_negative
from engine.quantities import Quantities
from engine.refusals import Refusal
from engine.score import Score
from engine.shopping import bag_mix
from engine.units import GRAM

SCALE_STEPS_KG = (0.1 * GRAM, 0.5 * GRAM, 1.0 * GRAM)
"""Kitchen and letter scales: 0.1, 0.5 and 1 g."""
FINE_BELOW_KG = 40 * GRAM
"""Chambers lighter than this want a scale of 0.1 g (common practice, no source)."""
KEPT_BACK = 0.10
"""Of the down, for topping up after a night (common practice, no source)."""
LOSS_LOW, LOSS_HIGH = 0.01, 0.03
"""Down left in bag and air (common practice, no source); what is bought and planned with is FILL_LOSS."""
PORT_M = (0.25, 0.30)
"""Filling port of short baffles, at one end (common practice, no source)."""
MOST_MORE_PERCENT = 50.0

PortKind: TypeAlias = Literal["one port at one end", "each chamber's end", "each chamber's side end"]


@dataclass(frozen=True)
class FillPlan:
    """The whole of it; `fills` are in the order of filling."""

    step_kg: float
    fills: tuple[ZoneFill, ...]
    bags: tuple[Bag, ...]
    whole_kg: float
    """To the step; the sum of the zones."""
    exact_kg: float
    first_kg: float
    back_kg: float
    loss_share: float
    port: PortKind
    light: tuple[int, ...]
    """Zones, by their number in the order of filling, so light that a scale of 0.1 g should weigh them."""

    @property
    def finer_scale(self) -> bool:
        """Whether there is such a zone."""
        return bool(self.light)


def fill_plan(
    design: Design,
    catalogue: Catalogue,
    q: Quantities,
    score: Score,
    step_kg: float = 1.0 * GRAM,
    edge_percent: float = 0.0,
    foot_percent: float = 0.0,
) -> FillPlan | None:
    """The fill plan of one quilt (not an array of them); None for sheet insulation.

    Further overstuff of edge chambers and of a top quilt's foot is taken from the other zones: the whole
    stays what the score says.

    Units   kg, %, %
    Raises  Refusal for a step that no scale has or a percentage out of range
    Source  engine.bench.zones; loss and share kept back: common practice, no source
    """
    if float(score.loft.sheet_kg) > 0:
        return None
    step_kg = _checked(step_kg, edge_percent, foot_percent)
    zones = (*zones_of(design, q, score.loft, edge_percent, foot_percent), *pockets_of(design, score))
    exact_kg = float(score.weight_parts_kg["fill"])
    weights = _weights(zones, design, float(score.loft.down_kg))
    mirrored = _mirrored(zones)
    whole = whole_steps(exact_kg, step_kg)
    first = whole_steps(whole * (1 - KEPT_BACK), 1.0)
    steps = _steps(zones, whole, weights, mirrored, step_kg)
    firsts = _no_more(shared_out(first, weights, mirrored), steps)
    order = sorted(range(len(zones)), key=lambda n: _turn(zones[n], design))
    bags = bag_mix(exact_kg / GRAM * (1 + FILL_LOSS), catalogue.fill(design.fill.good).bag_sizes_g)
    sizes_kg = [size * GRAM for size, count in bags for _ in range(count)]
    fills, used = filled(zones, order, steps, firsts, step_kg, sizes_kg)
    return FillPlan(
        step_kg=step_kg,
        fills=fills,
        bags=used,
        whole_kg=whole * step_kg,
        exact_kg=exact_kg,
        first_kg=sum(firsts) * step_kg,
        back_kg=(whole - sum(firsts)) * step_kg,
        loss_share=FILL_LOSS,
        port=port_of(design),
        light=tuple(
            one.order
            for one in fills
            if step_kg > SCALE_STEPS_KG[0] and 0 < round(one.mass_kg / step_kg) * step_kg < FINE_BELOW_KG
        ),
    )


def fill_weighed(full_kg: float, tare_kg: float) -> float:
    """What is in the quilt: full less tare, weighed on the same day in the same room.

    Units   kg, kg -> kg
    Raises  ValueError for negative weights, or a full quilt that is lighter than the empty one
    Source  definition
    """
    refuse_negative("tare_kg", tare_kg, "kg")
    if full_kg < tare_kg:
        raise ValueError(f"full_kg is {full_kg:g} kg; allowed: the tare, {tare_kg:g} kg, or more")
    return full_kg - tare_kg


def port_of(design: Design) -> PortKind:
    """Where the down goes in.

    Source  common practice, no source
    """
    if design.baffles.layout in (*SHORT_BAFFLES, "none"):
        return "one port at one end"
    return "each chamber's side end" if design.baffles.layout == "full, crosswise" else "each chamber's end"


def _checked(step_kg: float, edge_percent: float, foot_percent: float) -> float:
    near = min(SCALE_STEPS_KG, key=lambda known: abs(known - step_kg))
    faults = []
    if abs(near - step_kg) > 1e-9:
        faults.append(f"The step of the scale is {step_kg / GRAM:g} g; allowed: 0.1, 0.5 or 1 g.")
    for name, value in (("edge chambers", edge_percent), ("the foot", foot_percent)):
        if not 0 <= value <= MOST_MORE_PERCENT:
            faults.append(
                f"Further overstuff of {name} is {value:g} %; allowed: 0 to {MOST_MORE_PERCENT:g} %."
            )
    if faults:
        raise Refusal(faults)
    return near


def _weights(zones: tuple[Zone, ...], design: Design, down_kg: float) -> list[float]:
    """Exact grams of every zone: chambers by volume, pockets as they are given."""
    chambers = sum(zone.weight_m3 for zone in zones if zone.kind not in POCKETS)
    grams = [
        zone.weight_m3 if zone.kind in POCKETS else down_kg / GRAM * zone.weight_m3 / chambers
        for zone in zones
    ]
    return grams if sum(grams) > 0 else [1.0] * len(grams)


def _steps(
    zones: tuple[Zone, ...], whole: int, weights: list[float], mirrored: list[int], step_kg: float
) -> list[int]:
    """Pockets get their given grams to the nearest step; the chambers share what is left."""
    chambers = [n for n, zone in enumerate(zones) if zone.kind not in POCKETS]
    steps = [whole_steps(weight * GRAM, step_kg) for weight in weights]
    rest = whole - sum(steps[n] for n in range(len(zones)) if n not in chambers)
    inside = [weights[n] for n in chambers]
    if rest < 0 or not sum(inside) > 0:
        return shared_out(whole, weights, mirrored)
    # Chambers stand before the pockets, so their mirrors are numbered alike.
    for n, count in zip(chambers, shared_out(rest, inside, mirrored[: len(chambers)]), strict=True):
        steps[n] = count
    return steps


def _mirrored(zones: tuple[Zone, ...]) -> list[int]:
    """Which zone lies opposite of each: the same third of the strip as far from the other edge."""
    rows = max(zone.row for zone in zones)
    place = {(zone.kind, zone.row, zone.third): n for n, zone in enumerate(zones)}
    return [
        n if zone.kind in POCKETS else place[zone.kind, rows + 1 - zone.row, zone.third]
        for n, zone in enumerate(zones)
    ]


def _no_more(firsts: list[int], steps: list[int]) -> list[int]:
    """Rounding may put a step too many into a zone; what it may not hold goes to those with room."""
    held = [min(first, most) for first, most in zip(firsts, steps, strict=True)]
    left = sum(firsts) - sum(held)
    for n in sorted(range(len(held)), key=lambda n: held[n] - steps[n]):
        more = min(left, steps[n] - held[n])
        held[n] += more
        left -= more
    return held


def _turn(zone: Zone, design: Design) -> tuple[int, int, int]:
    """Chambers from one long edge across (from the head, if crosswise); short baffles from the far end.

    The port of short baffles is at the head: what lies far from it is filled while the way is free.
    """
    if zone.kind in POCKETS:
        return (1, 0, zone.kind == "collar")
    return (0, -zone.third, zone.row)
