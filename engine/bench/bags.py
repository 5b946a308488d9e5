"""Out of which bag does each zone get its down, and what should be left in the bags?"""

from dataclasses import dataclass

from engine.bench.zones import Zone
from engine.formulas.cost import FILL_LOSS


@dataclass(frozen=True)
class ZoneFill:
    """One zone in the order of filling. Masses in kg, in whole steps of the scale."""

    order: int
    zone: Zone
    share: float
    """Of all down."""
    mass_kg: float
    first_kg: float
    """Put in before the night's rest."""
    back_kg: float
    """Kept back for it; put in where it turns out thin."""
    bags: tuple[tuple[int, float], ...]
    """For its first fill: number of the bag and what to take from it, loss included."""
    together_kg: float
    """Down in the quilt when this zone has its first fill."""


@dataclass(frozen=True)
class Bag:
    """One bag: what it weighs net when it is opened, and what should be left after each filling."""

    number: int
    size_kg: float
    taken_kg: float
    """For the first fill, loss included."""
    left_kg: float
    """When all zones have their first fill."""
    end_kg: float
    """When what was kept back is in the quilt too."""
    zones: tuple[str, ...]


def filled(
    zones: tuple[Zone, ...],
    order: list[int],
    steps: list[int],
    firsts: list[int],
    step_kg: float,
    sizes_kg: list[float],
) -> tuple[tuple[ZoneFill, ...], tuple[Bag, ...]]:
    """Zones in their order with the bags that they are filled from, and the bags; loss is taken along.

    Units   counts of the scale's step in all and before the rest, kg, kg (bags in the order they are opened)
    Source  definition
    """
    whole, fills, together = max(sum(steps), 1), list[ZoneFill](), 0.0
    left = list(sizes_kg)
    served: list[list[str]] = [[] for _ in sizes_kg]
    for turn, n in enumerate(order, start=1):
        parts = _poured(left, firsts[n] * step_kg * (1 + FILL_LOSS))
        for number, _ in parts:
            served[number - 1].append(zones[n].name)
        together += firsts[n] * step_kg
        fills.append(
            ZoneFill(
                turn,
                zones[n],
                steps[n] / whole,
                steps[n] * step_kg,
                firsts[n] * step_kg,
                (steps[n] - firsts[n]) * step_kg,
                parts,
                together,
            )
        )
    end = list(left)
    _poured(end, (sum(steps) - sum(firsts)) * step_kg * (1 + FILL_LOSS))
    rests = zip(sizes_kg, left, end, served, strict=True)
    bags = tuple(
        Bag(number, size, size - max(rest, 0.0), max(rest, 0.0), max(last, 0.0), tuple(names))
        for number, (size, rest, last, names) in enumerate(rests, start=1)
    )
    return tuple(fills), bags


def _poured(left_kg: list[float], need_kg: float) -> tuple[tuple[int, float], ...]:
    """Take so much out of the bags, one after another; number of each and what it gave."""
    parts = list[tuple[int, float]]()
    for index, held_kg in enumerate(left_kg):
        last = index == len(left_kg) - 1
        # Rounding to the step may ask for a whisker more than was bought: the last bag gives it.
        taken_kg = need_kg if last else min(need_kg, max(held_kg, 0.0))
        if taken_kg > 1e-9:
            parts.append((index + 1, taken_kg))
            left_kg[index] -= taken_kg
            need_kg -= taken_kg
    return tuple(parts)
