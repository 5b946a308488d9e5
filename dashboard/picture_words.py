"""What do the pictures of one quilt say? A sentence, a text alternative and a table for each; plain facts.

Letters stand for candidates, so no typed name is in it.
"""

from collections.abc import Sequence
from html import escape
from itertools import pairwise
from math import isfinite, isinf

import numpy as np

from dashboard.close_up_figures import PlanScale
from dashboard.palette import LOFT_STEPS
from dashboard.words import NBSP, Units, number, said, span
from engine.fields.drift import Drift
from engine.picture.cold_spots import THIN_SHARE, ColdSpot
from engine.picture.plan import ThicknessPlan
from engine.picture.section import Section
from engine.units import MM

JUST_FULL_PERCENT = 0.5
NO_PART = 0.005
"""Less than this share more is said to be hardly any."""
AS_HARD = 1.05
IN_THE_MIDDLE_M = 10 * MM
NO_THINNER = f"no place is thinner than {said('percent', 100 * THIN_SHARE)} of the mean"
WHAT = {
    "along the seam": "along the seams",
    "along a quilting line": "along the quilting lines",
    "along a baffle": "along the baffles",
    "at a baffle's open end": "at the open ends of baffles",
    "between baffles": "between baffles",
}


def loft_sentence(letter: str, plan: ThicknessPlan, spots: Sequence[ColdSpot], units: Units) -> str:
    """How high it stands, and where it is thinnest under the sleeper."""
    mean, most = (
        said("bench length", value, units) for value in (plan.mean_m, float(np.nanmax(plan.thickness_m)))
    )
    begin = f"{letter} stands {mean} high on average and {most} at its highest."
    if not spots:
        return f"{begin} Under the sleeper {NO_THINNER}."
    first = spots[0]
    if first.thickness_m == 0:
        return f"{begin} Under the sleeper it is closed to nothing {WHAT[first.kind]}."
    thin, share = said("bench length", first.thickness_m, units), said("percent", 100 * first.share_of_mean)
    return f"{begin} Under the sleeper it is thinnest {WHAT[first.kind]}: {thin}, {share} of the mean."


def spot_words(spot: ColdSpot, units: Units) -> str:
    """Where a cold spot is: left of the middle, 430 mm from the head, at a baffle's open end."""
    across, along = _across(spot, units), _along(spot, units)
    if not spot.all_along:
        return f"{across}, {along}, {spot.kind}"
    return f"{spot.kind}, {along if spot.crosswise else across}"


def _across(spot: ColdSpot, units: Units) -> str:
    if abs(spot.off_middle_m) < IN_THE_MIDDLE_M:
        return "in the middle"
    off = said("bench length", abs(spot.off_middle_m), units)
    side = "left and right" if spot.both_sides else "left" if spot.off_middle_m < 0 else "right"
    return f"{off} {side} of the middle"


def _along(spot: ColdSpot, units: Units) -> str:
    ends = "from the head and from the foot" if spot.both_ends else "from the head"
    return f"{said('bench length', spot.from_head_m, units)} {ends}"


def spots_html(letter: str, spots: Sequence[ColdSpot], units: Units) -> str:
    """The numbered places of the drawing as a table."""
    if not spots:
        return f'<p class="lw-small lw-quiet">No cold spot: under the sleeper {NO_THINNER}.</p>'
    rows = "".join(
        f'<tr><th scope="row">{place}</th><td>{escape(spot_words(spot, units))}</td>'
        f'<td class="lw-num">{said("bench length", spot.thickness_m, units)}</td>'
        f'<td class="lw-num">{said("percent", 100 * spot.share_of_mean)}</td></tr>'
        for place, spot in enumerate(spots, start=1)
    )
    return (
        f'<table class="lw-table lw-spots"><caption class="lw-hidden">Cold spots of {letter}, the thinnest '
        'first</caption><thead><tr><th scope="col"><span class="lw-hidden">Number</span></th>'
        '<th scope="col">Cold spot</th><th scope="col" class="lw-num">Loft</th>'
        f'<th scope="col" class="lw-num">Of mean</th></tr></thead><tbody>{rows}</tbody></table>'
        '<p class="lw-small lw-quiet">Left and right as drawn, head on top.</p>'
    )


def key_html(scale: PlanScale, units: Units) -> str:
    """What the colours of the plan mean."""
    levels = scale.levels_m
    told = [f"under {said('bench length', levels[0], units)}"]
    told += [span("bench length", low, high, units) for low, high in pairwise(levels)]
    told.append(f"over {said('bench length', levels[-1], units)}")
    items = "".join(
        f'<li><span class="lw-swatch" style="background:{tone.css}" aria-hidden="true"></span>{text}</li>'
        for tone, text in zip(LOFT_STEPS, told, strict=True)
    )
    return (
        f'<ul class="lw-key-list lw-small" aria-label="Loft by colour, thin to thick">{items}</ul>'
        '<p class="lw-small lw-quiet">Lines: baffles; dashed: sewn through or quilted.</p>'
    )


def plan_alternative(letter: str, plan: ThicknessPlan, spots: Sequence[ColdSpot], units: Units) -> str:
    """The loft map for those who cannot see it."""
    size = (said("bench length", value, units) for value in (plan.outline.length_m, plan.outline.width_m))
    held = f"{len(plan.baffles)} baffles" if plan.baffles else f"{len(plan.sewn)} sewn lines"
    told = "; ".join(
        f"{place}: {spot_words(spot, units)}, {said('bench length', spot.thickness_m, units)}"
        for place, spot in enumerate(spots, start=1)
    )
    return (
        f"Loft map of {letter}, head on top, {' by '.join(size)}, {held}. "
        f"{loft_sentence(letter, plan, spots, units)} Cold spots: {told or 'none'}."
    )


def section_sentence(letter: str, section: Section, units: Units) -> str:
    """How thick one chamber is, how warm its skin side, and what slantwise heat adds."""
    thick, air = said("bench length", section.thickest_m, units), said("temperature", section.air_c, units)
    where = "at the baffles" if section.baffle else "where the faces meet"
    thin = said("bench length", section.thinnest_m, units)
    more = section.true_over_columns - 1
    slant = f"{number(100 * more)}{NBSP}% more" if more >= NO_PART else "hardly more"
    return (
        f"Cut through one chamber of {letter} in air of {air}: {thick} thick in the middle, {thin} {where}. "
        f"Its skin side is at {span('temperature', *section.inner_face_c, units)}; {slant} heat goes than "
        "straight across, because some runs slantwise to thin places."
    )


def section_alternative(letter: str, section: Section, levels_c: Sequence[float], units: Units) -> str:
    """The section for those who cannot see it."""
    low, high = float(np.min(section.field.temperature_c)), float(np.max(section.field.temperature_c))
    inside = ", ".join(said("temperature", level, units) for level in levels_c if low < level < high)
    return f"{section_sentence(letter, section, units)} Lines of even temperature at {inside or 'none'}."


def drift_sentence(letter: str, index: Drift | None) -> str:
    """How hard it is for fill to wander across and along, against none and against each other."""
    if index is None:
        return f"{letter} is filled with sheet insulation: it does not wander."
    across, along = index.across, index.along
    if isinf(across) and isinf(along):
        return f"Fill of {letter} cannot leave its chamber."
    if isinf(across):
        return f"Fill of {letter} cannot move across; along it moves {_against_none(along)}."
    if isinf(along):
        return f"Fill of {letter} cannot move along; across it moves {_against_none(across)}."
    ratio = index.across_over_along or 1.0
    if max(ratio, 1 / ratio) < AS_HARD:
        return f"Fill of {letter} moves as hard across as along: {_against_none(across)} both ways."
    harder, other = ("across", "along") if ratio > 1 else ("along", "across")
    return (
        f"Fill of {letter} moves {times(max(ratio, 1 / ratio))} harder {harder} than {other}: across "
        f"{_against_none(across)}, along {_against_none(along)}."
    )


def times(factor: float) -> str:
    """2.4 times, 10 times."""
    return f"{number(factor, 0 if factor >= 9.95 else 1, trim=True)}{NBSP}times"


def _against_none(index: float) -> str:
    if not isfinite(index):
        return "not at all"
    return (
        "as freely as without baffles" if index < AS_HARD else f"{times(index)} harder than without baffles"
    )


def fullness_sentence(overstuff_percent: float | None) -> str:
    """What the amount of fill does to wandering."""
    if overstuff_percent is None:
        return ""
    if abs(overstuff_percent) < JUST_FULL_PERCENT:
        return "Its chambers hold just what they take."
    if overstuff_percent < 0:
        held = said("percent", 100 + overstuff_percent)
        return f"It holds {held} of the down that its chambers take: loose fill wanders."
    return (
        f"Its chambers are overstuffed by {said('percent', overstuff_percent)}: fill that is pressed stays."
    )
