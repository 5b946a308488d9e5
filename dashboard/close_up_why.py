"""Why this number? Each figure's formula in words, its inputs, its source, and what it leaves out."""

from collections.abc import Sequence
from html import escape
from urllib.parse import urlencode

from dashboard import session
from dashboard.help_units import everyday
from dashboard.words import NBSP, Units, number, said
from engine.evaluate import Evaluation
from engine.formulas import body, cost, labour, packing
from engine.quantities import SIDE_ALLOWANCE_M, WIND_M_S
from engine.score import RESISTANCE_AIR_C
from engine.units import YARD

Input = tuple[str, str]


def why(figure: str, formula: str, inputs: Sequence[Input], source: str, omits: str) -> str:
    """One folded explanation; `figure` names it for those who hear only the summary."""
    items = "".join(f"<li>{escape(name)}: {escape(value)}</li>" for name, value in inputs)
    return (
        f'<details class="lw-why"><summary>Why this number? <span class="lw-hidden">{escape(figure)}</span>'
        f"</summary><p>{escape(formula)}</p><ul>{items}</ul>"
        f"<p>Source: {escape(source)}. Left out: {escape(omits)}.</p>{_method_link(figure)}</details>"
    )


def _method_link(figure: str) -> str:
    """To the page that says how all of it is computed; in a tab of its own, so that Undo keeps its steps."""
    query = f"?{urlencode({'d': session.token()})}" if session.token() else ""
    return (
        f'<p><a href="method{query}" target="_blank">How far to believe it: Method (new tab)'
        f'<span class="lw-hidden">, from {escape(figure)}</span></a></p>'
    )


def why_sizes(e: Evaluation, units: Units) -> str:
    """Fill, loft and sizes."""
    q, loft, fill = e.quantities, e.score.loft, e.design.fill
    inputs = [
        ("inner shell inside its seams", area(float(loft.inner_area_m2), units)),
        ("finished area", area(float(loft.finished_area_m2), units)),
        ("height that the baffles hold", said("bench length", float(q.baffle_height_m), units)),
        ("draw-in of the bulging chambers", said("percent", 100 * float(loft.draw_in))),
        ("allowance along the sides", said("bench length", SIDE_ALLOWANCE_M, units)),
        ("allowance at the ends", said("bench length", float(q.end_allowance_m), units)),
    ]
    if e.derived.overstuff_percent is None:
        formula = (
            "Fill = area × layers × areal mass. Loft is that of the layers, less what edges and quilting "
            "lines pinch."
        )
        inputs += [("layers", number(fill.layers))]
    else:
        amount = (
            "chamber volume × (1 + overstuff) ÷ the volume that a gram takes"
            if fill.rule == "overstuff"
            else "what you gave"
        )
        formula = (
            f"Fill = {amount}. Thickness between baffles and edges follows from the loft map; the fill first "
            "raises the baffles, then lets both faces bulge until the cut is used up, then gets denser. Loft "
            "is its volume over the finished area. Finished size = drawn size − draw-in − stitch pucker."
        )
        inputs += [
            ("nominal chamber volume", said("volume", float(loft.nominal_volume_m3), units)),
            ("overstuff", said("percent", e.derived.overstuff_percent)),
            ("density of the fill in the quilt", f"{number(float(loft.density_kg_m3), 1)}{NBSP}kg/m³"),
            ("the baffles alone hold", said("volume", float(loft.base_volume_m3), units)),
            ("the cut allows", said("volume", float(loft.largest_volume_m3), units)),
        ]
    if e.design.cut.kind == "differential":
        formula += " Outer size = inner size + wrap angle × baffle height."
        inputs += [("wrap across", f"{number(e.design.cut.wrap_across_rad, 2)}{NBSP}rad")]
    source = (
        "membrane between its supports (Laplace and Poisson equations), arcs of sewn channels by definition; "
        "allowances and draw-in: common practice, no source"
    )
    return why(
        "loft and sizes", formula, inputs, source, "sag by its own weight, damp, age, and down that wanders"
    )


def area(value_m2: float, units: Units) -> str:
    """An area: the square of the length that cloth is sold by."""
    return (
        f"{number(value_m2, 2)}{NBSP}m²" if units == "metric" else f"{number(value_m2 / YARD**2, 2)}{NBSP}yd²"
    )


def _resistance(value_m2k_w: float) -> str:
    """By the standards' unit, and by those that clothes and bedding are sold by."""
    return f"{said('resistance', value_m2k_w)} ({everyday(value_m2k_w)})"


def why_warmth(e: Evaluation, units: Units) -> str:
    """Where the heat goes, and the temperatures that follow from it."""
    night, q = e.night, e.quantities
    rate = f"{number(body.STANDARD_WOMAN_W_M2, 1)} and {number(body.STANDARD_MAN_W_M2, 1)}{NBSP}W/m²"
    return why(
        "where the heat goes",
        "Heat on a path = area × (skin − air) ÷ resistance, the paths side by side, each place of the loft "
        "map a path of its own; where faces slope, heat takes the short way. Comfortable down to: the "
        "air at which a standard woman loses just what she makes at rest; limit: the same for a standard "
        "man who already feels the cold.",
        [
            ("air", said("temperature", night.air_c, units)),
            ("wind at the quilt", said("speed", WIND_M_S.get(night.wind, night.wind_m_s), units)),
            ("how the quilt hangs", night.fit),
            ("air that the outer shell lets through at 100 Pa",
             f"{number(1e3 * float(q.outer_permeability_m_s), 1)}{NBSP}mm/s"),
            (f"R through the quilt, clothing and air film, at {said('temperature', RESISTANCE_AIR_C, units)}",
             _resistance(float(e.score.resistance_m2k_w))),
            ("R of sleep clothing", _resistance(night.clothing_r_m2k_w)),
            ("R on the head", _resistance(night.head_r_m2k_w)),
            ("share of the body under this quilt", said("percent", 100 * e.fit.body_cover)),
            ("radiation stopped by the fill", f"{number(float(q.extinction_m2_kg))}{NBSP}m²/kg"),
            ("heat made at rest, woman and man", rate),
        ],
        "ISO 11079:2007 for skin, breath and balance; textbook heat transfer for the fill; Churchill and "
        "Bernstein (1977) for the wind",
        "a clear sky, draughts, movement, hunger and age. Sleepers make less heat than that standard covers: "
        "this is an estimate, not a rating by any standard",
    )  # fmt: skip


def why_weight(e: Evaluation, units: Units) -> str:
    """The parts of the weight."""
    parts = {part.name: part for part in e.score.bill.parts}
    cut = float(parts["inner shell"].area_m2) + float(parts["outer shell"].area_m2)
    return why(
        "weight",
        "Every piece: the area that is cut × its areal mass. Joints: metres × what stays in a metre. "
        "Fill and hardware as they are.",
        [
            ("shells as cut", area(cut, units)),
            ("joints", said("length", sum(float(joint.length_m) for joint in e.score.bill.joints), units)),
        ],
        "definition; masses of goods from the catalogue or your own",
        "loose ends, labels, and the sack",
    )


def why_volume(e: Evaluation, units: Units) -> str:
    """The packed volume."""
    pressure = f"{number(packing.STUFFED_BY_HAND_PA / 1000)}{NBSP}kPa"
    return why(
        "packed volume",
        "Each mass ÷ its density when pushed into a sack.",
        [
            ("pressure of a firm hand", pressure),
            ("fill", f"{number(e.derived.packed_density_kg_m3)}{NBSP}kg/m³"),
            ("shells and the rest", f"{number(float(e.quantities.shell_density_kg_m3))}{NBSP}kg/m³"),
        ],
        "a power law between the fill-power test (EN 12130) and 35 kPa; the densities are ours, no source",
        "the shape of the sack, and air that an airtight shell holds back",
    )


def why_cost(e: Evaluation, units: Units) -> str:
    """The cost of what goes in."""
    return why(
        "cost, used",
        "What goes into the quilt × its price, with what is lost on the way. Prices in the catalogue are "
        "invented.",
        [
            ("tape, thread and sealant lost", said("percent", 100 * cost.TAPE_WASTE)),
            ("down lost", said("percent", 100 * cost.FILL_LOSS)),
        ],
        "definition; losses: common practice, no source",
        "what you buy and do not use, postage, and tools",
    )


def why_work(e: Evaluation, units: Units) -> str:
    """The hours at the bench."""
    factor = labour.FIRST_QUILT_FACTOR if e.night.first_quilt else 1.0
    return why(
        "work",
        "Each joint: metres × minutes a metre + pieces × minutes a piece. Marking and cutting by the area of "
        "cloth, filling by the chamber.",
        [
            ("joints, edges and ends counted as pieces", number(float(e.score.joint_count))),
            ("tape", said("length", float(e.score.tape_m), units)),
            ("seams", said("length", float(e.score.seam_m), units)),
            ("an evening", f"{number(labour.EVENING_H, 1)}{NBSP}h"),
            ("longest wait for glue or tape", f"{number(float(e.score.cure_h), 1, trim=True)}{NBSP}h"),
            ("factor for a first quilt", f"× {number(factor, 1, trim=True)}"),
        ],
        "common practice, no source",
        "shopping, mistakes, and waiting",
    )
