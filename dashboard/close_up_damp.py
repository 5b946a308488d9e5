"""How much of a night's damp stays, and how does air leave and come back? HTML, all text escaped."""

from collections.abc import Sequence
from html import escape
from math import isinf

from dashboard.close_up_why import area, why
from dashboard.words import NBSP, Units, duration, kilopascals, number, said, span
from engine import air, damp
from engine.evaluate import Evaluation
from engine.units import GRAM, HOUR, MINUTE

NOTHING_KG = 1.5 * GRAM
"""Less than this is said in words: in ounces it would read as nought."""
"""What squeezed down takes to straighten (common practice, no source)."""


def moisture_html(e: Evaluation, units: Units) -> str:
    """How much of a night's damp stays and where: a sentence, a table, and why."""
    d = e.damp
    rows = [(place.capitalize(), kg) for place, kg in d.kept_by_place_kg.items()]
    rows.append(("Goes out into the night", d.into_kg - d.kept_kg))
    told = [
        (place, said("mass", kg, units), said("percent", 100 * kg / d.into_kg) if d.into_kg > 0 else "")
        for place, kg in rows
    ]
    return (
        f"<p>{escape(_moisture_sentence(e, units))}</p>"
        + columns("Where a night's damp stays", ("Place", "Damp", "Share"), told)
        + '<p class="lw-small lw-quiet">An upper estimate: no air is exchanged at the edges. What damp does '
        "to the loft is not known, and not counted in the warmth.</p>" + _why_moisture(e, units)
    )


def _moisture_sentence(e: Evaluation, units: Units) -> str:
    d = e.damp
    told = (
        f"In {said('work', d.hours)} at {said('temperature', e.night.air_c, units)} about "
        f"{said('mass', d.into_kg, units)} of damp comes off the skin under this quilt"
    )
    if d.kept_high_kg < NOTHING_KG:
        told += ", and next to none of it stays."
    elif d.kept_kg < NOTHING_KG:
        told += f", and hardly any stays: up to {said('mass', d.kept_high_kg, units)} where skin is wetter."
    else:
        band = span("mass", d.kept_low_kg, d.kept_high_kg, units)
        frost = ", some of it as frost" if d.frost else ""
        told += (
            f"; about {said('mass', d.kept_kg, units)} of it stays ({band}, by the skin), most of it "
            f"{d.wettest}{frost}."
        )
        if d.share_of_fill is not None and d.wettest != damp.PLACES[0]:
            told += f" That is {said('percent', 100 * d.share_of_fill)} of the fill's weight."
    if d.clammy:
        told += (
            f" Between skin and inner shell the air is at {said('percent', d.microclimate_percent)}: clammy."
        )
    return told


def _why_moisture(e: Evaluation, units: Units) -> str:
    d, layers = e.damp, e.damp.layers
    return why(
        "night moisture",
        "Damp through a layer = difference of vapour pressure ÷ its resistance. Where the air would be more "
        "than full, what comes in and does not go on stays. Shells, clothes and skin count as so much still "
        "air.",
        [
            ("body under this quilt", area(d.area_m2, units)),
            ("hours in bed", said("work", d.hours)),
            ("damp of the air outside", said("percent", layers.humidity_percent)),
            ("wet skin", said("temperature", damp.SKIN_C, units)),
            ("skin, as still air", f"{_metres(damp.SKIN_SD_M)} ({_metres(damp.WETTER_SKIN_SD_M)} if wetter, "
                                   f"{_metres(damp.DRIER_SKIN_SD_M)} if drier)"),
            ("inner shell, as still air", _metres(layers.inner_sd_m)),
            ("fill, thickness and R", f"{said('bench length', layers.fill_m, units)}, "
                                      f"{said('resistance', layers.fill_r_m2k_w)}"),
            ("outer shell, as still air", _metres(layers.outer_sd_m)),
            ("R of clothing and of the film of air", f"{said('resistance', layers.clothing_r_m2k_w)} and "
                                                    f"{said('resistance', layers.film_r_m2k_w)}"),
        ],
        "ISO 13788:2012, clause 6; the skin as its source is ours, its wetter end ISO 7730; the cloths' "
        "resistance to vapour is from memory",
        "air exchanged at the edges and through the shells, breath, sweat, what the fill itself takes up, "
        "and drying by day",
    )  # fmt: skip


def _metres(value_m: float) -> str:
    return f"{number(value_m, 3, trim=True)}{NBSP}m"


def air_html(e: Evaluation, units: Units) -> str:
    """How fast air leaves and comes back, and what stuffing pulls at; one sentence where nothing is tight."""
    a = e.air
    if not a.airtight_sides:
        return (
            "<p>Both shells let air through: a gentle hand presses it out in "
            f"{duration(a.squeeze_out_s)}, and it is back in {duration(a.ruler_s)}.</p>"
        ) + _why_air(e, units)
    rows = [
        (f"Pressed out by a gentle hand, {kilopascals(air.GENTLE_HAND_PA)}", _time(a.squeeze_out_s)),
        ("Lofts again, to the eye", _time(a.eye_s)),
        ("Lofts again, to the ruler", _to_the_ruler(a)),
    ]
    if a.limit_matters:
        rows += [
            ("Baffle joints hold", f"{number(a.peel_n_m)}{NBSP}N/m"),
            (
                f"Air shut in pulls, stuffed at {kilopascals(air.STUFFING_PA)}",
                f"{number(a.foot_load_n_m)}{NBSP}N/m",
            ),
            ("Squeeze limit", kilopascals(a.squeeze_limit_pa)),
        ]
    sentences = " ".join((_air_sentence(e), _limit_sentence(e))).strip()
    return f"<p>{escape(sentences)}</p>" + columns("Air", ("What", "Value"), rows) + _why_air(e, units)


def _hours(span_s: tuple[float, float]) -> str:
    low, high = (number(seconds / HOUR) for seconds in span_s)
    return f"{low} to {high}{NBSP}h"


def _to_the_ruler(a: air.Air) -> str:
    """When the air is back, and the down has straightened."""
    if a.no_way_out:
        return _time(a.ruler_s)
    return f"{_hours(a.to_the_ruler_s)}, of it the air {duration(a.ruler_s)}"


def _air_sentence(e: Evaluation) -> str:
    a = e.air
    if a.no_way_out:
        return (
            "Both shells are airtight and nothing lets the air through: it can neither leave to pack the "
            "quilt nor come back to loft it."
        )
    if a.shut_in:
        through = "the end panels" if a.panels_m3_s > a.shells_m3_s else "the little that the shells let pass"
    else:
        through = "the outer shell" if a.airtight_sides == ("inner",) else "the inner shell"
    return (
        f"Air goes through {through}: out in {duration(a.squeeze_out_s)} under a gentle hand, back to the "
        f"eye in {duration(a.eye_s)}. Down that was squeezed for long takes {_hours(air.STRAIGHTENS_S)} to "
        "straighten."
    )


def _limit_sentence(e: Evaluation) -> str:
    a = e.air
    if not a.limit_matters:
        return ""
    limit, push = kilopascals(a.squeeze_limit_pa), kilopascals(air.STUFFING_PA)
    if a.passes_stuffing:
        return f"The baffles hold a push into the sack ({push}) even with the air shut in: up to {limit}."
    if a.no_way_out:
        return f"Pressed by more than {limit} it pulls the baffles off, and a push into the sack is {push}."
    return (
        f"Let the air out before you stuff it, and never roll it towards a closed end: from {limit} on, air "
        f"that is shut in pulls the baffles off, and a push into the sack is {push}."
    )


def _why_air(e: Evaluation, units: Units) -> str:
    a = e.air
    inputs = [
        ("air in the quilt", said("volume", a.volume_m3, units)),
        ("end panels", area(a.panel_area_m2, units) if a.panel_area_m2 > 0 else "none"),
        ("flow through the end panels at 100" + NBSP + "Pa", _flow(a.panels_m3_s)),
        ("flow through both shells at 100" + NBSP + "Pa", _flow(a.shells_m3_s)),
        ("to the eye and to the ruler", f"{said('percent', 100 * air.TO_THE_EYE)} and "
                                        f"{said('percent', 100 * air.TO_THE_RULER)} of the loft"),
    ]  # fmt: skip
    if a.tributary_m > 0:
        inputs.append(("width that a metre of baffle holds", said("bench length", a.tributary_m, units)))
    return why(
        "air",
        "Time out = volume ÷ flow at that pressure. Time back: the fill draws air in by its own spring, "
        "which is spent when the loft is back. Squeeze limit = strength of a metre of joint ÷ the width that "
        "it holds.",
        inputs,
        "air permeability as in ISO 9237:1995; spring as for the packed volume; pressures, joints and tape "
        "on woven cloth: common practice or ours, no source",
        "needle holes, folds that close a vent, the edges' own joints, and how down straightens",
    )


def _time(seconds: float) -> str:
    return "never" if isinf(seconds) else duration(seconds)


def _flow(flow_m3_s: float) -> str:
    litres_a_minute = flow_m3_s * 1000 * MINUTE
    return f"{number(litres_a_minute, 0 if litres_a_minute >= 10 else 1)}{NBSP}L/min"


def columns(caption: str, head: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    """A small table: what a row is about on the left, its figures on the right."""
    first, *others = (escape(text) for text in head)
    top = f'<th scope="col">{first}</th>' + "".join(
        f'<th scope="col" class="lw-num">{text}</th>' for text in others
    )
    body = "".join(
        f'<tr><th scope="row">{escape(row[0])}</th>'
        + "".join(f'<td class="lw-num">{escape(cell)}</td>' for cell in row[1:])
        + "</tr>"
        for row in rows
    )
    return (
        f'<table class="lw-table"><caption class="lw-hidden">{escape(caption)}</caption>'
        f"<thead><tr>{top}</tr></thead><tbody>{body}</tbody></table>"
    )
