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
    """Number of the bag and what to take from it, loss included."""
    together_kg: float
    """Down in the quilt when this zone has its first fill."""


@dataclass(frozen=True)
class Bag:
    """One bag: what it weighs net when it is opened, and what should be left at the end."""

    number: int
    size_kg: float
    taken_kg: float
    left_kg: float
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
    left, bag = list(sizes_kg), 0
    served: list[list[str]] = [[] for _ in sizes_kg]
    for turn, n in enumerate(order, start=1):
        need, parts = steps[n] * step_kg * (1 + FILL_LOSS), list[tuple[int, float]]()
        while need > 1e-9 and bag < len(left):
            # Rounding to the step may ask for a whisker more than was bought: the last bag gives it.
            taken = need if bag == len(left) - 1 else min(need, left[bag])
            if taken > 1e-9:
                parts.append((bag + 1, taken))
                served[bag].append(zones[n].name)
            left[bag] -= taken
            need -= taken
            if left[bag] <= 1e-9 and bag < len(left) - 1:
                bag += 1
        together += firsts[n] * step_kg
        fills.append(
            ZoneFill(
                turn,
                zones[n],
                steps[n] / whole,
                steps[n] * step_kg,
                firsts[n] * step_kg,
                (steps[n] - firsts[n]) * step_kg,
                tuple(parts),
                together,
            )
        )
    bags = tuple(
        Bag(number + 1, size, size - max(rest, 0.0), max(rest, 0.0), tuple(names))
        for number, (size, rest, names) in enumerate(zip(sizes_kg, left, served, strict=True))
    )
    return tuple(fills), bags
