"""How is one quilt made up, how large is it, and where does its heat go? HTML, all text escaped."""

import base64
from collections.abc import Sequence
from html import escape

from dashboard.close_up_why import why_cost, why_sizes, why_volume, why_warmth, why_weight, why_work
from dashboard.palette import GROUND, QUIET, TEXT, Scheme
from dashboard.parts_table import MAKES, SMALL, Make
from dashboard.words import NBSP, SCORE, Units, number, said
from engine.draw.svg import to_svg
from engine.evaluate import Evaluation
from engine.export.plan import plan_drawing
from engine.formulas.cover import WHOLE
from engine.units import MM

WIDE_MM, NARROW_MM = 180.0, 92.0
"""Paper width of the plan: the letters keep their size and the quilt shrinks, so that a phone can read it."""
WHYS = {
    "Weight": why_weight,
    "Packed volume": why_volume,
    "Where the heat goes": why_warmth,
    "Cost, used": why_cost,
    "Work": why_work,
}
Row = tuple[str, str]

STYLE = """<style>
.lw-plan{container-type:inline-size} .lw-plan img{width:100%;height:auto;display:block}
.lw-plan .lw-narrow{display:none}
@container (max-width:560px){.lw-plan .lw-narrow{display:block} .lw-plan .lw-wide{display:none}}
.lw-heat{display:block;height:10px;background:var(--lw-accent);border-radius:2px;min-width:2px}
table.lw-table td.lw-heat-cell{width:40%;vertical-align:middle}
.lw-made{margin-top:1.25rem}
</style>"""


def plan_html(e: Evaluation, units: Units, scheme: Scheme) -> str:
    """The plan to scale, once for wide and once for narrow places; the page shows one of them."""
    ink, quiet, ground = (tone.on(scheme) for tone in (TEXT, QUIET, GROUND))
    images = ""
    for width_mm, name in ((WIDE_MM, "lw-wide"), (NARROW_MM, "lw-narrow")):
        drawing = plan_drawing(e.design, lambda length_m: said("bench length", length_m, units), width_mm)
        code = base64.b64encode(to_svg(drawing, ink, quiet, ground).encode()).decode()
        images += (
            f'<img class="{name}" src="data:image/svg+xml;base64,{code}" alt="{escape(drawing.description)}" '
            f'style="background:{ground}">'
        )
    return f'<div class="lw-plan">{images}</div>'


def sizes_html(e: Evaluation, units: Units) -> str:
    """Fill, loft, sizes as cut and as finished, baffles and chambers, and why."""
    return _table("Fill, loft and sizes", [*_fill_rows(e, units), *_size_rows(e, units)]) + why_sizes(
        e, units
    )


def _fill_rows(e: Evaluation, units: Units) -> list[Row]:
    d = e.derived
    rows = [
        ("Loft, mean", said("bench length", d.loft_m, units)),
        ("Loft, middle of a chamber", said("bench length", d.loft_middle_m, units)),
        ("Fill", said("mass", d.fill_kg, units)),
    ]
    if d.overstuff_percent is not None:
        loft = e.score.loft
        rows.append(("Overstuff", said("percent", d.overstuff_percent)))
        tight = f"{number(float(loft.tightness), 2)} times as dense as in the fill-power test"
        rows.append(("How tight", tight))
        bulge = (said("bench length", float(height), units) for height in (loft.bulge_m, loft.bench_bulge_m))
        rows.append(("Bulge in a chamber, both sides", "{}; flat on the bench at most {}".format(*bulge)))
    if d.fill_by_rule_kg is not None:
        rule = said("mass", d.fill_by_rule_kg, units)
        rows.append(("Fill by the trade's short rule", f"{rule} (area × baffle height ÷ fill power)"))
        rows.append(("Overstuff by that rule", said("percent", d.overstuff_by_rule_percent)))
    if d.bags:
        bags = ", ".join(f"{count} × {said('mass', size_g / 1000, units)}" for size_g, count in d.bags)
        rows.append(("Bags of down", bags))
    return [
        *rows,
        ("Fill per covered area", said("areal mass", d.fill_per_area_kg_m2, units)),
        ("Tare, all but the fill", said("mass", d.tare_kg, units)),
    ]


def _size_rows(e: Evaluation, units: Units) -> list[Row]:
    d, rows = e.derived, []
    for side, cut, done in (
        ("Inner", d.inner_cut_m, d.inner_finished_m),
        ("Outer", d.outer_cut_m, d.outer_finished_m),
    ):
        for measure, cut_m, done_m in zip(("length", "width"), cut, done, strict=True):
            rows.append((f"{side} shell, {measure}", cut_to_finish(cut_m, done_m, units)))
    if d.gathered_width_m is not None:
        rows.append(("Ends gathered to", said("bench length", d.gathered_width_m, units)))
    if d.baffle_count:
        what = "Quilting lines" if e.design.baffles.layout == "sewn-through" else "Baffles"
        rows.append((what, number(d.baffle_count)))
    if d.baffle_cut_width_m is not None:
        height_m = float(e.quantities.baffle_height_m)
        rows.append(("Baffle strips, height", cut_to_finish(d.baffle_cut_width_m, height_m, units)))
    if d.chamber_count > 1:
        inner, outer = (
            said("bench length", width, units) for width in (d.chamber_inner_m, d.chamber_outer_m)
        )
        rows.append(("Chambers", f"{number(d.chamber_count)}, {inner} wide inside, {outer} outside"))
        rows.append(("Chamber width", asked_and_made(e, units)))
    return rows


def asked_and_made(e: Evaluation, units: Units) -> str:
    """The chamber width that was asked for and the one that closes whole chambers."""
    asked = said("bench length", e.design.baffles.spacing_mm * MM, units)
    made = said("bench length", e.derived.chamber_inner_m, units)
    return f"{asked} asked; {made} closes {number(e.derived.chamber_count)} chambers"


def cut_to_finish(cut_m: float, finished_m: float, units: Units) -> str:
    """A size as it is cut and as it ends up: cut 1146 → finish at 1090 mm."""
    cut, finished = said("bench length", cut_m, units), said("bench length", finished_m, units)
    return f"cut {cut.rpartition(NBSP)[0]} → finish at {finished}"


def fit_html(e: Evaluation, units: Units) -> str:
    """Whether it fits this sleeper, in a sentence, and the sizes behind it."""
    f = e.fit
    half = "underside" if e.design.kind == "underquilt" else "top side"
    verdict = "It fits this sleeper" if f.fits else "It is too small for this sleeper"
    rows = [
        ("Finished length", _against(f.length_m, f.least_length_m, f.short, units)),
        ("Finished width", _against(f.width_m, f.least_width_m, f.narrow, units)),
        (f"Covered of the {half}", said("percent", 100 * f.half_cover)),
        ("Covered of the whole body", said("percent", 100 * f.body_cover)),
    ]
    sentence = f"{verdict}: {said('percent', 100 * f.half_cover)} of the {half} is covered."
    return f"<p>{escape(sentence)}</p>" + _table("Fit", rows)


def _against(have_m: float, least_m: float, small: bool, units: Units) -> str:
    """A size beside its least; `small` where the engine finds it too small."""
    told = f"{said('bench length', have_m, units)} (at least {said('bench length', least_m, units)}"
    if small:
        return f"{told}: too small)"
    if said("bench length", have_m, units) != said("bench length", least_m, units) and have_m < least_m:
        return f"{told}; within the {said('percent', 100 * (1 - WHOLE))} that makers do not feel, ours)"
    return f"{told})"


def largest_path(e: Evaluation) -> float:
    """Heat in W on the path that most of it takes."""
    return max(float(watts) for watts in e.score.heat_parts_w.values())


def heat_html(e: Evaluation, units: Units, scale_w: float | None = None) -> str:
    """Paths of heat, the largest first: a sentence, a bar each, watts and share; a full bar is `scale_w`."""
    paths = sorted(
        ((name, float(watts)) for name, watts in e.score.heat_parts_w.items() if float(watts) > SMALL),
        key=lambda path: -path[1],
    )
    whole, most = sum(watts for _, watts in paths), scale_w or paths[0][1]
    rows = "".join(_heat_row(name, watts, whole, most) for name, watts in paths)
    air, first = said("temperature", e.night.air_c, units), paths[0]
    sentence = (
        f"At {air} most heat goes {first[0]}: {said('power', first[1])} of {said('power', whole)}, "
        "for a standard woman whose skin feels neither warm nor cool."
    )
    return (
        f"<p>{escape(sentence)}</p>"
        '<table class="lw-table"><caption class="lw-hidden">Where the heat goes</caption>'
        '<thead><tr><th scope="col">Path</th><th scope="col" class="lw-num">Heat</th>'
        '<th scope="col" class="lw-num">Share</th><td aria-hidden="true"></td></tr></thead>'
        f"<tbody>{rows}</tbody></table>" + why_warmth(e, units)
    )


def _heat_row(name: str, watts: float, whole: float, most: float) -> str:
    return (
        f'<tr><th scope="row">{escape(name.capitalize())}</th>'
        f'<td class="lw-num">{said("power", watts)}</td>'
        f'<td class="lw-num">{said("percent", 100 * watts / whole)}</td>'
        '<td class="lw-heat-cell" aria-hidden="true">'
        f'<span class="lw-heat" style="width:{100 * watts / most:.1f}%"></span></td></tr>'
    )


def made_up_html(e: Evaluation, units: Units, currency: str) -> str:
    """Weight, packed volume, cost and work by their parts, each with its band and its why."""
    return "".join(_make_html(e, make, units, currency) for make in MAKES if make.sum_of is not None)


def _make_html(e: Evaluation, make: Make, units: Units, currency: str) -> str:
    assert make.sum_of is not None
    words, band = SCORE[make.sum_of], e.bands[make.sum_of]
    parts = {name: float(value) for name, value in make.parts(e).items() if float(value) > SMALL}
    whole = sum(parts.values()) or 1.0
    rows = [
        (name.capitalize(), make.said(value, units, currency), said("percent", 100 * value / whole))
        for name, value in parts.items()
    ]
    body = "".join(
        f'<tr><th scope="row">{escape(name)}</th><td class="lw-num">{escape(value)}</td>'
        f'<td class="lw-num">{share}</td></tr>'
        for name, value, share in rows
    )
    span = words.band(band.low, band.high, units, currency)
    whole_text = escape(words.value(band.value, units, currency))
    return (
        '<section class="lw-made">'
        f'<table class="lw-table"><caption class="lw-hidden">{escape(make.title)} by part</caption>'
        f'<thead><tr><th scope="col">{escape(make.title)}</th><th scope="col" class="lw-num">Part</th>'
        f'<th scope="col" class="lw-num">Share</th></tr></thead><tbody>{body}'
        f'<tr class="lw-sum"><th scope="row">Sum</th><td class="lw-num">{whole_text}</td><td></td></tr>'
        "</tbody></table>"
        f'<p class="lw-small lw-quiet">9 in 10: {escape(span)}. {escape(make.note)}</p>'
        f"{WHYS[make.title](e, units)}</section>"
    )


def _table(caption: str, rows: Sequence[Row]) -> str:
    body = "".join(
        f'<tr><th scope="row">{escape(name)}</th><td>{escape(value)}</td></tr>' for name, value in rows
    )
    return (
        f'<table class="lw-table"><caption class="lw-hidden">{escape(caption)}</caption>'
        f"<tbody>{body}</tbody></table>"
    )
