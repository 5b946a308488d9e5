"""Is it large, full and warm enough: size, layout, stuffing, and the night it is meant for."""

from collections.abc import Iterator

import numpy as np
from pydantic import ValidationError

from engine.cautions.caution import Case, Caution, Change, Check
from engine.design import Outline
from engine.formulas import cover, heat
from engine.score import RESISTANCE_AIR_C
from engine.units import GRAM, GSM, MM

LEAST_SPACING_RATIO, MOST_SPACING_RATIO = 1.8, 2.5
LEAST_SPACING_MM, MOST_SPACING_MM = 100.0, 600.0
SEWN_THROUGH_MOST_KG_M2 = 60 * GSM
UNDERSTUFFED = 0.95
MOST_OVERSTUFF = 1.65
THINNEST_FILL_KG_M3 = 1.5
DENSEST_FILL_KG_M3 = 15.0
"""Common practice without a source; the densities bound the range of the conduction model."""
ALIKE_K = 1.0
"""Temperatures nearer than this may read the same in whole degrees."""


def _enlarged(case: Case, name: str, least_mm: float) -> dict[str, Change]:
    """The size in whole centimetres, or no offer where no shell is cut so large."""
    size_mm = float(np.ceil(least_mm / 10) * 10)
    try:
        Outline.model_validate(case.design.outline.model_dump() | {name: size_mm})
    except ValidationError:
        return {}
    return {f"outline.{name}": size_mm}


def _size(case: Case) -> Iterator[Caution]:
    fit = case.fit
    if fit.narrow:
        wider = case.design.outline.width_mm * fit.least_width_m / fit.width_m
        yield Caution(
            "too narrow for the sleeper",
            "mind",
            "outline.width_mm",
            "Finished it is {have} wide; this sleeper needs {need}.",
            "Make it at least {cut} wide.",
            {
                "have": (fit.width_m, "bench_length"),
                "need": (fit.least_width_m, "bench_length"),
                "cut": (wider * MM, "bench_length"),
            },
            _enlarged(case, "width_mm", wider),
        )
    if fit.short:
        under = case.design.kind == "underquilt"
        longer = case.design.outline.length_mm * fit.least_length_m / fit.length_m
        yield Caution(
            "too short for the sleeper",
            "note" if under else "mind",
            "outline.length_mm",
            "Finished it is {have} long; to cover this sleeper whole it needs {need}."
            + (" The pad under the legs is counted in weight and cost." if under else ""),
            "Keep the pad, or make it {cut} long." if under else "Make it at least {cut} long.",
            {
                "have": (fit.length_m, "bench_length"),
                "need": (fit.least_length_m, "bench_length"),
                "cut": (longer * MM, "bench_length"),
            },
            _enlarged(case, "length_mm", longer),
        )


def _layout(case: Case) -> Iterator[Caution]:
    baffles, kind = case.design.baffles, case.design.kind
    if not case.down:
        return
    if baffles.layout == "full, crosswise" and kind == "underquilt":
        yield Caution(
            "crosswise baffles alone in an underquilt",
            "mind",
            "baffles.layout",
            "Crosswise baffles in an underquilt: the down will gather in the middle.",
            "Run the baffles lengthwise, or stagger them.",
            change={"baffles.layout": "full, lengthwise"},
        )
    if baffles.layout == "none":
        yield Caution(
            "no baffles",
            "stop",
            "baffles.layout",
            "Loose down without baffles slides to the lowest place.",
            "Add baffles, or take sheet insulation.",
            change={"baffles.layout": "full, lengthwise"},
        )
    yield from _spacing(case)


def _spacing(case: Case) -> Iterator[Caution]:
    baffles = case.design.baffles
    if baffles.layout.startswith("full"):
        ratio = baffles.spacing_mm / baffles.height_mm
        if not LEAST_SPACING_RATIO <= ratio <= MOST_SPACING_RATIO:
            wide = ratio > MOST_SPACING_RATIO
            better = min(max(2.2 * baffles.height_mm, LEAST_SPACING_MM), MOST_SPACING_MM)
            # Low baffles stay out of proportion: no chamber is made narrower than 100 mm for them.
            if wide and better > baffles.spacing_mm - 1:
                return
            yield Caution(
                "spacing out of proportion",
                "mind" if wide else "note",
                "baffles.spacing_mm",
                "Chambers are {ratio} times as wide as high; "
                + (
                    "wider than 2.5 bulges and shifts."
                    if wide
                    else "closer than 1.8 costs hours and grams for no gain."
                ),
                "Make the chambers about {better} wide.",
                {"ratio": (ratio, "number"), "better": (better * MM, "bench_length")},
                {"baffles.spacing_mm": float(round(better))},
            )
    if baffles.layout == "sewn-through":
        areal = float(case.score.loft.down_kg / case.score.loft.finished_area_m2)
        if areal > SEWN_THROUGH_MOST_KG_M2:
            yield Caution(
                "too much down for sewn-through",
                "mind",
                _fill_field(case),
                "{areal} of down between quilting lines; above about {most} they go hard and draw in.",
                "Use less down, or baffles.",
                {"areal": (areal, "areal_mass"), "most": (SEWN_THROUGH_MOST_KG_M2, "areal_mass")},
            )


def _fill_field(case: Case) -> str:
    return "fill.overstuff_percent" if case.design.fill.rule == "overstuff" else "fill.grams"


def _stuffing(case: Case) -> Iterator[Caution]:
    if not case.down:
        return
    loft = case.score.loft
    fullness, density = float(loft.fullness), float(loft.density_kg_m3)
    if fullness < UNDERSTUFFED:
        needed_kg = float(loft.nominal_volume_m3 / case.quantities.fill_power_m3_kg)
        yield Caution(
            "understuffed chambers",
            "mind",
            _fill_field(case),
            "The fill may wander: the chambers hold {share} % of the down that they need.",
            "Add {more}, or lower the baffles.",
            {"share": (100 * fullness, "number"), "more": (needed_kg - float(loft.down_kg), "mass")},
            {"fill.overstuff_percent": 15.0}
            if case.design.fill.rule == "overstuff"
            else {"fill.grams": float(np.ceil(needed_kg / GRAM))},
        )
    if fullness > MOST_OVERSTUFF:
        yield Caution(
            "overstuffed chambers",
            "mind",
            _fill_field(case),
            "{over} % overstuff: above 60 to 70 % it buys weight and stiffness.",
            "Take less down or higher baffles.",
            {"over": (100 * (fullness - 1), "number")},
        )
    if not THINNEST_FILL_KG_M3 <= density <= DENSEST_FILL_KG_M3:
        yield Caution(
            "fill density out of the model's range",
            "note",
            "fill",
            "The fill stands at {density} kg/m³; the estimate of warmth holds from 1.5 to 15 kg/m³.",
            "Read the temperatures with more doubt.",
            {"density": (density, "number")},
        )


def _map(case: Case) -> Iterator[Caution]:
    loft, q = case.score.loft, case.quantities
    drawn, allowed = float(loft.draw_in_for_baffles), float(q.draw_in_allowed)
    if drawn > allowed:
        yield Caution(
            "cut too small for the baffles",
            "mind",
            "baffles.height_mm",
            "The shells must draw in by {drawn} % only to let the baffles stand; makers allow {allowed} %.",
            "Lower the baffles, let them run further, or cut the outer shell larger.",
            {"drawn": (100 * drawn, "number"), "allowed": (100 * allowed, "number")},
        )
    if q.plan.coarse > 0:
        yield Caution(
            "chambers narrower than the loft map resolves",
            "note",
            "baffles.spacing_mm",
            "The narrowest chamber is small beside the quilt; its loft is known to a few percent only.",
            "Read loft and warmth with more doubt, or make the chambers wider.",
            {},
        )


def _warmer(case: Case) -> str:
    """What helps first: what costs nothing, then what this kind of quilt is made of."""
    snug = "" if case.night.fit == "snug all round" else "Hang it snug first. "
    if not case.down:
        return snug + "Add a layer, or wear more."
    through = case.design.baffles.layout == "sewn-through"
    return snug + ("Use baffles, or wear more." if through else "Raise the baffles, add down, or wear more.")


def _kind(case: Case) -> Iterator[Caution]:
    design = case.design
    if not case.down and design.baffles.layout not in ("none", "sewn-through"):
        yield Caution(
            "baffles in a quilt of sheet insulation",
            "mind",
            "baffles.layout",
            "Sheet insulation lies by itself; baffles of {height} only hold empty air and are paid for.",
            "Leave the baffles out; quilt the sheet every 300 to 600 mm if it asks for it.",
            {"height": (design.baffles.height_mm * MM, "bench_length")},
            {"baffles.layout": "none"},
        )
    hanging = [item.good for item in design.suspension if _hangs(case, item.good)]
    if design.kind == "top quilt" and hanging:
        yield Caution(
            "suspension on a top quilt",
            "note",
            "suspension",
            "Cords and hooks hang an underquilt; here they are weighed and paid for, and hold nothing.",
            "Take them out, or make it an underquilt.",
            {},
        )


def _hangs(case: Case, good: str) -> bool:
    return case.catalogue.hardware_item(good).use == "suspension"


def _rating(case: Case) -> Iterator[Caution]:
    comfort, limit, air = float(case.score.comfort_c), float(case.score.limit_c), case.night.air_c
    if comfort > air:
        told = "Comfortable down to {comfort}, and your night is {air}."
        if comfort - air < ALIKE_K:
            told = "Comfortable down to {comfort}, just above your night of {air}."
        if limit > air:
            how = "just above it" if limit - air < ALIKE_K else "above it too"
            told += f" Its limit, {{limit}}, is {how}: do not count on it."
        yield Caution(
            "rating above the night's temperature",
            "mind",
            "baffles.height_mm",
            told,
            _warmer(case),
            {
                "comfort": (comfort, "temperature"),
                "air": (air, "temperature"),
                "limit": (limit, "temperature"),
            },
        )
    other = case.night.other_half_r_m2k_w
    film = heat.outside_film_resistance(float(case.quantities.wind_m_s), RESISTANCE_AIR_C)
    # Like the other half's R, without clothing and the film of air.
    quilt = float(case.score.resistance_m2k_w - case.quantities.clothing_r_m2k_w - film)
    if case.night.other_half == "own R" and other + 0.2 < quilt:
        yield Caution(
            "rated colder than the cover elsewhere",
            "mind",
            "night.other_half_r_m2k_w",
            "What covers the other half holds {other}, this quilt {quilt}: the other half now sets "
            "the temperature.",
            "Warm the other half first; grams put here are wasted.",
            {"other": (other, "resistance"), "quilt": (quilt, "resistance")},
        )
    if (
        case.fit.half_cover < cover.WHOLE
        and case.design.kind == "underquilt"
        and case.night.beyond.r_m2k_w < 0.1
    ):
        yield Caution(
            "nothing where the quilt does not reach",
            "mind",
            "night.beyond.r_m2k_w",
            "{share} % of the underside lies on the bare hammock.",
            "Put a pad of 0.15 m²K/W or more there.",
            {"share": (100 * (1 - case.fit.half_cover), "number")},
        )


CHECKS: tuple[Check, ...] = (_size, _layout, _stuffing, _map, _kind, _rating)
